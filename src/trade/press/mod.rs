//! Press and shrink fits after Lamé: pressure, stresses, force, torque, temperatures.
//!
//! Takes: diameters, materials, friction. Gives: what the fit bears and what it takes to put together or apart; a yield
//! strength that is passed is said with its figure. Every interference is diametral: on the diameter, twice the radial
//! one of the elasticity texts. Never: picks the friction, which is for the person to give.

use super::declare::{in_work, needed, or_number, quantity, recalled, stress};
use super::say;
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Source, Takes};
use crate::calc::real::Real;

mod fit;
mod growth;
mod interference;
mod lame;
mod temperature;

pub(super) use lame::{Elastic, NoWall, Rings, property};

/// The functions of this room.
pub const FUNCTIONS: &[&Function] = &[
    &fit::PRESS_FIT,
    &interference::INTERFERENCE_FOR_STRESS,
    &interference::INTERFERENCE_TO_HOLD,
    &growth::PRESS_FROM_GROWTH,
    &temperature::SHRINK_TEMPERATURES,
];

/// A length above zero.
const SIZE: Takes = Takes::Positive(Dimension::LENGTH);
/// A length, or none.
const SIZE_OR_NONE: Takes = Takes::NotNegative(Dimension::LENGTH);

const D: Parameter = needed("d", SIZE, "diameter of the interface");
const LONG: Parameter = needed("length", SIZE, "length in contact");
const OUTER: Parameter = needed("outer", SIZE, "outside diameter of the hub");
const INTERFERENCE: Parameter =
    needed("interference", SIZE, "diametral interference: shaft diameter less hub bore");
const INNER: Parameter =
    or_number("inner", SIZE_OR_NONE, 0.0, "bore of the shaft; 0, as if not given, for a solid one");
const HUB: Parameter = needed("hub", Takes::Material, "material of the hub");
const SHAFT: Parameter = needed("shaft", Takes::Material, "material of the shaft");
const MU: Parameter = needed(
    "mu",
    Takes::Positive(Dimension::NONE),
    "friction coefficient; high for the push, low for what is held: 0.10 to 0.20 dry steel, 0.05 to 0.12 \
     oiled",
);
const ROUGHNESS_HUB: Parameter =
    or_number("roughness_hub", SIZE_OR_NONE, 0.0, "roughness height Rz of the bore, flattened in assembly");
const ROUGHNESS_SHAFT: Parameter =
    or_number("roughness_shaft", SIZE_OR_NONE, 0.0, "roughness height Rz of the shaft");

const fn kilonewtons(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::FORCE, ["kN", "lbf"], meaning)
}

const PRESSURE: Output = stress("pressure", "contact pressure");

const ELASTIC: &str = "elastic, at rest, at one temperature, members of equal length and constant section; \
                       the ends of a hub carry a peak of up to twice the pressure";
const SOURCE: &[Source] = &[
    in_work(
        "A. C. Ugural and S. K. Fenster, Advanced Strength and Applied Elasticity",
        "",
        "ch. 8 (Lamé, compound cylinders)",
    ),
    recalled("DIN 7190-1", "", "roughness loss"),
];

/// Warns where a stress passes what the material stands; says so where that is not known.
///
/// `tension` is the greatest tensile stress (for brittle materials, which have no yield), `equivalent` the von Mises
/// stress, both not negative.
pub(super) fn judge_strength(
    answer: Answer,
    call: &Call,
    (parameter, part): (&'static str, &str),
    (tension, equivalent): (Real, Real),
) -> Answer {
    let name = call.text_of(parameter, "name").unwrap_or("its material");
    let limit = |field| call.field_of(parameter, field);
    let (stress, limit, word) = match (limit("yield"), limit("uts"), limit("compressive")) {
        (Some(strength), ..) => (equivalent, strength, "yield"),
        (None, Some(strength), _) if tension > 0.0 => (tension, strength, "tensile strength; it is brittle"),
        (None, _, Some(strength)) => (equivalent, strength, "compressive strength"),
        _ => return answer.remark(format!("no strength is known of `{name}`: the {part} is not judged")),
    };
    if stress <= limit {
        return answer;
    }
    let (stress, limit) = (say::stress(stress), say::stress(limit));
    answer.warn(format!("the {part} of `{name}` passes its {word}: {stress} against {limit}"))
}

/// The length of a vector of two parts; one that is zero drops out, with its slope.
pub(super) fn magnitude(a: Real, b: Real) -> Real {
    match (a == 0.0, b == 0.0) {
        (true, _) => b.abs(),
        (_, true) => a.abs(),
        _ => (a.squared() + b.squared()).sqrt(),
    }
}
