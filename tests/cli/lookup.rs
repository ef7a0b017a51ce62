//! `lookup`: values of the published tables, as a person asks for them and as a script does.

use proptest::prelude::*;
use serde_json::{Value, json};
use snapbox::str;

use super::asfound;

const CASES: &str = include_str!("../reference/iso286_cases.csv");

fn lookup(words: &[&str]) -> snapbox::cmd::OutputAssert {
    asfound(std::path::Path::new(".")).arg("lookup").args(words).assert()
}

fn json_of(words: &[&str]) -> Value {
    let answer = lookup(&[words, &["--format", "json"]].concat()).success();
    serde_json::from_slice(&answer.get_output().stdout).expect("an answer in JSON")
}

/// Every 15th row of `iso286_cases.csv`, and all that the standard leaves undefined (ISO 286-2:2010, confirmed by two
/// or more tables each).
#[test]
fn classes_are_those_of_iso_286() {
    let mut table = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(CASES.as_bytes());
    let rows: Vec<csv::StringRecord> = table.records().map(Result::unwrap).collect();
    let chosen = rows.iter().enumerate().filter(|(index, row)| index % 15 == 0 || &row[4] == "no");
    let mut counts = [0, 0];
    for (_, row) in chosen {
        let (class, size) = (&row[0], format!("{} mm", &row[1]));
        if &row[4] == "no" {
            lookup(&["fit", &size, class]).code(2);
            counts[1] += 1;
            continue;
        }
        let answer = json_of(&["fit", &size, class]);
        let member = if class.starts_with(char::is_uppercase) { "hole" } else { "shaft" };
        let number = |column: usize| row[column].parse::<f64>().unwrap();
        let wanted = json!({"class": class, "lower_um": number(3), "upper_um": number(2)});
        assert_eq!(answer[member], wanted, "{class} at {size}");
        counts[0] += 1;
    }
    assert_eq!(counts, [21, 10]);
}

/// `iso286_cases.csv`, k6 at 50 mm; H7 at 50 mm: IT7 of 25 µm (ISO 286-1:2010, Table 1).
#[test]
fn a_pair_gives_both_members_and_their_clearance() {
    let answer = json_of(&["fit", "50 mm H7/k6"]);
    assert_eq!(answer["size_mm"], 50.0);
    assert_eq!(answer["hole"], json!({"class": "H7", "lower_um": 0.0, "upper_um": 25.0}));
    assert_eq!(answer["shaft"], json!({"class": "k6", "lower_um": 2.0, "upper_um": 18.0}));
    assert_eq!(answer["clearance_um"], json!({"min": -18.0, "max": 23.0}));
    assert_eq!(answer["kind"], "transition");
}

