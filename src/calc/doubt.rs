//! How far a value may be off: its sensitivities to independent sources of doubt.
//!
//! Every value keeps one [`Term`] for each source that it depends on, so what is correlated stays so: `a - a` is exact.
//! Two results come from the same terms: the expanded uncertainty (JCGM 100:2008, GUM, 5.1.2 and annex G) and the worst
//! case (sum of absolute values).

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::student;

/// One source of doubt among all of an evaluation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SourceId(u32);

/// All sources of doubt by name, in the order in which they were met.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    labels: Vec<String>,
    by_key: BTreeMap<String, SourceId>,
}

impl Sources {
    pub fn new() -> Self {
        Self::default()
    }

    /// A source of its own, shared with nothing.
    pub fn fresh(&mut self, label: impl Into<String>) -> SourceId {
        let id = SourceId(u32::try_from(self.labels.len()).unwrap_or(u32::MAX));
        self.labels.push(label.into());
        id
    }

    /// The source of that name; the same wherever it is asked for.
    pub fn shared(&mut self, key: &str) -> SourceId {
        if let Some(id) = self.by_key.get(key) {
            return *id;
        }
        let id = self.fresh(key);
        self.by_key.insert(key.to_owned(), id);
        id
    }

    /// What it is, for a budget.
    pub fn label(&self, id: SourceId) -> &str {
        self.labels.get(id.0 as usize).map_or("", String::as_str)
    }

    pub fn len(&self) -> usize {
        self.labels.len()
    }

    pub fn is_empty(&self) -> bool {
        self.labels.is_empty()
    }
}

/// What one source contributes to a value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    pub source: SourceId,
    /// Degrees of freedom of a scatter; 0 for a bound.
    freedom: u32,
    /// Sensitivity times half-width of a bound, or times standard uncertainty of a scatter; in SI, with its sign.
    amount: f64,
}

impl Term {
    /// Standard uncertainty: of a bound a/√3 (GUM 4.3.7).
    pub fn standard(&self) -> f64 {
        if self.is_bound() { self.amount.abs() / 3.0_f64.sqrt() } else { self.amount.abs() }
    }

    /// The most that it can shift the value: of a scatter three times its standard uncertainty.
    pub fn worst(&self) -> f64 {
        if self.is_bound() { self.amount.abs() } else { 3.0 * self.amount.abs() }
    }

    pub fn is_bound(&self) -> bool {
        self.freedom == 0
    }

    /// Degrees of freedom, of a scatter only.
    pub fn freedom(&self) -> Option<u32> {
        (!self.is_bound()).then_some(self.freedom)
    }
}

/// All that makes a value doubtful, by source.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Doubt {
    /// In the order of the sources, each once, none zero.
    terms: Vec<Term>,
}

/// An expanded uncertainty at 95.45 %.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expanded {
    /// In SI units.
    pub value: f64,
    /// Coverage factor: 2 for large degrees of freedom.
    pub factor: f64,
    /// Effective degrees of freedom (Welch-Satterthwaite, GUM G.4); infinite when all sources are bounds.
    pub freedom: f64,
}

impl Doubt {
    pub const NONE: Self = Self { terms: Vec::new() };

    /// A bound of half-width `half_width` SI units.
    pub fn bound(source: SourceId, half_width: f64) -> Self {
        Self::of(Term { source, freedom: 0, amount: half_width })
    }

    /// A scatter of standard uncertainty `standard` SI units with `freedom` degrees of freedom (at least one).
    pub fn scatter(source: SourceId, standard: f64, freedom: u32) -> Self {
        Self::of(Term { source, freedom: freedom.max(1), amount: standard })
    }

    fn of(term: Term) -> Self {
        Self { terms: if term.amount == 0.0 { Vec::new() } else { vec![term] } }
    }

    pub fn is_none(&self) -> bool {
        self.terms.is_empty()
    }

    pub fn terms(&self) -> &[Term] {
        &self.terms
    }

    /// The doubt of this value times `slope`.
    #[must_use]
    pub fn scaled(mut self, slope: f64) -> Self {
        if slope == 0.0 {
            return Self::NONE;
        }
        for term in &mut self.terms {
            term.amount *= slope;
        }
        self
    }

