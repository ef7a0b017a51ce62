//! Reading a line: definition, assumption, check, comment.

use std::ops::Range;

use super::expression::{Parser, Read, is_keyword};
use super::tree::{Comparison, Line, Node, NodeId, Span, Statement};
use crate::calc::fault::{self, Fault};
use crate::calc::units::Units;

/// The longest line that is read, with all that its brackets carry on, in bytes.
pub const LONGEST_LINE: usize = 20_000;

/// One line as a tree.
///
/// # Errors
/// The first fault, with its range in `text`; the rest of the line is not looked at.
pub fn parse(text: &str, units: &Units) -> Result<Line, Box<Fault>> {
    if text.len() > LONGEST_LINE {
        return Err(fault::too_long(0..0, LONGEST_LINE).into());
    }
    let mut parser = Parser::new(text, units);
    let statement = parser.statement()?;
    let comment = parser.comment()?;
    Ok(Line { text: text.into(), statement, tree: parser.tree, comment })
}

/// The name that a line defines.
pub(in crate::calc) struct Head {
    pub name: Range<usize>,
    pub is_function: bool,
}

/// The name that a line would define, whether or not the rest of it can be read.
pub(in crate::calc) fn head(text: &str, units: &Units) -> Option<Head> {
    let mut parser = Parser::new(text, units);
    parser.scan.blanks();
    parser.opens("assume");
    if let Ok(Some((name, _))) = parser.function_head() {
        return Some(Head { name: name.range(), is_function: true });
    }
    let name = parser.definition_head().ok()??;
    Some(Head { name: name.range(), is_function: false })
}

