//! The forecast: a schedule that never uses more hands than there are.
//!
//! A serial schedule-generation scheme fed by several priority rules; each schedule is pushed to its end and back to
//! its start (forward-backward passes) until that gains nothing; then the best is shaken with seeded chance until the
//! stated effort is spent. Sources: Kolisch, European Journal of Operational Research 90 (1996), for the scheme and
//! the rules; Valls, Ballestín and Quintanilla, EJOR 165 (2005), for the forward-backward passes. The search is
//! heuristic: `at_least` tells how far from the best the result can be.

use super::profile::Profile;
use super::rules;
use crate::estimate::random::Random;
use crate::plan::precedence::Precedence;

/// One piece of work for the scheduler, times in whole ticks of the caller's choosing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Task {
    /// Ticks that pass before resources are taken.
    pub before: i64,
    /// Ticks during which `demand` is taken.
    pub work: i64,
    /// Ticks that pass after that; what comes later waits for their end.
    pub after: i64,
    /// How much of which resource.
    pub demand: Vec<(usize, u32)>,
    /// It should be finished by then: of two schedules the one that keeps to this is better, however long it is.
    pub due: Option<i64>,
}

impl Task {
    /// The whole time from start to finish.
    pub fn length(&self) -> i64 {
        self.before + self.work + self.after
    }
}

/// Tasks, their order, and how much there is of each resource, which comes free again after each task.
#[derive(Clone, Debug, Default)]
pub struct Instance {
    /// By node of `precedence`.
    pub tasks: Vec<Task>,
    /// What comes before what.
    pub precedence: Precedence,
    /// How much there is of each resource.
    pub capacity: Vec<u32>,
}

/// When each task starts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Schedule {
    /// Start of each task in ticks; the first possible is 0.
    pub starts: Vec<i64>,
    /// When the last task is finished.
    pub span: i64,
    /// By how much tasks are finished after they are due, all together.
    pub late: i64,
    /// No schedule can be shorter than this: the longest path, or the busiest resource.
    pub at_least: i64,
}

/// Tasks placed in all tries together: what the search may cost, however large the project.
const EFFORT: usize = 150_000;
const TRIES: usize = 10_000;
const SEED: u64 = 1;

/// Finds a short schedule; the same project always gives the same one.
/// A task that asks for more than there is of a resource is given all there is.
pub fn schedule(project: &Instance) -> Schedule {
    let project = &within_capacity(project);
    let mut search = Search::new(project);
    let mut walks = Vec::new();
    for keys in rules::all(project) {
        if search.settled() {
            break;
        }
        walks.push(search.improve(&keys));
    }
    search.shake(walks);
    search.best
}

/// Finds a short schedule of the tasks without a start in `kept` around those that have one; what comes before a kept task
/// is kept too. Kept tasks are placed first, in the order of their starts, so nothing moves them.
pub fn schedule_around(project: &Instance, kept: &[Option<i64>]) -> Schedule {
    const ROUNDS: usize = 200;
    let project = &within_capacity(project);
    let mut search = Search::new(project);
    let around = |key: (&Option<i64>, i64)| key.0.map_or(key.1, |start| start - FIRST);
    let list = |keys: Vec<i64>| -> Vec<usize> {
        let keys: Vec<i64> = kept.iter().zip(keys).map(around).collect();
        rules::list(&project.precedence, &keys)
    };
    for keys in rules::all(project) {
        search.forward(&list(keys));
    }
    let mut random = Random::new(SEED);
    for round in 0..ROUNDS {
        if search.settled() {
            break;
        }
        let reach = search.best.span / REACHES[round % REACHES.len()] + 1;
        let keys = search.best.starts.iter().map(|start| start + random.within(reach)).collect();
        search.forward(&list(keys));
    }
    search.best
}

/// Before every key of a rule.
const FIRST: i64 = i64::MAX / 2;

fn within_capacity(project: &Instance) -> Instance {
    let mut project = project.clone();
    let capacity = &project.capacity;
    for task in &mut project.tasks {
        task.demand.retain(|&(resource, amount)| amount > 0 && resource < capacity.len());
        for (resource, amount) in &mut task.demand {
            *amount = (*amount).min(capacity[*resource]);
        }
    }
    project
}

/// Where one of the searches stands.
struct Walk {
    starts: Vec<i64>,
    /// By how much it is late, then its span: the less the better.
    cost: (i64, i64),
}

struct Search<'a> {
    project: &'a Instance,
    backward: Instance,
    /// Where each task stands in the order that keeps all edges.
    rank: Vec<usize>,
    best: Schedule,
    /// No schedule is less late than this.
    late_at_least: i64,
    tries: usize,
}

impl<'a> Search<'a> {
    fn new(project: &'a Instance) -> Self {
        let mut rank = vec![0; project.tasks.len()];
        for (place, &node) in project.precedence.order().iter().enumerate() {
            rank[node] = place;
        }
        let best =
            Schedule { starts: Vec::new(), span: i64::MAX, late: i64::MAX, at_least: at_least(project) };
        let late_at_least = late(project, &rules::heads(project));
        Self { project, backward: mirrored(project), rank, best, late_at_least, tries: 0 }
    }

    /// Whether nothing shorter is possible or the effort is spent.
    fn settled(&self) -> bool {
        (self.best.span <= self.best.at_least && self.best.late <= self.late_at_least)
            || (self.tries > 2 && self.tries * self.project.tasks.len() > EFFORT)
            || self.tries >= TRIES
    }

