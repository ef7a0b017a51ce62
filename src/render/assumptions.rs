//! What the working takes for granted, and the checks that don't hold; what it rests on.

use std::collections::BTreeMap;

use serde::Serialize;

use super::call::{meanings, typeset};
use super::checks::{Group, by_note};
use super::edition::Edition;
use super::engine_words::{self, with_code};
use super::escape::{Markup, quoted};
use super::mathematics::equation;
use super::prose::capital;
use super::shapes::Mention;
use super::working::{known, number};
use crate::calc::evaluate::verdict::Outcome;
use crate::calc::print::{self, Printed};
use crate::calc::provenance::source_words;
use crate::calc::sheet::{LineKind, LineOutcome, Place};
use crate::calc::value::Value;
use crate::dossier::NoteId;
use crate::fitness::Check;
use crate::record::Chapter;

#[derive(Serialize)]
pub(super) struct Assumptions {
    assumed: Vec<Assumed>,
    /// Checks that are not met; those that the inspector has are not set out again.
    groups: Vec<Group>,
    not_met: usize,
    /// Of these, so many concern what carries load.
    of_load: usize,
    held: usize,
    has_inspector: bool,
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
    /// The row above stands in the same note.
    is_beneath: bool,
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
    let fitness = &edition.project.fitness;
    let not_met = |check: &&Check| check.outcome != Outcome::Holds;
    let (of_load, others) = (fitness.not_met().count(), fitness.others.iter().filter(not_met).count());
    let has_inspector = edition.names.has(Chapter::Inspector);
    let with_inspector = fitness.checks.iter().filter(|_| !has_inspector);
    let shown = with_inspector.chain(&fitness.others).filter(not_met);
    Assumptions {
        assumed: all_assumed(edition, &lines(&evaluation.assumptions)),
        groups: by_note(edition, shown),
        not_met: of_load + others,
        of_load,
        held: fitness.checks.len() + fitness.others.len() - of_load - others,
        has_inspector,
        accepted: accepted(edition),
    }
}

fn all_assumed(edition: &Edition, lines: &[(NoteId, &LineOutcome)]) -> Vec<Assumed> {
    let mut rows: Vec<Assumed> =
        lines.iter().filter_map(|(note, line)| assumed(edition, *note, line)).collect();
    for at in 1..rows.len() {
        rows[at].is_beneath = rows[at].at.id == rows[at - 1].at.id;
    }
    rows
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
        is_beneath: false,
    })
}

fn unit(printed: &Printed) -> Option<String> {
    (!printed.unit.is_empty()).then(|| printed.unit.clone())
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
    for (note, outcome) in worked.scopes() {
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
