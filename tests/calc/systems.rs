//! Metric and inch side by side: both figures tell the same size, each to its own last figure.

use asfound::calc::literal::Literal;
use asfound::calc::print::{self, systems};
use asfound::calc::units::{Settings, System, Ton, Units};
use asfound::calc::value::Quantity;
use proptest::prelude::*;

fn units() -> Units {
    Units::new(&Settings { ton: Ton::Long, ton_assumed: false, system: System::Inch, ..Settings::default() })
}

fn other(typed: &str) -> String {
    let units = units();
    systems::other_literal(&Literal::parse(typed, &units).unwrap(), &units).unwrap_or_default()
}

/// Sizes by hand with 25.4 mm, 0.45359237 kg and 4.4482216 N exact or rounded (NIST SP 811:2008, B.8). How many figures
/// are kept is common practice, no source: at most two and a half of the last figure typed, three at least.
#[test]
fn a_size_reads_in_the_other_system_as_a_workshop_writes_it() {
    for (typed, expected) in [
        ("2 5/16 in", "58.7 mm"),
        ("0.0005 in", "0.0127 mm"),
        ("5 thou", "0.127 mm"),
        ("58.74 mm", "2.3126 in"),
        ("900 lb", "408 kg"),
        ("2.000 in", "50.80 mm"),
        ("2.0000 in", "50.800 mm"),
        ("10 1/2 in", "266.7 mm"),
        ("5 ft 3 1/2 in", "1612.9 mm"),
        ("11 ft", "3.35 m"),
        ("16 m", "52.5 ft"),
        ("2 tonf", "19.9 kN"),
        ("150 kN", "33700 lbf"),
        ("30 psi", "207 kPa"),
        ("1200 psi", "8.27 MPa"),
        ("68 degF", "20 °C"),
        ("-10 degC", "14 °F"),
        ("4.5 L", "0.990 imperial gal"),
        ("20 ft·lbf", "27.1 N·m"),
        ("1944 psi·ft/min", "0.06809 MPa·m/s"),
        ("12 mm^2", "0.0186 in²"),
        ("12 mm²", "0.0186 in²"),
        ("1.998 in .. 2.000 in", "50.749 to 50.800 mm"),
        ("2.000 in ± 0.001 in", "50.800 mm ± 0.025 mm"),
        ("25 mm +0.021/-0", "0.98425 in +0.00083/-0"),
        ("1450 lb ± 50 lb", "658 kg ± 23 kg"),
    ] {
        assert_eq!(other(typed), expected, "{typed}");
    }
}

#[test]
fn what_belongs_to_no_system_has_no_other() {
    for typed in ["3 h", "90 deg", "5", "120 EUR", "48 EUR/h", "20 %"] {
        assert_eq!(other(typed), "", "{typed}");
    }
}

/// A value of the engine that was typed is printed as it was typed, in its own system.
#[test]
fn noughts_and_fractions_that_were_typed_are_printed() {
    let units = units();
    let mut sources = asfound::calc::uncertainty::Sources::new();
    for (typed, own, other) in [
        ("2.000 in", "2.000 in", "50.80 mm"),
        ("0.0050 in", "0.0050 in", "0.127 mm"),
        ("2 5/16 in", "2 5/16 in", "58.738 mm"),
        ("58.74 mm", "58.74 mm", "2.3126 in"),
        ("2.54000 mm", "2.54000 mm", "0.1000000 in"),
        ("900 lb", "900 lb", "408.2 kg"),
        ("1.2345678 in", "1.2345678 in", "31.358022 mm"),
    ] {
        let value = Quantity::from_literal(&Literal::parse(typed, &units).unwrap(), "typed", &mut sources);
        assert_eq!(print::quantity(&value, &units).value(), own);
        assert_eq!(systems::other(&value, &units).unwrap().value(), other, "{typed}");
    }
}

/// A figure and half of its last place: what it may have been rounded from.
fn span(text: &str) -> (f64, f64) {
    let figures = text.split([' ', '°']).next().unwrap();
    let places = figures.split_once('.').map_or(0, |(_, places)| places.len());
    let trailing = if places == 0 { figures.len() - figures.trim_end_matches('0').len() } else { 0 };
    let last = libm::pow(10.0, trailing as f64 - places as f64);
    (figures.parse().unwrap(), last / 2.0)
}

proptest! {
    /// Both printed figures agree within what was rounded off, and the second shows hardly less than the first.
    #[test]
    fn both_figures_tell_the_same_size(digits in 1_u32..100_000_000, places in 0_u32..6, at in 0_usize..10) {
        let unit = ["in", "mm", "thou", "lb", "kg", "lbf", "kN", "psi", "MPa", "ft"][at];
        let units = units();
        let scale = 10_u64.pow(places);
        let typed = match usize::try_from(places).unwrap() {
            0 => format!("{digits} {unit}"),
            places => format!("{}.{:0places$} {unit}", u64::from(digits) / scale, u64::from(digits) % scale),
        };
        let literal = Literal::parse(&typed, &units).unwrap();
        let shown = systems::other_literal(&literal, &units).unwrap();
        let shown_unit = units.parse(shown.split_once(' ').unwrap().1).unwrap();
        let (value, half) = span(&shown);
        let exact = shown_unit.from_si(literal.nominal);
        // A tie may be broken either way: the exact figure itself is known to a few units in its last binary place.
        let slack = 4.0 * f64::EPSILON * exact.abs();
        prop_assert!((value - exact).abs() <= half + slack, "{typed} is {exact}, shown {shown}");
        let step = shown_unit.interval_from_si(literal.step);
        // The last figure shown is at most two and a half of the last typed, and half of it is lost at most.
        let lost = (value - exact).abs();
        prop_assert!(lost <= 1.25 * step + slack, "{typed} loses {lost} in {shown}");
    }

    /// A fraction is a size by its name, not one that is known to its last division only.
    #[test]
    fn a_fraction_is_met_to_a_tenth_of_a_millimetre(sixty_fourths in 1_u32..6400) {
        let units = units();
        let literal = Literal::parse(&format!("{sixty_fourths}/64 in"), &units).unwrap();
        let shown = systems::other_literal(&literal, &units).unwrap();
        let (value, _) = span(&shown);
        prop_assert!((value - literal.nominal * 1000.0).abs() <= 0.05 + 1e-9, "{sixty_fourths}/64 in: {shown}");
    }
}
