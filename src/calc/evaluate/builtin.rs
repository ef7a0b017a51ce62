//! The functions of every calculation: roots, angles, logarithms, lists, tables.

use std::f64::consts::{FRAC_PI_2, LN_10, TAU};
use std::ops::Range;

use super::super::dimension::{Dimension, Exponent};
use super::super::fault;
use super::super::rounding::Rounded;
use super::super::span::Span;
use super::super::uncertainty::Uncertainty;
use super::super::value::{Quantity, Style, Value, with_article};
use super::smooth::{Curve, Shape};
use super::user::{Given, counted};
use super::{Eval, Evaluator, checked, turns};

/// A function of the engine's own.
#[derive(Debug)]
pub struct Builtin {
    pub name: &'static str,
    /// What it works out, for the guide.
    pub does: &'static str,
    kind: Kind,
}

#[derive(Debug)]
enum Kind {
    /// Of one plain number.
    Plain(Plain),
    /// Of one number of any dimension.
    One(fn(&mut Evaluator, &Range<usize>, &Quantity) -> Eval<Quantity>),
    /// Of a list, or of several numbers of one kind.
    Many(fn(&mut Evaluator, &Range<usize>, &[Quantity]) -> Eval<Quantity>),
    Interpolate,
    /// Only as a line of its own.
    Budget,
}

/// A smooth function of a plain number.
#[derive(Debug)]
struct Plain {
    /// What it takes is an angle.
    takes_angle: bool,
    of: fn(f64) -> f64,
    slope: fn(f64) -> f64,
    shape: Shape,
    /// The least and the greatest number that it takes.
    from: f64,
    to: f64,
    /// The result is an angle, shown in degrees.
    gives_angle: bool,
}

const ALL: f64 = f64::INFINITY;

/// The largest error of rounding of an angle, in radians, with which its sine still has the figures that are printed.
const COARSEST_ANGLE: f64 = 1e-5;

impl Plain {
    const fn new(of: fn(f64) -> f64, slope: fn(f64) -> f64, shape: Shape) -> Self {
        Self { takes_angle: false, of, slope, shape, from: -ALL, to: ALL, gives_angle: false }
    }

    const fn within(self, from: f64, to: f64) -> Self {
        Self { from, to, ..self }
    }

    const fn takes_an_angle(self) -> Self {
        Self { takes_angle: true, ..self }
    }

    const fn gives_an_angle(self) -> Self {
        Self { gives_angle: true, ..self }
    }
}

const fn plain(name: &'static str, does: &'static str, plain: Plain) -> Builtin {
    Builtin { name, does, kind: Kind::Plain(plain) }
}

