//! What the written edges say of two steps: whether one comes before the other.

use std::collections::BTreeMap;

use super::network::Edge;
use super::precedence::Precedence;
use crate::dossier::StepId;

/// Steps whose whole past is looked up; past this many, two steps count as free of each other.
const MOST_LOOKUPS: usize = 500;

/// The written edges between steps, ready to be asked.
pub(super) struct Written {
    precedence: Precedence,
    /// How many edges lie before each node on the longest way to it.
    level: Vec<usize>,
    /// For the nodes that were asked about: which nodes come before them.
    past: BTreeMap<usize, Vec<bool>>,
}

impl Written {
    pub(super) fn new(steps: usize, edges: &[Edge]) -> Self {
        let nodes = edges.iter().map(|edge| edge.before.max(edge.after) + 1).max().unwrap_or(0).max(steps);
        let pairs: Vec<_> = edges.iter().map(|edge| (edge.before, edge.after)).collect();
        let precedence = Precedence::untangle(nodes, &pairs).precedence;
        let mut level = vec![0_usize; nodes];
        for &node in precedence.order() {
            for &next in precedence.after(node) {
                level[next] = level[next].max(level[node] + 1);
            }
        }
        Self { precedence, level, past: BTreeMap::new() }
    }

    /// Whether what is written puts `earlier` before `later`.
    pub(super) fn before(&mut self, earlier: StepId, later: StepId) -> bool {
        let (earlier, later) = (earlier.index(), later.index());
        if self.level[earlier] >= self.level[later] {
            return false;
        }
        if self.past.len() < MOST_LOOKUPS && !self.past.contains_key(&later) {
            let past = self.all_before(later);
            self.past.insert(later, past);
        }
        self.past.get(&later).is_some_and(|past| past[earlier])
    }

    fn all_before(&self, node: usize) -> Vec<bool> {
        let mut seen = vec![false; self.level.len()];
        let mut open = vec![node];
        while let Some(node) = open.pop() {
            for &earlier in self.precedence.before(node) {
                if !std::mem::replace(&mut seen[earlier], true) {
                    open.push(earlier);
                }
            }
        }
        seen
    }
}
