//! Strength of shafts, beams, pins, bolts, keys, welds and tubes.
//!
//! Takes: loads, sizes and allowable stresses with their slopes. Gives: stresses, sizes, safe loads and what
//! fails first, as tables of [`Function`]. Each formula is written once, over [`Real`]. Never: judges a part;
//! the stresses are nominal, and what a part may carry is for the person and, on a load path, for licensed
//! practice.

use crate::calc::dimension::Dimension;
use crate::calc::function::{Call, Function, Output, Parameter, Refusal, Sign, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{neither, optional, or_from, or_number, quantity};
use crate::trade::{material, say};

mod beam;
mod bolt;
mod bolt_group;
mod column;
mod guard;
mod joint;
mod key;
mod lug;
mod pin;
mod plain;
mod rolled;
mod round;
mod section;
mod shaft;
mod shaft_size;
mod shell;
mod strip;
mod tube;
mod weld;
mod weld_group;
mod whirl;

pub(super) use key::TABLE as KEY_TABLE;
pub use key::{KeySize, key_size};

/// The authors and title of a book that several of these functions follow.
const SHIGLEY: &str = "R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design";

/// Every strength function, family by family.
pub const FUNCTIONS: &[&Function] = &[
    &section::ROUND_SECTION,
    &section::BOX_SECTION,
    &section::RECTANGLE_SECTION,
    &rolled::I_SECTION,
    &rolled::CHANNEL_SECTION,
    &rolled::TEE_SECTION,
    &rolled::ANGLE_SECTION,
    &plain::AXIAL_STRESS,
    &plain::STRETCH,
    &plain::BEARING_PRESSURE,
    &plain::COMBINED_STRESS,
    &plain::ECCENTRIC_LOAD,
    &plain::SHEAR_STRENGTH,
    &shaft::TORQUE_OF_POWER,
    &shaft::POWER_OF_TORQUE,
    &shaft::TORSION,
    &shaft::TWIST,
    &shaft::SHAFT_STRESS,
    &shaft_size::SHAFT_CODE_STRESS,
    &shaft_size::SHAFT_DIAMETER,
    &shaft_size::SHAFT_CAPACITY,
    &whirl::CRITICAL_SPEED,
    &whirl::CRITICAL_SPEED_RAYLEIGH,
    &whirl::CRITICAL_SPEED_BARE,
    &beam::CANTILEVER,
    &beam::BEAM_POINT,
    &beam::BEAM_FIXED,
    &beam::BEAM_OVERHANG,
    &beam::BEAM_UNIFORM,
    &column::BUCKLING,
    &pin::PIN_SHEAR,
    &pin::CROSS_PIN,
    &pin::CROSS_PIN_SIZE,
    &pin::CROSS_PIN_BREAK,
    &pin::FLANGE_PINS,
    &pin::FLANGE_PINS_SIZE,
    &guard::SHEAR_PIN_GUARD,
    &lug::CLEVIS_PIN,
    &lug::PINNED_PLATE,
    &lug::PINNED_PLATE_CAPACITY,
    &bolt::BOLT_CLASS,
    &bolt::STRESS_AREA,
    &bolt::STRESS_AREA_UNIFIED,
    &bolt::BOLT_PRELOAD,
    &bolt::TIGHTENING_TORQUE,
    &bolt::TIGHTENING_TORQUE_BY_FRICTION,
    &bolt::PRELOAD_OF_TORQUE,
    &joint::BOLT_STIFFNESS,
    &joint::CLAMP_STIFFNESS,
    &joint::JOINT_UNDER_LOAD,
    &joint::TURN_OF_NUT,
    &strip::THREAD_SHEAR_AREA,
    &strip::THREAD_STRIPPING,
    &strip::THREAD_ENGAGEMENT,
    &bolt_group::BOLT_GROUP_TILT,
    &bolt_group::BOLT_GROUP_TWIST,
    &key::KEY_SIZE,
    &key::KEY_STRESS,
    &key::KEY_LENGTH,
    &key::KEY_BALANCED,
    &key::TANGENT_KEYS,
    &key::FLANGE_THICKNESS,
    &weld::FILLET_WELD,
    &weld::FILLET_WELD_LOAD,
    &weld::WELD_SIZE,
    &weld::WELD_STRENGTH,
    &weld::BUTT_WELD,
    &weld::BUTT_WELD_LOAD,
    &weld::ANGLE_WELDS,
    &weld_group::WELD_LINE,
    &weld_group::WELD_TWO_LINES,
    &weld_group::WELD_U,
    &weld_group::WELD_RECTANGLE,
    &weld_group::WELD_ROUND,
    &tube::TUBE_STUB,
    &tube::SPIGOT,
    &tube::WALL_LEFT,
    &tube::WALL_ECCENTRIC,
    &tube::OVALITY,
    &tube::TUBE_CLASS,
    &shell::HOOP_STRESS,
    &shell::SHELL_WALL,
    &shell::THICK_WALL,
];

// What the parameters of this room take.
const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
const OFFSET: Takes = Takes::NotNegative(Dimension::LENGTH);
const FORCE: Takes = Takes::Positive(Dimension::FORCE);
const LOAD: Takes = Takes::NotNegative(Dimension::FORCE);
const MOMENT: Takes = Takes::Positive(Dimension::MOMENT);
const LOAD_MOMENT: Takes = Takes::NotNegative(Dimension::MOMENT);
const STRESS: Takes = Takes::Positive(Dimension::STRESS);
const AREA: Takes = Takes::Positive(Dimension::AREA);
const FACTOR: Takes = Takes::Positive(Dimension::NONE);
const SHARE: Takes = Takes::NotNegative(Dimension::NONE);
const TURNING: Takes = Takes::Turning(Sign::Positive);
const STIFFNESS: Takes = Takes::Positive(Dimension::STIFFNESS);

// Parameters that many functions share.
const D: Parameter = crate::trade::declare::needed("d", LENGTH, "outside diameter");
const BORE: Parameter = or_number("bore", OFFSET, 0.0, "bore; 0 if solid");
const MATERIAL: Parameter =
    optional("material", Takes::Material, "what it is made of, for what is not given as a figure");
const MODULUS: Parameter =
    or_from("modulus", STRESS, "material.E", "modulus of elasticity E, if there is no material");
const SHEAR_MODULUS: Parameter = or_from(
    "shear_modulus",
    STRESS,
    "material.E/(2*(1 + material.poisson))",
    "shear modulus G, if there is no material",
);
const YIELD: Parameter =
    or_from("yield", STRESS, "material.yield", "yield strength, if there is no material");
const SECOND_MOMENT: Parameter = crate::trade::declare::needed(
    "second_moment",
    Takes::Positive(Dimension::SECOND_MOMENT),
    "second moment of area I about the axis it bends round",
);

const fn area(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::AREA, ["mm^2", "in^2"], meaning)
}

