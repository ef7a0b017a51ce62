//! Bearings: plain ones by pressure and speed, rolling ones by designation, dimensions and life.
//!
//! Takes: loads, speeds, designations, measured dimensions. Gives: pressures, lives, boundary dimensions, and
//! the standard bearings nearest to a worn one. Never: tells the type from boundary dimensions alone, for
//! they do not.

use crate::calc::function::Function;

pub mod catalogue;
mod designation;
pub mod identify;
mod life;
mod plain;
mod rolling;
mod thrust;

pub use designation::{Found, lookup};

/// The functions of this family.
pub const FUNCTIONS: &[&Function] = &[
    &plain::PLAIN_BEARING,
    &plain::LENGTH_FOR_PV,
    &plain::NUMBER,
    &plain::VISCOSITY,
    &plain::CLEARANCE,
    &plain::WEAR_LIFE,
    &rolling::BEARING,
    &rolling::RATINGS,
    &rolling::IDENTIFY,
    &life::EQUIVALENT_LOAD,
    &life::THRUST_FACTOR,
    &life::LIFE,
    &life::LIFE_TIME,
    &life::RATING_NEEDED,
    &life::VARYING_LOAD,
    &life::RELIABILITY,
    &life::STATIC_SAFETY,
    &thrust::SHARING,
    &thrust::TAPERED_PAIR,
];
