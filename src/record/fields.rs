//! Reads the keys of one mapping: every accessor checks shape, word, unit and date, and says where the value stands.

use jiff::civil::Date;

use super::key::{Form, Key, Mapping};
use super::{Dated, Estimate, Typed};
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::calc::units::Units;
use crate::diagnostic::Problem;
use crate::note::body::Block;
use crate::note::yaml::{Entry, Node, Shape};
use crate::record::problems as problem;
use crate::text::Span;

/// Of the Gregorian calendar; ISO 8601-1:2019, 4.2.1: earlier years are written so only by agreement.
const FIRST_YEAR: i16 = 1583;

/// Where problems go and how units are understood, while the keys are read.
pub(super) struct Reader<'a> {
    pub(super) units: &'a Units,
    pub(super) problems: &'a mut Vec<Problem>,
    /// The body of the note: readings may stand there.
    pub(super) body: &'a [Block],
}

/// The keys of one mapping.
pub(super) struct Fields<'n, 'r, 'a> {
    entries: &'n [Entry],
    /// What the keys belong to, as a message says it: "a part".
    owner: &'static str,
    pub(super) span: Span,
    /// The key that the mapping stands under, if it is one of a person's own.
    pub(super) own_key: Option<&'n Entry>,
    /// What the quantities that follow must be, once one has settled it.
    pub(super) settled: Option<Dimension>,
    pub(super) reader: &'r mut Reader<'a>,
}

/// A set of words of which one may stand.
pub trait Word: Copy + 'static {
    const WORDS: &'static [(&'static str, Self)];

    /// The value that a word stands for.
    fn of_word(typed: &str) -> Option<Self> {
        Self::WORDS.iter().find(|(word, _)| *word == typed).map(|(_, value)| *value)
    }

    /// The words alone.
    fn words() -> Vec<&'static str> {
        Self::WORDS.iter().map(|(word, _)| *word).collect()
    }
}

/// The keys of an estimate in three points.
static POINTS: [Key; 3] = [
    point("low", "The least that it may be."),
    point("likely", "What it will most likely be."),
    point("high", "The most that it may be."),
];

const fn point(name: &'static str, meaning: &'static str) -> Key {
    Key { name, meaning, form: Form::Quantity(None), needed: Some("three points are given together") }
}

/// An estimate in three points.
pub(super) fn three_points() -> Mapping {
    Mapping { owner: "an estimate", keys: &POINTS }
}

impl<'n, 'r, 'a> Fields<'n, 'r, 'a> {
    /// `None`, with a problem, when the node is no mapping; a key that the mapping does not have is a problem.
    pub(super) fn of(node: &'n Node, mapping: &Mapping, reader: &'r mut Reader<'a>) -> Option<Self> {
        let Shape::Map(entries) = &node.shape else {
            reader.problems.push(crate::note::problems::yaml_no_keys(node.span, node.shape_name()));
            return None;
        };
        let owner = mapping.owner;
        let fields = Self { entries, owner, span: node.span, own_key: None, settled: None, reader };
        let known = mapping.names();
        let is_known = |entry: &Entry| known.contains(&entry.key.as_str());
        for run in fields.entries.chunk_by(|_, next| next.bare && !is_known(next)) {
            let cut = cut_value(run);
            let is_rest = |entry: &Entry| entry.bare && cut.is_some();
            let unknown = run.iter().filter(|entry| !is_known(entry) && !is_rest(entry));
            let unknown =
                unknown.map(|entry| problem::key_unknown(entry.key_span, &entry.key, owner, &known));
            fields.reader.problems.extend(unknown);
            fields.reader.problems.extend(cut);
        }
        Some(fields)
    }

    /// The mapping behind a key of a person's own.
    pub(super) fn of_entry(entry: &'n Entry, mapping: &Mapping, reader: &'r mut Reader<'a>) -> Option<Self> {
        Some(Self { own_key: Some(entry), ..Self::of(&entry.value, mapping, reader)? })
    }

    fn report(&mut self, problem: Problem) {
        self.reader.problems.push(problem);
    }

