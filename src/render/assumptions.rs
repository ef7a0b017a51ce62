//! What the working takes for granted, and the checks that don't hold; what it rests on.

use std::collections::BTreeMap;

use serde::Serialize;

use super::call::{meanings, typeset};
use super::edition::Edition;
use super::engine_words::{self, with_code};
use super::escape::{Markup, escape, quoted};
use super::fit;
use super::in_words;
use super::mathematics::{equation, unbroken};
use super::prose::{capital, joined};
use super::shapes::Mention;
use super::working::{known, number, verdict_code};
use crate::Project;
use crate::calc::evaluate::verdict::Outcome;
use crate::calc::print::{self, Printed};
use crate::calc::provenance::source_words;
use crate::calc::sheet::{LineKind, LineOutcome, Place};
use crate::calc::value::Value;
use crate::dossier::{NoteId, StepId};
use crate::record::MeasurementState;
use crate::worked::{Fitted, Judged};

#[derive(Serialize)]
pub(super) struct Assumptions {
    assumed: Vec<Assumed>,
    checks: Vec<CheckShape>,
    held_checks: usize,
    accepted: Vec<Accepted>,
}

#[derive(Serialize)]
struct Assumed {
    symbol: Markup,
    number: String,
    unit: Option<String>,
    /// How well it is known.
    known: Option<String>,
    why: Option<String>,
    at: Mention,
}

#[derive(Serialize)]
pub(super) struct CheckShape {
    pub(super) says: Markup,
    /// The pieces of it that no line can break.
    pub(super) unbroken: Markup,
    pub(super) verdict: &'static str,
    pub(super) by: Option<String>,
    pub(super) why: Option<String>,
    pub(super) at: Mention,
}

#[derive(Serialize)]
struct Accepted {
    says: Markup,
    at: Option<Mention>,
}

pub(super) fn chapter(edition: &Edition) -> Assumptions {
    let evaluation = &edition.project.worked.evaluation;
    let lines = |places: &[Place]| -> Vec<(NoteId, &LineOutcome)> {
        let line = |place: &Place| Some((edition.project.worked.note(*place), evaluation.line(*place)?));
        places.iter().filter_map(line).collect()
    };
    let checks = lines(&evaluation.checks);
    let of = |outcome: Outcome| {
        checks
            .iter()
            .filter(move |(_, line)| line.verdict.as_ref().is_some_and(|verdict| verdict.outcome == outcome))
            .map(|(note, line)| check(edition, *note, line))
    };
    let fits = latest_fits(edition.project);
    let of_fits = |outcome: Outcome| {
        fits.iter()
            .filter(move |(_, judged)| judged.verdict.outcome == outcome)
            .filter_map(|(fitted, judged)| fit_check(edition, fitted, judged))
    };
    Assumptions {
        assumed: lines(&evaluation.assumptions)
            .into_iter()
            .filter_map(|(note, line)| assumed(edition, note, line))
            .collect(),
        held_checks: of(Outcome::Holds).count() + of_fits(Outcome::Holds).count(),
        checks: [Outcome::Fails, Outcome::NotSettled]
            .into_iter()
            .flat_map(|outcome| of(outcome).chain(of_fits(outcome)).collect::<Vec<_>>())
            .collect(),
        accepted: accepted(edition),
    }
}

fn assumed(edition: &Edition, note: NoteId, line: &LineOutcome) -> Option<Assumed> {
    let symbol = line.working.as_ref()?.symbol.as_ref()?;
    let Value::Quantity(quantity) = line.value.as_ref()? else { return None };
    let printed = print::quantity(quantity, &edition.dossier().units);
    Some(Assumed {
        symbol: Markup::of(format!("#{}", equation(symbol))),
        number: number(&printed),
        unit: unit(&printed),
        known: known(&printed),
        why: line.comment.clone(),
        at: edition.names.mention_of_line(note, line),
    })
}

fn unit(printed: &Printed) -> Option<String> {
    (!printed.unit.is_empty()).then(|| printed.unit.clone())
}

pub(super) fn check(edition: &Edition, note: NoteId, line: &LineOutcome) -> CheckShape {
    let verdict = line.verdict.as_ref();
    let distance = verdict.map(|verdict| verdict.distance(&edition.dossier().units));
    let formula = line.working.as_ref().map(|working| in_words::with_names(edition, &working.formula));
    CheckShape {
        says: formula
            .as_ref()
            .map(|formula| Markup::of(format!("#{}", equation(formula))))
            .unwrap_or_default(),
        unbroken: Markup::code(unbroken(formula.iter())),
        verdict: verdict.map_or("unsettled", |verdict| verdict_code(verdict.outcome)),
        by: distance.as_deref().map(joined),
        why: line.comment.clone(),
        at: edition.names.mention_of_line(note, line),
    }
}

/// Every measured member of a fit, as it is now.
fn latest_fits<'a>(project: &'a Project) -> Vec<(&'a Fitted, &'a Judged)> {
    let (worked, dossier) = (&project.worked, &project.dossier);
    let of = |fitted: &'a Fitted| fitted.judged.iter().map(move |judged| (fitted, judged));
    worked.fits.iter().flat_map(of).filter(|(_, judged)| judged.is_latest(dossier)).collect()
}

