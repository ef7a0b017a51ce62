//! What a finished restoration leaves behind: the work that was done, the features as found and as left, and what has to
//! be watched from now on.
//!
//! Takes: a project, read and checked. Gives: a [`Closing`] once no step is open. Never: prints, or judges a reading
//! that the figures don't.

use std::collections::BTreeSet;

use jiff::civil::Date;

use crate::calc::evaluate::verdict::Outcome;
use crate::calc::sheet::Place;
use crate::dossier::{FindingId, MeasurementId, NoteId, PaperId, PartId, QuestionId, ShopId, StepId};
use crate::project::Project;
use crate::record::{Disposition, MeasurementState, QuestionState, StepState};
use crate::worked::{Fitted, Judged};

/// The end of the work.
#[derive(Clone, Debug, Default)]
pub struct Closing {
    /// In the order of their days.
    pub done: Vec<Done>,
    pub features: Vec<Feature>,
    /// Findings first, the most severe at the head.
    pub watch: Vec<Watch>,
}

/// A step that was done.
#[derive(Clone, Copy, Debug)]
pub struct Done {
    pub step: StepId,
    /// `None` is the keeper, where no shop is home.
    pub shop: Option<ShopId>,
    /// Hours in the log, in seconds; 0 when none were written down.
    pub hours: f64,
}

/// A feature before and after the work; at least one of the two is there.
#[derive(Clone, Copy, Debug)]
pub struct Feature {
    pub found: Option<MeasurementId>,
    pub left: Option<MeasurementId>,
}

/// Something that is not as it should be, or not known to be.
#[derive(Clone, Copy, Debug)]
pub struct Watch {
    pub note: NoteId,
    pub why: Why,
}

/// Why something has to be watched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// The condition of a finding was kept: the part stays, and nothing was done to it.
    Kept,
    /// A feature as left is not within its limits for certain.
    NotHeld(Outcome),
    /// A feature that was not within its limits as found has not been measured since.
    NotMeasured,
    /// A check fails or is not settled.
    Check(Place, Outcome),
    /// A measured member of this part's fit is not within its limits for certain.
    Fit(MeasurementId, Outcome),
    /// A question is still open: the work ended without an answer.
    Open,
    /// A step was dropped.
    Dropped,
    /// A paper runs out on this day.
    RunsOut(Date),
}

impl Closing {
    /// The end of the work; `None` while a step is open, or when none was ever planned.
    pub fn of(project: &Project) -> Option<Self> {
        let steps = &project.dossier.steps;
        let is_over = |state: StepState| matches!(state, StepState::Done | StepState::Dropped);
        if steps.is_empty() || !steps.iter().all(|step| is_over(step.state)) {
            return None;
        }
        let survey = Survey::of(project);
        let features = survey.features();
        let watch = [
            survey.findings(),
            survey.not_held(&features),
            survey.checks(),
            survey.fits(),
            survey.questions(),
            survey.dropped(),
            survey.papers(),
        ];
        Some(Self { done: done(project), watch: watch.concat(), features })
    }
}

fn done(project: &Project) -> Vec<Done> {
    let dossier = &project.dossier;
    let hours = |step: StepId| {
        let written = dossier.entries.iter().flat_map(|entry| &entry.hours);
        // An empty sum is minus nought.
        written.filter(|(of, _)| *of == step).map(|(_, time)| time.nominal).sum::<f64>() + 0.0
    };
    let is_done = |step: &StepId| dossier[*step].state == StepState::Done;
    let mut done: Vec<StepId> = StepId::all(dossier.steps.len()).filter(is_done).collect();
    done.sort_by_key(|step| dossier[*step].done_on.map(|day| day.date));
    done.into_iter().map(|step| Done { step, shop: dossier[step].at, hours: hours(step) }).collect()
}

/// The machine gone over once more.
struct Survey<'a> {
    project: &'a Project,
    /// Parts in whose place another goes.
    replaced: BTreeSet<PartId>,
    /// Parts that a step which is done worked on.
    worked_on: BTreeSet<PartId>,
}

impl<'a> Survey<'a> {
    fn of(project: &'a Project) -> Self {
        let dossier = &project.dossier;
        let done = dossier.steps.iter().filter(|step| step.state == StepState::Done);
        Self {
            project,
            replaced: dossier.parts.iter().flat_map(|part| &part.replaces).copied().collect(),
            worked_on: done.flat_map(|step| step.parts.iter().copied()).collect(),
        }
    }

    /// Whether the part is in the machine as it stands now, with all that it is within.
    fn stays(&self, part: PartId) -> bool {
        let dossier = &self.project.dossier;
        let mut up = std::iter::successors(Some(part), |part| dossier[*part].within);
        up.all(|part| dossier[part].disposition != Disposition::Scrap && !self.replaced.contains(&part))
    }

