//! What waits on itself in a directed graph: the one place where cycles are found.
//!
//! Takes: a number of nodes, and edges between them. Gives: an order of the nodes, the edges that close a cycle, and the
//! cycles. Never: knows what the nodes stand for.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::DfsPostOrder;

/// A cycle as indices of its edges, in walking order.
pub type Cycle = Vec<usize>;

/// A graph over the nodes `0..len` and what depth-first walks from its first node on show of it.
#[derive(Debug)]
pub struct Cycles {
    /// Its edges bear their index among those given.
    graph: DiGraph<(), usize>,
    ends: Vec<(usize, usize)>,
    order: Vec<usize>,
    /// The cycle of each node: those that can be reached from it and lead back to it.
    cycle: Vec<usize>,
}

impl Cycles {
    /// In linear time. An edge with an end at or past `len` is left out.
    pub fn of(len: usize, edges: &[(usize, usize)]) -> Self {
        let mut graph = DiGraph::with_capacity(len, edges.len());
        for _ in 0..len {
            graph.add_node(());
        }
        for (index, &(from, to)) in edges.iter().enumerate().filter(|(_, (from, to))| from.max(to) < &len) {
            graph.add_edge(NodeIndex::new(from), NodeIndex::new(to), index);
        }
        let (order, cycle) = (order(&graph), cycles(&graph));
        Self { graph, ends: edges.to_vec(), order, cycle }
    }

    /// Every node once, after all that its edges lead to, but for the edges that close a cycle.
    pub fn order(&self) -> &[usize] {
        &self.order
    }

    /// For each edge: whether it closes a cycle. The others together have none.
    pub fn closing(&self) -> Vec<bool> {
        let len = self.order.len();
        let mut finished = vec![0; len];
        self.order.iter().enumerate().for_each(|(time, &node)| finished[node] = time);
        // What an edge leads to is finished before the node that it leads from, unless that is still being walked.
        let closes = |&(from, to): &(usize, usize)| from.max(to) < len && finished[from] <= finished[to];
        self.ends.iter().map(closes).collect()
    }

    /// One cycle for each cycle: the shortest through its first node, in the order of these nodes.
    pub fn one_of_each_knot(&self) -> Vec<Cycle> {
        let mut seen = BTreeSet::new();
        let first = (0..self.cycle.len()).filter(|&node| seen.insert(self.cycle[node]));
        first.filter_map(|node| self.through(node)).collect()
    }

    /// Cycles in which every node that is on one stands at least once: the shortest through each that is in none before.
    pub fn covering(&self) -> Vec<Cycle> {
        let mut covered = BTreeSet::new();
        let mut cycles = Vec::new();
        for node in 0..self.cycle.len() {
            if !covered.contains(&node)
                && let Some(cycle) = self.through(node)
            {
                covered.extend(cycle.iter().map(|&edge| self.ends[edge].0));
                cycles.push(cycle);
            }
        }
        cycles
    }

    /// The shortest cycle through a node, beginning with an edge from it.
    fn through(&self, start: usize) -> Option<Cycle> {
        let mut reached_by: BTreeMap<usize, usize> = BTreeMap::new();
        let mut queue = VecDeque::from([start]);
        while let Some(node) = queue.pop_front() {
            for edge in self.edges_from(node) {
                let next = self.ends[edge].1;
                if next == start {
                    return Some(self.back(edge, &reached_by));
                }
                if self.cycle[next] == self.cycle[start] && !reached_by.contains_key(&next) {
                    reached_by.insert(next, edge);
                    queue.push_back(next);
                }
            }
        }
        None
    }

    fn back(&self, last: usize, reached_by: &BTreeMap<usize, usize>) -> Cycle {
        let before = |edge: &usize| reached_by.get(&self.ends[*edge].0).copied();
        let mut cycle: Cycle = std::iter::successors(Some(last), before).collect();
        cycle.reverse();
        cycle
    }

    /// In the order given; the graph has the last one first.
    fn edges_from(&self, node: usize) -> impl Iterator<Item = usize> {
        let mut edges: Vec<usize> =
            self.graph.edges(NodeIndex::new(node)).map(|edge| *edge.weight()).collect();
        edges.reverse();
        edges.into_iter()
    }
}

/// The nodes as depth-first walks leave them.
fn order(graph: &DiGraph<(), usize>) -> Vec<usize> {
    let mut walk = DfsPostOrder::empty(graph);
    let mut order = Vec::with_capacity(graph.node_count());
    for node in graph.node_indices() {
        walk.move_to(node);
        order.extend(std::iter::from_fn(|| walk.next(graph)).map(NodeIndex::index));
    }
    order
}

fn cycles(graph: &DiGraph<(), usize>) -> Vec<usize> {
    let mut cycle = vec![0; graph.node_count()];
    for (number, nodes) in kosaraju_scc(graph).into_iter().enumerate() {
        nodes.into_iter().for_each(|node| cycle[node.index()] = number);
    }
    cycle
}

#[cfg(test)]
mod tests {
    use super::Cycles;

    #[test]
    fn the_edge_that_leads_back_closes_the_cycle() {
        let edges = [(0, 2), (2, 1), (1, 0), (0, 1), (3, 3), (3, 0), (0, 9)];
        let found = Cycles::of(4, &edges);
        assert_eq!(found.closing(), [false, false, true, false, true, false, false]);
        assert_eq!(found.order(), [1, 2, 0, 3]);
        assert_eq!(found.one_of_each_knot(), [vec![3, 2], vec![4]]);
    }

    #[test]
    fn of_cycles_as_short_the_one_given_first_is_told() {
        let found = Cycles::of(3, &[(0, 2), (0, 1), (1, 0), (2, 0)]);
        assert_eq!(found.one_of_each_knot(), [[0, 3]]);
        assert_eq!(found.covering(), [[0, 3], [2, 1]]);
    }

    #[test]
    fn a_long_chain_needs_no_deep_stack() {
        let edges: Vec<(usize, usize)> = (0..200_000).map(|node| (node, (node + 1) % 200_000)).collect();
        let found = Cycles::of(200_000, &edges);
        assert_eq!(found.order().len(), 200_000);
        assert_eq!(found.covering().iter().map(Vec::len).collect::<Vec<_>>(), [200_000]);
    }
}