/// Every function of the engine's own, in the order of the guide.
pub static BUILTINS: &[Builtin] = &[
    Builtin { name: "sqrt", does: "square root", kind: Kind::One(|eval, at, x| root(eval, at, x, 2)) },
    Builtin { name: "cbrt", does: "cube root", kind: Kind::One(|eval, at, x| root(eval, at, x, 3)) },
    Builtin { name: "abs", does: "size without sign", kind: Kind::One(absolute_size) },
    plain("sin", "sine of an angle", Plain::new(libm::sin, libm::cos, Shape::Wave(0.0)).takes_an_angle()),
    plain(
        "cos",
        "cosine of an angle",
        Plain::new(libm::cos, |x| -libm::sin(x), Shape::Wave(FRAC_PI_2)).takes_an_angle(),
    ),
    plain(
        "tan",
        "tangent of an angle",
        Plain::new(libm::tan, |x| 1.0 + libm::tan(x) * libm::tan(x), Shape::Tangent).takes_an_angle(),
    ),
    plain(
        "asin",
        "angle of a sine",
        Plain::new(libm::asin, |x| 1.0 / (1.0 - x * x).sqrt(), Shape::Odd).within(-1.0, 1.0).gives_an_angle(),
    ),
    plain(
        "acos",
        "angle of a cosine",
        Plain::new(libm::acos, |x| -1.0 / (1.0 - x * x).sqrt(), Shape::Odd)
            .within(-1.0, 1.0)
            .gives_an_angle(),
    ),
    plain(
        "atan",
        "angle of a tangent",
        Plain::new(libm::atan, |x| 1.0 / (1.0 + x * x), Shape::Odd).gives_an_angle(),
    ),
    plain("exp", "e to a power", Plain::new(libm::exp, libm::exp, Shape::Plain)),
    plain(
        "ln",
        "natural logarithm",
        Plain::new(libm::log, |x| 1.0 / x, Shape::Plain).within(f64::MIN_POSITIVE, ALL),
    ),
    plain(
        "log10",
        "logarithm to base ten",
        Plain::new(libm::log10, |x| 1.0 / (x * LN_10), Shape::Plain).within(f64::MIN_POSITIVE, ALL),
    ),
    Builtin {
        name: "round",
        does: "nearest whole number",
        kind: Kind::One(|eval, at, x| whole(eval, at, x, f64::round)),
    },
    Builtin {
        name: "floor",
        does: "next whole number down",
        kind: Kind::One(|eval, at, x| whole(eval, at, x, f64::floor)),
    },
    Builtin {
        name: "ceil",
        does: "next whole number up",
        kind: Kind::One(|eval, at, x| whole(eval, at, x, f64::ceil)),
    },
    Builtin {
        name: "absolute",
        does: "kelvin above absolute zero of a temperature",
        kind: Kind::One(kelvin),
    },
    Builtin {
        name: "sum",
        does: "sum of a list or of several values",
        kind: Kind::Many(|_, _, list| Ok(total(list))),
    },
    Builtin {
        name: "product",
        does: "product of a list or of several plain numbers",
        kind: Kind::Many(product),
    },
    Builtin { name: "mean", does: "mean of a list or of several values", kind: Kind::Many(mean) },
    Builtin {
        name: "min",
        does: "smallest of a list or of several values",
        kind: Kind::Many(|eval, _, list| Ok(extreme(eval, list, -1.0))),
    },
    Builtin {
        name: "max",
        does: "largest of a list or of several values",
        kind: Kind::Many(|eval, _, list| Ok(extreme(eval, list, 1.0))),
    },
    Builtin {
        name: "count",
        does: "how many values a list has",
        kind: Kind::Many(|_, _, list| Ok(number_of(list.len()))),
    },
    Builtin {
        name: "interpolate",
        does: "value of a table between its rows: interpolate(x, [x1, x2, …], [y1, y2, …])",
        kind: Kind::Interpolate,
    },
    Builtin {
        name: "budget",
        does: "which source of uncertainty contributes how much, as a table; on a line of its own",
        kind: Kind::Budget,
    },
];

/// The function of that name.
pub fn find(name: &str) -> Option<&'static Builtin> {
    BUILTINS.iter().find(|builtin| builtin.name == name)
}

impl Builtin {
    pub(super) fn call(
        &self,
        eval: &mut Evaluator,
        range: &Range<usize>,
        arguments: Vec<Given>,
    ) -> Eval<Value> {
        if let Some(named) = arguments.iter().find(|argument| argument.name.is_some()) {
            let message = format!("`{}` takes its arguments without names", self.name);
            return Err(
                fault::argument(named.called.clone(), message, "Write the value alone.".to_owned()).into()
            );
        }
        if let ([Given { value: Value::List(list), range, .. }], Kind::Plain(_) | Kind::One(_)) =
            (&arguments[..], &self.kind)
        {
            let each = list.iter().map(|value| {
                let quantity = self.of_one(eval, range, &quantity(value, range)?)?;
                checked(quantity, || range.clone()).map(Value::Quantity)
            });
            return each.collect::<Eval<Vec<Value>>>().map(Value::list);
        }
        let result = match &self.kind {
            Kind::Plain(_) | Kind::One(_) => {
                self.one(range, arguments).and_then(|(x, at)| self.of_one(eval, &at, &x))
            }
            Kind::Many(of) => self.many(eval, range, &arguments).and_then(|list| {
                eval.charge_terms(&list, range)?;
                of(eval, range, &list)
            }),
            Kind::Interpolate => interpolate(eval, range, &arguments),
            Kind::Budget => {
                let help = "Write `budget(name)` on a line of its own.";
                Err(fault::argument(
                    range.clone(),
                    "a budget is a table, not a value".to_owned(),
                    help.to_owned(),
                )
                .into())
            }
        }?;
        checked(result, || range.clone()).map(Value::Quantity)
    }

