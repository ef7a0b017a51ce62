//! What everything weighs: the pieces of an assembly added up, or the assembly as it was weighed.

use std::collections::BTreeMap;

use crate::calc::literal::Literal;
use crate::dossier::{Dossier, PartId};
use crate::record::Disposition;

/// The mass of one piece of a part.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Weight {
    /// What counts, kg: as its note gives it; else the sum of what is within it; `None` if neither is known.
    pub each_kg: Option<f64>,
    /// The ends of it, kg: as they were typed, else ends added to ends.
    pub each_ends_kg: Option<(f64, f64)>,
    /// The sum of what is within it, kg, as far as that is known; what is scrapped or replaced is left out.
    pub sum_kg: Option<f64>,
    /// The ends of the sum, kg: ends added to ends.
    pub sum_ends_kg: Option<(f64, f64)>,
    /// As it will stand, kg: with what is new in it and without what is scrapped or replaced; `None` if it is so itself, or
    /// if it is not known.
    pub stands_kg: Option<f64>,
    /// The ends of that, kg.
    pub stands_ends_kg: Option<(f64, f64)>,
    /// Whether its note gives it, weighed or not; what is within it does not count then.
    pub given: bool,
    /// How many parts within it are of unknown mass, so that `sum_kg` is too low.
    pub unknown: usize,
    /// How many new parts of unknown mass are not in `stands_kg`.
    pub stands_without: usize,
    /// How many parts side by side within it the sum counts.
    pub counted: usize,
}

impl Weight {
    /// The same for a number of pieces, kg.
    pub fn of(&self, pieces: u32) -> Option<f64> {
        self.each_kg.map(|each| each * f64::from(pieces))
    }

    /// The ends of that, kg.
    pub fn ends_of(&self, pieces: u32) -> Option<(f64, f64)> {
        self.each_ends_kg.map(|(low, high)| (low * f64::from(pieces), high * f64::from(pieces)))
    }
}

/// The weight of every part, in the dossier's order, in linear time.
pub fn weigh(dossier: &Dossier) -> Vec<Weight> {
    let replaced = replaced(dossier);
    let standing = as_they_are(dossier, |part| stays(dossier, &replaced, part));
    let mut weights = vec![Weight::default(); dossier.parts.len()];
    for (part, _) in dossier.tree().into_iter().rev() {
        let mut weight = added(dossier, dossier.children(part), &replaced, &weights);
        let given = dossier[part].mass.as_ref().map(Literal::middle);
        weight.given = given.is_some();
        weight.each_kg = given.or(weight.sum_kg);
        weight.each_ends_kg = dossier[part].mass.as_ref().map(ends).or(weight.sum_ends_kg);
        let stands = standing[part.index()];
        // A child that does not stay is in no sum.
        let its_own = stays(dossier, &replaced, part).then_some(stands.ends_kg).flatten();
        weight.stands_ends_kg = its_own;
        weight.stands_kg =
            weight.each_kg.zip(its_own).map(|(each, _)| each + moved(weight.each_ends_kg, its_own));
        weight.stands_without = stands.unknown;
        weights[part.index()] = weight;
    }
    weights
}

fn ends(mass: &Literal) -> (f64, f64) {
    (mass.low, mass.high)
}

/// How far the middle between two ends has moved.
fn moved(from: Option<(f64, f64)>, to: Option<(f64, f64)>) -> f64 {
    from.zip(to).map_or(0.0, |(from, to)| to.0.midpoint(to.1) - from.0.midpoint(from.1))
}

/// What one piece of every part weighs with what is in it at some time, ends added to ends: as its note gives it, which is
/// as found, less what was in it then and is out, and with what is new in it; else all that is in it. In linear time.
fn as_they_are(dossier: &Dossier, is_in: impl Fn(PartId) -> bool) -> Vec<Lifted> {
    let mut all = vec![Contents::default(); dossier.parts.len()];
    for (part, _) in dossier.tree().into_iter().rev() {
        let mut contents = Contents::default();
        for &child in dossier.children(part) {
            contents.take_in(dossier, child, is_in(child), &all[child.index()]);
        }
        all[part.index()] = contents.of(dossier, part);
    }
    all.into_iter().map(|contents| contents.now).collect()
}

