//! The commands, run as a person runs them.

mod build;
mod identify;
mod lookup;
mod start;

use snapbox::cmd::{Command, cargo_bin};

/// The tool, in a folder of its own.
fn asfound(dir: &std::path::Path) -> Command {
    Command::new(cargo_bin!("asfound")).current_dir(dir)
}