    /// Of one number; of a list number by number.
    fn of_one(&self, eval: &mut Evaluator, range: &Range<usize>, x: &Quantity) -> Eval<Quantity> {
        match &self.kind {
            Kind::Plain(plain) => self.smooth(plain, eval, range, x),
            Kind::One(of) => of(eval, range, x),
            _ => Ok(x.clone()),
        }
    }

    fn one(&self, range: &Range<usize>, arguments: Vec<Given>) -> Eval<(Quantity, Range<usize>)> {
        let count = arguments.len();
        let mut arguments = arguments.into_iter();
        match (arguments.next(), count) {
            (Some(argument), 1) => {
                quantity(&argument.value, &argument.range).map(|each| (each, argument.range))
            }
            _ => Err(fault::argument(
                range.clone(),
                format!("`{}` takes one argument, and has {count}", self.name),
                format!("Write `{}(value)`.", self.name),
            )
            .into()),
        }
    }

    fn many(&self, eval: &mut Evaluator, range: &Range<usize>, arguments: &[Given]) -> Eval<Vec<Quantity>> {
        let mut list = Vec::with_capacity(arguments.len());
        for argument in arguments {
            list.extend(quantities(&argument.value, &argument.range)?);
        }
        let Some(first) = list.first() else {
            let message = format!("`{}` of nothing has no value", self.name);
            return Err(
                fault::argument(range.clone(), message, "Give it at least one value.".to_owned()).into()
            );
        };
        let odd =
            list.iter().find(|each| each.dimension != first.dimension || each.is_point() != first.is_point());
        if let Some(odd) = odd {
            let (needed, found) =
                (Value::Quantity(first.clone()).kind(), Value::Quantity(odd.clone()).kind());
            let help = "All values of a list are of the kind of the first.";
            return Err(fault::dimension(range.clone(), &needed, &found, help.to_owned()).into());
        }
        for other in &list[1..] {
            eval.same_turns(range, [(first, "value"), (other, "value")])?;
        }
        if first.is_point() && self.name == "sum" {
            let help = "Their mean has a meaning, or the sum of differences.";
            return Err(fault::temperature(range.clone(), "adding temperatures", help).into());
        }
        Ok(list)
    }

    fn smooth(
        &self,
        plain: &Plain,
        eval: &mut Evaluator,
        range: &Range<usize>,
        x: &Quantity,
    ) -> Eval<Quantity> {
        if x.dimension != Dimension::NONE {
            let found = with_article(&x.dimension.to_string());
            let help = format!(
                "`{}` is of a number or an angle: divide by a value of the same kind first.",
                self.name
            );
            return Err(fault::dimension(range.clone(), "a plain number", &found, help).into());
        }
        if !(plain.from..=plain.to).contains(&x.value) {
            let message = format!("`{}` of this value does not exist", self.name);
            let help = if plain.to < ALL {
                "It takes numbers from -1 to 1."
            } else {
                "It takes numbers above zero."
            };
            return Err(fault::arithmetic(range.clone(), &message, help).into());
        }
        if plain.takes_angle && x.rounding > COARSEST_ANGLE {
            let message = format!("`{}` of so large an angle is not known", self.name);
            let help = "The sixteen figures that the engine works with leave nothing of its last turn.";
            return Err(fault::arithmetic(range.clone(), &message, help).into());
        }
        if plain.takes_angle && x.angle.is_zero() && x.value.abs() > TAU {
            eval.cautions.push(fault::plain_angle(range.clone(), self.name));
        }
        let what = format!("`{}`", self.name);
        let domain = Span::new(plain.from, plain.to);
        let curve = Curve { of: &plain.of, slope: &plain.slope, shape: plain.shape, domain };
        let result = eval.through(range.clone(), x.clone(), &what, &curve)?;
        let unit = if plain.gives_angle {
            eval.known.units.named("deg").unwrap_or_default()
        } else {
            Default::default()
        };
        Ok(Quantity { unit, angle: unit.angle(), style: Style::Chosen, ..result })
    }
}

