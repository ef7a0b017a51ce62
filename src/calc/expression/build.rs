//! From a line's tree to mathematics.

use super::{Figures, Setting, Sign, Symbol};
use crate::calc::evaluate::{Entry, Meaning};
use crate::calc::literal::{Literal, Piece};
use crate::calc::print;
use crate::calc::syntax::{Comparison, Node, NodeId, Operator, Span};
use crate::calc::units::Units;
use crate::calc::value::Value;

/// Sets out the formulas of one line.
pub(in crate::calc) struct Builder<'a> {
    pub entry: &'a Entry,
    pub units: &'a Units,
    /// What is put in for a name; none to keep the symbols.
    pub value: Option<&'a PutIn<'a>>,
}

/// What stands for a name when the numbers are put in.
pub(in crate::calc) enum Put {
    /// An exact number as its line has it.
    Typed(Literal),
    Value(Value),
}

pub(in crate::calc) type PutIn<'a> = dyn Fn(Meaning) -> Option<Put> + 'a;

/// How tightly a piece holds together; a looser one inside a tighter one needs brackets.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Hold {
    Relation,
    Sum,
    Product,
    /// A number with its unit: one piece, but for a power.
    Number,
    Piece,
}

impl Builder<'_> {
    pub(crate) fn set(&self, id: NodeId) -> Setting {
        self.node(id).0
    }

    /// A piece that must hold at least so tightly.
    fn within(&self, id: NodeId, needed: Hold) -> Setting {
        let (setting, hold) = self.node(id);
        if hold < needed { Setting::Bracket(Box::new(setting)) } else { setting }
    }

    fn node(&self, id: NodeId) -> (Setting, Hold) {
        let tree = &self.entry.line.tree;
        match tree.node(id) {
            Node::Literal(index) => literal(&tree.literals[index as usize]),
            Node::Name(index) => self.name(index),
            Node::Field(inner, field) => self.field(inner, field),
            Node::Binary(operator, left, right) => self.binary(operator, left, right),
            Node::Call(index) => self.call(index),
            Node::Negate(inner) => {
                (Setting::Negative(Box::new(self.within(inner, Hold::Product))), Hold::Sum)
            }
            Node::Convert(inner, _) => self.node(inner),
            other => self.other(other),
        }
    }

    fn other(&self, node: Node) -> (Setting, Hold) {
        match node {
            Node::Text(span) => (Setting::Text(format!("“{}”", self.entry.line.at(span))), Hold::Piece),
            Node::Truth(truth) => (Setting::Text(truth.to_string()), Hold::Piece),
            Node::Not(inner) => {
                let inner = self.within(inner, Hold::Product);
                (Setting::Row(vec![Setting::Text("not".to_owned()), inner]), Hold::Relation)
            }
            Node::Compare(comparison, left, right) => {
                (self.relation(left, comparison_sign(comparison), right), Hold::Relation)
            }
            Node::If { condition, then, otherwise } => {
                let set = |id| Box::new(self.set(id));
                let cases =
                    Setting::Cases { condition: set(condition), then: set(then), otherwise: set(otherwise) };
                (cases, Hold::Relation)
            }
            Node::List { first, count } => {
                let list = self.entry.line.tree.list(first, count);
                (Setting::List(list.iter().map(|id| self.set(*id)).collect()), Hold::Piece)
            }
            _ => (Setting::Text(String::new()), Hold::Piece),
        }
    }

    fn relation(&self, left: NodeId, sign: &'static str, right: NodeId) -> Setting {
        Setting::Relation(
            Box::new(self.within(left, Hold::Sum)),
            sign,
            Box::new(self.within(right, Hold::Sum)),
        )
    }

    fn name(&self, index: u32) -> (Setting, Hold) {
        let name = self.entry.line.tree.names[index as usize];
        let meaning = self.entry.meanings.get(index as usize).copied().unwrap_or(Meaning::Faulty);
        let number = match self.value.and_then(|value| value(meaning)) {
            Some(Put::Typed(typed)) => Some(literal(&typed)),
            Some(Put::Value(value)) => self.number(&value),
            None => None,
        };
        number.unwrap_or_else(|| {
            let note = name.note.map(|note| self.entry.line.at(note));
            (Setting::Symbol(Symbol::of(self.entry.line.at(name.name), note)), Hold::Piece)
        })
    }

    /// A value put in for a name; none for what is better left as a symbol.
    fn number(&self, value: &Value) -> Option<(Setting, Hold)> {
        match value {
            Value::Quantity(quantity) => {
                let printed = print::without_uncertainty(quantity, self.units);
                let hold = match (
                    printed.number.starts_with('-'),
                    printed.power != 0 || printed.remainder.is_some(),
                ) {
                    (true, _) => Hold::Sum,
                    (_, true) => Hold::Product,
                    _ if printed.unit.is_empty() => Hold::Piece,
                    _ => Hold::Number,
                };
                Some((Setting::Value(printed), hold))
            }
            Value::Text(text) => Some((Setting::Text(format!("“{text}”")), Hold::Piece)),
            Value::Truth(truth) => Some((Setting::Text(truth.to_string()), Hold::Piece)),
            Value::Either(_) => Some((Setting::Text(print::value(value, self.units)), Hold::Piece)),
            Value::List(_) | Value::Record(_) => None,
        }
    }

    fn field(&self, inner: NodeId, field: Span) -> (Setting, Hold) {
        let field_name = self.entry.line.at(field);
        if let Some(number) = self.field_value(inner, field_name).and_then(|value| self.number(&value)) {
            return number;
        }
        match self.node(inner).0 {
            Setting::Symbol(symbol) => {
                let name = format!("{}.{field_name}", symbol.name);
                let field_name = field_name.replace('_', " ");
                let subscript = match symbol.subscript {
                    Some(before) => format!("{before} {field_name}"),
                    None => field_name,
                };
                (Setting::Symbol(Symbol { subscript: Some(subscript), name, ..symbol }), Hold::Piece)
            }
            other => (Setting::Field(Box::new(other), field_name.to_owned()), Hold::Piece),
        }
    }

    /// The value of a field of a record that a name stands for.
    fn field_value(&self, inner: NodeId, field: &str) -> Option<Value> {
        let of = match self.entry.line.tree.node(inner) {
            Node::Name(index) => match self.value?(*self.entry.meanings.get(index as usize)?)? {
                Put::Value(value) => value,
                Put::Typed(_) => return None,
            },
            Node::Field(deeper, name) => self.field_value(deeper, self.entry.line.at(name))?,
            _ => return None,
        };
        if let Value::Record(record) = of { record.field(field).cloned() } else { None }
    }

    fn binary(&self, operator: Operator, left: NodeId, right: NodeId) -> (Setting, Hold) {
        match operator {
            Operator::Add => (self.sum(left, Sign::Plus, right), Hold::Sum),
            Operator::Subtract => (self.sum(left, Sign::Minus, right), Hold::Sum),
            Operator::Multiply => (self.product(left, right), Hold::Product),
            Operator::Divide => {
                (Setting::Fraction(Box::new(self.set(left)), Box::new(self.set(right))), Hold::Product)
            }
            Operator::Power => {
                let base = Box::new(self.within(left, Hold::Piece));
                (Setting::Power(base, Box::new(self.set(right))), Hold::Number)
            }
            Operator::To => (self.relation(left, "..", right), Hold::Relation),
            Operator::PlusMinus => (self.relation(left, "±", right), Hold::Relation),
            Operator::And => (self.relation(left, "and", right), Hold::Relation),
            Operator::Or => (self.relation(left, "or", right), Hold::Relation),
        }
    }

    /// A chain of terms in one row.
    fn sum(&self, left: NodeId, sign: Sign, right: NodeId) -> Setting {
        let mut terms = match self.node(left) {
            (Setting::Sum(terms), _) => terms,
            (first, hold) => {
                let first = if hold < Hold::Sum { Setting::Bracket(Box::new(first)) } else { first };
                vec![(Sign::Plus, first)]
            }
        };
        terms.push((sign, self.within(right, Hold::Product)));
        Setting::Sum(terms)
    }

    /// A chain of factors in one row.
    fn product(&self, left: NodeId, right: NodeId) -> Setting {
        let mut factors = match self.node(left) {
            (Setting::Product(factors), _) => factors,
            (first, hold) => {
                vec![if hold < Hold::Product { Setting::Bracket(Box::new(first)) } else { first }]
            }
        };
        factors.push(self.within(right, Hold::Product));
        Setting::Product(factors)
    }

    fn call(&self, index: u32) -> (Setting, Hold) {
        let line = &self.entry.line;
        let call = &line.tree.calls[index as usize];
        let name = line.at(line.tree.names[call.name as usize].name);
        let [only] = &call.arguments[..] else { return (self.plain_call(name, index), Hold::Piece) };
        let inner = || Box::new(self.set(only.value));
        match name {
            "sqrt" => (Setting::Root(2, inner()), Hold::Piece),
            "cbrt" => (Setting::Root(3, inner()), Hold::Piece),
            "abs" => (Setting::Size(inner()), Hold::Piece),
            _ => (self.plain_call(name, index), Hold::Piece),
        }
    }

    fn plain_call(&self, name: &str, index: u32) -> Setting {
        let line = &self.entry.line;
        let arguments = line.tree.calls[index as usize].arguments.iter().map(|argument| {
            (argument.name.map(|name| Symbol::words_of(line.at(name))), self.set(argument.value))
        });
        Setting::Call { name: name.to_owned(), arguments: arguments.collect() }
    }
}

