//! What every note has, whatever its kind; and where each of its keys stands.

use super::key::Link;
use crate::note::body::Block;
use crate::note::yaml::{Entry, Node, Shape};
use crate::text::{FileId, Span};

/// What every note has, whatever its kind.
#[derive(Clone, Debug)]
pub struct Head {
    pub id: String,
    pub file: FileId,
    /// Where the id stands, or the front matter when the file's name is the id.
    pub span: Span,
    pub tags: Vec<String>,
    /// Never leaves the keeper's own PDF.
    pub private: bool,
    pub for_helpers: ForHelpers,
    pub body: Vec<Block>,
    /// Where its keys stand.
    pub keys: Keys,
    /// Every id that its keys name, in their order.
    pub links: Vec<Link>,
}

/// What a note lets out to helpers beyond what is written for them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ForHelpers {
    /// The note goes on the sheets of the jobs that it is about.
    pub goes: bool,
    /// Words that go although they tell of money, a contact, a person or a shop.
    pub words: Vec<String>,
}

/// Where the keys of a note stand, with the single values under each.
#[derive(Clone, Debug, Default)]
pub struct Keys(Vec<Key>);

#[derive(Clone, Debug)]
struct Key {
    name: String,
    /// Where the name stands.
    place: Span,
    value: Span,
    /// The values of the list, or the one value.
    items: Vec<(String, Span)>,
}

impl Head {
    /// Of a note of which no more is known than its name and place.
    pub(super) fn bare(id: String, span: Span) -> Self {
        let (tags, body, links) = (Vec::new(), Vec::new(), Vec::new());
        let (private, for_helpers, keys) = (false, ForHelpers::default(), Keys::default());
        Self { id, file: span.file, span, tags, private, for_helpers, body, keys, links }
    }

    /// Where the value of a key stands; of a note without the key, its [`Self::span`].
    pub fn at(&self, key: &str) -> Span {
        self.keys.find(key).map_or(self.span, |key| key.value)
    }

    /// Where a key names this id; else as [`Self::at`].
    pub fn at_id(&self, key: &str, id: &str) -> Span {
        let items = self.keys.find(key).into_iter().flat_map(|key| &key.items);
        items.into_iter().find(|(text, _)| text == id).map_or_else(|| self.at(key), |(_, span)| *span)
    }

    /// Whether a key names this id.
    pub fn names(&self, key: &str, id: &str) -> bool {
        self.keys.find(key).is_some_and(|key| key.items.iter().any(|(text, _)| text == id))
    }

    /// Whether the note has a key with a value.
    pub fn has(&self, key: &str) -> bool {
        self.keys.find(key).is_some()
    }

    /// Where the id stands: after `id:`, or the very start of the file whose name it is.
    pub fn id_place(&self) -> Span {
        self.keys.find("id").map_or(Span::start_of(self.file), |key| key.value)
    }
}

impl Keys {
    /// The keys of a front matter; one without a value counts as absent.
    pub fn of(front: &Node) -> Self {
        let Shape::Map(entries) = &front.shape else { return Self::default() };
        let said = entries.iter().filter(|entry| !matches!(entry.value.shape, Shape::Nothing));
        Self(said.map(Key::of).collect())
    }

    /// Every key with its place and that of its value, in order.
    pub fn places(&self) -> impl Iterator<Item = (&str, Span, Span)> {
        self.0.iter().map(|key| (key.name.as_str(), key.place, key.value))
    }

    fn find(&self, name: &str) -> Option<&Key> {
        self.0.iter().find(|key| key.name == name)
    }
}

impl Key {
    fn of(entry: &Entry) -> Self {
        let items = match &entry.value.shape {
            Shape::List(items) => items.iter().filter_map(single).collect(),
            _ => single(&entry.value).into_iter().collect(),
        };
        Self { name: entry.key.clone(), place: entry.key_span, value: entry.value.span, items }
    }
}

fn single(node: &Node) -> Option<(String, Span)> {
    match &node.shape {
        Shape::Scalar { text, .. } => Some((text.trim().to_owned(), node.span)),
        _ => None,
    }
}
