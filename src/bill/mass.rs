//! What everything weighs: the pieces of an assembly added up, or the assembly as it was weighed.

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
    /// Whether its note gives it, weighed or not; what is within it does not count then.
    pub given: bool,
    /// How many parts within it are of unknown mass, so that `sum_kg` is too low.
    pub unknown: usize,
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
    let mut weights = vec![Weight::default(); dossier.parts.len()];
    for (part, _) in dossier.tree().into_iter().rev() {
        let mut weight = added(dossier, dossier.children(part), &replaced, &weights);
        let given = dossier[part].mass.as_ref().map(Literal::middle);
        weight.given = given.is_some();
        weight.each_kg = given.or(weight.sum_kg);
        weight.each_ends_kg = dossier[part].mass.as_ref().map(ends).or(weight.sum_ends_kg);
        weights[part.index()] = weight;
    }
    weights
}

fn ends(mass: &Literal) -> (f64, f64) {
    (mass.low, mass.high)
}

/// What has to be lifted with one piece of a part.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Lifted {
    /// Least and most, kg, as far as it is known.
    pub ends_kg: Option<(f64, f64)>,
    /// How many parts within it are of unknown mass.
    pub unknown: usize,
}

/// The mass of one piece of a part for whoever lifts it: as its note says; else of all that is within it but for what is
/// off, ends added to ends. Of an old part and the new one in its place the heavier counts: either may be in it.
pub fn lifted(dossier: &Dossier, part: PartId, is_off: &impl Fn(PartId) -> bool) -> Lifted {
    if let Some(mass) = &dossier[part].mass {
        return Lifted { ends_kg: Some(ends(mass)), unknown: 0 };
    }
    let children = dossier.children(part);
    if children.is_empty() {
        return Lifted { ends_kg: None, unknown: 1 };
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
    fn times(self, pieces: u32) -> Self {
        let pieces = f64::from(pieces);
        Self { ends_kg: self.ends_kg.map(|(low, high)| (low * pieces, high * pieces)), ..self }
    }

    fn and(self, other: Self) -> Self {
        Self { ends_kg: added_ends(self.ends_kg, other.ends_kg), unknown: self.unknown + other.unknown }
    }

    fn or_heavier(self, other: Self) -> Self {
        let high = |lifted: &Self| lifted.ends_kg.map_or(0.0, |(_, high)| high);
        if high(&other) > high(&self) { other } else { self }
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
    let stays = |part: &&PartId| !replaced[part.index()] && dossier[**part].disposition != Disposition::Scrap;
    parts
        .iter()
        .filter(stays)
        .fold(Weight::default(), |sum, &part| joined(sum, weights[part.index()], dossier[part].quantity))
}

fn joined(sum: Weight, child: Weight, pieces: u32) -> Weight {
    let more = child.of(pieces);
    // An assembly with a mass of its own hides what is unknown within it.
    let unknown = match child.each_kg {
        None => 1,
        Some(_) if child.given => 0,
        Some(_) => child.unknown,
    };
    Weight {
        each_kg: None,
        each_ends_kg: None,
        sum_ends_kg: added_ends(sum.sum_ends_kg, child.ends_of(pieces)),
        given: false,
        sum_kg: match (sum.sum_kg, more) {
            (None, more) => more,
            (Some(sum), more) => Some(sum + more.unwrap_or(0.0)),
        },
        unknown: sum.unknown + unknown,
        counted: sum.counted + usize::from(child.each_kg.is_some()),
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
