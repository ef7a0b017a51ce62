//! Reading a formula by recursive descent, with a limit on how deep it may go.

use std::ops::Range;

use super::tree::{Comparison, Node, NodeId, Operator, Span, Tree};
use crate::calc::fault::{self, Fault};
use crate::calc::literal::{Literal, Place};
use crate::calc::scan::Scan;
use crate::calc::units::Units;

/// How deep brackets, calls and signs may be nested.
const DEEPEST_NESTING: usize = 50;
/// How many operations may hang on one another.
const TALLEST_TREE: usize = 250;

const KEYWORDS: &[&str] = &["if", "then", "else", "to", "and", "or", "not", "within", "true", "false"];

pub(super) type Read<T> = Result<T, Box<Fault>>;

pub(super) struct Parser<'a> {
    pub scan: Scan<'a>,
    pub units: &'a Units,
    pub tree: Tree,
    /// Where `..` parts the two ends of a check.
    pub before_range: bool,
    nesting: usize,
}

pub(super) fn is_keyword(word: &str) -> bool {
    KEYWORDS.contains(&word)
}

impl<'a> Parser<'a> {
    pub(super) fn new(text: &'a str, units: &'a Units) -> Self {
        Self { scan: Scan::new(text), units, tree: Tree::default(), before_range: false, nesting: 0 }
    }

    /// A whole formula with its conversion.
    pub(super) fn formula(&mut self) -> Read<NodeId> {
        let start = self.start();
        let value = self.nested(Self::either)?;
        if !self.keyword("to") {
            return Ok(value);
        }
        let target = self.target()?;
        self.tree.targets.push(target);
        let index = place(self.tree.targets.len() - 1);
        self.push(Node::Convert(value, index), start)
    }

    /// One level deeper, where a bracket, a call or a sign leads back to the beginning.
    pub(super) fn nested(&mut self, read: fn(&mut Self) -> Read<NodeId>) -> Read<NodeId> {
        if self.nesting >= DEEPEST_NESTING {
            return Err(fault::too_deep(self.here(), DEEPEST_NESTING).into());
        }
        self.nesting += 1;
        let node = read(self);
        self.nesting -= 1;
        node
    }

    fn either(&mut self) -> Read<NodeId> {
        let start = self.start();
        let mut left = self.both()?;
        while self.keyword("or") {
            let right = self.both()?;
            left = self.push(Node::Binary(Operator::Or, left, right), start)?;
        }
        Ok(left)
    }

    fn both(&mut self) -> Read<NodeId> {
        let start = self.start();
        let mut left = self.negation()?;
        while self.keyword("and") {
            let right = self.negation()?;
            left = self.push(Node::Binary(Operator::And, left, right), start)?;
        }
        Ok(left)
    }

    fn negation(&mut self) -> Read<NodeId> {
        let start = self.start();
        if self.keyword("not") {
            let inner = self.nested(Self::negation)?;
            return self.push(Node::Not(inner), start);
        }
        self.comparison()
    }

    fn comparison(&mut self) -> Read<NodeId> {
        let start = self.start();
        let left = self.bounded()?;
        if self.is_of_check() {
            return Ok(left);
        }
        let Some(comparison) = self.comparison_sign() else { return Ok(left) };
        let right = self.bounded()?;
        self.push(Node::Compare(comparison, left, right), start)
    }

    /// The next sign of comparison, or `..`, belongs to the line, which is a check.
    fn is_of_check(&self) -> bool {
        self.nesting <= 1 && self.before_range
    }

    /// `low .. high`, `middle ± bound`.
    fn bounded(&mut self) -> Read<NodeId> {
        let start = self.start();
        let left = self.sum()?;
        self.scan.blanks();
        if self.has_bounds(left) {
            return Ok(left);
        }
        let operator = if !self.is_of_check() && (self.scan.eat("..") || self.scan.eat("…")) {
            Operator::To
        } else if self.scan.eat("±") {
            Operator::PlusMinus
        } else {
            return Ok(left);
        };
        let right = self.sum()?;
        self.push(Node::Binary(operator, left, right), start)
    }

