//! A fit, metric or inch, resolved at a nominal size into the limits of hole and shaft.

use std::fmt;

use super::ansi_b41::{self, InchFit};
use super::iso286::{self, Class, Member};
use crate::calc::function::Refusal;

/// What stands in the key `fit:` of a part, or in a call of `fit`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fit {
    /// `H7/k6`
    Pair {
        /// The hole's class.
        hole: Class,
        /// The shaft's class.
        shaft: Class,
    },
    /// `H7`: one member only.
    Alone(Class),
    /// `RC4`
    Inch(InchFit),
}

/// The unit in which a standard's table is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// A thousandth of a millimetre.
    Micrometre,
    /// A thousandth of an inch.
    Thou,
}

/// The limit deviations of one member from the nominal size, in the table's [`Unit`].
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// `H7`, or the inch fit's name.
    pub class: String,
    /// The lower limit deviation.
    pub lower: f64,
    /// The upper limit deviation.
    pub upper: f64,
}

/// A fit at a nominal size.
#[derive(Clone, Debug, PartialEq)]
pub struct Resolved {
    /// In metres.
    pub size: f64,
    /// In which the limits are given.
    pub unit: Unit,
    /// `None` for a shaft alone.
    pub hole: Option<Limits>,
    /// `None` for a hole alone.
    pub shaft: Option<Limits>,
    /// What is uncertain about the table's figures.
    pub uncertainty: Option<&'static str>,
}

/// Clearance between hole and shaft, negative where they interfere, in the table's [`Unit`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// With the smallest hole and the largest shaft.
    pub min: f64,
    /// With the largest hole and the smallest shaft.
    pub max: f64,
}

/// ISO 286-1:2010, 3.3.4 to 3.3.6.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FitKind {
    /// Never tighter than touching.
    Clearance,
    /// Clearance or interference, as the pair turns out.
    Transition,
    /// Never looser than touching.
    Interference,
}

impl Fit {
    /// Reads `H7/k6`, `H7` or `RC4`.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        if InchFit::looks_like(text.trim()) {
            return InchFit::parse(text).map(Self::Inch);
        }
        let Some((first, second)) = text.split_once('/') else {
            return Class::parse(text).map(Self::Alone);
        };
        let (hole, shaft) = (Class::parse(first)?, Class::parse(second)?);
        match (hole.member(), shaft.member()) {
            (Member::Hole, Member::Shaft) => Ok(Self::Pair { hole, shaft }),
            (Member::Shaft, Member::Hole) => Err(Refusal::whole(
                format!("`{}` names the shaft before the hole", text.trim()),
                format!("Write the hole first: {shaft}/{hole}."),
            )),
            (member, _) => Err(Refusal::whole(
                format!("`{}` names two classes of a {}", text.trim(), member.word()),
                "A fit is a hole in capitals and a shaft in small letters: H7/k6.",
            )),
        }
    }
}

impl fmt::Display for Fit {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Self::Pair { hole, shaft } => write!(out, "{hole}/{shaft}"),
            Self::Alone(class) => class.fmt(out),
            Self::Inch(fit) => fit.fmt(out),
        }
    }
}

impl Unit {
    /// In metres.
    pub const fn metres(self) -> f64 {
        match self {
            Self::Micrometre => 1e-6,
            Self::Thou => 25.4e-6,
        }
    }
}

impl FitKind {
    /// `clearance`, `transition` or `interference`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Clearance => "clearance",
            Self::Transition => "transition",
            Self::Interference => "interference",
        }
    }
}

impl Clearance {
    fn between(hole: &Limits, shaft: &Limits) -> Self {
        // To a tenth of a nanometre, finer than any table: 2.1 - 0.7 is 1.4, not a hair more.
        let tidy = |value: f64| (value * 1e4).round() / 1e4;
        Self { min: tidy(hole.lower - shaft.upper), max: tidy(hole.upper - shaft.lower) }
    }

    /// Which kind of fit has that clearance.
    pub fn kind(self) -> FitKind {
        if self.min >= 0.0 {
            FitKind::Clearance
        } else if self.max <= 0.0 {
            FitKind::Interference
        } else {
            FitKind::Transition
        }
    }
}

impl Resolved {
    /// The clearance of the pair; `None` for one member alone.
    pub fn clearance(&self) -> Option<Clearance> {
        Some(Clearance::between(self.hole.as_ref()?, self.shaft.as_ref()?))
    }

    /// The least and greatest size of one member, in metres: what a part's measurements are judged against.
    pub fn sizes(&self, member: Member) -> Option<(f64, f64)> {
        let limits = self.member(member)?;
        let size = |deviation: f64| self.size + deviation * self.unit.metres();
        Some((size(limits.lower), size(limits.upper)))
    }

    /// The limits of one member, as deviations.
    pub const fn member(&self, member: Member) -> Option<&Limits> {
        match member {
            Member::Hole => self.hole.as_ref(),
            Member::Shaft => self.shaft.as_ref(),
        }
    }
}

/// The limits of `fit` at the nominal `size` in metres.
pub fn resolve(fit: Fit, size: f64) -> Result<Resolved, Refusal> {
    match fit {
        Fit::Pair { hole, shaft } => metric(size, Some(hole), Some(shaft)),
        Fit::Alone(class) if class.member() == Member::Hole => metric(size, Some(class), None),
        Fit::Alone(class) => metric(size, None, Some(class)),
        Fit::Inch(fit) => inch(size, fit),
    }
}

fn metric(size: f64, hole: Option<Class>, shaft: Option<Class>) -> Result<Resolved, Refusal> {
    let limits = |class: Class| {
        let deviations = iso286::deviations(class, size * 1e3)?;
        Ok(Limits { class: class.to_string(), lower: deviations.lower_um, upper: deviations.upper_um })
    };
    let (hole, shaft) = (hole.map(limits).transpose()?, shaft.map(limits).transpose()?);
    Ok(Resolved { size, unit: Unit::Micrometre, hole, shaft, uncertainty: None })
}

fn inch(size: f64, fit: InchFit) -> Result<Resolved, Refusal> {
    let table = ansi_b41::limits(fit, size / 0.0254)?;
    let limits = |lower, upper| Some(Limits { class: fit.to_string(), lower, upper });
    Ok(Resolved {
        size,
        unit: Unit::Thou,
        hole: limits(table.hole_lower_thou, table.hole_upper_thou),
        shaft: limits(table.shaft_lower_thou, table.shaft_upper_thou),
        uncertainty: table.uncertainty,
    })
}
