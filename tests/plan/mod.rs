//! The network of the work: schedules, trips, who can do it, and what the notes make of them.

mod away;
mod capability;
mod critical_path;
mod forecast;
mod handling;
mod in_hand;
mod laws;
mod loads;
mod network;
pub(crate) mod notes;
mod past;
mod problems;
mod psplib;
mod readiness;
mod removal;
mod schedule;
mod travel;
mod trips;
mod why;