    /// A literal that was typed with its bounds takes no more of them.
    fn has_bounds(&self, id: NodeId) -> bool {
        match self.tree.node(id) {
            Node::Literal(index) => !self.tree.literals[index as usize].is_exact(),
            _ => false,
        }
    }

    pub(super) fn comparison_sign(&mut self) -> Option<Comparison> {
        self.scan.blanks();
        let signs = [
            ("<=", Comparison::AtMost),
            ("≤", Comparison::AtMost),
            (">=", Comparison::AtLeast),
            ("≥", Comparison::AtLeast),
            ("<", Comparison::Less),
            (">", Comparison::Greater),
            ("==", Comparison::Equal),
            ("!=", Comparison::Unequal),
            ("≠", Comparison::Unequal),
        ];
        signs.iter().find(|(sign, _)| self.scan.eat(sign)).map(|(_, comparison)| *comparison)
    }

    pub(super) fn sum(&mut self) -> Read<NodeId> {
        let start = self.start();
        let mut left = self.product()?;
        loop {
            self.scan.blanks();
            let operator = match self.scan.peek() {
                Some('+') => Operator::Add,
                Some('-' | '−') => Operator::Subtract,
                _ => return Ok(left),
            };
            self.step();
            let right = self.product()?;
            left = self.push(Node::Binary(operator, left, right), start)?;
        }
    }

    fn product(&mut self) -> Read<NodeId> {
        let start = self.start();
        let mut left = self.signed()?;
        loop {
            self.scan.blanks();
            let operator = match self.scan.peek() {
                Some('*' | '·' | '×' | '⋅') => Operator::Multiply,
                Some('/' | '÷') => Operator::Divide,
                _ => return Ok(left),
            };
            self.step();
            let right = self.signed()?;
            left = self.push(Node::Binary(operator, left, right), start)?;
        }
    }

    fn signed(&mut self) -> Read<NodeId> {
        let start = self.start();
        if !matches!(self.scan.peek(), Some('-' | '−')) {
            return self.power();
        }
        // A sign before a literal belongs to it (-5 degC), but not before a power (-2^2).
        if let Some(literal) = self.negative_literal()? {
            return Ok(literal);
        }
        self.step();
        let inner = self.nested(Self::signed)?;
        self.push(Node::Negate(inner), start)
    }

    fn negative_literal(&mut self) -> Read<Option<NodeId>> {
        let start = self.scan.at;
        let place = self.place();
        let Some(literal) = Literal::read(self.units, &mut self.scan, place)? else { return Ok(None) };
        if literal.pieces().len() == 1 || self.scan.peek() == Some('^') {
            self.scan.at = start;
            return Ok(None);
        }
        self.literal_node(literal, start).map(Some)
    }

    fn power(&mut self) -> Read<NodeId> {
        let start = self.start();
        let base = self.part()?;
        self.raised(base, start)
    }

    /// A base, to the power that follows it if one does.
    fn raised(&mut self, base: NodeId, start: usize) -> Read<NodeId> {
        self.scan.blanks();
        if !self.scan.eat("^") {
            return Ok(base);
        }
        let exponent = self.nested(Self::exponent)?;
        self.push(Node::Binary(Operator::Power, base, exponent), start)
    }

    /// What stands behind `^`: a plain number, so that `d^2 in` is never a unit, or a signed part.
    fn exponent(&mut self) -> Read<NodeId> {
        let start = self.start();
        if matches!(self.scan.peek(), Some('-' | '−')) {
            self.step();
            let inner = self.nested(Self::exponent)?;
            return self.push(Node::Negate(inner), start);
        }
        if self.scan.peek().is_some_and(|next| next.is_ascii_digit()) {
            let run = self.scan.clone().run(|next| next.is_ascii_digit() || next == '.');
            let mut short = Scan { text: &self.scan.text[..start + run.len()], at: start };
            if let Some(literal) = Literal::read(self.units, &mut short, Place::Formula)? {
                self.scan.at = short.at;
                let base = self.literal_node(literal, start)?;
                return self.raised(base, start);
            }
        }
        self.power()
    }

