//! Who does what after what: a schedule read back as an order of hands.

use super::limited::{Instance, Schedule};

/// The edges (earlier, later) that keep the order in which the schedule hands each resource on: the earlier's work is
/// over when the later's begins. With them the project can be timed again for other durations without limits of hands
/// and still never uses more than there are.
pub fn order_of_hands(project: &Instance, schedule: &Schedule) -> Vec<(usize, usize)> {
    let mut by_start: Vec<usize> =
        (0..project.tasks.len()).filter(|&node| project.tasks[node].work > 0).collect();
    by_start.sort_by_key(|&node| (schedule.starts[node] + project.tasks[node].before, node));
    let mut edges = Vec::new();
    for (resource, &capacity) in project.capacity.iter().enumerate() {
        let asked = |node: usize| -> u32 {
            let own = project.tasks[node].demand.iter().filter(|(which, _)| *which == resource);
            own.map(|(_, amount)| *amount).fold(0, u32::saturating_add)
        };
        let most = by_start.iter().map(|&node| asked(node)).fold(0, u32::saturating_add);
        let mut lanes = vec![Lane { free_from: 0, last: None }; capacity.min(most) as usize];
        for &node in &by_start {
            let task = &project.tasks[node];
            let amount = asked(node);
            let start = schedule.starts[node] + task.before;
            hand_over(&mut lanes, amount, start, start + task.work, node, &mut edges);
        }
    }
    edges.sort_unstable();
    edges.dedup();
    edges
}

/// One unit of a resource.
#[derive(Clone)]
struct Lane {
    free_from: i64,
    last: Option<usize>,
}

fn hand_over(
    lanes: &mut [Lane],
    amount: u32,
    start: i64,
    end: i64,
    node: usize,
    edges: &mut Vec<(usize, usize)>,
) {
    let free = lanes.iter_mut().filter(|lane| lane.free_from <= start).take(amount as usize);
    for lane in free {
        edges.extend(lane.last.map(|last| (last, node)));
        *lane = Lane { free_from: end, last: Some(node) };
    }
}
