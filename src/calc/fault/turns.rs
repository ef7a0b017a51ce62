//! Turns, radians and cycles: what was counted, and how to write each reading so that it is taken.

use std::ops::Range;

use super::{Code, Fault};

/// What stands beside an angle, and may be for each turn or for each radian, as it was typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::calc) enum Subject {
    /// `50 mm`, which takes a further unit behind it.
    Literal(String),
    Formula(String),
}

/// A result in figures, by either reading.
pub(in crate::calc) struct Reading {
    pub radians: String,
    pub turns: String,
    /// Else it appears.
    pub falls_away: bool,
}

impl Subject {
    fn text(&self) -> &str {
        match self {
            Self::Literal(text) | Self::Formula(text) => text,
        }
    }

    /// For each `rad` or `rev`.
    fn per(&self, angle: &str) -> String {
        match self {
            Self::Literal(text) => format!("{text}/{angle}"),
            Self::Formula(text) => format!("({text} / (1 {angle}))"),
        }
    }
}

impl Reading {
    fn opening(&self) -> &'static str {
        if self.falls_away { "an angle falls away here" } else { "an angle appears here" }
    }
}

/// A length beside an angle: a radius, or a feed.
pub(in crate::calc) fn partner(range: Range<usize>, subject: &Subject, reading: &Reading) -> Fault {
    let message = format!(
        "{}: {} if `{}` is for each radian, as it is taken, {} if for each turn",
        reading.opening(),
        reading.radians,
        subject.text(),
        reading.turns
    );
    let help = format!(
        "Write which is meant: `{}` for a radius, `{}` for a feed or a lead.",
        subject.per("rad"),
        subject.per("rev")
    );
    Fault::new(Code::Angle, range, message, help)
}

/// The same of a whole formula, whose result is `power` angles short.
pub(in crate::calc) fn turns_or_radians(
    range: Range<usize>,
    text: &str,
    power: f64,
    reading: &Reading,
) -> Fault {
    let message = format!(
        "{}: {} if radians are counted, as it is taken, {} if turns are",
        reading.opening(),
        reading.radians,
        reading.turns
    );
    let help =
        format!("Write which is meant: `{}` or `{}`.", times(text, "rad", power), times(text, "rev", power));
    Fault::new(Code::Angle, range, message, help)
}

/// A plain number where an angle is usual: nobody means thirty radians.
pub(in crate::calc) fn plain_angle(range: Range<usize>, function: &str) -> Fault {
    let message = format!("`{function}` takes this plain number as radians");
    Fault::new(Code::Angle, range, message, "Write the unit of the angle: `30 deg`.")
}

pub(in crate::calc) fn plain_to_angle(range: Range<usize>, text: &str) -> Fault {
    let message = format!("`{text}` is a plain number, and taken as radians");
    Fault::new(Code::Angle, range, message, angle_help(text))
}

/// `50 Hz to rpm`, or back.
pub(in crate::calc) fn turns_against_cycles(range: Range<usize>, text: &str, to_cycles: bool) -> Fault {
    let power = if to_cycles { -1.0 } else { 1.0 };
    let message = "a rate of one kind is needed here, and this is turns against cycles";
    let help = format!("If each cycle is a turn, write `{}`.", times(text, "rev", power));
    Fault::new(Code::Dimension, range, message, help)
}

/// `50 Hz + 10 rpm`.
pub(in crate::calc) fn cycles_beside_turns(range: Range<usize>, cycles: &str, turns: &str) -> Fault {
    let message = "cycles and turns do not go together: `rpm` counts radians, `Hz` does not";
    let help = format!(
        "If each cycle is a turn, write `{}` for turns, or `{}` for cycles.",
        times(cycles, "rev", 1.0),
        times(turns, "rev", -1.0)
    );
    Fault::new(Code::Dimension, range, message, help)
}

/// A frequency for a rotational speed; `turns` is the speed if it counts turns.
pub(in crate::calc) fn bare_frequency(
    range: Range<usize>,
    parameter: &str,
    text: &str,
    turns: &str,
) -> Fault {
    let message =
        format!("for `{parameter}` a rotational speed is needed here, and this is a bare frequency");
    let help = format!(
        "If it counts turns write `{turns}` or `{}`; if radians, `{}`.",
        times(text, "rev", 1.0),
        times(text, "rad", 1.0)
    );
    Fault::new(Code::Dimension, range, message, help)
}

/// A plain number for an angle.
pub(in crate::calc) fn not_an_angle(range: Range<usize>, parameter: &str, found: &str, text: &str) -> Fault {
    let message = format!("for `{parameter}` an angle is needed here, and this is {found}");
    Fault::new(Code::Dimension, range, message, angle_help(text))
}

fn angle_help(text: &str) -> String {
    let [degrees, radians] = ["deg", "rad"].map(|unit| match text.parse::<f64>() {
        Ok(_) => format!("{text} {unit}"),
        Err(_) => times(text, unit, 1.0),
    });
    format!("Write the unit of the angle: `{degrees}`, or `{radians}`.")
}

/// A formula times a power of an angle, as it is typed.
fn times(text: &str, angle: &str, power: f64) -> String {
    let text = if is_one_product(text) { text.to_owned() } else { format!("({text})") };
    match power {
        1.0 => format!("{text} * 1 {angle}"),
        -1.0 => format!("{text} / (1 {angle})"),
        _ => format!("{text} * (1 {angle})^({power})"),
    }
}

/// Whether a factor may stand behind it without brackets.
fn is_one_product(text: &str) -> bool {
    let mut depth = 0_i32;
    !text.contains("..")
        && text.chars().all(|each| {
            depth += match each {
                '(' | '[' => 1,
                ')' | ']' => -1,
                _ => 0,
            };
            depth > 0 || !matches!(each, '+' | '-' | '−' | '±' | '=' | '<' | '>')
        })
}