const fn second_moment(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::SECOND_MOMENT, ["cm^4", "in^4"], meaning)
}

const fn section_modulus(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::VOLUME, ["cm^3", "in^3"], meaning)
}

/// A force per length: a line load, a stiffness.
const fn per_length(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::STIFFNESS, ["N/mm", "lbf/in"], meaning)
}

/// Ultimate tensile strength, with what it is said to be of.
const fn uts(meaning: &'static str) -> Parameter {
    or_from("uts", STRESS, "material.uts", meaning)
}

/// The modulus of elasticity: the figure given, else the material's.
fn modulus(call: &Call) -> Result<Real, Refusal> {
    figure_or_material(call, "modulus", "E")
}

/// The yield strength: the figure given, else the material's.
fn yield_strength(call: &Call) -> Result<Real, Refusal> {
    figure_or_material(call, "yield", "yield")
}

/// The shear modulus: the figure given, else E / (2 (1 + poisson)) of the material.
fn shear_modulus(call: &Call) -> Result<Real, Refusal> {
    match call.optional("shear_modulus") {
        Some(figure) => Ok(figure),
        None if material::given(call, "material") => {
            material::stated(call, "material", "poisson")?;
            material::stated(call, "material", "E")
        }
        None => Err(neither("shear_modulus")),
    }
}

fn figure_or_material(call: &Call, parameter: &'static str, field: &'static str) -> Result<Real, Refusal> {
    match call.optional(parameter) {
        Some(figure) => Ok(figure),
        None if material::given(call, "material") => material::stated(call, "material", field),
        None => Err(neither(parameter)),
    }
}

/// Refuses a distance that does not lie within another.
fn within(
    parameter: &'static str,
    what: &str,
    value: Real,
    limit_name: &str,
    limit: Real,
) -> Result<(), Refusal> {
    if value < limit {
        return Ok(());
    }
    let (value, limit) = (say::length(value), say::length(limit));
    Err(Refusal::of(
        parameter,
        format!("{what} of {value} is not smaller than {limit_name} of {limit}"),
        "Check the two figures and their units.",
    ))
}
