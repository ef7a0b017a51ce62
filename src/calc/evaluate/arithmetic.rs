//! Sum, product, quotient and power of quantities with uncertainty.

use std::borrow::Cow;
use std::ops::Range;

use super::super::dimension::{Dimension, Exponent};
use super::super::fault::{self, Fault};
use super::super::literal::Piece;
use super::super::rounding::Rounded;
use super::super::span::Span;
use super::super::syntax::{Node, NodeId};
use super::super::uncertainty::{Sources, Uncertainty};
use super::super::units::Unit;
use super::super::value::{Quantity, Style, Value, with_article};
use super::smooth::{Curve, Curved, Shape};
use super::{Eval, Evaluator, Frame, Operand, Site, turns};

/// What an operation makes of two quantities, with its slopes by both.
pub(super) struct Joint {
    value: Rounded,
    dimension: Dimension,
    angle: Exponent,
    unit: Unit,
    style: Style,
    slopes: [f64; 2],
    /// What the slopes leave out.
    rest: Rest,
}

/// What the slopes of an operation leave out, and between which ends its result lies.
enum Rest {
    Nothing,
    /// A source of uncertainty that the operation itself brings.
    Bound(Uncertainty),
    Product,
    Quotient,
    /// What is left out, and the ends of the result.
    Curve(Span, Span),
}

impl Joint {
    /// The result, with the uncertainty of both that went into it.
    pub(super) fn of(self, a: Cow<Quantity>, b: Cow<Quantity>, sources: &mut Sources) -> Quantity {
        let Self { value: Rounded { value, bound: rounding }, dimension, angle, unit, style, slopes, rest } =
            self;
        let uncertainty = match rest {
            Rest::Bound(bound) => joined(a, b, slopes).plus(bound),
            _ if a.uncertainty.is_none() && b.uncertainty.is_none() => Uncertainty::NONE,
            Rest::Product if !a.uncertainty.is_none() && !b.uncertainty.is_none() => {
                let (rest, ends) =
                    (Uncertainty::product(&a.uncertainty, &b.uncertainty), a.ends().times(b.ends()));
                joined(a, b, slopes).bent(rest, sources).within(ends.moved(-value))
            }
            Rest::Quotient if !b.uncertainty.is_none() => {
                let below = inverse(b.ends());
                let ends = a.ends().times(below);
                let uncertainty = Uncertainty::combined(
                    Cow::Borrowed(&a.uncertainty),
                    slopes[0],
                    Cow::Borrowed(&b.uncertainty),
                    slopes[1],
                );
                // a/b is c + (a - c b)/b with c of their values.
                let rest = Uncertainty::product(&uncertainty, &b.uncertainty).times(below).scaled(-1.0);
                uncertainty.bent(rest, sources).within(ends.moved(-value))
            }
            Rest::Curve(rest, ends) => joined(a, b, slopes).bent(rest, sources).within(ends.moved(-value)),
            _ => joined(a, b, slopes),
        };
        Quantity { value, rounding, dimension, angle, unit, style, uncertainty }
    }
}

fn joined(a: Cow<Quantity>, b: Cow<Quantity>, [by_a, by_b]: [f64; 2]) -> Uncertainty {
    Uncertainty::combined(uncertainty_of(a), by_a, uncertainty_of(b), by_b)
}

/// One over a span that does not hold zero.
fn inverse(span: Span) -> Span {
    if span.is_finite() { Span::new(1.0 / span.high, 1.0 / span.low) } else { Span::ALL }
}

fn uncertainty_of(quantity: Cow<Quantity>) -> Cow<Uncertainty> {
    match quantity {
        Cow::Borrowed(quantity) => Cow::Borrowed(&quantity.uncertainty),
        Cow::Owned(quantity) => Cow::Owned(quantity.uncertainty),
    }
}