    /// The value of a key; a key without a value counts as absent.
    pub(super) fn node(&self, key: &str) -> Option<&'n Node> {
        let entry = self.entries.iter().find(|entry| entry.key == key)?;
        (!matches!(entry.value.shape, Shape::Nothing)).then_some(&entry.value)
    }

    /// Where a key stands that has no value.
    pub(super) fn empty(&self, key: &str) -> Option<Span> {
        let entry = self.entries.iter().find(|entry| entry.key == key)?;
        matches!(entry.value.shape, Shape::Nothing).then_some(entry.key_span)
    }

    /// Where the value of a key stands; without it, the mapping.
    pub(super) fn place(&self, key: &str) -> Span {
        self.node(key).map_or(self.span, |node| node.span)
    }

    /// The single value of a key, as far as there is one: whatever is wrong with it is reported where it is read.
    pub(super) fn said(&self, key: &str) -> Option<&'n str> {
        match &self.node(key)?.shape {
            Shape::Scalar { text, .. } => Some(text.trim()),
            _ => None,
        }
    }

    /// Says that a required key is not there; `why` completes "a part needs `name`: ".
    pub(super) fn missing(&mut self, key: &str, why: &str) {
        let problem = problem::key_missing(self.span, self.owner, key, why);
        self.report(problem);
    }

    pub(super) fn typed(&mut self, key: &str) -> Option<Typed> {
        let node = self.node(key)?;
        self.typed_of(node)
    }

    fn typed_of(&mut self, node: &Node) -> Option<Typed> {
        if let Shape::Scalar { text, .. } = &node.shape {
            return Some(Typed { text: text.trim().to_owned(), span: node.span });
        }
        self.report(problem::shape(node.span, "one value", node.shape_name()));
        None
    }

    pub(super) fn text(&mut self, key: &str) -> Option<String> {
        self.typed(key).map(|typed| typed.text)
    }

    pub(super) fn required(&mut self, key: &str, why: &str) -> Option<String> {
        if self.node(key).is_none() {
            self.missing(key, why);
        }
        self.text(key)
    }

    /// One value or a list of them.
    pub(super) fn list(&mut self, key: &str) -> Vec<Typed> {
        let nodes: Vec<&Node> = match self.node(key) {
            None => return Vec::new(),
            Some(Node { shape: Shape::List(items), .. }) => items.iter().collect(),
            Some(node) => vec![node],
        };
        nodes.into_iter().filter_map(|node| self.typed_of(node)).collect()
    }

    pub(super) fn texts(&mut self, key: &str) -> Vec<String> {
        self.list(key).into_iter().map(|typed| typed.text).collect()
    }

    /// The items of a list that may be written without brackets when it is one.
    pub(super) fn nodes(&self, key: &str) -> Vec<&'n Node> {
        match self.node(key) {
            None => Vec::new(),
            Some(Node { shape: Shape::List(items), .. }) => items.iter().collect(),
            Some(node) => vec![node],
        }
    }

    pub(super) fn word<W: Word>(&mut self, key: &str) -> Option<W> {
        let typed = self.typed(key)?;
        let found = W::of_word(&typed.text);
        if found.is_none() {
            self.report(problem::word_unknown(typed.span, key, &typed.text, &W::words()));
        }
        found
    }

    pub(super) fn truth(&mut self, key: &str) -> Option<bool> {
        let node = self.node(key)?;
        match &node.shape {
            Shape::Scalar { truth: Some(truth), .. } => Some(*truth),
            _ => {
                let found = match &node.shape {
                    Shape::Scalar { text, .. } => format!("`{text}`"),
                    _ => node.shape_name().to_owned(),
                };
                self.report(problem::shape(node.span, "`true` or `false`", &found));
                None
            }
        }
    }

    /// A whole number of one or more.
    pub(super) fn count(&mut self, key: &str) -> Option<u32> {
        let typed = self.typed(key)?;
        let count = typed.text.parse().ok().filter(|count| *count > 0);
        if count.is_none() {
            self.report(problem::shape(
                typed.span,
                "a whole number of one or more",
                &format!("`{}`", typed.text),
            ));
        }
        count
    }

    /// A plain number above zero.
    pub(super) fn number(&mut self, key: &str) -> Option<f64> {
        let typed = self.typed(key)?;
        let number = typed.text.parse().ok().filter(|number: &f64| number.is_finite() && *number > 0.0);
        if number.is_none() {
            self.report(problem::shape(typed.span, "a number above zero", &format!("`{}`", typed.text)));
        }
        number
    }

    pub(super) fn date(&mut self, key: &str) -> Option<Dated> {
        let typed = self.typed(key)?;
        match typed.text.parse::<Date>() {
            Ok(date) if date.year() < FIRST_YEAR => {
                self.report(problem::early(typed.span, &typed.text));
                None
            }
            Ok(date) => Some(Dated { date, span: typed.span }),
            Err(_) => {
                self.report(problem::date(typed.span, &typed.text));
                None
            }
        }
    }

    /// A day that is not before the one under another key.
    pub(super) fn day_after(&mut self, key: &str, first: &str) -> Option<Dated> {
        let day = self.date(key)?;
        let known =
            self.node(first).and_then(|node| self.typed_of(node)).and_then(|typed| typed.text.parse().ok());
        if known.is_some_and(|first: Date| day.date < first) {
            self.report(problem::days_out_of_order(day.span, key, first));
            return None;
        }
        Some(day)
    }

    /// A quantity of this dimension.
    pub(super) fn quantity(&mut self, key: &str, dimension: Dimension) -> Option<Literal> {
        let typed = self.typed(key)?;
        self.literal(&typed, Some(dimension))
    }

    /// A quantity as typed; of any dimension when none is named.
    pub(super) fn literal(&mut self, typed: &Typed, dimension: Option<Dimension>) -> Option<Literal> {
        match Literal::parse(&typed.text, self.reader.units) {
            Err(fault) => {
                self.report(problem::quantity(typed.span, &typed.text, &fault));
                None
            }
            Ok(literal) => match dimension {
                Some(wanted) if literal.dimension() != wanted => {
                    self.report(problem::dimension(typed.span, &literal, wanted, self.reader.units));
                    None
                }
                _ => Some(literal),
            },
        }
    }

    /// A value, a range, or `{low: …, likely: …, high: …}`, of zero or more.
    pub(super) fn estimate(&mut self, key: &str, dimension: Dimension) -> Option<Estimate> {
        let node = self.node(key)?;
        let estimate = match &node.shape {
            Shape::Map(_) => self.three_points(node, dimension)?,
            _ => {
                let typed = self.typed_of(node)?;
                let literal = self.literal(&typed, Some(dimension))?;
                let Literal { low, nominal, high, unit, .. } = literal;
                Estimate { low, likely: nominal, high, unit }
            }
        };
        if estimate.low < 0.0 {
            self.report(problem::negative(node.span, key));
            return None;
        }
        Some(estimate)
    }

    fn three_points(&mut self, node: &Node, dimension: Dimension) -> Option<Estimate> {
        let mut fields = Fields::of(node, &three_points(), &mut *self.reader)?;
        fields.need_all(&POINTS);
        let mut point = |at: usize| fields.quantity(POINTS[at].name, dimension);
        let (low, likely, high) = (point(0)?, point(1)?, point(2)?);
        let estimate =
            Estimate { low: low.nominal, likely: likely.nominal, high: high.nominal, unit: likely.unit };
        if estimate.low > estimate.likely || estimate.likely > estimate.high {
            self.report(problem::points_out_of_order(node.span));
            return None;
        }
        Some(estimate)
    }

    /// Says which of the keys that are needed are not there.
    pub(super) fn need_all(&mut self, keys: &[Key]) {
        for key in keys {
            if let Some(why) = key.needed.filter(|_| self.node(key.name).is_none()) {
                self.missing(key.name, why);
            }
        }
    }

    /// The entries of a mapping with free keys.
    pub(super) fn entries(&mut self, key: &str) -> &'n [Entry] {
        match self.node(key) {
            None => &[],
            Some(Node { shape: Shape::Map(entries), .. }) => entries,
            Some(node) => {
                self.report(crate::note::problems::yaml_no_keys(node.span, node.shape_name()));
                &[]
            }
        }
    }

    /// A mapping with known keys under a key.
    pub(super) fn child(&mut self, key: &str, mapping: &Mapping) -> Option<Fields<'n, '_, 'a>> {
        let node = self.node(key)?;
        Fields::of(node, mapping, &mut *self.reader)
    }
}

