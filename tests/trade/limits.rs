//! Limits and fits against the printed tables.

use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::print;
use asfound::calc::units::{Settings, System, Units};
use asfound::trade::limits::advice::DUTIES;
use asfound::trade::limits::fit::{Fit, FitKind, resolve};
use asfound::trade::limits::iso286::{Class, Member, deviations};
use asfound::trade::limits::{FUNCTIONS, ansi_b41};
use asfound::trade::table::{Row, rows};
use proptest::prelude::*;

use super::calling::Calling;

const CASES: &str = include_str!("../reference/iso286_cases.csv");
const GRADES: &str = include_str!("../reference/iso286_it.csv");
const DEVIATIONS: &str = include_str!("../reference/iso286_deviations.csv");
const INCH: &str = include_str!("../reference/ansi_b41_fits.csv");

fn class(text: &str) -> Class {
    Class::parse(text).unwrap_or_else(|refusal| panic!("{text}: {refusal:?}"))
}

fn number(row: &Row, column: &str) -> f64 {
    row.number(column).unwrap_or_else(|| panic!("{column} of {row:?}"))
}

/// The limits of a class at a size, `None` where it is refused.
fn limits(text: &str, size: f64) -> Option<(f64, f64)> {
    deviations(class(text), size).ok().map(|each| (each.lower_um, each.upper_um))
}

#[track_caller]
fn same(got: f64, wanted: f64, of: &str) {
    assert!((got - wanted).abs() < 1e-9, "{of}: got {got}, wanted {wanted}");
}

/// ISO 286-1:2010, recomputed from two to six printed tables each (sources in the file's head).
#[test]
fn every_case_of_iso_286() {
    let (mut given, mut refused) = (0, 0);
    for row in rows(CASES) {
        let (name, size) = (row.text("designation"), number(&row, "nominal_mm"));
        let of = format!("{name} at {size}");
        if row.text("defined") == "no" {
            assert_eq!(limits(name, size), None, "{of} is not defined");
            refused += 1;
            continue;
        }
        let (lower, upper) = limits(name, size).unwrap_or_else(|| panic!("{of} is refused"));
        same(lower, number(&row, "lower_um"), &of);
        same(upper, number(&row, "upper_um"), &of);
        given += 1;
    }
    println!("ISO 286 cases: {given} given, {refused} refused");
    assert_eq!((given, refused), (311, 10), "the file's cases");
}

/// ISO 286-2:2010, tables of limit deviations, as wall charts print them: values from memory, not from the project's own
/// tables; each row a class, a size in mm and the two deviations in µm.
#[test]
fn limits_as_wall_charts_have_them() {
    let charts: &[(&str, f64, f64, f64)] = &[
        ("H7", 10.0, 0.0, 15.0),
        ("H7", 100.0, 0.0, 35.0),
        ("H8", 25.0, 0.0, 33.0),
        ("H9", 65.0, 0.0, 74.0),
        ("H11", 200.0, 0.0, 290.0),
        ("F8", 50.0, 25.0, 64.0),
        ("G7", 50.0, 9.0, 34.0),
        ("D10", 30.0, 65.0, 149.0),
        ("J7", 50.0, -11.0, 14.0),
        ("K7", 50.0, -18.0, 7.0),
        ("K6", 25.0, -11.0, 2.0),
        ("M7", 50.0, -25.0, 0.0),
        ("M6", 280.0, -41.0, -9.0),
        ("M7", 280.0, -52.0, 0.0),
        ("N7", 50.0, -33.0, -8.0),
        ("N9", 50.0, -62.0, 0.0),
        ("P7", 50.0, -42.0, -17.0),
        ("P9", 20.0, -74.0, -22.0),
        ("R7", 50.0, -50.0, -25.0),
        ("S7", 50.0, -59.0, -34.0),
        ("U7", 50.0, -86.0, -61.0),
        ("js6", 50.0, -8.0, 8.0),
        ("JS9", 50.0, -31.0, 31.0),
        ("a11", 50.0, -480.0, -320.0),
        ("b11", 50.0, -340.0, -180.0),
        ("c11", 50.0, -290.0, -130.0),
        ("d9", 50.0, -142.0, -80.0),
        ("e8", 50.0, -89.0, -50.0),
        ("f7", 80.0, -60.0, -30.0),
        ("g6", 120.0, -34.0, -12.0),
        ("h6", 400.0, -36.0, 0.0),
        ("j6", 30.0, -4.0, 9.0),
        ("k6", 100.0, 3.0, 25.0),
        ("m6", 40.0, 9.0, 25.0),
        ("n6", 100.0, 23.0, 45.0),
        ("p6", 60.0, 32.0, 51.0),
        ("r6", 70.0, 43.0, 62.0),
        ("s6", 90.0, 71.0, 93.0),
        ("t6", 30.0, 41.0, 54.0),
        ("u6", 30.0, 48.0, 61.0),
        ("x8", 20.0, 54.0, 87.0),
        ("z8", 30.0, 88.0, 121.0),
        ("zc8", 50.0, 325.0, 364.0),
        ("H7", 1000.0, 0.0, 90.0),
        ("f7", 1000.0, -176.0, -86.0),
        ("P7", 600.0, -148.0, -78.0),
    ];
    for (name, size, lower, upper) in charts {
        assert_eq!(limits(name, *size), Some((*lower, *upper)), "{name} at {size}");
    }
}

