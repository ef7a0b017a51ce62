//! The schedules over a network, with their tests and without the rest of asfound.

#![allow(dead_code, unused_imports, unreachable_pub, missing_docs, clippy::all)]

extern crate self as asfound;

#[path = "../../src/cycles.rs"]
pub mod cycles;
#[path = "../../src/estimate/mod.rs"]
pub mod estimate;

#[path = "../../src/plan"]
pub mod plan {
    pub mod precedence;
    pub mod schedule;
}

#[path = "../plan/critical_path.rs"]
mod critical_path;
#[path = "../plan/psplib.rs"]
mod psplib;