impl Evaluator<'_> {
    pub(super) fn add(&mut self, site: &Site, a: &Quantity, b: &Quantity, sign: f64) -> Eval<Joint> {
        if a.dimension != b.dimension {
            return Err(self.unlike(site, if sign > 0.0 { "adding" } else { "subtracting" }, a, b));
        }
        let (unit, style) = match (a.is_point(), b.is_point()) {
            (false, false) if a.unit.is_none() => (b.unit, b.style.of_sum()),
            (false, false) | (true, false) => (a.unit, a.style_of_sum(b)),
            (true, true) if sign < 0.0 => (a.unit.of_difference(), Style::Chosen),
            (false, true) if sign > 0.0 => (b.unit, b.style),
            (true, true) => return Err(two_points(site)),
            (false, true) => return Err(point_from_difference(site)),
        };
        self.same_turns(&site.range(), site.sides(a, b))?;
        let value = Rounded::sum(a.as_rounded(), b.as_rounded(), sign);
        let angle = if a.angle == b.angle { a.angle } else { unit.angle() };
        Ok(Joint {
            value,
            dimension: a.dimension,
            angle,
            unit,
            style,
            slopes: [1.0, sign],
            rest: Rest::Nothing,
        })
    }

    /// `low .. high`: the middle, with half of the distance, as large as it can be, as a bound of its own.
    pub(super) fn to(&mut self, site: &Site, low: &Quantity, high: &Quantity) -> Eval<Joint> {
        self.alike(site, low, high)?;
        let half = (high.value - low.value) / 2.0;
        if half < 0.0 {
            return Err(fault::backwards(site.range()).into());
        }
        let distance = Uncertainty::of_difference(&high.uncertainty, &low.uncertainty);
        Ok(Joint {
            value: Rounded { value: low.value + half, bound: low.rounding.max(high.rounding) },
            dimension: low.dimension,
            angle: low.angle,
            unit: low.unit,
            style: low.style_of_sum(high),
            slopes: [0.5, 0.5],
            rest: self.bound(site, half + distance.worst() / 2.0),
        })
    }

    /// `middle ± bound`, the bound in per cent of the middle or in its unit; a bound that is uncertain itself counts with
    /// the largest that it can be.
    pub(super) fn plus_minus(&mut self, site: &Site, middle: &Quantity, bound: &Quantity) -> Eval<Joint> {
        let is_share = bound.unit.is_percent() && !middle.unit.is_percent() && !middle.is_point();
        if !is_share && (middle.dimension != bound.dimension || bound.is_point()) {
            return Err(self.unlike(site, "bounding", middle, bound));
        }
        if bound.value < 0.0 {
            return Err(fault::negative_bound(site.right()).into());
        }
        Ok(Joint {
            value: middle.as_rounded(),
            dimension: middle.dimension,
            angle: middle.angle,
            unit: middle.unit,
            style: middle.style,
            slopes: [1.0, 0.0],
            rest: {
                let most = bound.ends().high;
                self.bound(site, if is_share { most * middle.ends().reach() } else { most })
            },
        })
    }

    fn bound(&mut self, site: &Site, half: f64) -> Rest {
        Rest::Bound(Uncertainty::bound(self.sources.fresh(site.label()), half))
    }

    fn alike(&mut self, site: &Site, a: &Quantity, b: &Quantity) -> Eval<()> {
        if a.dimension == b.dimension && a.is_point() == b.is_point() {
            return self.same_turns(&site.range(), site.sides(a, b));
        }
        Err(self.unlike(site, "making a range of", a, b))
    }

    pub(super) fn multiply(&mut self, site: &Site, a: &Quantity, b: &Quantity) -> Eval<Joint> {
        no_points(site, a, b, "multiplying")?;
        let dimension = product(site, a.dimension.times(b.dimension))?;
        let angle = self.angle_of_product(site, a, b);
        let (unit, style) = product_unit(a, b, (dimension, angle), Unit::times);
        let value = Rounded::product(a.as_rounded(), b.as_rounded());
        let slopes = [b.value, a.value];
        Ok(Joint { value, dimension, angle, unit, style, slopes, rest: Rest::Product })
    }

    pub(super) fn divide(&mut self, site: &Site, a: &Quantity, b: &Quantity) -> Eval<Joint> {
        no_points(site, a, b, "dividing")?;
        if b.value == 0.0 {
            let help = "Look at how the divisor came about.";
            return Err(fault::arithmetic(site.right(), "this divisor is zero", help).into());
        }
        let has_pole = !b.uncertainty.is_none() && b.ends().holds(0.0);
        if has_pole && !b.uncertainty.is_open() {
            self.cautions.push(fault::divisor_may_be_zero(site.right()));
        }
        let dimension = product(site, a.dimension.per(b.dimension))?;
        let angle = self.angle_of_quotient(site, a, b);
        let (unit, style) = product_unit(a, b, (dimension, angle), Unit::per);
        let value = Rounded::quotient(a.as_rounded(), b.as_rounded());
        let slopes = [1.0 / b.value, -value.value / b.value];
        let rest = if has_pole { Rest::Curve(Span::ALL, Span::ALL) } else { Rest::Quotient };
        Ok(Joint { value, dimension, angle, unit, style, slopes, rest })
    }

    pub(super) fn power(&mut self, site: &Site, a: &Quantity, b: &Quantity) -> Eval<Joint> {
        no_points(site, a, b, "raising")?;
        raisable(site, a, b)?;
        if a.dimension == Dimension::NONE {
            return self.plain_power(site, a, b);
        }
        let exponent = Exponent::from_number(b.value).filter(|_| b.uncertainty.is_none());
        let exponent = exponent.ok_or_else(|| broken_exponent(site))?;
        let dimension = product(site, a.dimension.to_the(exponent))?;
        let angle = turns::of_power(a, dimension, exponent);
        let unit = a.unit.to_the(exponent).unwrap_or_default();
        let Curved { value, slope, rest, ends } = self.raised(site, a, b.value)?;
        let (slopes, rest) = ([slope, 0.0], Rest::Curve(rest, ends));
        Ok(Joint { value, dimension, angle, unit, style: Style::Derived, slopes, rest })
    }

    /// The power of a plain number, whose exponent may be uncertain too.
    fn plain_power(&mut self, site: &Site, a: &Quantity, b: &Quantity) -> Eval<Joint> {
        let curved =
            if b.uncertainty.is_none() { self.raised(site, a, b.value)? } else { self.by_both(site, a, b)? };
        let by_exponent = if b.uncertainty.is_none() || a.value <= 0.0 {
            0.0
        } else {
            curved.value.value * libm::log(a.value)
        };
        Ok(Joint {
            value: curved.value,
            dimension: Dimension::NONE,
            angle: Exponent::from_number(b.value).and_then(|power| a.angle.times(power)).unwrap_or_default(),
            unit: Unit::NONE,
            style: Style::Chosen,
            slopes: [curved.slope, by_exponent],
            rest: Rest::Curve(curved.rest, curved.ends),
        })
    }

    /// A power by its base.
    fn raised(&mut self, site: &Site, base: &Quantity, exponent: f64) -> Eval<Curved> {
        let of = |value| raise(value, exponent);
        let slope = |value| exponent * raise(value, exponent - 1.0);
        let whole = exponent.fract() == 0.0;
        let shape = match whole {
            true if exponent % 2.0 == 0.0 => Shape::Even,
            true => Shape::Odd,
            false => Shape::Plain,
        };
        let domain = if whole { Span::ALL } else { Span::new(0.0, f64::INFINITY) };
        let curve = Curve { of: &of, slope: &slope, shape, domain };
        if exponent < 0.0
            && !base.uncertainty.is_none()
            && !base.uncertainty.is_open()
            && base.ends().holds(0.0)
        {
            self.cautions.push(fault::divisor_may_be_zero(site.left()));
            let (value, slope) =
                (base.as_rounded().through(of(base.value), slope(base.value)), slope(base.value));
            return Ok(Curved { value, slope, rest: Span::ALL, ends: Span::ALL });
        }
        self.curved(site.left(), base, "this power", &curve)
    }

    /// A power by an uncertain exponent, and its base: for bases above zero it is largest and smallest at corners.
    fn by_both(&mut self, site: &Site, base: &Quantity, exponent: &Quantity) -> Eval<Curved> {
        let Curved { value, slope, .. } = self.raised(site, base, exponent.value)?;
        let (bases, exponents) = (base.ends(), exponent.ends());
        if bases.low <= 0.0 || !bases.is_finite() || !exponents.is_finite() {
            if bases.is_finite() && exponents.is_finite() {
                self.cautions.push(fault::not_over_bounds(site.left(), "this power", "a base above zero"));
            }
            return Ok(Curved { value, slope, rest: Span::ALL, ends: Span::ALL });
        }
        let corners = [bases.low, bases.high].map(|base| {
            let [low, high] = [exponents.low, exponents.high].map(|exponent| libm::pow(base, exponent));
            Span::around([low, high])
        });
        let ends = corners[0].hull(corners[1]);
        let by_exponent = value.value * libm::log(base.value);
        let by_slopes =
            base.uncertainty.span().scaled(slope).plus(exponent.uncertainty.span().scaled(by_exponent));
        Ok(Curved { value, slope, rest: ends.moved(-value.value).plus(by_slopes.scaled(-1.0)), ends })
    }

    pub(super) fn negate(&mut self, frame: Frame, inner: NodeId) -> Eval<Value> {
        let range = frame.tree().span(inner);
        match self.operand(frame, inner)? {
            Operand::One(quantity) => negative(&range, quantity.into_owned()).map(Value::Quantity),
            Operand::Many(list) => {
                let list: Eval<Vec<Value>> =
                    list.into_iter().map(|each| negative(&range, each).map(Value::Quantity)).collect();
                list.map(Value::list)
            }
        }
    }

    fn unlike(&self, site: &Site, doing: &str, a: &Quantity, b: &Quantity) -> Box<Fault> {
        let name = |quantity: &Quantity| match quantity.is_point() {
            true => "a temperature".to_owned(),
            false => with_article(&quantity.dimension.to_string()),
        };
        let mut fault = fault::unlike(site.range(), doing, (site.left(), name(a)), (site.right(), name(b)));
        let help = mixed_number(site).or_else(|| weight(a, b));
        fault.help = help.unwrap_or_else(|| self.advice(a, b));
        fault.into()
    }

    /// The likely repair of a sum of unlike things.
    fn advice(&self, a: &Quantity, b: &Quantity) -> String {
        let plain = [a, b].into_iter().position(|quantity| quantity.dimension == Dimension::NONE);
        if let Some(index) = plain {
            let other = if index == 0 { b } else { a };
            let examples = self.known.units.examples(other.dimension);
            return format!("Give the plain number a unit, such as {examples}.");
        }
        let (large, small, quotient) = match (a.dimension.per(b.dimension), b.dimension.per(a.dimension)) {
            (Some(quotient), _) if FACTORS.contains(&quotient) => (a, b, quotient),
            (_, Some(quotient)) if FACTORS.contains(&quotient) => (b, a, quotient),
            _ => return "Only values of one kind go together; check the formula.".to_owned(),
        };
        let name = |dimension: Dimension| with_article(&dimension.to_string());
        let (large, small) = (name(large.dimension), name(small.dimension));
        let large = format!("{}{}", large[..1].to_uppercase(), &large[1..]);
        format!("{large} is {small} times {}: is a factor missing?", name(quotient))
    }
}

