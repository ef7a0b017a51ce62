//! What a finished restoration leaves behind: the work that was done and by whom, what it mended, the features as found and
//! as left, and what has to be watched from now on.
//!
//! Takes: a project, read and checked. Gives: a [`Closing`] once no step is open. Never: prints, judges a reading that the
//! figures don't, or says of anybody or anything what no note says.

use std::collections::BTreeSet;

use jiff::civil::Date;

use crate::calc::evaluate::verdict::Outcome;
use crate::calc::sheet::Place;
use crate::dossier::{FindingId, MeasurementId, NoteId, PaperId, PartId, QuestionId, ShopId, StepId};
use crate::project::Project;
use crate::record::{Disposition, Hands, MeasurementState, QuestionState, StepState};
use crate::worked::{Fitted, Judged};

/// The end of the work.
#[derive(Clone, Debug, Default)]
pub struct Closing {
    /// In the order of their days.
    pub done: Vec<Done>,
    /// The most severe first.
    pub mended: Vec<Mended>,
    pub features: Vec<Feature>,
    /// Findings first, the most severe at the head.
    pub watch: Vec<Watch>,
}

impl Closing {
    /// All hours in the log of what was done, in seconds.
    pub fn seconds(&self) -> f64 {
        self.done.iter().map(|done| done.hours).sum()
    }
}

/// A step that was done.
#[derive(Clone, Copy, Debug)]
pub struct Done {
    pub step: StepId,
    pub by: By,
    /// Hours in the log, in seconds; 0 when none were written down.
    pub hours: f64,
}

/// Who did a step, as far as the notes say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// As its `done_by` says.
    Named,
    /// It was done at a shop that has hands of its own.
    Shop(ShopId),
    /// It was done where the keeper works: that is a place, and nobody's name.
    Place(ShopId),
    NotSaid,
}

/// A finding that the work settled.
#[derive(Clone, Debug)]
pub struct Mended {
    pub finding: FindingId,
    /// By their days.
    pub by: Vec<StepId>,
}

/// A feature before and after the work; at least one of the two is there.
#[derive(Clone, Copy, Debug)]
pub struct Feature {
    pub found: Option<MeasurementId>,
    pub left: Option<MeasurementId>,
}

/// Something that is not as it should be, or not known to be.
#[derive(Clone, Debug)]
pub struct Watch {
    pub note: NoteId,
    pub why: Why,
}

/// Why something has to be watched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// The condition of a finding was kept: the part stays, and nothing was done to it.
    Kept,
    /// These steps worked on the part since, and none says that it mends the finding.
    WorkedOn(Vec<StepId>),
    /// These worked since on what the part is within, or on what is within it, and none on the part itself.
    WorkedNear(Vec<StepId>),
    /// A part stays of which nothing was written down: no finding, no measurement, no work.
    NotLookedAt,
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
        let done = done(project);
        let survey = Survey::of(project, &done);
        let features = survey.features();
        let watch = [
            survey.findings(),
            survey.not_looked_at(),
            survey.not_held(&features),
            survey.checks(),
            survey.fits(),
            survey.questions(),
            survey.dropped(),
            survey.papers(),
        ];
        Some(Self { mended: survey.mended(), watch: watch.concat(), features, done })
    }
}

fn done(project: &Project) -> Vec<Done> {
    let dossier = &project.dossier;
    let hours = |step: StepId| {
        let written = dossier.entries.iter().flat_map(|entry| &entry.hours);
        // An empty sum is minus zero.
        written.filter(|(of, _)| *of == step).map(|(_, time)| time.nominal).sum::<f64>() + 0.0
    };
    let is_done = |step: &StepId| dossier[*step].state == StepState::Done;
    let mut done: Vec<StepId> = dossier.steps.ids().filter(is_done).collect();
    done.sort_by_key(|step| dossier[*step].done_on.map(|day| day.date));
    done.into_iter().map(|step| Done { step, by: by(project, step), hours: hours(step) }).collect()
}

