//! What lies between now and a part that is off or in its place: the chain of causes, and what it takes altogether.

use std::collections::BTreeSet;

use serde::Serialize;

use super::amounts::money;
use super::edition::Edition;
use super::prose::in_sentence;
use super::shapes::Mention;
use crate::calc::print::counted;
use crate::dossier::{Dossier, NoteId, PartId, ShopId, StepId};
use crate::estimate::Estimate;
use crate::outlook::{Effort, Payee};
use crate::plan::readiness::Obstacle;
use crate::plan::why::{ChainLine, Why};
use crate::record::{Disposition, Supply};

#[derive(Serialize)]
pub(super) struct Prerequisites {
    /// "To remove it".
    head: &'static str,
    lines: Vec<LineShape>,
    /// What all of it takes.
    sum: String,
    /// New parts that take its place, each with what it costs.
    instead: Vec<Instead>,
}

#[derive(Serialize)]
struct LineShape {
    depth: usize,
    /// A step whose chain stands here, or what else comes first; `None` for what keeps back the step above itself.
    what: Option<Mention>,
    /// What the line says of it beyond its name.
    says: Option<String>,
    /// Steps whose chains stand elsewhere.
    after: Vec<Mention>,
}

#[derive(Serialize)]
struct Instead {
    part: Mention,
    costs: Option<String>,
}

/// Of a longer chain only the first steps are named; what comes before them stands in the list of the work.
const MOST_LINES: usize = 18;

/// The chain of a part that is to come off, or of a new one that is to go in; `None` for others. A step whose chain was
/// printed already, as `told` says, is only named.
pub(super) fn of_part(edition: &Edition, part: PartId, told: &mut BTreeSet<StepId>) -> Option<Prerequisites> {
    let dossier = edition.dossier();
    let comes_off = taking_off(edition, part).next().is_some();
    let keys = &dossier[part];
    let goes_in =
        matches!(keys.disposition, Disposition::Buy | Disposition::Make) && keys.supply != Supply::Fitted;
    if !comes_off && !goes_in {
        return None;
    }
    let why = edition.project.plan.why(dossier, part.into());
    let steps = steps_of(&why);
    (!steps.is_empty()).then(|| Prerequisites {
        head: if comes_off { "To remove it" } else { "To put it in place" },
        lines: lines(edition, &why, told),
        sum: sum(edition, &steps, &parts_of(edition.dossier(), part, comes_off, &why, &steps)),
        instead: if comes_off { instead(edition, part) } else { Vec::new() },
    })
}

/// The chain without what was printed before; of a long one only the first steps.
fn lines(edition: &Edition, why: &Why, told: &mut BTreeSet<StepId>) -> Vec<LineShape> {
    let mut seen = told.clone();
    let fresh = without_told(why, &mut seen);
    if fresh.len() <= MOST_LINES {
        *told = seen;
        return shapes(edition, &fresh);
    }
    let first = why.lines.iter().filter(|line| line.depth == 0);
    shapes(edition, &first.map(|line| (line, step_of(line).is_some())).collect::<Vec<_>>())
}

/// The lines of a chain, each with whether it is a step whose own chain is left out, having been printed before.
fn without_told<'a>(why: &'a Why, told: &mut BTreeSet<StepId>) -> Vec<(&'a ChainLine, bool)> {
    let mut fresh = Vec::new();
    let mut left_out: Option<usize> = None;
    for line in &why.lines {
        if left_out.is_some_and(|depth| line.depth > depth) {
            continue;
        }
        let is_told = step_of(line).is_some_and(|step| !told.insert(step));
        left_out = is_told.then_some(line.depth);
        fresh.push((line, is_told));
    }
    fresh
}

fn step_of(line: &ChainLine) -> Option<StepId> {
    match (line.cause.obstacle, line.cause.note) {
        (Obstacle::Step, NoteId::Step(step)) => Some(step),
        _ => None,
    }
}