/// ISO 286-1:2010, Table 1: the width of js is the grade, at both ends of every range.
#[test]
fn every_grade_of_iso_286() {
    let mut count = 0;
    for row in rows(GRADES) {
        let name = format!("js{}", &row.text("grade")[2..]);
        let first = if number(&row, "over_mm") == 0.0 { 1.001 } else { number(&row, "over_mm") + 0.001 };
        for size in [first, number(&row, "upto_mm")] {
            let (lower, upper) = limits(&name, size).unwrap_or_else(|| panic!("{name} at {size}"));
            same(upper - lower, number(&row, "value_um"), &name);
        }
        count += 1;
    }
    println!("ISO 286 grades: {count} values");
    assert_eq!(count, 404);
}

/// ISO 286-1:2010, Tables 2 to 5: every fundamental deviation, at both ends of its range.
#[test]
fn every_deviation_of_iso_286() {
    let mut count = 0;
    for row in rows(DEVIATIONS).iter().filter(|row| row.text("kind") != "delta") {
        let first = if number(row, "over_mm") == 0.0 { 1.001 } else { number(row, "over_mm") + 0.001 };
        for size in [first, number(row, "upto_mm")] {
            for grade in grades_of(row.text("grades")) {
                deviation_holds(row, *grade, size);
            }
        }
        count += 1;
    }
    println!("ISO 286 deviations: {count} values");
    assert_eq!(count, 1672);
}

/// A lowest, a highest and where it matters a middle grade of those a row is for.
fn grades_of(grades: &str) -> &'static [i32] {
    match grades {
        "5" => &[5],
        "6" => &[6],
        "7" => &[7],
        "8" => &[8],
        "<=8" => &[3, 5, 8],
        ">8" => &[9, 18],
        "4-7" => &[4, 7],
        "<=3 or >=8" => &[1, 3, 8, 18],
        "all" => &[1, 11, 18],
        "all (add Delta for grade<=7)" => &[3, 7, 8, 18],
        other => panic!("grades {other}"),
    }
}

fn deviation_holds(row: &Row, grade: i32, size: f64) {
    let name = format!("{}{grade}", row.text("letter"));
    let special = row.text("letter") == "M" && grade == 6;
    let (lower, upper) = limits(&name, size).unwrap_or_else(|| panic!("{name} at {size}"));
    let value = number(row, "value_um") + if special { 0.0 } else { delta(row, grade, size) };
    let got = if row.text("ref").to_lowercase() == "ei" { lower } else { upper };
    same(got, value, &format!("{name} at {size}"));
}

/// Delta from the grades, not from its table: IT n less IT n-1, over 3 up to 500 mm.
fn delta(row: &Row, grade: i32, size: f64) -> f64 {
    let applies = match row.text("grades") {
        "<=8" => true,
        "all (add Delta for grade<=7)" => grade <= 7,
        _ => false,
    };
    if !applies || size <= 3.0 || size > 500.0 {
        return 0.0;
    }
    let width = |grade| limits(&format!("js{grade}"), size).map(|(lower, upper)| upper - lower);
    width(grade).zip(width(grade - 1)).map_or(f64::NAN, |(this, finer)| this - finer)
}

