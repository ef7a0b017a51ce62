//! The value of a table between its rows.

use std::ops::Range;

use super::{quantities, quantity};
use crate::calc::evaluate::user::{Given, counted};
use crate::calc::evaluate::{Eval, Evaluator};
use crate::calc::fault;
use crate::calc::rounding::Rounded;
use crate::calc::span::Span;
use crate::calc::uncertainty::Uncertainty;
use crate::calc::value::{Quantity, Style, Value};

pub(super) fn interpolate(eval: &mut Evaluator, range: &Range<usize>, arguments: &[Given]) -> Eval<Quantity> {
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
