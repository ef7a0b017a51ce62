//! Finding nodes that wait on each other.

use std::collections::VecDeque;

use super::precedence::Links;

/// Edges (by index) that lead from a node back to itself, in walking order.
pub type Circle = Vec<usize>;

pub(super) struct Knots {
    /// For each edge: whether it closes a circle; the other edges together have none.
    pub(super) closing: Vec<bool>,
    /// The shortest circle through the first node of each knot, knots by their first node.
    pub(super) circles: Vec<Circle>,
}

/// Finds all knots (strongly connected groups) of a graph in linear time: Tarjan's algorithm with a stack of its own.
pub(super) fn find(len: usize, edges: &[(usize, usize)]) -> Knots {
    let inside = |&(_, (from, to)): &(usize, (usize, usize))| from < len && to < len;
    let by_node = Links::new(
        len,
        edges.iter().copied().enumerate().filter(inside).map(|(index, (from, _))| (from, index)),
    );
    let mut walk = Walk::new(len, edges, &by_node);
    for node in 0..len {
        if walk.seen[node] == UNSEEN {
            walk.from(node);
        }
    }
    let mut first_of_group = vec![UNSEEN; len];
    let mut circles = Vec::new();
    let mut reached = vec![UNSEEN; len];
    for node in 0..len {
        let group = walk.group[node];
        if first_of_group[group] == UNSEEN {
            first_of_group[group] = node;
            circles.extend(shortest(node, edges, &by_node, &walk.group, &mut reached));
        }
    }
    Knots { closing: walk.closing, circles }
}

const UNSEEN: usize = usize::MAX;

/// One depth-first walk over the whole graph.
struct Walk<'a> {
    edges: &'a [(usize, usize)],
    by_node: &'a Links,
    /// When each node was first seen.
    seen: Vec<usize>,
    /// The earliest node of the walk that can be reached from each.
    lowest: Vec<usize>,
    on_path: Vec<bool>,
    /// The group each node belongs to; [`UNSEEN`] while the group is still open.
    group: Vec<usize>,
    open: Vec<usize>,
    closing: Vec<bool>,
    clock: usize,
    groups: usize,
}

impl<'a> Walk<'a> {
    fn new(len: usize, edges: &'a [(usize, usize)], by_node: &'a Links) -> Self {
        Self {
            edges,
            by_node,
            seen: vec![UNSEEN; len],
            lowest: vec![UNSEEN; len],
            on_path: vec![false; len],
            group: vec![UNSEEN; len],
            open: Vec::new(),
            closing: vec![false; edges.len()],
            clock: 0,
            groups: 0,
        }
    }

    fn from(&mut self, root: usize) {
        let mut path = vec![(root, 0)];
        self.enter(root);
        while let Some((node, taken)) = path.pop() {
            let Some(&edge) = self.by_node.of(node).get(taken) else {
                self.leave(node);
                if let Some(&(parent, _)) = path.last() {
                    self.lowest[parent] = self.lowest[parent].min(self.lowest[node]);
                }
                continue;
            };
            path.push((node, taken + 1));
            let next = self.edges[edge].1;
            if self.seen[next] == UNSEEN {
                self.enter(next);
                path.push((next, 0));
            } else if self.group[next] == UNSEEN {
                self.lowest[node] = self.lowest[node].min(self.seen[next]);
                self.closing[edge] = self.on_path[next];
            }
        }
    }

    fn enter(&mut self, node: usize) {
        self.seen[node] = self.clock;
        self.lowest[node] = self.clock;
        self.on_path[node] = true;
        self.open.push(node);
        self.clock += 1;
    }

    fn leave(&mut self, node: usize) {
        self.on_path[node] = false;
        if self.lowest[node] != self.seen[node] {
            return;
        }
        while let Some(member) = self.open.pop() {
            self.group[member] = self.groups;
            if member == node {
                break;
            }
        }
        self.groups += 1;
    }
}

/// The shortest circle through `start` that stays in its group, if there is one.
fn shortest(
    start: usize,
    edges: &[(usize, usize)],
    by_node: &Links,
    group: &[usize],
    reached_by: &mut [usize],
) -> Option<Circle> {
    let mut queue = VecDeque::from([start]);
    while let Some(node) = queue.pop_front() {
        for &edge in by_node.of(node) {
            let next = edges[edge].1;
            if next == start {
                return Some(walk_back(start, edge, edges, reached_by));
            }
            if group[next] == group[start] && reached_by[next] == UNSEEN {
                reached_by[next] = edge;
                queue.push_back(next);
            }
        }
    }
    None
}

fn walk_back(start: usize, last: usize, edges: &[(usize, usize)], reached_by: &[usize]) -> Circle {
    let mut circle = vec![last];
    let mut node = edges[last].0;
    while node != start {
        let edge = reached_by[node];
        circle.push(edge);
        node = edges[edge].0;
    }
    circle.reverse();
    circle
}