impl Evaluator<'_> {
    fn charge_terms(&mut self, list: &[Quantity], range: &Range<usize>) -> Eval<()> {
        let terms: usize = list.iter().map(|each| each.uncertainty.terms().len() + 1).sum();
        *self.steps += terms as u64;
        if *self.steps > super::MOST_STEPS {
            return Err(fault::too_much_work(range.clone()).into());
        }
        Ok(())
    }
}

pub(super) fn quantity(value: &Value, range: &Range<usize>) -> Eval<Quantity> {
    match value {
        Value::Quantity(quantity) => Ok(quantity.clone()),
        other => Err(fault::kind(range.clone(), "a number", other).into()),
    }
}

/// The numbers of a list, or one number alone.
pub(super) fn quantities(value: &Value, range: &Range<usize>) -> Eval<Vec<Quantity>> {
    match value {
        Value::List(values) => values.iter().map(|each| quantity(each, range)).collect(),
        other => quantity(other, range).map(|each| vec![each]),
    }
}

fn root(eval: &mut Evaluator, range: &Range<usize>, x: &Quantity, degree: i32) -> Eval<Quantity> {
    if x.is_point() {
        let help = "Write `absolute(t)` for kelvin above absolute zero.";
        return Err(fault::temperature(range.clone(), "the root of a temperature in degrees", help).into());
    }
    if x.value < 0.0 && degree == 2 {
        return Err(fault::arithmetic(
            range.clone(),
            "this is the root of a negative value",
            "Check the signs.",
        )
        .into());
    }
    let power = Exponent::ratio(1, degree).unwrap_or(Exponent::whole(1));
    let dimension = x.dimension.to_the(power).unwrap_or(Dimension::NONE);
    let unit = x.unit.to_the(power).unwrap_or_default();
    let angle = turns::of_power(x, dimension, power);
    let of: fn(f64) -> f64 = if degree == 2 { f64::sqrt } else { libm::cbrt };
    let share = power.as_number();
    let slope = |value: f64| share * of(value) / value;
    let (shape, domain) = match degree {
        2 => (Shape::Plain, Span::new(0.0, ALL)),
        _ => (Shape::Odd, Span::ALL),
    };
    let result = eval.through(
        range.clone(),
        x.clone(),
        "this root",
        &Curve { of: &of, slope: &slope, shape, domain },
    )?;
    Ok(Quantity { dimension, angle, unit, style: Style::Derived, ..result })
}

fn absolute_size(eval: &mut Evaluator, range: &Range<usize>, x: &Quantity) -> Eval<Quantity> {
    let slope = |value: f64| if value < 0.0 { -1.0 } else { 1.0 };
    let curve = Curve { of: &f64::abs, slope: &slope, shape: Shape::Even, domain: Span::ALL };
    eval.through(range.clone(), x.clone(), "`abs`", &curve)
}