fn by(project: &Project, step: StepId) -> By {
    let dossier = &project.dossier;
    let keys = &dossier[step];
    match keys.at {
        _ if keys.done_by.is_some() => By::Named,
        Some(shop) if dossier.home == Some(shop) || dossier[shop].hands == Hands::Keeper => By::Place(shop),
        Some(shop) => By::Shop(shop),
        None => By::NotSaid,
    }
}

/// The machine gone over once more.
struct Survey<'a> {
    project: &'a Project,
    /// Parts in whose place another goes.
    replaced: BTreeSet<PartId>,
    /// The steps that are done, by their days.
    done: Vec<StepId>,
}

impl<'a> Survey<'a> {
    fn of(project: &'a Project, done: &[Done]) -> Self {
        let dossier = &project.dossier;
        Self {
            project,
            replaced: dossier.parts.iter().flat_map(|part| &part.replaces).copied().collect(),
            done: done.iter().map(|done| done.step).collect(),
        }
    }

    /// The part, and all that it is within.
    fn upwards(&self, part: PartId) -> impl Iterator<Item = PartId> {
        std::iter::successors(Some(part), |part| self.project.dossier[*part].within)
    }

    /// Whether the part is in the machine as it stands now, with all that it is within.
    fn stays(&self, part: PartId) -> bool {
        let is_there = |part: PartId| {
            self.project.dossier[part].disposition != Disposition::Scrap && !self.replaced.contains(&part)
        };
        self.upwards(part).all(is_there)
    }

    /// Whether a note is not only about parts that are gone.
    fn concerns_the_machine(&self, note: NoteId) -> bool {
        let dossier = &self.project.dossier;
        let parts = match note {
            NoteId::Part(part) => vec![part],
            NoteId::Measurement(id) => vec![dossier[id].of],
            NoteId::Finding(id) => dossier[id].about.clone(),
            _ => Vec::new(),
        };
        parts.is_empty() || parts.into_iter().any(|part| self.stays(part))
    }

    /// Whether one of the two is the other, or within it.
    fn is_one_with(&self, part: PartId, other: PartId) -> bool {
        self.upwards(part).any(|each| each == other) || self.upwards(other).any(|each| each == part)
    }

    fn by_severity(&self) -> Vec<FindingId> {
        let dossier = &self.project.dossier;
        let mut findings: Vec<FindingId> = dossier.findings.ids().collect();
        findings.sort_by_key(|id| std::cmp::Reverse(dossier[*id].severity));
        findings
    }

    fn mended(&self) -> Vec<Mended> {
        let one = |finding| Mended { finding, by: self.project.dossier.mended_by(finding).to_vec() };
        self.by_severity().into_iter().map(one).filter(|mended| !mended.by.is_empty()).collect()
    }

    /// What became of a finding about these parts, seen on that day, that no step mends.
    fn fate(&self, parts: &[PartId], seen: Option<Date>) -> Why {
        let on = self.worked_on(seen, |worked| parts.contains(&worked));
        if !on.is_empty() {
            return Why::WorkedOn(on);
        }
        let near = self.worked_on(seen, |worked| parts.iter().any(|part| self.is_one_with(*part, worked)));
        if near.is_empty() { Why::Kept } else { Why::WorkedNear(near) }
    }

    /// The steps that worked on such parts since that day.
    fn worked_on(&self, since: Option<Date>, is_such: impl Fn(PartId) -> bool) -> Vec<StepId> {
        let dossier = &self.project.dossier;
        let is_later = |step: &StepId| {
            let days = dossier[*step].done_on.map(|day| day.date).zip(since);
            days.is_none_or(|(done, since)| done >= since)
        };
        let works = |step: &StepId| dossier[*step].parts.iter().any(|part| is_such(*part));
        self.done.iter().copied().filter(is_later).filter(works).collect()
    }

