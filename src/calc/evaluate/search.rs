//! The worst case of a workshop function: it is run at further points within the bounds of its inputs.
//!
//! Takes: the inputs with uncertainty, and a way to run the function with the inputs moved. Gives: for every result what its
//! slopes leave out and its ends, the words that a result can be, and what was refused on the way. It is a search and no
//! proof: it looks at both ends of each input, at all corners of up to [`SEVERAL`] inputs, at the corners to which slopes
//! point, and searches along an input where these disagree, and along every source that several inputs share; at most
//! [`MOST_RUNS`] runs. What it finds is widened by [`MARGIN`].
//!
//! What the slopes leave out is an extreme of its own, and is searched for as the result itself is: where an input is the
//! result of a bent formula, the middle of what it can be is not its value, and one end is nearer than the other.

use std::collections::BTreeMap;

use super::super::function::{Answer, Field, Refusal};
use super::super::real::Real;
use super::super::span::Span;
use super::super::uncertainty::{SourceId, Uncertainty};
use super::super::value::Quantity;

/// The most that a function is run for one call.
const MOST_RUNS: usize = 3000;

/// The share of what slopes leave out that is added at both ends, for what lies between the points looked at.
const MARGIN: f64 = 0.05;

/// The most inputs of which all corners, edges and faces are looked at.
const FEW: usize = 4;

/// The most inputs of which all corners are looked at: slopes that are zero in the middle point to none.
const SEVERAL: usize = 8;

/// Points all over the inside for words and counts, which may be at no corner what they are between.
const SPREAD: u32 = 200;

/// How often the corner that slopes point to is followed.
const MOST_CORNERS: usize = 6;

/// Steps of a search along one input: each narrows it to 0.618 of what it was.
const MOST_NARROWED: usize = 16;

/// What the search found of one number of an answer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Found {
    /// What its slopes leave out, from its value.
    pub rest: Span,
    /// Its ends.
    pub ends: Span,
}

/// How inputs move together: one direction for every source that several inputs share, one for the rest of each input.
/// A point has for each a number from -1 to 1.
pub(super) struct Axes {
    /// By how much each input moves.
    moves: Vec<Vec<(usize, f64)>>,
    inputs: Vec<Input>,
}

struct Input {
    shift: f64,
    span: Span,
}

/// A place on every axis, from -1 to 1.
type Point = Vec<f64>;

impl Axes {
    pub(super) fn of(inputs: &[Quantity]) -> Self {
        let mut by_source: BTreeMap<SourceId, Vec<(usize, f64)>> = BTreeMap::new();
        for (index, input) in inputs.iter().enumerate() {
            for term in input.uncertainty.terms() {
                by_source.entry(term.source).or_default().push((index, term.most()));
            }
        }
        let mut own = vec![0.0; inputs.len()];
        let mut moves = Vec::new();
        for (_, each) in by_source {
            match each[..] {
                [(index, amount)] => own[index] += amount.abs(),
                _ => moves.push(each),
            }
        }
        let own = own.into_iter().enumerate().filter(|(_, amount)| *amount > 0.0);
        moves.extend(own.map(|each| vec![each]));
        let input =
            |each: &Quantity| Input { shift: each.uncertainty.shift(), span: each.uncertainty.span() };
        Self { moves, inputs: inputs.iter().map(input).collect() }
    }

    fn count(&self) -> usize {
        self.moves.len()
    }

    /// Whether several inputs move along the axis.
    fn is_shared(&self, axis: usize) -> bool {
        self.moves[axis].len() > 1
    }

    /// How far each input is from its value at a point, as its terms have it.
    fn reached(&self, point: &[f64]) -> Vec<f64> {
        let mut offsets: Vec<f64> = self.inputs.iter().map(|input| input.shift).collect();
        for (moves, share) in self.moves.iter().zip(point) {
            for (index, amount) in moves {
                offsets[*index] += amount * share;
            }
        }
        offsets
    }

    /// The same, no further than its ends.
    fn offsets(&self, point: &[f64]) -> Vec<f64> {
        let ends = self.inputs.iter().map(|input| input.span);
        self.reached(point).iter().zip(ends).map(|(offset, ends)| offset.clamp(ends.low, ends.high)).collect()
    }

    /// The change along every axis at a point, by the slopes for each input; one that is at its end moves no further.
    fn along(&self, point: &[f64], slopes: &[f64]) -> Vec<f64> {
        let is_free: Vec<bool> =
            self.reached(point).iter().zip(&self.inputs).map(|(at, input)| input.span.holds(*at)).collect();
        let moved = |(index, amount): &(usize, f64)| {
            if is_free[*index] { slopes.get(*index).map_or(0.0, |slope| slope * amount) } else { 0.0 }
        };
        self.moves.iter().map(|moves| moves.iter().map(moved).sum()).collect()
    }
}