/// A whole number; where the bounds reach over a step it is any that they hold.
fn whole(eval: &mut Evaluator, range: &Range<usize>, x: &Quantity, to: fn(f64) -> f64) -> Eval<Quantity> {
    if x.dimension != Dimension::NONE {
        let found = with_article(&x.dimension.to_string());
        let help = "Divide by the unit first, and multiply by it afterwards.";
        return Err(fault::dimension(range.clone(), "a plain number", &found, help.to_owned()).into());
    }
    if !x.angle.is_zero() {
        let help = "Divide by the unit first, and multiply by it afterwards: `round(n / (1 rev)) * 1 rev`.";
        return Err(fault::dimension(range.clone(), "a plain number", "an angle", help.to_owned()).into());
    }
    // What can't be told from a whole number is that number.
    let step =
        |value: f64| if (value - value.round()).abs() <= x.rounding { value.round() } else { to(value) };
    let whole = Quantity::number(step(x.value));
    let Span { low, high } = x.ends();
    let rest = Span::new(step(low), step(high)).moved(-whole.value);
    Ok(Quantity { uncertainty: Uncertainty::NONE.bent(rest, eval.sources), ..whole })
}

fn kelvin(eval: &mut Evaluator, range: &Range<usize>, x: &Quantity) -> Eval<Quantity> {
    if !x.is_point() {
        let found = Value::Quantity(x.clone()).kind();
        let help = "Write a temperature such as `20 degC`.";
        return Err(fault::dimension(range.clone(), "a temperature", &found, help.to_owned()).into());
    }
    Ok(Quantity { unit: eval.known.units.named("K").unwrap_or_default(), style: Style::Chosen, ..x.clone() })
}

/// The sum of all.
fn total(list: &[Quantity]) -> Quantity {
    let none = Rounded::plain(0.0);
    let value = list.iter().fold(none, |sum, each| Rounded::sum(sum, each.as_rounded(), 1.0));
    let uncertainty = Uncertainty::sum(list.iter().map(|each| (&each.uncertainty, 1.0)));
    let first = list.first().cloned().unwrap_or_else(|| Quantity::number(0.0));
    Quantity { uncertainty, ..first }.rounded(value)
}

/// The product of plain numbers without uncertainty: teeth, counts.
fn product(_: &mut Evaluator, range: &Range<usize>, list: &[Quantity]) -> Eval<Quantity> {
    if let Some(odd) = list.iter().find(|each| each.dimension != Dimension::NONE || each.is_point()) {
        let found = Value::Quantity(odd.clone()).kind();
        let help = "Multiply values with units one by one: `a*b*c`.".to_owned();
        return Err(fault::dimension(range.clone(), "plain numbers", &found, help).into());
    }
    if list.iter().any(|each| !each.uncertainty.is_none()) {
        let message = "`product` is of numbers without uncertainty".to_owned();
        return Err(
            fault::argument(range.clone(), message, "Multiply them one by one: `a*b*c`.".to_owned()).into()
        );
    }
    let one = Rounded::plain(1.0);
    let value = list.iter().fold(one, |product, each| Rounded::product(product, each.as_rounded()));
    Ok(Quantity::number(0.0).rounded(value))
}

fn mean(_: &mut Evaluator, _: &Range<usize>, list: &[Quantity]) -> Eval<Quantity> {
    let (sum, count) = (total(list), number_of(list.len()));
    let value = Rounded::quotient(sum.as_rounded(), count.as_rounded());
    Ok(Quantity { uncertainty: sum.uncertainty.clone().scaled(1.0 / count.value), ..sum }.rounded(value))
}

fn number_of(count: usize) -> Quantity {
    Quantity::number(u32::try_from(count).map_or(f64::INFINITY, f64::from))
}

