//! The calculation engine and its workshop functions, with their tests and without the rest of asfound: whatever they use
//! and is not named here does not compile.

#![allow(dead_code, unused_imports, unreachable_pub, missing_docs, clippy::all)]

extern crate self as asfound;

#[path = "../../src/calc/mod.rs"]
pub mod calc;
#[path = "../../src/cycles.rs"]
pub mod cycles;
#[path = "../../src/hazard.rs"]
pub mod hazard;
#[path = "../../src/trade/mod.rs"]
pub mod trade;

#[path = "../calc/mod.rs"]
mod tests_of_calc;
#[path = "../trade/mod.rs"]
mod tests_of_trade;
