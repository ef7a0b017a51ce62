//! The engine's own functions over numbers that carry their slopes.

use super::run::{Stop, each, single};
use crate::calc::function::Argument;
use crate::calc::real::Real;

/// A function of the engine, of the same name and meaning as in a calculation.
pub(super) fn call(name: &str, arguments: &[Argument]) -> Result<Argument, Stop> {
    if let (Some(of), [argument]) = (smooth(name), arguments) {
        return each(argument, of);
    }
    if name == "interpolate" {
        return interpolate(arguments).map(Argument::Number);
    }
    let list = numbers(arguments)?;
    let result = match name {
        "sum" => Some(list.iter().copied().sum()),
        "product" => list.iter().copied().reduce(|a, b| a * b),
        "mean" => Some(list.iter().copied().sum::<Real>() / count(&list)),
        "min" => list.iter().copied().reduce(Real::min),
        "max" => list.iter().copied().reduce(Real::max),
        "count" => Some(Real::exact(count(&list))),
        _ => None,
    };
    result.map(Argument::Number).ok_or_else(|| Stop::Wrong(format!("`{name}` can't be worked out here")))
}

fn smooth(name: &str) -> Option<fn(Real) -> Real> {
    Some(match name {
        "sqrt" => Real::sqrt,
        "cbrt" => Real::cbrt,
        "abs" => Real::abs,
        "sin" => Real::sin,
        "cos" => Real::cos,
        "tan" => Real::tan,
        "asin" => Real::asin,
        "acos" => Real::acos,
        "atan" => Real::atan,
        "exp" => Real::exp,
        "ln" => Real::ln,
        "absolute" => |real| real,
        "round" => |real| Real::exact(real.value().round()),
        "floor" => |real| Real::exact(step(real, f64::floor)),
        "ceil" => |real| Real::exact(step(real, f64::ceil)),
        _ => return None,
    })
}

/// A whole number; what is off one by less than a billionth is that one.
fn step(real: Real, to: fn(f64) -> f64) -> f64 {
    let near = real.value().round();
    if (real.value() - near).abs() <= 1e-9 * near.abs().max(1.0) { near } else { to(real.value()) }
}

fn numbers(arguments: &[Argument]) -> Result<Vec<Real>, Stop> {
    let mut numbers = Vec::with_capacity(arguments.len());
    for argument in arguments {
        match argument {
            Argument::List(list) => numbers.extend(list),
            other => numbers.push(single(other)?),
        }
    }
    Ok(numbers)
}

fn count(list: &[Real]) -> f64 {
    list.iter().map(|_| 1.0).sum()
}

/// On the straight line between two rows of a table; past its ends there is no value.
fn interpolate(arguments: &[Argument]) -> Result<Real, Stop> {
    let [x, Argument::List(xs), Argument::List(ys)] = arguments else {
        return Err(Stop::Wrong("`interpolate` takes a value and two lists".to_owned()));
    };
    let x = single(x)?;
    let rows = xs.windows(2).zip(ys.windows(2));
    let mut rows = rows.filter(|(xs, _)| (xs[0].value()..=xs[1].value()).contains(&x.value()));
    let Some((xs, ys)) = rows.next() else { return Ok(Real::exact(f64::NAN)) };
    Ok(ys[0] + (x - xs[0]) / (xs[1] - xs[0]) * (ys[1] - ys[0]))
}
