//! ANSI B4.1-1967: preferred inch fits, from the printed table of limits.

use std::fmt;

use crate::calc::function::Refusal;
use crate::trade::sources;
use crate::trade::table::{Row, Table};

pub(in crate::trade) static FITS: Table = Table::of(include_str!("../data/ansi_b41_fits.csv"));

/// The families of the standard: letters, how many fits each has, what it calls them.
const FAMILIES: [(&str, u8, &str); 5] = [
    ("RC", 9, "running or sliding clearance"),
    ("LC", 11, "locational clearance"),
    ("LT", 6, "locational transition"),
    ("LN", 3, "locational interference"),
    ("FN", 5, "force or shrink"),
];

/// A preferred fit of the standard: `RC4`, `FN2`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InchFit {
    family: usize,
    number: u8,
}

/// The limits of both members, in thousandths of an inch from the basic size.
#[derive(Clone, Debug, PartialEq)]
pub struct InchLimits {
    /// Usually 0: the fits are on the hole basis.
    pub hole_lower_thou: f64,
    /// Above the basic size.
    pub hole_upper_thou: f64,
    /// Negative: below the basic size.
    pub shaft_lower_thou: f64,
    /// Negative: below the basic size.
    pub shaft_upper_thou: f64,
    /// What is uncertain about this row of the table.
    pub uncertainty: Option<&'static str>,
}

impl InchFit {
    /// Whether the text starts with the letters of a family, so that it can only be an inch fit.
    pub fn looks_like(text: &str) -> bool {
        let text = text.to_ascii_uppercase();
        FAMILIES.iter().any(|(letters, ..)| {
            text.strip_prefix(letters)
                .is_some_and(|rest| rest.trim_start().starts_with(|c: char| c.is_ascii_digit()))
        })
    }

    /// Reads a fit as it is written on a drawing; small letters and a space before the number are allowed.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let text = text.trim();
        let upper = text.to_ascii_uppercase();
        let family = FAMILIES.iter().position(|(letters, ..)| upper.starts_with(letters));
        let number = family.and_then(|family| upper[FAMILIES[family].0.len()..].trim_start().parse().ok());
        match (family, number) {
            (Some(family), Some(number)) if (1..=FAMILIES[family].1).contains(&number) => {
                Ok(Self { family, number })
            }
            _ => Err(Refusal::whole(format!("`{text}` is no fit of ANSI B4.1"), choices())),
        }
    }

    /// What the standard calls the family.
    pub const fn family(self) -> &'static str {
        FAMILIES[self.family].2
    }
}

impl fmt::Display for InchFit {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        write!(out, "{}{}", FAMILIES[self.family].0, self.number)
    }
}

fn choices() -> String {
    let families = FAMILIES.map(|(letters, last, _)| format!("{letters}1 to {letters}{last}"));
    format!("The fits are {}.", families.join(", "))
}

/// The limits of `fit` at the basic size `size_in` in inches.
pub fn limits(fit: InchFit, size_in: f64) -> Result<InchLimits, Refusal> {
    let size = (size_in * 1e7).round() / 1e7;
    let name = fit.to_string();
    let of_fit = || FITS.rows().iter().filter(|row| row.text("fit") == name);
    let row = of_fit().find(|row| number(row, "over_in") < size && size <= number(row, "upto_in"));
    row.map(read).ok_or_else(|| {
        let over = of_fit().map(|row| number(row, "over_in")).fold(f64::INFINITY, f64::min);
        let upto = of_fit().map(|row| number(row, "upto_in")).fold(0.0, f64::max);
        Refusal::of(
            "at",
            format!("the table gives no limits of {name} at {size} in"),
            format!("It gives {name} over {over} up to {upto} in."),
        )
    })
}

fn read(row: &'static Row) -> InchLimits {
    InchLimits {
        hole_lower_thou: number(row, "hole_lower"),
        hole_upper_thou: number(row, "hole_upper"),
        shaft_lower_thou: number(row, "shaft_lower"),
        shaft_upper_thou: number(row, "shaft_upper"),
        uncertainty: uncertainty(row),
    }
}

fn uncertainty(row: &'static Row) -> Option<&'static str> {
    if sources::any_recalled(&sources::named(row.text("source"))) {
        return Some("these limits are from memory, checked only by the width of the tolerance grade");
    }
    (row.text("note") == "disputed").then_some("printed tables differ on these limits by up to 0.0012 in")
}

fn number(row: &Row, column: &str) -> f64 {
    row.number(column).unwrap_or(f64::NAN)
}
