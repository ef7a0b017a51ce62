//! From a note to a record: the kind first, then its keys.

use std::sync::LazyLock;

use super::fields::{Fields, Reader};
use super::key::{Form, Key, Mapping, links};
use super::{Content, ForHelpers, Head, Keys, Kind, Record};
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
        /// As far as it is known.
        kind: Option<Kind>,
    },
}

const KIND: Key = common("kind", "What the note records.", Form::Word(kinds), Some("say what it records"));
const ID: Key = common("id", "Its id; left out, the name of its file.", Form::Text, None);
const TAGS: Key = common("tags", "Words of your own.", Form::Texts, None);
const PRIVATE: Key =
    common("private", "It is kept out of everything that is made for others.", Form::Truth, None);
const FOR_HELPERS: Key = common(
    "for_helpers",
    "It goes on the sheets of the jobs that it is about: `true`, or the words in it that may be passed on.",
    Form::Texts,
    None,
);

const fn common(name: &'static str, meaning: &'static str, form: Form, needed: Option<&'static str>) -> Key {
    Key { name, meaning, form, needed }
}

/// The keys that every note may have.
static COMMON: [Key; 5] = [KIND, ID, TAGS, PRIVATE, FOR_HELPERS];

/// The keys that every note may have.
pub fn common_keys() -> Mapping {
    Mapping { owner: "every note", keys: &COMMON }
}

/// The words after `kind:`.
pub fn kinds() -> Vec<&'static str> {
    Kind::ALL.iter().map(|kind| kind.word()).collect()
}

impl Kind {
    /// The keys that a note of the kind may have, those of every note first.
    pub fn mapping(self) -> Mapping {
        static ALL: LazyLock<Vec<Mapping>> = LazyLock::new(|| {
            let whole = |kind: &Kind| {
                let own = kind.own_keys();
                let keys = [&COMMON, own.keys].concat();
                Mapping { keys: keys.leak(), ..own }
            };
            Kind::ALL.iter().map(whole).collect()
        });
        ALL[self as usize]
    }
}

/// The keys of a note of which the kind is not known: those of every kind.
fn of_any_kind() -> Mapping {
    static ALL: LazyLock<Vec<Key>> = LazyLock::new(|| {
        let own = Kind::ALL.iter().flat_map(|kind| kind.own_keys().keys);
        COMMON.iter().chain(own).copied().collect()
    });
    Mapping { owner: "a note", keys: &ALL }
}

/// The record in a note.
pub fn read(note: Note, units: &Units, problems: &mut Vec<Problem>) -> Read {
    let mut reader = Reader { units, problems, body: &note.body };
    let kind = kind(&note, &mut reader);
    let mapping = kind.map_or_else(of_any_kind, Kind::mapping);
    let (head, content) = match Fields::of(&note.front, &mapping, &mut reader) {
        None => (bare_head(&note), None),
        Some(mut fields) => {
            let head = head(&note, &mut fields);
            (head, kind.and_then(|kind| Content::of(kind, &mut fields)))
        }
    };
    let head = Head { links: links(&note.front, &mapping), body: note.body, ..head };
    match content {
        Some(content) => Read::Whole(Record { head, content }),
        None => Read::Broken { head, kind },
    }
}

fn kind(note: &Note, reader: &mut Reader) -> Option<Kind> {
    let Shape::Map(entries) = &note.front.shape else { return None };
    let Some(entry) = entries.iter().find(|entry| entry.key == KIND.name) else {
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
    let found = Kind::ALL.iter().find(|kind| kind.word() == typed).copied();
    if found.is_none() {
        reader.problems.push(problem::kind_unknown(entry.value.span, typed));
    }
    found
}

/// All but the body and the links.
fn head(note: &Note, fields: &mut Fields) -> Head {
    let typed = fields.typed(ID.name);
    let tags = fields.texts(TAGS.name);
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
    Head { id, span, tags, private, for_helpers, ..bare_head(note) }
}

/// A `private:` that says neither yes nor no keeps the note in.
fn is_private(fields: &mut Fields) -> bool {
    if let Some(key) = fields.empty(PRIVATE.name) {
        fields.reader.problems.push(problem::private_open(key));
        return true;
    }
    fields.node(PRIVATE.name).is_some() && fields.truth(PRIVATE.name).unwrap_or(true)
}

/// `true`, `false`, or the words that may be passed on: then the note goes too.
fn for_helpers(fields: &mut Fields, private: bool) -> ForHelpers {
    let Some(node) = fields.node(FOR_HELPERS.name) else { return ForHelpers::default() };
    let told = match &node.shape {
        Shape::Scalar { truth: Some(goes), .. } => ForHelpers { goes: *goes, words: Vec::new() },
        _ => ForHelpers { goes: true, words: fields.texts(FOR_HELPERS.name) },
    };
    if private && told.goes {
        fields.reader.problems.push(problem::private_for_helpers(node.span));
        return ForHelpers::default();
    }
    told
}

fn bare_head(note: &Note) -> Head {
    Head { keys: Keys::of(&note.front), ..Head::bare(note.stem.clone(), note.front_span) }
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
        let head = Head::bare(stem, place);
        Self::Broken { head, kind: None }
    }
}
