//! `identify`: the standard sizes nearest to what was measured.

use proptest::prelude::*;
use serde_json::{Value, json};
use snapbox::str;

use super::asfound;

fn identify(words: &[&str]) -> snapbox::cmd::OutputAssert {
    asfound(std::path::Path::new(".")).arg("identify").args(words).assert()
}

fn candidates(words: &[&str]) -> Vec<Value> {
    let answer = identify(&[words, &["--format", "json"]].concat()).success();
    let answer: Value = serde_json::from_slice(&answer.get_output().stdout).expect("an answer in JSON");
    answer["candidates"].as_array().expect("candidates").clone()
}

fn designations(candidates: &[Value]) -> Vec<&str> {
    candidates.iter().map(|each| each["designation"].as_str().expect("a designation")).collect()
}

/// `bearings.csv`: 51110 is 50 x 70 x 14 mm (ISO 104, two sources).
#[test]
fn a_thrust_bearing_with_a_worn_bore() {
    for height in ["--width", "--height"] {
        let found = candidates(&["bearing", "--bore", "50.1mm", "--outside", "70mm", height, "14mm"]);
        let nearest = &found[0];
        assert_eq!(nearest["designation"], "51110");
        assert_eq!(nearest["type"], "thrust ball single direction");
        assert_eq!(nearest["standard"], "ISO 104");
        assert_eq!(
            ["bore_mm", "outside_mm", "width_mm"].map(|key| nearest[key].as_f64()),
            [50.0, 70.0, 14.0].map(Some)
        );
        assert_eq!(nearest["deviation_mm"], json!({"bore": 0.1, "outside": 0.0, "width": 0.0}));
    }
}

