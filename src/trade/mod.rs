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
pub mod hazard;
pub mod lifting;
pub mod limits;
pub mod material;
pub mod measuring;
pub mod press;
pub mod repair;
mod say;
pub mod sources;
pub mod strength;
pub mod table;
pub mod thermal;
pub mod thread;

/// Functions that belong together, and the name of their chapter in the book.
pub struct Family {
    /// A word for files and links.
    pub key: &'static str,
    pub functions: &'static [&'static Function],
}

/// Every family, in the order of the book.
pub const FAMILIES: [Family; 14] = [
    Family { key: "limits", functions: limits::FUNCTIONS },
    Family { key: "repair", functions: repair::FUNCTIONS },
    Family { key: "press", functions: press::FUNCTIONS },
    Family { key: "strength", functions: strength::FUNCTIONS },
    Family { key: "bearing", functions: bearing::FUNCTIONS },
    Family { key: "thread", functions: thread::FUNCTIONS },
    Family { key: "gear", functions: gear::FUNCTIONS },
    Family { key: "chain", functions: chain::FUNCTIONS },
    Family { key: "lifting", functions: lifting::FUNCTIONS },
    Family { key: "cutting", functions: cutting::FUNCTIONS },
    Family { key: "coating", functions: coating::FUNCTIONS },
    Family { key: "thermal", functions: thermal::FUNCTIONS },
    Family { key: "measuring", functions: measuring::FUNCTIONS },
    Family { key: "material", functions: material::FUNCTIONS },
];

/// Every workshop function, family by family.
pub fn functions() -> impl Iterator<Item = &'static Function> {
    FAMILIES.iter().flat_map(|family| family.functions.iter().copied())
}
