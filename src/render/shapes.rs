//! The shapes that several templates share. Every field is always present; nothing to say is `null`, empty or `""`.

use serde::Serialize;

use super::body;
use super::edition::Edition;
use super::escape::Markup;
use super::prose::day;
use crate::dossier::NoteId;
use crate::record::PaperSize;
use crate::text::Span;

/// A note named in passing, with a link when it is printed.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Mention {
    pub(super) label: Option<String>,
    /// Where in the record the line stands that is meant, if it is one line.
    pub(super) place: Option<String>,
    /// Its chapter is not in this edition.
    pub(super) left_out: bool,
    pub(super) id: String,
    pub(super) name: String,
    pub(super) kind: &'static str,
    pub(super) state: Option<&'static str>,
    /// The place of a step in the order of the work, from 1.
    pub(super) number: Option<usize>,
}

/// A fact about a record: `Material`, `cast iron`.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Fact {
    pub(super) name: &'static str,
    pub(super) value: String,
    pub(super) label: Option<String>,
}

/// A picture by its virtual path.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Picture {
    pub(super) path: String,
    /// Which time it is that the picture is shown, from 1.
    pub(super) time: usize,
    pub(super) alt: String,
    pub(super) caption: Option<String>,
    pub(super) marks: Vec<Mark>,
}

/// A numbered mark on a picture, from the left and from the top, each 0 to 1.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Mark {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) says: String,
}

/// What every record has.
#[derive(Clone, Debug, Serialize)]
pub(super) struct RecordShape {
    pub(super) id: String,
    pub(super) label: String,
    pub(super) body: Markup,
    pub(super) named_in: Vec<Mention>,
}

/// What every template sees of the document.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Doc {
    pub(super) title: String,
    pub(super) keeper: Option<String>,
    pub(super) revision: Option<String>,
    pub(super) language: &'static str,
    pub(super) paper: &'static str,
    pub(super) date: DayShape,
}

/// A day, in figures and in words.
#[derive(Clone, Debug, Serialize)]
pub(super) struct DayShape {
    pub(super) year: i16,
    pub(super) month: i8,
    pub(super) day: i8,
    pub(super) says: String,
}

impl Fact {
    pub(super) fn new(name: &'static str, value: impl Into<String>) -> Self {
        Self { name, value: value.into(), label: None }
    }
}

impl RecordShape {
    pub(super) fn of(edition: &Edition, note: NoteId) -> RecordShape {
        Self::without(edition, note, None)
    }

    /// The record's common shape; the block of its body at `without` is set elsewhere.
    pub(super) fn without(edition: &Edition, note: NoteId, without: Option<Span>) -> RecordShape {
        let head = edition.dossier().head(note);
        Self {
            id: head.id.clone(),
            label: head.id.clone(),
            body: Markup::of(body::markup(edition, note, without)),
            named_in: edition.names.named_in(note, &[]),
        }
    }
}

impl Doc {
    pub(super) fn of(edition: &Edition) -> Self {
        let about = &edition.dossier().about;
        let undated = DayShape { year: 1970, month: 1, day: 1, says: "undated".to_owned() };
        Self {
            title: about.title.clone(),
            keeper: about.keeper.clone(),
            revision: about.revision.clone(),
            language: "en",
            paper: match about.paper {
                PaperSize::A4 => "a4",
                PaperSize::Letter => "us-letter",
            },
            date: edition.date.map_or(undated, day),
        }
    }
}
