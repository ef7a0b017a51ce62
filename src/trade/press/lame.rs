//! Lamé's two rings: one formula for every pair of materials, hollow or solid.

use crate::calc::function::{Call, Refusal};
use crate::calc::real::Real;

/// Two cylinders one in the other: diameters and elastic constants.
#[derive(Clone, Copy)]
pub(in crate::trade) struct Rings {
    pub d: Real,
    outer: Real,
    inner: Real,
    hub: Elastic,
    shaft: Elastic,
}

/// What a material gives in elasticity.
#[derive(Clone, Copy)]
pub(in crate::trade) struct Elastic {
    pub modulus: Real,
    pub poisson: Real,
}

/// The ring that is left without a wall by its diameters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::trade) enum NoWall {
    Hub,
    Shaft,
}

impl NoWall {
    /// What is wrong, with the names that the two rings have where they are used.
    pub(in crate::trade) fn says(self, hub: &str, shaft: &str) -> String {
        match self {
            Self::Hub => {
                format!("the {hub} is thinner than nothing: its outside is no larger than the interface")
            }
            Self::Shaft => {
                format!("the {shaft} is thinner than nothing: its bore is no smaller than the interface")
            }
        }
    }

    /// The refusal of a call with `outer` and `inner`.
    pub(in crate::trade) fn refusal(self) -> Refusal {
        let (parameter, help) = match self {
            Self::Hub => ("outer", "`outer` must be larger than the interface diameter."),
            Self::Shaft => ("inner", "`inner` must be smaller than the interface diameter."),
        };
        Refusal::of(parameter, self.says("hub", "inner member"), help)
    }
}

impl Elastic {
    /// The modulus and Poisson's ratio of a material argument.
    pub(in crate::trade) fn of(call: &Call, parameter: &'static str) -> Result<Self, Refusal> {
        Ok(Self { modulus: property(call, parameter, "E")?, poisson: property(call, parameter, "poisson")? })
    }
}

impl Rings {
    /// From a call with `d`, `outer`, `inner`, `hub` and `shaft`.
    pub(in crate::trade) fn of(call: &Call) -> Result<Self, Refusal> {
        let diameters = (call.real("d"), call.real("outer"), call.real("inner"));
        Self::new(diameters, Elastic::of(call, "hub")?, Elastic::of(call, "shaft")?).map_err(NoWall::refusal)
    }

    /// From the interface, the outside and the inside diameter.
    pub(in crate::trade) fn new(
        (d, outer, inner): (Real, Real, Real),
        hub: Elastic,
        shaft: Elastic,
    ) -> Result<Self, NoWall> {
        match (outer <= d, inner >= d) {
            (true, _) => Err(NoWall::Hub),
            (false, true) => Err(NoWall::Shaft),
            (false, false) => Ok(Self { d, outer, inner, hub, shaft }),
        }
    }

    /// Hoop stress at the hub's bore, per pressure.
    pub(in crate::trade) fn hub_ratio(&self) -> Real {
        let (outer, d) = (self.outer.squared(), self.d.squared());
        (outer + d) / (outer - d)
    }

    /// Hoop stress at the shaft's surface, per pressure, as a compression.
    pub(in crate::trade) fn shaft_ratio(&self) -> Real {
        let (d, inner) = (self.d.squared(), self.inner.squared());
        (d + inner) / (d - inner)
    }

    /// The greatest hoop compression in the shaft per pressure: at its bore if it has one.
    pub(in crate::trade) fn shaft_bore_ratio(&self) -> Real {
        if self.inner == 0.0 {
            return Real::exact(1.0);
        }
        2.0 * self.d.squared() / (self.d.squared() - self.inner.squared())
    }

    /// Diametral interference per pressure.
    fn compliance(&self) -> Real {
        let hub = (self.hub_ratio() + self.hub.poisson) / self.hub.modulus;
        let shaft = (self.shaft_ratio() - self.shaft.poisson) / self.shaft.modulus;
        self.d * (hub + shaft)
    }

    pub(in crate::trade) fn pressure(&self, interference: Real) -> Real {
        interference / self.compliance()
    }

    pub(in crate::trade) fn interference(&self, pressure: Real) -> Real {
        pressure * self.compliance()
    }

    /// Equivalent stress (von Mises) at the hub's bore.
    pub(in crate::trade) fn hub_equivalent(&self, pressure: Real) -> Real {
        let ratio = self.hub_ratio();
        pressure * (ratio.squared() + ratio + 1.0).sqrt()
    }
}

/// A property of a material argument; refused in words if the material does not give it.
pub(in crate::trade) fn property(call: &Call, parameter: &'static str, field: &str) -> Result<Real, Refusal> {
    call.field_of(parameter, field).ok_or_else(|| {
        let name = call.text_of(parameter, "name").unwrap_or("this material");
        let what = match field {
            "E" => "modulus of elasticity (`E`)",
            "poisson" => "Poisson's ratio (`poisson`)",
            "cte" => "thermal expansion (`cte`)",
            other => other,
        };
        Refusal::of(
            parameter,
            format!("`{name}` gives no {what}"),
            "Choose a material of the table that gives it.",
        )
    })
}
