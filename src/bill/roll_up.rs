//! The bill: every part with its quantity, mass and cost, the work beside it, and the sums.
//!
//! Costs are estimates; ends are added to ends, so the sum's low is reached only if everything comes cheap.

use std::collections::BTreeSet;

use super::mass::{Weight, machine, weigh};
use crate::dossier::{Dossier, PartId, Resolved, ShopId, StepId};
use crate::estimate::Estimate;
use crate::record::{self, Disposition, Step, StepState};

/// One part of the bill. Mass and cost are for the whole quantity.
#[derive(Clone, Debug, PartialEq)]
pub struct PartLine {
    /// The part.
    pub part: PartId,
    /// How deep in the tree, 0 at the top.
    pub depth: usize,
    /// Pieces in the whole machine: its own quantity times that of every assembly around it.
    pub quantity: u32,
    /// Mass of one piece, as weighed or added up.
    pub weight: Weight,
    /// Mass of all pieces, kg.
    pub mass_kg: Option<f64>,
    /// The ends of it, kg.
    pub mass_ends_kg: Option<(f64, f64)>,
    /// Cost of all pieces, in the dossier's money.
    pub cost: Option<Estimate>,
    /// Delivery time, days.
    pub lead_days: Option<Estimate>,
}

/// The cost of one step.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// The step.
    pub step: StepId,
    /// In the dossier's money.
    pub cost: Estimate,
    /// Where the figure comes from.
    pub basis: Basis,
}

/// Where the cost of a step comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Its note says.
    Stated,
    /// Its hands-on time at the rate of this shop.
    Rate(ShopId),
}

/// What the bill adds up to, in the dossier's money and kg.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Totals {
    /// All parts.
    pub parts: Estimate,
    /// All work that was not dropped.
    pub work: Estimate,
    /// Both together.
    pub together: Estimate,
    /// Of that, what is received, fitted, made or done: by the same estimates, for no note says what was paid.
    pub so_far: Estimate,
    /// Of that, what is still to come.
    pub to_come: Estimate,
    /// The whole machine as it will stand, as far as it is known.
    pub mass_kg: Option<f64>,
    /// The ends of it, kg: ends added to ends.
    pub mass_ends_kg: Option<(f64, f64)>,
    /// Parts of unknown mass in it.
    pub unweighed: usize,
    /// Parts to buy without a cost: the sums are too low by these.
    pub without_cost: usize,
    /// Steps without a cost that no known shop can do: the sums are too low by these too.
    pub work_without_cost: usize,
}

/// The bill of a dossier.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bill {
    /// Every part, as a tree: each followed by what is within it.
    pub lines: Vec<PartLine>,
    /// The work that costs something.
    pub work: Vec<Work>,
    /// The sums.
    pub totals: Totals,
}

/// Adds up a dossier. `place` tells where a step without `at` is done.
pub fn roll_up(dossier: &Dossier, place: impl Fn(StepId) -> Option<ShopId>) -> Bill {
    let weights = weigh(dossier);
    let lines = lines(dossier, &weights);
    let steps = dossier.steps.ids().filter(|&step| dossier[step].state != StepState::Dropped);
    let work: Vec<Work> = steps.filter_map(|step| work(dossier, step, place(step))).collect();
    let unknown = |step: &StepId| has_unknown_cost(&dossier[*step]) && place(*step).is_none();
    let work_without_cost = dossier.steps.ids().filter(unknown).count();
    let totals = Totals { work_without_cost, ..totals(dossier, &lines, &work, &weights) };
    Bill { lines, work, totals }
}

/// Whether somebody else is called for, at a price that the note does not say.
fn has_unknown_cost(step: &Step<Resolved>) -> bool {
    let calls = !step.calls_for.is_empty() || !step.processes.is_empty();
    step.state != StepState::Dropped && step.cost.is_none() && calls
}

impl Bill {
    /// What the work of these steps costs.
    pub fn cost_of(&self, steps: &BTreeSet<StepId>) -> Estimate {
        self.work.iter().filter(|work| steps.contains(&work.step)).map(|work| work.cost).sum()
    }