    /// The doubt of a value with slope `here` by `one` and `there` by `other`; what is not lent is used up.
    pub fn joined(one: Cow<Self>, here: f64, other: Cow<Self>, there: f64) -> Self {
        if other.is_none() || there == 0.0 {
            return one.into_owned().scaled(here);
        }
        if one.is_none() || here == 0.0 {
            return other.into_owned().scaled(there);
        }
        Self { terms: merged(&one.terms, here, &other.terms, there) }
    }

    /// The doubt of `one` less `other`.
    pub fn of_difference(one: &Self, other: &Self) -> Self {
        Self::joined(Cow::Borrowed(one), 1.0, Cow::Borrowed(other), -1.0)
    }

    /// The doubt of two values added, which are used up.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self::joined(Cow::Owned(self), 1.0, Cow::Owned(other), 1.0)
    }

    /// The doubt of a sum of many, each times its slope: linear in the number of all terms but for sorting.
    pub fn sum<'a>(parts: impl IntoIterator<Item = (&'a Self, f64)>) -> Self {
        let scaled = |(doubt, slope): (&'a Self, f64)| {
            doubt.terms.iter().map(move |term| Term { amount: term.amount * slope, ..*term })
        };
        let mut terms: Vec<Term> = parts.into_iter().flat_map(scaled).collect();
        terms.sort_by_key(|term| term.source);
        let mut joined: Vec<Term> = Vec::with_capacity(terms.len());
        for term in terms {
            match joined.last_mut() {
                Some(last) if last.source == term.source => last.amount = total(last.amount, term.amount),
                _ => joined.push(term),
            }
        }
        joined.retain(|term| term.amount != 0.0);
        Self { terms: joined }
    }

    /// Combined standard uncertainty: root of the sum of squares.
    pub fn standard(&self) -> f64 {
        self.terms.iter().map(|term| term.standard() * term.standard()).sum::<f64>().sqrt()
    }

    /// The worst case: sum of absolute values.
    pub fn worst(&self) -> f64 {
        self.terms.iter().map(Term::worst).sum()
    }

    /// Effective degrees of freedom by Welch-Satterthwaite; infinite when all sources are bounds.
    pub fn freedom(&self) -> f64 {
        let fourth = |term: &Term| {
            let share = term.standard() * term.standard();
            term.freedom().map_or(0.0, |freedom| share * share / f64::from(freedom))
        };
        let below: f64 = self.terms.iter().map(fourth).sum();
        let variance: f64 = self.terms.iter().map(|term| term.standard() * term.standard()).sum();
        if below > 0.0 { variance * variance / below } else { f64::INFINITY }
    }

    /// The expanded uncertainty at 95.45 %, never larger than the worst case when all sources are bounds.
    pub fn expanded(&self) -> Expanded {
        if self.terms.iter().all(Term::is_bound) {
            let value = (2.0 * self.standard()).min(self.worst());
            return Expanded { value, factor: 2.0, freedom: f64::INFINITY };
        }
        let freedom = self.freedom();
        let factor = student::factor(student::TWO_SIGMA, freedom);
        Expanded { value: factor * self.standard(), factor, freedom }
    }

    pub fn is_finite(&self) -> bool {
        self.terms.iter().all(|term| term.amount.is_finite())
    }
}

/// The sum of two contributions of one source; what is left of two that cancel, but for rounding, is none.
fn total(one: f64, other: f64) -> f64 {
    let sum = one + other;
    if sum.abs() <= CANCELLED * one.abs() { 0.0 } else { sum }
}

const CANCELLED: f64 = 4.0 * f64::EPSILON;

fn merged(one: &[Term], here: f64, other: &[Term], there: f64) -> Vec<Term> {
    let mut terms = Vec::with_capacity(one.len() + other.len());
    let (mut a, mut b) = (one.iter().peekable(), other.iter().peekable());
    loop {
        let from = match (a.peek(), b.peek()) {
            (Some(left), Some(right)) => left.source.cmp(&right.source),
            (Some(_), None) => std::cmp::Ordering::Less,
            (None, Some(_)) => std::cmp::Ordering::Greater,
            (None, None) => return terms,
        };
        let left = if from.is_le() {
            a.next().map(|term| Term { amount: term.amount * here, ..*term })
        } else {
            None
        };
        let right = if from.is_ge() {
            b.next().map(|term| Term { amount: term.amount * there, ..*term })
        } else {
            None
        };
        let term = match (left, right) {
            (Some(left), Some(right)) => Some(Term { amount: total(left.amount, right.amount), ..left }),
            (left, right) => left.or(right),
        };
        terms.extend(term.filter(|term| term.amount != 0.0));
    }
}