/// What is looked for: the largest of a number (`sign` 1) or the smallest (-1), or of what its slopes leave out.
#[derive(Clone, Copy)]
struct Goal {
    slot: Slot,
    sign: f64,
    is_rest: bool,
}

/// Runs of one call under way.
pub(super) struct Search<'a> {
    axes: Axes,
    run: &'a dyn Fn(&[f64]) -> Result<Answer, Refusal>,
    /// The answer at the values themselves, with the slopes of so many inputs as a number carries in each.
    passes: &'a [Answer],
    centre: &'a Answer,
    points: Vec<Run>,
    seen: BTreeMap<Vec<u64>, Option<usize>>,
    /// The first refusal within the bounds.
    pub refused: Option<Refusal>,
}

/// The function run at a point.
struct Run {
    point: Point,
    /// How far each input is from its value.
    offsets: Vec<f64>,
    answer: Answer,
}

impl Run {
    /// A number less what `slopes` have of it.
    fn less(&self, slopes: &[f64], slot: Slot) -> Option<f64> {
        let by_slopes: f64 = self.offsets.iter().zip(slopes).map(|(offset, slope)| offset * slope).sum();
        number(&self.answer, slot).map(|real| real.value() - by_slopes)
    }
}

/// A number of an answer: the index of its field, and its place in it.
pub(super) type Slot = (usize, usize);

impl<'a> Search<'a> {
    /// `run` takes how far each input is from its value; `passes` has at least one answer.
    pub(super) fn new(
        axes: Axes,
        passes: &'a [Answer],
        run: &'a dyn Fn(&[f64]) -> Result<Answer, Refusal>,
    ) -> Self {
        Self {
            axes,
            run,
            passes,
            centre: &passes[0],
            points: Vec::new(),
            seen: BTreeMap::new(),
            refused: None,
        }
    }

    pub(super) fn runs(&self) -> usize {
        self.seen.len()
    }

    /// Looks at the ends of every input, and at the corners that slopes point to.
    pub(super) fn look_round(&mut self) {
        let count = self.axes.count();
        if count <= FEW {
            (0..3_usize.pow(u32::try_from(count).unwrap_or(0)))
                .for_each(|code| self.visit(grid(code, count)));
        } else {
            self.visit_ends();
        }
        if (FEW + 1..=SEVERAL).contains(&count) {
            (0..1_u32 << count).for_each(|code| self.visit(corner(code, count)));
        }
        if self.centre.fields.iter().any(|(_, field)| is_discrete(field)) {
            (1..=SPREAD).for_each(|index| self.visit(spread(index, count)));
        }
        for slot in slots(self.centre) {
            for is_rest in [false, true] {
                [-1.0, 1.0].into_iter().for_each(|sign| self.pursue(Goal { slot, sign, is_rest }));
            }
        }
    }

    fn pursue(&mut self, goal: Goal) {
        self.climb(goal, vec![0.0; self.axes.count()]);
        if let Some(best) = self.best(goal) {
            self.climb(goal, best);
        }
        for axis in (0..self.axes.count()).filter(|axis| self.axes.is_shared(*axis)).collect::<Vec<_>>() {
            self.follow(goal, axis);
        }
        self.search_inward(goal);
    }

    /// Looks along an axis that several inputs share, on which they may work against each other.
    fn follow(&mut self, goal: Goal, axis: usize) {
        let Some(best) = self.best(goal) else { return };
        for place in PLACES {
            self.visit(placed(&best, axis, place));
        }
        let Some(best) = self.best(goal) else { return };
        let at = best[axis];
        self.narrow(goal, &best, axis, Span::new((at - STRIDE).max(-1.0), (at + STRIDE).min(1.0)));
    }

    /// Both ends of every axis, the others in their middle.
    fn visit_ends(&mut self) {
        let count = self.axes.count();
        for axis in 0..count {
            for end in [-1.0, 1.0] {
                self.visit(placed(&vec![0.0; count], axis, end));
            }
        }
    }

    fn visit(&mut self, point: Point) {
        let key = key(&point);
        if self.runs() >= MOST_RUNS || self.seen.contains_key(&key) {
            return;
        }
        let offsets = self.axes.offsets(&point);
        let run = (self.run)(&offsets);
        self.seen.insert(key, run.is_ok().then_some(self.points.len()));
        match run {
            Ok(answer) => self.points.push(Run { point, offsets, answer }),
            Err(refusal) => self.refused = self.refused.take().or(Some(refusal)),
        }
    }

