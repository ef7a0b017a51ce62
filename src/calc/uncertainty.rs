//! How far a value may be off: its sensitivities to independent sources of uncertainty, and the nonlinearity that these
//! leave out.
//!
//! Every value keeps one [`Term`] for each source that it depends on, so what is correlated stays so: `a - a` is exact.
//! From these terms comes the expanded uncertainty, which is of first order (JCGM 100:2008, GUM, 5.1.2 and annex G), so
//! that what cancels in first order stays exact. Where the terms of second order outweigh it there is no expanded
//! uncertainty: the worst case stands in its place.
//!
//! The worst case is an enclosure: nothing within the bounds of the sources lies outside it. It is the narrower of two
//! (R. E. Moore, R. B. Kearfott, M. J. Cloud, Introduction to Interval Analysis, SIAM 2009; L. H. de Figueiredo,
//! J. Stolfi, Affine arithmetic, Numerical Algorithms 37, 2004; from memory): interval arithmetic over the operations,
//! and the affine form of the terms, in which what the slopes of an operation leave out, its bend, is a source of its own.

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::cause::Cause;
use super::span::Span;
use super::student;

/// One source of uncertainty among all of an evaluation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SourceId(u32);

/// All sources of uncertainty by name, in the order in which they were met.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    causes: Vec<Cause>,
    by_key: BTreeMap<String, SourceId>,
    bends: u32,
}

/// What slopes leave out is numbered from here, behind all sources.
const BENDS: u32 = 1 << 31;

impl Sources {
    pub fn new() -> Self {
        Self::default()
    }

    /// A source of its own, shared with nothing.
    pub fn fresh(&mut self, cause: impl Into<Cause>) -> SourceId {
        let id = SourceId(u32::try_from(self.causes.len()).unwrap_or(u32::MAX));
        self.causes.push(cause.into());
        id
    }

    /// The source with that label; the same wherever it is asked for.
    pub fn shared(&mut self, cause: impl Into<Cause>) -> SourceId {
        let cause = cause.into();
        if let Some(id) = self.by_key.get(&cause.label) {
            return *id;
        }
        let key = cause.label.clone();
        let id = self.fresh(cause);
        self.by_key.insert(key, id);
        id
    }

    /// What the slopes of one operation leave out.
    fn bend(&mut self) -> SourceId {
        self.bends = (self.bends + 1) % BENDS;
        SourceId(BENDS + self.bends)
    }

    /// What it is; none of what slopes leave out.
    pub fn cause(&self, id: SourceId) -> Option<&Cause> {
        self.causes.get(id.0 as usize)
    }

    /// What it is called in a budget.
    pub fn label(&self, id: SourceId) -> &str {
        self.cause(id).map_or("", |cause| cause.label.as_str())
    }

    pub fn len(&self) -> usize {
        self.causes.len()
    }

    pub fn is_empty(&self) -> bool {
        self.causes.is_empty()
    }
}

/// What one source contributes to a value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    pub source: SourceId,
    /// Degrees of freedom of a scatter; 0 for a bound.
    degrees_of_freedom: u32,
    /// Sensitivity times half-width of a bound, or times standard uncertainty of a scatter; in SI, with its sign.
    amount: f64,
}

impl Term {
    /// Standard uncertainty: of a bound a/√3 (GUM 4.3.7); none of what slopes leave out, which is of second order.
    pub fn standard(&self) -> f64 {
        match self.degrees_of_freedom {
            _ if self.is_bend() => 0.0,
            0 => self.amount.abs() / 3.0_f64.sqrt(),
            _ => self.amount.abs(),
        }
    }

    /// The most that it can shift the value: of a scatter three times its standard uncertainty, or as many times as
    /// its own 95.45 % need where it comes from few readings.
    pub fn worst(&self) -> f64 {
        self.most().abs()
    }

    /// The same with its sign.
    pub(super) fn most(&self) -> f64 {
        match self.degrees_of_freedom {
            0 => self.amount,
            1..=3 => FEW_READINGS[self.degrees_of_freedom as usize - 1] * self.amount,
            _ => 3.0 * self.amount,
        }
    }