#[test]
fn a_pair_as_a_person_sees_it() {
    lookup(&["fit", "50 mm H7/k6"]).success().stdout_eq(str![[r#"
50 mm H7/k6: transition fit

 member     lower µm   upper µm   smallest mm   largest mm
───────────────────────────────────────────────────────────
 hole H7           0        +25        50.000       50.025
 shaft k6         +2        +18        50.002       50.018

On the diameter from 18 µm interference to 23 µm clearance, as the parts turn out.
The limits of size hold at 20 °C.
Source: ISO 286-1:2010, Tables 1 to 5.
Caution: A press or a hot ring stores energy, and parts fly: stand out of the line of force, wear eye protection, shield brittle parts such as cast iron and hardened rings and never strike them. Never go past the rating of the frame, and stop when the force rises without movement; local rules come first.

"#]]);
}

#[test]
fn one_class_gives_that_member_only() {
    let shaft = json_of(&["fit", "50 mm k6"]);
    let has = |answer: &Value| ["hole", "shaft", "clearance_um", "kind"].map(|key| answer.get(key).is_some());
    assert_eq!(has(&shaft), [false, true, false, false], "{shaft}");
    let hole = json_of(&["fit", "50 mm H7"]);
    assert_eq!(has(&hole), [true, false, false, false], "{hole}");
}

/// ANSI B4.1-1967, RC4 over 1.97 up to 3.15 in, as in `ansi_b41_fits.csv` (H31+fit column+AB).
#[test]
fn an_inch_fit_is_in_thousandths() {
    let answer = json_of(&["fit", "2 in RC4"]);
    assert_eq!(json_of(&["fit", "RC4 2 in"]), answer, "the class first, as calculations have it");
    assert_eq!(answer["size_in"], 2.0);
    assert_eq!(answer["fit"], "RC4");
    assert_eq!(answer["hole"], json!({"lower_thou": 0.0, "upper_thou": 1.8}));
    assert_eq!(answer["shaft"], json!({"lower_thou": -2.4, "upper_thou": -1.2}));
    assert_eq!(answer["clearance_thou"], json!({"min": 1.2, "max": 4.2}));
    assert_eq!(answer["kind"], "clearance");
    lookup(&["fit", "2 in RC4"]).success().stdout_eq(str![[r#"
2 in (50.8 mm) RC4: clearance fit (running or sliding clearance)

 member   lower thou   upper thou   smallest in   largest in
─────────────────────────────────────────────────────────────
 hole            0           +1.8        2.0000       2.0018
 shaft          -2.4         -1.2        1.9976       1.9988

On the diameter 1.2 to 4.2 thou clearance; 1 thou is 0.001 in.
The limits of size hold at 20 °C.
Source: ANSI B4.1-1967, tables of preferred fits.

"#]]);
}

/// ANSI B4.1-1967, FN2 over 1.97 up to 2.56 in (H27+fit column), and RC4 over 9.85 up to 12.41 in, which is disputed.
#[test]
fn interference_is_cautioned_and_a_disputed_row_is_said_to_be() {
    let answer = json_of(&["fit", "2 in FN2"]);
    assert_eq!(answer["clearance_thou"], json!({"min": -2.7, "max": -0.8}));
    assert!(answer["caution"].as_str().unwrap().contains("press"));
    let disputed = json_of(&["fit", "10 in RC4"]);
    assert!(disputed["remarks"].to_string().contains("printed tables differ"), "{disputed}");
}

#[test]
fn the_words_may_come_as_one_or_as_several() {
    let whole = lookup(&["fit", "50 mm H7/k6"]).get_output().stdout.clone();
    for words in [
        &["fit", "50", "mm", "H7/k6"] as &[&str],
        &["fit", "50mm", "H7/k6"],
        &["fit", "50 mm", "H7 / k6"],
        &["fit", "50 mm H7 k6"],
        &["fit", "50 mm H7-k6"],
    ] {
        assert_eq!(lookup(words).get_output().stdout, whole, "{words:?}");
    }
    let inch = lookup(&["fit", "2 in RC4"]).get_output().stdout.clone();
    for words in [&["fit", "2\" rc 4"] as &[&str], &["fit", "2in", "RC", "4"]] {
        assert_eq!(lookup(words).get_output().stdout, inch, "{words:?}");
    }
}

/// ANSI B4.2-1978 and B4.1-1967 for the choice (from memory); the figures as in `iso286_cases.csv` and its tables.
#[test]
fn a_duty_in_words_serves_as_a_class() {
    let metric = json_of(&["fit", "50 mm running slow"]);
    assert_eq!((&metric["hole"]["class"], &metric["shaft"]["class"]), (&json!("H8"), &json!("f7")));
    assert_eq!(json_of(&["fit", "2 in running slow"])["fit"], "RC4");
    let all = json_of(&["fit", "50 mm"]);
    assert_eq!(all["fits"].as_array().unwrap().len(), 11);
    assert_eq!(all["fits"][5]["clearance_um"], json!({"min": -18.0, "max": 23.0}));
}

/// `threads.csv`: M12 (ISO 724, ISO 898-1, ISO 2306), 1/2-13 UNC (ASME B1.1), G 1/2 (ISO 228-1).
#[test]
fn threads_are_those_of_the_table() {
    let metric = json_of(&["thread", "M12"]);
    let wanted = [
        ("designation", json!("M12")),
        ("major_mm", json!(12.0)),
        ("pitch_mm", json!(1.75)),
        ("minor_mm", json!(10.106)),
        ("stress_area_mm2", json!(84.27)),
        ("tap_drill_mm", json!(10.2)),
    ];
    for (key, value) in wanted {
        assert_eq!(metric[key], value, "{key}");
    }
    let inch = json_of(&["thread", "1/2-13", "UNC"]);
    assert_eq!((&inch["designation"], &inch["per_inch"]), (&json!("1/2-13 UNC"), &json!(13.0)));
    assert_eq!((&inch["minor_mm"], &inch["minor_bolt_mm"]), (&json!(10.585), &json!(10.303)));
    let pipe = json_of(&["thread", "G 1/2"]);
    assert_eq!((&pipe["major_mm"], &pipe["pitch_diameter_mm"]), (&json!(20.955), &json!(19.793)));
    assert_eq!((&pipe["stress_area_mm2"], &pipe["tap_drill_mm"]), (&Value::Null, &Value::Null));
}

#[test]
fn a_thread_as_a_person_sees_it() {
    lookup(&["thread", "M12"]).success().stdout_eq(str![[r#"
M12: ISO metric coarse

                           M12
───────────────────────────────
 outside diameter mm   12
 outside diameter in    0.4724
 pitch mm               1.75
 threads per inch      14.51
 flank angle deg       60
 pitch diameter mm     10.863
 core of the bolt mm    9.853
 hole of the nut mm    10.106
 stress area mm²       84.27
 tap drill mm          10.2
 tap drill by name     10.2 mm

Basic sizes without tolerance: a real bolt is smaller, a real nut larger.
Source: ISO 261 and ISO 724 (sizes), ISO 898-1 (stress area), ISO 2306 (tap drill).
Caution: Old iron has no certificate: strength is taken at its lower bound, and a part whose failure could hurt someone is worked out, tested or replaced by an engineer licensed to do so; local codes come first.

"#]]);
}

/// `threads.csv`: 1/2-13 UNC, 1/2-20 UNF, 1/2-12 BSW and 1/2-16 BSF are all half an inch over the crests.
#[test]
fn a_size_that_several_threads_have_lists_them() {
    lookup(&["thread", "1/2"]).success().stdout_eq(str![[r#"
1/2 is the size of 4 threads: the pitch and the flanks tell which

                          1/2-13 UNC     1/2-20 UNF   1/2-12 BSW   1/2-16 BSF
──────────────────────────────────────────────────────────────────────────────
 outside diameter mm         12.7            12.7        12.7         12.7
 outside diameter in          0.5             0.5         0.5          0.5
 pitch mm                     1.9538          1.27        2.1167       1.5875
 threads per inch            13              20          12           16
 flank angle deg             60              60          55           55
 pitch diameter mm           11.431          11.875      11.345       11.683
 core of the bolt mm         10.303          11.142       9.989       10.667
 hole of the nut mm          10.585          11.325       9.989       10.667
 stress area mm²             91.55          103.2        89.37        98.08
 tap drill mm                10.72           11.51       10.5         11.1
 tap drill by name     27/64 in        29/64 in          10.5 mm      11.1 mm

Basic sizes without tolerance: a real bolt is smaller, a real nut larger.
Source: ASME B1.1 (sizes, stress area), handbook tables (tap drill); BS 84 (sizes), BS 1157 (tap drill); stress area by the definition of ISO 898-1, which BS 84 does not print.
Caution: Old iron has no certificate: strength is taken at its lower bound, and a part whose failure could hurt someone is worked out, tested or replaced by an engineer licensed to do so; local codes come first.

"#]]);
    lookup(&["thread", "1/2", "--format", "json"]).code(2).stderr_eq(str![[r#"
asfound: `1/2` is the size of several threads
Write one of 1/2-13 UNC, 1/2-20 UNF, 1/2-12 BSW, 1/2-16 BSF.

"#]]);
}

/// `bearings.csv`: 6205 (seven sources), NU205 (seven), RLS8 (one).
#[test]
fn bearings_are_those_of_the_table() {
    for (number, sizes) in [
        (&["6205"] as &[&str], [25.0, 52.0, 15.0]),
        (&["6205-2RS C3"], [25.0, 52.0, 15.0]),
        (&["NJ", "205"], [25.0, 52.0, 15.0]),
        (&["RLS 8"], [25.4, 57.15, 15.875]),
    ] {
        let answer = json_of(&[&["bearing"], number].concat());
        let first = &answer["candidates"][0];
        let found = ["bore_mm", "outside_mm", "width_mm"].map(|key| first[key].as_f64().unwrap());
        assert_eq!(found, sizes, "{number:?}");
        assert_eq!(first["deviation_mm"], json!({"bore": null, "outside": null, "width": null}));
    }
}

#[test]
fn a_bearing_as_a_person_sees_it() {
    lookup(&["bearing", "6205"]).success().stdout_eq(str![[r#"
6205: deep groove ball

 bearing   type               bore mm   outside mm   width mm
──────────────────────────────────────────────────────────────
 6205      deep groove ball        25           52         15

6205: basic load ratings 14 kN dynamic, 7.8 kN static, from a machine-design textbook; a bearing of 1930 carries a half to two thirds of it.
6205 shares its dimensions with 1205, 7205, NU205, 30205: balls or rollers and the shape of the rings tell the type.
An old bearing may follow its maker's own list: measure it as well.
Source: ISO 15; dimensions from catalogues, textbooks and open data that agree.
Caution: The limits of an old machine come before any computed speed. Lock it off before a hand goes in; guards on, sleeves up, work clamped; local codes come first.

"#]]);
}

/// `materials.csv`: grey cast iron class 20 / GJL-150 (ISO 185, ASTM A48, from memory).
#[test]
fn materials_are_ranges_and_what_is_not_stated_is_null() {
    let iron = json_of(&["material", "GJL-150"]);
    assert_eq!(iron["name"], "grey cast iron class 20 / GJL-150");
    assert_eq!(iron["tensile_mpa"], json!({"low": 150.0, "high": 250.0, "basis": "memory", "within": 30.0}));
    assert_eq!(iron["density_kg_per_m3"], json!({"low": 7150.0, "high": 7150.0}));
    assert_eq!(iron["yield_mpa"], Value::Null);
    lookup(&["material", "GJL-150"]).success().stdout_eq(str![[r#"
grey cast iron class 20 / GJL-150 (EN-GJL-150; ASTM A48 class 20-25)

 property                       from        to   calculations take    within
─────────────────────────────────────────────────────────────────────────────
 modulus of elasticity GPa     78       103                  90.5     ± 12.5
 Poisson's ratio                0.26      0.26                0.26
 yield strength MPa             -         -                   -
 tensile strength MPa         150       250                 150       ± 30
 compressive strength MPa     570       690                 570      ± 114
 expansion µm/(m K)            10        11                  10.5      ± 0.5
 density kg/m³               7150      7150                7150

Condition: as cast, of a separate test bar: thick walls have less; brittle, no yield point.
Ultimate tensile strength, compressive strength: from memory, ± 20 %.
The table states no yield strength.
Room temperature; figures for sizing and checking old parts, none of them certified for the part in hand.
Source: data page for ISO grade 150 after ASTM A48, UTS 150, compressive 570 (open table); ISO 185 and a textbook table of grey irons, E, upper ends of the strengths, density, cte (from memory).
Caution: Old iron has no certificate: strength is taken at its lower bound, and a part whose failure could hurt someone is worked out, tested or replaced by an engineer licensed to do so; local codes come first.

"#]]);
}

/// `materials.csv`: the least strength and the widest range of the five cast irons.
#[test]
fn an_unknown_grade_takes_the_lower_bound() {
    let iron = json_of(&["material", "old cast iron"]);
    assert_eq!(iron["tensile_mpa"], json!({"low": 150.0, "high": 400.0, "basis": "memory", "within": 30.0}));
    assert_eq!(json_of(&["material"])["materials"].as_array().unwrap().len(), 44);
}

#[test]
fn what_cannot_be_looked_up_is_told_with_a_way_out() {
    let cases: &[(&[&str], snapbox::data::Inline)] = &[
        (
            &["fit", "5000 mm H7"],
            str![[r#"
asfound: ISO 286 gives no classes for a nominal size of 5000 mm
It covers sizes over 0 up to 3150 mm.

"#]],
        ),
        (
            &["fit", "-50 mm H7/k6"],
            str![[r#"
asfound: ISO 286 gives no classes for a nominal size of -50 mm
It covers sizes over 0 up to 3150 mm.

"#]],
        ),
        (
            &["fit", "30 in RC4"],
            str![[r#"
asfound: the table gives no limits of RC4 at 30 in
It gives RC4 over 0 up to 19.69 in.

"#]],
        ),
        (
            &["fit", "2000 mm H7/c11"],
            str![[r#"
asfound: ISO 286 does not define c11 at 2000 mm
c11 is given over 0 up to 500 mm; the nearest class given at 2000 mm is d11.

"#]],
        ),
        (
            &["fit", "50 mm H77"],
            str![[r#"
asfound: `H77` is no tolerance class of ISO 286
The grade is a number from 01, 0, 1 to 18: H7, js6.

"#]],
        ),
        (
            &["fit", "2 in RC12"],
            str![[r#"
asfound: `RC12` is no fit of ANSI B4.1
The fits are RC1 to RC9, LC1 to LC11, LT1 to LT6, LN1 to LN3, FN1 to FN5.

"#]],
        ),
        (
            &["fit", "50 mm k6/H7"],
            str![[r#"
asfound: `k6/H7` names the shaft before the hole
Write the hole first: H7/k6.

"#]],
        ),
        (
            &["fit", "50 H7/k6"],
            str![[r#"
asfound: the size `50` has no unit
Write 50 mm or 50 in.

"#]],
        ),
        (
            &["fit", "50 kg H7"],
            str![[r#"
asfound: the size `50 kg` is a mass, not a length
Write it in mm or in.

"#]],
        ),
        (
            &["fit", "H7/k6"],
            str![[r#"
asfound: `H7/k6` stands without a size
Write a size with its unit, then a class: 50 mm H7/k6, 50 mm H7 or 2 in RC4.

"#]],
        ),
        (
            &["fit", "50 mm ± 0.1 mm H7"],
            str![[r#"
asfound: the nominal size `50 mm ± 0.1 mm` has bounds
Write it alone; its class gives the bounds.

"#]],
        ),
        (
            &["fit", "-50", "mm", "H7"],
            str![[r#"
asfound: ISO 286 gives no classes for a nominal size of -50 mm
It covers sizes over 0 up to 3150 mm.

"#]],
        ),
        (
            &["fit", "50 mm wobbly"],
            str![[r#"
asfound: `wobbly` is no class of a fit and no duty
Write a size with its unit, then a class: 50 mm H7/k6, 50 mm H7 or 2 in RC4. The duties are running loose, running fast, running slow, sliding, locating, locating keyed, locating tight, pressed light, bush, pressed, shrunk.

"#]],
        ),
        (
            &["thread", "M13"],
            str![[r#"
asfound: no thread `M13` is in the table
The nearest sizes are M12, M14, M12x1 or M12x1.25.

"#]],
        ),
        (
            &["thread", ""],
            str![[r#"
asfound: there is nothing to look up
Write it between the quotes.

"#]],
        ),
        (
            &["bearing", "99999"],
            str![[r#"
asfound: no bearing `99999` is in the table
Near it are 99550/99100, 3979/3920, 3994/3920 or 28995/28920. The table holds deep groove, self-aligning, angular contact, cylindrical, spherical and tapered roller, thrust ball 511 to 514, and inch R, RLS, RMS and tapered bearings.

"#]],
        ),
        (
            &["material", "cast iron"],
            str![[r#"
asfound: `cast iron` fits 10 materials of the table:
  grey cast iron class 20 / GJL-150
  grey cast iron class 30 / GJL-200
  grey cast iron class 35 / GJL-250
  ductile cast iron 400-15
  malleable cast iron
  malleable cast iron EN-GJMB-350-10
  malleable cast iron ASTM A47 grade 32510
  malleable cast iron BS 310 B18/6
  malleable cast iron BS 310 B20/10
  malleable cast iron BS 310 B22/14
Write more of the name, or `old` before it if the grade is unknown.

"#]],
        ),
        (
            &["material", "unobtainium"],
            str![[r#"
asfound: no material `unobtainium` is in the table
`asfound lookup material` lists them all.

"#]],
        ),
    ];
    for (words, told) in cases {
        lookup(words).code(2).stdout_eq("").stderr_eq(told.clone());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Whatever is typed, an answer or a refusal comes, and no panic (which would end with 101).
    #[test]
    fn nothing_typed_brings_it_down(table in "fit|thread|bearing|material", text in "\\PC{0,40}", size in "[0-9]{1,5}(\\.[0-9])? ?(mm|in|m|\")") {
        for words in [text.clone(), format!("{size} {text}"), format!("{text} {size}")] {
            let ended = lookup(&[&table, "--", &words]).get_output().status.code();
            prop_assert!(matches!(ended, Some(0 | 2)), "{table} {words}: {ended:?}");
        }
    }
}
