//! A unit as it was typed: a product of powers of the table's units.

use std::fmt;

use super::table::{self, PREFIXES, Row, Scale};
use super::{System, Ton};
use crate::calc::dimension::{BASES, Dimension, Exponent};
use crate::calc::superscript;

/// The most different units in one product.
const MOST_FACTORS: usize = BASES;

/// A product of powers of units, kept as typed: `km/h` stays `km/h`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unit {
    factors: [Factor; MOST_FACTORS],
    count: u8,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Factor {
    row: u16,
    /// Power of ten.
    prefix: i8,
    exponent: Exponent,
}

impl Default for Unit {
    fn default() -> Self {
        Self::NONE
    }
}

impl Unit {
    /// No unit: a plain number.
    pub const NONE: Self =
        Self { factors: [Factor { row: 0, prefix: 0, exponent: Exponent::ZERO }; MOST_FACTORS], count: 0 };

    pub(super) fn single(row: u16, prefix: i8) -> Self {
        let mut unit = Self::NONE;
        unit.factors[0] = Factor { row, prefix, exponent: Exponent::whole(1) };
        unit.count = 1;
        unit
    }

    /// The product of SI base units for `dimension`; money has no unit here and is left out.
    pub fn coherent(dimension: Dimension) -> Self {
        let mut unit = Self::NONE;
        for (index, exponent) in dimension.exponents().into_iter().enumerate() {
            let power = table::base_unit(index).and_then(|base| base.to_the(exponent));
            unit = power.and_then(|power| unit.times(power)).unwrap_or(unit);
        }
        unit
    }

    fn factors(&self) -> &[Factor] {
        &self.factors[..usize::from(self.count)]
    }

    pub const fn is_none(&self) -> bool {
        self.count == 0
    }

    pub fn dimension(&self) -> Dimension {
        self.factors().iter().fold(Dimension::NONE, |product, factor| {
            let power = factor.row().dimension.to_the(factor.exponent);
            power.and_then(|power| product.times(power)).unwrap_or(product)
        })
    }

    /// A value in this unit as SI; a temperature point as kelvin.
    pub fn to_si(&self, value: f64) -> f64 {
        self.ratio_to_si(value, 1.0)
    }

    /// The same of a fraction: divided once, at the end, so that `25.4 mm` and `1 in` are one number.
    pub fn ratio_to_si(&self, numerator: f64, denominator: f64) -> f64 {
        let scale = self.scale();
        let value = numerator * scale.numerator / (denominator * scale.denominator);
        self.zero().map_or(value, |zero| value + zero.numerator / zero.denominator)
    }

    /// A value in SI, in this unit.
    pub fn from_si(&self, value: f64) -> f64 {
        let scale = self.scale();
        let value = self.zero().map_or(value, |zero| value - zero.numerator / zero.denominator);
        value * scale.denominator / scale.numerator
    }

    /// The SI size of an interval of `value` units, without the zero of a temperature scale.
    pub fn interval_to_si(&self, value: f64) -> f64 {
        let scale = self.scale();
        value * scale.numerator / scale.denominator
    }

    /// An SI interval in this unit, without the zero of a temperature scale.
    pub fn interval_from_si(&self, value: f64) -> f64 {
        let scale = self.scale();
        value * scale.denominator / scale.numerator
    }

    /// The SI value of one of this unit.
    pub fn size(&self) -> f64 {
        self.interval_to_si(1.0)
    }

    fn scale(&self) -> Scale {
        self.factors().iter().fold(Scale::ONE, |scale, factor| scale.times(factor.scale()))
    }

    fn zero(&self) -> Option<Scale> {
        match self.factors() {
            [factor] if factor.exponent == Exponent::whole(1) => factor.row().zero,
            _ => None,
        }
    }

    /// A temperature on its scale (`degC`, `degF`), not a difference.
    pub fn is_point(&self) -> bool {
        self.zero().is_some()
    }

    /// The unit for a difference of two temperature points in this one; any other unit is its own.
    pub fn of_difference(&self) -> Self {
        let name = match self.factors() {
            [factor] if self.is_point() => {
                if factor.row().symbol == "degC" {
                    "K"
                } else {
                    "degF_diff"
                }
            }
            _ => return *self,
        };
        table::find(name).map_or(*self, |(row, prefix)| Self::single(row, prefix))
    }

