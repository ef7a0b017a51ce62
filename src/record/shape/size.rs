//! One size: a quantity, with a class or limits; `= expression`; `(40 mm)` for what stays; `{hold: why}`.

use super::{Formula, Ledger, NoteKey, keys};
use crate::calc::dimension::Dimension;
use crate::calc::literal::{Form, Literal, Piece};
use crate::calc::units::{System, Unit as Typed, Units};
use crate::note::yaml::{Node, Shape};
use crate::record::Typed as Text;
use crate::record::fields::Fields;
use crate::record::problems as problem;
use crate::shape::{Key, Origin, Size, Unit};

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
        let mut hold = Fields::of(node, &keys::on_hold(), &mut *fields.reader)?;
        let why = hold.required(keys::HOLD.name, "say what has to be measured first")?;
        return Some(Size::hold(key, &why, unit));
    }
    let typed = fields.typed_at(node)?;
    if let Some(why) = typed.text.strip_prefix("hold:") {
        return Some(Size::hold(key, why.trim(), unit));
    }
    let inner = typed.text.strip_prefix('(').and_then(|rest| rest.strip_suffix(')'));
    let stated = stated(fields, &typed, inner.unwrap_or(&typed.text), key, ledger)?;
    Some(if inner.is_some() { stated.stays() } else { stated })
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
    let text_at = text.as_ptr() as usize - typed.text.as_ptr() as usize;
    let offset = typed.span.start + quotes / 2 + text_at;
    ledger.formulas.push(Formula { key, text: text.to_owned(), offset, span: typed.span });
    let unit = usual(fields.reader.units);
    let size = Size::hold(key, "", unit).from(Origin::Calculated);
    Some(Size { class: class.map(str::to_owned), ..size })
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
    size.deviations = fractions(literal).filter(|_| is_own);
    size
}

/// Deviations typed as fractions, which stay so.
fn fractions(literal: &Literal) -> Option<(String, String)> {
    let deviations = literal.pieces().iter().rev().find_map(|piece| match piece {
        Piece::Limits(upper, lower) => Some((upper.clone(), lower.clone())),
        Piece::Figures(figure) if literal.form == Form::PlusMinus => Some((figure.clone(), figure.clone())),
        _ => None,
    })?;
    (deviations.0.contains('/') || deviations.1.contains('/')).then_some(deviations)
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
