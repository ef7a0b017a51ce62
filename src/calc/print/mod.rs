//! Values in figures: rounded by their uncertainty, never cut; what is certain of them is never rounded away.

mod fraction;
mod round;
pub mod systems;
mod words;

use super::dimension::Dimension;
use super::units::{System, Unit, Units};
use super::value::{Quantity, Style, Value};
pub use round::{decimals_for, places, rounded};
pub use words::counted;

/// A quantity in figures, its parts apart so that they can be set side by side or in columns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printed {
    /// `2.0035`, `2 5/16`, `1.235`; a minus sign is `-`.
    pub number: String,
    /// The power of ten that `number` is to be multiplied by; 0 for none.
    pub power: i32,
    /// In print: `in`, `N/mm²`; empty for a plain number.
    pub unit: String,
    /// The expanded uncertainty, in the same unit and power of ten.
    pub expanded: Option<String>,
    /// The worst case, in the same unit and power of ten; about the printed number it reaches the true ends.
    pub worst: Option<String>,
    /// What a nearest fraction leaves over, with its unit: `+ 0.0031 in`.
    pub remainder: Option<String>,
}

impl Printed {
    /// Number and unit: `2.0035 in`.
    pub fn value(&self) -> String {
        let value = self.with_unit(self.figures(&self.number));
        match &self.remainder {
            Some(remainder) => format!("{value} {remainder}"),
            None => value,
        }
    }

    /// All of it: `2.0035 in ± 0.0012 in, at worst ± 0.0015 in`.
    pub fn text(&self) -> String {
        let with_unit = |figures: &String| self.with_unit(self.figures(figures));
        match (&self.expanded, &self.worst) {
            (Some(expanded), Some(worst)) if expanded != worst => {
                format!("{} ± {}, at worst ± {}", self.value(), with_unit(expanded), with_unit(worst))
            }
            (Some(expanded), _) => format!("{} ± {}", self.value(), with_unit(expanded)),
            (None, _) => self.value(),
        }
    }

    /// The value with its expanded uncertainty, not its worst case: `2.0035 in ± 0.0012 in`.
    pub fn with_expanded(&self) -> String {
        Self { worst: None, ..self.clone() }.text()
    }

    /// The expanded uncertainty with its unit: `0.0012 in`.
    pub fn doubt(&self) -> Option<String> {
        self.expanded.as_ref().map(|expanded| self.with_unit(self.figures(expanded)))
    }

    /// The value alone, without its doubt.
    #[must_use]
    pub fn plain(&self) -> Self {
        Self { expanded: None, worst: None, ..self.clone() }
    }

    fn with_unit(&self, figures: String) -> String {
        match self.unit.as_str() {
            "" => figures,
            "°" => format!("{figures}°"),
            unit => format!("{figures} {unit}"),
        }
    }

    fn figures(&self, figures: &str) -> String {
        match self.power {
            0 => figures.to_owned(),
            power => format!("{figures}×10{}", round::raised(power)),
        }
    }
}

/// A quantity in the unit and manner that it asks for.
pub fn quantity(quantity: &Quantity, units: &Units) -> Printed {
    match quantity.style {
        Style::Fraction(denominator) => fraction::nearest(quantity, denominator),
        Style::FeetInches => fraction::feet_inches(quantity),
        Style::Step(decimals) if quantity.shows_no_doubt() => to_decimals(quantity, decimals),
        Style::Typed(decimals) if quantity.shows_no_doubt() => with_noughts(quantity, decimals),
        Style::Derived | Style::Chosen | Style::Step(_) | Style::Typed(_) => {
            in_unit(quantity, quantity.printed_unit(units))
        }
    }
}

/// The value alone, rounded by its doubt but told without it.
pub fn without_doubt(quantity: &Quantity, units: &Units) -> Printed {
    match quantity.style {
        Style::Derived | Style::Chosen | Style::Step(_) | Style::Typed(_) if !quantity.shows_no_doubt() => {
            rounded_by_doubt(quantity, quantity.printed_unit(units))
        }
        _ => self::quantity(quantity, units).plain(),
    }
}

/// A quantity in `unit`, by two figures of its expanded uncertainty, or in four significant figures without one; money
/// with its currency's decimals. The worst case is rounded up, so that the ends that are certain stay inside; so is an
/// expanded uncertainty that is the worst case, as that of a single bound (JCGM 100:2008, 7.2.6: up where down would
/// matter).
pub fn in_unit(quantity: &Quantity, unit: Unit) -> Printed {
    let printed = rounded_by_doubt(quantity, unit);
    if quantity.shows_no_doubt() {
        return printed;
    }
    let scale = round::ten(-printed.power);
    let expanded = unit.interval_from_si(quantity.expanded()) * scale;
    let worst = unit.interval_from_si(quantity.doubt.worst()) * scale;
    let decimals = match places(&printed.number) {
        0 => round::decimals_for(expanded).min(0),
        decimals => decimals,
    };
    let shown = printed.number.parse().unwrap_or(f64::NAN);
    let moved = (unit.from_si(quantity.value) * scale - shown).abs();
    let outer = round::up(worst + moved, decimals);
    let inner = if expanded == worst { outer.clone() } else { rounded(expanded, decimals) };
    Printed { expanded: Some(inner), worst: Some(outer), ..printed }
}