    /// The number of decimals of an amount of money.
    pub fn money_decimals(&self) -> Option<u8> {
        match self.factors() {
            [factor] if factor.exponent == Exponent::whole(1) => factor.row().money_decimals,
            _ => None,
        }
    }

    /// Whether a bare `ton`, `tonf` or `cwt` is in it, and which it was taken for.
    pub fn bare_ton(&self) -> Option<Ton> {
        self.factors().iter().find_map(|factor| factor.row().bare)
    }

    /// Angle counted as a number is in it: `rpm`, `deg`.
    pub fn has_angle(&self) -> bool {
        self.factors().iter().any(|factor| factor.row().angle)
    }

    /// The power of angle: one of `rpm` and `deg`, minus one of `mm/rev`.
    pub fn angle(&self) -> Exponent {
        let angles = self.factors().iter().filter(|factor| factor.row().angle).map(|factor| factor.exponent);
        angles.fold(Exponent::ZERO, |sum, exponent| sum.plus(exponent).unwrap_or(sum))
    }

    /// Per cent alone.
    pub fn is_percent(&self) -> bool {
        self.is_single() && self.factors[0].row().symbol == "%"
    }

    /// Whole turns are counted: `rpm`, `mm/rev`.
    pub fn has_turn(&self) -> bool {
        self.factors().iter().any(|factor| factor.row().turn)
    }

    /// Its angle in units of angle alone, as that of `mm/rev` and `deg/s` is, and not that of `rpm`.
    pub(super) fn has_angle_alone(&self) -> bool {
        let angles = || self.factors().iter().filter(|factor| factor.row().angle);
        angles().next().is_some() && angles().all(|factor| factor.row().dimension == Dimension::NONE)
    }

    /// The same without its units of angle alone: `mm` of `mm/rev`; what counts turns in a time is left out whole.
    pub(in crate::calc) fn without_angle(&self) -> Self {
        let mut kept = Self::NONE;
        for factor in self.factors().iter().filter(|factor| !factor.row().angle) {
            if kept.join(*factor).is_none() {
                return *self;
            }
        }
        kept
    }

    /// The unit of angle in it: of `rpm` and `rev/s` the turn.
    pub fn of_angle(&self) -> Option<Self> {
        let factor = self.factors().iter().find(|factor| factor.row().angle)?;
        let name = if factor.row().turn { "rev" } else { factor.row().symbol.as_str() };
        table::find(name).map(|(row, prefix)| Self::single(row, prefix))
    }

    /// Cycles are counted: `Hz`.
    pub fn has_cycle(&self) -> bool {
        self.factors().iter().any(|factor| factor.row().cycle)
    }

    /// The system of its first unit that belongs to one.
    pub fn system(&self) -> Option<System> {
        self.factors().iter().find_map(|factor| factor.row().system)
    }

    /// One unit of the table alone, without power.
    pub fn is_single(&self) -> bool {
        self.count == 1 && self.factors[0].exponent == Exponent::whole(1)
    }

    /// Two units at most, none of them made of others (as `rpm` is).
    pub(super) fn is_plain_product(&self) -> bool {
        let is_base = |factor: &Factor| {
            let exponents = factor.row().dimension;
            exponents
                .exponents()
                .iter()
                .filter(|exponent| !exponent.is_zero())
                .all(|each| *each == Exponent::whole(1))
        };
        self.count <= 2 && self.factors().iter().all(is_base)
    }

    /// How many different units it has.
    pub(super) fn count(&self) -> u8 {
        self.count
    }

    /// The product, units of one name joined; `None` when that is more than can be kept.
    pub fn times(mut self, other: Self) -> Option<Self> {
        for factor in other.factors() {
            self.join(*factor)?;
        }
        Some(self)
    }

    pub fn per(self, other: Self) -> Option<Self> {
        self.times(other.to_the(Exponent::whole(-1))?)
    }

    /// The product in which each unit is replaced by another, powers kept; `None` when one of them has none.
    pub(super) fn each_replaced(self, replaced: impl Fn(Self) -> Option<Self>) -> Option<Self> {
        self.factors().iter().try_fold(Self::NONE, |product, factor| {
            let mut single = Self::single(factor.row, factor.prefix);
            single = replaced(single)?;
            product.times(single.to_the(factor.exponent)?)
        })
    }

    pub fn to_the(mut self, power: Exponent) -> Option<Self> {
        if power.is_zero() {
            return Some(Self::NONE);
        }
        for factor in &mut self.factors[..usize::from(self.count)] {
            factor.exponent = factor.exponent.times(power)?;
        }
        Some(self)
    }

