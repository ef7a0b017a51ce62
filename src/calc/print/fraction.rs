//! Workshop fractions: the nearest sixty-fourth with what remains, feet and inches.

use super::{Printed, Quantity, in_unit, places, round, rounded, uncertainties};

/// The nearest fraction with `denominator`, in lowest terms, and the remainder; `None` for what has too many parts, and
/// for what is no such fraction and doubtful: a remainder finer than the uncertainty would say nothing.
pub(super) fn nearest(quantity: &Quantity, denominator: u32) -> Option<Printed> {
    let value = quantity.shown_in(quantity.unit);
    let parts = (value * f64::from(denominator)).round();
    let rest = value - parts / f64::from(denominator);
    let is_none = rest.abs() <= 1e-9 / f64::from(denominator);
    if parts.abs() > LARGEST || !(is_none || quantity.shows_no_uncertainty()) {
        return None;
    }
    let plain = in_unit(quantity, quantity.unit);
    let remainder = (!is_none).then(|| remainder(rest, &plain));
    let number = mixed(parts, denominator);
    let fraction = Printed { number, power: 0, remainder, expanded: None, worst: None, ..plain };
    Some(fraction.with_uncertainty(quantity))
}

/// More parts than this are no workshop fraction.
const LARGEST: f64 = 1e9;

fn remainder(rest: f64, plain: &Printed) -> String {
    let decimals = round::decimals_for(rest.abs()).max(0);
    let sign = if rest < 0.0 { '-' } else { '+' };
    format!("{sign} {} {}", rounded(rest.abs(), decimals), plain.unit).trim_end().to_owned()
}

/// So many parts of a whole as a mixed number.
fn mixed(parts: f64, denominator: u32) -> String {
    // In range by `LARGEST`.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let size = parts.abs() as u64;
    let denominator = u64::from(denominator.max(1));
    let (whole, above) = (size / denominator, size % denominator);
    let shared = common_divisor(above, denominator);
    let sign = if parts < 0.0 { "-" } else { "" };
    match (whole, above / shared, denominator / shared) {
        (whole, 0, _) => format!("{sign}{whole}"),
        (0, above, below) => format!("{sign}{above}/{below}"),
        (whole, above, below) => format!("{sign}{whole} {above}/{below}"),
    }
}

fn common_divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a.max(1) } else { common_divisor(b, a % b) }
}

/// `5 ft 3.5 in`: rounded as inches, then parted.
pub(super) fn feet_inches(quantity: &Quantity) -> Printed {
    let inches = in_unit(quantity, quantity.unit);
    let Ok(value) = inches.number.parse::<f64>() else { return inches };
    if inches.power != 0 {
        return inches;
    }
    let feet = (value.abs() / 12.0).floor();
    let rest = rounded(value.abs() - feet * 12.0, places(&inches.number));
    let sign = if value < 0.0 { "-" } else { "" };
    let number = if feet == 0.0 { format!("{sign}{rest}") } else { format!("{sign}{feet} ft {rest}") };
    Printed { number, ..inches }
}

impl Printed {
    /// The uncertainty of a quantity shown as a fraction, in decimals of its unit.
    fn with_uncertainty(self, quantity: &Quantity) -> Self {
        if quantity.shows_no_uncertainty() {
            return self;
        }
        let decimals = round::decimals_for(quantity.unit.interval_from_si(quantity.expanded()));
        let (expanded, worst) = uncertainties(quantity, quantity.unit, 1.0, decimals, 0.0);
        Self { expanded, worst, ..self }
    }
}