/// ANSI B4.1-1967: every printed clearance or interference column, from the limits of hole and shaft.
#[test]
fn every_printed_inch_clearance() {
    let mut count = 0;
    for row in rows(INCH) {
        let fit = Fit::parse(row.text("fit")).unwrap_or_else(|refusal| panic!("{refusal:?}"));
        let (over, upto) = (number(&row, "over_in"), number(&row, "upto_in"));
        for inches in [over + 0.001, f64::midpoint(over, upto), upto] {
            let resolved = resolve(fit, inches * 0.0254).unwrap_or_else(|refusal| panic!("{refusal:?}"));
            let clearance = resolved.clearance().expect("a pair");
            same(clearance.min, number(&row, "min_clear"), row.text("fit"));
            same(clearance.max, number(&row, "max_clear"), row.text("fit"));
        }
        count += 1;
    }
    println!("ANSI B4.1: {count} rows, {} clearances", 2 * count);
    assert_eq!(count, 492);
}

/// What the letters of ANSI B4.1-1967 promise: RC and LC clear, LN and FN interfere.
#[test]
fn inch_families_are_of_their_kind() {
    for row in rows(INCH) {
        let fit = Fit::parse(row.text("fit")).expect("a fit");
        let kind = resolve(fit, number(&row, "upto_in") * 0.0254)
            .expect("limits")
            .clearance()
            .expect("a pair")
            .kind();
        match &row.text("fit")[..2] {
            "RC" | "LC" => assert_eq!(kind, FitKind::Clearance, "{row:?}"),
            "LT" => assert_ne!(kind, FitKind::Interference, "{row:?}"),
            // LN1 and LN2 may just touch in the printed table.
            "LN" => assert!(kind != FitKind::Clearance, "{row:?}"),
            _ => assert_eq!(kind, FitKind::Interference, "{row:?}"),
        }
    }
}

/// ISO 286-1:2010, clause 4.3: what a class is not used for is refused, and its neighbours are named.
#[test]
fn refused_in_words() {
    let refusal = deviations(class("t6"), 20.0).expect_err("t6 begins at 24 mm");
    assert_eq!(refusal.message, "ISO 286 does not define t6 at 20 mm");
    assert_eq!(
        refusal.help,
        "t6 is given over 24 up to 3150 mm; the nearest classes given at 20 mm are s6 and u6."
    );
    let refusal = deviations(class("K9"), 50.0).expect_err("K above IT8 ends at 3 mm");
    assert_eq!(
        refusal.help,
        "K9 is given over 0 up to 3 mm and over 500 up to 3150 mm; the nearest classes given at 50 mm are J9 and M9."
            .replace("J9", "JS9")
    );
    for (text, size) in
        [("a9", 1.0), ("B9", 0.5), ("N9", 1.0), ("h14", 1.0), ("h01", 501.0), ("H7", 0.0), ("H7", -5.0)]
    {
        assert!(limits(text, size).is_none(), "{text} at {size}");
    }
    assert!(deviations(class("h7"), f64::NAN).is_err());
    assert!(
        limits("M2", 3.0).is_some() && limits("M2", 50.0).is_none(),
        "Delta is given from IT3 on, over 3 mm"
    );
}

#[test]
fn no_class_of_the_standard() {
    for text in [
        "", "H", "7", "H19", "H00", "H001", "h-1", "Q7", "i6", "Js7", "jS7", "Cd9", "hh7", "H 7", "é7", "l6",
        "O7", "W7",
    ] {
        assert!(Class::parse(text).is_err(), "`{text}`");
    }
    for text in ["H7", "js6", "JS6", "zc11", "ZC11", "h01", "H0", "cd9", " H7 "] {
        assert_eq!(class(text).to_string(), text.trim(), "`{text}`");
    }
}

