//! The dimension of a quantity: a canonical product of base dimensions with rational exponents.

use std::fmt;

/// How many base dimensions there are: the seven of the SI and money.
pub const BASES: usize = 8;

/// The denominators of whole exponents.
const ONES: [i16; BASES] = [1; BASES];

/// An exponent in lowest terms, with a positive denominator.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Exponent {
    numerator: i16,
    denominator: i16,
}

/// A product of powers of length, mass, time, current, temperature, amount of substance,
/// luminous intensity and money, in that order. Plain angle is a number.
///
/// The parts of the exponents stand apart, so that whole powers add and compare all at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Dimension {
    numerators: [i16; BASES],
    denominators: [i16; BASES],
}

impl Default for Exponent {
    fn default() -> Self {
        Self::ZERO
    }
}

impl Exponent {
    pub const ZERO: Self = Self::whole(0);

    /// A whole exponent.
    pub const fn whole(numerator: i16) -> Self {
        Self { numerator, denominator: 1 }
    }

    /// In lowest terms; `None` for a zero denominator or a part beyond the range of `i16`.
    pub fn ratio(numerator: i32, denominator: i32) -> Option<Self> {
        if denominator == 0 {
            return None;
        }
        let shared = common_divisor(numerator, denominator) * denominator.signum();
        let numerator = i16::try_from(numerator / shared).ok()?;
        let denominator = i16::try_from(denominator / shared).ok()?;
        Some(Self { numerator, denominator })
    }

    /// The exponent that `number` is, if it is a fraction with a denominator up to [`LARGEST_DENOMINATOR`].
    pub fn from_number(number: f64) -> Option<Self> {
        // In range by the comparison.
        #[allow(clippy::cast_possible_truncation)]
        let whole = number as i16;
        if f64::from(whole) == number {
            return Some(Self::whole(whole));
        }
        (1..=LARGEST_DENOMINATOR).find_map(|denominator| {
            let numerator = number * f64::from(denominator);
            let near = numerator.round();
            let fits = near.abs() <= f64::from(i16::MAX) && (numerator - near).abs() <= 1e-9;
            // In range by the line above.
            #[allow(clippy::cast_possible_truncation)]
            fits.then(|| Self::ratio(near as i32, denominator))?
        })
    }

    pub fn as_number(self) -> f64 {
        f64::from(self.numerator) / f64::from(self.denominator)
    }

    pub const fn numerator(self) -> i16 {
        self.numerator
    }

    pub const fn denominator(self) -> i16 {
        self.denominator
    }

    pub const fn is_zero(self) -> bool {
        self.numerator == 0
    }

    pub(super) fn plus(self, other: Self) -> Option<Self> {
        if self.denominator == 1 && other.denominator == 1 {
            return self.numerator.checked_add(other.numerator).map(Self::whole);
        }
        let (a, b) = (i32::from(self.denominator), i32::from(other.denominator));
        let numerator = i32::from(self.numerator)
            .checked_mul(b)?
            .checked_add(i32::from(other.numerator).checked_mul(a)?)?;
        Self::ratio(numerator, a.checked_mul(b)?)
    }

    fn negative(self) -> Option<Self> {
        Some(Self { numerator: self.numerator.checked_neg()?, ..self })
    }

    /// The product of two exponents: a power of a power.
    pub fn times(self, other: Self) -> Option<Self> {
        if self.denominator == 1 && other.denominator == 1 {
            return self.numerator.checked_mul(other.numerator).map(Self::whole);
        }
        Self::ratio(
            i32::from(self.numerator) * i32::from(other.numerator),
            i32::from(self.denominator) * i32::from(other.denominator),
        )
    }
}

/// The largest denominator of an exponent that is recognised in a calculation.
pub const LARGEST_DENOMINATOR: i32 = 12;

fn common_divisor(a: i32, b: i32) -> i32 {
    let (mut a, mut b) = (a.abs(), b.abs());
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}

