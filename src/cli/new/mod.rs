//! `new`: a started project.

use std::path::{Path, PathBuf};

use super::{Ended, Outcome, Trouble, output};

/// Start a project: dossier.yaml and one commented note of each kind
///
/// DIR is made if it is not there. Nothing is overwritten: a folder that holds anything is refused.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The folder to start the project in
    #[arg(value_name = "DIR")]
    dir: PathBuf,
}

macro_rules! starter {
    ($($path:literal)*) => { &[$(($path, include_str!(concat!("starter/", $path)))),*] };
}

/// The files of a started project.
const STARTER: &[(&str, &str)] = starter! {
    "README.md"
    "dossier.yaml"
    "parts/grindstone.md"
    "parts/spindle.md"
    "findings/spindle-scored.md"
    "measurements/spindle-left-journal.md"
    "questions/clean-up-size.md"
    "steps/turn-journal.md"
    "shops/shed.md"
    "papers/maker-plate.md"
    "log/2027-01-04.md"
};

pub(super) fn run(arguments: &Arguments) -> Ended {
    let dir = &arguments.dir;
    if is_in_use(dir)? {
        return Err(Trouble(format!("{} is not empty; name a new or empty folder", dir.display())));
    }
    for (path, text) in STARTER {
        let path = dir.join(path);
        std::fs::create_dir_all(path.parent().unwrap_or(dir))?;
        std::fs::write(path, text)?;
    }
    let shown = dir.display().to_string();
    let typed = if shown.contains(char::is_whitespace) { format!("\"{shown}\"") } else { shown.clone() };
    output::say(&format!("started {shown}; now: asfound build {typed}"));
    Ok(Outcome::Clean)
}

fn is_in_use(dir: &Path) -> Result<bool, Trouble> {
    match std::fs::read_dir(dir) {
        Ok(mut entries) => Ok(entries.next().is_some()),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(false),
        Err(error) => Err(Trouble(format!("{}: {error}", dir.display()))),
    }
}
