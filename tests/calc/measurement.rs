//! Readings to results: statistics against published figures, uncertainty by the rules of the guide.

use std::collections::BTreeMap;

use asfound::calc::dimension::Dimension;
use asfound::calc::measure::{Feature, Instrument, Measured, Reading, Station, Surface, measure};
use asfound::calc::one::{Report, Session, evaluate_line};
use asfound::calc::print::{self, systems};
use asfound::calc::uncertainty::Sources;
use asfound::calc::units::{Settings, Unit, Units};
use asfound::calc::value::{Quantity, Value};
use serde::Deserialize;

fn plain(values: &[f64], repeats: bool) -> Feature {
    let readings =
        values.iter().map(|value| Reading { value: *value, step: 0.0, column: String::new() }).collect();
    Feature {
        name: "readings".to_owned(),
        stations: vec![Station { place: "here".to_owned(), position: None, readings }],
        repeats,
        diameters: !repeats,
        instrument: None,
        nominal: None,
        limits: None,
        surface: Surface::Outside,
        unit: Unit::NONE,
    }
}

fn field<'a>(measured: &'a Measured, name: &str) -> &'a Quantity {
    let found = measured.fields.iter().find(|(each, _)| each == name).unwrap_or_else(|| panic!("no {name}"));
    found.1.quantity().expect("a quantity")
}

#[derive(Deserialize)]
struct Examples {
    examples: Vec<Example>,
}

#[derive(Deserialize)]
struct Example {
    id: String,
    #[serde(default)]
    inputs: BTreeMap<String, serde_yaml::Value>,
    #[serde(default)]
    expected: BTreeMap<String, Expected>,
}

#[derive(Deserialize)]
struct Expected {
    value: serde_yaml::Value,
    rtol: f64,
}

fn example(id: &str) -> Example {
    let all: Examples =
        serde_yaml::from_str(include_str!("../reference/worked_examples.yaml")).expect("the examples");
    all.examples.into_iter().find(|example| example.id == id).expect("the example")
}

impl Example {
    fn list(&self, name: &str) -> Vec<f64> {
        let list = self.inputs[name].as_sequence().expect("a list");
        list.iter().map(|value| value.as_f64().expect("a number")).collect()
    }

    #[track_caller]
    fn expect(&self, name: &str, own: f64) {
        let expected = &self.expected[name];
        let value = expected.value.as_f64().expect("a number");
        assert!((own / value - 1.0).abs() <= expected.rtol, "{} {name}: {own} for {value}", self.id);
    }

    /// Lines worked out, the last of them in its unit.
    #[track_caller]
    fn line(&self, name: &str, lines: &str) {
        let (units, mut session) = (Units::new(&Settings::default()), Session::new(&[]));
        let mut last = f64::NAN;
        for line in lines.split("; ") {
            let answer =
                evaluate_line(line, &units, &mut session).unwrap_or_else(|fault| panic!("{line}: {fault:?}"));
            if let Report::Quantity { value, .. } = Report::of(&answer.outcome, &units) {
                last = value;
            }
        }
        self.expect(name, last);
    }
}

fn squared(value: f64) -> f64 {
    value * value
}

/// Source: JCGM 100:2008 (GUM), 4.4.3 and table 1, twenty temperatures (`worked_examples.yaml`, ME-01).
#[test]
fn twenty_readings_of_the_guide() {
    let example = example("ME-01");
    let measured = measure(&plain(&example.list("readings_degC"), true), &mut Sources::new());
    example.expect("mean", measured.statistics.mean);
    example.expect("s", measured.statistics.sd.expect("a deviation"));
    let mean = field(&measured, "mean");
    example.expect("u_mean", mean.uncertainty.standard());
    assert_eq!(mean.uncertainty.degrees_of_freedom(), 19.0);
    assert!((mean.uncertainty.worst() - 3.0 * mean.uncertainty.standard()).abs() < 1e-12);
}

/// Source: A. K. Sawhney and P. Sawhney, Mechanical Measurements and Instrumentation, example 3.22
/// (`worked_examples.yaml`, ME-12).
#[test]
fn ten_readings_of_a_textbook() {
    let example = example("ME-12");
    let measured = measure(&plain(&example.list("readings"), true), &mut Sources::new());
    let sd = measured.statistics.sd.expect("a deviation");
    example.expect("mean", measured.statistics.mean);
    example.expect("s", sd);
    example.expect("range", measured.statistics.spread);
    example.expect("sigma_n", sd * 0.9_f64.sqrt());
    example.expect("probable_error", 0.6745 * sd);
}

