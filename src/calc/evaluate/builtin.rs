//! The functions of every calculation: roots, angles, logarithms, lists, tables.

mod interpolate;
mod list;
mod number;

use std::f64::consts::{FRAC_PI_2, LN_10, TAU};
use std::ops::Range;

use super::super::dimension::Dimension;
use super::super::fault;
use super::super::span::Span;
use super::super::value::{Quantity, Style, Value, with_article};
use super::smooth::{Curve, Shape};
use super::user::Given;
use super::{Eval, Evaluator, checked};
use interpolate::interpolate;
use list::{extreme, mean, number_of, product, total};
use number::{absolute_size, kelvin, root, whole};

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
