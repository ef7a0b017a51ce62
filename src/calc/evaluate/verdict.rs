//! Checks by the decision rule of ISO 14253-1: holds, fails, or not settled.

use std::ops::Range;

use super::super::print::{self, Apart};
use super::super::span::Span;
use super::super::syntax::{Comparison, NodeId};
use super::super::units::{Unit, Units};
use super::super::value::{Quantity, Style};
use super::{Entry, Eval, Evaluator, Frame, arithmetic};

/// What a check comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// The whole interval of the expanded uncertainty is inside, and so is all that the bounds allow.
    Holds,
    /// Both are outside.
    Fails,
    /// One of them reaches over a limit.
    NotSettled,
}

/// The verdict on a check, with the figures behind it.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    pub outcome: Outcome,
    pub value: Quantity,
    pub comparison: Comparison,
    pub low: Option<Quantity>,
    pub high: Option<Quantity>,
    /// How far the value is inside the nearest limit, negative outside; with the uncertainty of the comparison.
    pub margin: Quantity,
}

impl Verdict {
    /// The verdict in one word or two.
    pub fn word(&self) -> &'static str {
        match self.outcome {
            Outcome::Holds => "holds",
            Outcome::Fails => "fails",
            Outcome::NotSettled => "not settled",
        }
    }

    /// By how much, and what would settle it: `by 0.0012 in, known to ± 0.0005 in`.
    pub fn reason(&self, units: &Units) -> String {
        let distance = self.distance(units);
        if self.is_past_or_within() { format!("by {distance}") } else { distance }
    }

    /// Whether the distance says by how much the limit is held or not, and nothing else.
    fn is_past_or_within(&self) -> bool {
        match self.margin.shows_no_uncertainty() {
            true => self.margin.value != 0.0,
            false => self.outcome != Outcome::NotSettled,
        }
    }

    /// How far it is from the limit, and what would settle it: `0.0012 in, known to ± 0.0005 in`.
    pub fn distance(&self, units: &Units) -> String {
        let unit = self.margin.printed_unit(units);
        let apart = |distance: f64| print::apart(distance, &self.margin, &self.value, unit);
        let (size, expanded) = (self.margin.value.abs(), self.margin.expanded());
        let Apart { distance, uncertainty, settles } = apart(self.margin.value);
        let Some(uncertainty) = uncertainty else {
            return if size == 0.0 { "it lies on the limit".to_owned() } else { distance };
        };
        let known = print::known_to(&uncertainty);
        let furthest = self.furthest();
        let (side, other) =
            if self.margin.value < 0.0 { ("outside", "inside") } else { ("inside", "outside") };
        match self.outcome {
            Outcome::Holds | Outcome::Fails if expanded <= size => {
                format!("{distance}, {known}")
            }
            Outcome::Holds | Outcome::Fails => {
                format!("{distance}, at worst by {}", apart(furthest).distance)
            }
            Outcome::NotSettled if self.margin.uncertainty.is_open() => {
                format!("{distance} {side}, but over part of the bounds the value is not known")
            }
            Outcome::NotSettled if size == 0.0 => format!("it lies on the limit, {known}"),
            Outcome::NotSettled if expanded <= size => {
                format!("{distance} {side}, {known}, but at worst {} {other}", apart(furthest).distance)
            }
            Outcome::NotSettled => {
                format!("{distance} {side}, {known}; {}", print::would_settle(&settles))
            }
        }
    }

    /// The end of the worst case that is the nearest to the other side of the limit, or the furthest on it: positive inside.
    fn furthest(&self) -> f64 {
        let Span { low, high } = self.margin.uncertainty.decisive().moved(self.margin.value);
        if self.margin.value < 0.0 { high } else { low }
    }
}