impl Dimension {
    pub const NONE: Self = Self::of(0, 0, 0);
    pub const LENGTH: Self = Self::of(1, 0, 0);
    pub const AREA: Self = Self::of(2, 0, 0);
    pub const VOLUME: Self = Self::of(3, 0, 0);
    /// Second moment of area.
    pub const SECOND_MOMENT: Self = Self::of(4, 0, 0);
    pub const MASS: Self = Self::of(0, 1, 0);
    pub const TIME: Self = Self::of(0, 0, 1);
    pub const SPEED: Self = Self::of(1, 0, -1);
    pub const ACCELERATION: Self = Self::of(1, 0, -2);
    /// Rotational speed, frequency: angle is a number.
    pub const RATE: Self = Self::of(0, 0, -1);
    pub const FORCE: Self = Self::of(1, 1, -2);
    /// Torque, bending moment, energy.
    pub const MOMENT: Self = Self::of(2, 1, -2);
    pub const POWER: Self = Self::of(2, 1, -3);
    /// Stress, pressure, modulus of elasticity.
    pub const STRESS: Self = Self::of(-1, 1, -2);
    /// Force per length: a stiffness, a line load.
    pub const STIFFNESS: Self = Self::of(0, 1, -2);
    pub const DENSITY: Self = Self::of(-3, 1, 0);
    /// Dynamic viscosity.
    pub const VISCOSITY: Self = Self::of(-1, 1, -1);
    /// Pressure times speed, the load figure of a plain bearing.
    pub const PV: Self = Self::of(0, 1, -3);
    pub const TEMPERATURE: Self = Self::base(4, 1);
    /// Thermal expansion per degree.
    pub const EXPANSION: Self = Self::base(4, -1);
    pub const MONEY: Self = Self::base(7, 1);
    /// What an hour of a shop costs.
    pub const MONEY_RATE: Self = Self::base(7, 1).divided_by_time();

    /// The mechanical dimension length^`length` mass^`mass` time^`time`.
    pub const fn of(length: i16, mass: i16, time: i16) -> Self {
        Self::whole([length, mass, time, 0, 0, 0, 0, 0])
    }

    const fn whole(numerators: [i16; BASES]) -> Self {
        Self { numerators, denominators: ONES }
    }

    const fn base(index: usize, power: i16) -> Self {
        let mut numerators = [0; BASES];
        numerators[index] = power;
        Self::whole(numerators)
    }

    const fn divided_by_time(mut self) -> Self {
        self.numerators[2] = -1;
        self
    }

    /// The dimension of a base unit, by its place among the bases.
    pub(super) const fn of_base(index: usize) -> Self {
        Self::base(index, 1)
    }

    /// The exponents of the bases, in their order.
    pub fn exponents(&self) -> [Exponent; BASES] {
        std::array::from_fn(|base| Exponent {
            numerator: self.numerators[base],
            denominator: self.denominators[base],
        })
    }

    fn is_whole(&self) -> bool {
        self.denominators == ONES
    }

    /// The dimension of a product; `None` when an exponent leaves the range of `i16`.
    pub fn times(self, other: Self) -> Option<Self> {
        self.joined(other, i16::overflowing_add, Exponent::plus)
    }

    /// The dimension of a quotient; `None` when an exponent leaves the range of `i16`.
    pub fn per(self, other: Self) -> Option<Self> {
        self.joined(other, i16::overflowing_sub, |one, other| one.plus(other.negative()?))
    }

    /// Each exponent with its like: `whole` where all are whole numbers, which is nearly always.
    fn joined(
        self,
        other: Self,
        whole: impl Fn(i16, i16) -> (i16, bool),
        broken: impl Fn(Exponent, Exponent) -> Option<Exponent>,
    ) -> Option<Self> {
        if self.is_whole() && other.is_whole() {
            let pairs: [_; BASES] =
                std::array::from_fn(|base| whole(self.numerators[base], other.numerators[base]));
            let overflows = pairs.iter().fold(false, |any, (_, overflows)| any | overflows);
            return (!overflows).then(|| Self::whole(pairs.map(|(sum, _)| sum)));
        }
        let (ours, theirs) = (self.exponents(), other.exponents());
        Self::of_exponents(|base| broken(ours[base], theirs[base]))
    }