/// Shape is no scatter: ISO 5725-2:2019, 7.4.5, the repeatability variance is the mean of the variances of each level,
/// weighted with their degrees of freedom. Here 0.02 with one and 0.04 with two: sqrt((0.02 + 2 * 0.04) / 3).
#[test]
fn the_deviation_of_repeats_is_pooled_over_the_places() {
    let mut feature = plain(&[10.0, 10.2], true);
    let mut other = feature.stations[0].clone();
    other.readings = [20.0, 20.2, 20.4].map(|value| Reading { value, ..other.readings[0].clone() }).to_vec();
    let mut alone = other.clone();
    alone.readings.truncate(1);
    feature.stations.extend([other, alone]);
    let sd = measure(&feature, &mut Sources::new()).statistics.sd.expect("a deviation");
    assert!((sd - (0.1_f64 / 3.0).sqrt()).abs() < 1e-12, "{sd}");
    feature.stations.truncate(1);
    feature.stations[0].readings.truncate(1);
    assert_eq!(
        measure(&feature, &mut Sources::new()).statistics.sd,
        None,
        "of one reading each there is none"
    );
}

/// Sources: `worked_examples.yaml`, ME-07 (three-wire sheet), ME-08 (ISO 724 with the three-wire relation), ME-09
/// (two-ball method), ME-10 (J. Rose, Modern Machine-Shop Practice).
#[test]
fn measuring_formulas_as_calculation_lines() {
    let wire = example("ME-07");
    wire.line("best_wire", "n = 14 1/in; 0.57735 / n to in");
    wire.line("M", "D = 0.4375 in; W = 0.045 in; n = 14 1/in; D + 3 * W - 1.5155 / n to in");
    let metric = example("ME-08");
    metric.line("best_wire", "P = 1.5 mm; P / (2 * cos(30 deg))");
    metric.line("M", "d2 = 9.026 mm; P = 1.5 mm; W = P / (2 * cos(30 deg)); d2 + 3 * W - 0.866025 * P to mm");
    let balls = example("ME-09");
    let slope =
        "r1 = 4 mm; r2 = 6 mm; h1 = 25 mm; h2 = 15 mm; half = asin((r2 - r1) / ((h1 - h2) - (r2 - r1)))";
    balls.line("half", slope);
    balls.line("full", &format!("{slope}; 2 * half"));
    example("ME-10").line("offset", "taper = 1 in / 1 ft; L = 3 ft; taper * L / 2 to in");
}

/// Source: NIST Statistical Reference Datasets, univariate (`nist_strd_univariate.csv` says what is from memory).
#[test]
fn certified_means_and_deviations() {
    let table = include_str!("../reference/nist_strd_univariate.csv");
    let mut sets = 0;
    for row in table.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let [name, mean, sd, data] = row.split(',').collect::<Vec<_>>()[..] else { panic!("{row}") };
        let data: Vec<f64> = data.split(' ').map(|each| each.parse().expect("a number")).collect();
        let statistics = measure(&plain(&data, true), &mut Sources::new()).statistics;
        let (mean, sd): (f64, f64) = (mean.parse().expect("a mean"), sd.parse().expect("a deviation"));
        assert!((statistics.mean / mean - 1.0).abs() < 1e-15, "{name}: mean {}", statistics.mean);
        let own = statistics.sd.expect("a deviation");
        // The data of NumAcc4 are themselves only good to 1e-9 of their spread as binary numbers.
        let allowed = if name == "NumAcc4" { 1e-7 } else { 1e-8 };
        assert!((own / sd - 1.0).abs() < allowed, "{name}: deviation {own}");
        sets += 1;
    }
    assert_eq!(sets, 5);
}

fn journal() -> Feature {
    let inch = Units::new(&Settings::default()).named("in").expect("the inch");
    let station = |place: &str, position: f64, values: [f64; 2]| Station {
        place: place.to_owned(),
        position: Some(inch.to_si(position)),
        readings: values
            .iter()
            .zip(["0°", "90°"])
            .map(|(value, column)| Reading {
                value: inch.to_si(*value),
                step: inch.to_si(0.0001),
                column: column.to_owned(),
            })
            .collect(),
    };
    Feature {
        name: "post-journal".to_owned(),
        stations: vec![
            station("top", 0.5, [2.7480, 2.7478]),
            station("middle", 2.0, [2.7465, 2.7470]),
            station("foot", 3.5, [2.7484, 2.7482]),
        ],
        repeats: false,
        diameters: true,
        instrument: Some(Instrument {
            key: "mic-2-3".to_owned(),
            within: Some(inch.to_si(0.0002)),
            resolution: Some(inch.to_si(0.0001)),
        }),
        nominal: Some(inch.to_si(2.75)),
        limits: Some((inch.to_si(2.7475), inch.to_si(2.7495))),
        surface: Surface::Outside,
        unit: inch,
    }
}

