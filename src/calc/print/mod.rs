//! Values in figures: rounded by their uncertainty, never cut; what is certain of them is never rounded away. Readings
//! and what is added up from them end with the last figure that was read.

mod fraction;
mod margin;
mod round;
pub mod systems;
mod words;

use super::dimension::Dimension;
use super::superscript;
use super::units::{System, Unit, Units};
use super::value::{Quantity, Style, Value};
pub use margin::{Apart, apart, to_reach};
pub use round::{Way, decimals_for, places, rounded, rounded_up};
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
    /// The expanded uncertainty, in the same unit and power of ten; none where there is only a worst case.
    pub expanded: Option<String>,
    /// The worst case, in the same unit and power of ten; about the printed number it reaches the true ends.
    pub worst: Option<Worst>,
    /// What a nearest fraction leaves over, with its unit: `+ 0.0031 in`.
    pub remainder: Option<String>,
}

/// A worst case in figures.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Worst {
    /// As far to both sides.
    Even(String),
    /// How far up, and how far down.
    Uneven(String, String),
    /// Over part of the bounds there is no value.
    Unknown,
}

impl Worst {
    /// `± 0.0015`, `+ 21 / - 19` or `not known`, each figure as `written`.
    pub fn text(&self, written: impl Fn(&str) -> String) -> String {
        match self {
            Self::Even(figure) => format!("± {}", written(figure)),
            Self::Uneven(up, down) => format!("+ {} / - {}", written(up), written(down)),
            Self::Unknown => "not known".to_owned(),
        }
    }
}

/// `known to ± 0.0012 in`: the one wording of an uncertainty in a sentence.
pub fn known_to(uncertainty: &str) -> String {
    format!("known to ± {uncertainty}")
}

/// What knowing a value better has to come to: `knowing it to ± 0.0005 in would settle it`.
pub fn would_settle(uncertainty: &str) -> String {
    format!("knowing it to ± {uncertainty} would settle it")
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
        let with_unit = |figures: &str| self.with_unit(self.figures(figures));
        let expanded = self.expanded.as_ref().map(|expanded| format!(" ± {}", with_unit(expanded)));
        let worst = self.further_worst().map(|worst| format!(", at worst {}", worst.text(with_unit)));
        self.value() + &expanded.unwrap_or_default() + &worst.unwrap_or_default()
    }

    /// The worst case, if it says more than the expanded uncertainty.
    pub fn further_worst(&self) -> Option<&Worst> {
        self.worst.as_ref().filter(|worst| match worst {
            Worst::Even(figure) => self.expanded.as_ref() != Some(figure),
            _ => true,
        })
    }

    /// The value with its expanded uncertainty, or with its worst case where that is all: `2.0035 in ± 0.0012 in`.
    pub fn with_expanded(&self) -> String {
        match self.uncertainty() {
            Some(_) if self.expanded.is_none() => self.text(),
            _ => Self { worst: None, ..self.clone() }.text(),
        }
    }

    /// The expanded uncertainty with its unit, `0.0012 in`; the worst case where that is all.
    pub fn uncertainty(&self) -> Option<String> {
        let figure = match (&self.expanded, &self.worst) {
            (Some(figure), _) | (None, Some(Worst::Even(figure))) => figure,
            (None, Some(Worst::Uneven(up, down))) => {
                let size = |figure: &str| figure.parse::<f64>().unwrap_or_default();
                if size(up) < size(down) { down } else { up }
            }
            _ => return None,
        };
        Some(self.with_unit(self.figures(figure)))
    }

    /// The number without its unit, with its power of ten: `0.6×10⁷`.
    pub fn figure(&self) -> String {
        self.figures(&self.number)
    }

    /// The expanded uncertainty without its unit, with its power of ten.
    pub fn expanded_figure(&self) -> Option<String> {
        self.expanded.as_deref().map(|expanded| self.figures(expanded))
    }

    /// The uncertainty without its unit, as it stands behind the figure: `± 0.0012`; the ends of the worst case, `+ 21 / - 19`,
    /// where these are all. Each figure has the power of ten.
    pub fn shown_uncertainty(&self) -> Option<String> {
        match (self.expanded_figure(), &self.worst) {
            (Some(expanded), _) => Some(format!("± {expanded}")),
            (None, Some(Worst::Unknown)) => Some("(how far off is not known)".to_owned()),
            (None, Some(worst)) => Some(worst.text(|figure| self.figures(figure))),
            (None, None) => None,
        }
    }

    /// How well it is known, in words that nobody takes for a tolerance: `known to ± 0.0012 in`; the worst case where
    /// that is all. For sentences, and wherever sizes stand near.
    pub fn known_to(&self) -> Option<String> {
        let with_unit = |figures: &str| self.with_unit(self.figures(figures));
        match (&self.expanded, &self.worst) {
            (Some(expanded), _) => Some(known_to(&with_unit(expanded))),
            (None, Some(Worst::Unknown)) => Some("how far off is not known".to_owned()),
            (None, Some(worst)) => Some(format!("known to {}", worst.text(with_unit))),
            (None, None) => None,
        }
    }

    /// The worst case without its unit, where it says more than [`Printed::shown_uncertainty`].
    pub fn shown_worst(&self) -> Option<String> {
        self.worst_beyond().filter(|_| self.expanded.is_some())
    }

    /// The worst case without its unit, where it says more than the expanded uncertainty.
    pub fn worst_beyond(&self) -> Option<String> {
        self.further_worst().map(|worst| worst.text(|figure| self.figures(figure)))
    }

    /// The value alone, without its uncertainty.
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
            power => format!("{figures}×10{}", superscript::print(power)),
        }
    }
}