    /// It has ends, and is no scatter.
    pub fn is_bound(&self) -> bool {
        self.degrees_of_freedom == 0
    }

    /// It stands for what the slopes of an operation leave out.
    pub fn is_bend(&self) -> bool {
        self.source.0 >= BENDS
    }

    /// Degrees of freedom, of a scatter only.
    pub fn degrees_of_freedom(&self) -> Option<u32> {
        (!self.is_bound()).then_some(self.degrees_of_freedom)
    }
}

/// Student's factors for 95.45 % at one to three degrees of freedom, rounded up; from four on they are below 3.
const FEW_READINGS: [f64; 3] = [13.968_4, 4.526_6, 3.306_9];

/// All that makes a value uncertain, by source.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Uncertainty {
    /// In the order of the sources, each once, none zero.
    terms: Vec<Term>,
    /// How far the middle of what the terms reach is above the value: a bend goes to one side.
    shift: f64,
    /// The worst case, from the value.
    span: Span,
}

/// An expanded uncertainty at 95.45 %.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expanded {
    /// In SI units.
    pub value: f64,
    /// Coverage factor: 2 for large degrees of freedom.
    pub factor: f64,
    /// Effective degrees of freedom (Welch-Satterthwaite, GUM G.4); infinite when all sources are bounds.
    pub degrees_of_freedom: f64,
}

impl Uncertainty {
    pub const NONE: Self = Self { terms: Vec::new(), shift: 0.0, span: Span::ZERO };

    /// A bound of half-width `half_width` SI units.
    pub fn bound(source: SourceId, half_width: f64) -> Self {
        Self::of(Term { source, degrees_of_freedom: 0, amount: half_width })
    }

    /// A scatter of standard uncertainty `standard` SI units with `degrees_of_freedom` degrees of freedom (at least one).
    pub fn scatter(source: SourceId, standard: f64, degrees_of_freedom: u32) -> Self {
        Self::of(Term { source, degrees_of_freedom: degrees_of_freedom.max(1), amount: standard })
    }

    fn of(term: Term) -> Self {
        if term.amount == 0.0 {
            return Self::NONE;
        }
        Self { span: Span::about(0.0, term.worst()), terms: vec![term], shift: 0.0 }
    }

    pub fn is_none(&self) -> bool {
        self.terms.is_empty()
    }

    pub fn terms(&self) -> &[Term] {
        &self.terms
    }

    /// The worst case: between which ends about the value the true one lies for certain; infinite if that is not known.
    pub fn span(&self) -> Span {
        self.span
    }

    /// The middle between what the terms reach, from the value.
    pub(super) fn shift(&self) -> f64 {
        self.shift
    }

    /// The uncertainty of this value times `slope`.
    #[must_use]
    pub fn scaled(mut self, slope: f64) -> Self {
        if slope == 0.0 {
            return Self::NONE;
        }
        for term in &mut self.terms {
            term.amount *= slope;
        }
        Self { terms: self.terms, shift: self.shift * slope, span: self.span.scaled(slope) }
    }

    /// The uncertainty of a value with slope `here` by `one` and `there` by `other`; what is not lent is used up.
    pub fn combined(one: Cow<Self>, here: f64, other: Cow<Self>, there: f64) -> Self {
        if other.is_none() || there == 0.0 {
            return one.into_owned().scaled(here);
        }
        if one.is_none() || here == 0.0 {
            return other.into_owned().scaled(there);
        }
        let terms = merged(&one.terms, here, &other.terms, there);
        let shift = one.shift * here + other.shift * there;
        Self { terms, shift, span: one.span.scaled(here).plus(other.span.scaled(there)) }.closed()
    }

    /// The narrower of interval arithmetic and what the terms reach.
    fn closed(mut self) -> Self {
        if self.terms.is_empty() {
            return Self::NONE;
        }
        let reach: f64 = self.terms.iter().map(Term::worst).sum();
        self.span = self.span.meet(Span::about(self.shift, reach));
        self
    }

    /// The uncertainty of `one` less `other`.
    pub fn of_difference(one: &Self, other: &Self) -> Self {
        Self::combined(Cow::Borrowed(one), 1.0, Cow::Borrowed(other), -1.0)
    }

