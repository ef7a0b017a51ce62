//! What a formula is converted to: what stands behind `to`.

use super::expression::{Parser, Read};
use super::tree::Target;
use crate::calc::fault::{self, Fault};
use crate::calc::scan::Scan;
use crate::calc::units::{self, Unit};

/// The finest workshop fraction.
const LARGEST_DENOMINATOR: u32 = 1024;

impl Parser<'_> {
    /// What stands behind `to`: `kN`, `1/64 in`, `ft-in`.
    pub(super) fn target(&mut self) -> Read<Target> {
        self.scan.blanks();
        let start = self.scan.at;
        if self.scan.eat("ft-in") {
            return Ok(Target::FeetInches);
        }
        if let Some(target) = self.fraction_target()? {
            return Ok(target);
        }
        match units::unit_here(self.units, &mut self.scan).map_err(Fault::from)? {
            Some(unit) => Ok(Target::Unit(unit)),
            None => Err(Box::new(
                units::unknown_here(self.units, &Scan { text: self.scan.text, at: start }).into(),
            )),
        }
    }

    fn fraction_target(&mut self) -> Read<Option<Target>> {
        let start = self.scan.at;
        if !self.scan.eat("1/") {
            return Ok(None);
        }
        let digits = self.scan.digits();
        if digits.is_empty() {
            self.scan.at = start;
            return Ok(None);
        }
        let denominator = digits.parse().ok().filter(|number| (1..=LARGEST_DENOMINATOR).contains(number));
        let Some(denominator) = denominator else {
            let help = format!("The denominator is a whole number from 1 to {LARGEST_DENOMINATOR}.");
            return Err(
                fault::unexpected(start..self.scan.at, &self.scan.text[start..self.scan.at], &help).into()
            );
        };
        self.scan.blanks();
        let unit = units::unit_here(self.units, &mut self.scan).map_err(Fault::from)?;
        Ok(Some(Target::Fraction(denominator, unit.unwrap_or(Unit::NONE))))
    }
}
