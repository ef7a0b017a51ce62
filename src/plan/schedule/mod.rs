//! When: early and late times, the longest path, the spread of the end, and the forecast with limited hands.
//!
//! Takes: a [`Precedence`](super::precedence::Precedence) and a duration for each node.
//! Gives: times in days from day 0 (or ticks of the caller's choosing, for the forecast).
//! Never: knows what an activity is, what day it is, or where the durations came from.

pub mod critical_path;
pub mod hands;
pub mod limited;
pub mod moments;
mod profile;
mod rules;
pub mod simulation;