fn negative(range: &Range<usize>, quantity: Quantity) -> Eval<Quantity> {
    if quantity.is_point() {
        let help = "Write the sign at the number: `-5 degC`.";
        return Err(fault::temperature(range.clone(), "the negative of a temperature", help).into());
    }
    let uncertainty = quantity.uncertainty.scaled(-1.0);
    Ok(Quantity { value: -quantity.value, uncertainty, ..quantity })
}

/// What is likely to have been left out of a formula.
const FACTORS: [Dimension; 7] = [
    Dimension::LENGTH,
    Dimension::AREA,
    Dimension::VOLUME,
    Dimension::TIME,
    Dimension::SPEED,
    Dimension::ACCELERATION,
    Dimension::FORCE,
];

impl Style {
    /// Of a sum with a value of this style.
    fn of_sum(self) -> Self {
        if let Self::Fraction(_) | Self::Typed(_) = self { Self::Chosen } else { self }
    }

    /// Of a product with a plain number: the step of a table does not outlive it.
    fn of_product(self) -> Self {
        match self {
            Self::Fraction(_) | Self::Step(_) | Self::Typed(_) | Self::Read(_) => Self::Chosen,
            style => style,
        }
    }
}

impl Quantity {
    /// Of the sum in this one's unit: a size of a table keeps its figures, and readings have no more than the coarser of
    /// them.
    pub(super) fn style_of_sum(&self, other: &Self) -> Style {
        match (self.style, other.style) {
            (Style::Read(here), Style::Read(_)) => match other.step_in(self.unit) {
                Style::Read(there) => Style::Read(here.min(there)),
                style => style,
            },
            (Style::Chosen | Style::Typed(_) | Style::Step(_) | Style::Fraction(_), Style::Read(_))
            | (Style::Chosen | Style::Typed(_), Style::Step(_)) => other.step_in(self.unit),
            (Style::Typed(here), Style::Typed(there)) if self.unit == other.unit => {
                Style::Typed(here.min(there))
            }
            (Style::Typed(_), _) => Style::Chosen,
            (Style::Step(here), Style::Step(_)) => match other.step_in(self.unit) {
                Style::Step(there) => Style::Step(here.max(there)),
                style => style,
            },
            (style, _) => style.of_sum(),
        }
    }
}

