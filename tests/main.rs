//! One binary for every test that stands outside the code: a module a room.

mod cli;