#[test]
fn no_fit() {
    for (text, word) in [
        ("k6/H7", "before the hole"),
        ("H7/K6", "two classes of a hole"),
        ("h7/k6", "two classes of a shaft"),
        ("H7/", "no tolerance class"),
        ("RC10", "no fit of ANSI B4.1"),
        ("RC0", "no fit of ANSI B4.1"),
        ("FN6", "no fit of ANSI B4.1"),
    ] {
        let refusal = Fit::parse(text).expect_err(text);
        assert!(refusal.message.contains(word), "{text}: {}", refusal.message);
    }
    assert_eq!(Fit::parse("rc4").expect("a fit").to_string(), "RC4");
    assert_eq!(Fit::parse("LC 11").expect("a fit").to_string(), "LC11");
    assert_eq!(Fit::parse(" H7 / k6 ").expect("a fit").to_string(), "H7/k6");
    let fit = ansi_b41::InchFit::parse("RC4").expect("a fit");
    let refusal = ansi_b41::limits(fit, 20.0).expect_err("past the table");
    assert_eq!(refusal.help, "It gives RC4 over 0 up to 19.69 in.");
}

/// ISO 286-1:2010: 50 H7 is +25/0, 50 k6 is +18/+2 (row of `iso286_cases.csv`).
#[test]
fn fit_as_called() {
    let seat = Calling::of(FUNCTIONS, "fit").text("class", "H7/k6").number("at", 0.05).answer();
    same(seat.number("clearance_min") * 1e6, -18.0, "least");
    same(seat.number("clearance_max") * 1e6, 23.0, "greatest");
    same(seat.number("hole_max") * 1e6, 50_025.0, "hole");
    same(seat.number("shaft_min") * 1e6, 50_002.0, "shaft");
    assert_eq!(seat.text("kind"), "transition");
    let one = Calling::of(FUNCTIONS, "fit").text("class", "H7").number("at", 0.05).outcome();
    assert_eq!(one.expect_err("one member").parameter, Some("class"));
    let limits = Calling::of(FUNCTIONS, "tolerance_limits").text("class", "H7").number("at", 0.05).answer();
    same(limits.number("upper") * 1e6, 25.0, "H7");
    let both = Calling::of(FUNCTIONS, "tolerance_limits").text("class", "RC4").number("at", 0.05).outcome();
    assert_eq!(both.expect_err("two members").parameter, Some("class"));
}

/// A row from memory or disputed says so.
#[test]
fn doubtful_rows_say_so() {
    let call = |fit, inches: f64| {
        Calling::of(FUNCTIONS, "fit").text("class", fit).number("at", inches * 0.0254).answer()
    };
    assert!(call("LC8", 2.0).0.remarks[0].to_string().contains("from memory"));
    assert!(call("RC4", 11.0).0.remarks[0].to_string().contains("differ"));
    assert!(call("RC4", 2.0).0.remarks.is_empty());
}

#[test]
fn judged_against_the_limits() {
    let journal = |smallest, largest| {
        Calling::of(FUNCTIONS, "judge_journal")
            .text("class", "H8/f7")
            .number("at", 0.070)
            .number("smallest", smallest)
            .number("largest", largest)
            .answer()
    };
    // 70 f7 is -30/-60 micrometres.
    let worn = journal(0.069_912, 0.069_955);
    same(worn.number("past_worn") * 1e6, 28.0, "past");
    same(worn.number("left"), 0.0, "left");
    assert_eq!(worn.text("standing"), "worn past its limit by its value");
    let sound = journal(0.069_950, 0.069_970);
    same(sound.number("left") * 1e6, 10.0, "left");
    assert_eq!(sound.text("standing"), "within its limits by its value");
    assert_eq!(journal(0.069_940, 0.069_970).text("standing"), "within its limits by its value");
    let full = journal(0.069_950, 0.070_000);
    same(full.number("to_come_off") * 1e6, 30.0, "to come off");
    assert_eq!(full.text("standing"), "metal still to come off by its value");
    let swapped = Calling::of(FUNCTIONS, "judge_journal")
        .text("class", "f7")
        .number("at", 0.070)
        .number("smallest", 0.070)
        .number("largest", 0.069);
    assert!(swapped.outcome().expect_err("swapped").message.contains("larger than"));
}

