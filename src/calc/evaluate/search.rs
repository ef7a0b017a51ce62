//! The worst case of a workshop function: it is run at further points within the bounds of its inputs.
//!
//! Takes: the inputs with uncertainty, and a way to run the function with the inputs moved. Gives: for every result what its
//! slopes leave out and its ends, the words that a result can be, and what was refused on the way. It is a search and no
//! proof: it looks at both ends of each input, at all corners of up to [`SEVERAL`] inputs, at the corners to which slopes
//! point, and searches along an input where these disagree; at most [`MOST_RUNS`] runs. What it finds is widened by
//! [`MARGIN`].

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

    /// How far each input is from its value at a point.
    fn offsets(&self, point: &[f64]) -> Vec<f64> {
        let mut offsets: Vec<f64> = self.inputs.iter().map(|input| input.shift).collect();
        for (moves, share) in self.moves.iter().zip(point) {
            for (index, amount) in moves {
                offsets[*index] += amount * share;
            }
        }
        let ends = self.inputs.iter().map(|input| input.span);
        offsets.iter().zip(ends).map(|(offset, ends)| offset.clamp(ends.low, ends.high)).collect()
    }

    /// The change of a number along every axis, by its slopes.
    fn along(&self, real: &Real) -> Vec<f64> {
        let slope = |index: &usize| real.slopes().get(*index).copied().unwrap_or_default();
        let change =
            |moves: &Vec<(usize, f64)>| moves.iter().map(|(index, amount)| slope(index) * amount).sum();
        self.moves.iter().map(change).collect()
    }
}

/// Runs of one call under way.
pub(super) struct Search<'a> {
    axes: Axes,
    run: &'a dyn Fn(&[f64]) -> Result<Answer, Refusal>,
    centre: &'a Answer,
    points: Vec<(Vec<f64>, Answer)>,
    runs: usize,
    /// The first refusal within the bounds.
    pub refused: Option<Refusal>,
}

/// A number of an answer: the index of its field, and its place in it.
pub(super) type Slot = (usize, usize);

impl<'a> Search<'a> {
    /// `run` takes how far each input is from its value.
    pub(super) fn new(
        axes: Axes,
        centre: &'a Answer,
        run: &'a dyn Fn(&[f64]) -> Result<Answer, Refusal>,
    ) -> Self {
        Self { axes, run, centre, points: Vec::new(), runs: 0, refused: None }
    }

    pub(super) fn runs(&self) -> usize {
        self.runs
    }

    /// Looks at the ends of every input, and at the corners that slopes point to.
    pub(super) fn look_round(&mut self) {
        let count = self.axes.count();
        let numbers = slots(self.centre);
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
        for slot in numbers {
            for sign in [-1.0, 1.0] {
                self.climb(slot, sign, vec![0.0; count]);
                if let Some(best) = self.best(slot, sign) {
                    self.climb(slot, sign, best);
                }
                self.search_inward(slot, sign);
            }
        }
    }

    /// Both ends of every axis, the others in their middle.
    fn visit_ends(&mut self) {
        let count = self.axes.count();
        for axis in 0..count {
            for end in [-1.0, 1.0] {
                let mut point = vec![0.0; count];
                point[axis] = end;
                self.visit(point);
            }
        }
    }

    fn visit(&mut self, point: Vec<f64>) {
        if self.runs >= MOST_RUNS || self.points.iter().any(|(each, _)| *each == point) {
            return;
        }
        self.runs += 1;
        match (self.run)(&self.axes.offsets(&point)) {
            Ok(answer) => self.points.push((point, answer)),
            Err(refusal) => self.refused = self.refused.take().or(Some(refusal)),
        }
    }