/// The figures of a value that its doubt leaves.
fn rounded_by_doubt(quantity: &Quantity, unit: Unit) -> Printed {
    let value = unit.from_si(quantity.value);
    if quantity.shows_no_doubt() {
        return exact(value, unit);
    }
    let expanded = unit.interval_from_si(quantity.expanded());
    let power = round::power_for(value, expanded);
    let scale = round::ten(-power);
    let decimals = money_decimals(unit).unwrap_or_else(|| round::decimals_for(expanded * scale));
    plain(rounded(value * scale, decimals), power, unit)
}

/// A size of a table to its last figure.
fn to_decimals(quantity: &Quantity, decimals: u8) -> Printed {
    plain(rounded(quantity.unit.from_si(quantity.value), i32::from(decimals)), 0, quantity.unit)
}

/// Sizes in SI units to the last figure of their table, which gives so many decimals of `table`: in `unit`, all with the
/// decimals that the finest of them needs.
pub fn of_table<const N: usize>(sizes: [f64; N], table: Unit, decimals: u8, unit: Unit) -> [String; N] {
    let needed = sizes.map(|size| {
        let style = Style::Step(decimals);
        let size = Quantity { style, ..Quantity::exact(size, unit.dimension(), table) }.with_all_figures();
        match size.step_in(unit) {
            Style::Step(decimals) => i32::from(decimals),
            _ => i32::from(decimals),
        }
    });
    let needed = needed.into_iter().max().unwrap_or_default();
    sizes.map(|size| rounded(unit.from_si(size), needed))
}

/// A value that was typed with so many decimals: as many at least, and all that its four figures have.
fn with_noughts(quantity: &Quantity, decimals: u8) -> Printed {
    let shown = exact(quantity.unit.from_si(quantity.value), quantity.unit);
    let is_money = quantity.unit.money_decimals().is_some();
    if shown.power != 0 || is_money || places(&shown.number) >= i32::from(decimals) {
        return shown;
    }
    to_decimals(quantity, decimals)
}

fn plain(number: String, power: i32, unit: Unit) -> Printed {
    Printed { number, power, unit: unit.shown(), expanded: None, worst: None, remainder: None }
}

/// A value without doubt.
pub fn exact(value: f64, unit: Unit) -> Printed {
    if let Some(decimals) = money_decimals(unit) {
        return plain(rounded(value, decimals), 0, unit);
    }
    if unit.is_none() && round::is_whole(value) {
        return plain(rounded(value, 0), 0, unit);
    }
    let (number, power) = round::four_figures(value);
    let least = places(&number);
    match finest_places(unit).filter(|finest| power == 0 && *finest > least) {
        Some(finest) => plain(round::at_least(value, least, finest), 0, unit),
        None => plain(number, power, unit),
    }
}

/// The decimals of a length that show what a workshop measures: a micrometre, a tenth of a thou.
fn finest_places(unit: Unit) -> Option<i32> {
    let finest = match unit.system() {
        Some(System::Inch) => 2.54e-6,
        _ => 1e-6,
    };
    let places = libm::log10(unit.size() / finest) - ROUNDING;
    // A unit of length is no larger than a mile.
    #[allow(clippy::cast_possible_truncation)]
    (unit.dimension() == Dimension::LENGTH).then(|| places.ceil().max(0.0) as i32)
}

/// What a logarithm may be off in the machine.
const ROUNDING: f64 = 1e-9;

fn money_decimals(unit: Unit) -> Option<i32> {
    unit.money_decimals().map(i32::from)
}

/// Any value on one line.
pub fn value(value: &Value, units: &Units) -> String {
    match value {
        Value::Quantity(each) => quantity(each, units).text(),
        Value::Truth(true) => "true".to_owned(),
        Value::Truth(false) => "false".to_owned(),
        Value::Text(text) => text.to_string(),
        Value::List(values) => {
            let shown = values.iter().take(LONGEST_LIST).map(|each| self::value(each, units));
            let mut shown: Vec<String> = shown.collect();
            if values.len() > LONGEST_LIST {
                shown.push(format!("… ({} in all)", values.len()));
            }
            format!("[{}]", shown.join(", "))
        }
        Value::Record(record) => {
            let fields =
                record.fields.iter().map(|(name, each)| format!("{name} = {}", self::value(each, units)));
            fields.collect::<Vec<_>>().join("; ")
        }
    }
}

/// How many values of a list are written out.
const LONGEST_LIST: usize = 12;
