//! Quantities as the dossier prints them: in its system of units and its money.

use super::prose::several;
use crate::calc::literal::{Literal, Piece};
use crate::calc::print::{self, Printed, Way, counted, rounded, systems};
use crate::calc::units::{System, Unit, Units};
use crate::calc::value::Quantity;
use crate::dossier::Dossier;
use crate::record::{Estimate, MILE};

/// How the dossier prints its quantities.
#[derive(Clone, Copy)]
pub(super) struct Amounts<'a> {
    pub(super) units: &'a Units,
    /// The dossier's own system.
    pub(super) system: System,
    /// Whether the other system stands in brackets.
    pub(super) shows_both: bool,
}

impl<'a> Amounts<'a> {
    pub(super) fn of(dossier: &'a Dossier) -> Self {
        let about = &dossier.about;
        Self { units: &dossier.units, system: about.settings.system, shows_both: about.both }
    }

    /// A quantity in the dossier's system: as it was typed, or converted with what was typed in brackets. What was typed
    /// in the dossier's own has the other system in brackets where the dossier asks for both.
    pub(super) fn typed(&self, literal: &Literal) -> String {
        self.typed_together(&[literal], "")
    }

    /// A nominal size in the dossier's system, as typed or converted to a tenth of a thou or a micrometre: it is exact, so
    /// rounding by the figures it was typed with would move it.
    pub(super) fn typed_size(&self, size: &Literal) -> String {
        let units = self.units;
        let is_foreign = size.unit.system().is_some_and(|system| system != self.system);
        match units.counterpart(size.unit, size.nominal).filter(|_| is_foreign && size.half_width() == 0.0) {
            Some(unit) => {
                let converted = print::exact(unit.from_si(size.nominal), unit).value();
                format!("{converted} ({})", printed_pieces(size))
            }
            None => self.typed(size),
        }
    }

    /// Several quantities as one: `11 ft × 9 in × 9 in (3.35 m × 229 mm × 229 mm)`.
    pub(super) fn typed_together(&self, literals: &[&Literal], between: &str) -> String {
        let own = self.system;
        let is_foreign = |literal: &&Literal| literal.unit.system().is_some_and(|system| system != own);
        let other = |literal: &&Literal| systems::other_literal(literal, self.units);
        let typed: Vec<String> = literals.iter().map(|literal| printed_pieces(literal)).collect();
        let others: Vec<Option<String>> = literals.iter().map(other).collect();
        let leads: Vec<String> = literals
            .iter()
            .zip(&typed)
            .zip(&others)
            .map(|((literal, typed), other)| {
                other.clone().filter(|_| is_foreign(literal)).unwrap_or_else(|| typed.clone())
            })
            .collect();
        if leads == typed && !self.shows_both {
            return leads.join(between);
        }
        let seconds: Vec<String> = leads
            .iter()
            .zip(typed)
            .zip(others)
            .map(|((lead, typed), other)| if *lead == typed { other.unwrap_or(typed) } else { typed })
            .collect();
        if seconds == leads {
            return leads.join(between);
        }
        format!("{} ({})", leads.join(between), seconds.join(between))
    }

    /// A worked-out value in the other system, without its uncertainty, where the dossier asks for both.
    pub(super) fn other(&self, value: &Quantity) -> Option<String> {
        let other = systems::other(value, self.units).filter(|_| self.shows_both)?;
        Some(other.plain().value())
    }

    /// A time or cost with its range.
    pub(super) fn estimate(&self, estimate: &Estimate) -> String {
        let unit = estimate.unit;
        let figure = |value: f64| print::exact(unit.from_si(value), unit).figure();
        let says = if estimate.low < estimate.high {
            format!("{} to {}", figure(estimate.low), figure(estimate.high))
        } else {
            figure(estimate.likely)
        };
        format!("{says} {}", several(&unit.shown(), &says))
    }

    pub(super) fn mass_unit(&self) -> Unit {
        let name = match self.system {
            System::Inch => "lb",
            System::Metric => "kg",
        };
        self.units.named(name).unwrap_or_default()
    }