/// `≤` for `<=`.
pub fn comparison_sign(comparison: Comparison) -> &'static str {
    match comparison {
        Comparison::Less => "<",
        Comparison::AtMost => "≤",
        Comparison::Greater => ">",
        Comparison::AtLeast => "≥",
        Comparison::Equal => "=",
        Comparison::Unequal => "≠",
        Comparison::Within => "within",
    }
}

/// A literal as it was typed.
fn literal(literal: &Literal) -> (Setting, Hold) {
    let mut pieces = literal.pieces().iter().peekable();
    let mut row = Vec::new();
    while let Some(piece) = pieces.next() {
        let mut unit = || match pieces.peek() {
            Some(Piece::Unit(unit)) => {
                let shown = unit.shown();
                pieces.next();
                shown
            }
            _ => String::new(),
        };
        row.push(match piece {
            Piece::Figures(text) => Setting::Number { figures: figures(text), unit: unit() },
            Piece::Unit(unit) => Setting::Text(unit.shown()),
            Piece::PlusMinus => Setting::Text("±".to_owned()),
            Piece::To => Setting::Text("..".to_owned()),
            Piece::Limits(upper, lower) => {
                let number = |text: &str, unit| Setting::Number { figures: figures(text), unit };
                Setting::Row(vec![
                    number(upper, String::new()),
                    Setting::Text("/".to_owned()),
                    number(lower, unit()),
                ])
            }
        });
    }
    match row.len() {
        1 => {
            let only = row.remove(0);
            let hold = match &only {
                Setting::Number { figures: Figures::Decimal(text), .. } if text.starts_with('-') => Hold::Sum,
                Setting::Number { figures: Figures::Decimal(_), unit } if unit.is_empty() => Hold::Piece,
                _ => Hold::Number,
            };
            (only, hold)
        }
        _ if literal.is_exact() => (Setting::Row(row), Hold::Product),
        _ => (Setting::Row(row), Hold::Relation),
    }
}

