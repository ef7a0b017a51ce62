//! A number that carries its slopes: what a workshop function computes with.
//!
//! A function of several inputs written over [`Real`] yields, in one pass, its value and its exact partial
//! derivative by every input (forward automatic differentiation); the engine chains those with the uncertainty of the inputs.
//! Transcendental functions come from `libm`, so that every platform gives the same digits.

use std::cmp::Ordering;
use std::ops::{Add, Div, Mul, Neg, Sub};

use super::rounding::Rounded;

/// The most inputs one function call may have, fields of records counted singly.
pub const MAX_INPUTS: usize = 24;

/// A value and its partial derivatives by the inputs of the running call.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Real {
    value: f64,
    /// The bound of its rounding errors.
    rounding: f64,
    slopes: [f64; MAX_INPUTS],
}

impl Real {
    /// A number without uncertainty: a constant of the formula.
    pub const fn exact(value: f64) -> Self {
        Self::rounded(Rounded::plain(value))
    }

    /// A number without uncertainty that comes from a calculation.
    pub const fn rounded(value: Rounded) -> Self {
        Self { value: value.value, rounding: value.bound, slopes: [0.0; MAX_INPUTS] }
    }

    /// The input number `index` of a call, below [`MAX_INPUTS`]; its slope by itself is one.
    pub fn input(value: impl Into<Rounded>, index: usize) -> Self {
        let mut real = Self::rounded(value.into());
        real.slopes[index] = 1.0;
        real
    }

    /// The value with the bound of its rounding errors.
    pub const fn as_rounded(self) -> Rounded {
        Rounded { value: self.value, bound: self.rounding }
    }

    pub const fn value(self) -> f64 {
        self.value
    }

    /// The partial derivatives, by input.
    pub const fn slopes(&self) -> &[f64; MAX_INPUTS] {
        &self.slopes
    }

    /// A function of one variable with value `value` and derivative `slope` at this point.
    fn through(self, value: f64, slope: f64) -> Self {
        let Rounded { value, bound: rounding } = self.as_rounded().through(value, slope);
        Self { value, rounding, slopes: self.slopes.map(|each| if each == 0.0 { 0.0 } else { each * slope }) }
    }

    fn combine(self, other: Self, value: Rounded, by_self: f64, by_other: f64) -> Self {
        let mut slopes = [0.0; MAX_INPUTS];
        for (slope, (a, b)) in slopes.iter_mut().zip(self.slopes.iter().zip(&other.slopes)) {
            *slope = a * by_self + b * by_other;
        }
        Self { slopes, ..Self::rounded(value) }
    }

    pub fn sqrt(self) -> Self {
        let root = self.value.sqrt();
        self.through(root, 0.5 / root)
    }

    pub fn squared(self) -> Self {
        self * self
    }

    pub fn cubed(self) -> Self {
        self * self * self
    }

    pub fn powf(self, exponent: f64) -> Self {
        let value = libm::pow(self.value, exponent);
        self.through(value, exponent * libm::pow(self.value, exponent - 1.0))
    }

    /// To a power that may itself be uncertain; squares and cubes by multiplication.
    pub fn to_the(self, exponent: Self) -> Self {
        let number = exponent.value;
        let raised = if number == 2.0 {
            self.squared()
        } else if number == 3.0 {
            self.cubed()
        } else {
            self.powf(number)
        };
        if exponent.slopes.iter().all(|slope| *slope == 0.0) {
            return raised;
        }
        raised + (exponent - number) * raised.value * libm::log(self.value)
    }

    pub fn cbrt(self) -> Self {
        let root = libm::cbrt(self.value);
        self.through(root, 1.0 / (3.0 * root * root))
    }

    pub fn exp(self) -> Self {
        let value = libm::exp(self.value);
        self.through(value, value)
    }

    pub fn ln(self) -> Self {
        self.through(libm::log(self.value), 1.0 / self.value)
    }

    pub fn sin(self) -> Self {
        self.through(libm::sin(self.value), libm::cos(self.value))
    }

    pub fn cos(self) -> Self {
        self.through(libm::cos(self.value), -libm::sin(self.value))
    }

    pub fn tan(self) -> Self {
        let tangent = libm::tan(self.value);
        self.through(tangent, 1.0 + tangent * tangent)
    }

    pub fn asin(self) -> Self {
        self.through(libm::asin(self.value), 1.0 / (1.0 - self.value * self.value).sqrt())
    }

    pub fn acos(self) -> Self {
        self.through(libm::acos(self.value), -1.0 / (1.0 - self.value * self.value).sqrt())
    }

    pub fn atan(self) -> Self {
        self.through(libm::atan(self.value), 1.0 / (1.0 + self.value * self.value))
    }

    pub fn abs(self) -> Self {
        if self.value < 0.0 { -self } else { self }
    }

    pub fn min(self, other: Self) -> Self {
        if other.value < self.value { other } else { self }
    }

    pub fn max(self, other: Self) -> Self {
        if other.value > self.value { other } else { self }
    }
}

impl From<f64> for Real {
    fn from(value: f64) -> Self {
        Self::exact(value)
    }
}

impl PartialOrd for Real {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        self.value.partial_cmp(&other.value)
    }
}

impl PartialEq<f64> for Real {
    fn eq(&self, other: &f64) -> bool {
        self.value == *other
    }
}

impl PartialOrd<f64> for Real {
    fn partial_cmp(&self, other: &f64) -> Option<Ordering> {
        self.value.partial_cmp(other)
    }
}

impl Neg for Real {
    type Output = Self;
    fn neg(self) -> Self {
        Self { value: -self.value, slopes: self.slopes.map(|each| -each), ..self }
    }
}

impl Add for Real {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.combine(other, Rounded::sum(self.as_rounded(), other.as_rounded(), 1.0), 1.0, 1.0)
    }
}

impl Sub for Real {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self.combine(other, Rounded::sum(self.as_rounded(), other.as_rounded(), -1.0), 1.0, -1.0)
    }
}

impl Mul for Real {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        let product = Rounded::product(self.as_rounded(), other.as_rounded());
        self.combine(other, product, other.value, self.value)
    }
}

impl Div for Real {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let quotient = Rounded::quotient(self.as_rounded(), other.as_rounded());
        self.combine(other, quotient, 1.0 / other.value, -quotient.value / other.value)
    }
}

macro_rules! with_plain_numbers {
    ($($operator:ident $method:ident),*) => {$(
        impl $operator<f64> for Real {
            type Output = Real;
            fn $method(self, other: f64) -> Real {
                $operator::$method(self, Real::exact(other))
            }
        }
        impl $operator<Real> for f64 {
            type Output = Real;
            fn $method(self, other: Real) -> Real {
                $operator::$method(Real::exact(self), other)
            }
        }
    )*};
}

with_plain_numbers!(Add add, Sub sub, Mul mul, Div div);

impl std::iter::Sum for Real {
    fn sum<I: Iterator<Item = Self>>(terms: I) -> Self {
        terms.fold(Self::exact(0.0), |total, term| total + term)
    }
}