    /// What was found on parts that stay, and that no step mends.
    fn findings(&self) -> Vec<Watch> {
        let dossier = &self.project.dossier;
        let one = |id: FindingId| {
            let about = dossier[id].about.iter().copied();
            let stay: Vec<PartId> = about.filter(|part| self.stays(*part)).collect();
            if stay.is_empty() || !dossier.mended_by(id).is_empty() {
                return None;
            }
            Some(Watch { note: id.into(), why: self.fate(&stay, dossier[id].seen.map(|day| day.date)) })
        };
        self.by_severity().into_iter().filter_map(one).collect()
    }

    /// Parts that were there before, of which no note tells anything.
    fn not_looked_at(&self) -> Vec<Watch> {
        let dossier = &self.project.dossier;
        let is_old = |part: &PartId| {
            !matches!(dossier[*part].disposition, Disposition::Make | Disposition::Buy)
                && dossier.children(*part).is_empty()
                && self.stays(*part)
        };
        let is_told = |part: PartId| {
            let same = |other: &PartId| *other == part;
            dossier.findings.iter().any(|finding| finding.about.iter().any(same))
                || dossier.measurements.iter().any(|measured| measured.of == part)
                || self.done.iter().any(|step| dossier[*step].parts.iter().any(same))
        };
        let parts = dossier.parts.ids().filter(is_old).filter(|part| !is_told(*part));
        parts.map(|part| Watch { note: part.into(), why: Why::NotLookedAt }).collect()
    }

    /// Every feature that was measured as left, and those as found with limits that were not measured again.
    fn features(&self) -> Vec<Feature> {
        let dossier = &self.project.dossier;
        let one = |id: MeasurementId| {
            let keys = &dossier[id];
            match keys.state {
                MeasurementState::AsLeft => Some(Feature { found: self.found_before(id), left: Some(id) }),
                MeasurementState::AsFound
                    if dossier.is_latest(id) && keys.limits.is_some() && self.stays(keys.of) =>
                {
                    Some(Feature { found: Some(id), left: None })
                }
                MeasurementState::AsFound => None,
            }
        };
        let mut features: Vec<Feature> = dossier.measurements.ids().filter_map(one).collect();
        features.sort_by_key(|feature| feature.any().map(|id| dossier[id].of));
        features
    }

    /// The same feature as it was found; `None` where that was not measured, or more than once.
    fn found_before(&self, left: MeasurementId) -> Option<MeasurementId> {
        let dossier = &self.project.dossier;
        let is_same = |id: &MeasurementId| {
            let (one, other) = (&dossier[*id], &dossier[left]);
            one.state == MeasurementState::AsFound && one.of == other.of && one.feature == other.feature
        };
        let mut found = dossier.measurements.ids().filter(is_same);
        found.next().filter(|_| found.next().is_none())
    }

    fn not_held(&self, features: &[Feature]) -> Vec<Watch> {
        let outcome =
            |id: MeasurementId| Some(self.project.worked.measured(id).within_limits.as_ref()?.outcome);
        let one = |feature: &Feature| {
            let id = feature.any().filter(|id| self.concerns_the_machine((*id).into()))?;
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
            (outcome != Outcome::Holds && self.concerns_the_machine(watch.note)).then_some(watch)
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
        let open = dossier.questions.ids().filter(is_open);
        open.map(|id| Watch { note: id.into(), why: Why::Open }).collect()
    }

    fn dropped(&self) -> Vec<Watch> {
        let dossier = &self.project.dossier;
        let is_dropped = |id: &StepId| dossier[*id].state == StepState::Dropped;
        let dropped = dossier.steps.ids().filter(is_dropped);
        dropped.map(|id| Watch { note: id.into(), why: Why::Dropped }).collect()
    }

    fn papers(&self) -> Vec<Watch> {
        let dossier = &self.project.dossier;
        let one = |id: PaperId| {
            let until = dossier[id].valid_until?;
            Some(Watch { note: id.into(), why: Why::RunsOut(until.date) })
        };
        dossier.papers.ids().filter_map(one).collect()
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
    pub fn word(&self) -> &'static str {
        match self {
            Self::Kept => "condition kept",
            Self::WorkedOn(_) | Self::WorkedNear(_) => "worked on since",
            Self::NotLookedAt => "not looked at",
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