    /// The ends of a mass in the dossier's unit, from kilograms, the lower rounded down and the upper up: `560 to 700`; one
    /// figure where they are the same.
    pub(super) fn mass_numbers(&self, ends: (f64, f64)) -> String {
        let (low, high) = self.mass_ends(ends);
        high.map_or_else(|| low.figure(), |high| format!("{} to {}", low.figure(), high.figure()))
    }

    fn mass_ends(&self, (low, high): (f64, f64)) -> (Printed, Option<Printed>) {
        let unit = self.mass_unit();
        print::known_ends((unit.from_si(low), unit.from_si(high)), unit)
    }

    /// The ends with the unit.
    pub(super) fn masses(&self, ends: (f64, f64)) -> String {
        match self.mass_ends(ends) {
            (_, None) => self.mass(ends.1),
            (low, Some(high)) => format!("{} to {}{}", low.figure(), high.value(), self.in_other(ends)),
        }
    }

    /// The upper end in the other system, where both are printed.
    fn in_other(&self, (low, high): (f64, f64)) -> String {
        let other = self.units.counterpart(self.mass_unit(), high).filter(|_| self.shows_both);
        let ends = |unit: Unit| print::known_ends((unit.from_si(low), unit.from_si(high)), unit).1;
        let upper = other.and_then(ends);
        upper.map(|upper| format!(" ({})", upper.value())).unwrap_or_default()
    }

    pub(super) fn mass(&self, kilograms: f64) -> String {
        self.mass_to(kilograms, Way::Nearest)
    }

    /// A mass that is not exceeded.
    pub(super) fn at_most(&self, kilograms: f64) -> String {
        self.mass_to(kilograms, Way::Up)
    }

    fn mass_to(&self, kilograms: f64, way: Way) -> String {
        let figure = |unit: Unit| print::exact_to(unit.from_si(kilograms), unit, way).value();
        let unit = self.mass_unit();
        let other = self.units.counterpart(unit, kilograms).filter(|_| self.shows_both);
        let other = other.map(|other| format!(" ({})", figure(other))).unwrap_or_default();
        format!("{}{other}", figure(unit))
    }

    /// How far a shop is, from metres: `17 miles`, `0.2 miles`, `27 km`.
    pub(super) fn away(&self, metres: f64) -> String {
        let figure = |distance: f64| rounded(distance, 1).trim_end_matches(".0").to_owned();
        match self.system {
            System::Inch => counted(figure(metres / MILE), "mile"),
            System::Metric => format!("{} km", figure(metres / 1e3)),
        }
    }

    /// A length in the dossier's unit alone, from metres: a cell of a table.
    pub(super) fn length(&self, metres: f64) -> String {
        let name = match self.system {
            System::Inch => "in",
            System::Metric => "mm",
        };
        let unit = self.units.named(name).unwrap_or_default();
        print::exact(unit.from_si(metres), unit).value()
    }
}

/// Whole units of the dossier's money, thousands apart.
pub(super) fn money(amount: f64) -> String {
    let digits = format!("{amount:.2}");
    let (sign, digits) = digits.strip_prefix('-').map_or(("", digits.as_str()), |rest| ("-", rest));
    let (digits, cents) = digits.split_once('.').unwrap_or((digits, "00"));
    let cents = if cents == "00" { String::new() } else { format!(".{cents}") };
    let groups: Vec<&str> =
        digits.as_bytes().rchunks(3).rev().filter_map(|group| std::str::from_utf8(group).ok()).collect();
    format!("{sign}{}{cents}", groups.join("\u{202f}"))
}

/// A quantity as typed: `2 5/16 in`, `25 mm +0.021/−0`.
fn printed_pieces(literal: &Literal) -> String {
    let piece = |piece: &Piece| match piece {
        Piece::Figures(figures) => figures.clone(),
        Piece::Unit(unit) => several(&unit.shown(), &literal.print()),
        Piece::PlusMinus => "±".to_owned(),
        Piece::To => "to".to_owned(),
        Piece::Limits(upper, lower) => format!("{upper}/{lower}"),
    };
    let pieces: Vec<String> = literal.pieces().iter().map(piece).filter(|piece| !piece.is_empty()).collect();
    pieces.join(" ")
}