impl Parser<'_> {
    fn statement(&mut self) -> Read<Statement> {
        self.scan.blanks();
        if self.scan.at_end() || self.scan.peek() == Some('#') {
            return Ok(Statement::Nothing);
        }
        if self.opens("assume") {
            return self.assumption();
        }
        if self.opens("check") {
            return self.check();
        }
        if let Some(function) = self.function_head()? {
            return self.function(function);
        }
        if let Some(name) = self.definition_head()? {
            let value = self.formula()?;
            return Ok(Statement::Define { name, value, assumed: false });
        }
        let value = self.formula()?;
        Ok(self.budget(value).unwrap_or(Statement::Show { value }))
    }

    /// A word that opens a line, followed by a blank and something that is not `=`.
    fn opens(&mut self, word: &str) -> bool {
        let before = self.scan.at;
        if self.keyword(word) && self.scan.blanks() && !matches!(self.scan.peek(), Some('=') | None) {
            return true;
        }
        self.scan.at = before;
        false
    }

    fn assumption(&mut self) -> Read<Statement> {
        let Some(name) = self.definition_head()? else {
            return Err(fault::expected(self.here(), "a name", "Write `assume name = value \"why\"`.").into());
        };
        let value = self.formula()?;
        Ok(Statement::Define { name, value, assumed: true })
    }

    /// `name =`, if that stands here.
    fn definition_head(&mut self) -> Read<Option<Span>> {
        let before = self.scan.at;
        let name = self.span_of_word();
        self.scan.blanks();
        if name.start == name.end || self.scan.rest().starts_with("==") || !self.scan.eat("=") {
            self.scan.at = before;
            return Ok(None);
        }
        self.free_name(name).map(Some)
    }

    fn free_name(&self, name: Span) -> Read<Span> {
        let word = &self.scan.text[name.range()];
        if is_keyword(word) {
            return Err(fault::unexpected(
                name.range(),
                word,
                "This word has a meaning of its own: choose another name.",
            )
            .into());
        }
        Ok(name)
    }

    /// `f(x, y) =`, if that stands here.
    fn function_head(&mut self) -> Read<Option<(Span, Vec<Span>)>> {
        let before = self.scan.at;
        let name = self.span_of_word();
        let mut parameters = Vec::new();
        let mut complete = name.start != name.end && self.scan.eat("(");
        while complete {
            self.scan.blanks();
            let parameter = self.span_of_word();
            complete = parameter.start != parameter.end;
            parameters.push(parameter);
            self.scan.blanks();
            if !self.scan.eat(",") {
                complete = complete && self.scan.eat(")");
                break;
            }
        }
        self.scan.blanks();
        if !complete || self.scan.rest().starts_with("==") || !self.scan.eat("=") {
            self.scan.at = before;
            return Ok(None);
        }
        self.free_name(name)?;
        for (index, parameter) in parameters.iter().enumerate() {
            self.free_name(*parameter)?;
            let word = &self.scan.text[parameter.range()];
            if parameters[..index].iter().any(|other| &self.scan.text[other.range()] == word) {
                return Err(fault::unexpected(
                    parameter.range(),
                    word,
                    "Each argument needs a name of its own.",
                )
                .into());
            }
        }
        Ok(Some((name, parameters)))
    }

    fn function(&mut self, (name, parameters): (Span, Vec<Span>)) -> Read<Statement> {
        let body = self.formula()?;
        Ok(Statement::DefineFunction { name, parameters, body })
    }

    fn check(&mut self) -> Read<Statement> {
        let start = self.start();
        self.before_range = true;
        let value = self.formula()?;
        let (comparison, low, high) = self.limits()?;
        let asks = Span::from(start..start + self.scan.text[start..self.scan.at].trim_end().len());
        Ok(Statement::Check { value, comparison, low, high, asks })
    }

    /// What a check holds its value against.
    fn limits(&mut self) -> Read<(Comparison, Option<NodeId>, Option<NodeId>)> {
        if self.keyword("within") {
            return self.within();
        }
        let Some(comparison) = self.comparison_sign() else {
            let help = "Write `check A <= B`, or `check A within LOW .. HIGH`.";
            return Err(fault::expected(self.here(), "what it is held against", help).into());
        };
        let limit = Some(self.formula()?);
        Ok(match comparison {
            Comparison::Less | Comparison::AtMost => (comparison, None, limit),
            Comparison::Greater | Comparison::AtLeast => (comparison, limit, None),
            _ => (comparison, limit, limit),
        })
    }

    fn within(&mut self) -> Read<(Comparison, Option<NodeId>, Option<NodeId>)> {
        let low = self.sum()?;
        self.scan.blanks();
        if !(self.scan.eat("..") || self.scan.eat("…")) {
            return Err(fault::expected(self.here(), "`..`", "Write `check A within LOW .. HIGH`.").into());
        }
        let high = self.sum()?;
        Ok((Comparison::Within, Some(low), Some(high)))
    }

    /// `budget(x)` as a whole line.
    fn budget(&self, value: NodeId) -> Option<Statement> {
        let Node::Call(call) = self.tree.node(value) else { return None };
        let call = &self.tree.calls[call as usize];
        let name = self.tree.names[call.name as usize];
        let is_budget = name.note.is_none() && &self.scan.text[name.name.range()] == "budget";
        match call.arguments[..] {
            [argument] if is_budget && argument.name.is_none() => {
                Some(Statement::Budget { of: argument.value })
            }
            _ => None,
        }
    }

    /// The text in quotes, or after `#`, that ends a line.
    fn comment(&mut self) -> Read<Option<Span>> {
        self.scan.blanks();
        let start = self.scan.at;
        if self.scan.eat("#") {
            let start = self.scan.at;
            self.scan.at = self.scan.text.len();
            return Ok(Some(Span::from(start..self.scan.at)));
        }
        if self.scan.eat("\"") {
            return self.quoted(start).map(Some);
        }
        if self.scan.at_end() {
            return Ok(None);
        }
        let help = match self.scan.peek() {
            Some(',') => {
                "Numbers are written without commas between thousands, and with a point for decimals."
            }
            Some('=') => "A line defines one name: `name = formula`; equality in a condition is `==`.",
            Some(')' | ']') => "No bracket is open here.",
            _ => "An operator is missing before it, or a quote around a comment.",
        };
        Err(fault::unexpected(self.here(), self.token(), help).into())
    }

    fn quoted(&mut self, start: usize) -> Read<Span> {
        let inner = self.scan.at;
        self.scan.run(|next| next != '"');
        let span = Span::from(inner..self.scan.at);
        if !self.scan.eat("\"") {
            return Err(fault::expected(
                start..self.scan.at,
                "the closing quote",
                "Close the comment with \".",
            )
            .into());
        }
        self.scan.blanks();
        if self.scan.at_end() || self.scan.peek() == Some('#') {
            return Ok(span);
        }
        Err(fault::unexpected(self.here(), self.token(), "The comment ends the line.").into())
    }
}
