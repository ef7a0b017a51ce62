//! Drawings: the law, what is stated, and what the writers write.

mod law;
mod shop;
mod stated;
mod treated;
mod whole;
mod written;
