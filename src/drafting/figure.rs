//! A size as it is printed, and what the drawing says of its sizes elsewhere: numbers, holds, origins.

use super::drawing::{Held, Numbered, Stated};
use super::label::{Label, Part};
use crate::shape::{Key, Limits, Origin, Size, Unit};

/// What is gathered while sizes are put on a drawing.
#[derive(Clone, Debug)]
pub(crate) struct Figures {
    pub(crate) unit: Unit,
    pub(crate) numbered: Vec<Numbered>,
    pub(crate) held: Vec<Held>,
    pub(crate) stated: Vec<Stated>,
    pub(crate) measured: bool,
    /// Sizes that the notes say.
    pub(crate) remarks: Vec<String>,
    pub(crate) auxiliary: bool,
}

/// A size that was read off the old part, explained in the notes. One that was calculated is a size like any other.
pub(crate) const MEASURED: char = '†';

impl Figures {
    pub(crate) fn new(unit: Unit) -> Self {
        Self {
            unit,
            numbered: Vec::new(),
            held: Vec::new(),
            stated: Vec::new(),
            measured: false,
            remarks: Vec::new(),
            auxiliary: false,
        }
    }

    /// The label of a size alone.
    pub(crate) fn label(&mut self, size: &Size, prefix: &str, suffix: &str) -> Label {
        let label = Label::of(self.parts(size, prefix, suffix));
        self.state(Some(size.key), &label);
        label
    }

    /// Notes that the drawing states a label.
    pub(crate) fn state(&mut self, key: Option<Key>, label: &Label) {
        self.stated.push(Stated { key, text: label.plain() });
    }

    /// The parts of a size: its number, `prefix` nominal class `suffix`, its limits.
    pub(crate) fn parts(&mut self, size: &Size, prefix: &str, suffix: &str) -> Vec<Part> {
        if let Origin::Hold { why } = &size.origin {
            let boxed = Part::Boxed(format!("{prefix}{}{suffix}", self.hold(size.key, why)));
            let about = (!size.text.is_empty()).then(|| Part::Text(format!("about {}", self.nominal(size))));
            return [boxed].into_iter().chain(about).collect();
        }
        let nominal = format!("{prefix}{}", self.nominal(size));
        let mut parts = Vec::new();
        if let Some(limits) = size.limits.filter(|_| size.is_toleranced()) {
            parts.push(Part::Balloon(self.number(size, &nominal, limits)));
        }
        parts.extend(self.body(size, prefix, &nominal, suffix));
        parts
    }

    fn body(&mut self, size: &Size, prefix: &str, nominal: &str, suffix: &str) -> Vec<Part> {
        let sign = self.sign(size);
        if size.auxiliary {
            self.auxiliary = true;
            return vec![Part::Text(format!("({nominal}{suffix}){sign}"))];
        }
        match size.limits {
            None => vec![Part::Text(format!("{nominal}{suffix}{sign}"))],
            Some(limits) if size.as_limits => {
                let worked_out = || limits_of_size(size.m(), limits, size.unit);
                let (upper, lower) = size.deviations.clone().unwrap_or_else(worked_out);
                let mut parts = vec![Part::Stack(upper, lower), Part::Text(format!("{suffix}{sign}"))];
                if !prefix.is_empty() {
                    parts.insert(0, Part::Text(prefix.to_owned()));
                }
                parts.retain(|part| *part != Part::Text(String::new()));
                parts
            }
            Some(limits) => deviated(format!("{nominal}{sign}"), suffix, limits, size),
        }
    }

    /// The nominal with its class, and its unit if it is not that of the drawing.
    fn nominal(&self, size: &Size) -> String {
        let mut text = size.text.clone();
        if size.unit != self.unit {
            text = format!("{text} {}", size.unit.symbol());
        }
        match &size.class {
            Some(class) if !size.auxiliary => format!("{text} {class}"),
            _ => text,
        }
    }

    fn sign(&mut self, size: &Size) -> String {
        match size.origin {
            Origin::Measured => {
                self.measured = true;
                MEASURED.to_string()
            }
            Origin::Given | Origin::Calculated | Origin::Hold { .. } => String::new(),
        }
    }

    fn number(&mut self, size: &Size, text: &str, limits: Limits) -> usize {
        if let Some(known) = self.numbered.iter().find(|n| n.key == size.key && n.text == text) {
            return known.number;
        }
        let number = self.numbered.len() + 1;
        let (least, greatest) = (size.m() + limits.lower, size.m() + limits.upper);
        let text = text.to_owned();
        self.numbered.push(Numbered { number, key: size.key, text, least, greatest, unit: size.unit });
        number
    }

    fn hold(&mut self, key: Key, why: &str) -> String {
        if let Some(known) = self.held.iter().find(|held| held.key == key) {
            return known.sign.clone();
        }
        let sign = format!("?{}", self.held.len() + 1);
        self.held.push(Held { sign: sign.clone(), key, why: why.to_owned() });
        sign
    }
}

/// Nominal and deviations: one under the other, or ± where they are equal.
fn deviated(nominal: String, suffix: &str, limits: Limits, size: &Size) -> Vec<Part> {
    let least = match (&size.class, size.unit) {
        (None, _) => 0,
        (Some(_), Unit::Millimetre) => 3,
        (Some(_), Unit::Inch) => 4,
    };
    let worked_out = || deviations_to(limits, size.unit, least);
    let (upper, lower) = size.deviations.clone().unwrap_or_else(worked_out);
    let mut parts = if (limits.upper + limits.lower).abs() < 1e-10 && size.class.is_none() {
        vec![Part::Text(format!("{nominal} ±{}", upper.trim_start_matches(['+', '±'])))]
    } else {
        vec![Part::Text(nominal), Part::Stack(upper, lower)]
    };
    if !suffix.is_empty() {
        parts.push(Part::Text(suffix.trim_start().to_owned()));
    }
    parts
}

/// Both deviations with as many places as the finer needs, at least so many; zero without sign or places.
fn deviations_to(limits: Limits, unit: Unit, least: usize) -> (String, String) {
    let (upper, lower) = (limits.upper / unit.metres(), limits.lower / unit.metres());
    let places = places(upper).max(places(lower)).max(least);
    (signed(upper, places), signed(lower, places))
}

fn limits_of_size(nominal: f64, limits: Limits, unit: Unit) -> (String, String) {
    let of = |deviation: f64| (nominal + deviation) / unit.metres();
    let (upper, lower) = (of(limits.upper), of(limits.lower));
    let places = places(upper).max(places(lower));
    (format!("{upper:.places$}"), format!("{lower:.places$}"))
}

/// The least number of places, at most 6, that shows a figure.
fn places(figure: f64) -> usize {
    let shows = |places: &usize| {
        let shown: f64 = format!("{figure:.places$}").parse().unwrap_or(figure);
        (shown - figure).abs() < 1e-7
    };
    (0..6).find(shows).unwrap_or(6)
}

fn signed(figure: f64, places: usize) -> String {
    if figure.abs() < 1e-9 {
        return "0".to_owned();
    }
    let sign = if figure < 0.0 { '−' } else { '+' };
    format!("{sign}{:.places$}", figure.abs())
}
