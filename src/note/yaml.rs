//! YAML with places: every key and every value knows its byte range.
//!
//! `serde_yaml` says what the values are; a pass over the parser's events says where they stand.

use saphyr_parser::{Event, Parser, ScalarStyle, Span as Marks, StrInput};
use serde_yaml::Value;

use crate::diagnostic::Problem;
use crate::note::problems as problem;
use crate::text::{FileId, Span};

/// Deeper nesting than this is refused.
const DEEPEST: usize = 24;

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
    let values = serde_yaml::from_str::<Value>(text);
    let mut reader = Reader { parser: Parser::new_from_str(text), places, problems };
    let node = match reader.document() {
        Ok(node) => node,
        Err(Stopped::ByUs(problem)) => {
            reader.problems.push(problem);
            return None;
        }
        Err(Stopped::ByParser(problem)) => {
            let by_serde = values.err().map(|error| reader.places.syntax(&error));
            reader.problems.push(by_serde.unwrap_or(problem));
            return None;
        }
    };
    match values {
        Ok(values) => Some(adopt(node, &values)),
        Err(error) => {
            let problem = reader.places.syntax(&error);
            reader.problems.push(problem);
            None
        }
    }
}

/// Takes over what `serde_yaml` says a quoted or special scalar is; a plain one stays as it was typed.
fn adopt(node: Node, value: &Value) -> Node {
    let shape = match (node.shape, value) {
        (Shape::Scalar { .. } | Shape::Nothing, Value::Null) => Shape::Nothing,
        (Shape::Scalar { .. }, Value::String(text)) => Shape::Scalar { text: text.clone(), truth: None },
        (Shape::Scalar { text, .. }, Value::Bool(truth)) => Shape::Scalar { text, truth: Some(*truth) },
        (Shape::List(items), Value::Sequence(values)) => {
            Shape::List(items.into_iter().zip(values).map(|(item, value)| adopt(item, value)).collect())
        }
        (Shape::Map(entries), Value::Mapping(values)) => {
            let adopted = entries
                .into_iter()
                .zip(values)
                .map(|(entry, (_, value))| Entry { value: adopt(entry.value, value), ..entry });
            Shape::Map(adopted.collect())
        }
        (shape, _) => shape,
    };
    Node { span: node.span, shape }
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

    fn syntax(&self, error: &serde_yaml::Error) -> Problem {
        let at = error.location().map_or(0, |location| self.line_column(location.line(), location.column()));
        let line = self.text[at..].lines().next().unwrap_or_default();
        let end = at + line.chars().next().map_or(0, char::len_utf8);
        let span = Span::new(self.file, self.base + at..self.base + end);
        problem::yaml_syntax(span, &error.to_string(), self.whole_line(at))
    }

    fn line_column(&self, line: usize, column: usize) -> usize {
        let start = self.text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum::<usize>();
        let rest = self.text[start.min(self.text.len())..].lines().next().unwrap_or_default();
        start + rest.char_indices().nth(column.saturating_sub(1)).map_or(rest.len(), |(at, _)| at)
    }

    fn whole_line(&self, at: usize) -> &str {
        let start = self.text[..at].rfind('\n').map_or(0, |newline| newline + 1);
        self.text[start..].lines().next().unwrap_or_default()
    }
}

/// Why reading stopped. Of a syntax error `serde_yaml` often says more than the parser of events.
enum Stopped {
    ByParser(Problem),
    ByUs(Problem),
}

impl From<Problem> for Stopped {
    fn from(problem: Problem) -> Self {
        Self::ByUs(problem)
    }
}

struct Reader<'a, 'p> {
    parser: Parser<'a, StrInput<'a>>,
    places: Places<'a>,
    problems: &'p mut Vec<Problem>,
}