/// A quantity in the unit and manner that it asks for.
pub fn quantity(quantity: &Quantity, units: &Units) -> Printed {
    match quantity.style {
        Style::Fraction(denominator) => {
            fraction::nearest(quantity, denominator).unwrap_or_else(|| in_unit(quantity, quantity.unit))
        }
        Style::FeetInches => fraction::feet_inches(quantity),
        Style::Step(decimals) if quantity.shows_no_uncertainty() => to_decimals(quantity, decimals),
        Style::Typed(decimals) if quantity.shows_no_uncertainty() => with_zeros(quantity, decimals),
        Style::Derived | Style::Chosen | Style::Step(_) | Style::Typed(_) | Style::Read(_) => {
            in_unit(quantity, quantity.printed_unit(units))
        }
    }
}

/// The value alone, rounded by its uncertainty but printed without it.
pub fn without_uncertainty(quantity: &Quantity, units: &Units) -> Printed {
    match quantity.style {
        Style::Derived | Style::Chosen | Style::Step(_) | Style::Typed(_) | Style::Read(_)
            if !quantity.shows_no_uncertainty() =>
        {
            rounded_by_uncertainty(quantity, quantity.printed_unit(units))
        }
        _ => self::quantity(quantity, units).plain(),
    }
}

/// A quantity in `unit`, by two figures of its expanded uncertainty, or in four significant figures without one; money
/// with its currency's decimals. Expanded uncertainty and worst case are rounded up, by how far the value itself was
/// rounded too, so that from the printed value they reach the true ends (JCGM 100:2008, 7.2.6: up where down would
/// matter); they have fewer than two figures where the readings they come from have no more decimals.
pub fn in_unit(quantity: &Quantity, unit: Unit) -> Printed {
    let printed = rounded_by_uncertainty(quantity, unit);
    if quantity.shows_no_uncertainty() {
        return printed;
    }
    let scale = round::ten(-printed.power);
    let expanded = unit.interval_from_si(quantity.expanded()) * scale;
    let decimals = match places(&printed.number) {
        0 => round::decimals_for(expanded).min(0),
        decimals => decimals,
    };
    let shown = printed.number.parse().unwrap_or(f64::NAN);
    let moved = quantity.shown_in(unit) * scale - shown;
    let (expanded, worst) = uncertainties(quantity, unit, scale, decimals, moved);
    Printed { expanded, worst, ..printed }
}

/// Expanded uncertainty and worst case, both times `scale` in `unit`, about a figure that is `moved` below the value:
/// from that figure they reach as far as from the value itself.
fn uncertainties(
    quantity: &Quantity,
    unit: Unit,
    scale: f64,
    decimals: i32,
    moved: f64,
) -> (Option<String>, Option<Worst>) {
    if quantity.uncertainty.is_open() {
        return (None, Some(Worst::Unknown));
    }
    let up = |size: f64| round::to(size.max(0.0), decimals, Way::Up);
    let size = |value: f64| unit.interval_from_si(value) * scale;
    let span = quantity.uncertainty.span();
    let ends = [size(span.high), size(-span.low)];
    let even = ends.map(|end| up(end + moved.abs()));
    let worst = match &even {
        [above, below] if above == below => Worst::Even(above.clone()),
        _ => Worst::Uneven(up(ends[0] + moved), up(ends[1] - moved)),
    };
    let expanded = up(size(quantity.expanded()) + moved.abs());
    let is_told = !quantity.uncertainty.is_curved();
    (is_told.then(|| worst.limits(expanded)).flatten(), Some(worst))
}

impl Worst {
    /// An expanded uncertainty no larger than this; none where it would reach past one end that is nearer than the other,
    /// and so say less than that end.
    fn limits(&self, expanded: String) -> Option<String> {
        let size = |figure: &str| figure.parse::<f64>().unwrap_or_default();
        match self {
            Self::Even(end) if size(end) < size(&expanded) => Some(end.clone()),
            Self::Uneven(up, down) if size(up).min(size(down)) < size(&expanded) => None,
            _ => Some(expanded),
        }
    }
}

/// The figures of a value that its uncertainty leaves.
fn rounded_by_uncertainty(quantity: &Quantity, unit: Unit) -> Printed {
    let value = quantity.shown_in(unit);
    if quantity.shows_no_uncertainty() {
        return exact(value, unit);
    }
    let expanded = unit.interval_from_si(quantity.expanded());
    let power = round::power_for(value, expanded);
    let scale = round::ten(-power);
    let of_uncertainty = || round::decimals_for(expanded * scale).min(most_decimals(quantity, unit, power));
    let decimals = money_decimals(unit).unwrap_or_else(of_uncertainty);
    plain(rounded(value * scale, decimals), power, unit)
}

