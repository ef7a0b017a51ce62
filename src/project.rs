//! The pipeline from a folder to a checked dossier.

use std::path::Path;

use crate::diagnostic::{Problem, dossier as problem, in_order};
use crate::dossier::Dossier;
use crate::note::Found;
use crate::record::About;
use crate::source::{FileId, Sources};
use crate::{note, record};

/// A project, read and checked.
#[derive(Debug)]
pub struct Project {
    pub sources: Sources,
    pub dossier: Dossier,
    /// Markdown without front matter: no notes.
    pub left_alone: Vec<FileId>,
    problems: Vec<Problem>,
    accepted: Vec<Problem>,
}

impl Project {
    /// Reads the project in a folder. Whatever is wrong in the notes is a problem beside the result.
    ///
    /// # Errors
    /// Only when the folder itself can't be read.
    pub fn open(root: &Path) -> std::io::Result<Self> {
        let (sources, problems) = Sources::load(root)?;
        Ok(Self::from_sources(sources, problems))
    }

    /// The same from texts that are already in memory; `problems` are those of reading them.
    pub fn from_sources(sources: Sources, mut problems: Vec<Problem>) -> Self {
        let home_page =
            sources.find("dossier.yaml").and_then(|file| note::read_yaml(&sources, file, &mut problems));
        let (about, units) = match &home_page {
            Some(node) => About::read(node, &mut problems),
            None => About::unknown(),
        };
        let mut records = Vec::new();
        let mut left_alone = Vec::new();
        for file in sources.ids().filter(|file| sources.file(*file).path != "dossier.yaml") {
            match note::read(&sources, file, &mut problems) {
                Found::Note(note) => records.push(record::read(note, &units, &mut problems)),
                Found::Unreadable { stem, place } => records.push(record::Read::unreadable(stem, place)),
                Found::NoNote => left_alone.push(file),
            }
        }
        let dossier = Dossier::assemble(about, units, records, &sources, &mut problems);
        let (accepted, problems) = accept(problems, &dossier);
        Self { sources, dossier, left_alone, problems: in_order(problems), accepted: in_order(accepted) }
    }

    /// What is wrong, in the order of the files, without what dossier.yaml accepts.
    pub fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// What was found and is accepted under `allow`.
    pub fn accepted(&self) -> &[Problem] {
        &self.accepted
    }

    /// Whether the notes contradict each other or can't be read.
    pub fn has_errors(&self) -> bool {
        self.problems.iter().any(Problem::is_error)
    }
}

/// Parts what dossier.yaml accepts from the rest; what accepts nothing any more is a caution.
fn accept(problems: Vec<Problem>, dossier: &Dossier) -> (Vec<Problem>, Vec<Problem>) {
    let allow = &dossier.about.allow;
    let mut used = vec![false; allow.len()];
    let (accepted, mut rest): (Vec<_>, Vec<_>) = problems.into_iter().partition(|problem| {
        let found = allow.iter().position(|allowed| {
            !problem.is_error()
                && allowed.code == problem.code.word
                && (allowed.id.is_none() || allowed.id == problem.about)
        });
        if let Some(index) = found {
            used[index] = true;
        }
        found.is_some()
    });
    let unused = allow.iter().zip(used).filter(|(_, used)| !used).map(|(allowed, _)| allowed);
    rest.extend(unused.map(|allowed| problem::allow_unused(allowed.span, &allowed.code)));
    (accepted, rest)
}
