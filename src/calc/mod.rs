//! The calculation engine: units, workshop numbers, honest uncertainty.
//!
//! Takes: the text of calculation blocks, values given from outside, tables of workshop functions.
//! Gives: values with dimension, unit and doubt, the working set out as neutral trees, and faults with byte ranges.
//! Never: knows of notes, files, Typst or the terminal.

pub mod dimension;
pub mod doubt;
pub mod fault;
pub mod function;
pub mod literal;
pub mod print;
pub mod real;
mod scan;
mod student;
pub mod suggest;
pub mod syntax;
pub mod units;
pub mod value;
