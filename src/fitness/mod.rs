//! Whether the machine may be used: what its keeper declared, what stands against it, and what an inspector has to see.
//!
//! Takes: the dossier, worked out. Gives: a [`Fitness`], and the problems of a declaration that does not stand. Never:
//! declares anything itself, or judges a figure that the notes do not ask about.

mod checks;
mod load;
pub mod problems;
mod report;

use crate::calc::evaluate::verdict::Outcome;
use crate::calc::sheet::Place;
use crate::diagnostic::Problem;
use crate::dossier::{Dossier, FindingId, MeasurementId, NoteId, PaperId, PartId};
use crate::fitness::problems as problem;
use crate::record::{FitForUse, Severity};
use crate::worked::Worked;

pub use report::FitnessReport;

/// The tag of a part whose failure lets a load fall; parts within it count with it.
pub const LOAD_TAG: &str = "carries load";

/// Whether the machine may be used, as far as the notes say.
#[derive(Clone, Debug)]
pub struct Fitness {
    pub standing: Standing,
    /// Dangerous findings that no finished step mends, on parts that are still there, the latest first.
    pub dangerous: Vec<FindingId>,
    /// Every check of what carries load: first what fails, then what is not settled, then what holds.
    pub checks: Vec<Check>,
    /// Every other check, in the same order.
    pub others: Vec<Check>,
    /// Papers whose last day is past.
    pub lapsed: Vec<PaperId>,
    /// Every part that is tagged as carrying load, in the order of the tree.
    pub parts: Vec<LoadPart>,
}

/// What the keeper's declaration is worth on day 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Standing {
    /// There is none.
    NotDeclared,
    /// It is dated after the last date in the notes.
    Ahead,
    /// Its last day is past.
    Ended,
    /// These dangerous findings are later, or of no known day.
    Overtaken(Vec<FindingId>),
    /// It stands.
    Declared,
}

/// A check of the notes; what asks the same of the same readings is one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Check {
    /// The part that is tagged as carrying load and that it concerns, if there is one.
    pub part: Option<PartId>,
    /// Where it stands.
    pub note: NoteId,
    pub asks: Asks,
    pub outcome: Outcome,
}

/// What is held against what.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asks {
    /// A check of a calculation.
    Line(Place),
    /// A measured feature against its limits.
    Limits(MeasurementId),
    /// A measured member of this part's fit.
    Fit(PartId, MeasurementId),
}

/// A part that is tagged as carrying load, with what concerns it or a part within it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LoadPart {
    pub part: PartId,
    /// The most severe first.
    pub findings: Vec<FindingId>,
    pub papers: Vec<PaperId>,
}

impl Fitness {
    /// Gathers all that bears on the use of the machine.
    pub fn of(dossier: &Dossier, worked: &Worked) -> Self {
        let load = load::Load::of(dossier, worked);
        let dangerous = dangerous(dossier, &load);
        let (checks, others) = load.checks();
        Self {
            standing: standing(dossier, &dangerous),
            checks,
            others,
            lapsed: lapsed(dossier),
            parts: load.parts(),
            dangerous,
        }
    }

    /// The load-carrying checks that are not met.
    pub fn not_met(&self) -> impl Iterator<Item = &Check> {
        self.checks.iter().filter(|check| check.outcome != Outcome::Holds)
    }

    /// Whether the notes say what carries load.
    pub fn is_tagged(&self) -> bool {
        !self.parts.is_empty()
    }

    /// Whether nothing that is known stands against the use.
    pub fn is_unopposed(&self) -> bool {
        self.dangerous.is_empty() && self.lapsed.is_empty() && self.not_met().next().is_none()
    }

    /// Whether a copy of the project with parts left out shows less against the use than this does.
    pub fn is_opposed_less_in(&self, dossier: &Dossier, copy: &Self, of_copy: &Dossier) -> bool {
        let mut shown = copy.opposing(of_copy);
        let is_lost = |id: &String| match shown.iter().position(|other| other == id) {
            Some(at) => {
                shown.swap_remove(at);
                false
            }
            None => true,
        };
        std::mem::discriminant(&self.standing) != std::mem::discriminant(&copy.standing)
            || self.opposing(dossier).iter().any(is_lost)
    }

