//! What comes before what, as bare indices: the frame that every algorithm of this room walks.

use std::collections::VecDeque;

use crate::cycles::{Cycle, Cycles};

/// For each node a run of other nodes, stored end to end.
#[derive(Clone, Debug, Default)]
pub(super) struct Links {
    first: Vec<usize>,
    targets: Vec<usize>,
}

impl Links {
    /// Groups `pairs` (from, to) by their first member; both below `len`.
    pub(super) fn new(len: usize, pairs: impl Iterator<Item = (usize, usize)> + Clone) -> Self {
        let mut first = vec![0; len + 1];
        for (from, _) in pairs.clone() {
            first[from + 1] += 1;
        }
        for node in 0..len {
            first[node + 1] += first[node];
        }
        let mut free = first.clone();
        let mut targets = vec![0; first[len]];
        for (from, to) in pairs {
            targets[free[from]] = to;
            free[from] += 1;
        }
        Self { first, targets }
    }

    pub(super) fn of(&self, node: usize) -> &[usize] {
        &self.targets[self.first[node]..self.first[node + 1]]
    }

    pub(super) fn len(&self) -> usize {
        self.first.len().saturating_sub(1)
    }
}

/// A graph without circles over the nodes `0..len`, with an order that keeps every edge.
#[derive(Clone, Debug, Default)]
pub struct Precedence {
    after: Links,
    before: Links,
    order: Vec<usize>,
}

/// A [`Precedence`] and what had to be left out of the edges to make it one.
#[derive(Clone, Debug, Default)]
pub struct Untangled {
    /// The edges without those set aside.
    pub precedence: Precedence,
    /// One circle for each cycle of nodes that wait on each other.
    pub circles: Vec<Cycle>,
    /// The edges (by index) that were set aside because they close a circle.
    pub set_aside: Vec<usize>,
}

impl Precedence {
    /// Makes a graph of the `edges` (before, after) over `len` nodes, in linear time.
    /// Edges that name a node at or past `len` are ignored.
    pub fn untangle(len: usize, edges: &[(usize, usize)]) -> Untangled {
        let inside = |&(before, after): &(usize, usize)| before < len && after < len;
        let cycles = Cycles::of(len, edges);
        let closing = cycles.closing();
        let kept = edges
            .iter()
            .enumerate()
            .filter(|(index, edge)| inside(edge) && !closing[*index])
            .map(|(_, edge)| *edge);
        let set_aside = (0..edges.len()).filter(|&index| closing[index]).collect();
        let circles = cycles.one_of_each_knot();
        Untangled { precedence: Self::of_acyclic(len, kept), circles, set_aside }
    }

    fn of_acyclic(len: usize, edges: impl Iterator<Item = (usize, usize)> + Clone) -> Self {
        let after = Links::new(len, edges.clone());
        let before = Links::new(len, edges.map(|(before, after)| (after, before)));
        let order = order(&after, &before);
        Self { after, before, order }
    }

    /// How many nodes there are.
    pub fn len(&self) -> usize {
        self.after.len()
    }

    /// Whether there is no node at all.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The nodes that come directly after `node`; one edge each, so a node may stand twice.
    pub fn after(&self, node: usize) -> &[usize] {
        self.after.of(node)
    }

    /// The nodes that come directly before `node`.
    pub fn before(&self, node: usize) -> &[usize] {
        self.before.of(node)
    }

    /// All nodes, each after everything that comes before it; ties by index.
    pub fn order(&self) -> &[usize] {
        &self.order
    }

    /// How many edges lead into each node.
    pub fn indegrees(&self) -> Vec<usize> {
        (0..self.len()).map(|node| self.before(node).len()).collect()
    }

    /// The same graph with every edge turned round.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Self {
            after: self.before.clone(),
            before: self.after.clone(),
            order: self.order.iter().rev().copied().collect(),
        }
    }
}

fn order(after: &Links, before: &Links) -> Vec<usize> {
    let mut waiting: Vec<usize> = (0..after.len()).map(|node| before.of(node).len()).collect();
    let mut free: VecDeque<usize> = (0..after.len()).filter(|&node| waiting[node] == 0).collect();
    let mut order = Vec::with_capacity(after.len());
    while let Some(node) = free.pop_front() {
        order.push(node);
        for &next in after.of(node) {
            waiting[next] -= 1;
            if waiting[next] == 0 {
                free.push_back(next);
            }
        }
    }
    order
}
