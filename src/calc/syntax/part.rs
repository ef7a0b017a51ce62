//! The parts of a formula: literals, names and calls, brackets, lists, texts, `if`, and fields taken from them.

use super::expression::{Parser, Read, is_keyword, place};
use super::tree::{Argument, Call, Name, Node, NodeId, Span};
use crate::calc::fault;
use crate::calc::literal::{Literal, Place};
use crate::calc::scan::{Scan, is_letter};
use crate::calc::units;

impl Parser<'_> {
    /// A first part and the fields taken from it.
    pub(super) fn part(&mut self) -> Read<NodeId> {
        let start = self.start();
        let mut part = self.first()?;
        loop {
            let before = self.scan.at;
            if !self.scan.eat(".") || self.scan.peek() == Some('.') {
                self.scan.at = before;
                return Ok(part);
            }
            let field = self.span_of_word();
            if field.start == field.end {
                return Err(fault::expected(
                    self.here(),
                    "the name of a field",
                    "Write it as `press.force`.",
                )
                .into());
            }
            part = self.push(Node::Field(part, field), start)?;
        }
    }

    fn first(&mut self) -> Read<NodeId> {
        let start = self.start();
        match self.scan.peek() {
            Some('(') => self.bracket(),
            Some('[') => self.list(),
            Some('"') => self.text(),
            Some('@') => self.of_note(),
            Some(first) if first.is_ascii_digit() || matches!(first, '.' | '½' | '¼' | '¾') => {
                self.literal()
            }
            Some(first) if is_letter(first) => self.word(),
            Some(sign @ ('±' | '+')) => {
                let help = "A bound stands behind its value: `2.000 in ± 0.001 in`.";
                Err(fault::unexpected(start..start + sign.len_utf8(), &sign.to_string(), help).into())
            }
            Some(other) => {
                let range = start..start + other.len_utf8();
                Err(fault::unexpected(range, &other.to_string(), "A value or a name is needed here.").into())
            }
            None => Err(fault::expected(
                start..start,
                "a value",
                "Write a number with its unit, a name or a formula.",
            )
            .into()),
        }
    }

    fn bracket(&mut self) -> Read<NodeId> {
        let open = self.scan.at;
        self.step();
        let before_range = std::mem::take(&mut self.before_range);
        let inner = self.nested(Self::formula)?;
        self.before_range = before_range;
        self.close(open, ")")?;
        Ok(inner)
    }

    fn list(&mut self) -> Read<NodeId> {
        let start = self.scan.at;
        self.step();
        let mut values = Vec::new();
        self.scan.blanks();
        if !self.scan.eat("]") {
            loop {
                values.push(self.inside(Self::formula)?);
                self.scan.blanks();
                if !self.scan.eat(",") {
                    break;
                }
            }
            self.close(start, "]")?;
        }
        let first = place(self.tree.children.len());
        let count = place(values.len());
        self.tree.children.extend(values);
        self.push(Node::List { first, count }, start)
    }

    fn text(&mut self) -> Read<NodeId> {
        let start = self.scan.at;
        self.step();
        let inner = self.scan.at;
        self.scan.run(|next| next != '"' && next != '\n');
        let span = Span::from(inner..self.scan.at);
        if !self.scan.eat("\"") {
            let range = start..self.scan.at;
            return Err(fault::expected(
                range,
                "the closing quote",
                "Close the text with \" on the same line.",
            )
            .into());
        }
        self.push(Node::Text(span), start)
    }

    /// `@note-id.name`
    fn of_note(&mut self) -> Read<NodeId> {
        let start = self.scan.at;
        self.step();
        let id_start = self.scan.at;
        self.scan.run(|next| next.is_ascii_alphanumeric() || next == '-' || next == '_');
        let id = Span::from(id_start..self.scan.at);
        let dot = self.scan.eat(".");
        let name = self.span_of_word();
        if id.start == id.end || !dot || name.start == name.end {
            let help = "Write `@`, the note's id, a point and the name: `@post-journal.min`.";
            return Err(fault::expected(start..self.scan.at, "a value of a note", help).into());
        }
        self.named(Some(id), name, start)
    }

    fn word(&mut self) -> Read<NodeId> {
        let start = self.scan.at;
        let span = self.span_of_word();
        match &self.scan.text[span.range()] {
            "true" => self.push(Node::Truth(true), start),
            "false" => self.push(Node::Truth(false), start),
            "if" => self.condition(start),
            word if is_keyword(word) => {
                Err(fault::unexpected(span.range(), word, "A value or a name is needed here.").into())
            }
            _ => self.named(None, span, start),
        }
    }

    fn condition(&mut self, start: usize) -> Read<NodeId> {
        let condition = self.inside(Self::formula)?;
        self.need_keyword("then")?;
        let then = self.inside(Self::formula)?;
        self.need_keyword("else")?;
        let otherwise = self.inside(Self::formula)?;
        self.push(Node::If { condition, then, otherwise }, start)
    }

    /// A nested formula in which `..` and comparison signs are its own.
    fn inside(&mut self, read: fn(&mut Self) -> Read<NodeId>) -> Read<NodeId> {
        let before_range = std::mem::take(&mut self.before_range);
        let node = self.nested(read);
        self.before_range = before_range;
        node
    }

    fn need_keyword(&mut self, word: &str) -> Read<()> {
        if self.keyword(word) {
            return Ok(());
        }
        let help = "Write `if CONDITION then VALUE else VALUE`.";
        Err(fault::expected(self.here(), &format!("`{word}`"), help).into())
    }

    /// A name, and its arguments when it is called.
    fn named(&mut self, note: Option<Span>, name: Span, start: usize) -> Read<NodeId> {
        let called = self.scan.peek() == Some('(');
        self.tree.names.push(Name { note, name, called });
        let name = place(self.tree.names.len() - 1);
        if !called {
            return self.push(Node::Name(name), start);
        }
        let arguments = self.arguments()?;
        self.tree.calls.push(Call { name, arguments });
        let call = place(self.tree.calls.len() - 1);
        self.push(Node::Call(call), start)
    }

    fn arguments(&mut self) -> Read<Vec<Argument>> {
        let open = self.scan.at;
        self.step();
        let mut arguments = Vec::new();
        loop {
            self.scan.blanks();
            if self.scan.eat(")") {
                return Ok(arguments);
            }
            let name = self.argument_name();
            let value = self.inside(Self::formula)?;
            arguments.push(Argument { name, value });
            self.scan.blanks();
            if !self.scan.eat(",") {
                self.close(open, ")")?;
                return Ok(arguments);
            }
        }
    }

    /// `d:` before a value.
    fn argument_name(&mut self) -> Option<Span> {
        let before = self.scan.at;
        let span = self.span_of_word();
        self.scan.blanks();
        if span.start != span.end && self.scan.eat(":") {
            return Some(span);
        }
        self.scan.at = before;
        None
    }

    fn literal(&mut self) -> Read<NodeId> {
        let start = self.scan.at;
        let place = self.place();
        match Literal::read(self.units, &mut self.scan, place)? {
            Some(literal) => {
                let node = self.literal_node(literal, start)?;
                self.no_word_follows()?;
                Ok(node)
            }
            None => Err(fault::unexpected(start..start + 1, ".", "A number is needed here.").into()),
        }
    }

    pub(super) fn place(&self) -> Place {
        if self.before_range { Place::BeforeRange } else { Place::Formula }
    }

    /// `5 foo`: what follows a number is a unit.
    fn no_word_follows(&mut self) -> Read<()> {
        let mut ahead = self.scan.clone();
        ahead.blanks();
        let start = ahead.at;
        let word = ahead.word();
        let is_unit_sign = matches!(ahead.peek(), Some('°' | 'µ' | 'Ω')) && word.is_empty();
        if is_unit_sign || !(word.is_empty() || is_keyword(word)) {
            let about = units::unknown_here(self.units, &Scan { text: self.scan.text, at: start });
            let word = &self.scan.text[about.range.clone()];
            return Err(fault::not_a_unit(about.range.clone(), word, &about.help).into());
        }
        Ok(())
    }

    pub(super) fn literal_node(&mut self, literal: Literal, start: usize) -> Read<NodeId> {
        self.tree.literals.push(literal);
        let index = place(self.tree.literals.len() - 1);
        self.push(Node::Literal(index), start)
    }
}