    /// The ids of the notes that stand against the use, each as often as it does.
    fn opposing(&self, dossier: &Dossier) -> Vec<String> {
        let dangerous = self.dangerous.iter().map(|id| NoteId::from(*id));
        let lapsed = self.lapsed.iter().map(|id| NoteId::from(*id));
        let not_met = self.not_met().map(|check| check.note);
        dangerous.chain(lapsed).chain(not_met).map(|note| dossier.head(note).id.clone()).collect()
    }

    /// Takes the declaration as not made.
    pub fn withdraw(&mut self) {
        self.standing = Standing::NotDeclared;
    }

    /// What is wrong with the declaration and the tags, and corners of tagged parts that are left sharp.
    pub fn problems(&self, dossier: &Dossier, worked: &Worked) -> Vec<Problem> {
        let declared = dossier.about.fit_for_use.as_ref();
        let of_declaration = declared.and_then(|declared| self.against(dossier, declared));
        let of_tags = load::near_tags(dossier).into_iter().chain(load::sharp_shoulders(dossier, worked));
        of_declaration.into_iter().chain(of_tags).collect()
    }

    fn against(&self, dossier: &Dossier, declared: &FitForUse) -> Option<Problem> {
        match (&self.standing, dossier.day_zero(), declared.valid_until) {
            (Standing::Ahead, Some(today), _) => Some(problem::ahead(declared.date, today)),
            (Standing::Ended, Some(today), Some(until)) => Some(problem::ended(until, today)),
            _ if self.is_unopposed() => None,
            _ => {
                let ids = |note: NoteId| dossier.head(note).id.as_str();
                let against = problem::Against {
                    dangerous: self.dangerous.iter().map(|id| ids((*id).into())).collect(),
                    not_met: self.not_met().map(|check| ids(check.note)).collect(),
                    lapsed: self.lapsed.iter().map(|id| ids((*id).into())).collect(),
                };
                Some(problem::contradicted(declared.span, &against))
            }
        }
    }
}

fn standing(dossier: &Dossier, dangerous: &[FindingId]) -> Standing {
    let Some(declared) = &dossier.about.fit_for_use else { return Standing::NotDeclared };
    let today = dossier.day_zero();
    let is_past = |day: jiff::civil::Date| today.is_some_and(|today| day < today);
    let is_later = |id: &FindingId| dossier[*id].seen.is_none_or(|seen| seen.date > declared.date.date);
    let later: Vec<FindingId> = dangerous.iter().copied().filter(is_later).collect();
    match declared.valid_until {
        _ if today.is_some_and(|today| declared.date.date > today) => Standing::Ahead,
        Some(until) if is_past(until.date) => Standing::Ended,
        _ if !later.is_empty() => Standing::Overtaken(later),
        _ => Standing::Declared,
    }
}

fn dangerous(dossier: &Dossier, load: &load::Load) -> Vec<FindingId> {
    let is_open = |id: &FindingId| {
        let finding = &dossier[*id];
        finding.severity == Some(Severity::Dangerous)
            && dossier.mended_by(*id).is_empty()
            && finding.about.iter().any(|part| load.is_there(*part))
    };
    let mut open: Vec<FindingId> = dossier.findings.ids().filter(is_open).collect();
    open.sort_by_key(|id| std::cmp::Reverse(dossier[*id].seen.map(|seen| seen.date)));
    open
}

fn lapsed(dossier: &Dossier) -> Vec<PaperId> {
    let is_lapsed = |id: &PaperId| {
        dossier[*id].valid_until.zip(dossier.day_zero()).is_some_and(|(until, today)| until.date < today)
    };
    dossier.papers.ids().filter(is_lapsed).collect()
}