/// A mass where its weight is wanted, or the other way round.
pub(super) fn weight(a: &Quantity, b: &Quantity) -> Option<String> {
    weight_of(a.dimension, b).or_else(|| weight_of(b.dimension, a))
}

/// What to do with a mass, or a mass over an area or times an arm, where `wanted` has a force in its place.
pub(super) fn weight_of(wanted: Dimension, found: &Quantity) -> Option<String> {
    if wanted.per(found.dimension) != Some(Dimension::ACCELERATION) {
        return None;
    }
    let names = [("lb", "lbf"), ("kg", "kgf"), ("oz", "ozf"), ("ton", "tonf"), ("t", "tf")];
    let typed = found.unit.to_string();
    let is_in = |name: &str| typed.split(['·', '/', '(', ')', '^', ' ']).any(|word| word == name);
    let [mass, force] = names.into_iter().find(|(mass, _)| is_in(mass)).map_or(["lb", "lbf"], <[_; 2]>::from);
    Some(format!(
        "A mass is no force: `* g_n` makes its weight of it; a force is written in `{force}`, not in `{mass}`."
    ))
}

/// `2 - 5/16 in`: a whole number less a value with a unit, which may be meant for a mixed number.
fn mixed_number(site: &Site) -> Option<String> {
    let line = &site.frame.entry.line;
    let whole = match line.tree.node(site.left) {
        Node::Literal(index) => line.tree.literals[index as usize].plain_number()?,
        _ => return None,
    };
    let Node::Literal(index) = line.tree.node(site.right) else { return None };
    let [Piece::Figures(figures), Piece::Unit(unit)] = line.tree.literals[index as usize].pieces() else {
        return None;
    };
    let (above, below) = figures.split_once('/')?;
    let [above, below] = [above, below].map(|part| part.parse::<f64>().ok());
    let is_mixed = above.is_some_and(|above| Some(above) < below) && whole.fract() == 0.0;
    let subtract = format!("to subtract give the first a unit too: `{whole} {unit} - {figures} {unit}`.");
    Some(match is_mixed {
        true => format!("A mixed number is written `{whole} {figures} {unit}`; {subtract}"),
        false => format!("{}{}", subtract[..1].to_uppercase(), &subtract[1..]),
    })
}