    fn join(&mut self, more: Factor) -> Option<()> {
        let count = usize::from(self.count);
        let same = |factor: &Factor| factor.row == more.row && factor.prefix == more.prefix;
        match self.factors[..count].iter().position(same) {
            Some(index) => {
                let exponent = self.factors[index].exponent.plus(more.exponent)?;
                self.factors[index].exponent = exponent;
                if exponent.is_zero() {
                    self.remove(index);
                }
            }
            None => {
                *self.factors.get_mut(count)? = more;
                self.count += 1;
            }
        }
        Some(())
    }

    fn remove(&mut self, index: usize) {
        let count = usize::from(self.count);
        self.factors.copy_within(index + 1..count, index);
        self.factors[count - 1] = Self::NONE.factors[0];
        self.count -= 1;
    }

    /// Units of one dimension written in the first of them: `in·mm` becomes `in^2`.
    pub fn merged(self) -> Self {
        let mut merged = Self::NONE;
        for factor in self.factors() {
            let alike = |kept: &Factor| {
                kept.row().dimension == factor.row().dimension && !kept.row().angle && !factor.row().angle
            };
            let into = merged.factors().iter().find(|kept| alike(kept)).copied();
            let factor = into.map_or(*factor, |kept| Factor { exponent: factor.exponent, ..kept });
            if merged.join(factor).is_none() {
                return self;
            }
        }
        merged
    }

    /// In print: `mm²`, `µm/(m·K)`, `°C`.
    pub fn shown(&self) -> String {
        self.written(&Style { shown: true })
    }

    fn written(&self, style: &Style) -> String {
        if let [factor] = self.factors()
            && factor.exponent.numerator() > 0
        {
            return style.factor(factor, true);
        }
        let side = |above: bool| -> Vec<String> {
            let chosen = self.factors().iter().filter(|factor| (factor.exponent.numerator() > 0) == above);
            chosen.map(|factor| style.factor(factor, above)).collect()
        };
        let (above, below) = (side(true), side(false));
        match (above.len(), below.len()) {
            (_, 0) => above.join("·"),
            (0, 1) => format!("1/{}", below[0]),
            (0, _) => format!("1/({})", below.join("·")),
            (_, 1) => format!("{}/{}", above.join("·"), below[0]),
            _ => format!("{}/({})", above.join("·"), below.join("·")),
        }
    }
}

/// As it is typed, which [`super::Units::parse`] reads back: `mm^2`, `um/(m·K)`, `degC`.
impl fmt::Display for Unit {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.written(&Style { shown: false }))
    }
}

impl Factor {
    fn row(&self) -> &'static Row {
        table::row(self.row)
    }

    /// The factor to SI with prefix and power.
    fn scale(&self) -> Scale {
        let one = self.row().scale.times(Scale::ten(i32::from(self.prefix)));
        if self.exponent.denominator() == 1 && self.exponent.numerator().abs() <= 12 {
            let one = if self.exponent.numerator() < 0 { one.inverse() } else { one };
            return (0..self.exponent.numerator().abs()).fold(Scale::ONE, |scale, _| scale.times(one));
        }
        Scale {
            numerator: libm::pow(one.numerator / one.denominator, self.exponent.as_number()),
            denominator: 1.0,
        }
    }
}

struct Style {
    shown: bool,
}

impl Style {
    fn factor(&self, factor: &Factor, above: bool) -> String {
        let row = factor.row();
        let prefix =
            PREFIXES.iter().find(|(_, _, power)| *power == factor.prefix).map_or("", |(letter, ..)| letter);
        let prefix = if self.shown && prefix == "u" { "µ" } else { prefix };
        let name = if self.shown { &row.shown } else { &row.symbol };
        let numerator = factor.exponent.numerator();
        let numerator = if above { numerator } else { -numerator };
        match (numerator, factor.exponent.denominator()) {
            (1, 1) if prefix.is_empty() => name.clone(),
            (1, 1) => format!("{prefix}{name}"),
            (whole, 1) if self.shown => format!("{prefix}{name}{}", superscript::print(whole.into())),
            (whole, 1) => format!("{prefix}{name}^{whole}"),
            (numerator, denominator) => format!("{prefix}{name}^({numerator}/{denominator})"),
        }
    }
}
