//! What a step has to lift and what has to fit: mass and size of its parts, for its own words and for what shops have.
//!
//! Parts are lifted one after the other, so the heaviest counts, with the upper end of its uncertainty. An assembly weighs what
//! its note says, less what is off it by then and with what is new in it; without a mass of its own what is within it, and of
//! an old part and the new one in its place the heavier. What is worked on has to be lifted where the step itself calls for a
//! lift, or where it is brought to another's shop, there with all that it comes in; at home, where the keeper goes and where
//! the shop comes to, it may stay where it stands.

use std::collections::{BTreeMap, BTreeSet};

use super::capability::{Asked, GRAVITY, LONG, Means, Measure, ROUNDING, same_word};
use super::in_hand::{comes_as, is_new};
use super::past::{Moment, Past};
use crate::bill::mass::{Lifted, as_it_is, lifted};
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::calc::print;
use crate::dossier::{Dossier, PartId, Resolved, ShopId, StepId};
use crate::record::{Envelope, Hands, Step, Want};
use crate::worked::Making;

/// What it takes to make each part whose shape is known.
pub type Makings = BTreeMap<PartId, Making>;

/// What one part asks of the step and of the shop.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// The part that asks the most.
    pub part: PartId,
    /// The word of the step, or the usual one: lift, length, swing.
    pub what: String,
    /// Which of its figures counts.
    pub side: Side,
    /// The upper end, in SI units.
    pub high: f64,
    /// In figures: `1790 lb ± 40 lb`.
    pub shown: String,
    /// What the step says of it.
    pub called: Called,
}

/// Which figure of a part is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Its mass.
    Mass,
    /// Its longest side.
    Longest,
    /// The largest side but one, which a lathe has to swing.
    Across,
    /// The greatest diameter of what is turned, by its shape.
    Swing,
    /// The length of what is turned, by its shape.
    BetweenCentres,
}

/// How a step's own words stand to what its part asks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Called {
    /// It calls for as much.
    Enough,
    /// It calls for less, as the number of the entry in `calls_for` says.
    TooLittle {
        /// The entry.
        want: usize,
    },
    /// It says nothing of it.
    Unsaid,
}

/// What a step may call a lift.
const LIFTING: &[&str] = &["lift", "crane", "hoist", "jack", "winch"];
/// What a lathe swings.
const ACROSS: &[&str] = &["swing"];

/// The most that one person lifts by hand, kg (ISO 11228-1, reference mass of the general working population, from memory).
const BY_HAND: f64 = 25.0;

/// The loads of an open step: the heaviest, the longest and the widest of its parts, and what turning those that it makes
/// asks of a lathe.
pub fn loads(dossier: &Dossier, makings: &Makings, id: StepId, then: Moment) -> Vec<Load> {
    let step = &dossier[id];
    let (moved, all) = (moved(dossier, step), handled(step));
    let lifted = lifted_for(dossier, step, &moved, then);
    let moved_mass = lifted.iter().filter_map(|part| mass(dossier, *part, then));
    let mass =
        moved_mass.chain(made(step, makings).filter_map(|(part, making)| made_mass(dossier, part, making)));
    let mass = heaviest(mass).map(|found| load(step, Side::Mass, "lift", LIFTING, found));
    let called = |words| wanted(step, words).is_some();
    let sized = |side: Side, parts: &BTreeSet<PartId>| {
        heaviest(parts.iter().filter_map(|part| size(dossier, *part, side)))
    };
    let long = if called(LONG) { sized(Side::Longest, &all) } else { fits(dossier, step, &moved) };
    let long = long.map(|found| load(step, Side::Longest, "length", LONG, found));
    let across = Some(Side::Across).filter(|_| called(ACROSS)).and_then(|side| sized(side, &all));
    let across = across.map(|found| load(step, Side::Across, "swing", ACROSS, found));
    [mass, long, across].into_iter().flatten().chain(turned(step, makings)).collect()
}

/// What a step makes, as far as its shape is known.
fn made<'a>(step: &'a Step<Resolved>, makings: &'a Makings) -> impl Iterator<Item = (PartId, &'a Making)> {
    step.makes.iter().filter_map(|part| Some((*part, makings.get(part)?)))
}

