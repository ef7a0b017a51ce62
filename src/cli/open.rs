//! Opening the project that a command is about.

use std::io::ErrorKind;
use std::path::Path;

use super::{Trouble, storage};
use crate::Project;
use crate::diagnostic::codes;

/// The project of this folder, with all its problems.
pub(super) fn with_problems(folder: &Path) -> Result<Project, Trouble> {
    storage::finish(folder);
    Project::open(folder).map_err(|error| {
        let shown = folder.display();
        Trouble(match error.kind() {
            ErrorKind::NotFound => format!("there is no folder `{shown}`"),
            ErrorKind::NotADirectory => {
                format!("`{shown}` is no folder; name the one that holds dossier.yaml")
            }
            _ => format!("{shown}: {error}"),
        })
    })
}

/// The project of this folder, for an answer about it: a folder without a dossier has none to give.
pub(super) fn project(folder: &Path) -> Result<Project, Trouble> {
    let project = with_problems(folder)?;
    let missing = project.problems().iter().find(|problem| problem.code.word == codes::NO_DOSSIER.word);
    match missing {
        Some(problem) => Err(Trouble(format!("{}. {}", problem.message, problem.help))),
        None => Ok(project),
    }
}
