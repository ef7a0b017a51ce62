//! Whether the machine may be used: for the cover, and in full for the inspector.

use serde::Serialize;

use super::assumptions::{CheckShape, check, fit_check};
use super::edition::Edition;
use super::escape::{Markup, escape};
use super::mathematics::unbroken;
use super::prose::{capital, day, joined, said};
use super::shapes::Mention;
use super::working::verdict_code;
use crate::calc::evaluate::verdict::Outcome;
use crate::calc::sheet::LineOutcome;
use crate::dossier::{FindingId, MeasurementId, NoteId, PaperId, PartId};
use crate::fitness::{Asks, Fitness, LoadCheck, LoadPart, Standing};
use crate::record::Severity;

/// What the cover answers first.
#[derive(Serialize)]
pub(super) struct FitnessShape {
    /// "Not declared fit for use", "Declared fit for use", or that and what stands against it.
    head: &'static str,
    /// It is declared, and nothing that is known stands against it.
    is_clear: bool,
    /// What the keeper wrote, with its date and its end; `None` where there is no declaration.
    declaration: Option<DeclarationShape>,
    /// Why a declaration does not count, or what is later than it.
    remark: Option<String>,
    later: Vec<Danger>,
    dangerous: Vec<Danger>,
    /// The load-carrying checks that are not met.
    not_met: Vec<Brief>,
    held: usize,
    lapsed: Vec<PaperLine>,
    /// Whether any part is tagged as carrying load.
    is_tagged: bool,
}

#[derive(Serialize)]
struct DeclarationShape {
    words: String,
    date: String,
    valid_until: Option<String>,
    signed_by: Option<String>,
}

/// A dangerous finding, with the names of the parts that it is on.
#[derive(Serialize)]
struct Danger {
    of: String,
    finding: Mention,
}

/// A check in one line.
#[derive(Serialize)]
struct Brief {
    verdict: &'static str,
    /// The part, else the note that it stands in.
    of: Mention,
    /// What is checked, in the words of the note; empty where it says none.
    says: String,
    /// The check itself, where the note says nothing of it.
    typed: Option<String>,
    by: Option<String>,
}

#[derive(Serialize)]
pub(super) struct PaperLine {
    paper: Mention,
    what: Option<String>,
    date: Option<String>,
    valid_until: Option<String>,
    lapsed: bool,
}

pub(super) fn shape(edition: &Edition) -> FitnessShape {
    let fitness = &edition.project.fitness;
    let declared = edition.dossier().about.fit_for_use.as_ref();
    let later = match &fitness.standing {
        Standing::Overtaken(later) => later.iter().map(|id| danger(edition, *id)).collect(),
        _ => Vec::new(),
    };
    FitnessShape {
        head: head(fitness),
        is_clear: fitness.standing == Standing::Declared && fitness.is_unopposed(),
        declaration: declared.map(|declared| DeclarationShape {
            words: declared.words.clone(),
            date: day(declared.date.date).says,
            valid_until: said(declared.valid_until),
            signed_by: declared.signed_by.clone(),
        }),
        remark: remark(edition, &fitness.standing),
        later,
        dangerous: fitness.dangerous.iter().map(|id| danger(edition, *id)).collect(),
        not_met: fitness.not_met().map(|check| brief(edition, check)).collect(),
        held: fitness.checks.iter().filter(|check| check.outcome == Outcome::Holds).count(),
        lapsed: fitness.lapsed.iter().map(|id| paper_line(edition, *id)).collect(),
        is_tagged: !fitness.parts.is_empty(),
    }
}

fn head(fitness: &Fitness) -> &'static str {
    match fitness.standing {
        Standing::NotDeclared | Standing::Ahead | Standing::Ended => "Not declared fit for use",
        Standing::Overtaken(_) => "Declared fit for use, and overtaken by what was found since",
        Standing::Declared if fitness.is_unopposed() => "Declared fit for use",
        Standing::Declared => "Declared fit for use, and what is known stands against it",
    }
}

fn danger(edition: &Edition, id: FindingId) -> Danger {
    let dossier = edition.dossier();
    let parts: Vec<&str> = dossier[id].about.iter().map(|part| dossier[*part].name.as_str()).collect();
    Danger { of: parts.join(", "), finding: edition.names.mention(id.into()) }
}

fn remark(edition: &Edition, standing: &Standing) -> Option<String> {
    let today = edition.dossier().day_zero().map(|today| day(today).says).unwrap_or_default();
    match standing {
        Standing::NotDeclared | Standing::Declared => None,
        Standing::Ahead => Some(format!(
            "The declaration is dated after the last date in the notes, {today}: it does not count yet."
        )),
        Standing::Ended => Some(format!("The declaration has ended; the notes have come to {today}.")),
        Standing::Overtaken(_) => Some(
            "The declaration is overtaken by dangerous findings that are later, or of no known day:"
                .to_owned(),
        ),
    }
}

