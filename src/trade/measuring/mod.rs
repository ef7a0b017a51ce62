//! What measuring makes of readings: threads over wires, balls in bores, tapers, roundness, eccentricity.
//!
//! Takes: lengths and lists of readings. Gives: the size or shape they mean. Never: the statistics of readings, which
//! the engine keeps with their uncertainty.

use crate::calc::dimension::Dimension;
use crate::calc::function::{Function, Takes};

mod circle;
mod taper;
mod wires;

/// The functions of this room.
pub const FUNCTIONS: &[&Function] = &[
    &wires::BEST_WIRE,
    &wires::OVER_WIRES,
    &wires::PITCH_DIAMETER,
    &taper::TAPER,
    &taper::TAPER_BY_BALLS,
    &taper::SETOVER,
    &taper::BORE_BY_BALLS,
    &taper::BORE_BY_BALL_ON_EDGE,
    &circle::ECCENTRICITY,
    &circle::ROUNDNESS,
    &circle::CIRCLE_THROUGH,
    &circle::RADIUS_BY_HEIGHT,
];

/// A length above zero.
const SIZE: Takes = Takes::Positive(Dimension::LENGTH);
