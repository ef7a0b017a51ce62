//! What readings come to, in one line below them.

use super::edition::Edition;
use super::measurement::{furthest_off, is_worn, lies_along, past_word, taper_word, wear_word};
use super::prose::{capital, joined};
use super::working::number;
use crate::calc::print;
use crate::calc::value::Quantity;
use crate::dossier::MeasurementId;

/// One figure of the line.
struct Figure {
    says: String,
    unit: String,
    /// `known to ± 0.0005 in; at worst ± 0.0008`; empty where nothing is to be said.
    known: String,
}

/// `Least 3.9866, greatest 3.9961 in, each known to ± 0.0005 in; taper 0.0043 in over 6 in, known to ± 0.0007 in`; none for
/// readings without figures.
pub(super) fn line(edition: &Edition, id: MeasurementId) -> Option<String> {
    let mut groups: Vec<Vec<Figure>> = Vec::new();
    for figure in figures(edition, id) {
        let is_alike = |group: &Vec<Figure>| group[0].known == figure.known && group[0].unit == figure.unit;
        match groups.last_mut().filter(|group| is_alike(group)) {
            Some(group) => group.push(figure),
            None => groups.push(vec![figure]),
        }
    }
    let said: Vec<String> = groups.iter().map(|group| together(group)).collect();
    (!said.is_empty()).then(|| joined(&format!("{}.", capital(&said.join("; ")))))
}

/// Figures of one unit that are known alike.
fn together(group: &[Figure]) -> String {
    let figures: Vec<&str> = group.iter().map(|figure| figure.says.as_str()).collect();
    let (unit, known) = (&group[0].unit, &group[0].known);
    let unit = if unit.is_empty() { String::new() } else { format!("\u{a0}{unit}") };
    let each = if group.len() > 1 { "each " } else { "" };
    let known = if known.is_empty() { String::new() } else { format!(", {each}{known}") };
    format!("{}{unit}{known}", figures.join(", "))
}

fn figures(edition: &Edition, id: MeasurementId) -> Vec<Figure> {
    let (keys, measured) = (&edition.dossier()[id], edition.project.worked.measured(id));
    let shown: [(&str, &'static str); 9] = [
        ("value", "reading"),
        ("min", "least"),
        ("max", "greatest"),
        ("mean", "mean"),
        ("sd", "standard deviation"),
        ("out_of_round", "out of round"),
        ("taper", taper_word(&measured.statistics.stations)),
        ("wear", wear_word(keys, measured)),
        ("beyond", past_word(keys.surface)),
    ];
    let single = measured.figure("value").is_some();
    let is_shown = |name: &str| match name {
        "min" | "max" => !single,
        "mean" => !single,
        "taper" => lies_along(keys),
        "sd" => keys.readings.repeats,
        "beyond" => measured.figure("beyond").is_some_and(|beyond| beyond.value > 0.0),
        _ => true,
    };
    let shown = shown.into_iter().filter(|(name, _)| is_shown(name));
    let shown = shown.filter_map(|(name, says)| {
        let quantity = measured.figure(name)?;
        let off = || furthest_off(keys, measured, quantity);
        let quantity = if name == "wear" && !is_worn(keys, measured) { off() } else { quantity.clone() };
        let over = if name == "taper" { over(edition, id) } else { None };
        Some(figure(edition, says, &quantity, over))
    });
    shown.collect()
}

/// The length that a taper is over: `6 in`.
fn over(edition: &Edition, id: MeasurementId) -> Option<String> {
    let keys = &edition.dossier()[id];
    let places = || keys.readings.stations.iter().filter_map(|station| station.position);
    let (low, high) = (places().fold(f64::INFINITY, f64::min), places().fold(f64::NEG_INFINITY, f64::max));
    (high > low)
        .then(|| print::exact(keys.readings.unit.interval_from_si(high - low), keys.readings.unit).value())
}

fn figure(edition: &Edition, name: &str, quantity: &Quantity, over: Option<String>) -> Figure {
    let mut printed = print::quantity(quantity, &edition.dossier().units);
    if quantity.uncertainty.is_none() {
        printed.number = two_figures(&printed.number, printed.power);
        printed.power = 0;
    }
    let worst = printed.worst_beyond().map(|worst| format!("at worst {}", worst.replace('-', "−")));
    let other = edition.amounts.other(quantity).filter(|_| printed.expanded.is_some());
    let known = printed.known_to().map(|known| known.replace('-', "−"));
    let known: Vec<String> = known.into_iter().chain(worst).collect();
    let (figure, other) = (number(&printed), other.map(|other| format!(" ({other})")).unwrap_or_default());
    let (says, unit) = match over {
        Some(over) => (format!("{name} {figure} {} over {over}{other}", printed.unit), String::new()),
        None if other.is_empty() => (format!("{name} {figure}"), printed.unit.clone()),
        None => (format!("{name} {figure} {}{other}", printed.unit), String::new()),
    };
    Figure { says, unit, known: known.join("; ") }
}

/// A figure without uncertainty here is a scatter: more than two of its figures say nothing.
fn two_figures(number: &str, power: i32) -> String {
    let Ok(value) = number.parse::<f64>() else { return number.to_owned() };
    let value = value * libm::pow(10.0, f64::from(power));
    if value == 0.0 || !value.is_finite() {
        return number.to_owned();
    }
    let magnitude = libm::floor(libm::log10(value.abs()));
    let places = (1.0 - magnitude).clamp(0.0, 12.0);
    #[expect(clippy::cast_possible_truncation, reason = "clamped to 0 to 12")]
    let places = places as i32;
    print::rounded(value, places)
}
