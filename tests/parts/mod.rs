//! Parts that tests and examples draw.
#![allow(dead_code)]

pub(crate) mod cases;
pub(crate) mod random;
pub(crate) mod shop;
