//! A small project in one Markdown file: each of its files is a block, fenced with four backquotes so that a note may
//! hold fences of three.

use std::fs;
use std::ops::Range;
use std::path::{Path, PathBuf};

use asfound::Project;
use asfound::diagnostic::{Format, Problem, show};
use tempfile::TempDir;

const FENCE: &str = "````";

/// A fenced block.
#[derive(Debug)]
pub(crate) struct Block<'a> {
    /// What stands behind the opening fence: `file parts/post.md`, `expected`.
    pub label: &'a str,
    pub text: &'a str,
    /// Where `text` stands in the Markdown file.
    pub range: Range<usize>,
}

/// The blocks of a Markdown file, in order.
pub(crate) fn blocks(markdown: &str) -> Vec<Block<'_>> {
    let mut blocks = Vec::new();
    let mut open: Option<(&str, usize)> = None;
    let mut at = 0;
    for line in markdown.split_inclusive('\n') {
        let next = at + line.len();
        match (open, line.trim_end().strip_prefix(FENCE)) {
            (None, Some(label)) => open = Some((label.trim(), next)),
            (Some((label, start)), Some("")) => {
                blocks.push(Block { label, text: &markdown[start..at], range: start..at });
                open = None;
            }
            _ => {}
        }
        at = next;
    }
    assert!(open.is_none(), "the block {open:?} is not closed");
    blocks
}

/// Writes the `file` blocks into a fresh folder.
pub(crate) fn project(blocks: &[Block]) -> TempDir {
    let dir = tempfile::tempdir().expect("a temporary folder can be made");
    for block in blocks {
        if let Some(path) = block.label.strip_prefix("file ") {
            write(dir.path(), path, block.text);
        }
    }
    dir
}

/// Writes one file, with the folders above it.
pub(crate) fn write(dir: &Path, path: &str, content: impl AsRef<[u8]>) -> PathBuf {
    let full = dir.join(path);
    fs::create_dir_all(full.parent().expect("a file lies in a folder")).expect("folders can be made");
    fs::write(&full, content).expect("a file can be written");
    full
}

/// What is wrong with the project in this folder.
pub(crate) fn check(dir: &Path) -> Project {
    Project::open(dir).expect("a folder that was just made can be read")
}

/// What `check` prints; the folder's own path reads `DIR`.
pub(crate) fn printed(project: &Project, dir: &Path) -> String {
    let text = show(project.problems(), &project.sources, Format::Text { styled: false, width: None });
    text.replace(&dir.display().to_string(), "DIR")
}

/// `code file:line`, which is all that a test of a single problem asks.
pub(crate) fn short(problem: &Problem, project: &Project) -> String {
    let place = problem.place.map(|span| {
        let line = project.sources.place(span).line;
        format!(" {}:{line}", project.sources.file(span.file).path)
    });
    format!("{}{}", problem.code.word, place.unwrap_or_default())
}
