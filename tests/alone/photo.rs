//! The photographs, with their tests and without the rest of asfound.

#![allow(dead_code, unused_imports, unreachable_pub, missing_docs, clippy::all)]

extern crate self as asfound;

#[path = "../../src/guard.rs"]
pub mod guard;

#[path = "../../src/photo/mod.rs"]
pub mod photo;

#[path = "../photo/mod.rs"]
mod tests_of_photo;