/// As `as_they_are`, of one part: only what is within it is looked at.
pub fn as_it_is(dossier: &Dossier, part: PartId, is_in: impl Fn(PartId) -> bool) -> Lifted {
    let mut within = vec![part];
    let mut at = 0;
    while let Some(&next) = within.get(at) {
        within.extend(dossier.children(next));
        at += 1;
    }
    let mut all: BTreeMap<PartId, Contents> = BTreeMap::new();
    for part in within.into_iter().rev() {
        let mut contents = Contents::default();
        for &child in dossier.children(part) {
            contents.take_in(dossier, child, is_in(child), &all[&child]);
        }
        all.insert(part, contents.of(dossier, part));
    }
    all[&part].now
}

/// What a part held as found, and what has changed.
#[derive(Clone, Copy, Debug, Default)]
struct Contents {
    /// As found, all of it.
    found: Lifted,
    /// As it is at that time.
    now: Lifted,
    /// Of what was found, what is out.
    out: Lifted,
    /// What is in and was not found.
    new: Lifted,
}

impl Contents {
    fn take_in(&mut self, dossier: &Dossier, child: PartId, is_in: bool, its: &Self) {
        let pieces = dossier[child].quantity;
        let is_new = matches!(dossier[child].disposition, Disposition::Buy | Disposition::Make);
        let add = |sum: &mut Lifted, more: Lifted| *sum = sum.and(more.times(pieces));
        if is_in {
            add(&mut self.now, its.now);
        }
        match (is_new, is_in) {
            (true, true) => add(&mut self.new, its.now),
            (true, false) => {}
            (false, true) => {
                add(&mut self.found, its.found);
                add(&mut self.out, its.out);
                add(&mut self.new, its.new);
            }
            (false, false) => {
                add(&mut self.found, its.found);
                add(&mut self.out, its.found);
            }
        }
    }

    /// With the mass of the part's own note, which wins over the sum of what is within it.
    fn of(mut self, dossier: &Dossier, part: PartId) -> Self {
        match &dossier[part].mass {
            Some(mass) => {
                let given = Lifted { ends_kg: Some(ends(mass)), ..Lifted::default() };
                self.now = given.less(self.out, self.now.low() - self.new.high()).and(self.new);
                self.found = given;
            }
            None if dossier.children(part).is_empty() => {
                let unknown = Lifted { unknown: 1, ..Lifted::default() };
                (self.now, self.found) = (unknown, unknown);
            }
            None => {}
        }
        self
    }
}

/// What has to be lifted with one piece of a part.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Lifted {
    /// Least and most, kg, as far as it is known.
    pub ends_kg: Option<(f64, f64)>,
    /// How many parts within it are of unknown mass.
    pub unknown: usize,
    /// How many parts of unknown mass are out of what was weighed whole: the lower end is only what is known to be left.
    pub unknown_out: usize,
}

/// The mass of one piece of a part for whoever lifts it: as its note says; else of all that is within it but for what is
/// off, ends added to ends. Of an old part and the new one in its place the heavier counts: either may be in it.
pub fn lifted(dossier: &Dossier, part: PartId, is_off: &impl Fn(PartId) -> bool) -> Lifted {
    if let Some(mass) = &dossier[part].mass {
        return Lifted { ends_kg: Some(ends(mass)), ..Lifted::default() };
    }
    let children = dossier.children(part);
    if children.is_empty() {
        return Lifted { unknown: 1, ..Lifted::default() };
    }
    let mut sum = Lifted::default();
    let of = |child: PartId| lifted(dossier, child, is_off).times(dossier[child].quantity);
    let is_in = |part: &PartId| children.contains(part) && !is_off(*part);
    for &child in children.iter().filter(|child| is_in(child)) {
        if children.iter().any(|new| is_in(new) && dossier[*new].replaces.contains(&child)) {
            continue;
        }
        let old = dossier[child].replaces.iter().copied().filter(is_in).map(of);
        let old = old.fold(Lifted::default(), Lifted::and);
        sum = sum.and(of(child).or_heavier(old));
    }
    sum
}

