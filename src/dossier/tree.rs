//! The parts as a tree.

use std::collections::{BTreeMap, BTreeSet};

use super::{Noted, PartId, Resolved, Table};
use crate::cycles::{Cycle, Cycles};
use crate::diagnostic::Problem;
use crate::dossier::problems as problem;
use crate::limits::DEEPEST_PART;
use crate::record::Part;

type Parts = Table<PartId, Noted<Part<Resolved>>>;

/// A new part sits within what the part that it replaces sat within, unless its note says otherwise.
pub(super) fn take_over_places(parts: &mut Parts) {
    for part in parts.ids() {
        if parts[part.index()].within.is_none()
            && let Some(place) = place_taken(parts, part)
        {
            parts.rows_mut()[part.index()].keys.within = Some(place);
        }
    }
}

/// What a part would be within by what it replaces; `None` where that lies within the part itself.
fn place_taken(parts: &Parts, part: PartId) -> Option<PartId> {
    let mut seen = BTreeSet::from([part]);
    let mut open = vec![part];
    while let Some(new) = open.pop() {
        let new = &parts[new.index()];
        for &old in new.replaces.iter().filter(|_| new.sits_as_before) {
            if let Some(place) = parts[old.index()].within {
                let around = std::iter::successors(Some(place), |part| parts[part.index()].within);
                return (!around.take(parts.len()).any(|each| each == part)).then_some(place);
            }
            open.extend(seen.insert(old).then_some(old));
        }
    }
    None
}

/// The parts directly within each; a part that is inside itself is taken out of the circle, with a problem.
pub(super) fn children(parts: &mut Parts, problems: &mut Vec<Problem>) -> BTreeMap<PartId, Vec<PartId>> {
    for circle in circles(parts) {
        let heads: Vec<_> = circle.iter().map(|part| &parts[part.index()].head).collect();
        problems.push(problem::part_circle(&heads));
        parts.rows_mut()[circle[0].index()].keys.within = None;
    }
    problems.extend(replacing_circles(parts));
    cut_too_deep(parts, problems);
    let mut children: BTreeMap<PartId, Vec<PartId>> = BTreeMap::new();
    for part in parts.ids() {
        if let Some(parent) = parts[part.index()].within {
            children.entry(parent).or_default().push(part);
        }
    }
    // By id, so that a new part stands behind the old one of the same name.
    for within in children.values_mut() {
        within.sort_by(|one, two| parts[one.index()].head.id.cmp(&parts[two.index()].head.id));
    }
    children
}

/// A part that replaces, by way of others, itself.
fn replacing_circles(parts: &Parts) -> Vec<Problem> {
    let replaced = |part: PartId| {
        let old = parts[part.index()].replaces.iter();
        old.map(move |old| (part.index(), old.index()))
    };
    let edges: Vec<(usize, usize)> = parts.ids().flat_map(replaced).collect();
    let circle = |cycle: &Cycle| {
        let heads: Vec<_> = cycle.iter().map(|&edge| &parts[edges[edge].0].head).collect();
        problem::replacing_circle(&heads)
    };
    Cycles::of(parts.len(), &edges).one_of_each_knot().iter().map(circle).collect()
}

/// Takes parts that lie too deep out of what they are within, with a problem for the first of each chain; there is no
/// circle any more.
fn cut_too_deep(parts: &mut Parts, problems: &mut Vec<Problem>) {
    let mut depths: Vec<Option<usize>> = vec![None; parts.len()];
    for part in parts.ids() {
        let mut chain = vec![part];
        while let Some(&last) = chain.last()
            && depths[last.index()].is_none()
            && let Some(place) = parts[last.index()].within
        {
            chain.push(place);
        }
        let mut depth = 0;
        for each in chain.into_iter().rev() {
            depth = depths[each.index()].unwrap_or(depth);
            if depth >= DEEPEST_PART && depths[each.index()].is_none() {
                problems.push(problem::part_deep(&parts[each.index()].head));
                parts.rows_mut()[each.index()].keys.within = None;
                depth = 0;
            }
            depths[each.index()] = Some(depth);
            depth += 1;
        }
    }
}

/// Every circle of `within` once, beginning with its first part in path order.
fn circles(parts: &Parts) -> Vec<Vec<PartId>> {
    let within = |part: PartId| Some((part.index(), parts[part.index()].within?.index()));
    let edges: Vec<(usize, usize)> = parts.ids().filter_map(within).collect();
    let parts_of = |cycle: &Cycle| cycle.iter().map(|&edge| PartId::new(edges[edge].0)).collect();
    Cycles::of(parts.len(), &edges).one_of_each_knot().iter().map(parts_of).collect()
}