/// What a lathe has to take where the step does not say it itself.
fn turned(step: &Step<Resolved>, makings: &Makings) -> Vec<Load> {
    let most = |side: Side, usual: &str, words: &[&str], of: fn(&Making) -> Option<f64>| {
        let found = made(step, makings)
            .filter_map(|(part, making)| of(making).map(|metres| (part, metres, making.says(metres))));
        heaviest(found).map(|found| load(step, side, usual, words, found))
    };
    let swing = most(Side::Swing, "swing", ACROSS, |making| making.needs.swing);
    let long = most(Side::BetweenCentres, "length", LONG, |making| making.needs.between_centres);
    swing.into_iter().chain(long).collect()
}

/// As the note says; else by its shape.
fn made_mass(dossier: &Dossier, part: PartId, making: &Making) -> Option<Found> {
    let typed = dossier[part].mass.as_ref().map(|mass| (part, mass.high, mass.to_string()));
    let by_shape = || {
        let kilograms = making.mass_kg?;
        Some((part, kilograms, format!("about {} by its shape", in_figures(dossier, kilograms, kilograms))))
    };
    typed.or_else(by_shape)
}

type Found = (PartId, f64, String);

fn heaviest(found: impl Iterator<Item = Found>) -> Option<Found> {
    found.max_by(|one, two| one.1.total_cmp(&two.1).then(two.0.cmp(&one.0)))
}

fn load(step: &Step<Resolved>, side: Side, usual: &str, words: &[&str], found: Found) -> Load {
    let (part, high, shown) = found;
    let want = wanted(step, words);
    let called = match want {
        None => Called::Unsaid,
        Some((want, own)) if in_si(&own.amount, side) < high * (1.0 - ROUNDING) => Called::TooLittle { want },
        Some(_) => Called::Enough,
    };
    let what = want.map_or(usual, |(_, own)| &own.what).to_owned();
    Load { part, what, side, high, shown, called }
}

/// The step's own figure by one of these words, and its number.
fn wanted<'a>(step: &'a Step<Resolved>, words: &[&str]) -> Option<(usize, &'a Want)> {
    let is_one = |want: &Want| words.iter().any(|word| same_word(&want.what, word));
    step.calls_for.iter().enumerate().find(|(_, want)| is_one(want))
}

/// The most that the step may need, as a mass where a lift is given as a force.
fn in_si(amount: &Literal, side: Side) -> f64 {
    match (side, amount.dimension()) {
        (Side::Mass, Dimension::FORCE) => amount.high / GRAVITY,
        _ => amount.high,
    }
}

/// Everything that the step takes in hand.
fn handled(step: &Step<Resolved>) -> BTreeSet<PartId> {
    [&step.removes, &step.refits, &step.parts].into_iter().flatten().copied().collect()
}

/// What has to be lifted: what comes off or goes back; what is worked on, where it can't stay where it stands.
fn moved(dossier: &Dossier, step: &Step<Resolved>) -> BTreeSet<PartId> {
    let moved: BTreeSet<PartId> = step.removes.iter().chain(&step.refits).copied().collect();
    let lifts = wanted(step, LIFTING).is_some() && moved.is_empty();
    if lifts || step.at.is_some_and(|shop| is_brought(dossier, step, shop)) { handled(step) } else { moved }
}

/// Whether what is worked on there is brought there: to another's shop that does not come for it.
fn is_brought(dossier: &Dossier, step: &Step<Resolved>, shop: ShopId) -> bool {
    let place = &dossier[shop];
    let is_own = [dossier.home, dossier.site].contains(&Some(shop));
    !step.in_place && !place.comes && place.hands == Hands::Own && !is_own
}

/// The longest of the parts that have to get into a shop.
fn fits(dossier: &Dossier, step: &Step<Resolved>, moved: &BTreeSet<PartId>) -> Option<Found> {
    let stays = step.in_place || step.at.is_some_and(|shop| dossier[shop].comes);
    heaviest(moved.iter().filter(|_| !stays).filter_map(|part| size(dossier, *part, Side::Longest)))
}

/// What hangs on the hook: the parts that are moved, or what they come in where they are brought to another's shop.
fn lifted_for(
    dossier: &Dossier,
    step: &Step<Resolved>,
    moved: &BTreeSet<PartId>,
    then: Moment,
) -> BTreeSet<PartId> {
    let is_off = |part| then.is_off(part);
    let is_brought = step.at.is_some_and(|shop| is_brought(dossier, step, shop));
    moved.iter().map(|part| if is_brought { comes_as(dossier, *part, &is_off) } else { *part }).collect()
}

