//! From a note to a record: the kind first, then its keys.

use super::fields::{Fields, Reader};
use super::{AsTyped, Head, KINDS, Keys, Kind, Record};
use super::{finding, measurement, part, question, rest, step};
use crate::calc::units::Units;
use crate::diagnostic::Problem;
use crate::note::Note;
use crate::note::yaml::Shape;
use crate::record::problems as problem;
use crate::text::Span;

/// What became of a note.
#[derive(Clone, Debug)]
#[expect(clippy::large_enum_variant, reason = "one a note, and nearly all are whole")]
pub enum Read {
    Whole(Record),
    /// Something required is missing; its id is known, so that links to it are no second problem.
    Broken {
        head: Head,
        /// The word after `kind:`, if it is one.
        kind: Option<&'static str>,
    },
}

const COMMON: [&str; 4] = ["kind", "id", "tags", "private"];

/// The record in a note.
pub fn read(note: Note, units: &Units, problems: &mut Vec<Problem>) -> Read {
    let mut reader = Reader { units, problems };
    let kind = kind(&note, &mut reader);
    let (owner, known) = keys(kind);
    let known: Vec<&'static str> = COMMON.iter().chain(known).copied().collect();
    let front = note.front.clone();
    let Some(mut fields) = fields_of(&front, owner, &known, kind, &mut reader) else {
        return Read::Broken { head: bare_head(note), kind };
    };
    let head = head(note, &mut fields);
    match kind.and_then(|word| of_kind(word, &mut fields, &head)) {
        Some(kind) => Read::Whole(Record { head, kind }),
        None => Read::Broken { head, kind },
    }
}

/// Without a kind nobody can say which keys are unknown.
fn fields_of<'n, 'r, 'a>(
    front: &'n crate::note::yaml::Node,
    owner: &'static str,
    known: &[&'static str],
    kind: Option<&str>,
    reader: &'r mut Reader<'a>,
) -> Option<Fields<'n, 'r, 'a>> {
    let every: Vec<&'static str>;
    let known = if kind.is_some() {
        known
    } else {
        every = COMMON.iter().chain(KINDS.iter().flat_map(|kind| keys(Some(kind)).1)).copied().collect();
        &every
    };
    Fields::of(front, owner, known, reader)
}

fn kind(note: &Note, reader: &mut Reader) -> Option<&'static str> {
    let Shape::Map(entries) = &note.front.shape else { return None };
    let Some(entry) = entries.iter().find(|entry| entry.key == "kind") else {
        reader.problems.push(problem::kind_missing(note.front_span));
        return None;
    };
    if matches!(entry.value.shape, Shape::Nothing) {
        reader.problems.push(problem::kind_missing(entry.key_span));
        return None;
    }
    let typed = match &entry.value.shape {
        Shape::Scalar { text, .. } => text.trim(),
        _ => "",
    };
    let found = KINDS.into_iter().find(|kind| *kind == typed);
    if found.is_none() {
        reader.problems.push(problem::kind_unknown(entry.value.span, typed));
    }
    found
}

fn keys(kind: Option<&str>) -> (&'static str, &'static [&'static str]) {
    match kind {
        Some("part") => ("a part", part::KEYS),
        Some("finding") => ("a finding", finding::KEYS),
        Some("measurement") => ("a measurement", measurement::KEYS),
        Some("question") => ("a question", question::KEYS),
        Some("step") => ("a step", step::KEYS),
        Some("shop") => ("a shop", rest::SHOP_KEYS),
        Some("paper") => ("a paper", rest::PAPER_KEYS),
        Some("entry") => ("a log entry", rest::ENTRY_KEYS),
        _ => ("a note", &[]),
    }
}

fn of_kind(word: &str, fields: &mut Fields, head: &Head) -> Option<Kind<AsTyped>> {
    match word {
        "part" => part::read(fields).map(Kind::Part),
        "finding" => finding::read(fields).map(Kind::Finding),
        "measurement" => measurement::read(fields, &head.body).map(Kind::Measurement),
        "question" => question::read(fields).map(Kind::Question),
        "step" => step::read(fields).map(Kind::Step),
        "shop" => rest::shop(fields).map(Kind::Shop),
        "paper" => rest::paper(fields).map(Kind::Paper),
        _ => rest::entry(fields).map(Kind::Entry),
    }
}

fn head(note: Note, fields: &mut Fields) -> Head {
    let typed = fields.typed("id");
    let tags = fields.texts("tags");
    let private = fields.truth("private").unwrap_or(false);
    let (id, span) = match typed {
        Some(typed) => (typed.text, typed.span),
        None => (note.stem.clone(), note.front_span),
    };
    if !is_id(&id) {
        let problem = problem::id_shape(span, &id);
        fields.reader.problems.push(problem);
    }
    Head { id, file: note.file, span, tags, private, keys: Keys::of(&note.front), body: note.body }
}

fn bare_head(note: Note) -> Head {
    Head {
        id: note.stem,
        file: note.file,
        span: note.front_span,
        tags: Vec::new(),
        private: false,
        keys: Keys::of(&note.front),
        body: note.body,
    }
}

/// Lower case, digits and hyphens, beginning with a letter or digit.
fn is_id(id: &str) -> bool {
    !id.is_empty()
        && !id.starts_with('-')
        && id.chars().all(|each| each.is_ascii_lowercase() || each.is_ascii_digit() || each == '-')
}

impl Read {
    /// What every note has.
    pub fn head(&self) -> &Head {
        match self {
            Self::Whole(record) => &record.head,
            Self::Broken { head, .. } => head,
        }
    }

    /// Whether a key that it can't do without is missing or wrong.
    pub fn is_broken(&self) -> bool {
        matches!(self, Self::Broken { .. })
    }

    /// A note of which nothing but the name can be read.
    pub fn unreadable(stem: String, place: Span) -> Self {
        let (tags, body) = (Vec::new(), Vec::new());
        let keys = Keys::default();
        let head = Head { id: stem, file: place.file, span: place, tags, private: false, body, keys };
        Self::Broken { head, kind: None }
    }
}