impl Evaluator<'_> {
    /// The verdict on `value` held against `low` and `high`.
    pub(crate) fn verdict(
        &mut self,
        entry: &Entry,
        value_at: NodeId,
        comparison: Comparison,
        ends: [Option<NodeId>; 2],
    ) -> Eval<Verdict> {
        let frame = Frame { entry, parameters: &[] };
        let value = self.number(frame, value_at)?.into_owned();
        let mut limits = [None, None];
        for (limit, end) in limits.iter_mut().zip(ends) {
            let Some(end) = end else { continue };
            let quantity = self.number(frame, end)?.into_owned();
            *limit = Some((end, quantity));
        }
        borrow_unit(&mut limits);
        for (end, limit) in limits.iter().flatten() {
            self.comparable(frame, (value_at, &value), (*end, limit))?;
        }
        let [low, high] = limits.map(|limit| limit.map(|(_, quantity)| quantity));
        self.ordered(frame, ends, low.as_ref(), high.as_ref())?;
        let unit = unit_of(&value, [&low, &high], self.known.units);
        let [low, high] = [low, high].map(|limit| limit.map(|limit| limit.told_in(unit)));
        Ok(judge(value.told_in(unit), comparison, low, high))
    }

    fn ordered(
        &self,
        frame: Frame,
        ends: [Option<NodeId>; 2],
        low: Option<&Quantity>,
        high: Option<&Quantity>,
    ) -> Eval<()> {
        let (Some(low), Some(high), [Some(first), Some(second)]) = (low, high, ends) else { return Ok(()) };
        if low.value <= high.value {
            return Ok(());
        }
        let range: Range<usize> = frame.tree().span(first).start..frame.tree().span(second).end;
        let help = "Write the smaller limit first.";
        Err(super::fault::arithmetic(range, "this range runs backwards", help).into())
    }
}

/// `within 3 .. 6 h`: a plain number before `..` takes the unit behind.
fn borrow_unit(limits: &mut [Option<(NodeId, Quantity)>; 2]) {
    let [Some((_, low)), Some((_, high))] = limits else { return };
    let is_bare = low.unit.is_none() && low.dimension == super::super::dimension::Dimension::NONE;
    if is_bare && !high.unit.is_none() && !high.is_point() && low.uncertainty.is_none() {
        *low = Quantity::exact(high.unit.to_si(low.value), high.dimension, high.unit);
    }
}

/// The one unit that a check prints in: that of its first limit, as typed or asked for; else the value's.
fn unit_of(value: &Quantity, limits: [&Option<Quantity>; 2], units: &Units) -> Unit {
    let of_its_own = |limit: &&Quantity| limit.style != Style::Derived && !limit.unit.is_none();
    let limit = limits.into_iter().flatten().find(of_its_own);
    limit.map_or_else(|| value.printed_unit(units), |limit| limit.unit)
}

/// The verdict on a value whose limits are known; the margin prints in the unit of the value.
pub(in crate::calc) fn judge(
    value: Quantity,
    comparison: Comparison,
    low: Option<Quantity>,
    high: Option<Quantity>,
) -> Verdict {
    let strict = matches!(comparison, Comparison::Less | Comparison::Greater);
    let margin = |limit: &Quantity, margin: Quantity| Quantity {
        unit: value.unit.of_difference(),
        style: value.style_of_sum(limit).with_figures_of(limit),
        ..margin
    };
    let inside = [
        low.as_ref().map(|low| margin(low, arithmetic::difference(&value, low))),
        high.as_ref().map(|high| margin(high, arithmetic::difference(high, &value))),
    ];
    let sides = inside.into_iter().flatten().map(|margin| (side(&margin, strict), margin));
    let worst =
        sides.min_by(|(one, a), (other, b)| rank(*one).cmp(&rank(*other)).then(a.value.total_cmp(&b.value)));
    let (outcome, margin) = worst.unwrap_or_else(|| (Outcome::Holds, Quantity::number(0.0)));
    Verdict { outcome, value, comparison, low, high, margin }
}

/// One limit: `margin` is positive inside.
fn side(margin: &Quantity, strict: bool) -> Outcome {
    if margin.uncertainty.is_open() {
        return Outcome::NotSettled;
    }
    let reach = margin.uncertainty.decisive();
    // Ends that can't be distinguished from the limit lie on it.
    let same = if reach == Span::ZERO { 0.0 } else { margin.rounding + ROUNDING * reach.reach() };
    let Span { low, high } = reach.moved(margin.value);
    let holds = if strict { low > same } else { low >= -same };
    let fails = if strict { high <= same } else { high < -same };
    match (holds, fails) {
        (true, _) => Outcome::Holds,
        (_, true) => Outcome::Fails,
        _ => Outcome::NotSettled,
    }
}

/// What the ends of a worst case may be off by rounding, as a share of it.
const ROUNDING: f64 = 16.0 * f64::EPSILON;

/// One limit that is passed for certain is enough; else one that is uncertain.
pub(in crate::calc) fn rank(outcome: Outcome) -> u8 {
    match outcome {
        Outcome::Fails => 0,
        Outcome::NotSettled => 1,
        Outcome::Holds => 2,
    }
}
