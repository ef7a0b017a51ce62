//! Drawings: the law, what is stated, and what the writers write.

mod law;
mod stated;
mod written;
