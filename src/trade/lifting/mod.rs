//! Lifting and moving: how heavy a piece is, where it balances, what slings, jacks, levers and axles then
//! carry.
//!
//! Takes: sizes, masses and distances. Gives: masses, centres of gravity, forces, each with the lifting
//! caution. Never: approves a lift; the rating of the gear, its inspection and the local code decide.

use crate::calc::function::{Call, Function, Refusal};
use crate::calc::real::Real;

mod balance;
mod machine;
mod mass;
mod road;
mod sling;

/// Standard gravity, m/s² (3rd CGPM, 1901).
pub const GRAVITY: f64 = 9.806_65;

/// The functions of this family.
pub const FUNCTIONS: &[&Function] = &[
    &mass::BAR,
    &mass::SQUARE_BAR,
    &mass::HEXAGON_BAR,
    &mass::TUBE,
    &mass::BOX_TUBE,
    &mass::PLATE,
    &mass::DISC,
    &mass::CONE,
    &mass::BALL,
    &mass::VOLUME,
    &balance::CENTRE_OF_GRAVITY,
    &balance::TWO_SUPPORTS,
    &balance::POST,
    &sling::BY_ANGLE,
    &sling::BY_HEIGHT,
    &sling::OFF_CENTRE,
    &machine::LEVER,
    &machine::JACK_AT_END,
    &machine::SCREW_EFFORT,
    &machine::SCREW_FORCE,
    &machine::PULLEYS,
    &road::TRAILER,
    &road::TRAILER_LOAD_PLACE,
    &road::AXLES,
    &road::AXLE_BALANCE,
];

/// Two lists of equal length, taken in pairs.
fn pairs(call: &Call, what: &'static str, place: &'static str) -> Result<Vec<(Real, Real)>, Refusal> {
    let (whats, places) = (call.list(what), call.list(place));
    if whats.is_empty() {
        return Err(Refusal::of(what, format!("`{what}` is empty"), "Give at least one."));
    }
    if whats.len() != places.len() {
        let message = format!("`{what}` has {} entries and `{place}` has {}", whats.len(), places.len());
        return Err(Refusal::of(place, message, format!("Give one of `{place}` for each of `{what}`.")));
    }
    Ok(whats.iter().copied().zip(places.iter().copied()).collect())
}
