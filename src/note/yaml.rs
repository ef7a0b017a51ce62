//! YAML with places: every key and every value knows its byte range.
//!
//! One pass over the parser's events. Of a text that the parser refuses, `slip` says why in our own words.

use std::collections::BTreeMap;

use saphyr_parser::{Event, Parser, ScalarStyle, ScanError, Span as Marks, StrInput};

use super::size;
use super::slip::{self, Slip};
use crate::diagnostic::Problem;
use crate::limits::DEEPEST_KEY;
use crate::note::problems as problem;
use crate::text::{FileId, Span};

/// The character at which a refused text goes wrong: of two readers, the one that stumbles first is nearer to the slip.
fn first_stumble(text: &str, error: &ScanError) -> usize {
    let own = error.marker().index();
    let general = serde_yaml::from_str::<serde_yaml::Value>(text).err();
    let other = general.and_then(|error| error.location()).map(|location| location.index());
    other.map_or(own, |other| own.min(other))
}

/// A value and where it stands.
#[derive(Clone, Debug)]
pub struct Node {
    pub span: Span,
    pub shape: Shape,
}

/// What a value is.
#[derive(Clone, Debug)]
pub enum Shape {
    /// Nothing, or `null`.
    Nothing,
    /// One value, as typed: a number keeps its digits; quotes are taken off.
    Scalar {
        text: String,
        truth: Option<bool>,
    },
    List(Vec<Node>),
    Map(Vec<Entry>),
}

/// A key and its value.
#[derive(Clone, Debug)]
pub struct Entry {
    pub key: String,
    pub key_span: Span,
    /// No colon follows the key: in `{shows: wheel, hub and nut}` the text behind the comma is a key of its own.
    pub bare: bool,
    pub value: Node,
}

impl Node {
    /// A set of keys that holds none, at the start of its file.
    pub fn no_keys(file: FileId) -> Self {
        Self { span: Span::start_of(file), shape: Shape::Map(Vec::new()) }
    }

    /// Whether it is one value.
    pub fn is_scalar(&self) -> bool {
        matches!(self.shape, Shape::Scalar { .. })
    }

    /// The word for this shape in a message.
    pub fn shape_name(&self) -> &'static str {
        match self.shape {
            Shape::Nothing => "nothing",
            Shape::Scalar { .. } => "a single value",
            Shape::List(_) => "a list",
            Shape::Map(_) => "a set of keys",
        }
    }
}

/// Reads a text that stands at byte `base` of its file.
pub(super) fn read(text: &str, base: usize, file: FileId, problems: &mut Vec<Problem>) -> Option<Node> {
    let places = Places { bytes: byte_places(text), text, base, file };
    let mut reader = Reader { parser: Parser::new_from_str(text), places, problems };
    match reader.document() {
        Ok(node) => Some(node),
        Err(problem) => {
            reader.problems.push(*problem);
            None
        }
    }
}

struct Places<'a> {
    /// Byte offset of every character, and of the end.
    bytes: Vec<usize>,
    text: &'a str,
    base: usize,
    file: FileId,
}

fn byte_places(text: &str) -> Vec<usize> {
    text.char_indices().map(|(at, _)| at).chain([text.len()]).collect()
}

impl Places<'_> {
    fn byte(&self, character: usize) -> usize {
        self.base + self.bytes.get(character).copied().unwrap_or(self.text.len())
    }

    fn span(&self, marks: Marks) -> Span {
        let (start, end) = (self.byte(marks.start.index()), self.byte(marks.end.index()));
        let typed = self.text.get(start - self.base..end - self.base).unwrap_or_default();
        Span::new(self.file, start..start + typed.trim_end().len())
    }

    /// The character at this byte of the text.
    fn character(&self, at: usize) -> Span {
        let length =
            self.text[at..].chars().next().filter(|letter| *letter != '\n').map_or(0, char::len_utf8);
        Span::new(self.file, self.base + at..self.base + at + length)
    }
}

/// A problem that ends the reading stands in a box, since it is large and rare.
type Reading<T> = Result<T, Box<Problem>>;

struct Reader<'a, 'p> {
    parser: Parser<'a, StrInput<'a>>,
    places: Places<'a>,
    problems: &'p mut Vec<Problem>,
}