/// What a part comes in at a step: the assembly that is off the machine, as long as it is in it; else itself.
pub fn comes_in(dossier: &Dossier, id: StepId, part: PartId) -> PartId {
    let past = Past::of(dossier);
    comes_as(dossier, part, &|part| past.at(id).is_off(part))
}

/// Whether it is off the machine when a step begins, by itself or with what it is within.
pub fn is_off(dossier: &Dossier, id: StepId, part: PartId) -> bool {
    let past = Past::of(dossier);
    let then = past.at(id);
    then.is_off(comes_as(dossier, part, &|part| then.is_off(part)))
}

/// The mass of one piece as it is when a step begins, low and high, kg; `None` where it is not known.
pub fn mass_at(dossier: &Dossier, id: StepId, part: PartId) -> Option<(f64, f64)> {
    lifted_then(dossier, part, Past::of(dossier).at(id)).ends_kg
}

fn lifted_then(dossier: &Dossier, part: PartId, then: Moment) -> Lifted {
    let is_whole = dossier[part].mass.is_none() || dossier.children(part).is_empty();
    if is_whole {
        return lifted(dossier, part, &|part| then.is_off(part));
    }
    as_it_is(dossier, part, |part| is_in(dossier, part, then))
}

fn is_in(dossier: &Dossier, part: PartId, then: Moment) -> bool {
    let is_there = !is_new(dossier, part) || then.is_fitted(part);
    is_there && !then.is_off(part) && !then.is_replaced(part)
}

fn mass(dossier: &Dossier, part: PartId, then: Moment) -> Option<Found> {
    let found = lifted_then(dossier, part, then);
    let (low, high) = found.ends_kg?;
    let typed = dossier[part].mass.as_ref().filter(|mass| is_same(mass.low, low) && is_same(mass.high, high));
    let shown = typed.map_or_else(|| in_figures(dossier, low, high), Literal::to_string);
    let unknown = match found.unknown {
        0 => String::new(),
        count => format!(" without {} of unknown mass", print::counted(count, "part")),
    };
    Some((part, high, format!("{shown}{unknown}")))
}

fn is_same(one: f64, two: f64) -> bool {
    libm::fabs(one - two) <= ROUNDING * libm::fabs(one)
}

fn in_figures(dossier: &Dossier, low: f64, high: f64) -> String {
    let unit = dossier.units.usual(Dimension::MASS, high);
    let (low, high) = print::known_ends((unit.from_si(low), unit.from_si(high)), unit);
    high.map_or_else(|| low.value(), |high| format!("{} to {}", low.value(), high.value()))
}

fn size(dossier: &Dossier, part: PartId, side: Side) -> Option<Found> {
    let Envelope { length, width, height } = dossier[part].envelope.as_ref()?;
    let mut sides = [length, width, height];
    sides.sort_by(|one, two| two.high.total_cmp(&one.high));
    let found = if side == Side::Longest { sides[0] } else { sides[1] };
    Some((part, found.high, found.to_string()))
}

impl Load {
    /// What the part weighs or measures, as the end of a sentence: `weighs 2000 lb`.
    pub fn told(&self) -> String {
        match self.side {
            Side::Mass => format!("weighs {}", self.shown),
            Side::Longest => format!("is {} long", self.shown),
            Side::Across | Side::Swing => format!("is {} across", self.shown),
            Side::BetweenCentres => format!("is {} between centres", self.shown),
        }
    }

    /// Whether it is a mass that is not for the hands of one person.
    pub fn needs_a_lift(&self) -> bool {
        self.side == Side::Mass && self.high > BY_HAND
    }

    /// Puts it beside what the step calls for, or in its place where that is too little.
    pub(super) fn add_to(&self, demand: &mut Means) {
        let own = demand.measures.iter_mut().find(|own| same_word(&own.what, &self.what));
        let dimension = if self.side == Side::Mass { Dimension::MASS } else { Dimension::LENGTH };
        let measure = Measure {
            what: self.what.clone(),
            low: self.high,
            high: self.high,
            dimension,
            typed: self.shown.clone(),
            asked: match (&self.called, self.side) {
                (Called::Unsaid, Side::Swing | Side::BetweenCentres) => Asked::ByShape,
                (Called::Unsaid, _) => Asked::ByParts,
                _ => Asked::ByStep,
            },
        };
        match (&self.called, own) {
            (Called::Enough, _) => {}
            (Called::TooLittle { .. }, Some(own)) => *own = measure,
            _ if self.side == Side::Mass && !self.needs_a_lift() => {}
            _ => demand.measures.push(measure),
        }
    }
}
