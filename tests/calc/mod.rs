//! The calculation engine at its boundary: against published figures, by laws, and on bad input.

mod bad_input;
mod cases;
mod enclosure;
mod functions;
mod laws;
mod literals;
mod measurement;
mod printed;
mod prompt;
mod random_expressions;
mod structure;
mod systems;
mod turns;
mod uncertainty;
mod units;
