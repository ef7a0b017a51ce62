//! What may stand in a mapping of a note: each key with its meaning and the form of its value.

use std::fmt;

use super::fields::three_points;
use super::shape::size_on_hold;
use super::{Kind, Typed};
use crate::calc::dimension::Dimension;
use crate::diagnostic::choice;
use crate::note::yaml::{Entry, Node, Shape};

/// A key and what may stand behind it.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    pub name: &'static str,
    /// What it says, in the words of its field's documentation.
    pub meaning: &'static str,
    pub form: Form,
    /// What the problem of a note without it says to do: "say how long it is". `None`: it may be left out.
    pub needed: Option<&'static str>,
}

/// A set of keys that belong together.
#[derive(Clone, Copy, Debug)]
pub struct Mapping {
    /// What the keys belong to, as a message says it: "a part".
    pub owner: &'static str,
    pub keys: &'static [Key],
}

/// How the value under a key is written.
#[derive(Clone, Copy, Debug)]
pub enum Form {
    Text,
    /// A text, or a list of them.
    Texts,
    /// One of the words that the function gives.
    Word(fn() -> Vec<&'static str>),
    /// Words of those that the function gives, in a list.
    Words(fn() -> Vec<&'static str>),
    /// `true` or `false`.
    Truth,
    /// A whole number of one or more.
    Count,
    /// A plain number.
    Number,
    /// So many plain numbers.
    Numbers(usize),
    /// `2027-03-06`.
    Date,
    /// A quantity of this dimension, or of any.
    Quantity(Option<Dimension>),
    /// A quantity, or a list of them.
    Quantities,
    Angle,
    /// A quantity, a range, or three points.
    Estimate(Dimension),
    /// `11 ft x 9 in`: so many lengths.
    Sides(usize),
    /// A size of a shape: a length with a class or limits, an expression, `{hold: why}`.
    Size,
    /// Two sizes in brackets.
    Place,
    /// A file, from the folder of the note.
    File,
    /// The code of a problem.
    Code,
    /// The id of what a link may lead to.
    Link(Target),
    /// An id, or a list of them.
    Links(Target),
    /// Keys of one's own, each with a text.
    Facts,
    /// Keys of one's own, each with a quantity of any dimension.
    Measures,
    /// Ids, each with a quantity.
    ByLink(Target, Dimension),
    /// Keys of one's own, each with a mapping.
    ByName(fn() -> Mapping),
    Keys(fn() -> Mapping),
    /// Mappings in a list; one alone needs no brackets.
    Items(fn() -> Mapping),
    /// A value as the first says, or a mapping.
    Either(&'static Form, fn() -> Mapping),
    /// A list of values as the first says, or of mappings.
    Eithers(&'static Form, fn() -> Mapping),
}

/// What an id under a key may name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Target {
    Note(Kind),
    /// A note of any kind.
    AnyNote,
    /// A key of `instruments` in dossier.yaml.
    Instrument,
}

/// An id that stands in a note's keys.
#[derive(Clone, Debug)]
pub struct Link {
    pub typed: Typed,
    /// What its key says that it may name.
    pub to: Target,
}

impl Key {
    /// Whether both have one name.
    pub(super) fn is(self, other: Self) -> bool {
        self.name == other.name
    }
}

impl Mapping {
    /// The names of its keys.
    pub fn names(&self) -> Vec<&'static str> {
        self.keys.iter().map(|key| key.name).collect()
    }

    fn form(&self, name: &str) -> Option<Form> {
        self.keys.iter().find(|key| key.name == name).map(|key| key.form)
    }
}

impl Form {
    /// The keys of the mapping that may stand there.
    pub fn mapping(self) -> Option<Mapping> {
        match self {
            Self::ByName(of) | Self::Keys(of) | Self::Items(of) => Some(of()),
            Self::Either(_, of) | Self::Eithers(_, of) => Some(of()),
            Self::Estimate(_) => Some(three_points()),
            Self::Size => Some(size_on_hold()),
            _ => None,
        }
    }
}

/// Every id that the keys of a node name, within nested mappings too.
pub(super) fn links(node: &Node, mapping: &Mapping) -> Vec<Link> {
    let of_entry = |entry: &Entry| mapping.form(&entry.key).map(|form| under(&entry.value, form));
    entries(node).iter().filter_map(of_entry).flatten().collect()
}

fn under(value: &Node, form: Form) -> Vec<Link> {
    match form {
        Form::Link(to) | Form::Links(to) => {
            items(value).iter().filter_map(text).map(|typed| Link { typed, to }).collect()
        }
        Form::ByLink(to, _) => {
            let link = |entry: &Entry| {
                let typed = Typed { text: entry.key.clone(), span: entry.key_span };
                Link { typed, to }
            };
            entries(value).iter().map(link).collect()
        }
        Form::ByName(of) => entries(value).iter().flat_map(|entry| links(&entry.value, &of())).collect(),
        Form::Keys(of) | Form::Items(of) | Form::Either(_, of) | Form::Eithers(_, of) => {
            items(value).iter().flat_map(|item| links(item, &of())).collect()
        }
        _ => Vec::new(),
    }
}

fn entries(node: &Node) -> &[Entry] {
    match &node.shape {
        Shape::Map(entries) => entries,
        _ => &[],
    }
}

fn items(node: &Node) -> &[Node] {
    match &node.shape {
        Shape::List(items) => items,
        _ => std::slice::from_ref(node),
    }
}

fn text(node: &Node) -> Option<Typed> {
    match &node.shape {
        Shape::Scalar { text, .. } => Some(Typed { text: text.trim().to_owned(), span: node.span }),
        _ => None,
    }
}

/// As a table of keys says it.
impl fmt::Display for Form {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text => f.write_str("text"),
            Self::Texts => f.write_str("text, or a list"),
            Self::Word(words) => f.write_str(&choice(words())),
            Self::Words(words) => write!(f, "a list of {}", choice(words())),
            Self::Truth => f.write_str("`true` or `false`"),
            Self::Count => f.write_str("whole number, 1 or more"),
            Self::Number => f.write_str("number"),
            Self::Numbers(count) => write!(f, "{count} numbers"),
            Self::Date => f.write_str("date"),
            Self::Quantity(Some(dimension)) => write!(f, "{dimension}"),
            Self::Quantity(None) => f.write_str("quantity"),
            Self::Quantities => f.write_str("quantity, or a list"),
            Self::Angle => f.write_str("angle"),
            Self::Estimate(dimension) => write!(f, "{dimension}, a range, or three points"),
            Self::Sides(count) => write!(f, "{count} lengths"),
            Self::Size => f.write_str("size"),
            Self::Place => f.write_str("two sizes"),
            Self::File => f.write_str("file, from the note's folder"),
            Self::Code => f.write_str("code of a problem"),
            Self::Link(to) => write!(f, "id of {to}"),
            Self::Links(to) => write!(f, "id of {to}, or a list"),
            Self::Facts => f.write_str("words of your own, each with a text"),
            Self::Measures => f.write_str("words of your own, each with a quantity"),
            Self::ByLink(to, dimension) => write!(f, "id of {to}, each with {dimension}"),
            Self::ByName(of) => write!(f, "names of your own, each with the keys of {}", of().owner),
            Self::Keys(of) => write!(f, "the keys of {}", of().owner),
            Self::Items(of) => write!(f, "the keys of {}, or a list", of().owner),
            Self::Either(form, of) => write!(f, "{form}, or the keys of {}", of().owner),
            Self::Eithers(form, of) => write!(f, "{form}, or the keys of {}; or a list", of().owner),
        }
    }
}

impl fmt::Display for Target {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Note(kind) => kind.owner(),
            Self::AnyNote => "any note",
            Self::Instrument => "an instrument",
        })
    }
}
