//! The round bar or tube that most of this room is about.

use std::f64::consts::PI;

use crate::calc::function::{Call, Refusal};
use crate::calc::real::Real;

use super::within;

/// A round section: outside diameter and bore.
#[derive(Clone, Copy)]
pub(super) struct Round {
    pub d: Real,
    pub bore: Real,
}

impl Round {
    /// From the parameters `d` and `bore`; the bore must leave a wall.
    pub(super) fn of(call: &Call) -> Result<Self, Refusal> {
        Self::between(call.real("d"), call.real("bore"))
    }

    /// Between a diameter and a bore, which must leave a wall.
    pub(super) fn between(d: Real, bore: Real) -> Result<Self, Refusal> {
        within("bore", "the bore", bore, "the outside diameter", d)?;
        Ok(Self { d, bore })
    }

    pub(super) fn area(self) -> Real {
        PI / 4.0 * (self.d.squared() - self.bore.squared())
    }

    /// About a diameter.
    pub(super) fn second_moment(self) -> Real {
        PI / 64.0 * (self.d.squared().squared() - self.bore.squared().squared())
    }

    pub(super) fn section_modulus(self) -> Real {
        2.0 * self.second_moment() / self.d
    }

    /// About the axis; also the torsion constant.
    pub(super) fn polar_moment(self) -> Real {
        2.0 * self.second_moment()
    }

    pub(super) fn polar_modulus(self) -> Real {
        2.0 * self.section_modulus()
    }

    /// The largest shear stress by the largest shear force: 4/3 of the mean if solid, towards twice the mean
    /// if thin.
    pub(super) fn shear_peak(self, force: Real) -> Real {
        let (d, bore) = (self.d, self.bore);
        let rise = (d.squared() + d * bore + bore.squared()) / (d.squared() + bore.squared());
        4.0 / 3.0 * force / self.area() * rise
    }
}