    /// Follows the slopes of a number from a point to a corner, and from there on, upwards (`sign` 1) or down (-1).
    fn climb(&mut self, slot: Slot, sign: f64, from: Vec<f64>) {
        let mut point = from;
        for _ in 0..MOST_CORNERS {
            let Some(slopes) = self.slopes(slot, &point) else { break };
            let next: Vec<f64> = slopes
                .iter()
                .zip(&point)
                .map(|(slope, old)| if *slope == 0.0 { *old } else { sign * slope.signum() })
                .collect();
            if next == point {
                break;
            }
            let turned: Vec<usize> =
                (0..next.len()).filter(|axis| point[*axis] != 0.0 && next[*axis] != point[*axis]).collect();
            for axis in turned {
                self.narrow(slot, sign, &point, axis);
            }
            point = next;
            self.visit(point.clone());
        }
    }

    /// Searches from the best point along the axes on which its slopes point back inside.
    fn search_inward(&mut self, slot: Slot, sign: f64) {
        let Some(best) = self.best(slot, sign) else { return };
        let Some(slopes) = self.slopes(slot, &best) else { return };
        let points_inward =
            |slope: f64, place: f64| sign * slope * place < 0.0 || (place == 0.0 && slope != 0.0);
        let inward = slopes.iter().zip(&best).map(|(slope, place)| points_inward(*slope, *place));
        for (axis, _) in inward.enumerate().filter(|(_, is_inward)| *is_inward) {
            let Some(best) = self.best(slot, sign) else { break };
            self.narrow(slot, sign, &best, axis);
        }
    }

    /// The change of a number along every axis at a point.
    fn slopes(&self, slot: Slot, point: &[f64]) -> Option<Vec<f64>> {
        let is_centre = point.iter().all(|place| *place == 0.0);
        let answer = if is_centre { Some(self.centre) } else { self.at(point) };
        answer.and_then(|answer| number(answer, slot)).map(|real| self.axes.along(&real))
    }

    /// The point at which a number is the largest or the smallest so far.
    fn best(&self, slot: Slot, sign: f64) -> Option<Vec<f64>> {
        let value = |answer: &Answer| number(answer, slot).map(|real| sign * real.value());
        let points = self.points.iter().filter_map(|(point, answer)| Some((point, value(answer)?)));
        points.max_by(|(_, one), (_, other)| one.total_cmp(other)).map(|(point, _)| point.clone())
    }

    fn at(&self, point: &[f64]) -> Option<&Answer> {
        self.points.iter().find(|(each, _)| each == point).map(|(_, answer)| answer)
    }

    /// Golden section along one axis through a point.
    fn narrow(&mut self, slot: Slot, sign: f64, through: &[f64], axis: usize) {
        let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
        let (mut low, mut high) = (-1.0, 1.0);
        for _ in 0..MOST_NARROWED {
            let width = high - low;
            let inner = [high - golden * width, low + golden * width];
            let [a, b] = inner.map(|place| {
                let mut point = through.to_vec();
                point[axis] = place;
                self.visit(point.clone());
                let found = self.at(&point).and_then(|answer| number(answer, slot));
                found.map_or(f64::NEG_INFINITY, |real| sign * real.value())
            });
            if a > b { high = inner[1] } else { low = inner[0] }
        }
    }

    /// What was found of a number whose first-order change is `uncertainty`.
    pub(super) fn found(&self, slot: Slot, uncertainty: &Uncertainty) -> Option<Found> {
        let here = number(self.centre, slot)?;
        let slopes = self.axes.along(&here);
        let (mut rest, mut ends) = (Span::ZERO, Span::about(here.value(), half(self.centre, slot)));
        for (point, answer) in &self.points {
            let Some(value) = number(answer, slot).map(Real::value) else { continue };
            let by_slopes: f64 = slopes.iter().zip(point).map(|(slope, place)| slope * place).sum();
            let wider = (half(answer, slot) - half(self.centre, slot)).max(0.0);
            rest = rest.hull(Span::about(value - here.value() - by_slopes, wider));
            ends = ends.hull(Span::about(value, half(answer, slot)));
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
        for (_, answer) in &self.points {
            let found = answer.fields.iter().find(|(each, _)| *each == name).map(|(_, field)| field);
            all.extend(found.filter(|found| all.iter().all(|each| !is_same(each, found))));
        }
        all
    }
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