impl<'a> Reader<'a, '_> {
    fn next(&mut self) -> Reading<(Event<'a>, Marks)> {
        match self.parser.next_event() {
            Some(Ok(event)) => Ok(event),
            Some(Err(error)) => Err(self.refused(&error).into()),
            None => Ok((Event::StreamEnd, Marks::default())),
        }
    }

    fn refused(&self, error: &ScanError) -> Problem {
        match slip::find(self.places.text) {
            Some((Slip::Alias, at)) => problem::yaml_alias(self.places.character(at)),
            Some((slip, at)) => problem::yaml_slip(self.places.character(at), slip),
            None => {
                let at = self.places.byte(first_stumble(self.places.text, error)) - self.places.base;
                problem::yaml_syntax(self.places.character(at), error.info())
            }
        }
    }

    fn document(&mut self) -> Reading<Node> {
        let mut document = None;
        loop {
            let (event, marks) = self.next()?;
            match event {
                Event::StreamStart | Event::DocumentStart(_) | Event::DocumentEnd | Event::Nothing => {}
                Event::StreamEnd => {
                    let start = Span::new(self.places.file, self.places.base..self.places.base);
                    return Ok(document.unwrap_or(Node { span: start, shape: Shape::Map(Vec::new()) }));
                }
                _ if document.is_some() => return Err(problem::yaml_second(self.places.span(marks)).into()),
                first => document = Some(self.node(first, marks, 0)?),
            }
        }
    }

    fn node(&mut self, event: Event<'a>, marks: Marks, depth: usize) -> Reading<Node> {
        let span = self.places.span(marks);
        if depth > DEEPEST_KEY {
            return Err(problem::yaml_deep(span, DEEPEST_KEY).into());
        }
        match event {
            Event::Scalar(_, _, anchor, tag) if anchor > 0 || tag.is_some() => {
                Err(problem::yaml_alias(span).into())
            }
            Event::SequenceStart(anchor, tag) | Event::MappingStart(anchor, tag)
                if anchor > 0 || tag.is_some() =>
            {
                Err(problem::yaml_alias(span).into())
            }
            Event::Alias(_) => Err(problem::yaml_alias(span).into()),
            Event::Scalar(text, style, ..) => {
                if style == ScalarStyle::Plain {
                    // The parser lets these pass within brackets.
                    if text.starts_with([':', '|', '>', '@', '`', '%']) {
                        return Err(problem::yaml_slip(span, Slip::Sign).into());
                    }
                    self.refuse_swallowed(span.end);
                }
                self.problems.extend(size::of_text(&text, span, "this text"));
                Ok(Node { span, shape: scalar(&text, style) })
            }
            Event::SequenceStart(..) => self.list(span, depth),
            Event::MappingStart(..) => self.map(span, depth),
            _ => Ok(Node { span, shape: Shape::Nothing }),
        }
    }

    fn list(&mut self, start: Span, depth: usize) -> Reading<Node> {
        let mut items = Vec::new();
        loop {
            let (event, marks) = self.next()?;
            if matches!(event, Event::SequenceEnd | Event::StreamEnd) {
                return Ok(Node { span: self.through(start, marks), shape: Shape::List(items) });
            }
            items.push(self.node(event, marks, depth + 1)?);
        }
    }

    fn map(&mut self, start: Span, depth: usize) -> Reading<Node> {
        let mut entries: Vec<Entry> = Vec::new();
        let mut seen: BTreeMap<String, Span> = BTreeMap::new();
        loop {
            let (event, marks) = self.next()?;
            if matches!(event, Event::MappingEnd | Event::StreamEnd) {
                return Ok(Node { span: self.through(start, marks), shape: Shape::Map(entries) });
            }
            let key = self.node(event, marks, depth + 1)?;
            let Shape::Scalar { text, .. } = key.shape else {
                return Err(problem::yaml_key(key.span).into());
            };
            if self.typed(key.span).contains('\n') {
                return Err(problem::yaml_key(key.span).into());
            }
            if let Some(first) = seen.insert(text.clone(), key.span) {
                return Err(problem::yaml_key_twice(key.span, first, &text).into());
            }
            let (event, marks) = self.next()?;
            let value = self.node(event, marks, depth + 1)?;
            let bare = !self.is_before_colon(key.span.end);
            entries.push(Entry { key: text, key_span: key.span, bare, value });
        }
    }

    fn typed(&self, span: Span) -> &str {
        self.places.text.get(span.start - self.places.base..span.end - self.places.base).unwrap_or_default()
    }

    fn is_before_colon(&self, end: usize) -> bool {
        let rest = self.places.text.get(end - self.places.base..).unwrap_or_default();
        rest.trim_start().starts_with(':')
    }

    /// A `#` with a word or figure right behind it, such as `Bracket #3`, is hardly meant as a comment.
    fn refuse_swallowed(&mut self, end: usize) {
        let rest = self.places.text.get(end - self.places.base..).unwrap_or_default();
        let rest = rest.lines().next().unwrap_or_default();
        let swallowed = rest.trim_start_matches([' ', '\t', ':']);
        let begins_a_word = swallowed
            .strip_prefix('#')
            .is_some_and(|text| text.starts_with(|letter: char| letter.is_alphanumeric()));
        if begins_a_word {
            let start = end + (rest.len() - swallowed.len());
            let at = Span::new(self.places.file, start..start + swallowed.trim_end().len());
            self.problems.push(problem::yaml_remark(at, swallowed.trim_end()));
        }
    }

    /// From the start of a list or mapping to its end, without the blank lines after it.
    fn through(&self, start: Span, end: Marks) -> Span {
        let end = self.places.byte(end.end.index()).max(start.start);
        let typed = self.places.text.get(start.start - self.places.base..end - self.places.base);
        Span { end: start.start + typed.unwrap_or_default().trim_end().len(), ..start }
    }
}

/// A text without quotes may be nothing, or true or false: as in the core schema of YAML 1.2, clause 10.3.
fn scalar(text: &str, style: ScalarStyle) -> Shape {
    let is_plain = style == ScalarStyle::Plain;
    let truth = match text {
        "true" | "True" | "TRUE" => Some(true),
        "false" | "False" | "FALSE" => Some(false),
        "" | "~" | "null" | "Null" | "NULL" if is_plain => return Shape::Nothing,
        _ => None,
    };
    Shape::Scalar { text: text.to_owned(), truth: truth.filter(|_| is_plain) }
}