    /// Builds the schedule of a priority list and pushes it back and forth while that makes it shorter.
    fn improve(&mut self, keys: &[i64]) -> Walk {
        let mut walk = self.forward(&rules::list(&self.project.precedence, keys));
        while !self.settled() {
            let pushed = self.push(&walk.starts);
            let gained = pushed.cost < walk.cost;
            walk = pushed;
            if !gained {
                break;
            }
        }
        walk
    }

    /// Everything as late as it can be, then as early as it can be again. Never a longer span than before.
    fn push(&mut self, starts: &[i64]) -> Walk {
        let project = self.project;
        let finish = |node: usize| starts[node] + project.tasks[node].length();
        let mut list: Vec<usize> = (0..starts.len()).collect();
        list.sort_unstable_by_key(|&node| (-finish(node), usize::MAX - self.rank[node]));
        let late = serial(&self.backward, &list);
        let late = |node: usize| -(late[node] + project.tasks[node].length());
        list.sort_unstable_by_key(|&node| (late(node), self.rank[node]));
        self.tries += 1;
        self.forward(&list)
    }

    /// One schedule from a list, kept if it is the best so far.
    fn forward(&mut self, list: &[usize]) -> Walk {
        self.tries += 1;
        let starts = serial(self.project, list);
        let cost = (late(self.project, &starts), span(self.project, &starts));
        if cost < (self.best.late, self.best.span) {
            self.best.starts.clone_from(&starts);
            (self.best.late, self.best.span) = cost;
        }
        Walk { starts, cost }
    }

    /// Shifts the starts of each walk in turn at random and goes on from there, if that is not longer.
    fn shake(&mut self, mut walks: Vec<Walk>) {
        let mut random = Random::new(SEED);
        for round in 0.. {
            for walk in &mut walks {
                if self.settled() {
                    return;
                }
                let reach = self.best.span / REACHES[round % REACHES.len()] + 1;
                let keys: Vec<i64> = walk.starts.iter().map(|start| start + random.within(reach)).collect();
                let shaken = self.forward(&rules::list(&self.project.precedence, &keys));
                let pushed = self.push(&shaken.starts);
                if pushed.cost <= walk.cost {
                    *walk = pushed;
                }
            }
        }
    }
}

/// How far a start is shifted, as a part of the whole span.
const REACHES: [i64; 4] = [12, 6, 4, 3];

fn span(project: &Instance, starts: &[i64]) -> i64 {
    starts.iter().zip(&project.tasks).map(|(start, task)| start + task.length()).max().unwrap_or(0)
}

fn late(project: &Instance, starts: &[i64]) -> i64 {
    let of = |(start, task): (&i64, &Task)| task.due.map_or(0, |due| (start + task.length() - due).max(0));
    starts.iter().zip(&project.tasks).map(of).fold(0, i64::saturating_add)
}

fn mirrored(project: &Instance) -> Instance {
    let turn = |task: &Task| Task { before: task.after, after: task.before, ..task.clone() };
    Instance {
        tasks: project.tasks.iter().map(turn).collect(),
        precedence: project.precedence.reversed(),
        capacity: project.capacity.clone(),
    }
}

/// Places the tasks one after the other, each as early as what comes before it and the resources allow.
fn serial(project: &Instance, list: &[usize]) -> Vec<i64> {
    let mut profiles: Vec<Profile> =
        project.capacity.iter().map(|&capacity| Profile::new(capacity)).collect();
    let mut starts = vec![0; project.tasks.len()];
    for &node in list {
        let ready = project.precedence.before(node).iter();
        let ready =
            ready.map(|&earlier| starts[earlier] + project.tasks[earlier].length()).max().unwrap_or(0);
        starts[node] = place(&project.tasks[node], ready, &mut profiles);
    }
    starts
}

fn place(task: &Task, ready: i64, profiles: &mut [Profile]) -> i64 {
    let mut start = ready + task.before;
    let mut agreed = 0;
    while task.work > 0 && agreed < task.demand.len() {
        agreed = 0;
        for &(resource, amount) in &task.demand {
            let possible = profiles[resource].earliest(start, task.work, amount);
            agreed = if possible == start { agreed + 1 } else { 1 };
            start = possible;
        }
    }
    for &(resource, amount) in &task.demand {
        profiles[resource].take(start, task.work, amount);
    }
    start - task.before
}

/// The longer of the longest path and the busiest resource's work spread evenly over all there is of it.
fn at_least(project: &Instance) -> i64 {
    let mut finishes = vec![0; project.tasks.len()];
    let mut busy: Vec<i64> = vec![0; project.capacity.len()];
    for &node in project.precedence.order() {
        let task = &project.tasks[node];
        let ready = project.precedence.before(node).iter().map(|&earlier| finishes[earlier]).max();
        finishes[node] = ready.unwrap_or(0) + task.length();
        for &(resource, amount) in &task.demand {
            busy[resource] += task.work * i64::from(amount);
        }
    }
    let busiest =
        busy.iter().zip(&project.capacity).map(|(&busy, &capacity)| share(busy, i64::from(capacity)));
    finishes.into_iter().chain(busiest).max().unwrap_or(0)
}

fn share(busy: i64, capacity: i64) -> i64 {
    if capacity == 0 { 0 } else { (busy + capacity - 1) / capacity }
}
