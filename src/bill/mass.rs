//! What everything weighs: the pieces of an assembly added up, or the assembly as it was weighed.

use crate::calc::literal::Literal;
use crate::dossier::{Dossier, PartId};
use crate::record::Disposition;

/// The mass of one piece of a part.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Weight {
    /// What counts, kg: as weighed; else the sum of what is within it; `None` if neither is known.
    pub each_kg: Option<f64>,
    /// The sum of what is within it, kg, as far as that is known; what is scrapped or replaced is left out.
    pub sum_kg: Option<f64>,
    /// Whether it was weighed whole.
    pub weighed: bool,
    /// How many parts within it are of unknown mass, so that `sum_kg` is too low.
    pub unknown: usize,
}

impl Weight {
    /// The same for a number of pieces, kg.
    pub fn of(&self, pieces: u32) -> Option<f64> {
        self.each_kg.map(|each| each * f64::from(pieces))
    }
}

/// The weight of every part, in the dossier's order, in linear time.
pub fn weigh(dossier: &Dossier) -> Vec<Weight> {
    let replaced = replaced(dossier);
    let mut weights = vec![Weight::default(); dossier.parts.len()];
    for part in inner_first(dossier) {
        let mut weight = added(dossier, dossier.children(part), &replaced, &weights);
        let weighed = dossier[part].mass.as_ref().map(Literal::middle);
        weight.weighed = weighed.is_some();
        weight.each_kg = weighed.or(weight.sum_kg);
        weights[part.index()] = weight;
    }
    weights
}

/// The whole machine as it will stand: all parts at the top of the tree together.
pub fn machine(dossier: &Dossier, weights: &[Weight]) -> Weight {
    let tops: Vec<PartId> =
        PartId::all(dossier.parts.len()).filter(|&part| dossier[part].within.is_none()).collect();
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
    // An assembly that was weighed hides what is unknown within it.
    let unknown = match child.each_kg {
        None => 1,
        Some(_) if child.weighed => 0,
        Some(_) => child.unknown,
    };
    Weight {
        each_kg: None,
        weighed: false,
        sum_kg: match (sum.sum_kg, more) {
            (None, more) => more,
            (Some(sum), more) => Some(sum + more.unwrap_or(0.0)),
        },
        unknown: sum.unknown + unknown,
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

/// The parts, each before the assembly it is in.
fn inner_first(dossier: &Dossier) -> Vec<PartId> {
    let mut order = outer_first(dossier);
    order.reverse();
    order
}

/// The parts as a tree: each after the assembly it is in, and followed by all that is in it.
pub fn outer_first(dossier: &Dossier) -> Vec<PartId> {
    let tops = PartId::all(dossier.parts.len()).filter(|&part| dossier[part].within.is_none());
    let mut open: Vec<PartId> = tops.collect();
    open.reverse();
    let mut order = Vec::with_capacity(dossier.parts.len());
    while let Some(part) = open.pop() {
        order.push(part);
        open.extend(dossier.children(part).iter().rev());
    }
    order
}