impl Fields<'_, '_, '_> {
    /// A quantity above zero.
    pub(super) fn positive(&mut self, key: &str, dimension: Dimension) -> Option<Literal> {
        let literal = self.quantity(key, dimension)?;
        if literal.low > 0.0 {
            return Some(literal);
        }
        self.report(problem::not_positive(self.place(key), key));
        None
    }

    /// A quantity of zero or more.
    pub(super) fn not_negative(&mut self, key: &str, dimension: Dimension) -> Option<Literal> {
        let literal = self.quantity(key, dimension)?;
        if literal.low >= 0.0 {
            return Some(literal);
        }
        self.report(problem::negative(self.place(key), key));
        None
    }

    /// `11 ft x 9 in x 9 in`: so many lengths; a single unit at the end serves all.
    pub(super) fn sides<const N: usize>(&mut self, key: &str, wanted: &str) -> Option<[Literal; N]> {
        let typed = self.typed(key)?;
        let pieces = split_by_times(&typed.text);
        let (Some(first), Some(last), true) = (pieces.first(), pieces.last(), pieces.len() == N) else {
            self.report(problem::shape(typed.span, wanted, &format!("`{}`", typed.text)));
            return None;
        };
        let unit = if has_unit(first) { "" } else { unit_at_end(last) };
        let text =
            |piece: &&str| if has_unit(piece) { (*piece).to_owned() } else { format!("{piece} {unit}") };
        let sides = pieces
            .iter()
            .map(text)
            .map(|text| self.literal(&Typed { text, span: typed.span }, Some(Dimension::LENGTH)));
        sides.collect::<Option<Vec<_>>>()?.try_into().ok()
    }
}