/// Steps that are only named share a line with those beside them.
fn shapes(edition: &Edition, lines: &[(&ChainLine, bool)]) -> Vec<LineShape> {
    let mut shapes: Vec<LineShape> = Vec::new();
    for (line, is_told) in lines {
        match shapes.last_mut() {
            Some(last) if *is_told && !last.after.is_empty() && last.depth == line.depth => {
                let step = edition.names.mention(line.cause.note);
                if last.after.iter().all(|other| other.id != step.id) {
                    last.after.push(step);
                }
            }
            _ if *is_told => shapes.push(LineShape {
                depth: line.depth,
                what: None,
                says: None,
                after: vec![edition.names.mention(line.cause.note)],
            }),
            _ => shapes.push(shape(edition, line)),
        }
    }
    shapes
}

fn taking_off<'a>(edition: &'a Edition, part: PartId) -> impl Iterator<Item = StepId> + 'a {
    let dossier = edition.dossier();
    let is_open = |step: StepId| edition.project.plan.standing(step).state.is_open();
    dossier.steps.ids().filter(move |&step| is_open(step) && dossier[step].removes.contains(&part))
}

/// The steps of a chain, each once.
fn steps_of(why: &Why) -> BTreeSet<StepId> {
    let step = |line: &ChainLine| match line.cause.note {
        NoteId::Step(step) => Some(step),
        _ => None,
    };
    why.lines.iter().filter_map(step).collect()
}

/// The parts that are paid for in a chain and not here yet: those that it waits for, those that
/// its steps make, and the part itself if it goes in.
fn parts_of(
    dossier: &Dossier,
    part: PartId,
    comes_off: bool,
    why: &Why,
    steps: &BTreeSet<StepId>,
) -> BTreeSet<PartId> {
    let waited_for = why.lines.iter().filter_map(|line| match (line.cause.obstacle, line.cause.note) {
        (Obstacle::Part, NoteId::Part(part)) => Some(part),
        _ => None,
    });
    let own = (!comes_off).then_some(part);
    let is_new = |part: &PartId| {
        let keys = &dossier[*part];
        matches!(keys.disposition, Disposition::Buy | Disposition::Make) && !keys.supply.is_here()
    };
    let made = steps.iter().flat_map(|step| dossier[*step].makes.iter().copied());
    waited_for.chain(made).chain(own).filter(is_new).collect()
}

fn shape(edition: &Edition, line: &ChainLine) -> LineShape {
    let cause = &line.cause;
    let clause = edition.names.clause(cause);
    let is_about_the_step =
        matches!(cause.obstacle, Obstacle::Recovery | Obstacle::Capability | Obstacle::Day);
    let says = match (cause.obstacle, cause.note) {
        (Obstacle::Step, _) => None,
        (Obstacle::Part, NoteId::Part(part)) => Some(bought(edition, part, &clause)),
        _ => Some(clause),
    };
    LineShape {
        depth: line.depth,
        what: (!is_about_the_step).then(|| edition.names.mention(cause.note)),
        says,
        after: Vec::new(),
    }
}

/// "to be bought, 24 to 41 GBP".
fn bought(edition: &Edition, part: PartId, clause: &str) -> String {
    let cost =
        edition.dossier()[part].cost.as_ref().map(|cost| format!(", {}", edition.amounts.estimate(cost)));
    format!("{clause}{}", cost.unwrap_or_default())
}

/// The name of a shop within a sentence.
fn named(dossier: &Dossier, shop: ShopId) -> String {
    in_sentence(dossier[shop].name_after_at())
}

/// "9 steps, 22 to 32 h of work; 582 to 739 GBP to pay: the machine shop 558 to 698, any stockist 24 to 41 (hours
/// without a rate not counted)."
fn sum(edition: &Edition, steps: &BTreeSet<StepId>, parts: &BTreeSet<PartId>) -> String {
    let dossier = edition.dossier();
    let effort = Effort::of(edition.project, edition.outlook, steps, parts);
    [
        counted(steps.len(), "step"),
        if is_most_of_it(edition, steps) {
            ", more than half of the open work, for other parts too"
        } else {
            ""
        }
        .to_owned(),
        format!(", {} h of work", range(effort.hours, |hours| format!("{hours:.0}"))),
        payment(dossier, &effort),
        if effort.nobody_can { "; some steps have no shop" } else { "" }.to_owned(),
        ".".to_owned(),
    ]
    .concat()
}

