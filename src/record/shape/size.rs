//! One size: a quantity, with a class or limits; `= expression`; `(40 mm)` for what stays; `{hold: why}`.

use super::{Formula, Hold, Ledger, NoteKey, keys};
use crate::calc::dimension::Dimension;
use crate::calc::literal::{Form, Literal, Piece};
use crate::calc::units::{System, Unit as Typed, Units};
use crate::note::yaml::{Node, Shape};
use crate::record::Typed as Text;
use crate::record::fields::Fields;
use crate::record::links::TypedAny;
use crate::record::problems as problem;
use crate::shape::{Key, Limits, Origin, Size, Unit};

/// A size under a key.
pub(super) fn size(fields: &mut Fields, key: NoteKey, ledger: &mut Ledger) -> Option<Size> {
    let node = fields.node(key.name)?;
    of_node(fields, node, ledger)
}

/// A place: two sizes in brackets.
pub(super) fn point(fields: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<[Size; 2]> {
    let Shape::List(items) = &node.shape else {
        let found = node.shape_name();
        fields.reader.problems.push(problem::shape(node.span, "two lengths, `[1 in, 2 in]`", found));
        return None;
    };
    let [x, y] = items.as_slice() else {
        let found = format!("a list of {}", items.len());
        fields.reader.problems.push(problem::shape(node.span, "two lengths, `[1 in, 2 in]`", &found));
        return None;
    };
    let (x, y) = (of_node(fields, x, ledger), of_node(fields, y, ledger));
    Some([x?, y?])
}

pub(super) fn of_node(fields: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Size> {
    let key = ledger.key(node.span);
    let unit = usual(fields.reader.units);
    if matches!(node.shape, Shape::Map(_)) {
        return on_hold(fields, node, key, ledger);
    }
    let typed = fields.typed_at(node)?;
    if let Some(why) = typed.text.strip_prefix("hold:") {
        let why = why.trim();
        ledger.holds.push(Hold { why: why.to_owned(), settled_by: Vec::new() });
        return Some(Size::hold(key, why, unit));
    }
    let inner = typed.text.strip_prefix('(').and_then(|rest| rest.strip_suffix(')'));
    let stated = stated(fields, &typed, inner.unwrap_or(&typed.text), key, ledger)?;
    Some(if inner.is_some() { stated.stays() } else { stated })
}

/// `{hold: measure the seat, about: 5 1/4 in, settled_by: measure-seat}`.
fn on_hold(fields: &mut Fields, node: &Node, key: Key, ledger: &mut Ledger) -> Option<Size> {
    let mut hold = Fields::of(node, &keys::on_hold(), &mut *fields.reader)?;
    let about = hold.positive(keys::NEAR.name, Dimension::LENGTH);
    let settled_by = hold.list(keys::SETTLED_BY.name).into_iter().map(TypedAny::from).collect();
    let why = hold.required(keys::HOLD.name, "say what has to be measured first")?;
    ledger.holds.push(Hold { why: why.clone(), settled_by });
    let Some(about) = about.map(|about| of_literal(key, &about)) else {
        return Some(Size::hold(key, &why, usual(hold.reader.units)));
    };
    Some(Size::hold(key, &why, about.unit).about(about.m(), &about.text))
}

/// A quantity or an expression; `text` is a piece of what was typed.
fn stated(fields: &mut Fields, typed: &Text, text: &str, key: Key, ledger: &mut Ledger) -> Option<Size> {
    if let Some(formula) = text.trim_start().strip_prefix('=') {
        return worked_out(fields, typed, formula.trim(), key, ledger);
    }
    let (text, class) = split_class(text.trim(), |text| Literal::parse(text, fields.reader.units).is_ok());
    let quantity = Text { text: text.to_owned(), span: typed.span };
    let literal = fields.literal(&quantity, Some(Dimension::LENGTH))?;
    let size = of_literal(key, &literal);
    Some(Size { class: class.map(str::to_owned), ..size })
}

/// An expression of the engine, whose figure comes later.
fn worked_out(
    fields: &mut Fields,
    typed: &Text,
    formula: &str,
    key: Key,
    ledger: &mut Ledger,
) -> Option<Size> {
    let quotes = (typed.span.end - typed.span.start).checked_sub(typed.text.len());
    let Some(quotes @ (0 | 2)) = quotes else {
        fields.reader.problems.push(problem::shape(typed.span, "one line", "more"));
        return None;
    };
    let (text, class) = split_class(formula, |_| false);
    let (text, limits) = split_limits(fields, typed, text)?;
    let text_at = text.as_ptr() as usize - typed.text.as_ptr() as usize;
    let offset = typed.span.start + quotes / 2 + text_at;
    ledger.formulas.push(Formula { key, text: text.to_owned(), offset, span: typed.span });
    let unit = usual(fields.reader.units);
    let size = Size::hold(key, "", unit).from(Origin::Calculated);
    let (limits, deviations) = limits.map_or((None, None), |(limits, deviations)| (Some(limits), deviations));
    Some(Size { class: class.map(str::to_owned), limits, deviations, ..size })
}

type Allowed = (Limits, Option<(String, String)>);

/// Parts the limits that are typed behind an expression from it: `bore ± 0.01 mm`, `reach +0/-0.010`, in the project's usual
/// unit where none stands behind them.
fn split_limits<'t>(fields: &mut Fields, typed: &Text, text: &'t str) -> Option<(&'t str, Option<Allowed>)> {
    let Some((formula, allowed)) = text.find('±').or_else(|| two_limits(text)).map(|at| text.split_at(at))
    else {
        return Some((text, None));
    };
    let has_unit = allowed.ends_with(|last: char| last.is_alphabetic() || last == '"');
    let usual = usual(fields.reader.units).symbol();
    let (figures, unit) = match allowed.rsplit_once(' ').filter(|_| has_unit) {
        Some((figures, unit)) => (figures.trim_end(), unit),
        None => (allowed.trim_end(), usual),
    };
    let quantity = if let Some(figure) = figures.strip_prefix('±') {
        format!("1 {unit} ± {} {unit}", figure.trim())
    } else {
        format!("1 {unit} {figures}")
    };
    let one = fields.literal(&Text { text: quantity, span: typed.span }, Some(Dimension::LENGTH))?;
    let limits = Limits { upper: one.high - one.nominal, lower: one.low - one.nominal };
    Some((formula.trim_end(), Some((limits, limits_as_typed(&one)))))
}

/// Where an upper and a lower limit stand at the end: ` +0.2/-0`.
fn two_limits(text: &str) -> Option<usize> {
    let at = text.rfind(" +").map(|at| at + 1)?;
    let (upper, lower) = text[at + 1..].split_once("/-").or_else(|| text[at + 1..].split_once("/+"))?;
    let is_figure = |text: &str| text.starts_with(|first: char| first.is_ascii_digit() || first == '.');
    (is_figure(upper) && is_figure(lower)).then_some(at)
}

/// Parts the class of a fit from what stands before it: `40 mm` and `f7`.
fn split_class(text: &str, is_whole: impl Fn(&str) -> bool) -> (&str, Option<&str>) {
    let Some((size, class)) = text.rsplit_once(' ').filter(|_| !is_whole(text)) else { return (text, None) };
    let letters = class.trim_end_matches(|letter: char| letter.is_ascii_digit());
    let is_class = (1..=2).contains(&letters.len())
        && letters.chars().all(|letter| letter.is_ascii_alphabetic())
        && (1..=2).contains(&(class.len() - letters.len()));
    if is_class { (size.trim_end(), Some(class)) } else { (text, None) }
}

/// A typed quantity as a size, in the words it was typed in where they are in inches or millimetres.
pub(super) fn of_literal(key: Key, literal: &Literal) -> Size {
    let unit = inch_or_mm(literal.unit);
    let is_own = literal.unit.to_string() == unit.symbol();
    let nominal = if literal.form == Form::Range { literal.low } else { literal.nominal };
    let text = match literal.pieces() {
        [Piece::Figures(text), Piece::Unit(_) | Piece::PlusMinus | Piece::Limits(..) | Piece::To, ..]
            if is_own =>
        {
            text.clone()
        }
        _ => trimmed(nominal / unit.metres(), 6),
    };
    let mut size = Size::typed(key, nominal, &text, unit);
    if !literal.is_exact() {
        size = size.within(literal.low - nominal, literal.high - nominal);
    }
    size.as_limits = literal.form == Form::Range;
    size.deviations = limits_as_typed(literal).filter(|_| is_own);
    size
}

/// The upper and the lower limit in the figures they were typed in: `-0.010` stays so, and so do fractions.
fn limits_as_typed(literal: &Literal) -> Option<(String, String)> {
    match (literal.form, literal.pieces()) {
        (Form::Range, [Piece::Figures(lower), Piece::Unit(_), Piece::To, Piece::Figures(upper), ..]) => {
            Some((upper.clone(), lower.clone()))
        }
        (Form::PlusMinus, pieces) => pieces.iter().rev().find_map(|piece| match piece {
            Piece::Figures(figure) => Some((figure.clone(), figure.clone())),
            _ => None,
        }),
        (Form::Limits, pieces) => pieces.iter().find_map(|piece| match piece {
            Piece::Limits(upper, lower) => Some((signed(upper), signed(lower))),
            _ => None,
        }),
        _ => None,
    }
}

/// A deviation as it is printed: with a minus sign, and without either at zero.
fn signed(typed: &str) -> String {
    let is_zero = typed.chars().all(|each| !each.is_ascii_digit() || each == '0');
    if is_zero { "0".to_owned() } else { typed.replace('-', "−") }
}

pub(super) fn inch_or_mm(unit: Typed) -> Unit {
    if unit.system() == Some(System::Inch) { Unit::Inch } else { Unit::Millimetre }
}

/// The unit of sizes that are not typed.
fn usual(units: &Units) -> Unit {
    if units.settings().system == System::Inch { Unit::Inch } else { Unit::Millimetre }
}

/// A figure with at most so many decimals, without zeros at its end.
pub(super) fn trimmed(figure: f64, decimals: usize) -> String {
    let text = format!("{figure:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