impl<'a> Reader<'a, '_> {
    fn next(&mut self) -> Result<(Event<'a>, Marks), Stopped> {
        match self.parser.next_event() {
            Some(Ok(event)) => Ok(event),
            Some(Err(error)) => Err(self.stopped(error.marker().index(), error.info())),
            None => Ok((Event::StreamEnd, Marks::default())),
        }
    }

    fn stopped(&self, character: usize, said: &str) -> Stopped {
        let at = self.places.byte(character);
        let span = Span::new(self.places.file, at..at);
        if said.contains("anchor") || said.contains("alias") || said.contains("tag") {
            return Stopped::ByUs(problem::yaml_alias(span));
        }
        let line = self.places.whole_line(at - self.places.base);
        Stopped::ByParser(problem::yaml_syntax(span, said, line))
    }

    fn document(&mut self) -> Result<Node, Stopped> {
        loop {
            let (event, marks) = self.next()?;
            match event {
                Event::StreamStart | Event::DocumentStart(_) | Event::Nothing => {}
                Event::StreamEnd | Event::DocumentEnd => {
                    let start = self.places.base;
                    let span = Span::new(self.places.file, start..start);
                    return Ok(Node { span, shape: Shape::Map(Vec::new()) });
                }
                first => return self.node(first, marks, 0),
            }
        }
    }

    fn node(&mut self, event: Event<'a>, marks: Marks, depth: usize) -> Result<Node, Stopped> {
        let span = self.places.span(marks);
        if depth > DEEPEST {
            return Err(problem::yaml_deep(span, DEEPEST).into());
        }
        match event {
            Event::Scalar(_, _, anchor, tag) if anchor > 0 || tag.is_some() => {
                Err(problem::yaml_alias(span).into())
            }
            Event::SequenceStart(anchor, _) | Event::MappingStart(anchor, _) if anchor > 0 => {
                Err(problem::yaml_alias(span).into())
            }
            Event::Alias(_) => Err(problem::yaml_alias(span).into()),
            Event::Scalar(text, style, ..) => {
                if style == ScalarStyle::Plain {
                    self.refuse_swallowed(span.end);
                }
                Ok(Node { span, shape: scalar(&text, style) })
            }
            Event::SequenceStart(..) => self.list(span, depth),
            Event::MappingStart(..) => self.map(span, depth),
            _ => Ok(Node { span, shape: Shape::Nothing }),
        }
    }

    fn list(&mut self, start: Span, depth: usize) -> Result<Node, Stopped> {
        let mut items = Vec::new();
        loop {
            let (event, marks) = self.next()?;
            if matches!(event, Event::SequenceEnd | Event::StreamEnd) {
                return Ok(Node { span: self.through(start, marks), shape: Shape::List(items) });
            }
            items.push(self.node(event, marks, depth + 1)?);
        }
    }

    fn map(&mut self, start: Span, depth: usize) -> Result<Node, Stopped> {
        let mut entries: Vec<Entry> = Vec::new();
        loop {
            let (event, marks) = self.next()?;
            if matches!(event, Event::MappingEnd | Event::StreamEnd) {
                return Ok(Node { span: self.through(start, marks), shape: Shape::Map(entries) });
            }
            let key = self.node(event, marks, depth + 1)?;
            let Shape::Scalar { text, .. } = key.shape else {
                return Err(problem::yaml_key(key.span).into());
            };
            if let Some(first) = entries.iter().find(|entry| entry.key == text) {
                return Err(problem::yaml_key_twice(key.span, first.key_span, &text).into());
            }
            let (event, marks) = self.next()?;
            let value = self.node(event, marks, depth + 1)?;
            let bare = !self.is_before_colon(key.span.end);
            entries.push(Entry { key: text, key_span: key.span, bare, value });
        }
    }

    fn is_before_colon(&self, end: usize) -> bool {
        let rest = self.places.text.get(end - self.places.base..).unwrap_or_default();
        rest.trim_start().starts_with(':')
    }

    /// A `#` with a word or figure right behind it, such as `Bracket #3`, is hardly meant as a remark.
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

fn scalar(text: &str, style: ScalarStyle) -> Shape {
    match style {
        ScalarStyle::Plain if text.is_empty() || text == "~" => Shape::Nothing,
        _ => Shape::Scalar { text: text.to_owned(), truth: None },
    }
}
