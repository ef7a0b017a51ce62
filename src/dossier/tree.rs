//! The parts as a tree.

use std::collections::{BTreeMap, BTreeSet};

use super::{Noted, PartId, Resolved};
use crate::diagnostic::{Problem, dossier as problem};
use crate::record::Part;

/// The parts directly within each; a part that is inside itself is taken out of the circle, with a problem.
pub(super) fn children(
    parts: &mut [Noted<Part<Resolved>>],
    problems: &mut Vec<Problem>,
) -> BTreeMap<PartId, Vec<PartId>> {
    for circle in circles(parts) {
        let heads: Vec<_> = circle.iter().map(|part| &parts[part.index()].head).collect();
        problems.push(problem::part_circle(&heads));
        parts[circle[0].index()].keys.within = None;
    }
    let mut children: BTreeMap<PartId, Vec<PartId>> = BTreeMap::new();
    for part in PartId::all(parts.len()) {
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

/// Every circle of `within` once, beginning with its first part in path order.
fn circles(parts: &[Noted<Part<Resolved>>]) -> Vec<Vec<PartId>> {
    let mut settled = BTreeSet::new();
    let mut circles = Vec::new();
    for start in PartId::all(parts.len()) {
        let mut way = Vec::new();
        let mut on_way = BTreeSet::new();
        let mut next = Some(start);
        while let Some(part) = next.filter(|part| !settled.contains(part) && on_way.insert(*part)) {
            way.push(part);
            next = parts[part.index()].within;
        }
        if let Some(at) = next.and_then(|part| way.iter().position(|each| *each == part)) {
            let mut circle = way[at..].to_vec();
            let first =
                circle.iter().enumerate().min_by_key(|(_, part)| **part).map_or(0, |(index, _)| index);
            circle.rotate_left(first);
            circles.push(circle);
        }
        settled.extend(way);
    }
    circles
}