/// Refuses powers that do not exist.
fn raisable(site: &Site, a: &Quantity, b: &Quantity) -> Eval<()> {
    if b.dimension != Dimension::NONE {
        let found = with_article(&b.dimension.to_string());
        let help = "An exponent has no unit.".to_owned();
        return Err(fault::dimension(site.right(), "a plain number", &found, help).into());
    }
    if a.value == 0.0 && b.value < 0.0 {
        let help = "A negative power divides by its base.";
        return Err(fault::arithmetic(site.left(), "zero can't have a negative power", help).into());
    }
    if a.value < 0.0 && b.value.fract() != 0.0 {
        let help = "A broken power is a root: its base can't be negative.";
        return Err(fault::arithmetic(site.left(), "the base of this power is negative", help).into());
    }
    Ok(())
}

fn two_points(site: &Site) -> Box<Fault> {
    let help = "Write the rise as a difference: `20 degC + 5 K`, or `+ 9 degF_diff`.";
    fault::temperature(site.range(), "adding two temperatures", help)
        .label(site.right(), "a point on the scale")
        .into()
}

fn point_from_difference(site: &Site) -> Box<Fault> {
    let help = "A temperature less another is a difference; a difference less a temperature is nothing.";
    fault::temperature(site.range(), "subtracting a temperature from a difference", help).into()
}