    /// Follows the slopes from a point to a corner, and from there on.
    fn climb(&mut self, goal: Goal, from: Point) {
        let mut point = from;
        for _ in 0..MOST_CORNERS {
            let Some(slopes) = self.slopes(goal, &point) else { break };
            let next: Point = slopes
                .iter()
                .zip(&point)
                .map(|(slope, old)| if *slope == 0.0 { *old } else { goal.sign * slope.signum() })
                .collect();
            if next == point {
                break;
            }
            let turned: Vec<usize> =
                (0..next.len()).filter(|axis| point[*axis] != 0.0 && next[*axis] != point[*axis]).collect();
            for axis in turned {
                self.narrow(goal, &point, axis, WHOLE_AXIS);
            }
            point = next;
            self.visit(point.clone());
        }
    }

    /// Searches from the best point along the axes on which its slopes point back inside.
    fn search_inward(&mut self, goal: Goal) {
        let Some(best) = self.best(goal) else { return };
        let Some(slopes) = self.slopes(goal, &best) else { return };
        let points_inward =
            |slope: f64, place: f64| goal.sign * slope * place < 0.0 || (place == 0.0 && slope != 0.0);
        let inward = slopes.iter().zip(&best).map(|(slope, place)| points_inward(*slope, *place));
        for (axis, _) in inward.enumerate().filter(|(_, is_inward)| *is_inward) {
            let Some(best) = self.best(goal) else { break };
            self.narrow(goal, &best, axis, WHOLE_AXIS);
        }
    }

    /// The change of what is looked for along every axis at a point.
    fn slopes(&self, goal: Goal, point: &[f64]) -> Option<Vec<f64>> {
        let is_centre = point.iter().all(|place| *place == 0.0);
        let middle = self.slopes_at_centre(goal.slot);
        let mut slopes = middle.clone();
        if !is_centre {
            let here = self.at(point).and_then(|run| number(&run.answer, goal.slot))?;
            slopes.iter_mut().zip(here.slopes()).for_each(|(slope, here)| *slope = *here);
        }
        if goal.is_rest {
            slopes.iter_mut().zip(&middle).for_each(|(slope, middle)| *slope -= middle);
        }
        Some(self.axes.along(point, &slopes))
    }

    /// The slopes of a number by every input, at the values themselves.
    fn slopes_at_centre(&self, slot: Slot) -> Vec<f64> {
        let all = self.passes.iter().filter_map(|pass| number(pass, slot)).flat_map(|real| *real.slopes());
        all.take(self.axes.inputs.len()).collect()
    }

    /// The slopes that are taken off what is looked for.
    fn taken_off(&self, goal: Goal) -> Vec<f64> {
        if goal.is_rest { self.slopes_at_centre(goal.slot) } else { Vec::new() }
    }

    /// The point at which what is looked for is the largest so far.
    fn best(&self, goal: Goal) -> Option<Point> {
        let slopes = self.taken_off(goal);
        let found = |run: &'_ Run| run.less(&slopes, goal.slot).map(|value| goal.sign * value);
        let points = self.points.iter().filter_map(|run| Some((&run.point, found(run)?)));
        points.max_by(|(_, one), (_, other)| one.total_cmp(other)).map(|(point, _)| point.clone())
    }

    fn at(&self, point: &[f64]) -> Option<&Run> {
        self.seen.get(&key(point)).copied().flatten().and_then(|place| self.points.get(place))
    }

    /// Golden section along one axis through a point.
    fn narrow(&mut self, goal: Goal, through: &[f64], axis: usize, within: Span) {
        let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
        let slopes = self.taken_off(goal);
        let mut look = |place: f64| {
            let point = placed(through, axis, place);
            self.visit(point.clone());
            let found = self.at(&point).and_then(|run| run.less(&slopes, goal.slot));
            found.map_or(f64::NEG_INFINITY, |value| goal.sign * value)
        };
        let Span { mut low, mut high } = within;
        let [mut left, mut right] = [high - golden * (high - low), low + golden * (high - low)];
        let [mut at_left, mut at_right] = [left, right].map(&mut look);
        for _ in 0..MOST_NARROWED {
            if at_left > at_right {
                (high, right, at_right) = (right, left, at_left);
                left = high - golden * (high - low);
                at_left = look(left);
            } else {
                (low, left, at_left) = (left, right, at_right);
                right = low + golden * (high - low);
                at_right = look(right);
            }
        }
    }

