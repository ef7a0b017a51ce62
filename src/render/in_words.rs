//! What belongs to another note, by that note's name: "least diameter of the neck journal" for `@neck-journal.min`.

use super::edition::Edition;
use super::mathematics::plain;
use super::prose::decapital;
use crate::calc::expression::{Setting, Symbol};
use crate::dossier::{Dossier, MeasurementId, NoteId};

/// A longer name is said by its id.
const LONGEST: usize = 28;

/// The formula with words for what it takes from other notes.
pub(super) fn with_names(edition: &Edition, setting: &Setting) -> Setting {
    setting.replaced(&|piece| match piece {
        Setting::Symbol(symbol @ Symbol { note: Some(note), .. }) => {
            let words = words(edition, edition.dossier().find(note)?, symbol);
            Some(Setting::Symbol(Symbol::phrase(&words)))
        }
        _ => None,
    })
}

/// A source of uncertainty, as a budget names it, with the names of its note or its instrument for their keys.
pub(super) fn source(dossier: &Dossier, label: &str) -> String {
    if let Some(key) = label.strip_prefix("instrument ") {
        let instrument = dossier.about.instruments.iter().find(|instrument| instrument.key == key);
        return instrument.and_then(|instrument| instrument.what.clone()).unwrap_or_else(|| plain(label));
    }
    match label.split_once(": ") {
        Some((id, rest)) => match dossier.find(id) {
            Some(NoteId::Measurement(note)) => format!("{}: {}", feature(dossier, note), plain(rest)),
            Some(note) => format!("{}: {}", called(dossier, note), plain(rest)),
            None => plain(label),
        },
        None => plain(label),
    }
}

fn words(edition: &Edition, note: NoteId, symbol: &Symbol) -> String {
    let dossier = edition.dossier();
    let name = plain(&symbol.name.replace('.', " "));
    match note {
        NoteId::Measurement(id) => of_readings(&symbol.name, &feature(dossier, id)),
        NoteId::Step(id) => format!("{name}, step {}", edition.names.numbers()[&id]),
        _ => format!("{name} of {}", called(dossier, note)),
    }
}

/// The note's name within a sentence; the words of its id where the name is long.
fn called(dossier: &Dossier, note: NoteId) -> String {
    let name = dossier.title(note);
    let is_short = matches!(note, NoteId::Part(_) | NoteId::Shop(_)) && name.chars().count() <= LONGEST;
    if is_short { decapital(&name) } else { dossier.head(note).id.replace('-', " ") }
}

/// The feature, with its part where another part has one of that name, and its state where it was measured in both.
fn feature(dossier: &Dossier, id: MeasurementId) -> String {
    let keys = &dossier[id];
    let same = |other: &MeasurementId| *other != id && dossier[*other].feature == keys.feature;
    let elsewhere = dossier.measurements.ids().filter(same).any(|other| dossier[other].of != keys.of);
    let of = if elsewhere { format!(" of {}", called(dossier, keys.of.into())) } else { String::new() };
    let state = match dossier.other_state(id) {
        Some(_) => format!(" {}", keys.state.word().replace('-', " ")),
        None => String::new(),
    };
    let name = format!("{}{of}{state}", keys.feature);
    if name.chars().count() <= LONGEST + 8 { name } else { dossier.head(id.into()).id.replace('-', " ") }
}

/// What readings come to, in words before the feature's.
fn of_readings(field: &str, feature: &str) -> String {
    match field {
        "value" => feature.to_owned(),
        "min" => format!("least {feature}"),
        "max" => format!("greatest {feature}"),
        "mean" => format!("mean {feature}"),
        "sd" => format!("standard deviation of {feature}"),
        "beyond" => format!("{feature}, past the limit"),
        other => format!("{} of {feature}", plain(&other.replace('.', " "))),
    }
}