#[track_caller]
fn inches(quantity: &Quantity, value: f64, worst: f64) {
    assert!((quantity.value / 0.0254 - value).abs() < 1e-9, "{} in", quantity.value / 0.0254);
    assert!(
        (quantity.uncertainty.worst() / 0.0254 - worst).abs() < 1e-9,
        "± {} in",
        quantity.uncertainty.worst() / 0.0254
    );
}

/// The rules of the calculation guide: the instrument's error cancels in differences, roundings add up.
#[test]
fn what_a_worn_journal_says() {
    let measured = measure(&journal(), &mut Sources::new());
    inches(field(&measured, "min"), 2.7465, 0.00025);
    inches(field(&measured, "max"), 2.7484, 0.00025);
    inches(field(&measured, "mean"), (2.7480 + 2.7478 + 2.7465 + 2.7470 + 2.7484 + 2.7482) / 6.0, 0.00025);
    inches(field(&measured, "spread"), 0.0019, 0.0001);
    inches(field(&measured, "out_of_round"), 0.0005, 0.0001);
    inches(field(&measured, "taper"), 2.7483 - 2.74675, 0.0001);
    inches(field(&measured, "wear"), 0.0035, 0.00025);
    inches(field(&measured, "beyond"), 0.0010, 0.00025);
    let slope = field(&measured, "slope");
    assert_eq!(slope.dimension, Dimension::NONE);
    assert!((slope.value - (2.7483 - 2.7479) / 3.0).abs() < 1e-12, "{}", slope.value);
    assert!(measured.fields.iter().all(|(name, _)| name != "value"));
    let Some((_, Value::List(readings))) = measured.fields.last() else { panic!("no readings") };
    assert_eq!(readings.len(), 6);
    assert_eq!(measured.statistics.stations[1].place, "middle");
}

#[test]
fn repeats_are_scatter_and_places_are_shape() {
    let mut feature = journal();
    feature.repeats = true;
    let mut sources = Sources::new();
    let measured = measure(&feature, &mut sources);
    assert!(measured.fields.iter().all(|(name, _)| name != "out_of_round"));
    let mean = field(&measured, "mean");
    // Each station's own s/√n with one degree of freedom, joined with a third each.
    let scatter: Vec<_> = mean.uncertainty.terms().iter().filter(|term| !term.is_bound()).collect();
    assert_eq!(scatter.len(), 3);
    let expected: f64 = [0.0002, 0.0005, 0.0002].iter().map(|width| squared(width / 2.0 / 3.0)).sum();
    let own: f64 = scatter.iter().map(|term| squared(term.standard() / 0.0254)).sum();
    assert!((own / expected - 1.0).abs() < 1e-9, "{own} for {expected}");
    assert!(scatter.iter().all(|term| term.degrees_of_freedom() == Some(1)));
}

#[test]
fn out_of_round_is_of_diameters_only() {
    let feature = Feature { diameters: false, ..journal() };
    let measured = measure(&feature, &mut Sources::new());
    assert!(measured.fields.iter().all(|(name, _)| name != "out_of_round"));
    assert_eq!(measured.statistics.out_of_round, None);
}

#[test]
fn one_instrument_is_one_source_in_every_note() {
    let mut sources = Sources::new();
    let (one, other) = (measure(&journal(), &mut sources), measure(&journal(), &mut sources));
    let shared = |measured: &Measured| field(measured, "max").uncertainty.terms()[0].source;
    let both: Vec<_> = field(&one, "max")
        .uncertainty
        .terms()
        .iter()
        .filter(|term| field(&other, "max").uncertainty.terms().iter().any(|each| each.source == term.source))
        .collect();
    assert_eq!(both.len(), 1, "{:?} {:?}", shared(&one), shared(&other));
    assert!((both[0].worst() / 0.0254 - 0.0002).abs() < 1e-12);
}

