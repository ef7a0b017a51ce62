//! Checks as rows of one table: what is checked, what was found, what it must be, by how much it holds or fails, and where
//! it stands.

use serde::Serialize;

use super::edition::Edition;
use super::escape::{Markup, escape};
use super::fit;
use super::in_words;
use super::mathematics::{equation, plain, unbroken};
use super::prose::{capital, joined};
use super::shapes::Mention;
use super::working::{in_one_unit, verdict_code};
use crate::calc::evaluate::verdict::Verdict;
use crate::calc::expression::{Setting, Symbol};
use crate::calc::sheet::LineOutcome;
use crate::dossier::{MeasurementId, NoteId, PartId, StepId};
use crate::fitness::{Asks, Check};
use crate::record::MeasurementState;
use crate::worked::{Fitted, Judged};

#[derive(Serialize)]
pub(super) struct CheckRow {
    what: Markup,
    /// The pieces of it that no line can break.
    unbroken: Markup,
    /// Why it matters, in the words of the note, or what it belongs to.
    why: Option<String>,
    found: Markup,
    must: Markup,
    /// What the limit comes from, where it is no plain figure.
    from: Option<Markup>,
    verdict: &'static str,
    pub(super) by: Option<String>,
    at: Mention,
}

/// The checks of one note or part, under its name.
#[derive(Serialize)]
pub(super) struct Group {
    of: Mention,
    /// What is to become of a part.
    becomes: Option<&'static str>,
    /// What else is said of it.
    says: Vec<String>,
    /// In lines of their own, before the checks.
    lines: Vec<Line>,
    rows: Vec<CheckRow>,
}

/// "Papers:", and each of them.
#[derive(Serialize)]
pub(super) struct Line {
    head: &'static str,
    them: Vec<Listed>,
}

/// A note with what is said of it.
#[derive(Serialize)]
pub(super) struct Listed {
    pub(super) note: Mention,
    /// What of it has to be seen first.
    pub(super) warns: Option<String>,
    pub(super) says: Vec<String>,
}

impl Group {
    pub(super) fn of(of: Mention, rows: Vec<CheckRow>) -> Self {
        Self { of, becomes: None, says: Vec::new(), lines: Vec::new(), rows }
    }

    pub(super) fn saying(self, becomes: &'static str, says: Vec<String>) -> Self {
        Self { becomes: Some(becomes), says, ..self }
    }

    /// With a line more, unless it has nothing.
    pub(super) fn with(mut self, head: &'static str, them: Vec<Listed>) -> Self {
        if !them.is_empty() {
            self.lines.push(Line { head, them });
        }
        self
    }
}

/// Checks by the note that they stand in, those of a measured feature by its part; in the order of the first of each.
pub(super) fn by_note<'a>(edition: &Edition, checks: impl Iterator<Item = &'a Check>) -> Vec<Group> {
    let mut groups: Vec<(NoteId, Vec<CheckRow>)> = Vec::new();
    for check in checks {
        let Some(row) = row(edition, check) else { continue };
        let of = match check.asks {
            Asks::Limits(id) => edition.dossier()[id].of.into(),
            Asks::Line(_) | Asks::Fit(..) => check.note,
        };
        match groups.iter_mut().find(|(note, _)| *note == of) {
            Some((_, rows)) => rows.push(row),
            None => groups.push((of, vec![row])),
        }
    }
    groups.into_iter().map(|(note, rows)| Group::of(edition.names.mention(note), rows)).collect()
}

/// A check as a row; `None` if what it asks could not be worked out.
pub(super) fn row(edition: &Edition, check: &Check) -> Option<CheckRow> {
    let worked = &edition.project.worked;
    match check.asks {
        Asks::Line(place) => Some(of_line(edition, check, worked.evaluation.line(place)?)),
        Asks::Limits(id) => of_limits(edition, check, id),
        Asks::Fit(part, id) => {
            let fitted = worked.fit(part)?;
            let judged = fitted.judged.iter().find(|judged| judged.measurement == id)?;
            of_fit(edition, check, fitted, judged)
        }
    }
}

fn of_line(edition: &Edition, check: &Check, line: &LineOutcome) -> CheckRow {
    let units = &edition.dossier().units;
    let formula = line.working.as_ref().map(|working| in_words::with_names(edition, &working.formula));
    let figures = line.verdict.as_ref().and_then(|verdict| in_one_unit(verdict, units));
    let (what, from) = match &formula {
        Some(Setting::Relation(left, _, right)) if figures.is_some() => (Some(&**left), Some(&**right)),
        whole => (whole.as_ref(), None),
    };
    let by_function = what.and_then(|what| function_behind(edition, check.note, what));
    let (found, must) = figures.as_ref().map_or_else(Default::default, sides);
    CheckRow {
        what: what
            .map(|what| Markup::of(format!("#{}{}", equation(what), by_function.unwrap_or_default())))
            .unwrap_or_default(),
        unbroken: Markup::code(unbroken(what.into_iter())),
        why: line.comment.clone(),
        found,
        must,
        from: from
            .filter(|from| !from.names().is_empty())
            .map(|from| Markup::of(format!("#{}", equation(from)))),
        verdict: verdict_code(check.outcome),
        by: line.verdict.as_ref().map(|verdict| joined(&verdict.distance(units))),
        at: edition.names.mention_of_line(check.note, line),
    }
}

