//! Units against an independent program's factors.

use asfound::calc::units::{Settings, Ton, Units};

/// Conversion factors printed by GNU units 2.22; the table's own names beside those of that program.
const NAMES: &[(&str, &str)] = &[
    ("brton force/in^2", "long tonf/in^2"),
    ("brton force", "long tonf"),
    ("ton force", "short tonf"),
    ("tonne force", "metric tonf"),
    ("brton", "long ton"),
    ("ton", "short ton"),
    ("cwt", "short cwt"),
    ("brhundredweight", "long cwt"),
    ("metrichorsepower", "metric hp"),
    ("USgallon", "US gal"),
    ("brgallon", "imperial gal"),
    ("quart", "US qt"),
    ("floz", "US fl oz"),
    ("gal/min", "US gal/min"),
    ("nauticalmile", "nmi"),
    ("troyounce", "troy oz"),
    ("gravity", "gn"),
    ("litre", "L"),
    ("hour", "h"),
    ("um/(m K)", "um/(m·K)"),
];

/// That program prints fifteen figures.
const FIFTEEN_FIGURES: f64 = 5e-15;

fn own_name(name: &str) -> &str {
    NAMES.iter().find(|(theirs, _)| *theirs == name).map_or(name, |(_, own)| own)
}

fn units() -> Units {
    Units::new(&Settings { ton: Ton::Short, ton_assumed: false, ..Settings::default() })
}

/// Source: `tests/reference/units_factors.csv`, printed by GNU units 2.22. Every row, to the last figure printed.
#[test]
fn every_factor_agrees_with_an_independent_program() {
    let table = include_str!("../reference/units_factors.csv");
    let rows = table.lines().filter(|line| !line.starts_with('#')).skip(1);
    let mut count = 0;
    for row in rows {
        let [from, to, factor] = row.split(',').collect::<Vec<_>>()[..] else { panic!("{row}") };
        let one = units().parse(own_name(from)).unwrap_or_else(|fault| panic!("{from}: {fault:?}"));
        let other = units().parse(own_name(to)).unwrap_or_else(|fault| panic!("{to}: {fault:?}"));
        assert_eq!(one.dimension(), other.dimension(), "{row}");
        let printed: f64 = factor.parse().expect("a number");
        let own = other.interval_from_si(one.interval_to_si(1.0));
        // Read by that program as its survey prefix `US` before a gallon; `quart` and `gal/min` give 231 in^3 (NIST SP 811).
        let own = if from == "USgallon" { own * (1200.0 / 3937.0 / 0.3048) } else { own };
        assert!((own / printed - 1.0).abs() <= FIFTEEN_FIGURES, "{row}: {own}");
        count += 1;
    }
    assert_eq!(count, 74);
}

#[test]
fn names_plurals_and_suggestions() {
    let units = units();
    for name in [
        "days",
        "inches",
        "hours",
        "millimetres",
        "kilograms",
        "long tons",
        "feet",
        "µm",
        "μm",
        "degrees Celsius",
    ] {
        assert!(units.parse(name).is_ok(), "{name}");
    }
    assert_eq!(units.suggestion("inchs"), Some("inch"));
    assert_eq!(units.suggestion("RPM"), Some("rpm"));
    assert!(units.parse("mm2").expect_err("no unit").help.contains("mm^2"));
    assert!(units.parse("gallons").expect_err("no unit").help.contains("imperial gal"));
    assert!(units.parse("USD").expect_err("no unit").help.contains("EUR"));
}

#[test]
fn a_unit_prints_as_it_reads() {
    let units = units();
    for text in [
        "mm",
        "kg/m^3",
        "ft·lbf",
        "um/(m·K)",
        "1/degF",
        "long tonf/in^2",
        "EUR/h",
        "m^(1/2)",
        "N·m",
        "1/(s·K)",
    ] {
        let unit = units.parse(text).expect(text);
        assert_eq!(unit.to_string(), text);
        assert_eq!(units.parse(&unit.shown()).ok(), Some(unit), "{}", unit.shown());
    }
}