    /// The uncertainty of two values added, which are used up.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self::combined(Cow::Owned(self), 1.0, Cow::Owned(other), 1.0)
    }

    /// The uncertainty of a sum of many, each times its slope: linear in the number of all terms but for sorting.
    pub fn sum<'a>(parts: impl IntoIterator<Item = (&'a Self, f64)>) -> Self {
        let mut all = Self::NONE;
        for (uncertainty, slope) in parts {
            all.shift += uncertainty.shift * slope;
            all.span = all.span.plus(uncertainty.span.scaled(slope));
            all.terms
                .extend(uncertainty.terms.iter().map(|term| Term { amount: term.amount * slope, ..*term }));
        }
        all.terms.sort_by_key(|term| term.source);
        let mut joined: Vec<Term> = Vec::with_capacity(all.terms.len());
        for term in all.terms {
            match joined.last_mut() {
                Some(last) if last.source == term.source => last.amount = total(last.amount, term.amount),
                _ => joined.push(term),
            }
        }
        joined.retain(|term| term.amount != 0.0);
        Self { terms: joined, ..all }.closed()
    }

    /// With what its slopes leave out: between the ends of `rest` from the value that they give.
    #[must_use]
    pub fn bent(mut self, rest: Span, sources: &mut Sources) -> Self {
        let half = rest.width() / 2.0;
        if half <= 0.0 || half.is_nan() {
            return self;
        }
        if !half.is_finite() {
            return self.open(sources);
        }
        self.shift += rest.low + half;
        self.span = self.span.plus(rest);
        self.terms.push(Term { source: sources.bend(), degrees_of_freedom: 0, amount: half });
        self
    }

    /// With ends that are not known.
    #[must_use]
    pub fn open(mut self, sources: &mut Sources) -> Self {
        self.terms.push(Term { source: sources.bend(), degrees_of_freedom: 0, amount: f64::INFINITY });
        self.span = Span::ALL;
        self
    }

    /// With ends that are known from elsewhere: the value can't be outside `span` from it.
    #[must_use]
    pub fn within(mut self, span: Span) -> Self {
        if !self.is_none() && self.span.is_finite() {
            self.span = self.span.meet(span);
        }
        self
    }

    /// What the product of two changes can be, those from their values that these uncertainties allow: what the slopes of a
    /// product leave out. One source in both makes squares, which have one sign.
    pub fn product(one: &Self, other: &Self) -> Span {
        let plain = one.span.times(other.span);
        let (mut squares, mut mixed) = (Span::ZERO, 0.0);
        for (a, b) in shared(&one.terms, &other.terms) {
            let square = a.most() * b.most();
            squares = squares.plus(Span::new(square.min(0.0), square.max(0.0)));
            mixed += square.abs();
        }
        if mixed == 0.0 || !plain.is_finite() {
            return plain;
        }
        let [reach, other_reach] = [one, other].map(|each| each.terms.iter().map(Term::worst).sum::<f64>());
        let rest = (reach * other_reach - mixed).max(0.0)
            + one.shift.abs() * other_reach
            + other.shift.abs() * reach;
        plain.meet(squares.plus(Span::about(one.shift * other.shift, rest)))
    }

    /// Combined standard uncertainty: root of the sum of squares.
    pub fn standard(&self) -> f64 {
        self.terms.iter().map(|term| term.standard() * term.standard()).sum::<f64>().sqrt()
    }

    /// The worst case as one figure: how far the further end is from the value.
    pub fn worst(&self) -> f64 {
        self.span.reach()
    }

    /// What all slopes leave out, taken together.
    pub fn left_out(&self) -> f64 {
        self.terms.iter().filter(|term| term.is_bend()).map(Term::worst).sum()
    }

    /// Effective degrees of freedom by Welch-Satterthwaite; infinite when all sources are bounds.
    pub fn degrees_of_freedom(&self) -> f64 {
        let fourth = |term: &Term| {
            let share = term.standard() * term.standard();
            term.degrees_of_freedom()
                .map_or(0.0, |degrees_of_freedom| share * share / f64::from(degrees_of_freedom))
        };
        let below: f64 = self.terms.iter().map(fourth).sum();
        let variance: f64 = self.terms.iter().map(|term| term.standard() * term.standard()).sum();
        if below > 0.0 { variance * variance / below } else { f64::INFINITY }
    }

    /// The expanded uncertainty at 95.45 % by first order, never larger than the worst case; the worst case itself
    /// where the value [is curved](Self::is_curved).
    pub fn expanded(&self) -> Expanded {
        let first = self.by_slopes();
        let value = if self.is_curved() { self.worst() } else { first.value };
        Expanded { value, ..first }
    }

    /// As slopes alone have it.
    fn by_slopes(&self) -> Expanded {
        let is_bound = self.terms.iter().all(Term::is_bound);
        let degrees_of_freedom = if is_bound { f64::INFINITY } else { self.degrees_of_freedom() };
        let factor = if is_bound { 2.0 } else { student::factor(student::TWO_SIGMA, degrees_of_freedom) };
        let reach: f64 = self.terms.iter().filter(|term| !term.is_bend()).map(Term::worst).sum();
        Expanded {
            value: (factor * self.standard()).min(reach).min(self.worst()),
            factor,
            degrees_of_freedom,
        }
    }

    /// An expanded uncertainty of first order with what slopes leave out: the mean square about the value of a
    /// rectangular distribution between its ends (GUM 5.1.2, note: terms of higher order where nonlinearity matters).
    fn with_bends(&self, first: f64) -> f64 {
        let bends = self.terms.iter().filter(|term| term.is_bend());
        let square: f64 = bends.map(|bend| bend.amount * bend.amount / 3.0).sum();
        (first * first + 4.0 * (self.shift * self.shift + square)).sqrt().min(self.worst())
    }

    /// Whether nonlinearity leaves no expanded uncertainty: with it the first order would be more than `POOR` times
    /// as large.
    pub fn is_curved(&self) -> bool {
        if self.is_open() || !self.terms.last().is_some_and(Term::is_bend) {
            return false;
        }
        let first = self.by_slopes().value;
        self.with_bends(first) > POOR * first
    }

    /// Whether its ends are not known.
    pub fn is_open(&self) -> bool {
        !self.span.is_finite()
    }

    /// The ends that a verdict looks at: the worst case, in which scatter counts with its expanded uncertainty; at least
    /// the expanded uncertainty as far as the worst case reaches.
    pub fn decisive(&self) -> Span {
        let expanded = self.expanded().value;
        let about = Span::about(0.0, expanded);
        if self.terms.iter().all(Term::is_bound) {
            return self.span;
        }
        let scatter = Self { terms: self.scatters().copied().collect(), span: Span::ALL, ..Self::NONE };
        let spared = self.scatters().map(Term::worst).sum::<f64>() - scatter.by_slopes().value;
        let spared = spared.max(0.0).min(self.span.reach());
        let inner = Span::new((self.span.low + spared).min(0.0), (self.span.high - spared).max(0.0));
        inner.hull(about).meet(self.span)
    }

    fn scatters(&self) -> impl Iterator<Item = &Term> {
        self.terms.iter().filter(|term| !term.is_bound())
    }

    pub fn is_finite(&self) -> bool {
        self.terms.iter().all(|term| term.amount.is_finite() || term.is_bend())
    }
}

/// No expanded uncertainty is given that would be so many times as large in second order (our choice, no source).
const POOR: f64 = 1.5;

/// The terms of two uncertainties that have one source.
fn shared<'a>(one: &'a [Term], other: &'a [Term]) -> impl Iterator<Item = (&'a Term, &'a Term)> {
    let mut rest = other;
    one.iter().filter_map(move |term| {
        let skipped = rest.iter().take_while(|each| each.source < term.source).count();
        rest = &rest[skipped..];
        rest.first().filter(|each| each.source == term.source).map(|each| (term, each))
    })
}

/// The sum of two contributions of one source; what is left of two that cancel, but for rounding, is none.
fn total(one: f64, other: f64) -> f64 {
    let sum = one + other;
    if sum.is_nan() {
        // Two that have no end, of one source, cancel as others do.
        return 0.0;
    }
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