#[test]
fn a_bore_is_judged_the_other_way_round() {
    // 70 H8 is +46/0 micrometres.
    let bore = Calling::of(FUNCTIONS, "judge_bore")
        .text("class", "H8")
        .number("at", 0.070)
        .number("smallest", 0.069_990)
        .number("largest", 0.070_060)
        .answer();
    same(bore.number("past_worn") * 1e6, 14.0, "past");
    same(bore.number("to_come_off") * 1e6, 10.0, "to come off");
    let shaft = Calling::of(FUNCTIONS, "judge_bore")
        .text("class", "f7")
        .number("at", 0.070)
        .number("smallest", 0.070)
        .number("largest", 0.070);
    assert!(shaft.outcome().expect_err("a shaft's class").message.contains("nothing of the hole"));
}

/// Every duty's classes exist over the sizes of a workshop, its inch fit is of the same kind, and the order is from
/// loose to tight.
#[test]
fn duties_run_from_loose_to_tight() {
    for size in [0.005, 0.0254, 0.07, 0.2, 0.4] {
        let mut last = f64::INFINITY;
        for duty in DUTIES {
            let at = |class| {
                resolve(Fit::parse(class).expect("a fit"), size).expect("limits").clearance().expect("a pair")
            };
            let metric = at(duty.metric);
            // The transition fits of ANSI B4.1 begin at 0.24 in.
            if size > 0.01 {
                assert_eq!(metric.kind(), at(duty.inch).kind(), "{} at {size}", duty.name);
            }
            assert!(metric.min < last, "{} at {size}", duty.name);
            last = metric.min;
        }
    }
    let unknown = Calling::of(FUNCTIONS, "advise_fit").text("duty", "wobbly").number("at", 0.05).outcome();
    assert!(unknown.expect_err("no duty").help.contains("running slow"));
    let advice =
        Calling::of(FUNCTIONS, "advise_fit").text("duty", "Running  slow").number("at", 0.05).answer();
    assert_eq!((advice.text("class"), advice.text("inch_class")), ("H8/f7", "RC4"));
}

fn any_class() -> impl Strategy<Value = String> {
    ("[a-zA-Z]{1,2}", 0..=18_u8).prop_map(|(letters, grade)| format!("{letters}{grade}"))
}

proptest! {
    /// Nothing that can be typed panics; what is given has its width from Table 1 and its lower limit below the upper.
    #[test]
    fn any_text_and_size(text in "\\PC{0,8}", size in -1.0..4000.0) {
        if let Ok(fit) = Fit::parse(&text) {
            let _ = resolve(fit, size * 1e-3);
        }
    }

    #[test]
    fn widths_come_from_the_grade(text in any_class(), size in 0.1..3200.0_f64) {
        if let Ok(class) = Class::parse(&text)
            && let Ok(got) = deviations(class, size)
        {
            let js = text.replace(|c: char| c.is_ascii_alphabetic(), "");
            let (lower, upper) = limits(&format!("js{js}"), size).expect("the grade is given");
            prop_assert!(got.lower_um < got.upper_um);
            prop_assert!((got.upper_um - got.lower_um - (upper - lower)).abs() < 1e-9);
        }
    }

    /// General rule of ISO 286-1:2010, 4.3.2.3: holes A to H mirror the shafts a to h.
    #[test]
    fn loose_holes_mirror_shafts(letter in "[a-h]", grade in 1..=18_u8, size in 1.001..3150.0_f64) {
        let shaft = limits(&format!("{letter}{grade}"), size);
        let hole = limits(&format!("{}{grade}", letter.to_uppercase()), size);
        prop_assert_eq!(shaft, hole.map(|(lower, upper)| (-upper + 0.0, -lower + 0.0)));
    }

    /// The same class at a larger size is never narrower.
    #[test]
    fn wider_at_larger_sizes(grade in 1..=18_u8, size in 1.001..3000.0_f64, more in 1.0..1.05_f64) {
        let width = |size| limits(&format!("H{grade}"), size).map(|(lower, upper)| upper - lower);
        prop_assert!(width(size * more) >= width(size));
    }

    /// A member alone has the limits that it has in a pair.
    #[test]
    fn alone_as_in_a_pair(size in 0.003..0.5_f64) {
        let pair = resolve(Fit::parse("H7/k6").expect("a fit"), size).expect("limits");
        let alone = resolve(Fit::parse("k6").expect("a class"), size).expect("limits");
        prop_assert_eq!(&pair.shaft, &alone.shaft);
        prop_assert_eq!(pair.sizes(Member::Shaft), alone.sizes(Member::Shaft));
        prop_assert_eq!(alone.clearance(), None);
    }
}