    /// What was found of a number whose first-order change is `uncertainty`.
    pub(super) fn found(&self, slot: Slot, uncertainty: &Uncertainty) -> Option<Found> {
        let here = number(self.centre, slot)?;
        let slopes = self.slopes_at_centre(slot);
        let (mut rest, mut ends) = (Span::ZERO, Span::about(here.value(), half(self.centre, slot)));
        for run in &self.points {
            let Some((value, less)) = number(&run.answer, slot).zip(run.less(&slopes, slot)) else {
                continue;
            };
            let half_here = half(&run.answer, slot);
            let wider = (half_here - half(self.centre, slot)).max(0.0);
            rest = rest.hull(Span::about(less - here.value(), wider));
            ends = ends.hull(Span::about(value.value(), half_here));
        }
        let is_rounding = rest.width() <= NEXT_TO_NOTHING * (uncertainty.worst() + here.as_rounded().bound);
        if is_rounding {
            return None;
        }
        let margin = if is_count(self.centre, slot) { 0.0 } else { MARGIN * rest.width() };
        Some(Found { rest: rest.plus(Span::about(0.0, margin)), ends: ends.plus(Span::about(0.0, margin)) })
    }

    /// All that a field that is no number was found to be, beginning with what it is by the values themselves.
    pub(super) fn words(&self, name: &str) -> Vec<&Field> {
        let field = |answer: &'a Answer| answer.fields.iter().find(|(each, _)| *each == name);
        let mut all: Vec<&Field> = field(self.centre).map(|(_, field)| field).into_iter().collect();
        for run in &self.points {
            let found = run.answer.fields.iter().find(|(each, _)| *each == name).map(|(_, field)| field);
            all.extend(found.filter(|found| all.iter().all(|each| !is_same(each, found))));
        }
        all
    }
}

/// All of an axis.
const WHOLE_AXIS: Span = Span::new(-1.0, 1.0);

/// The distance of the places that are looked at along an axis that several inputs share.
const STRIDE: f64 = 0.25;
const PLACES: [f64; 9] = [-1.0, -0.75, -0.5, -STRIDE, 0.0, STRIDE, 0.5, 0.75, 1.0];

/// A point with another place on one axis.
fn placed(point: &[f64], axis: usize, place: f64) -> Point {
    let mut point = point.to_vec();
    point[axis] = place;
    point
}

/// The places of a point, to be found again; a zero has one sign.
fn key(point: &[f64]) -> Vec<u64> {
    point.iter().map(|place| (place + 0.0).to_bits()).collect()
}

/// What slopes leave out, as a share of the uncertainty, that is left of rounding.
const NEXT_TO_NOTHING: f64 = 1e-9;

fn is_same(one: &Field, other: &Field) -> bool {
    match (one, other) {
        (Field::Text(one), Field::Text(other)) => one == other,
        (Field::Truth(one), Field::Truth(other)) => one == other,
        _ => true,
    }
}

fn is_discrete(field: &Field) -> bool {
    matches!(field, Field::Text(_) | Field::Truth(_) | Field::Count(_))
}

fn is_count(answer: &Answer, (field, _): Slot) -> bool {
    matches!(answer.fields.get(field), Some((_, Field::Count(_))))
}

/// Every number of an answer.
fn slots(answer: &Answer) -> Vec<Slot> {
    let count = |field: &Field| match field {
        Field::Number(_) | Field::Count(_) | Field::Bounded { .. } => 1,
        Field::List(list) => list.len(),
        _ => 0,
    };
    let fields = answer.fields.iter().enumerate();
    fields.flat_map(|(index, (_, field))| (0..count(field)).map(move |place| (index, place))).collect()
}

/// The half-width of a bound that a table gives.
fn half(answer: &Answer, (field, _): Slot) -> f64 {
    match answer.fields.get(field) {
        Some((_, Field::Bounded { half_width, .. })) => *half_width,
        _ => 0.0,
    }
}

fn number(answer: &Answer, (field, place): Slot) -> Option<Real> {
    answer.fields.get(field)?.1.number(place)
}

/// A point of an evenly spread sequence: multiples of powers of a root of x^(d + 1) = x + 1 for d axes, without their
/// whole part (M. Roberts, The unreasonable effectiveness of quasirandom sequences, 2018; from memory).
fn spread(index: u32, count: usize) -> Vec<f64> {
    let power = 1.0 / (count as f64 + 1.0);
    let root = (0..40).fold(2.0_f64, |root, _| libm::pow(1.0 + root, power));
    let mut step = 1.0;
    (0..count)
        .map(|_| {
            step /= root;
            2.0 * (f64::from(index) * step).fract() - 1.0
        })
        .collect()
}

/// A corner by its number in base two.
fn corner(code: u32, count: usize) -> Vec<f64> {
    (0..count).map(|axis| if code >> axis & 1 == 1 { 1.0 } else { -1.0 }).collect()
}

/// A corner, the middle of an edge or of a face, by its number in base three; the ends of one axis come first.
fn grid(code: usize, count: usize) -> Vec<f64> {
    let mut code = code;
    (0..count)
        .map(|_| {
            let digit = code % 3;
            code /= 3;
            [0.0, -1.0, 1.0][digit]
        })
        .collect()
}