/// The open step that will still work on the measured part, by its number: as found is not as it stays.
fn to_be_worked_on(edition: &Edition, judged: &Judged) -> Option<String> {
    let (dossier, plan) = (edition.dossier(), &edition.project.plan);
    let part = dossier[judged.measurement].of;
    let is_open = |step: &StepId| {
        let keys = &dossier[*step];
        let only_moves_it = keys.removes.contains(&part) || keys.refits.contains(&part);
        plan.standing(*step).state.is_open() && keys.parts.contains(&part) && !only_moves_it
    };
    let is_found = dossier[judged.measurement].state == MeasurementState::AsFound;
    let step = dossier.steps.ids().filter(|_| is_found).find(|step| is_open(step))?;
    Some(format!("step {} still works on it", edition.names.numbers()[&step]))
}

/// "Neck journal, as left: the shaft of RC5 at 3.973 in".
pub(super) fn fit_check(edition: &Edition, fitted: &Fitted, judged: &Judged) -> Option<CheckShape> {
    let dossier = edition.dossier();
    let keys = dossier[fitted.part].fit.as_ref()?;
    let (feature, class) = (edition.names.mention(judged.measurement.into()).name, &keys.class.text);
    let says = format!(
        "{}: the {} of {class} at {}",
        capital(&feature),
        judged.member.word(),
        edition.amounts.typed(&keys.at)
    );
    let limits = fitted.limits.as_ref().ok()?;
    let by = [
        Some(fit::standing(edition.dossier(), judged, limits)),
        fit::would_settle(edition.dossier(), judged, limits),
    ];
    Some(CheckShape {
        says: Markup::of(escape(&says)),
        unbroken: Markup::code(unbroken(std::iter::empty())),
        verdict: verdict_code(judged.verdict.outcome),
        by: Some(by.into_iter().flatten().collect::<Vec<_>>().join("; ")),
        why: Some(
            [Some(format!("the fit of {} with {}", dossier[fitted.part].name, dossier[keys.with].name))]
                .into_iter()
                .chain([to_be_worked_on(edition, judged)])
                .flatten()
                .collect::<Vec<_>>()
                .join("; "),
        ),
        at: edition.names.mention(fitted.part.into()),
    })
}

fn accepted(edition: &Edition) -> Vec<Accepted> {
    let one = |problem: &crate::diagnostic::Problem| Accepted {
        says: Markup::of(with_code(&capital(&problem.message))),
        at: problem
            .about
            .as_deref()
            .and_then(|id| edition.dossier().find(id))
            .map(|note| edition.names.mention(note)),
    };
    edition.project.accepted().iter().map(one).collect()
}

#[derive(Serialize)]
pub(super) struct Sources {
    constants: Vec<Constant>,
    formulas: Vec<Formula>,
    materials: Vec<MaterialShape>,
}

#[derive(Serialize)]
struct Constant {
    name: &'static str,
    symbol: Markup,
    number: &'static str,
    unit: &'static str,
    source: &'static str,
}

#[derive(Serialize)]
struct Formula {
    name: &'static str,
    does: String,
    formula: Markup,
    meanings: Markup,
    holds_for: Option<String>,
    source: String,
    used_at: Vec<Mention>,
}

#[derive(Serialize)]
struct MaterialShape {
    name: String,
    used_at: Vec<Mention>,
    source: String,
}

/// The sources of just those functions that the notes use.
pub(super) fn sources(edition: &Edition) -> Sources {
    let evaluation = &edition.project.worked.evaluation;
    let users = users(edition);
    let formulas = evaluation.used.iter().map(|function| Formula {
        name: function.name,
        does: engine_words::in_words(function.does),
        formula: Markup::of(typeset(function)),
        meanings: Markup::of(meanings(function)),
        holds_for: Some(engine_words::in_words(function.validity)),
        source: engine_words::in_words(&source_words(function.source)),
        used_at: users
            .get(function.name)
            .into_iter()
            .flatten()
            .map(|(note, line)| edition.names.mention_of_line(*note, line))
            .collect(),
    });
    Sources { constants: constants(), formulas: formulas.collect(), materials: Vec::new() }
}

/// The notes that use each function, with the first line that does.
pub(super) fn users<'a>(edition: &'a Edition) -> BTreeMap<&'a str, BTreeMap<NoteId, &'a LineOutcome>> {
    let worked = &edition.project.worked;
    let mut users: BTreeMap<&str, BTreeMap<NoteId, &LineOutcome>> = BTreeMap::new();
    for (scope, outcome) in worked.evaluation.scopes.iter().enumerate() {
        let note = worked.note(Place { scope, block: 0, line: 0 });
        let lines = outcome.blocks.iter().flat_map(|block| &block.lines);
        for line in lines.filter(|line| line.kind != LineKind::Faulty) {
            for function in &line.functions {
                users.entry(function.name).or_default().entry(note).or_insert(line);
            }
        }
    }
    users
}

fn constants() -> Vec<Constant> {
    let letter = |words: &str, symbol: &str| Markup::of(format!("#eq({}, ${symbol}$)", quoted(words)));
    vec![Constant {
        name: "standard gravity",
        symbol: letter("g sub n", "g_(\"n\")"),
        number: "9.80665",
        unit: "m/s²",
        source: "3rd CGPM 1901; BIPM, The International System of Units, 9th edition",
    }]
}
