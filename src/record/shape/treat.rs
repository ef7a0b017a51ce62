//! A heat treatment: words alone, or a hardness with its limits and where it holds.

use super::{Ledger, keys};
use crate::calc::dimension::Dimension;
use crate::note::yaml::Shape;
use crate::record::fields::Fields;
use crate::record::problems as problem;
use crate::shape::Treat;

/// The scales in use (ISO 6506-1, 6507-1, 6508-1); figures behind them are the test's load: `HV10`.
const SCALES: [&str; 6] = ["HRA", "HRB", "HRC", "HBW", "HV", "HB"];

pub(super) fn read(shape: &mut Fields, ledger: &mut Ledger) -> Option<Treat> {
    let node = shape.node(keys::TREAT.name)?;
    let key = ledger.key(node.span);
    if !matches!(node.shape, Shape::Map(_)) {
        return shape.text(keys::TREAT.name).map(|words| Treat { key, ..Treat::from(words.as_str()) });
    }
    let mut fields = shape.child(keys::TREAT.name, &keys::treated())?;
    let within = fields.typed(keys::WITHIN.name);
    let reach = fields.positive(keys::WITHIN.name, Dimension::LENGTH);
    let (hardness, words) = (hardness(&mut fields), fields.text(keys::WORDS.name));
    if fields.node(keys::HARDNESS.name).is_none() && words.is_none() {
        fields.missing(
            keys::HARDNESS.name,
            "give the hardness with its limits, or say in `words` what is done",
        );
    }
    let of = fields.text(keys::TREATED.name);
    Some(Treat {
        key,
        words,
        hardness,
        of,
        within: reach.zip(within).map(|(reach, typed)| (reach.nominal, typed.text)),
    })
}

/// The least hardness with what it may be above that, as ISO 15787 writes it: `50 +5/0 HRC`.
fn hardness(fields: &mut Fields) -> Option<String> {
    let typed = fields.typed(keys::HARDNESS.name)?;
    let printed = printed(&typed.text);
    if printed.is_none() {
        let wanted = "a hardness with its limits, `50 HRC .. 55 HRC`";
        fields.reader.problems.push(problem::shape(typed.span, wanted, &format!("`{}`", typed.text)));
    }
    printed
}

/// From `50 HRC .. 55 HRC`, `50 .. 55 HRC` or `50 HRC +5/-0`.
fn printed(text: &str) -> Option<String> {
    let (least, most) = text.split_once("..").or_else(|| text.split_once('+'))?;
    let (low, before) = figure(least)?;
    let (high, scale) = if text.contains("..") {
        let (high, behind) = figure(most)?;
        (high, if behind.is_empty() || behind == before || before.is_empty() { behind } else { return None })
    } else {
        let (above, below) = most.split_once('/')?;
        let (below, behind) = figure(below.trim_start_matches(['-', '−']))?;
        (low + figure(above)?.0, if below.abs() > 0.0 { return None } else { behind })
    };
    let scale = if scale.is_empty() { before } else { scale };
    let known = SCALES.into_iter().any(|each| {
        scale
            .strip_prefix(each)
            .is_some_and(|rest| rest.trim().chars().all(|c| c.is_ascii_digit() || c == '/'))
    });
    let spread = (high - low) * 10.0;
    let spread = spread.round() / 10.0;
    (known && low > 0.0 && spread > 0.0).then(|| format!("{low} +{spread}/0 {scale}"))
}

/// A figure and what stands behind it.
fn figure(text: &str) -> Option<(f64, &str)> {
    let text = text.trim();
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let figure = text[..end].parse().ok().filter(|figure: &f64| figure.is_finite())?;
    Some((figure, text[end..].trim()))
}
