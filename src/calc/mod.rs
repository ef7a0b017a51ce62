//! The calculation engine: units, workshop numbers, honest uncertainty.
//!
//! Takes: the text of calculation blocks, values given from outside, tables of workshop functions.
//! Gives: values with dimension, unit and uncertainty, the working set out as neutral trees, and faults with byte ranges.
//! Never: knows of notes, files, Typst or the terminal.

pub mod bench;
pub mod cause;
pub mod dimension;
pub mod evaluate;
pub mod expression;
pub mod fault;
pub mod formula;
pub mod function;
mod line;
pub mod literal;
pub mod measure;
pub mod one;
pub mod outlier;
pub mod print;
pub mod provenance;
pub mod real;
pub mod rounding;
mod scan;
pub mod sheet;
pub mod span;
pub mod student;
pub mod suggest;
mod superscript;
pub mod syntax;
pub mod uncertainty;
pub mod units;
pub mod value;
