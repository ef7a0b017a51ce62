//! What a name in a calculation can stand for.

use std::sync::Arc;

use super::cause::Cause;
use super::dimension::{Dimension, Exponent};
use super::function::Said;
use super::literal::{Literal, Piece};
use super::rounding::Rounded;
use super::span::Span;
use super::uncertainty::{Sources, Uncertainty};
use super::units::{Unit, Units};

/// The value of an expression.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    Quantity(Quantity),
    Truth(bool),
    Text(Arc<str>),
    /// One of several, as the values that it was worked out from are one or the other within their bounds; the first is
    /// what their middles give.
    Either(Arc<[Value]>),
    List(Arc<[Value]>),
    Record(Arc<Record>),
}

/// A magnitude with dimension, uncertainty and the unit it prints in.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// In SI units; a temperature point in kelvin.
    pub value: f64,
    /// What rounding in the machine may have changed of it at most, in SI units.
    pub rounding: f64,
    pub dimension: Dimension,
    /// The power of angle in it, which counts as a number and is no part of the dimension: one of `rad`, `rpm`, minus one
    /// of `mm/rev`, none of `mm` and `Hz`.
    pub angle: Exponent,
    pub unit: Unit,
    pub style: Style,
    pub uncertainty: Uncertainty,
}

/// How a quantity wants to be written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Style {
    /// The unit comes from a calculation: the customary one for the dimension may take its place.
    #[default]
    Derived,
    /// The unit was typed.
    Chosen,
    /// `to 1/64 in`: the nearest fraction with this denominator, and what remains.
    Fraction(u32),
    /// `to ft-in`
    FeetInches,
    /// A value of a table that is given to so many decimals of its unit.
    Step(u8),
    /// Typed with so many decimals: `2.000 in` never prints with fewer, since its zeros say how finely it was read.
    Typed(u8),
    /// From readings with so many decimals: it never prints with more, and its uncertainty is rounded up to these.
    Read(u8),
}

/// The figures that a row of a table may have beyond its step: a quarter of a thou, half a micrometre.
const FINER_FIGURES: u8 = 2;
/// How near a number of steps is to a whole one that the machine has rounded.
const A_WHOLE_STEP: f64 = 1e-3;
/// No table and no reading has more.
const MOST_DECIMALS: f64 = 9.0;

/// Named values that belong together: what a workshop function gives, or a measurement.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    pub fields: Vec<(String, Value)>,
    /// What is to be said where certain fields are read.
    pub remarks: Vec<Remark>,
}

/// What a workshop function says of some of its results.
#[derive(Clone, Debug, PartialEq)]
pub struct Remark {
    pub function: &'static str,
    /// The fields it is about.
    pub of: &'static [&'static str],
    pub said: Said,
}

impl Record {
    pub fn field(&self, name: &str) -> Option<&Value> {
        self.fields.iter().find(|(each, _)| each == name).map(|(_, value)| value)
    }

    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.fields.iter().map(|(name, _)| name.as_str())
    }
}

impl Quantity {
    /// A plain number without uncertainty.
    pub fn number(value: f64) -> Self {
        Self::exact(value, Dimension::NONE, Unit::NONE).rounded(Rounded::plain(value))
    }

    /// `value` SI units without uncertainty, printed in `unit`.
    pub fn exact(value: f64, dimension: Dimension, unit: Unit) -> Self {
        let Rounded { value, bound: rounding } = Rounded::typed(value);
        Self {
            value,
            rounding,
            dimension,
            angle: unit.angle(),
            unit,
            style: Style::Chosen,
            uncertainty: Uncertainty::NONE,
        }
    }

    /// With another value.
    #[must_use]
    pub(super) fn rounded(self, value: Rounded) -> Self {
        Self { value: value.value, rounding: value.bound, ..self }
    }

    /// The value with the bound of its rounding errors.
    pub(super) fn as_rounded(&self) -> Rounded {
        Rounded { value: self.value, bound: self.rounding }
    }

    /// The value in `unit`; zero where rounding errors are all that is left of it.
    pub(super) fn shown_in(&self, unit: Unit) -> f64 {
        let shown = unit.from_si(self.value);
        if shown.abs() <= unit.interval_from_si(self.rounding) { 0.0 } else { shown }
    }

    /// Whether it can't be distinguished from another of its kind, uncertainties aside.
    pub fn is_same_as(&self, other: &Self) -> bool {
        self.difference(other).value == 0.0
    }

    /// This one less another of its kind.
    pub(super) fn difference(&self, other: &Self) -> Self {
        let value = Rounded::sum(self.as_rounded(), other.as_rounded(), -1.0);
        let uncertainty = Uncertainty::of_difference(&self.uncertainty, &other.uncertainty);
        let Rounded { value, bound: rounding } = value;
        let (dimension, unit) = (self.dimension, self.unit.of_difference());
        Self { value, rounding, dimension, angle: self.angle, unit, style: self.style, uncertainty }
    }

