//! Priority rules: which of the tasks that could be placed next comes first.
//!
//! Source: Kolisch, European Journal of Operational Research 90 (1996), table of priority rules.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::limited::Instance;
use crate::plan::precedence::Precedence;

/// The keys of each rule by task; the smaller key goes first.
pub(super) fn all(project: &Instance) -> Vec<Vec<i64>> {
    let tails = tails(project);
    let heads = heads(project);
    let length = |node: usize| project.tasks[node].length();
    let nodes = 0..project.tasks.len();
    let weight = |node: usize| project.precedence.after(node).iter().map(|&next| length(next)).sum::<i64>();
    let due = project.tasks.iter().any(|task| task.due.is_some()).then(|| latest_starts(project));
    let rules = vec![
        // Latest finish time first (LFT), latest start time first (LST): tails are counted back from the end.
        nodes.clone().map(|node| length(node) - tails[node]).collect(),
        nodes.clone().map(|node| -tails[node]).collect(),
        // Least slack first (MSLK).
        nodes.clone().map(|node| -tails[node] - heads[node]).collect(),
        // Greatest rank positional weight first (GRPW).
        nodes.clone().map(|node| -length(node) - weight(node)).collect(),
        // Most that directly follows first (MIS).
        nodes.clone().map(|node| -as_key(project.precedence.after(node).len())).collect(),
        // As written.
        nodes.map(as_key).collect(),
    ];
    // The latest start by which everything due after it can still be kept.
    due.into_iter().chain(rules).collect()
}

/// The latest start of each task by which it, and all that comes after it, can be finished when it is due.
fn latest_starts(project: &Instance) -> Vec<i64> {
    let mut starts = vec![i64::MAX / 4; project.tasks.len()];
    for &node in project.precedence.order().iter().rev() {
        let after = project.precedence.after(node).iter().map(|&next| starts[next]);
        let finish = after.chain(project.tasks[node].due).min().unwrap_or(i64::MAX / 4);
        starts[node] = finish - project.tasks[node].length();
    }
    starts
}

fn as_key(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

/// From the start of each task to the end of everything, along the longest path.
fn tails(project: &Instance) -> Vec<i64> {
    let mut tails = vec![0; project.tasks.len()];
    for &node in project.precedence.order().iter().rev() {
        let after = project.precedence.after(node).iter().map(|&next| tails[next]).max().unwrap_or(0);
        tails[node] = after + project.tasks[node].length();
    }
    tails
}

/// From the start of everything to the start of each task, along the longest path.
pub(super) fn heads(project: &Instance) -> Vec<i64> {
    let mut heads = vec![0; project.tasks.len()];
    for &node in project.precedence.order() {
        let before = project.precedence.before(node).iter();
        heads[node] = before.map(|&from| heads[from] + project.tasks[from].length()).max().unwrap_or(0);
    }
    heads
}

/// All tasks in an order that keeps every edge, the smaller key first wherever there is a choice.
pub(super) fn list(precedence: &Precedence, keys: &[i64]) -> Vec<usize> {
    let mut waiting = precedence.indegrees();
    let mut free: BinaryHeap<_> =
        (0..keys.len()).filter(|&node| waiting[node] == 0).map(|node| Reverse((keys[node], node))).collect();
    let mut list = Vec::with_capacity(keys.len());
    while let Some(Reverse((_, node))) = free.pop() {
        list.push(node);
        for &next in precedence.after(node) {
            waiting[next] -= 1;
            if waiting[next] == 0 {
                free.push(Reverse((keys[next], next)));
            }
        }
    }
    list
}