impl Lifted {
    pub(crate) fn times(self, pieces: u32) -> Self {
        let pieces = f64::from(pieces);
        Self { ends_kg: self.ends_kg.map(|(low, high)| (low * pieces, high * pieces)), ..self }
    }

    pub(crate) fn and(self, other: Self) -> Self {
        Self {
            ends_kg: added_ends(self.ends_kg, other.ends_kg),
            unknown: self.unknown + other.unknown,
            unknown_out: self.unknown_out + other.unknown_out,
        }
    }

    /// Without what is out of it; if that was never weighed, at least what is known to be left in it.
    fn less(self, out: Self, left: f64) -> Self {
        let without = |(low, high): (f64, f64)| {
            let low = if out.unknown > 0 { left.min(low) } else { low - out.high() };
            let low = low.max(0.0);
            (low, (high - out.low()).max(low))
        };
        Self { ends_kg: self.ends_kg.map(without), unknown_out: out.unknown, ..self }
    }

    fn low(&self) -> f64 {
        self.ends_kg.map_or(0.0, |(low, _)| low)
    }

    fn high(&self) -> f64 {
        self.ends_kg.map_or(0.0, |(_, high)| high)
    }

    fn or_heavier(self, other: Self) -> Self {
        if other.high() > self.high() { other } else { self }
    }
}

/// Ends added to ends; what is not known is left out.
pub(crate) fn added_ends(one: Option<(f64, f64)>, other: Option<(f64, f64)>) -> Option<(f64, f64)> {
    match (one, other) {
        (Some((low, high)), Some((other_low, other_high))) => Some((low + other_low, high + other_high)),
        (one, other) => one.or(other),
    }
}

/// The whole machine as it will stand: all parts at the top of the tree together.
pub fn machine(dossier: &Dossier, weights: &[Weight]) -> Weight {
    let tops: Vec<PartId> = dossier.tops().collect();
    added(dossier, &tops, &replaced(dossier), weights)
}

/// Parts side by side, without those that are scrapped or replaced.
fn added(dossier: &Dossier, parts: &[PartId], replaced: &[bool], weights: &[Weight]) -> Weight {
    parts
        .iter()
        .filter(|part| stays(dossier, replaced, **part))
        .fold(Weight::default(), |sum, &part| joined(sum, weights[part.index()], dossier[part].quantity))
}

/// Whether a part is in the machine as it will stand.
fn stays(dossier: &Dossier, replaced: &[bool], part: PartId) -> bool {
    !replaced[part.index()] && dossier[part].disposition != Disposition::Scrap
}

fn joined(sum: Weight, child: Weight, pieces: u32) -> Weight {
    let count = f64::from(pieces);
    let more = child.stands_kg.map(|each| each * count);
    let more_ends = child.stands_ends_kg.map(|(low, high)| (low * count, high * count));
    // An assembly with a mass of its own hides what is unknown within it.
    let unknown = match child.each_kg {
        None => 1,
        Some(_) if child.given => child.stands_without,
        Some(_) => child.unknown,
    };
    Weight {
        sum_ends_kg: added_ends(sum.sum_ends_kg, more_ends),
        sum_kg: match (sum.sum_kg, more) {
            (None, more) => more,
            (Some(sum), more) => Some(sum + more.unwrap_or(0.0)),
        },
        unknown: sum.unknown + unknown,
        counted: sum.counted + usize::from(child.each_kg.is_some()),
        ..Weight::default()
    }
}

/// By part: whether another takes its place.
fn replaced(dossier: &Dossier) -> Vec<bool> {
    let mut replaced = vec![false; dossier.parts.len()];
    for part in &dossier.parts {
        for old in &part.replaces {
            replaced[old.index()] = true;
        }
    }
    replaced
}