    /// A typed quantity: the middle of its interval, with its bounds as one new source.
    pub fn from_literal(literal: &Literal, cause: impl Into<Cause>, sources: &mut Sources) -> Self {
        let uncertainty = match literal.half_width() {
            0.0 => Uncertainty::NONE,
            half_width => {
                let cause = cause.into().bounded(half_width, literal.unit);
                Uncertainty::bound(sources.fresh(cause), half_width)
            }
        };
        let style = if uncertainty.is_none() { Style::of_typed(literal) } else { Style::Chosen };
        let exact = match literal.plain_number() {
            Some(number) => Self::number(number),
            None => Self::exact(literal.middle(), literal.dimension(), literal.unit),
        };
        Self { uncertainty, style, ..exact }
    }

    /// A temperature on its scale, not a difference.
    pub fn is_point(&self) -> bool {
        self.unit.is_point()
    }

    /// A value that its table gives finer than its step, such as half a micrometre, with the decimals that it needs.
    pub(super) fn with_all_figures(self) -> Self {
        let Style::Step(decimals) = self.style else { return self };
        let value = self.unit.from_si(self.value);
        let is_whole = |decimals: &u8| {
            let steps = value * libm::pow(10.0, f64::from(*decimals));
            (steps - steps.round()).abs() < A_WHOLE_STEP
        };
        let needed = (decimals..=decimals.saturating_add(FINER_FIGURES)).find(is_whole);
        Self { style: Style::Step(needed.unwrap_or(decimals)), ..self }
    }

    /// Its style in another unit, so that no figure of a table is lost: 0.001 mm needs five decimals of an inch.
    pub(super) fn step_in(&self, unit: Unit) -> Style {
        let (decimals, style): (u8, fn(u8) -> Style) = match self.style {
            Style::Step(decimals) => (decimals, Style::Step),
            Style::Typed(decimals) => (decimals, Style::Typed),
            Style::Read(decimals) => (decimals, Style::Read),
            _ => return Style::Chosen,
        };
        if unit == self.unit {
            return self.style;
        }
        let step = self.unit.interval_to_si(libm::pow(10.0, -f64::from(decimals)));
        // Half a step is near enough: 0.0001 in is 0.00254 mm, and three decimals show it.
        let decimals = (-libm::log10(2.0 * unit.interval_from_si(step))).ceil().clamp(0.0, MOST_DECIMALS);
        // In range by the clamp.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        style(decimals as u8)
    }

    /// As it stands in a check that prints in `unit`.
    pub(super) fn told_in(self, unit: Unit) -> Self {
        let keeps = unit == self.unit && !matches!(self.style, Style::Derived | Style::FeetInches);
        let style = if keeps { self.style } else { self.step_in(unit) };
        Self { unit, style, ..self }
    }

    fn is_like(&self, other: &Self) -> bool {
        self.dimension == other.dimension && self.is_point() == other.is_point()
    }

    /// This value with room for another.
    fn or(&self, other: &Self, sources: &mut Sources) -> Self {
        let rest = other.difference(self).ends().hull(Span::ZERO);
        let ends = self.ends().hull(other.ends()).moved(-self.value);
        let style =
            if let Style::Typed(_) | Style::Fraction(_) = self.style { Style::Chosen } else { self.style };
        Self { uncertainty: self.uncertainty.clone().bent(rest, sources).within(ends), style, ..self.clone() }
    }

    /// The unit it prints in.
    pub fn printed_unit(&self, units: &Units) -> Unit {
        match self.style {
            Style::Derived => self.customary_unit(units),
            _ => self.unit,
        }
    }

    /// The customary unit of its kind; a rate that counts radians says so.
    fn customary_unit(&self, units: &Units) -> Unit {
        let unit = units.customary(self.unit, self.dimension, self.value);
        let is_turning = self.dimension == Dimension::RATE && self.angle == Exponent::whole(1);
        if is_turning && !unit.has_angle() { units.parse("rad/s").unwrap_or(unit) } else { unit }
    }

    /// Whether it prints without uncertainty: what is no larger than the errors of rounding is left over from calculating.
    pub(super) fn shows_no_uncertainty(&self) -> bool {
        self.uncertainty.is_none() || self.uncertainty.worst() <= self.rounding
    }

    pub fn expanded(&self) -> f64 {
        if self.uncertainty.is_none() { 0.0 } else { self.uncertainty.expanded().value }
    }

    /// The ends of the worst case, in SI units; infinite where they are not known.
    pub fn worst_case(&self) -> (f64, f64) {
        let Span { low, high } = self.ends();
        (low, high)
    }

    /// Between which ends it lies for certain, in SI units.
    pub(super) fn ends(&self) -> Span {
        self.uncertainty.span().moved(self.value)
    }
}

impl Style {
    /// Of readings whose last figure counts `step`, in SI units; one decimal more where that is a fraction.
    pub(super) fn read(step: f64, unit: Unit) -> Self {
        let step = unit.interval_from_si(step);
        let decimals = (-libm::log10(step) - A_WHOLE_STEP).ceil().clamp(0.0, MOST_DECIMALS);
        let steps = step * libm::pow(10.0, decimals);
        let is_decimal = (steps - steps.round()).abs() < A_WHOLE_STEP;
        let decimals = if is_decimal { decimals } else { (decimals + 1.0).min(MOST_DECIMALS) };
        // In range by the clamp.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        Self::Read(decimals as u8)
    }

