//! The units in which a person would write a result.

use std::sync::LazyLock;

use super::{Settings, System, Unit, Units};
use crate::calc::dimension::Dimension;

/// Of one dimension: the units that results print in, small to large, and others that are left as they are.
struct Custom {
    dimension: Dimension,
    metric: &'static [&'static str],
    inch: &'static [&'static str],
    also: &'static [&'static str],
}

static CUSTOMS: &[Custom] = &[
    custom(Dimension::LENGTH, &["mm"], &["in"], &[]),
    custom(Dimension::AREA, &["mm^2"], &["in^2"], &["cm^2", "m^2", "ft^2"]),
    custom(Dimension::VOLUME, &["mm^3"], &["in^3"], &["cm^3", "m^3", "ft^3"]),
    custom(Dimension::SECOND_MOMENT, &["mm^4"], &["in^4"], &["cm^4"]),
    custom(Dimension::MASS, &["g", "kg"], &["lb"], &[]),
    custom(Dimension::TIME, &["s"], &["s"], &[]),
    custom(
        Dimension::SPEED,
        &["m/s"],
        &["ft/s"],
        &["mm/s", "m/min", "ft/min", "in/min", "mm/min", "km/h", "in/s"],
    ),
    custom(Dimension::ACCELERATION, &["m/s^2"], &["ft/s^2"], &["mm/s^2", "in/s^2"]),
    custom(Dimension::RATE, &["1/s"], &["1/s"], &["1/min", "1/h"]),
    custom(Dimension::FORCE, &["N", "kN"], &["lbf"], &[]),
    custom(
        Dimension::MOMENT,
        &["N·m"],
        &["ft·lbf"],
        &[
            "N·mm", "kN·m", "m·N", "mm·N", "m·kN", "in·lbf", "lbf·in", "lbf·ft", "kip·ft", "kip·in", "kgf·m",
            "W·s",
        ],
    ),
    custom(Dimension::POWER, &["W", "kW"], &["hp"], &["ft·lbf/min", "ft·lbf/s", "N·m/s"]),
    custom(
        Dimension::STRESS,
        &["MPa"],
        &["psi"],
        &["N/mm^2", "N/m^2", "kN/m^2", "kgf/cm^2", "lbf/in^2", "lbf/ft^2"],
    ),
    custom(Dimension::STIFFNESS, &["N/mm"], &["lbf/in"], &["kN/m", "N/m", "lbf/ft", "kN/mm"]),
    custom(Dimension::DENSITY, &["kg/m^3"], &["lb/in^3"], &["g/cm^3", "lb/ft^3"]),
    custom(Dimension::VISCOSITY, &["mPa·s"], &["mPa·s"], &["Pa·s"]),
    custom(Dimension::PV, &["MPa·m/s"], &["psi·ft/min"], &["N/mm^2·m/s"]),
    custom(Dimension::TEMPERATURE, &["K"], &["degF_diff"], &[]),
    custom(Dimension::EXPANSION, &["1/K"], &["1/degF"], &["um/(m·K)", "1/degC"]),
    custom(Dimension::MONEY, &[], &[], &[]),
];

const fn custom(
    dimension: Dimension,
    metric: &'static [&'static str],
    inch: &'static [&'static str],
    also: &'static [&'static str],
) -> Custom {
    Custom { dimension, metric, inch, also }
}

/// The same with the units read.
struct Ready {
    dimension: Dimension,
    metric: Vec<Unit>,
    inch: Vec<Unit>,
    also: Vec<Unit>,
}

static READY: LazyLock<Vec<Ready>> = LazyLock::new(|| {
    let units = Units::new(&Settings::default());
    let read = |names: &[&str]| names.iter().filter_map(|name| units.parse(name).ok()).collect();
    CUSTOMS
        .iter()
        .map(|custom| Ready {
            dimension: custom.dimension,
            metric: read(custom.metric),
            inch: read(custom.inch),
            also: read(custom.also),
        })
        .collect()
});

/// Dimensions whose products of two units are left as they came about: `in/week`, `ft·in`.
const AS_BUILT: [Dimension; 3] = [Dimension::SPEED, Dimension::DENSITY, Dimension::ACCELERATION];

pub(super) fn choose(units: &Units, derived: Unit, dimension: Dimension, value: f64) -> Unit {
    if derived.is_single() && derived.dimension() == dimension {
        return derived;
    }
    let merged = derived.merged();
    if dimension == Dimension::MONEY {
        return units.money();
    }
    if dimension == Dimension::NONE {
        return if merged.count() == 1 && merged.has_angle() { merged } else { Unit::NONE };
    }
    let fits = merged.dimension() == dimension;
    let is_per_turn = merged.angle().numerator() < 0 || dimension == Dimension::RATE;
    if fits && merged.has_angle_alone() && is_per_turn {
        return merged;
    }
    let Some(ready) = READY.iter().find(|ready| ready.dimension == dimension) else {
        return if fits { merged } else { units_coherent(units, dimension) };
    };
    let is_written = merged.is_single()
        || [&ready.metric, &ready.inch, &ready.also].iter().any(|list| list.contains(&merged));
    if fits && (is_written || (AS_BUILT.contains(&dimension) && merged.is_plain_product())) {
        return merged;
    }
    let system = derived.system().unwrap_or(units.settings().system);
    of_system(units, system, dimension, value).unwrap_or(merged)
}

/// SI base units, and the dossier's money.
fn units_coherent(units: &Units, dimension: Dimension) -> Unit {
    let coherent = Unit::coherent(dimension);
    let money = dimension.exponents()[7];
    let money = if money.is_zero() { None } else { units.money().to_the(money) };
    money.and_then(|money| money.times(coherent)).unwrap_or(coherent)
}

/// The usual unit of one system: of several the largest in which the value is one or more.
pub(super) fn of_system(units: &Units, system: System, dimension: Dimension, value: f64) -> Option<Unit> {
    if dimension == Dimension::MONEY {
        return Some(units.money());
    }
    let ready = READY.iter().find(|ready| ready.dimension == dimension)?;
    let ladder = if system == System::Inch { &ready.inch } else { &ready.metric };
    let large_enough = |unit: &&Unit| unit.from_si(value.abs()) >= 1.0 || value == 0.0;
    ladder.iter().rev().find(large_enough).or(ladder.first()).copied()
}

pub(super) fn examples(dimension: Dimension, currency: &str) -> String {
    if dimension == Dimension::MONEY {
        return currency.to_owned();
    }
    let given: &[&str] = match dimension {
        Dimension::NONE => &["no unit", "%", "deg"],
        Dimension::LENGTH => &["mm", "m", "in", "ft"],
        Dimension::MASS => &["kg", "t", "lb", "ton"],
        Dimension::TIME => &["min", "h", "days", "weeks"],
        Dimension::FORCE => &["N", "kN", "lbf", "tonf"],
        Dimension::RATE => &["rpm", "1/s"],
        _ => &[],
    };
    if !given.is_empty() {
        return given.join(", ");
    }
    match CUSTOMS.iter().find(|custom| custom.dimension == dimension) {
        Some(custom) => [custom.metric, custom.inch].concat().join(", "),
        None => with_money(dimension, currency),
    }
}

/// `GBP/h`, `GBP/kg`: money's own unit beside those of the SI, time in hours.
fn with_money(dimension: Dimension, currency: &str) -> String {
    if dimension == Dimension::MONEY_RATE {
        return format!("{currency}/h");
    }
    let units = Units::new(&Settings { currency: currency.to_owned(), ..Settings::default() });
    units_coherent(&units, dimension).to_string()
}