/// The largest (`sign` 1) or the smallest (-1), with room for all that can be it.
fn extreme(eval: &mut Evaluator, list: &[Quantity], sign: f64) -> Quantity {
    let mut best = 0;
    for (index, each) in list.iter().enumerate() {
        if sign * each.value > sign * list[best].value {
            best = index;
        }
    }
    let best = &list[best];
    let (mut beyond, mut ends) = (0.0_f64, best.ends());
    for each in list.iter().filter(|each| !(each.uncertainty.is_none() && best.uncertainty.is_none())) {
        let by = Uncertainty::of_difference(&each.uncertainty, &best.uncertainty)
            .span()
            .moved(each.value - best.value);
        beyond = if sign > 0.0 { beyond.max(by.high) } else { beyond.min(by.low) };
        let Span { low, high } = each.ends();
        ends = match sign > 0.0 {
            true => Span::new(ends.low.max(low), ends.high.max(high)),
            false => Span::new(ends.low.min(low), ends.high.min(high)),
        };
    }
    let rest = Span::new(beyond.min(0.0), beyond.max(0.0));
    let uncertainty = best.uncertainty.clone().bent(rest, eval.sources).within(ends.moved(-best.value));
    Quantity { uncertainty, ..best.clone() }
}

fn interpolate(eval: &mut Evaluator, range: &Range<usize>, arguments: &[Given]) -> Eval<Quantity> {
    let [x, xs, ys] = arguments else {
        let message = format!("`interpolate` takes {}, and has {}", counted(3), arguments.len());
        return Err(fault::argument(
            range.clone(),
            message,
            "Write `interpolate(x, [x1, x2], [y1, y2])`.".into(),
        )
        .into());
    };
    let place = quantity(&x.value, &x.range)?;
    let (columns, rows) = (quantities(&xs.value, &xs.range)?, quantities(&ys.value, &ys.range)?);
    if columns.len() != rows.len() || columns.len() < 2 {
        let message = "the two lists need the same number of values, at least two".to_owned();
        return Err(fault::argument(ys.range.clone(), message, "Give one y for each x.".to_owned()).into());
    }
    for each in &columns {
        same_kind(&place, each, &xs.range)?;
        eval.same_turns(&x.range, [(&place, x.text), (each, xs.text)])?;
    }
    for each in &rows {
        same_kind(&rows[0], each, &ys.range)?;
        eval.same_turns(&ys.range, [(&rows[0], ys.text), (each, ys.text)])?;
    }
    if columns.windows(2).any(|pair| pair[0].value >= pair[1].value) {
        let message = "the first list of a table must rise".to_owned();
        return Err(fault::argument(xs.range.clone(), message, "Sort the table by x.".to_owned()).into());
    }
    let (first, last) = (columns[0].value, columns[columns.len() - 1].value);
    let slack = place.rounding + columns.iter().map(|column| column.rounding).fold(0.0, f64::max);
    if place.value < first - slack || place.value > last + slack {
        let message = "this value lies outside the table".to_owned();
        return Err(fault::out_of_range(
            x.range.clone(),
            message,
            "A table is not carried on beyond its ends.".into(),
        )
        .into());
    }
    eval.charge_terms(&columns, range)?;
    let at = Place::of(place.value, &columns);
    let value = between(&at, &place, &columns, &rows);
    if place.uncertainty.is_none() && columns.iter().all(|column| column.uncertainty.is_none()) {
        return Ok(value);
    }
    let blur = columns.iter().map(|column| column.uncertainty.worst()).fold(0.0, f64::max);
    let reach = Span::new(place.ends().low - blur, place.ends().high + blur);
    let is_outside = place.ends().low < first - slack || place.ends().high > last + slack;
    if is_outside || !reach.is_finite() {
        eval.cautions.push(fault::not_over_bounds(x.range.clone(), "this table", "a value between its ends"));
        return Ok(Quantity { uncertainty: value.uncertainty.clone().open(eval.sources), ..value });
    }
    let (rest, ends) = kinks(&at, &value, place.value, reach, &columns, &rows);
    let uncertainty = value.uncertainty.clone().bent(rest, eval.sources).within(ends.moved(-value.value));
    Ok(Quantity { uncertainty, ..value })
}