#[test]
fn a_worn_bearing_as_a_person_sees_it() {
    identify(&["bearing", "--bore", "50.1mm", "--outside", "70mm", "--height", "14mm"])
        .success()
        .stdout_eq(str![[r#"
Measured: bore 50.1 mm, outside 70 mm, height 14 mm

 bearing   type                            bore mm   outside mm   height mm
────────────────────────────────────────────────────────────────────────────
 51110     thrust ball single direction   50  +0.1        70  0       14  0

How sure: agrees, wear allowed for.
Signed figures are measured less standard. Allowed for wear and reading: a bore 0.2 mm large, an outside 0.2 mm and a width 0.35 mm small, 0.05 mm the other way.
The bore is 0.1 mm over standard: the ring may have crept on its shaft; measure the journal as well.
A number that can still be read on a ring settles it: `asfound lookup bearing NUMBER`.
Source: ISO 104; dimensions from catalogues, textbooks and open data that agree.

"#]]);
}

/// `bearings.csv`: 6205, 1205, 7205, NU205 and 30205 are all 25 x 52 x 15 mm (ISO 15, ISO 355).
#[test]
fn all_types_that_share_the_dimensions_are_named() {
    let found = candidates(&["bearing", "--bore", "25mm", "--outside", "52mm", "--width", "15mm"]);
    let mut names = designations(&found);
    names.sort_unstable();
    assert_eq!(names, ["1205", "30205", "6205", "7205", "NU205"]);
    identify(&["bearing", "--bore", "25mm", "--outside", "52mm", "--width", "15mm"])
        .success()
        .stdout_eq(str![[r#"
Measured: bore 25 mm, outside 52 mm, width 15 mm

 bearing   type                   bore mm   outside mm   width mm
──────────────────────────────────────────────────────────────────
 6205      deep groove ball         25  0        52  0      15  0
 NU205     cylindrical roller       25  0        52  0      15  0
 7205      angular contact ball     25  0        52  0      15  0
 30205     tapered roller           25  0        52  0      15  0
 1205      self-aligning ball       25  0        52  0      15  0

How sure, all of them: agrees.
Signed figures are measured less standard. Allowed for wear and reading: a bore 0.2 mm large, an outside 0.2 mm and a width 0.35 mm small, 0.05 mm the other way.
6205 shares its dimensions with 1205, 7205, NU205, 30205: balls or rollers and the shape of the rings tell the type.
A number that can still be read on a ring settles it: `asfound lookup bearing NUMBER`.
Source: ISO 15, ISO 355 boundary plan; dimensions from catalogues, textbooks and open data that agree.

"#]]);
}

/// `bearings.csv`: RLS8 is 1 x 2 1/4 x 5/8 in (BS 292, one source).
#[test]
fn an_inch_bearing_measured_in_inches() {
    let found = candidates(&["bearing", "--bore", "1 in", "--outside", "2 1/4 in", "--width", "5/8in"]);
    assert_eq!(designations(&found)[0], "RLS8");
}

#[test]
fn a_dimension_that_was_not_measured_is_null_and_said_to_be_missing() {
    let found = candidates(&["bearing", "--bore", "50.1mm", "--outside", "70mm"]);
    assert_eq!(found[0]["deviation_mm"], json!({"bore": 0.1, "outside": 0.0, "width": null}));
    assert!(found[0]["sure"].as_str().unwrap().contains("not measured: width"));
}

/// `threads.csv`: 1/2-13 UNC (ASME B1.1) and 1/2-12 BSW (BS 84) differ by one thread in an inch.
#[test]
fn a_thread_by_its_outside_and_threads_per_inch() {
    let found = candidates(&["thread", "--major", "12.6mm", "--tpi", "13"]);
    let nearest = &found[0];
    assert_eq!(nearest["designation"], "1/2-13 UNC");
    assert_eq!(nearest["deviation_mm"], json!({"diameter": -0.1, "pitch": 0.0}));
    assert_eq!(nearest["easily_taken_for"][0]["designation"], "1/2-12 BSW");
    identify(&["thread", "--major", "12.6mm", "--tpi", "13"]).success().stdout_eq(str![[r#"
Measured: outside 12.6 mm, pitch 1.9538 mm (13 to the inch)

 thread       outside mm   pitch mm   per inch   flanks deg
────────────────────────────────────────────────────────────
 1/2-13 UNC   12.7  -0.1   1.954  0         13           60

How sure: agrees.
Signed figures are measured less standard. Allowed for: a reading 0.05 mm off, and crests worn or cut low by 0.12 of the pitch.
1/2-13 UNC is easily taken for 1/2-12 BSW: pitch 2.117 against 1.954 mm, 1.63 mm over ten threads; flanks at 55 against 60 deg.
Source: ASME B1.1.
Caution: Old iron has no certificate: strength is taken at its lower bound, and a part whose failure could hurt someone is worked out, tested or replaced by an engineer licensed to do so; local codes come first.

"#]]);
}

/// `threads.csv`: M12 has a pitch of 1.75 mm, and its nut a hole of 10.106 mm (ISO 724).
#[test]
fn a_thread_by_its_pitch() {
    assert_eq!(designations(&candidates(&["thread", "--major", "11.9mm", "--pitch", "1.75mm"]))[0], "M12");
    let nut = candidates(&["thread", "--hole", "10.2mm", "--pitch", "1.75mm"]);
    assert_eq!(designations(&nut)[0], "M12");
    assert_eq!(nut[0]["deviation_mm"], json!({"diameter": 0.094, "pitch": 0.0}));
}

/// A bolt of 12.6 mm with the pitch of M12 is in no table: 0.6 mm over M12, and 1/2 in has other pitches (`threads.csv`).
#[test]
fn a_thread_that_no_table_has() {
    identify(&["thread", "--major", "12.6mm", "--pitch", "1.75mm"]).success().stdout_eq(str![[r#"
Measured: outside 12.6 mm, pitch 1.75 mm

 thread             outside mm        pitch mm   per inch   flanks deg
───────────────────────────────────────────────────────────────────────
 M12            12      +0.6     1.75    0          14.51           60
 5/8-14 BSF     15.875  -3.275   1.814  -0.064      14              55
 1/2-16 BSF     12.7    -0.1     1.587  +0.163      16              55
 1/2-13 UNC     12.7    -0.1     1.954  -0.204      13              60
 9/16-16 BSF    14.287  -1.688   1.587  +0.163      16              55
 11/16-14 BSF   17.462  -4.862   1.814  -0.064      14              55

How sure, all of them: does not agree.
Measure again; it may be a size that the table does not hold.
Signed figures are measured less standard. Allowed for: a reading 0.05 mm off, and crests worn or cut low by 0.12 of the pitch.
Source: ASME B1.1, BS 84, ISO 261, ISO 724.
Caution: Old iron has no certificate: strength is taken at its lower bound, and a part whose failure could hurt someone is worked out, tested or replaced by an engineer licensed to do so; local codes come first.

"#]]);
}

/// Outside = (teeth + 2) / diametral pitch: 26 / 8 = 3.25 in (U. C. Jindal, Machine Design, chapter 25).
#[test]
fn a_gear_by_its_outside_and_teeth() {
    let found = candidates(&["gear", "--outside", "3.25in", "--teeth", "24"]);
    let nearest = &found[0];
    assert_eq!(nearest["designation"], "diametral pitch 8");
    assert_eq!((&nearest["module_mm"], &nearest["outside_mm"]), (&json!(3.175), &json!(82.55)));
    assert_eq!(nearest["deviation_mm"], json!({"outside": 0.0}));
    identify(&["gear", "--outside", "3.25in", "--teeth", "24"]).success().stdout_eq(str![[r#"
Measured: outside 3.25 in (82.55 mm), 24 teeth

 tooth size          module mm   outside mm
────────────────────────────────────────────
 diametral pitch 8       3.175     82.55  0

How sure: the outside diameter agrees.
Signed figures are measured less standard, for full-depth teeth without shift; 0.1 mm and 0.1 % are allowed for turning and worn tips.
Check the centre distance or a span over teeth before cutting a new gear.
Source: U. C. Jindal, Machine Design, chapter 25 (outside = m (z + 2)); ISO 54, series of modules (from memory); usual diametral and circular pitches: common practice, no source.
Caution: The limits of an old machine come before any computed speed. Lock it off before a hand goes in; guards on, sleeves up, work clamped; local codes come first.

"#]]);
}

/// ISO 606, 08B: pitch 12.7 mm, roller 8.51 mm, width 7.75 mm (from memory).
#[test]
fn a_chain_by_pitch_roller_and_width() {
    let measured = ["chain", "--pitch", "12.7mm", "--roller", "8.5mm", "--width", "7.9mm"];
    let nearest = &candidates(&measured)[0];
    assert_eq!(nearest["designation"], "08B");
    assert_eq!(nearest["deviation_mm"], json!({"pitch": 0.0, "roller": -0.01, "width": 0.15}));
    identify(&measured).success().stdout_eq(str![[r#"
Measured: pitch 12.7 mm, roller 8.5 mm, width 7.9 mm

 chain   pitch mm     roller mm      width mm   breaks at kN
─────────────────────────────────────────────────────────────
 08B      12.7  0   8.51  -0.01   7.75  +0.15           17.8

How sure: agrees, wear allowed for.
Signed figures are measured less standard. Allowed for: a pitch grown by 3 %, a roller worn by 6 %, readings 0.15 mm off.
Compare with the maker's table before ordering; the breaking load is that of a new chain.
Roller chain is not lifting chain: nothing hangs on it unless its maker says so.
Source: ISO 606 (from memory).
Caution: Nobody under a load or in its way if it falls or swings. Rated, inspected gear only; crib under every jack. A figure on paper approves no lift: the plan of a lift belongs to a competent person under the local rules, and a lifting machine goes back to work only after the examination that those rules ask for.

"#]]);
}

#[test]
fn what_cannot_be_identified_is_told_with_a_way_out() {
    let cases: &[(&[&str], snapbox::data::Inline)] = &[
        (
            &["bearing"],
            str![[r#"
asfound: nothing was measured
Give at least one of bore, outside and width (or height); two or three find it better.

"#]],
        ),
        (
            &["bearing", "--bore", "50"],
            str![[r#"
asfound: the bore `50` has no unit
Write 50 mm or 50 in.

"#]],
        ),
        (
            &["bearing", "--bore", "50kg"],
            str![[r#"
asfound: the bore `50kg` is a mass, not a length
Write it in mm or in.

"#]],
        ),
        (
            &["bearing", "--bore", "wide"],
            str![[r#"
asfound: the bore `wide` is no length
Write it like 50.1mm or "2 5/16 in".

"#]],
        ),
        (
            &["bearing", "--bore", "-5mm"],
            str![[r#"
asfound: the bore must be above zero
Measure it again.

"#]],
        ),
        (
            &["bearing", "--bore", "70mm", "--outside", "50mm"],
            str![[r#"
asfound: the bore is not smaller than the outside
Give the bore first, or swap the two.

"#]],
        ),
        (
            &["bearing", "--width", "14mm", "--height", "14mm"],
            str![[r#"
asfound: `--width` and `--height` are both given
Leave one out; the height is for thrust bearings.

"#]],
        ),
        (
            &["thread", "--tpi", "13", "--pitch", "2mm"],
            str![[r#"
asfound: `--pitch` and `--tpi` are both given
One follows from the other: leave one out.

"#]],
        ),
        (
            &["thread", "--tpi", "0"],
            str![[r#"
asfound: `0` is no number of threads per inch
Write it as 13 or "4 1/2".

"#]],
        ),
        (
            &["gear", "--teeth", "24"],
            str![[r#"
asfound: a tooth size takes the outside diameter and the number of teeth
Give both: `--outside 3.25in --teeth 24`.

"#]],
        ),
        (
            &["gear", "--outside", "3.25in", "--teeth", "24.5"],
            str![[r#"
asfound: `24.5` is no number of teeth
Count the teeth of the whole gear: `--teeth 24`.

"#]],
        ),
        (
            &["gear", "--outside", "3.25in", "--teeth", "2"],
            str![[r#"
asfound: a gear has at least three teeth
Count the teeth of the whole gear.

"#]],
        ),
        (
            &["chain"],
            str![[r#"
asfound: nothing was measured
Give the pitch, the roller diameter or the inner width.

"#]],
        ),
    ];
    for (words, told) in cases {
        identify(words).code(2).stdout_eq("").stderr_eq(told.clone());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Whatever is measured, an answer or a refusal comes, and no panic (which would end with 101).
    #[test]
    fn nothing_measured_brings_it_down(text in "\\PC{0,20}", size in "-?[0-9]{1,4}(\\.[0-9]{1,3})?(e[0-9]{1,3})?(mm|in|m|\")?") {
        for words in [
            ["bearing", "--bore", &text, "--outside", &size],
            ["bearing", "--width", &size, "--bore", &size],
            ["thread", "--major", &size, "--tpi", &text],
            ["gear", "--outside", &size, "--teeth", &text],
            ["chain", "--pitch", &size, "--width", &text],
        ] {
            let ended = identify(&words).get_output().status.code();
            prop_assert!(matches!(ended, Some(0 | 2)), "{words:?}: {ended:?}");
        }
    }
}