fn no_points(site: &Site, a: &Quantity, b: &Quantity, doing: &str) -> Eval<()> {
    for (quantity, range) in [(a, site.left()), (b, site.right())] {
        if quantity.is_point() {
            let help = "Take a difference of two temperatures, or write `absolute(t)` for kelvin above absolute zero.";
            return Err(fault::temperature(range, &format!("{doing} a temperature in degrees"), help).into());
        }
    }
    Ok(())
}

fn product(site: &Site, dimension: Option<Dimension>) -> Eval<Dimension> {
    dimension.ok_or_else(|| {
        let help = "Check the exponents.";
        fault::arithmetic(site.range(), "the dimension of this result has exponents too large to keep", help)
            .into()
    })
}

/// The unit of a product or quotient; a plain number leaves the other's alone, an angle does not.
fn product_unit(
    a: &Quantity,
    b: &Quantity,
    (dimension, angle): (Dimension, Exponent),
    join: fn(Unit, Unit) -> Option<Unit>,
) -> (Unit, Style) {
    if a.unit.has_angle() || b.unit.has_angle() {
        return turning_unit(a, b, (dimension, angle), join);
    }
    if b.dimension == Dimension::NONE {
        let keeps = a.dimension != Dimension::NONE || b.unit.is_none();
        return if keeps { (a.unit, a.style.of_product()) } else { (Unit::NONE, Style::Chosen) };
    }
    if dimension == Dimension::NONE && a.dimension != Dimension::NONE {
        return (Unit::NONE, Style::Chosen);
    }
    let unit_of_a = if a.dimension == Dimension::NONE { Unit::NONE } else { a.unit };
    let unit = join(unit_of_a, b.unit);
    let style =
        if unit_of_a.is_none() && unit == Some(b.unit) { b.style.of_product() } else { Style::Derived };
    (unit.unwrap_or_default(), style)
}

/// The same where a unit of angle is in it: kept as typed, but for a number of turns, radians or degrees.
fn turning_unit(
    a: &Quantity,
    b: &Quantity,
    (dimension, angle): (Dimension, Exponent),
    join: fn(Unit, Unit) -> Option<Unit>,
) -> (Unit, Style) {
    if dimension == Dimension::NONE {
        let of_angle = a.unit.of_angle().or(b.unit.of_angle()).filter(|_| angle == Exponent::whole(1));
        return (of_angle.unwrap_or_default(), Style::Chosen);
    }
    if b.unit.is_none() {
        return (a.unit, a.style.of_product());
    }
    let kept = |quantity: &Quantity| {
        let is_number = quantity.dimension == Dimension::NONE && !quantity.unit.has_angle();
        if is_number { Unit::NONE } else { quantity.unit }
    };
    let unit = join(kept(a), kept(b)).unwrap_or_default();
    let style = if unit == b.unit { b.style.of_product() } else { Style::Derived };
    (unit, style)
}

fn broken_exponent(site: &Site) -> Box<Fault> {
    let help = "With a unit the exponent is an exact whole number or simple fraction.";
    fault::dimension(site.right(), "an exact exponent", "another number", help.to_owned()).into()
}

/// A power; small whole ones by multiplication.
fn raise(base: f64, exponent: f64) -> f64 {
    if exponent == 2.0 {
        return base * base;
    }
    if exponent == 1.0 {
        return base;
    }
    if exponent == 0.5 {
        return base.sqrt();
    }
    libm::pow(base, exponent)
}

/// A difference of two values of one kind, for checks.
pub(super) fn difference(a: &Quantity, b: &Quantity) -> Quantity {
    Quantity { style: Style::Derived, ..a.less(b) }
}