/// The ends of a size, from the lower down to the upper up, so that nothing between them is left out; one figure where
/// they are the same.
pub fn ends((low, high): (f64, f64), unit: Unit) -> (Printed, Option<Printed>) {
    if high - low <= SAME * high.abs() {
        return (exact(high, unit), None);
    }
    let [low, high] = [(low, Way::Down), (high, Way::Up)].map(|(end, way)| exact_to(end, unit, way));
    (low, Some(high))
}

/// The ends of what is not known exactly, with no more figures than their distance bears: half of it has two, the lower
/// is rounded down and the upper up. 486.2 to 516.2 is 486 to 517.
pub fn known_ends((low, high): (f64, f64), unit: Unit) -> (Printed, Option<Printed>) {
    if high - low <= SAME * high.abs() {
        return ends((low, high), unit);
    }
    let place = |size: f64| libm::floor(libm::log10(size.abs()));
    // Four figures are the most that a size is printed with.
    let step = libm::pow(10.0, (place((high - low) / 2.0) - 1.0).max(place(high) - 3.0));
    // What the machine rounded is no reason for another step.
    let steps = |end: f64, way: fn(f64) -> f64| {
        let nearest = libm::round(end / step);
        if (end / step - nearest).abs() < 1e-6 { nearest } else { way(end / step) }
    };
    let [low, high] = [steps(low, libm::floor), steps(high, libm::ceil)];
    let exact = |steps: f64| exact(steps * step, unit);
    (exact(low), Some(exact(high)))
}

/// Ends that are no further apart, as a share, were the same before the machine rounded them.
const SAME: f64 = 1e-9;

/// The decimals that the readings in it have, in `unit` times a power of ten.
fn most_decimals(quantity: &Quantity, unit: Unit, power: i32) -> i32 {
    match quantity.step_in(unit) {
        Style::Read(decimals) => i32::from(decimals) + power,
        _ => i32::MAX,
    }
}

/// A size of a table to its last figure.
fn to_decimals(quantity: &Quantity, decimals: u8) -> Printed {
    plain(rounded(quantity.shown_in(quantity.unit), i32::from(decimals)), 0, quantity.unit)
}

/// Sizes in SI units to the last figure of their table, which gives so many decimals of `table`: in `unit`, all with the
/// decimals that the finest of them needs.
pub fn of_table<const N: usize>(sizes: [f64; N], table: Unit, decimals: u8, unit: Unit) -> [String; N] {
    let needed = places_of_table(sizes, table, decimals, unit);
    sizes.map(|size| rounded(unit.from_si(size), needed))
}

/// The decimals of `unit` that the finest of the sizes needs, as [`of_table`] prints them.
pub fn places_of_table<const N: usize>(sizes: [f64; N], table: Unit, decimals: u8, unit: Unit) -> i32 {
    let needed = sizes.map(|size| {
        let style = Style::Step(decimals);
        let size = Quantity { style, ..Quantity::exact(size, unit.dimension(), table) }.with_all_figures();
        match size.step_in(unit) {
            Style::Step(decimals) => i32::from(decimals),
            _ => i32::from(decimals),
        }
    });
    needed.into_iter().max().unwrap_or_default()
}

/// A value that was typed with so many decimals: as many at least, and all that its four figures have.
fn with_zeros(quantity: &Quantity, decimals: u8) -> Printed {
    let shown = exact(quantity.shown_in(quantity.unit), quantity.unit);
    let is_money = quantity.unit.money_decimals().is_some();
    if shown.power != 0 || is_money || places(&shown.number) >= i32::from(decimals) {
        return shown;
    }
    to_decimals(quantity, decimals)
}

fn plain(number: String, power: i32, unit: Unit) -> Printed {
    Printed { number, power, unit: unit.shown(), expanded: None, worst: None, remainder: None }
}

/// A value without uncertainty.
pub fn exact(value: f64, unit: Unit) -> Printed {
    exact_to(value, unit, Way::Nearest)
}

/// The same, rounded in one way or another.
pub fn exact_to(value: f64, unit: Unit, way: Way) -> Printed {
    if let Some(decimals) = money_decimals(unit) {
        return plain(round::to(value, decimals, way), 0, unit);
    }
    if unit.is_none() && round::is_whole(value) {
        return plain(rounded(value, 0), 0, unit);
    }
    let (number, power) = round::four_figures(value, way);
    let least = places(&number);
    match finest_places(unit).filter(|finest| power == 0 && *finest > least) {
        Some(finest) => plain(round::at_least(value, least, finest, way), 0, unit),
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
        Value::Either(all) => {
            let all: Vec<String> = all.iter().map(|each| self::value(each, units)).collect();
            format!("not settled: {}", all.join(" or "))
        }
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