    /// Whether the part was left in the condition that it was found in.
    fn is_kept(&self, part: PartId) -> bool {
        let as_found = match self.project.dossier[part].disposition {
            Disposition::Reuse | Disposition::Undecided => true,
            Disposition::Rework => !self.worked_on.contains(&part),
            Disposition::Make | Disposition::Buy | Disposition::Scrap => false,
        };
        as_found && self.stays(part)
    }

    fn findings(&self) -> Vec<Watch> {
        let dossier = &self.project.dossier;
        let is_kept = |id: &FindingId| dossier[*id].about.iter().any(|part| self.is_kept(*part));
        let mut kept: Vec<FindingId> = FindingId::all(dossier.findings.len()).filter(is_kept).collect();
        kept.sort_by_key(|id| std::cmp::Reverse(dossier[*id].severity));
        kept.into_iter().map(|id| Watch { note: id.into(), why: Why::Kept }).collect()
    }

    /// Every feature that was measured as left, and those as found with limits that were not measured again.
    fn features(&self) -> Vec<Feature> {
        let dossier = &self.project.dossier;
        let one = |id: MeasurementId| {
            let keys = &dossier[id];
            let other = dossier.other_state(id);
            match keys.state {
                MeasurementState::AsLeft => Some(Feature { found: other, left: Some(id) }),
                MeasurementState::AsFound
                    if other.is_none() && keys.limits.is_some() && self.stays(keys.of) =>
                {
                    Some(Feature { found: Some(id), left: None })
                }
                MeasurementState::AsFound => None,
            }
        };
        let mut features: Vec<Feature> =
            MeasurementId::all(dossier.measurements.len()).filter_map(one).collect();
        features.sort_by_key(|feature| feature.any().map(|id| dossier[id].of));
        features
    }

    fn not_held(&self, features: &[Feature]) -> Vec<Watch> {
        let outcome = |id: MeasurementId| Some(self.project.worked.measured(id).held.as_ref()?.outcome);
        let one = |feature: &Feature| {
            let id = feature.any()?;
            let outcome = outcome(id).filter(|outcome| *outcome != Outcome::Holds)?;
            let why = if feature.left.is_some() { Why::NotHeld(outcome) } else { Why::NotMeasured };
            Some(Watch { note: id.into(), why })
        };
        features.iter().filter_map(one).collect()
    }

    fn checks(&self) -> Vec<Watch> {
        let worked = &self.project.worked;
        let one = |place: &Place| {
            let outcome = worked.evaluation.line(*place)?.verdict.as_ref()?.outcome;
            let watch = Watch { note: worked.note(*place), why: Why::Check(*place, outcome) };
            (outcome != Outcome::Holds).then_some(watch)
        };
        worked.evaluation.checks.iter().filter_map(one).collect()
    }

    fn fits(&self) -> Vec<Watch> {
        let dossier = &self.project.dossier;
        let counts = |judged: &&Judged| {
            judged.verdict.outcome != Outcome::Holds
                && judged.is_latest(dossier)
                && self.stays(dossier[judged.measurement].of)
        };
        let why = |judged: &Judged| Why::Fit(judged.measurement, judged.verdict.outcome);
        let of = |fitted: &'a Fitted| {
            let judged = fitted.judged.iter().filter(counts);
            judged.map(move |judged| Watch { note: fitted.part.into(), why: why(judged) })
        };
        self.project.worked.fits.iter().filter(|fitted| self.stays(fitted.part)).flat_map(of).collect()
    }

    fn questions(&self) -> Vec<Watch> {
        let dossier = &self.project.dossier;
        let is_open = |id: &QuestionId| dossier[*id].state == QuestionState::Open;
        let open = QuestionId::all(dossier.questions.len()).filter(is_open);
        open.map(|id| Watch { note: id.into(), why: Why::Open }).collect()
    }

    fn dropped(&self) -> Vec<Watch> {
        let dossier = &self.project.dossier;
        let is_dropped = |id: &StepId| dossier[*id].state == StepState::Dropped;
        let dropped = StepId::all(dossier.steps.len()).filter(is_dropped);
        dropped.map(|id| Watch { note: id.into(), why: Why::Dropped }).collect()
    }

    fn papers(&self) -> Vec<Watch> {
        let dossier = &self.project.dossier;
        let one = |id: PaperId| {
            let until = dossier[id].valid_until?;
            Some(Watch { note: id.into(), why: Why::RunsOut(until.date) })
        };
        PaperId::all(dossier.papers.len()).filter_map(one).collect()
    }
}

impl Feature {
    /// The measurement that says how it stands now.
    pub fn any(&self) -> Option<MeasurementId> {
        self.left.or(self.found)
    }
}

impl Why {
    /// The word for other programs.
    pub fn word(self) -> &'static str {
        match self {
            Self::Kept => "condition kept",
            Self::NotHeld(_) => "limits not held",
            Self::NotMeasured => "not measured since",
            Self::Check(_, Outcome::NotSettled) => "check not settled",
            Self::Check(..) => "check fails",
            Self::Fit(..) => "fit not held",
            Self::Open => "open",
            Self::Dropped => "dropped",
            Self::RunsOut(_) => "runs out",
        }
    }
}
