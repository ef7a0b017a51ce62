//! One binary for every test that stands outside the code: a module a room.

#![allow(clippy::unwrap_used, reason = "a test that can't go on may panic")]

mod bill;
mod calc;
mod check;
mod cli;
mod drafting;
mod fuzz;
mod pages;
mod parts;
mod photo;
mod plan;
mod rooms;
mod shape;
mod trade;