fn of_limits(edition: &Edition, check: &Check, id: MeasurementId) -> Option<CheckRow> {
    let verdict = edition.project.worked.measured(id).within_limits.as_ref()?;
    let at = edition.names.mention(id.into());
    let limits = Markup::of(escape(&edition.amounts.typed(edition.limits(id)?)));
    Some(CheckRow {
        by: Some(joined(&verdict.distance(&edition.dossier().units))),
        must: limits,
        ..of_feature(edition, check, verdict, at)
    })
}

fn of_fit(edition: &Edition, check: &Check, fitted: &Fitted, judged: &Judged) -> Option<CheckRow> {
    let dossier = edition.dossier();
    let keys = dossier[fitted.part].fit.as_ref()?;
    let limits = fitted.limits.as_ref().ok()?;
    let by = [Some(fit::standing(dossier, judged, limits)), fit::would_settle(dossier, judged, limits)];
    let member = format!(
        "the {} of {} at {}; the fit of {} with {}",
        judged.member.word(),
        keys.class.text,
        edition.amounts.typed(&keys.at),
        dossier[fitted.part].name,
        dossier[keys.with].name
    );
    let why: Vec<String> = [Some(member), to_be_worked_on(edition, judged)].into_iter().flatten().collect();
    let at = Mention {
        label: edition.names.label(check.note),
        ..edition.names.mention(judged.measurement.into())
    };
    Some(CheckRow {
        by: Some(by.into_iter().flatten().collect::<Vec<_>>().join("; ")),
        why: Some(why.join("; ")),
        ..of_feature(edition, check, &judged.verdict, at)
    })
}

fn of_feature(edition: &Edition, check: &Check, verdict: &Verdict, at: Mention) -> CheckRow {
    let figures = in_one_unit(verdict, &edition.dossier().units);
    let (found, must) = figures.as_ref().map_or_else(Default::default, sides);
    CheckRow {
        what: Markup::of(escape(&capital(&at.name))),
        unbroken: Markup::code(unbroken(std::iter::empty())),
        why: None,
        found,
        must,
        from: None,
        verdict: verdict_code(check.outcome),
        by: None,
        at,
    }
}

/// The value, and the limits that it is held against.
fn sides(figures: &Setting) -> (Markup, Markup) {
    let set = |setting: &Setting| format!("#{}", equation(setting));
    let Setting::Relation(value, sign, limit) = figures else { return Default::default() };
    let must = match &**limit {
        Setting::Relation(low, "..", high) => format!("{} to {}", set(low), set(high)),
        limit => format!("{} {}", escape(sign), set(limit)),
    };
    (Markup::of(set(value)), Markup::of(must))
}

/// The workshop function that gives what a check is of, in words: " (shaft stress)".
fn function_behind(edition: &Edition, note: NoteId, what: &Setting) -> Option<String> {
    let Setting::Symbol(Symbol { note: None, name, .. }) = what else { return None };
    let name = name.split('.').next()?;
    let scopes = edition.project.worked.scopes().filter(|(other, _)| *other == note);
    let mut lines = scopes.flat_map(|(_, outcome)| &outcome.blocks).flat_map(|block| &block.lines);
    let line = lines.find(|line| line.name.as_deref() == Some(name))?;
    let function = line.functions.first()?;
    Some(format!(" ({})", escape(&plain(function.name))))
}

/// What a check is of in plain words; `None` where that is a formula.
pub(super) fn title(edition: &Edition, check: &Check) -> Option<String> {
    match check.asks {
        Asks::Line(place) => {
            let line = edition.project.worked.evaluation.line(place)?;
            let formula = in_words::with_names(edition, &line.working.as_ref()?.formula);
            let Setting::Relation(left, ..) = formula else { return None };
            let Setting::Symbol(symbol) = &*left else { return None };
            let by = function_behind(edition, check.note, &left).unwrap_or_default();
            Some(capital(&format!("{}{by}", in_plain_words(symbol))))
        }
        Asks::Limits(id) | Asks::Fit(_, id) => Some(capital(&edition.names.mention(id.into()).name)),
    }
}

fn in_plain_words(symbol: &Symbol) -> String {
    let words = [Some(symbol.base.as_str()), symbol.subscript.as_deref()];
    words.into_iter().flatten().map(plain).collect::<Vec<_>>().join(" ")
}

/// The open steps that still have the measured part in hand, by their numbers: as found is not as it stays.
fn to_be_worked_on(edition: &Edition, judged: &Judged) -> Option<String> {
    let (dossier, plan) = (edition.dossier(), &edition.project.plan);
    let part: PartId = dossier[judged.measurement].of;
    let is_open = |step: &StepId| {
        let keys = &dossier[*step];
        let only_moves_it = keys.removes.contains(&part) || keys.refits.contains(&part);
        plan.standing(*step).state.is_open() && keys.parts.contains(&part) && !only_moves_it
    };
    let is_found = dossier[judged.measurement].state == MeasurementState::AsFound;
    let steps = dossier.steps.ids().filter(|step| is_found && is_open(step));
    let mut numbers: Vec<usize> = steps.map(|step| edition.names.numbers()[&step]).collect();
    numbers.sort_unstable();
    let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    match numbers.as_slice() {
        [] => None,
        [one] => Some(format!("step {one} still has it in hand")),
        [others @ .., last] => Some(format!("steps {} and {last} still have it in hand", others.join(", "))),
    }
}