/// A line as the prompt prints it.
fn line(text: &str) -> String {
    let functions: Vec<_> = asfound::trade::functions().collect();
    let units = Units::new(&Settings { system: System::Metric, ..Settings::default() });
    let answer = evaluate_line(text, &units, &mut Session::new(&functions)).expect("the line is right");
    answer.outcome.text(&units)
}

/// JCGM 100:2008, 7.2.6: an uncertainty is rounded up where down would matter. A size between two limits is printed as
/// their middle with half their distance: what is printed must reach both limits of ISO 286-1:2010 (the cases' sources
/// stand in the head of the file), but for the twentieth of the last figure that 7.2.6 drops.
#[test]
fn a_size_within_limits_prints_so_that_both_limits_are_covered() {
    for row in rows(CASES).iter().filter(|row| row.text("defined") == "yes") {
        let (class, size) = (row.text("designation"), number(row, "nominal_mm"));
        let printed = line(&format!("tolerance_limits(\"{class}\", at: {size} mm).size to mm"));
        let (middle, uncertainty) =
            printed.split_once(" mm ± ").unwrap_or_else(|| panic!("{class} {size}: {printed}"));
        let uncertainty = uncertainty.split(" mm").next().unwrap_or_default();
        let last = 10.0_f64
            .powi(-i32::try_from(uncertainty.split_once('.').map_or(0, |(_, places)| places.len())).unwrap());
        let (middle, uncertainty): (f64, f64) = (middle.parse().unwrap(), uncertainty.parse().unwrap());
        let (lower, upper) = (number(row, "lower_um") / 1e3 + size, number(row, "upper_um") / 1e3 + size);
        let spare = 0.05 * last + 1e-9;
        assert!(
            middle - uncertainty <= lower + spare && middle + uncertainty >= upper - spare,
            "{class} {size}: {printed}"
        );
        assert!(uncertainty <= (upper - lower) / 2.0 + 1.5 * last, "{class} {size}: {printed} says too much");
    }
}

/// The table of a fit and the functions print a limit with the same figures.
#[test]
fn limits_print_to_the_last_figure_of_their_table_everywhere() {
    let units = Units::new(&Settings::default());
    let millimetre = units.named("mm").unwrap();
    for row in rows(CASES).iter().filter(|row| row.text("defined") == "yes") {
        let (class, size) = (row.text("designation"), number(row, "nominal_mm"));
        let ends = ["lower_um", "upper_um"].map(|column| size / 1e3 + number(row, column) / 1e6);
        for (name, end) in ["min", "max"].into_iter().zip(ends) {
            let [alone] = print::of_table([end], millimetre, 3, millimetre);
            assert_eq!(
                line(&format!("tolerance_limits(\"{class}\", at: {size} mm).{name}")),
                format!("{alone} mm")
            );
        }
    }
}

/// Both limits have the figures that the finer one needs, and keep them in the other system: a thousandth of a millimetre
/// is 0.00004 in.
#[test]
fn limits_of_a_table_stand_in_a_column() {
    let units = Units::new(&Settings::default());
    let [millimetre, inch] = ["mm", "in"].map(|name| units.named(name).unwrap());
    assert_eq!(print::of_table([0.0499875, 0.0500125], millimetre, 3, millimetre), ["49.9875", "50.0125"]);
    assert_eq!(print::of_table([0.050, 0.0500125], millimetre, 3, millimetre), ["50.0000", "50.0125"]);
    assert_eq!(print::of_table([0.050, 0.050025], millimetre, 3, inch), ["1.96850", "1.96949"]);
    assert_eq!(print::of_table([0.0508, 0.0508 + 0.000_045_72], inch, 4, millimetre), ["50.800", "50.846"]);
}
