//! The tree of a line: nodes in one list, children before parents.

use std::ops::Range;

use crate::calc::literal::Literal;
use crate::calc::units::{Ton, Unit};

/// A place in the text of the line, in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    pub start: u32,
    pub end: u32,
}

/// A node by its place in the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NodeId(pub(super) u32);

/// One line with its tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    pub text: Box<str>,
    pub statement: Statement,
    pub tree: Tree,
    /// What stands in quotes behind the line, or after `#`.
    pub comment: Option<Span>,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Statement {
    Define {
        name: Span,
        value: NodeId,
        assumed: bool,
    },
    DefineFunction {
        name: Span,
        parameters: Vec<Span>,
        body: NodeId,
    },
    /// `low` and `high` are what the value is held against; one of them for a one-sided check. `asks` is all of it.
    Check {
        value: NodeId,
        comparison: Comparison,
        low: Option<NodeId>,
        high: Option<NodeId>,
        asks: Span,
    },
    /// `budget(clearance)` on a line of its own.
    Budget {
        of: NodeId,
    },
    /// An expression without a name.
    Show {
        value: NodeId,
    },
    /// Only a comment, or nothing.
    Nothing,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tree {
    pub(super) nodes: Vec<Node>,
    pub(super) spans: Vec<Span>,
    pub(super) heights: Vec<u16>,
    pub literals: Vec<Literal>,
    /// All names that are used, those of called functions included.
    pub names: Vec<Name>,
    pub calls: Vec<Call>,
    pub(super) children: Vec<NodeId>,
    pub targets: Vec<Target>,
}

/// A part of a formula. Numbers in it are places in the lists of the [`Tree`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Node {
    Literal(u32),
    Name(u32),
    Field(NodeId, Span),
    Text(Span),
    Truth(bool),
    Negate(NodeId),
    Not(NodeId),
    Binary(Operator, NodeId, NodeId),
    Compare(Comparison, NodeId, NodeId),
    If { condition: NodeId, then: NodeId, otherwise: NodeId },
    Call(u32),
    List { first: u32, count: u32 },
    Convert(NodeId, u32),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operator {
    Add,
    Subtract,
    Multiply,
    Divide,
    Power,
    /// `low .. high`: the middle, known within half of the distance.
    To,
    /// `middle ± bound`
    PlusMinus,
    And,
    Or,
}

impl Operator {
    /// It joins conditions, not quantities.
    pub const fn is_logical(self) -> bool {
        matches!(self, Self::And | Self::Or)
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Comparison {
    Less,
    AtMost,
    Greater,
    AtLeast,
    Equal,
    Unequal,
    Within,
}

/// A name as used: `clearance`, `@post-journal.min`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Name {
    /// The id behind `@`, of a name of another note.
    pub note: Option<Span>,
    pub name: Span,
    /// It is called: `f(…)`.
    pub called: bool,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Call {
    /// The place of the function's name in [`Tree::names`].
    pub name: u32,
    pub arguments: Vec<Argument>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Argument {
    pub name: Option<Span>,
    pub value: NodeId,
}

/// What stands behind `to`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Target {
    Unit(Unit),
    /// The nearest fraction with this denominator.
    Fraction(u32, Unit),
    FeetInches,
}

impl Target {
    pub(in crate::calc) fn bare_ton(&self) -> Option<Ton> {
        match self {
            Self::Unit(unit) | Self::Fraction(_, unit) => unit.bare_ton(),
            Self::FeetInches => None,
        }
    }
}

impl Span {
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }
}

impl From<Range<usize>> for Span {
    fn from(range: Range<usize>) -> Self {
        let place = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        Self { start: place(range.start), end: place(range.end) }
    }
}

impl Tree {
    pub fn node(&self, id: NodeId) -> Node {
        self.nodes[id.0 as usize]
    }

    pub fn span(&self, id: NodeId) -> Range<usize> {
        self.spans[id.0 as usize].range()
    }

    pub fn list(&self, first: u32, count: u32) -> &[NodeId] {
        &self.children[first as usize..(first + count) as usize]
    }

    /// How many nodes lie between this one and its deepest leaf.
    pub fn height(&self, id: NodeId) -> usize {
        usize::from(self.heights[id.0 as usize])
    }

    /// The places of all literals.
    pub fn literal_spans(&self) -> impl Iterator<Item = Range<usize>> {
        let literals =
            self.nodes.iter().zip(&self.spans).filter(|(node, _)| matches!(node, Node::Literal(_)));
        literals.map(|(_, span)| span.range())
    }

    /// Each name with the field that is read of it: of `repair.bore` the name `repair` with `bore`.
    pub fn names_with_fields(&self) -> impl Iterator<Item = (&Name, Option<Span>)> {
        let mut fields = vec![None; self.names.len()];
        for node in &self.nodes {
            if let Node::Field(inner, field) = node
                && let Node::Name(index) = self.node(*inner)
            {
                fields[index as usize] = Some(*field);
            }
        }
        self.names.iter().zip(fields)
    }

    /// Makes one name of a name and the field that is read of it, where `is_one` says so.
    pub(in crate::calc) fn join(&mut self, is_one: impl Fn(&Name, Span) -> bool) {
        for at in 0..self.nodes.len() {
            let Node::Field(inner, field) = self.nodes[at] else { continue };
            let Node::Name(index) = self.node(inner) else { continue };
            let name = &mut self.names[index as usize];
            if is_one(name, field) {
                name.name.end = field.end;
                self.nodes[at] = Node::Name(index);
            }
        }
    }

    pub fn len(&self) -> usize {
        self.nodes.len()
    }

    pub fn is_empty(&self) -> bool {
        self.nodes.is_empty()
    }
}

impl Line {
    pub fn at(&self, span: Span) -> &str {
        &self.text[span.range()]
    }

    /// The name that the line defines.
    pub fn defines(&self) -> Option<Span> {
        match self.statement {
            Statement::Define { name, .. } | Statement::DefineFunction { name, .. } => Some(name),
            _ => None,
        }
    }

    /// Whether it states what is assumed.
    pub fn is_assumption(&self) -> bool {
        matches!(self.statement, Statement::Define { assumed: true, .. })
    }

    /// The literal that is all of the line's value.
    pub fn typed(&self) -> Option<&Literal> {
        let (Statement::Define { value, .. } | Statement::Show { value }) = self.statement else {
            return None;
        };
        self.literal(value)
    }

    /// The literal that a node is, if it is nothing else.
    pub fn literal(&self, node: NodeId) -> Option<&Literal> {
        match self.tree.node(node) {
            Node::Literal(index) => self.tree.literals.get(index as usize),
            _ => None,
        }
    }

    pub fn comment_text(&self) -> Option<&str> {
        self.comment.map(|span| self.at(span).trim())
    }
}