/// Whether a long chain is more than half of the open work, whose cost is then no price of one part.
fn is_most_of_it(edition: &Edition, steps: &BTreeSet<StepId>) -> bool {
    let is_open = |step: &StepId| edition.project.plan.standing(*step).state.is_open();
    let open = edition.dossier().steps.ids().filter(is_open).count();
    steps.len() > MOST_LINES && 2 * steps.len() > open
}

/// What the work and the parts of a chain cost together, and to whom it is paid.
fn payment(dossier: &Dossier, effort: &Effort) -> String {
    let currency = &dossier.about.settings.currency;
    let said = |cost: Estimate| range(cost, money);
    let paid = effort.payees.iter().map(|(payee, cost)| (payee_words(dossier, payee), *cost));
    let mut paid: Vec<(String, Estimate)> = paid.collect();
    paid.sort_by(|one, two| one.0.cmp(&two.0));
    let sum = if paid.is_empty() {
        "; nothing to pay".to_owned()
    } else {
        format!("; {} {currency} to pay", said(effort.cost))
    };
    let split: Vec<String> = paid.iter().map(|(payee, cost)| format!("{payee} {}", said(*cost))).collect();
    let split = match paid.as_slice() {
        [] => String::new(),
        [(payee, _)] => format!(", all to {payee}"),
        many if many.len() > MOST_PAYEES => to_many(many, &said),
        _ => format!(": {}", split.join(", ")),
    };
    format!("{sum}{split}{}", not_counted(dossier, effort))
}

/// More payees are counted; the bill has them all.
const MOST_PAYEES: usize = 4;

/// "to 9 payees, the most to the machine shop: 986 to 1 310".
fn to_many(paid: &[(String, Estimate)], said: &dyn Fn(Estimate) -> String) -> String {
    let most = paid.iter().max_by(|one, two| one.1.likely.total_cmp(&two.1.likely));
    let most = most.map(|(payee, cost)| format!(", the most to {payee}: {}", said(*cost)));
    format!(" to {} payees{}", paid.len(), most.unwrap_or_default())
}

fn payee_words(dossier: &Dossier, payee: &Payee) -> String {
    match payee {
        Payee::Shop(shop) => named(dossier, *shop),
        Payee::Seller(name) => name.clone(),
        Payee::ToBeFound => "a shop still to be found".to_owned(),
        Payee::NotNamed => "a payee not named".to_owned(),
    }
}

/// What the sum leaves out.
fn not_counted(dossier: &Dossier, effort: &Effort) -> String {
    let rate = effort.has_no_rate.then(|| "hours without a rate".to_owned());
    let prices = effort.without_price.iter().map(|part| format!("the price of {}", dossier[*part].name));
    let left_out: Vec<String> = rate.into_iter().chain(prices).collect();
    if left_out.is_empty() { String::new() } else { format!(" ({} not counted)", left_out.join(" and ")) }
}

/// What a shop is paid for these steps, if anything.
pub(super) fn to_pay(edition: &Edition, shop: ShopId, steps: &BTreeSet<StepId>) -> Option<String> {
    let effort = Effort::of(edition.project, edition.outlook, steps, &BTreeSet::new());
    let currency = &edition.dossier().about.settings.currency;
    effort.payees.get(&Payee::Shop(shop)).map(|cost| format!("{} {currency}", range(*cost, money)))
}

fn range(estimate: Estimate, figure: impl Fn(f64) -> String) -> String {
    let (low, high) = (figure(estimate.low), figure(estimate.high));
    if low == high { low } else { format!("{low} to {high}") }
}

fn instead(edition: &Edition, part: PartId) -> Vec<Instead> {
    let dossier = edition.dossier();
    dossier
        .parts
        .ids()
        .filter(|new| dossier[*new].replaces.contains(&part))
        .map(|new| Instead {
            part: edition.names.mention(new.into()),
            costs: dossier[new].cost.as_ref().map(|cost| edition.amounts.estimate(cost)),
        })
        .collect()
}
