//! What a machinist would look up or work out: limits and fits, threads, bearings, materials, strength, lifting.
//!
//! Takes: numbers with their slopes ([`crate::calc::real::Real`]) and words. Gives: table values and results with their
//! formula, validity and source, as tables of [`Function`] for the calculation blocks and as plain functions for the
//! commands. Never: reads files, knows of notes or prints; its tables are compiled in.

use crate::calc::function::Function;

pub mod bearing;
pub mod chain;
pub mod coating;
pub mod cutting;
mod declare;
pub mod gear;
pub mod lifting;
pub mod limits;
pub mod material;
pub mod measuring;
pub mod press;
pub mod repair;
mod say;
pub mod strength;
pub mod table;
pub mod thermal;
pub mod thread;

/// Every workshop function, family by family.
pub fn functions() -> impl Iterator<Item = &'static Function> {
    [
        limits::FUNCTIONS,
        repair::FUNCTIONS,
        press::FUNCTIONS,
        strength::FUNCTIONS,
        bearing::FUNCTIONS,
        thread::FUNCTIONS,
        gear::FUNCTIONS,
        chain::FUNCTIONS,
        lifting::FUNCTIONS,
        cutting::FUNCTIONS,
        coating::FUNCTIONS,
        thermal::FUNCTIONS,
        measuring::FUNCTIONS,
        material::FUNCTIONS,
    ]
    .into_iter()
    .flatten()
    .copied()
}
