//! One note: front matter cut off and read as YAML, the body as a tree of Markdown blocks.
//!
//! Takes: a text. Gives: a [`Note`] whose every key, value and block knows its byte range in the file, and problems.
//! Never: knows which keys there are or what they mean.

pub mod body;
mod front_matter;
mod markdown;
pub mod problems;
mod size;
mod slip;
pub mod yaml;

use crate::diagnostic::Problem;
use crate::source::Sources;
use crate::text::{FileId, Span};
use body::Block;
pub use slip::Slip;
use yaml::Node;

/// A note as it was typed.
#[derive(Clone, Debug)]
pub struct Note {
    pub file: FileId,
    /// The file's name without `.md`.
    pub stem: String,
    /// The front matter, a mapping.
    pub front: Node,
    /// Where the front matter stands.
    pub front_span: Span,
    pub body: Vec<Block>,
}

/// What a file turned out to be.
#[derive(Debug)]
pub enum Found {
    Note(Note),
    /// A note that can't be read; a problem says why. Its name still counts as an id.
    Unreadable {
        stem: String,
        place: Span,
    },
    /// Markdown without front matter.
    NoNote,
}

/// Reads a file of Markdown.
pub fn read(sources: &Sources, file: FileId, problems: &mut Vec<Problem>) -> Found {
    let source = sources.file(file);
    let name = source.path.rsplit('/').next().unwrap_or_default();
    let stem = name.len().checked_sub(3).and_then(|end| name.get(..end)).unwrap_or(name).to_owned();
    let parts = match front_matter::cut(&source.text, file) {
        Ok(Some(parts)) => parts,
        Ok(None) if source.text.is_empty() => return Found::Unreadable { stem, place: Span::start_of(file) },
        Ok(None) => return Found::NoNote,
        Err(problem) => {
            problems.push(problem);
            return Found::Unreadable { stem, place: Span::start_of(file) };
        }
    };
    let front = yaml::read(&source.text[parts.front.clone()], parts.front.start, file, problems);
    let front_span = Span::new(file, parts.front);
    let Some(front) = front else { return Found::Unreadable { stem, place: front_span } };
    let body = markdown::read(&source.text[parts.body.clone()], parts.body.start, file, problems);
    problems.extend(size::of_body(&body));
    Found::Note(Note { file, stem, front, front_span, body })
}

/// A whole file of YAML, such as dossier.yaml.
pub fn read_yaml(sources: &Sources, file: FileId, problems: &mut Vec<Problem>) -> Option<Node> {
    let text = &sources.file(file).text;
    let is_unread =
        text.is_empty() && problems.iter().any(|problem| problem.place == Some(Span::start_of(file)));
    if is_unread {
        return None;
    }
    let start = front_matter::byte_order_mark(text);
    yaml::read(&text[start..], start, file, problems)
}
