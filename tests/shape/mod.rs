//! Shapes: what is worked out and what is found wrong.

mod faults;
mod general;
mod notes;
mod reference;
mod worked;
