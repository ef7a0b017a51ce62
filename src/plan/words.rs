//! Causes, misses and demands in words: the one place that says them, for answers, pages and messages alike.

use std::fmt;

use super::capability::{Lack, Means, Miss, Verdict};
use super::readiness::{Because, Cause, Does, Obstacle};
use crate::dossier::Dossier;

impl Cause {
    /// Why, with the names of things: `Lift out the post – takes off Post, in the way of Footstep bearing`.
    pub fn sentence(&self, dossier: &Dossier) -> String {
        let clause = self.clause(dossier, by_id(dossier));
        match self.obstacle {
            Obstacle::Recovery | Obstacle::Capability | Obstacle::Day => clause,
            _ => format!("{} – {clause}", dossier.title(self.note)),
        }
    }

    /// What it has to do with what it keeps back, as a clause about its note; "it" is what is kept back. `shop` says
    /// a shop by its place in the dossier.
    pub fn clause(&self, dossier: &Dossier, shop: impl Fn(usize) -> String) -> String {
        match &self.because {
            Because::Tie(reason) => reason.clause(|id| name(dossier, id)),
            Because::ToCome { ordered: true } => "on order".to_owned(),
            Because::ToCome { ordered: false } => "to be bought".to_owned(),
            Because::InTheWay { of } => {
                format!("in the way of {}, and no step takes it off", dossier[*of].name)
            }
            Because::NoMaker => "to be made, and no step makes it".to_owned(),
            Because::OnHold { why, waits_for } => {
                let names: Vec<String> = waits_for.iter().map(|note| dossier.title(*note)).collect();
                let waits = if names.is_empty() {
                    String::new()
                } else {
                    format!("; it waits for: {}", names.join("; "))
                };
                format!("a size is on hold: {why}{waits}")
            }
            Because::NoRecord => "no record as found, and the step can't be undone".to_owned(),
            Because::NoRecovery => {
                "it can't be undone, and nothing says what to do if it goes wrong".to_owned()
            }
            Because::NobodyCan(verdict) => format!("no shop found: {}", misses(verdict, shop)),
            Because::NotBefore(date) => format!("not before {date}"),
            Because::NotAfter(date) => format!("not after {date}, and that day is past"),
            Because::ValidFrom(date) => format!("valid from {date}"),
            Because::ValidUntil(date) => format!("valid until {date}, and that day is past"),
            Because::Does(does) => does.word().to_owned(),
        }
    }
}

impl Does {
    fn word(self) -> &'static str {
        match self {
            Self::Settles => "settles it",
            Self::TakesOff => "takes it off",
            Self::PutsIn => "puts it in",
            Self::PutsBack => "puts it back",
            Self::Uses => "uses it",
            Self::Makes => "makes it",
        }
    }
}

/// The name of the note of this id.
fn name(dossier: &Dossier, id: &str) -> String {
    dossier.find(id).map_or_else(|| id.to_owned(), |note| dossier.title(note))
}

/// A shop by the id of its note, as answers have it.
pub fn by_id(dossier: &Dossier) -> impl Fn(usize) -> String {
    |shop| dossier.shops[shop].id().to_owned()
}

/// What no shop has enough of, and where the most of it is known.
pub fn misses(verdict: &Verdict, shop: impl Fn(usize) -> String) -> String {
    match (&verdict.misses[..], &verdict.nearest) {
        ([], Some((index, lacks))) => {
            let lacks: Vec<String> = lacks.iter().map(Lack::of_one_shop).collect();
            let nearest = shop(*index);
            format!(
                "each thing is known somewhere, but not all in one place; nearest is {nearest}: {}",
                lacks.join("; ")
            )
        }
        (all, _) => {
            let miss = |miss: &Miss| match miss.shop {
                Some(index) => format!("{} ({}){}", miss.lack, shop(index), also(miss)),
                None => miss.lack.to_string(),
            };
            all.iter().map(miss).collect::<Vec<_>>().join("; ")
        }
    }
}

fn also(miss: &Miss) -> String {
    let others: Vec<String> = miss.also.iter().map(Lack::of_one_shop).collect();
    if others.is_empty() { String::new() } else { format!(", which also lacks {}", others.join(" and ")) }
}

impl Means {
    /// Each thing that is called for: `press 30 tonf`, `tig`.
    pub fn in_words(&self) -> Vec<String> {
        self.called_for(str::to_owned)
    }

    /// The same, with what a process is called.
    pub fn called_for(&self, process: impl Fn(&str) -> String) -> Vec<String> {
        let measures = self.called().map(|measure| format!("{} {}", measure.what, measure.typed));
        measures.chain(self.processes.iter().map(|name| process(name))).collect()
    }
}

/// Of all shops together: `press: needs 30 tonf, best known 12 tonf`.
impl fmt::Display for Lack {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Measure { what, needed, has: Some(has), .. } => {
                write!(f, "{what}: needs {needed}, best known {has}")
            }
            Self::Measure { what, needed, has: None, .. } => write!(f, "{what}: needs {needed}, none known"),
            Self::Kind { what, needed, has } => {
                write!(f, "{what}: needs {needed}, which can't be compared with {has}")
            }
            Self::Process { name } => write!(f, "{name}: none known"),
        }
    }
}

impl Lack {
    /// Of one shop: `press: needs 30 tonf, has 12 tonf`.
    pub fn of_one_shop(&self) -> String {
        match self {
            Self::Measure { what, needed, has: Some(has), .. } => {
                format!("{what}: needs {needed}, has {has}")
            }
            Self::Measure { what, needed, has: None, .. } => format!("{what}: needs {needed}, has none"),
            Self::Kind { .. } => self.to_string(),
            Self::Process { name } => format!("{name}: not done there"),
        }
    }
}
