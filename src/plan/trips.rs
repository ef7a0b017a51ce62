//! The order of the work that keeps every edge and changes place as rarely as it can.
//!
//! Once at a place, doing all that can be done there never makes a move more: so only the order of visits is searched,
//! one visit after another, keeping at each depth the sets of finished steps that no other set of that depth contains.
//! Up to [`EXACT_STEPS`] steps nothing else is dropped and the result is proven; beyond, the most promising sets of each
//! depth are kept, and the result says whether anything had to be dropped. Common practice, no source.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::precedence::Precedence;

/// Up to this many steps the order is always proven to have the fewest moves.
pub const EXACT_STEPS: usize = 20;

/// A stay at one place and the steps done during it, in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Visit {
    /// The place.
    pub place: usize,
    /// The steps done there before moving on.
    pub steps: Vec<usize>,
}

/// All visits in order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Itinerary {
    /// Two visits that follow each other are never at one place.
    pub visits: Vec<Visit>,
    /// Whether fewer visits are proven to be impossible; otherwise the order is good, not certainly the best.
    pub proven: bool,
}

/// Orders the steps (nodes of `precedence`, each done at the place `places[step]`) so that place changes least often.
/// A node without a place happens by itself when all before it is done. Of orders with equally few visits, one that
/// begins at `home` is preferred.
pub fn fewest_moves(precedence: &Precedence, places: &[Option<usize>], home: Option<usize>) -> Itinerary {
    let outlook = Outlook::new(precedence, places);
    let search = Search { precedence, places, home, outlook: &outlook };
    let quick = search.run(1, usize::MAX);
    let Some((cost, visits)) = quick.found else { return Itinerary::default() };
    if cost == search.root_bound() || !quick.dropped {
        return Itinerary { visits, proven: true };
    }
    let wide = search.run(width(places.len()), cost);
    let visits = wide.found.map_or(visits, |(_, visits)| visits);
    Itinerary { visits, proven: !wide.dropped }
}

/// How many sets of finished steps are kept at each depth.
fn width(steps: usize) -> usize {
    const WORK: usize = 2_000_000;
    if steps <= EXACT_STEPS { usize::MAX } else { (WORK / (steps * steps)).clamp(1, 2_000) }
}

/// For each step and place: how many visits to the place some chain of steps from here on needs at least.
struct Outlook {
    places: usize,
    visits: Vec<u16>,
}

impl Outlook {
    fn new(precedence: &Precedence, places: &[Option<usize>]) -> Self {
        const LARGEST: usize = 4_000_000;
        let count = places.iter().flatten().max().map_or(0, |&most| most + 1);
        if count.saturating_mul(places.len()) > LARGEST {
            return Self { places: 0, visits: Vec::new() };
        }
        let mut outlook = Self { places: count, visits: vec![0; count * places.len()] };
        for &step in precedence.order().iter().rev() {
            for &next in precedence.after(step) {
                outlook.fold(step, places[step], next, places[next]);
            }
            if let Some(place) = places[step] {
                let own = &mut outlook.visits[step * count + place];
                *own = (*own).max(1);
            }
        }
        outlook
    }

    fn fold(&mut self, step: usize, here: Option<usize>, next: usize, there: Option<usize>) {
        for place in 0..self.places {
            let leaves = u16::from(Some(place) == here && there.is_some() && here != there);
            let needed = self.visits[next * self.places + place].saturating_add(leaves);
            let own = &mut self.visits[step * self.places + place];
            *own = (*own).max(needed);
        }
    }

    /// The fewest further visits when these steps come next; each of them at another place than the present one.
    fn at_least(&self, next: &[usize]) -> usize {
        let most = |place: usize| next.iter().map(|step| self.visits[step * self.places + place]).max();
        (0..self.places).map(|place| usize::from(most(place).unwrap_or(0))).sum()
    }
}

struct Search<'a> {
    precedence: &'a Precedence,
    places: &'a [Option<usize>],
    home: Option<usize>,
    outlook: &'a Outlook,
}

/// What a search found: twice the visits plus one if it starts away from home, and the visits.
struct Outcome {
    found: Option<(usize, Vec<Visit>)>,
    dropped: bool,
}

/// A set of finished steps, and what can be done next.
#[derive(Clone)]
struct State {
    done: Vec<u64>,
    count: usize,
    /// For each step: how many steps before it are not done.
    waiting: Vec<u32>,
    next: Vec<usize>,
    away: usize,
    /// The last visit, in the search's list of visits.
    last: usize,
}

/// A visit and the one before it.
struct Link {
    before: usize,
    visit: Visit,
}

const NONE: usize = usize::MAX;