    /// The dimension of a power; `None` when an exponent leaves the range of `i16`.
    pub fn to_the(self, power: Exponent) -> Option<Self> {
        let exponents = self.exponents();
        Self::of_exponents(|base| exponents[base].times(power))
    }

    fn of_exponents(exponent: impl Fn(usize) -> Option<Exponent>) -> Option<Self> {
        let mut result = Self::NONE;
        for base in 0..BASES {
            let Exponent { numerator, denominator } = exponent(base)?;
            (result.numerators[base], result.denominators[base]) = (numerator, denominator);
        }
        Some(result)
    }

    /// Its name where the trade has one: `"force"`, `"stress or pressure"`.
    pub fn name(&self) -> Option<&'static str> {
        NAMES.iter().find(|(dimension, _)| dimension == self).map(|(_, name)| *name)
    }
}

/// The dimensions that have a name of their own.
static NAMES: &[(Dimension, &str)] = &[
    (Dimension::NONE, "plain number"),
    (Dimension::LENGTH, "length"),
    (Dimension::AREA, "area"),
    (Dimension::VOLUME, "volume"),
    (Dimension::SECOND_MOMENT, "second moment of area"),
    (Dimension::MASS, "mass"),
    (Dimension::TIME, "time"),
    (Dimension::SPEED, "speed"),
    (Dimension::ACCELERATION, "acceleration"),
    (Dimension::RATE, "rate"),
    (Dimension::FORCE, "force"),
    (Dimension::MOMENT, "moment or energy"),
    (Dimension::POWER, "power"),
    (Dimension::STRESS, "stress or pressure"),
    (Dimension::STIFFNESS, "force per length"),
    (Dimension::DENSITY, "density"),
    (Dimension::VISCOSITY, "dynamic viscosity"),
    (Dimension::of(2, 0, -1), "kinematic viscosity"),
    (Dimension::of(3, 0, -1), "volume flow"),
    (Dimension::of(0, 1, -1), "mass flow"),
    (Dimension::of(2, 1, 0), "moment of inertia"),
    (Dimension::of(-1, 0, 0), "number per length"),
    (Dimension::of(-1, 1, 0), "mass per length"),
    (Dimension::PV, "pressure times speed"),
    (Dimension::TEMPERATURE, "temperature difference"),
    (Dimension::EXPANSION, "thermal expansion"),
    (Dimension::MONEY, "sum of money"),
    (Dimension::MONEY_RATE, "cost per time"),
    (Dimension::base(3, 1), "electric current"),
    (Dimension::base(5, 1), "amount of substance"),
    (Dimension::base(6, 1), "luminous intensity"),
];

/// The words for the bases, in their order.
const BASE_WORDS: [&str; BASES] =
    ["length", "mass", "time", "current", "temperature", "amount", "luminous intensity", "money"];

/// The name, or the product of base dimensions: `length^2 mass / time`.
impl fmt::Display for Dimension {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(name) = self.name() {
            return out.write_str(name);
        }
        let side = |above: bool| {
            let parts = BASE_WORDS
                .iter()
                .zip(self.exponents())
                .filter(|(_, exponent)| !exponent.is_zero() && (exponent.numerator > 0) == above)
                .map(|(word, exponent)| power(word, exponent));
            parts.collect::<Vec<_>>().join(" ")
        };
        match (side(true).as_str(), side(false).as_str()) {
            (above, "") => out.write_str(above),
            ("", below) => write!(out, "1 / {below}"),
            (above, below) => write!(out, "{above} / {below}"),
        }
    }
}

fn power(word: &str, exponent: Exponent) -> String {
    match (exponent.numerator.unsigned_abs(), exponent.denominator) {
        (1, 1) => word.to_owned(),
        (whole, 1) => format!("{word}^{whole}"),
        (numerator, denominator) => format!("{word}^({numerator}/{denominator})"),
    }
}
