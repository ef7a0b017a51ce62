//! What was reported when the dossier was last issued, and what is different since.
//!
//! Takes: the notes, the plan and the sums of today. Gives: [`Snapshot`], which is kept in `.asfound/issued.json`, and
//! [`Since`], the difference between it and today. Never: touches the disk (`source` reads, the command writes), prints.

mod since;
mod told;

use std::collections::BTreeMap;
use std::hash::Hasher;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use siphasher::sip::SipHasher24;

pub use since::{Gone, Moved, Since, SinceReport};
pub use told::Told;

use crate::diagnostic::Problem;
use crate::dossier::{Dossier, NoteId};
use crate::estimate::Estimate;
use crate::plan::Plan;
use crate::plan::timetable::Timetable;
use crate::plan::window::day_after;
use crate::record::{Disposition, Kind};
use crate::source::Sources;
use crate::source::problems as problem;

/// Where it is kept, within the project.
pub const STORE: &str = ".asfound/issued.json";

/// A store longer than this was not written here.
const LARGEST_STORE: u64 = 64 * 1024 * 1024;

/// The form of the store; another is not read.
const FORM: u32 = 2;

/// What was reported.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Snapshot {
    form: u32,
    /// The day that the dossier bore.
    pub date: Option<String>,
    /// For whom, in the words of whoever issued it: `for the boatyard`.
    pub words: String,
    /// The day when the work is likely to end.
    pub likely_end: Option<String>,
    /// Days from day 0 to the end of the work, as forecast.
    pub forecast_days: Estimate,
    /// Parts and work together, in `money`.
    pub cost: Estimate,
    /// The currency of the cost.
    pub money: String,
    /// Every note by its id.
    pub notes: BTreeMap<String, ToldNote>,
}

/// What was reported of one note.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ToldNote {
    /// What it records.
    pub kind: Kind,
    /// What a reader calls it.
    pub name: String,
    /// How far it was: of a step, a question and a part.
    pub state: Option<Told>,
    /// A hash of the note's text: SipHash-2-4, 64 bits, in hexadecimal digits.
    pub content: String,
}

/// The figures that are reported with the notes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures<'a> {
    /// The day when the work is likely to end, where it is known.
    pub likely_end: Option<Date>,
    /// Days from day 0 to the end of the work.
    pub forecast_days: Estimate,
    /// Parts and work together.
    pub cost: Estimate,
    /// The currency of the cost.
    pub money: &'a str,
}

impl Snapshot {
    /// What a dossier of today tells. `date` is the day that it bears.
    pub fn of(today: Today, figures: Figures, date: Option<Date>, words: &str) -> Self {
        let note = |note: NoteId| (today.dossier.head(note).id.clone(), today.note(note));
        Self {
            form: FORM,
            date: date.map(|date| date.to_string()),
            words: words.to_owned(),
            likely_end: figures.likely_end.map(|date| date.to_string()),
            forecast_days: figures.forecast_days,
            cost: figures.cost,
            money: figures.money.to_owned(),
            notes: today.dossier.notes().map(note).collect(),
        }
    }

    /// As it is kept.
    pub fn to_json(&self) -> String {
        let text = serde_json::to_string_pretty(self).expect("plain shapes always serialise");
        format!("{text}\n")
    }
}

/// The day when the work is likely to end, if the notes hold any date and every open step has a shop.
pub fn likely_end(plan: &Plan, timetable: &Timetable) -> Option<Date> {
    let days = timetable.forecast.days.likely.ceil();
    day_after(plan.day_zero?, days).filter(|_| timetable.end_is_known())
}

/// The notes of today.
#[derive(Clone, Copy, Debug)]
pub struct Today<'a> {
    /// The notes.
    pub dossier: &'a Dossier,
    /// The state of every step.
    pub plan: &'a Plan,
    /// The notes' texts.
    pub sources: &'a Sources,
}

impl Today<'_> {
    fn note(&self, note: NoteId) -> ToldNote {
        let head = self.dossier.head(note);
        ToldNote {
            kind: note.kind(),
            name: self.dossier.title(note),
            state: self.state(note),
            content: format!("{:016x}", hash(&self.sources.file(head.file).text)),
        }
    }

    fn state(&self, note: NoteId) -> Option<Told> {
        match note {
            NoteId::Step(step) => Some(Told::Step(self.plan.standing(step).state)),
            NoteId::Question(question) => Some(Told::Question(self.dossier[question].state)),
            NoteId::Part(part) => {
                let part = &self.dossier[part];
                let is_bought = part.disposition == Disposition::Buy;
                Some(Told::Part(part.disposition, is_bought.then_some(part.supply)))
            }
            _ => None,
        }
    }
}

/// The hash of the words of a text, so that blanks and line ends don't count.
fn hash(text: &str) -> u64 {
    let mut hasher = SipHasher24::new();
    for word in text.split_whitespace() {
        hasher.write(word.as_bytes());
        hasher.write(b" ");
    }
    hasher.finish()
}

/// What was reported when the dossier was last issued, if it ever was. A store that can't be read is a caution.
pub fn read(sources: &Sources, problems: &mut Vec<Problem>) -> Option<Snapshot> {
    let bytes = match sources.beginning(STORE, LARGEST_STORE + 1) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return None,
        Err(error) => {
            problems.push(problem::issued_unreadable(STORE, &error));
            return None;
        }
    };
    match parse(&bytes) {
        Ok(told) => Some(told),
        Err(why) => {
            problems.push(problem::issued_unreadable(STORE, &why));
            None
        }
    }
}

fn parse(bytes: &[u8]) -> Result<Snapshot, String> {
    if bytes.len() as u64 > LARGEST_STORE {
        return Err("it is too long".to_owned());
    }
    let told: Snapshot = serde_json::from_slice(bytes).map_err(|error| error.to_string())?;
    if told.form != FORM {
        return Err(format!("it is in form {}, and only form {FORM} is known", told.form));
    }
    let dates = told.date.iter().chain(&told.likely_end);
    match dates.into_iter().find(|date| date.parse::<Date>().is_err()) {
        Some(date) => Err(format!("`{date}` is no date")),
        None => Ok(told),
    }
}

#[cfg(test)]
mod tests {
    use super::hash;

    #[test]
    fn blanks_do_not_count_but_words_do() {
        assert_eq!(hash("one  two\r\n"), hash("one two"));
        assert_ne!(hash("one two"), hash("onetwo"));
    }
}