fn brief(edition: &Edition, load: &LoadCheck) -> Brief {
    let of = edition.names.mention(load.part.map_or(load.note, NoteId::Part));
    let bare = Brief { verdict: verdict_code(load.outcome), of, says: String::new(), typed: None, by: None };
    let feature = |id: MeasurementId| capital(&edition.names.mention(id.into()).name);
    match load.asks {
        Asks::Line(place) => match edition.project.worked.evaluation.line(place) {
            Some(line) => {
                let place = Some(edition.names.line_label(load.note, line));
                of_line(edition, line, Brief { of: Mention { place, ..bare.of }, ..bare })
            }
            None => bare,
        },
        Asks::Limits(id) => {
            let of = Mention { place: edition.names.label(id.into()), ..bare.of };
            Brief { of, says: feature(id), by: distance_to_limits(edition, id), ..bare }
        }
        Asks::Fit(_, id) => {
            Brief { says: feature(id), by: in_full(edition, load).and_then(|check| check.by), ..bare }
        }
    }
}

fn of_line(edition: &Edition, line: &LineOutcome, bare: Brief) -> Brief {
    let distance = line.verdict.as_ref().map(|verdict| joined(&verdict.distance(&edition.dossier().units)));
    let asked = line.asked.as_ref().filter(|_| line.comment.is_none()).map(|asked| asked.text.clone());
    let says = line.comment.as_deref().map(capital).unwrap_or_default();
    Brief { says, typed: asked, by: distance, ..bare }
}

fn distance_to_limits(edition: &Edition, id: MeasurementId) -> Option<String> {
    let verdict = edition.project.worked.measured(id).within_limits.as_ref()?;
    Some(joined(&verdict.distance(&edition.dossier().units)))
}

pub(super) fn paper_line(edition: &Edition, id: PaperId) -> PaperLine {
    let keys = &edition.dossier()[id];
    PaperLine {
        paper: edition.names.mention(id.into()),
        what: keys.what.clone(),
        date: said(keys.date),
        valid_until: said(keys.valid_until),
        lapsed: edition.project.fitness.lapsed.contains(&id),
    }
}

/// All that an inspector has to see.
#[derive(Serialize)]
pub(super) struct Inspector {
    fitness: FitnessShape,
    parts: Vec<PartShape>,
    /// Checks by a formula for what carries load, on parts without the tag.
    others: Vec<CheckShape>,
    /// Papers with a last day that stand with no part above.
    papers: Vec<PaperLine>,
}

#[derive(Serialize)]
struct PartShape {
    part: Mention,
    material: Option<String>,
    disposition: &'static str,
    findings: Vec<FindingLine>,
    checks: Vec<CheckShape>,
    papers: Vec<PaperLine>,
}

#[derive(Serialize)]
struct FindingLine {
    finding: Mention,
    severity: Option<&'static str>,
    seen: Option<String>,
    mended_by: Vec<Mention>,
}

pub(super) fn inspector(edition: &Edition) -> Inspector {
    let fitness = &edition.project.fitness;
    let dossier = edition.dossier();
    let is_listed = |id: &PaperId| fitness.parts.iter().any(|part| part.papers.contains(id));
    let dated = dossier.papers.ids().filter(|id| dossier[*id].valid_until.is_some() && !is_listed(id));
    Inspector {
        fitness: shape(edition),
        parts: fitness.parts.iter().map(|part| part_shape(edition, part)).collect(),
        others: checks_of(edition, None),
        papers: dated.map(|id| paper_line(edition, id)).collect(),
    }
}

fn part_shape(edition: &Edition, load: &LoadPart) -> PartShape {
    let keys = &edition.dossier()[load.part];
    PartShape {
        part: edition.names.mention(load.part.into()),
        material: keys.material.clone(),
        disposition: keys.disposition.word(),
        findings: load.findings.iter().map(|id| finding_line(edition, *id)).collect(),
        checks: checks_of(edition, Some(load.part)),
        papers: load.papers.iter().map(|id| paper_line(edition, *id)).collect(),
    }
}

fn finding_line(edition: &Edition, id: FindingId) -> FindingLine {
    let dossier = edition.dossier();
    FindingLine {
        finding: edition.names.mention(id.into()),
        severity: dossier[id].severity.map(Severity::word),
        seen: said(dossier[id].seen),
        mended_by: edition.names.mentions(dossier.mended_by(id).iter().copied()),
    }
}

fn checks_of(edition: &Edition, part: Option<PartId>) -> Vec<CheckShape> {
    let of = edition.project.fitness.checks.iter().filter(|check| check.part == part);
    of.filter_map(|check| in_full(edition, check)).collect()
}

fn in_full(edition: &Edition, load: &LoadCheck) -> Option<CheckShape> {
    let worked = &edition.project.worked;
    match load.asks {
        Asks::Line(place) => Some(check(edition, load.note, worked.evaluation.line(place)?)),
        Asks::Fit(part, id) => {
            let fitted = worked.fit(part)?;
            let judged = fitted.judged.iter().find(|judged| judged.measurement == id)?;
            fit_check(edition, fitted, judged)
        }
        Asks::Limits(id) => {
            let at = edition.names.mention(id.into());
            let limits = edition.amounts.typed(edition.limits(id)?);
            Some(CheckShape {
                says: Markup::of(escape(&format!("{}, within {limits}", capital(&at.name)))),
                unbroken: Markup::code(unbroken(std::iter::empty())),
                verdict: verdict_code(load.outcome),
                by: distance_to_limits(edition, id),
                why: None,
                at,
            })
        }
    }
}