fn figures(text: &str) -> Figures {
    if let Some((whole, denominator)) = text.split_once('/') {
        let (whole, numerator) = whole.rsplit_once(' ').unwrap_or(("", whole));
        let (sign, numerator) = if whole.is_empty() {
            numerator.strip_prefix('-').map_or(("", numerator), |rest| ("-", rest))
        } else {
            (whole, numerator)
        };
        return Figures::Mixed(sign.to_owned(), numerator.to_owned(), denominator.to_owned());
    }
    if let Some((mantissa, power)) = text.split_once('e')
        && let Ok(power) = power.parse()
    {
        return Figures::Scientific(mantissa.to_owned(), power);
    }
    Figures::Decimal(text.to_owned())
}

/// The Greek letter of that name.
pub(super) fn greek(name: &str) -> Option<&'static str> {
    const LETTERS: &[(&str, &str, &str)] = &[
        ("alpha", "α", "Α"),
        ("beta", "β", "Β"),
        ("gamma", "γ", "Γ"),
        ("delta", "δ", "Δ"),
        ("epsilon", "ε", "Ε"),
        ("zeta", "ζ", "Ζ"),
        ("eta", "η", "Η"),
        ("theta", "θ", "Θ"),
        ("iota", "ι", "Ι"),
        ("kappa", "κ", "Κ"),
        ("lambda", "λ", "Λ"),
        ("mu", "μ", "Μ"),
        ("nu", "ν", "Ν"),
        ("xi", "ξ", "Ξ"),
        ("omicron", "ο", "Ο"),
        ("pi", "π", "Π"),
        ("rho", "ρ", "Ρ"),
        ("sigma", "σ", "Σ"),
        ("tau", "τ", "Τ"),
        ("upsilon", "υ", "Υ"),
        ("phi", "φ", "Φ"),
        ("chi", "χ", "Χ"),
        ("psi", "ψ", "Ψ"),
        ("omega", "ω", "Ω"),
    ];
    LETTERS.iter().find_map(|(latin, small, large)| {
        let is_large = name.chars().next().is_some_and(char::is_uppercase);
        if is_large && name.eq_ignore_ascii_case(latin) && name[1..] == latin[1..] {
            return Some(*large);
        }
        (name == *latin).then_some(*small)
    })
}
