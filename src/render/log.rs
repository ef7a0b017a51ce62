//! The log, oldest first, and the papers.

use serde::Serialize;

use super::edition::Edition;
use super::prose::{day, said};
use super::shapes::{Fact, Mention, RecordShape};
use crate::calc::print;
use crate::dossier::{EntryId, PaperId};

#[derive(Serialize)]
pub(super) struct Log {
    entries: Vec<EntryShape>,
    hours: Option<String>,
    papers: Vec<PaperShape>,
}

#[derive(Serialize)]
struct EntryShape {
    #[serde(flatten)]
    record: RecordShape,
    date: String,
    about: Vec<Mention>,
    hours: Vec<HoursShape>,
}

#[derive(Serialize)]
struct HoursShape {
    step: Mention,
    hours: String,
}

#[derive(Serialize)]
struct PaperShape {
    #[serde(flatten)]
    record: RecordShape,
    title: String,
    what: Option<String>,
    about: Vec<Mention>,
    date: Option<String>,
    valid_until: Option<String>,
    lapsed: bool,
    file: Option<String>,
    facts: Vec<Fact>,
}

const HOUR: f64 = 3600.0;

pub(super) fn chapter(edition: &Edition) -> Log {
    let dossier = edition.dossier();
    let mut order: Vec<EntryId> = dossier.entries.ids().collect();
    order.sort_by_key(|id| dossier[*id].date.date);
    let total = dossier.seconds_logged();
    Log {
        entries: order.into_iter().map(|id| entry(edition, id)).collect(),
        hours: (total > 0.0).then(|| hours(total)),
        papers: dossier.papers.ids().map(|id| paper(edition, id)).collect(),
    }
}

/// To a tenth of an hour.
pub(super) fn hours(seconds: f64) -> String {
    let tenths = print::rounded(seconds / HOUR, 1);
    format!("{} h", tenths.strip_suffix(".0").unwrap_or(&tenths))
}

fn entry(edition: &Edition, id: EntryId) -> EntryShape {
    let keys = &edition.dossier()[id];
    EntryShape {
        record: RecordShape::of(edition, id.into()),
        date: day(keys.date.date).says,
        about: edition.names.mentions(keys.about.iter().copied()),
        hours: keys
            .hours
            .iter()
            .map(|(step, time)| HoursShape {
                step: edition.names.mention((*step).into()),
                hours: hours(time.nominal),
            })
            .collect(),
    }
}

fn paper(edition: &Edition, id: PaperId) -> PaperShape {
    let dossier = edition.dossier();
    let keys = &dossier[id];
    let facts = [
        keys.what.clone().map(|what| Fact::new("what", what)),
        said(keys.date).map(|date| Fact::new("date", date)),
        said(keys.valid_from).map(|from| Fact::new("valid from", from)),
        said(keys.valid_until).map(|until| Fact::new("valid until", until)),
        keys.file
            .as_ref()
            .map(|file| Fact::new("file", file.text.rsplit('/').next().unwrap_or_default().to_owned())),
    ];
    PaperShape {
        record: RecordShape::of(edition, id.into()),
        title: keys.title.clone(),
        what: keys.what.clone(),
        about: edition.names.mentions(keys.about.iter().copied()),
        date: said(keys.date),
        valid_until: said(keys.valid_until),
        lapsed: keys.valid_until.zip(dossier.day_zero()).is_some_and(|(until, today)| until.date < today),
        file: keys.file.as_ref().map(|file| file.text.clone()),
        facts: facts.into_iter().flatten().collect(),
    }
}
