//! Photographs: upright, small, clean; and what is said of those that can't be printed.

#![allow(clippy::unwrap_used)]

mod bare;
mod cache;
mod clean;
mod drawing;
mod hostile;
pub(crate) mod pictures;
mod sized;
mod upright;
