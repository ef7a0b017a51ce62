//! The pages themselves: that everything stands within their margins, can be read, and is reported in order. What only an eye
//! can judge is looked at with the whole stress project, which an ignored test writes:
//! `cargo test --test all the_whole_stress_project -- --ignored`, then `build` on the folder that it names.

mod breaks;
mod contrast;
mod figures;
mod margins;
mod marks;
mod order;
mod parts;
mod passes;
mod stress;
mod wall;

use std::path::Path;

use snapbox::cmd::{Command, cargo_bin};

use crate::cli::scratch::outside;

/// Builds a project's dossier; what was said. Warnings are the test's to look for.
fn build(dir: &Path) -> String {
    let command = Command::new(cargo_bin!("asfound")).arg("build").arg(dir);
    let output = command.output().unwrap();
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success(), "{said}");
    said
}
