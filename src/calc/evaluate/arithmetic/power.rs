//! Powers, by their base and by an uncertain exponent.

use super::{Joint, Rest, no_points, product};
use crate::calc::dimension::{Dimension, Exponent};
use crate::calc::evaluate::smooth::{Curve, Curved, Shape};
use crate::calc::evaluate::{Eval, Evaluator, Site, Stop, turns};
use crate::calc::fault;
use crate::calc::span::Span;
use crate::calc::units::Unit;
use crate::calc::value::{Quantity, Style, with_article};

impl Evaluator<'_> {
    pub(in crate::calc::evaluate) fn power(
        &mut self,
        site: &Site,
        a: &Quantity,
        b: &Quantity,
    ) -> Eval<Joint> {
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

fn broken_exponent(site: &Site) -> Stop {
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