    /// Of how far readings are from `limit`, which may have a figure or two more than they.
    pub(super) fn with_figures_of(self, limit: &Quantity) -> Self {
        let Self::Read(decimals) = self else { return self };
        match (Quantity { style: Self::Step(decimals), ..limit.clone() }).with_all_figures().style {
            Self::Step(needed) => Self::Read(needed),
            _ => self,
        }
    }

    /// How a typed value wants to be written again: a workshop fraction as one, decimals with all their zeros.
    fn of_typed(literal: &Literal) -> Self {
        let [Piece::Figures(figures), Piece::Unit(_)] = literal.pieces() else { return Self::Chosen };
        if let Some((_, below)) = figures.split_once('/') {
            return below.parse().map_or(Self::Chosen, Self::Fraction);
        }
        match figures.split_once('.') {
            Some((_, places)) if !figures.contains(['e', 'E']) => {
                u8::try_from(places.len()).map_or(Self::Chosen, Self::Typed)
            }
            _ => Self::Chosen,
        }
    }
}

impl Value {
    pub fn number(value: f64) -> Self {
        Self::Quantity(Quantity::number(value))
    }

    pub fn text(text: &str) -> Self {
        Self::Text(text.into())
    }

    pub fn record(fields: Vec<(String, Value)>) -> Self {
        Self::remarked(fields, Vec::new())
    }

    /// A record of which something is to be said.
    pub fn remarked(fields: Vec<(String, Value)>, remarks: Vec<Remark>) -> Self {
        Self::Record(Arc::new(Record { fields, remarks }))
    }

    pub fn list(values: Vec<Value>) -> Self {
        Self::List(values.into())
    }

    /// Whether more values than this are in it, those of lists within it included.
    pub(super) fn has_more_than(&self, most: usize) -> bool {
        self.count(most) > most
    }

    /// How many values are in it; no further than just past `most`.
    fn count(&self, most: usize) -> usize {
        let Self::List(values) = self else { return 1 };
        let mut count = 0;
        for value in values.iter() {
            count += value.count(most);
            if count > most {
                break;
            }
        }
        count
    }

    /// A typed quantity, its bounds a source of their own called `label`.
    pub fn from_literal(literal: &Literal, cause: impl Into<Cause>, sources: &mut Sources) -> Self {
        Self::Quantity(Quantity::from_literal(literal, cause, sources))
    }

    pub fn quantity(&self) -> Option<&Quantity> {
        match self {
            Self::Quantity(quantity) => Some(quantity),
            _ => None,
        }
    }

    /// All that it can be, what is likeliest first: itself alone but for what is not settled.
    pub fn alternatives(&self) -> &[Value] {
        match self {
            Self::Either(all) => all,
            one => std::slice::from_ref(one),
        }
    }

    /// This value, or as well the other: numbers of one kind become one that has room for both.
    #[must_use]
    pub(super) fn or(self, other: Self, sources: &mut Sources) -> Self {
        match (self, other) {
            (one, other) if one == other => one,
            (Self::Quantity(one), Self::Quantity(other)) if one.is_like(&other) => {
                one.or(&other, sources).into()
            }
            (Self::List(one), Self::List(other)) if one.len() == other.len() => {
                let pairs = one.iter().cloned().zip(other.iter().cloned());
                Self::list(pairs.map(|(one, other)| one.or(other, sources)).collect())
            }
            (Self::Record(one), Self::Record(other)) if one.names().eq(other.names()) => {
                let pairs = one.fields.iter().zip(&other.fields);
                let fields = pairs
                    .map(|((name, one), (_, other))| (name.clone(), one.clone().or(other.clone(), sources)));
                Self::remarked(fields.collect(), one.remarks.clone())
            }
            (one, other) => {
                let mut all = one.alternatives().to_vec();
                let new = other.alternatives().iter().filter(|each| !one.alternatives().contains(each));
                all.extend(new.cloned());
                Self::Either(all.into())
            }
        }
    }

    /// What it is, for a message: `a force`, `a list`.
    pub fn kind(&self) -> String {
        match self {
            Self::Quantity(quantity) if quantity.is_point() => "a temperature".to_owned(),
            Self::Quantity(quantity) => with_article(&quantity.dimension.to_string()),
            Self::Truth(_) => "a truth value".to_owned(),
            Self::Text(_) => "a text".to_owned(),
            Self::Either(all) => match all.first() {
                Some(first) => format!("{} that is not settled", first.kind()),
                None => "a value that is not settled".to_owned(),
            },
            Self::List(_) => "a list".to_owned(),
            Self::Record(_) => "a record".to_owned(),
        }
    }
}

/// `an area`, `a force`; what is named as a product without one.
pub(super) fn with_article(name: &str) -> String {
    if name.contains(['^', '/']) {
        return name.to_owned();
    }
    let article = if name.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
    format!("{article} {name}")
}

impl From<Quantity> for Value {
    fn from(quantity: Quantity) -> Self {
        Self::Quantity(quantity)
    }
}