/// Between which rows of a table a value lies.
struct Place {
    after: usize,
    share: f64,
}

impl Place {
    fn of(x: f64, columns: &[Quantity]) -> Self {
        let after = columns.iter().position(|column| column.value >= x);
        let after = after.unwrap_or(columns.len() - 1).max(1);
        let [x0, x1] = [columns[after - 1].value, columns[after].value];
        Self { after, share: (x - x0) / (x1 - x0) }
    }

    fn value(&self, rows: &[Quantity]) -> f64 {
        let [y0, y1] = [rows[self.after - 1].value, rows[self.after].value];
        y0 + self.share * (y1 - y0)
    }

    /// How much the value has of a row.
    fn share_of(&self, row: usize) -> f64 {
        match row {
            row if row == self.after => self.share,
            row if row + 1 == self.after => 1.0 - self.share,
            _ => 0.0,
        }
    }
}

/// On the straight line through two rows of a table.
fn between(at: &Place, x: &Quantity, columns: &[Quantity], rows: &[Quantity]) -> Quantity {
    let ([x0, x1], [y0, y1]) =
        ([&columns[at.after - 1], &columns[at.after]], [&rows[at.after - 1], &rows[at.after]]);
    let slope = (y1.value - y0.value) / (x1.value - x0.value);
    let uncertainty = Uncertainty::sum([
        (&x.uncertainty, slope),
        (&x0.uncertainty, -slope * (1.0 - at.share)),
        (&x1.uncertainty, -slope * at.share),
        (&y0.uncertainty, 1.0 - at.share),
        (&y1.uncertainty, at.share),
    ]);
    let of_rows = y0.rounding.max(y1.rounding);
    let bound = (slope * (x.rounding + x0.rounding.max(x1.rounding))).abs() + 4.0 * of_rows;
    let style = if let Style::Typed(_) | Style::Fraction(_) = y0.style { Style::Chosen } else { y0.style };
    Quantity { uncertainty, style, ..y0.clone() }.rounded(Rounded { value: at.value(rows), bound })
}

/// What one straight line leaves out of a table, and the ends of the result: both lie at the ends of the interval or at
/// rows within it.
fn kinks(
    at: &Place,
    value: &Quantity,
    x: f64,
    reach: Span,
    columns: &[Quantity],
    rows: &[Quantity],
) -> (Span, Span) {
    let (first, last) = (columns[0].value, columns[columns.len() - 1].value);
    let slope = (rows[at.after].value - rows[at.after - 1].value)
        / (columns[at.after].value - columns[at.after - 1].value);
    let inside = columns.iter().map(|column| column.value).filter(|column| reach.holds(*column));
    let places = inside.chain([reach.low.max(first), reach.high.min(last), x]);
    let (mut rest, mut ends) = (Span::ZERO, Span::new(value.value, value.value));
    for here in places {
        let place = Place::of(here, columns);
        let left_out = place.value(rows) - value.value - slope * (here - x);
        let of_rows = |share: &dyn Fn(usize) -> f64| -> f64 {
            rows.iter().enumerate().map(|(row, each)| share(row).abs() * each.uncertainty.worst()).sum()
        };
        let moved = of_rows(&|row| place.share_of(row) - at.share_of(row));
        rest = rest.hull(Span::about(left_out, moved));
        ends = ends.hull(Span::about(place.value(rows), of_rows(&|row| place.share_of(row))));
    }
    (rest, ends)
}

fn same_kind(needed: &Quantity, found: &Quantity, range: &Range<usize>) -> Eval<()> {
    if needed.dimension == found.dimension && needed.is_point() == found.is_point() {
        return Ok(());
    }
    let (needed, found) = (Value::Quantity(needed.clone()).kind(), Value::Quantity(found.clone()).kind());
    Err(fault::dimension(range.clone(), &needed, &found, "Write both lists in fitting units.".to_owned())
        .into())
}
