//! The commands, run as a person runs them.

mod bill;
mod build;
mod calc;
mod closing;
mod conformance;
mod draw;
mod fitness;
mod hazards;
mod hostile;
mod identify;
mod interrupted;
pub(crate) mod issued;
mod json;
mod known_to;
mod lookup;
mod misses;
mod next;
mod payloads;
mod references;
mod release;
pub(crate) mod scratch;
mod sequence;
mod sheet;
mod start;
mod true_lines;
mod units;
mod verdicts;
mod watch;
mod why;
mod words;

use snapbox::cmd::{Command, cargo_bin};

/// The tool, in a folder of its own.
fn asfound(dir: &std::path::Path) -> Command {
    Command::new(cargo_bin!("asfound")).current_dir(dir)
}
