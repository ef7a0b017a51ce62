//! Mathematics gone through piece by piece.

use std::collections::BTreeSet;

use super::Setting;

impl Setting {
    /// The same with each piece replaced for which `other` gives another; what is replaced is not looked into.
    #[must_use]
    pub fn replaced(&self, other: &dyn Fn(&Setting) -> Option<Setting>) -> Setting {
        if let Some(one) = other(self) {
            return one;
        }
        let boxed = |inner: &Setting| Box::new(inner.replaced(other));
        let all = |pieces: &[Setting]| pieces.iter().map(|piece| piece.replaced(other)).collect();
        match self {
            Self::Symbol(_) | Self::Number { .. } | Self::Value(_) | Self::Text(_) => self.clone(),
            Self::Sum(terms) => {
                Self::Sum(terms.iter().map(|(sign, term)| (*sign, term.replaced(other))).collect())
            }
            Self::Product(factors) => Self::Product(all(factors)),
            Self::List(items) => Self::List(all(items)),
            Self::Row(pieces) => Self::Row(all(pieces)),
            Self::Fraction(above, below) => Self::Fraction(boxed(above), boxed(below)),
            Self::Power(base, exponent) => Self::Power(boxed(base), boxed(exponent)),
            Self::Root(degree, inner) => Self::Root(*degree, boxed(inner)),
            Self::Size(inner) => Self::Size(boxed(inner)),
            Self::Negative(inner) => Self::Negative(boxed(inner)),
            Self::Bracket(inner) => Self::Bracket(boxed(inner)),
            Self::Field(inner, field) => Self::Field(boxed(inner), field.clone()),
            Self::Relation(left, sign, right) => Self::Relation(boxed(left), sign, boxed(right)),
            Self::Call { name, arguments } => Self::Call {
                name: name.clone(),
                arguments: arguments.iter().map(|(name, is)| (name.clone(), is.replaced(other))).collect(),
            },
            Self::Cases { condition, then, otherwise } => {
                Self::Cases { condition: boxed(condition), then: boxed(then), otherwise: boxed(otherwise) }
            }
        }
    }

    /// The pieces that it is made of.
    pub fn pieces(&self) -> Vec<&Setting> {
        match self {
            Self::Symbol(_) | Self::Number { .. } | Self::Value(_) | Self::Text(_) => Vec::new(),
            Self::Sum(terms) => terms.iter().map(|(_, term)| term).collect(),
            Self::Product(pieces) | Self::List(pieces) | Self::Row(pieces) => pieces.iter().collect(),
            Self::Fraction(one, two) | Self::Power(one, two) | Self::Relation(one, _, two) => {
                vec![one, two]
            }
            Self::Root(_, inner)
            | Self::Size(inner)
            | Self::Negative(inner)
            | Self::Bracket(inner)
            | Self::Field(inner, _) => vec![inner],
            Self::Call { arguments, .. } => arguments.iter().map(|(_, is)| is).collect(),
            Self::Cases { condition, then, otherwise } => vec![condition, then, otherwise],
        }
    }

    /// The names of its symbols, of a field that of its record.
    pub fn names(&self) -> BTreeSet<&str> {
        match self {
            Self::Symbol(symbol) => symbol.name.split('.').take(1).collect(),
            other => other.pieces().into_iter().flat_map(Setting::names).collect(),
        }
    }
}