fn has_unit(piece: &str) -> bool {
    piece.chars().any(|letter| letter.is_alphabetic() || matches!(letter, '"' | '\''))
}

/// The pieces between `x`, `X` or `×` that stand alone or between figures.
fn split_by_times(text: &str) -> Vec<&str> {
    text.split(['×', 'x', 'X']).map(str::trim).filter(|piece| !piece.is_empty()).collect()
}

fn unit_at_end(piece: &str) -> &str {
    let digits_end = piece.rfind(|letter: char| letter.is_ascii_digit()).map_or(0, |at| at + 1);
    piece[digits_end..].trim()
}

/// The problem of a text without quotes that a comma ends: a key, and bare ones behind it that are the rest of its value.
fn cut_value(run: &[Entry]) -> Option<Problem> {
    let [Entry { key, value: Node { shape: Shape::Scalar { text, .. }, span }, .. }, rest @ ..] = run else {
        return None;
    };
    let last = rest.last()?;
    let rest: Vec<&str> = rest.iter().map(|entry| entry.key.as_str()).collect();
    let at = Span { end: last.key_span.end, ..*span };
    Some(problem::value_cut(at, key, text, &rest.join(", ")))
}

/// The word that stands for a value.
pub fn word_of<W: Word + PartialEq>(value: W) -> &'static str {
    W::WORDS.iter().find(|(_, each)| *each == value).map_or("", |(word, _)| word)
}

impl Fields<'_, '_, '_> {
    /// `[0.4, 0.2]`: two numbers from 0 to 1.
    pub(super) fn fractions(&mut self, key: &str) -> Option<[f64; 2]> {
        self.node(key)?;
        let typed = self.list(key);
        let numbers: Vec<f64> = typed.iter().filter_map(|each| each.text.parse().ok()).collect();
        match numbers.as_slice() {
            [across, down] if (0.0..=1.0).contains(across) && (0.0..=1.0).contains(down) => {
                Some([*across, *down])
            }
            _ => {
                let found = if typed.is_empty() { "nothing" } else { "something else" };
                self.report(problem::shape(
                    self.place(key),
                    "`[0.4, 0.2]`: from the left and from the top, each 0 to 1",
                    found,
                ));
                None
            }
        }
    }
}

impl Fields<'_, '_, '_> {
    pub(super) fn typed_at(&mut self, node: &Node) -> Option<Typed> {
        self.typed_of(node)
    }

    /// A quantity with a unit, of whatever dimension.
    pub(super) fn measure(&mut self, typed: &Typed) -> Option<Literal> {
        let literal = self.literal(typed, None)?;
        if literal.dimension() == Dimension::NONE {
            self.report(problem::unit_missing(
                typed.span,
                &typed.text,
                "a unit of what is meant: `900 lb`, `30 tonf`",
            ));
            return None;
        }
        Some(literal)
    }
}
