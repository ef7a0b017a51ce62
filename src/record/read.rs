//! From a note to a record: the kind first, then its keys.

use super::fields::{Fields, Reader};
use super::{AsTyped, ForHelpers, Head, Keys, Kind, Record};
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

const COMMON: [&str; 5] = ["kind", "id", "tags", "private", "for_helpers"];

/// One kind of note.
struct OfKind {
    /// The word after `kind:`.
    word: &'static str,
    /// A note of it, as a message says it.
    owner: &'static str,
    /// What it has beside the keys of every note.
    keys: &'static [&'static str],
    read: fn(&mut Fields, &Head) -> Option<Kind<AsTyped>>,
}

const fn of(
    word: &'static str,
    owner: &'static str,
    keys: &'static [&'static str],
    read: fn(&mut Fields, &Head) -> Option<Kind<AsTyped>>,
) -> OfKind {
    OfKind { word, owner, keys, read }
}

/// Every kind; all that reads notes goes by this list.
static ALL: [OfKind; 8] = [
    of("part", "a part", part::KEYS, |fields, _| part::read(fields).map(Kind::Part)),
    of("finding", "a finding", finding::KEYS, |fields, _| finding::read(fields).map(Kind::Finding)),
    of("measurement", "a measurement", measurement::KEYS, |fields, head| {
        measurement::read(fields, &head.body).map(Kind::Measurement)
    }),
    of("question", "a question", question::KEYS, |fields, _| question::read(fields).map(Kind::Question)),
    of("step", "a step", step::KEYS, |fields, _| step::read(fields).map(Kind::Step)),
    of("shop", "a shop", rest::SHOP_KEYS, |fields, _| rest::shop(fields).map(Kind::Shop)),
    of("paper", "a paper", rest::PAPER_KEYS, |fields, _| rest::paper(fields).map(Kind::Paper)),
    of("entry", "a log entry", rest::ENTRY_KEYS, |fields, _| rest::entry(fields).map(Kind::Entry)),
];

/// The words after `kind:`.
pub fn kinds() -> impl Iterator<Item = &'static str> {
    ALL.iter().map(|kind| kind.word)
}

/// The keys that a note of a kind may have, those of every note first; without a kind those of all kinds.
fn keys(kind: Option<&OfKind>) -> Vec<&'static str> {
    let own: Vec<&'static str> = match kind {
        Some(kind) => kind.keys.to_vec(),
        None => ALL.iter().flat_map(|kind| kind.keys).copied().collect(),
    };
    COMMON.into_iter().chain(own).collect()
}

/// The record in a note.
pub fn read(note: Note, units: &Units, problems: &mut Vec<Problem>) -> Read {
    let mut reader = Reader { units, problems };
    let kind = kind(&note, &mut reader);
    let word = kind.map(|kind| kind.word);
    let owner = kind.map_or("a note", |kind| kind.owner);
    let front = note.front.clone();
    let Some(mut fields) = Fields::of(&front, owner, &keys(kind), &mut reader) else {
        return Read::Broken { head: bare_head(note), kind: word };
    };
    let head = head(note, &mut fields);
    match kind.and_then(|kind| (kind.read)(&mut fields, &head)) {
        Some(kind) => Read::Whole(Record { head, kind }),
        None => Read::Broken { head, kind: word },
    }
}

fn kind(note: &Note, reader: &mut Reader) -> Option<&'static OfKind> {
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
    let found = ALL.iter().find(|kind| kind.word == typed);
    if found.is_none() {
        reader.problems.push(problem::kind_unknown(entry.value.span, typed));
    }
    found
}

fn head(note: Note, fields: &mut Fields) -> Head {
    let typed = fields.typed("id");
    let tags = fields.texts("tags");
    let private = is_private(fields);
    let for_helpers = for_helpers(fields, private);
    let (id, span) = match typed {
        Some(typed) => (typed.text, typed.span),
        None => (note.stem.clone(), note.front_span),
    };
    if !is_id(&id) {
        let problem = problem::id_shape(span, &id);
        fields.reader.problems.push(problem);
    }
    Head {
        id,
        file: note.file,
        span,
        tags,
        private,
        for_helpers,
        keys: Keys::of(&note.front),
        body: note.body,
    }
}

/// A `private:` that says neither yes nor no keeps the note in.
fn is_private(fields: &mut Fields) -> bool {
    if let Some(key) = fields.empty("private") {
        fields.reader.problems.push(problem::private_open(key));
        return true;
    }
    fields.node("private").is_some() && fields.truth("private").unwrap_or(true)
}

/// `true`, `false`, or the words that may be told: then the note goes too.
fn for_helpers(fields: &mut Fields, private: bool) -> ForHelpers {
    let Some(node) = fields.node("for_helpers") else { return ForHelpers::default() };
    let told = match &node.shape {
        Shape::Scalar { truth: Some(goes), .. } => ForHelpers { goes: *goes, words: Vec::new() },
        _ => ForHelpers { goes: true, words: fields.texts("for_helpers") },
    };
    if private && told.goes {
        fields.reader.problems.push(problem::private_for_helpers(node.span));
        return ForHelpers::default();
    }
    told
}

fn bare_head(note: Note) -> Head {
    Head {
        id: note.stem,
        file: note.file,
        span: note.front_span,
        tags: Vec::new(),
        private: false,
        for_helpers: ForHelpers::default(),
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
        let (private, for_helpers) = (false, ForHelpers::default());
        let head = Head { id: stem, file: place.file, span: place, tags, private, for_helpers, body, keys };
        Self::Broken { head, kind: None }
    }
}
