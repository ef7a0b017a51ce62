//! The unit of the other system that a person would write instead: `mm` for `in`, `kN` for `tonf`.
//!
//! Common practice, no source; the factors are those of the table of units.

use super::{System, Ton, Unit, Units};

/// A unit as it is typed, and what stands for it in the other system: the first in a product, alone the largest in which
/// the value is one or more.
type Pair = (&'static str, &'static [&'static str]);

const FROM_INCH: &[Pair] = &[
    ("in", &["mm"]),
    ("thou", &["mm"]),
    ("mil", &["mm"]),
    ("uin", &["um"]),
    ("ft", &["m"]),
    ("yd", &["m"]),
    ("fathom", &["m"]),
    ("chain", &["m"]),
    ("mi", &["km"]),
    ("acre", &["ha"]),
    ("lb", &["kg"]),
    ("stone", &["kg"]),
    ("slug", &["kg"]),
    ("oz", &["g"]),
    ("gr", &["g"]),
    ("troy oz", &["g"]),
    ("ton", &["t", "kg"]),
    ("short ton", &["t", "kg"]),
    ("long ton", &["t", "kg"]),
    ("cwt", &["kg"]),
    ("short cwt", &["kg"]),
    ("long cwt", &["kg"]),
    ("lbf", &["N", "kN"]),
    ("ozf", &["N"]),
    ("kip", &["kN"]),
    ("tonf", &["kN"]),
    ("short tonf", &["kN"]),
    ("long tonf", &["kN"]),
    ("psi", &["MPa", "kPa"]),
    ("ksi", &["MPa"]),
    ("psf", &["kPa"]),
    ("inHg", &["kPa"]),
    ("lbf/in^2", &["MPa", "kPa"]),
    ("lbf/ft^2", &["kPa"]),
    ("ft·lbf", &["N·m"]),
    ("lbf·ft", &["N·m"]),
    ("in·lbf", &["N·m"]),
    ("lbf·in", &["N·m"]),
    ("psi·ft/min", &["MPa·m/s"]),
    ("lb/in^3", &["kg/m^3"]),
    ("lb/ft^3", &["kg/m^3"]),
    ("hp", &["kW"]),
    ("Btu", &["kJ"]),
    ("mph", &["kph"]),
    ("US gal", &["L"]),
    ("imperial gal", &["L"]),
    ("US qt", &["L"]),
    ("imperial qt", &["L"]),
    ("US pt", &["L"]),
    ("imperial pt", &["L"]),
    ("US fl oz", &["mL"]),
    ("imperial fl oz", &["mL"]),
    ("degF", &["degC"]),
    ("degF_diff", &["K"]),
];

const FROM_METRIC: &[Pair] = &[
    ("mm", &["in"]),
    ("um", &["thou"]),
    ("cm", &["in"]),
    ("m", &["ft", "in"]),
    ("km", &["mi"]),
    ("ha", &["acre"]),
    ("g", &["oz"]),
    ("kg", &["lb"]),
    ("t", &["lb"]),
    ("ton", &["lb"]),
    ("metric ton", &["lb"]),
    ("N", &["lbf"]),
    ("kN", &["lbf"]),
    ("kgf", &["lbf"]),
    ("tf", &["lbf"]),
    ("tonf", &["lbf"]),
    ("metric tonf", &["lbf"]),
    ("Pa", &["psi"]),
    ("kPa", &["psi"]),
    ("MPa", &["psi"]),
    ("GPa", &["ksi"]),
    ("bar", &["psi"]),
    ("mbar", &["psi"]),
    ("N/mm^2", &["psi"]),
    ("kgf/cm^2", &["psi"]),
    ("N·m", &["ft·lbf"]),
    ("kN·m", &["ft·lbf"]),
    ("kgf·m", &["ft·lbf"]),
    ("N·mm", &["in·lbf"]),
    ("MPa·m/s", &["psi·ft/min"]),
    ("kg/m^3", &["lb/ft^3"]),
    ("g/cm^3", &["lb/in^3"]),
    ("W", &["hp"]),
    ("kW", &["hp"]),
    ("J", &["ft·lbf"]),
    ("kJ", &["ft·lbf"]),
    ("kph", &["mph"]),
    ("degC", &["degF"]),
    ("degC_diff", &["degF_diff"]),
    ("K", &["degF_diff"]),
];

/// Gallons and fluid ounces differ as the tons do: a dossier that counts in long tons has imperial ones.
const LITRES: [(&str, [&str; 2]); 2] =
    [("L", ["US gal", "imperial gal"]), ("mL", ["US fl oz", "imperial fl oz"])];

/// The unit of the other system for so much; `None` for what belongs to no system, or mixes them.
pub(super) fn counterpart(units: &Units, unit: Unit, value: f64) -> Option<Unit> {
    let system = unit.system()?;
    let choices = choices(units, system, unit);
    if choices.is_empty() {
        return unit.each_replaced(|single| match single.system() {
            None => Some(single),
            Some(of) if of == system => self::choices(units, system, single).first().copied(),
            Some(_) => None,
        });
    }
    let large_enough = |choice: &&Unit| choice.from_si(value).abs() >= 1.0;
    let by_size = |one: &&Unit, other: &&Unit| one.size().total_cmp(&other.size());
    choices.iter().filter(large_enough).max_by(by_size).or(choices.iter().min_by(by_size)).copied()
}

fn choices(units: &Units, system: System, unit: Unit) -> Vec<Unit> {
    let name = unit.to_string();
    if let Some((_, [american, imperial])) = LITRES.iter().find(|(litre, _)| *litre == name) {
        let gallon = if units.settings().ton == Ton::Long { imperial } else { american };
        return units.parse(gallon).into_iter().collect();
    }
    let pairs = if system == System::Inch { FROM_INCH } else { FROM_METRIC };
    let names = pairs.iter().find(|(each, _)| *each == name).map_or(&[][..], |(_, names)| names);
    names.iter().filter_map(|name| units.parse(name).ok()).collect()
}
