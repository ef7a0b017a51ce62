//! The functions of every calculation: roots, angles, logarithms, lists, tables.

use std::f64::consts::{LN_10, TAU};
use std::ops::Range;

use super::super::dimension::{Dimension, Exponent};
use super::super::doubt::Doubt;
use super::super::fault;
use super::super::value::{Quantity, Style, Value, with_article};
use super::user::{Given, counted};
use super::{Eval, Evaluator, checked, smooth, turns};

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
    /// The least and the greatest number that it takes.
    from: f64,
    to: f64,
    /// The result is an angle, shown in degrees.
    gives_angle: bool,
}

const ALL: f64 = f64::INFINITY;

impl Plain {
    const fn new(of: fn(f64) -> f64, slope: fn(f64) -> f64) -> Self {
        Self { takes_angle: false, of, slope, from: -ALL, to: ALL, gives_angle: false }
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
    plain("sin", "sine of an angle", Plain::new(libm::sin, libm::cos).takes_an_angle()),
    plain("cos", "cosine of an angle", Plain::new(libm::cos, |x| -libm::sin(x)).takes_an_angle()),
    plain(
        "tan",
        "tangent of an angle",
        Plain::new(libm::tan, |x| 1.0 + libm::tan(x) * libm::tan(x)).takes_an_angle(),
    ),
    plain(
        "asin",
        "angle of a sine",
        Plain::new(libm::asin, |x| 1.0 / (1.0 - x * x).sqrt()).within(-1.0, 1.0).gives_an_angle(),
    ),
    plain(
        "acos",
        "angle of a cosine",
        Plain::new(libm::acos, |x| -1.0 / (1.0 - x * x).sqrt()).within(-1.0, 1.0).gives_an_angle(),
    ),
    plain("atan", "angle of a tangent", Plain::new(libm::atan, |x| 1.0 / (1.0 + x * x)).gives_an_angle()),
    plain("exp", "e to a power", Plain::new(libm::exp, libm::exp)),
    plain("ln", "natural logarithm", Plain::new(libm::log, |x| 1.0 / x).within(f64::MIN_POSITIVE, ALL)),
    plain(
        "log10",
        "logarithm to base ten",
        Plain::new(libm::log10, |x| 1.0 / (x * LN_10)).within(f64::MIN_POSITIVE, ALL),
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
        kind: Kind::Many(|_, _, list| Ok(total(list, 1.0))),
    },
    Builtin { name: "mean", does: "mean of a list or of several values", kind: Kind::Many(mean) },
    Builtin {
        name: "min",
        does: "smallest of a list or of several values",
        kind: Kind::Many(|eval, at, list| Ok(extreme(eval, at, list, -1.0))),
    },
    Builtin {
        name: "max",
        does: "largest of a list or of several values",
        kind: Kind::Many(|eval, at, list| Ok(extreme(eval, at, list, 1.0))),
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
        does: "which source of doubt contributes how much, as a table; on a line of its own",
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
        let result = match &self.kind {
            Kind::Plain(plain) => {
                self.one(range, arguments).and_then(|(x, at)| self.smooth(plain, eval, &at, &x))
            }
            Kind::One(of) => self.one(range, arguments).and_then(|(x, at)| of(eval, &at, &x)),
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
        if plain.takes_angle && x.angle.is_zero() && x.value.abs() > TAU {
            eval.cautions.push(fault::plain_angle(range.clone(), self.name));
        }
        let what = format!("`{}`", self.name);
        let result = smooth::through(eval, range.clone(), x.clone(), &what, plain.of, plain.slope);
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
        let terms: usize = list.iter().map(|each| each.doubt.terms().len() + 1).sum();
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
    let of = if degree == 2 { f64::sqrt } else { libm::cbrt };
    let share = power.as_number();
    let result =
        smooth::through(eval, range.clone(), x.clone(), "this root", of, |value| share * of(value) / value);
    Ok(Quantity { dimension, angle, unit, style: Style::Derived, ..result })
}

fn absolute_size(eval: &mut Evaluator, range: &Range<usize>, x: &Quantity) -> Eval<Quantity> {
    let sign = if x.value < 0.0 { -1.0 } else { 1.0 };
    if !x.doubt.is_none() && x.doubt.worst() > x.value.abs() {
        eval.say_curved(range.clone(), "`abs`");
    }
    Ok(Quantity { value: x.value.abs(), doubt: x.doubt.clone().scaled(sign), ..x.clone() })
}

/// A whole number; doubt ends here, which is said when it reaches over a step.
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
    let (low, high) = x.worst_case();
    if to(low) != to(high) {
        eval.say_curved(range.clone(), "this rounding");
    }
    // A hair's breadth off a whole number is that number.
    let near = x.value.round();
    let value = if (x.value - near).abs() <= 1e-9 * near.abs().max(1.0) { near } else { to(x.value) };
    Ok(Quantity::number(value))
}

fn kelvin(eval: &mut Evaluator, range: &Range<usize>, x: &Quantity) -> Eval<Quantity> {
    if !x.is_point() {
        let found = Value::Quantity(x.clone()).kind();
        let help = "Write a temperature such as `20 degC`.";
        return Err(fault::dimension(range.clone(), "a temperature", &found, help.to_owned()).into());
    }
    Ok(Quantity { unit: eval.known.units.named("K").unwrap_or_default(), style: Style::Chosen, ..x.clone() })
}

/// The sum of all, each times `share`.
fn total(list: &[Quantity], share: f64) -> Quantity {
    let value = list.iter().map(|each| each.value).sum::<f64>() * share;
    let doubt = Doubt::sum(list.iter().map(|each| (&each.doubt, share)));
    let first = list.first().cloned().unwrap_or_else(|| Quantity::number(0.0));
    Quantity { value, doubt, ..first }
}

fn mean(_: &mut Evaluator, _: &Range<usize>, list: &[Quantity]) -> Eval<Quantity> {
    let count = number_of(list.len()).value;
    let sum: f64 = list.iter().map(|each| each.value).sum();
    Ok(Quantity { value: sum / count, ..total(list, 1.0 / count) })
}

fn number_of(count: usize) -> Quantity {
    Quantity::number(u32::try_from(count).map_or(f64::INFINITY, f64::from))
}

/// The largest (`sign` 1) or the smallest (-1).
fn extreme(eval: &mut Evaluator, range: &Range<usize>, list: &[Quantity], sign: f64) -> Quantity {
    let mut best = 0;
    for (index, each) in list.iter().enumerate() {
        if sign * each.value > sign * list[best].value {
            best = index;
        }
    }
    let reach = |each: &Quantity| sign * each.value + each.doubt.worst();
    let sure = sign * list[best].value - list[best].doubt.worst();
    let rival = list.iter().enumerate().any(|(index, each)| {
        index != best
            && reach(each) > sure
            && each.value != list[best].value
            && each.doubt != list[best].doubt
    });
    if rival && list.len() < LONGEST_COMPARED {
        eval.say_curved(range.clone(), if sign > 0.0 { "`max`" } else { "`min`" });
    }
    list[best].clone()
}

/// Of longer lists (readings) the extreme is what was read, and nothing is said.
const LONGEST_COMPARED: usize = 5;

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
    let slack = 1e-12 * first.abs().max(last.abs());
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
    let after =
        columns.iter().position(|column| column.value >= place.value).unwrap_or(columns.len() - 1).max(1);
    Ok(between(&place, [&columns[after - 1], &columns[after]], [&rows[after - 1], &rows[after]]))
}

/// On the straight line through two rows of a table.
fn between(x: &Quantity, [x0, x1]: [&Quantity; 2], [y0, y1]: [&Quantity; 2]) -> Quantity {
    let share = (x.value - x0.value) / (x1.value - x0.value);
    let slope = (y1.value - y0.value) / (x1.value - x0.value);
    let doubt = Doubt::sum([
        (&x.doubt, slope),
        (&x0.doubt, -slope * (1.0 - share)),
        (&x1.doubt, -slope * share),
        (&y0.doubt, 1.0 - share),
        (&y1.doubt, share),
    ]);
    Quantity { value: y0.value + share * (y1.value - y0.value), doubt, ..y0.clone() }
}

fn same_kind(needed: &Quantity, found: &Quantity, range: &Range<usize>) -> Eval<()> {
    if needed.dimension == found.dimension && needed.is_point() == found.is_point() {
        return Ok(());
    }
    let (needed, found) = (Value::Quantity(needed.clone()).kind(), Value::Quantity(found.clone()).kind());
    Err(fault::dimension(range.clone(), &needed, &found, "Write both lists in fitting units.".to_owned())
        .into())
}