#[test]
fn a_bore_wears_larger_and_a_limit_that_is_held_gives_nothing() {
    let feature = Feature { surface: Surface::Inside, limits: Some((0.0697, 0.06985)), ..journal() };
    let measured = measure(&feature, &mut Sources::new());
    inches(field(&measured, "wear"), 2.7484 - 2.75, 0.00025);
    let beyond = field(&measured, "beyond");
    assert_eq!((beyond.value, beyond.uncertainty.is_none()), (0.0, true));
}

/// The limit is 2.7475 in: the least reading with its bounds of 0.00025 in is above it, reaches past it, or is past it.
#[test]
fn what_is_beyond_a_limit_has_its_bounds() {
    let units = Units::new(&Settings::default());
    for (least, wanted) in [
        (2.7478, "0 in"),
        (2.7476, "0.00000 in, at worst + 0.00015 in / - 0.00000 in"),
        (2.7474, "0.0001 in, at worst + 0.0003 in / - 0.0001 in"),
        (2.7465, "0.0010 in ± 0.0003 in"),
    ] {
        let mut feature = journal();
        for reading in feature.stations.iter_mut().flat_map(|station| &mut station.readings) {
            reading.value = reading.value.max(0.0254 * 2.7480);
        }
        feature.stations[1].readings[0].value = 0.0254 * least;
        let measured = measure(&feature, &mut Sources::new());
        assert_eq!(print::quantity(field(&measured, "beyond"), &units).text(), wanted, "{least}");
    }
}

#[test]
fn one_reading_alone_has_a_value_and_no_spread() {
    let mut feature = journal();
    feature.stations.truncate(1);
    feature.stations[0].readings.truncate(1);
    feature.instrument = None;
    let measured = measure(&feature, &mut Sources::new());
    inches(field(&measured, "value"), 2.7480, 0.00005);
    for absent in ["spread", "sd", "taper", "slope", "out_of_round"] {
        assert!(measured.fields.iter().all(|(name, _)| name != absent), "{absent}");
    }
    feature.stations.clear();
    assert!(measure(&feature, &mut Sources::new()).fields.iter().all(|(name, _)| name != "min"));
}

/// In inches to the tenth of a thou: three repeats have an uncertainty of 0.000033 in at 95 %, which nobody can read.
#[test]
fn readings_print_no_finer_than_they_were_read() {
    let units = Units::new(&Settings::default());
    let inch = units.parse("in").expect("a unit");
    let reading = |value: f64| Reading {
        value: inch.to_si(value),
        step: inch.interval_to_si(0.0001),
        column: String::new(),
    };
    let of = |values: &[f64]| {
        let station = Station {
            place: "here".to_owned(),
            position: None,
            readings: values.iter().map(|value| reading(*value)).collect(),
        };
        Feature { stations: vec![station], nominal: Some(inch.to_si(0.0225)), unit: inch, ..plain(&[], true) }
    };
    let mut sources = Sources::new();
    let alike = measure(&of(&[0.0223; 3]), &mut sources);
    let printed = |quantity: &Quantity| print::quantity(quantity, &units).text();
    assert_eq!(printed(field(&alike, "mean")), "0.0223 in ± 0.0001 in");
    assert_eq!(printed(field(&alike, "wear")), "0.0002 in ± 0.0001 in");
    let other = measure(&of(&[0.0221, 0.0221, 0.0222]), &mut sources);
    let change = alike.change("mean", &other).expect("both have a mean");
    assert_eq!(printed(&change).split(',').next(), Some("0.0002 in ± 0.0002 in"));
    let in_mm = systems::other(field(&alike, "mean"), &units).expect("a length");
    assert_eq!(in_mm.text(), "0.566 mm ± 0.002 mm");
}

/// A rule to 1/64 in tells 2.078 in from 2.063 in.
#[test]
fn a_rule_in_fractions_has_decimals_enough() {
    let units = Units::new(&Settings::default());
    let inch = units.parse("in").expect("a unit");
    let readings = vec![Reading {
        value: inch.to_si(2.0 + 5.0 / 64.0),
        step: inch.interval_to_si(1.0 / 64.0),
        column: String::new(),
    }];
    let station = Station { place: "here".to_owned(), position: None, readings };
    let rule =
        measure(&Feature { stations: vec![station], unit: inch, ..plain(&[], true) }, &mut Sources::new());
    assert_eq!(print::quantity(field(&rule, "value"), &units).text(), "2.078 in ± 0.008 in");
}