    /// A node that ends here.
    pub(super) fn push(&mut self, node: Node, start: usize) -> Read<NodeId> {
        let range = start..self.scan.at;
        let height = self.height_of(node) + 1;
        if height > TALLEST_TREE {
            return Err(fault::too_deep(range, TALLEST_TREE).into());
        }
        self.tree.nodes.push(node);
        self.tree.spans.push(trimmed(self.scan.text, range).into());
        self.tree.heights.push(u16::try_from(height).unwrap_or(u16::MAX));
        Ok(NodeId(place(self.tree.nodes.len() - 1)))
    }

    fn height_of(&self, node: Node) -> usize {
        let height = |id: &NodeId| self.tree.height(*id);
        match node {
            Node::Literal(_) | Node::Name(_) | Node::Text(_) | Node::Truth(_) => 0,
            Node::Field(inner, _) | Node::Negate(inner) | Node::Not(inner) | Node::Convert(inner, _) => {
                height(&inner)
            }
            Node::Binary(_, a, b) | Node::Compare(_, a, b) => height(&a).max(height(&b)),
            Node::If { condition, then, otherwise } => {
                height(&condition).max(height(&then)).max(height(&otherwise))
            }
            Node::Call(call) => {
                let arguments = &self.tree.calls[call as usize].arguments;
                arguments.iter().map(|argument| height(&argument.value)).max().unwrap_or(0)
            }
            Node::List { first, count } => self.tree.list(first, count).iter().map(height).max().unwrap_or(0),
        }
    }

    pub(super) fn close(&mut self, open: usize, sign: &str) -> Read<()> {
        self.scan.blanks();
        if self.scan.eat(sign) {
            return Ok(());
        }
        let (range, opening) = (self.here(), open..open + 1);
        let fault = if self.scan.at_end() {
            fault::expected(range, &format!("`{sign}`"), "Close the bracket.")
        } else {
            fault::unexpected(
                range,
                self.token(),
                &format!("An operator, a comma or `{sign}` is needed here."),
            )
        };
        Err(fault.label(opening, "opened here").into())
    }

    /// The word or sign that stands here, for a message.
    pub(super) fn token(&self) -> &'a str {
        let mut ahead = self.scan.clone();
        let word = ahead.word();
        match self.scan.peek() {
            _ if !word.is_empty() => word,
            Some(sign) => &self.scan.text[self.scan.at..self.scan.at + sign.len_utf8()],
            None => "",
        }
    }

    /// The place of the next word or sign.
    pub(super) fn here(&self) -> Range<usize> {
        self.scan.at..self.scan.at + self.token().len()
    }

    pub(super) fn keyword(&mut self, word: &str) -> bool {
        self.scan.blanks();
        let mut ahead = self.scan.clone();
        let found = ahead.word() == word;
        if found {
            self.scan.at = ahead.at;
        }
        found
    }

    pub(super) fn span_of_word(&mut self) -> Span {
        let start = self.scan.at;
        self.scan.word();
        Span::from(start..self.scan.at)
    }

    pub(super) fn start(&mut self) -> usize {
        self.scan.blanks();
        self.scan.at
    }

    /// Over one character.
    pub(super) fn step(&mut self) {
        self.scan.at += self.scan.peek().map_or(0, char::len_utf8);
    }
}

/// The place of a node or a name in its list.
pub(super) fn place(index: usize) -> u32 {
    u32::try_from(index).unwrap_or(u32::MAX)
}

fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let length = text[range.clone()].trim_end().len();
    range.start..range.start + length
}

impl From<crate::calc::literal::LiteralFault> for Box<Fault> {
    fn from(fault: crate::calc::literal::LiteralFault) -> Self {
        Box::new(fault.into())
    }
}
