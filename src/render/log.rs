//! The log, oldest first.

use serde::Serialize;

use super::edition::Edition;
use super::prose::day;
use super::shapes::{Mention, RecordShape};
use crate::calc::print;
use crate::dossier::EntryId;

#[derive(Serialize)]
pub(super) struct Log {
    entries: Vec<EntryShape>,
    hours: Option<String>,
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

const HOUR: f64 = 3600.0;

pub(super) fn chapter(edition: &Edition) -> Log {
    let dossier = edition.dossier();
    let mut order: Vec<EntryId> = dossier.entries.ids().collect();
    order.sort_by_key(|id| dossier[*id].date.date);
    let total = dossier.seconds_logged();
    Log {
        entries: order.into_iter().map(|id| entry(edition, id)).collect(),
        hours: (total > 0.0).then(|| hours(total)),
    }
}

/// To a tenth of an hour.
pub(super) fn hours(seconds: f64) -> String {
    let tenths = print::rounded(seconds / HOUR, 1);
    format!("{} h", tenths.strip_suffix(".0").unwrap_or(&tenths))
}

/// What the margin calls an entry; nothing where that is the date, which is its head.
fn record(edition: &Edition, id: EntryId) -> RecordShape {
    let record = RecordShape::of(edition, id.into());
    let is_date = record.id == edition.dossier()[id].date.date.to_string();
    RecordShape { id: if is_date { String::new() } else { record.id.clone() }, ..record }
}

fn entry(edition: &Edition, id: EntryId) -> EntryShape {
    let keys = &edition.dossier()[id];
    EntryShape {
        record: record(edition, id),
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
