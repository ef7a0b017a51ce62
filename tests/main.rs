//! One binary for every test that stands outside the code: a module a room.

mod bill;
mod calc;
mod check;
mod cli;
mod photo;
mod plan;
mod trade;