    /// Whether any note names a cost, or a rate that makes one.
    pub fn names_a_cost(&self) -> bool {
        !self.work.is_empty() || self.lines.iter().any(|line| line.cost.is_some())
    }
}

fn lines(dossier: &Dossier, weights: &[Weight]) -> Vec<PartLine> {
    let mut around = vec![(0_usize, 1_u32); dossier.parts.len()];
    let mut lines = Vec::with_capacity(dossier.parts.len());
    for (id, _) in dossier.tree() {
        let part = &dossier[id];
        let (depth, assemblies) = part.within.map_or((0, 1), |within| around[within.index()]);
        let quantity = assemblies.saturating_mul(part.quantity);
        around[id.index()] = (depth + 1, quantity);
        let weight = weights[id.index()];
        lines.push(PartLine {
            part: id,
            depth,
            quantity,
            weight,
            mass_kg: weight.of(quantity),
            mass_ends_kg: weight.ends_of(quantity),
            cost: part.cost.as_ref().map(|cost| in_cents(estimate(cost) * f64::from(quantity))),
            lead_days: part.lead.as_ref().map(|lead| estimate(lead) * (1.0 / 86_400.0)),
        });
    }
    lines
}

fn estimate(typed: &record::Estimate) -> Estimate {
    Estimate::new(typed.low, typed.likely, typed.high)
}

/// To the hundredth, so that what is printed adds up to the sum that is printed.
fn in_cents(cost: Estimate) -> Estimate {
    cost.map(|amount| (amount * 100.0).round() / 100.0)
}

/// The cost that a step's note states, or its time at the shop's rate; nothing if neither is known.
fn work(dossier: &Dossier, id: StepId, place: Option<ShopId>) -> Option<Work> {
    let step: &Step<_> = &dossier[id];
    if let Some(cost) = &step.cost {
        return Some(Work { step: id, cost: in_cents(estimate(cost)), basis: Basis::Stated });
    }
    let shop = step.at.or(place)?;
    let rate = dossier[shop].rate.as_ref()?;
    let rate = Estimate::new(rate.low, rate.middle(), rate.high);
    let cost = in_cents(estimate(step.takes.as_ref()?).times(rate));
    Some(Work { step: id, cost, basis: Basis::Rate(shop) })
}

fn totals(dossier: &Dossier, lines: &[PartLine], work: &[Work], weights: &[Weight]) -> Totals {
    let part_costs = |spent: bool| -> Estimate {
        let own = lines.iter().filter(move |line| is_spent(dossier, line.part) == spent);
        own.filter_map(|line| line.cost).sum()
    };
    let work_costs = |spent: bool| -> Estimate {
        let own = work.iter().filter(move |work| (dossier[work.step].state == StepState::Done) == spent);
        own.map(|work| work.cost).sum()
    };
    let parts = part_costs(true) + part_costs(false);
    let labour = work_costs(true) + work_costs(false);
    let machine = machine(dossier, weights);
    Totals {
        parts,
        work: labour,
        together: parts + labour,
        so_far: part_costs(true) + work_costs(true),
        to_come: part_costs(false) + work_costs(false),
        mass_kg: machine.sum_kg,
        mass_ends_kg: machine.sum_ends_kg,
        unweighed: machine.unknown,
        without_cost: lines.iter().filter(|line| is_uncosted(dossier, line)).count(),
        ..Totals::default()
    }
}

/// Whether a part is there: by its note, or since every step that makes it is done.
fn is_spent(dossier: &Dossier, part: PartId) -> bool {
    let makers = dossier.steps.iter().filter(|step| step.makes.contains(&part));
    let mut makers = makers.filter(|step| step.state != StepState::Dropped).peekable();
    dossier[part].supply.is_here()
        || (makers.peek().is_some() && makers.all(|step| step.state == StepState::Done))
}

fn is_uncosted(dossier: &Dossier, line: &PartLine) -> bool {
    dossier[line.part].disposition == Disposition::Buy && line.cost.is_none()
}