impl Search<'_> {
    fn start(&self) -> State {
        let waiting: Vec<u32> = self.precedence.indegrees().iter().map(|&count| saturated(count)).collect();
        let next = (0..waiting.len()).filter(|&step| waiting[step] == 0).collect();
        let done = vec![0; waiting.len().div_ceil(64)];
        let mut state = State { done, count: 0, waiting, next, away: 0, last: NONE };
        self.finish_all(&mut state, None);
        state
    }

    /// No order has a lower cost than this.
    fn root_bound(&self) -> usize {
        let start = self.start();
        let at_home = start.next.is_empty() || start.next.iter().any(|&step| self.places[step] == self.home);
        2 * self.outlook.at_least(&start.next) + usize::from(self.home.is_some() && !at_home)
    }

    /// Goes visit by visit, keeping `width` states at each depth, for an order that costs less than `limit`.
    fn run(&self, width: usize, limit: usize) -> Outcome {
        let mut links = Vec::new();
        let mut layer = vec![self.start()];
        let mut dropped = false;
        for depth in 0.. {
            let finished = layer.iter().filter(|state| state.count == self.places.len());
            if let Some(state) = finished.min_by_key(|state| state.away) {
                let found = Some((2 * depth + state.away, trace(&links, state.last)));
                return Outcome { found, dropped };
            }
            let mut states = self.deeper(&layer, 2 * (depth + 1), limit, &mut links);
            if states.is_empty() {
                break;
            }
            self.thin(&mut states, width, &mut dropped);
            layer = states;
        }
        Outcome { found: None, dropped }
    }

    fn deeper(&self, layer: &[State], cost: usize, limit: usize, links: &mut Vec<Link>) -> Vec<State> {
        let mut states = Vec::new();
        for state in layer {
            let mut choices: Vec<usize> = state.next.iter().filter_map(|&step| self.places[step]).collect();
            choices.sort_unstable();
            choices.dedup();
            for place in choices {
                let next = self.visit(state, place, links);
                if cost + next.away + 2 * self.outlook.at_least(&next.next) < limit {
                    states.push(next);
                }
            }
        }
        states
    }

    fn visit(&self, from: &State, place: usize, links: &mut Vec<Link>) -> State {
        let mut state = from.clone();
        let steps = self.finish_all(&mut state, Some(place));
        if from.last == NONE && self.home.is_some() {
            state.away = usize::from(self.home != Some(place));
        }
        state.last = links.len();
        links.push(Link { before: from.last, visit: Visit { place, steps } });
        state
    }

    /// Does all that can be done at `place` or happens by itself; gives what was done at the place, in order.
    fn finish_all(&self, state: &mut State, place: Option<usize>) -> Vec<usize> {
        let possible = |step: usize| self.places[step].is_none() || self.places[step] == place;
        let (here, elsewhere): (Vec<_>, Vec<_>) = state.next.drain(..).partition(|&step| possible(step));
        state.next = elsewhere;
        let mut free: BinaryHeap<_> = here.into_iter().map(Reverse).collect();
        let mut steps = Vec::new();
        while let Some(Reverse(step)) = free.pop() {
            state.count += 1;
            state.done[step / 64] |= 1_u64 << (step % 64);
            if self.places[step].is_some() {
                steps.push(step);
            }
            for &next in self.precedence.after(step) {
                state.waiting[next] -= 1;
                match (state.waiting[next] == 0, possible(next)) {
                    (true, true) => free.push(Reverse(next)),
                    (true, false) => state.next.push(next),
                    (false, _) => {}
                }
            }
        }
        steps
    }

    /// Drops states that another contains; then, past `width`, the least promising.
    fn thin(&self, states: &mut Vec<State>, width: usize, dropped: &mut bool) {
        if width == 1 {
            *dropped |= states.len() > 1;
            let best = (0..states.len()).min_by_key(|&index| self.promise(&states[index])).unwrap_or(0);
            states.swap(0, best);
            states.truncate(1);
            return;
        }
        states.sort_by_cached_key(|state| (Reverse(state.count), state.away));
        let mut kept: Vec<State> = Vec::new();
        for state in states.drain(..) {
            if !kept.iter().any(|other| other.contains(&state)) {
                kept.push(state);
            }
        }
        if kept.len() > width {
            *dropped = true;
            kept.sort_by_cached_key(|state| self.promise(state));
            kept.truncate(width);
        }
        *states = kept;
    }

    /// The smaller, the better: visits still needed, where it began, steps still to do.
    fn promise(&self, state: &State) -> (usize, usize, Reverse<usize>) {
        (self.outlook.at_least(&state.next), state.away, Reverse(state.count))
    }
}

impl State {
    /// Whether all that `other` has done is done here too, from no worse a start.
    fn contains(&self, other: &Self) -> bool {
        self.away <= other.away && self.done.iter().zip(&other.done).all(|(own, theirs)| theirs & !own == 0)
    }
}

fn saturated(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

fn trace(links: &[Link], last: usize) -> Vec<Visit> {
    let mut visits = Vec::new();
    let mut at = last;
    while at != NONE {
        visits.push(links[at].visit.clone());
        at = links[at].before;
    }
    visits.reverse();
    visits
}
