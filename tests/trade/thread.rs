//! Screw threads: every row of the table looked up and identified back, and against the rules of the
//! standards.

use std::f64::consts::FRAC_PI_4;

use asfound::calc::function::Refusal;
use asfound::trade::thread::identify::{Candidate, Options, candidates};
use asfound::trade::thread::{FUNCTIONS, Thread, lookup, threads};
use proptest::prelude::*;

use super::calling::Calling;

fn of(name: &str) -> Calling {
    Calling::of(FUNCTIONS, name)
}

/// A row of the table, read by this test alone; lengths in mm.
struct Row {
    system: String,
    designation: String,
    major: f64,
    pitch: f64,
    per_inch: f64,
    minor_nut: f64,
    minor_bolt: f64,
    pitch_diameter: f64,
    stress_area: Option<f64>,
    tap_drill: Option<f64>,
}

fn rows() -> Vec<Row> {
    let text = include_str!("../../src/trade/data/threads.csv");
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    reader
        .records()
        .map(|record| {
            let record = record.expect("a row");
            let number = |column: usize| record[column].parse::<f64>().ok();
            Row {
                system: record[0].to_owned(),
                designation: record[1].to_owned(),
                major: number(7).expect("a number"),
                pitch: number(4).expect("a number"),
                per_inch: number(5).expect("a number"),
                pitch_diameter: number(8).expect("a number"),
                minor_nut: number(9).expect("a number"),
                minor_bolt: number(10).expect("a number"),
                stress_area: number(11),
                tap_drill: number(14),
            }
        })
        .collect()
}

impl Row {
    /// As it is written in full: the UN rows of the table leave their system out.
    fn full_name(&self) -> String {
        match self.system.as_str() {
            "UNC" | "UNF" => format!("{} {}", self.designation, self.system),
            _ => self.designation.clone(),
        }
    }

    /// The ways people write it.
    fn written(&self) -> Vec<String> {
        let name = self.full_name();
        let mut written = vec![name.clone(), name.to_lowercase(), format!("  {} ", name.replace('x', " x "))];
        match self.system.as_str() {
            "ISO metric coarse" => {
                written.extend([format!("{name}x{}", self.pitch), format!("{name} x {}-6g", self.pitch)]);
                written.extend([format!("{name}-6H"), format!("{name} coarse"), name.replace('M', "M ")]);
            }
            "ISO metric fine" => {
                written.extend([name.replace('x', "×"), name.replace('.', ","), format!("{name}-6g")]);
            }
            "UNC" | "UNF" => {
                written.extend([name.replace('#', "No "), format!("{name}-2A"), name.replace("UN", "N")]);
                written.push(name.replacen('-', " ", if name.matches('-').count() > 1 { 1 } else { 0 }));
            }
            "BSW" | "BSF" => {
                written.push(name.replace("BSW", "Whitworth"));
                let size = name.rsplit_once('-').expect("a pitch").0;
                written.push(format!("{size} {}", self.system));
                written.push(format!("{size}\" {}", self.system));
                written.push(format!("{} in {}", size.replace('-', " "), self.system));
            }
            "BA" => written.extend([
                name.replace(' ', ""),
                format!("No {name}"),
                format!("BA {}", &name[..name.len() - 3]),
            ]),
            _ => {
                let size = name.trim_start_matches("G ");
                written.extend([
                    name.replace(' ', ""),
                    format!("{size} BSP"),
                    format!("{size}\" BSPP"),
                    name.replace('-', " "),
                ]);
            }
        }
        written
    }
}

fn only(text: &str) -> &'static Thread {
    let found = lookup(text).unwrap_or_else(|refusal| panic!("{text}: {refusal:?}"));
    assert_eq!(found.len(), 1, "{text}: {:?}", found.iter().map(|each| each.full_name()).collect::<Vec<_>>());
    found[0]
}

/// Every row of threads.csv (ISO 261/724, ASME B1.1, BS 84, BS 93, ISO 228-1: sources in its head) by its
/// designation, in the ways people write it, with the figures of the row.
#[test]
fn every_thread_is_looked_up() {
    let rows = rows();
    assert_eq!((rows.len(), threads().len()), (244, 244));
    for row in &rows {
        for text in row.written() {
            let thread = only(&text);
            assert_eq!(thread.full_name(), row.full_name(), "{text}");
            let close = |ours: f64, table: f64, within: f64| {
                assert!((ours - table).abs() <= within, "{text}: {ours}, {table}");
            };
            close(thread.major_mm, row.major, 6e-4);
            close(thread.pitch_mm, row.pitch, 6e-5);
            close(thread.per_inch, row.per_inch, 1e-9);
            close(thread.pitch_diameter_mm, row.pitch_diameter, 1e-9);
            close(thread.minor_nut_mm, row.minor_nut, 1e-9);
            close(thread.minor_bolt_mm, row.minor_bolt, 1e-9);
            assert_eq!((thread.stress_area_mm2, thread.tap_drill_mm), (row.stress_area, row.tap_drill));
        }
    }
}

/// The table against the rules of ISO 724, ASME B1.1, BS 84, BS 93 and ISO 228-1 (0.001 mm rounding), worked
/// out here; `thread_sizes` follows the same rules.
#[test]
fn every_thread_keeps_its_standard() {
    for thread in threads() {
        let (form, [pitch_diameter, nut, bolt]) = match thread.angle_deg as u32 {
            60 if thread.full_name().contains("UN") => ("UN", [0.649_519, 1.082_532, 1.226_869]),
            60 => ("ISO", [0.649_519, 1.082_532, 1.226_869]),
            55 => ("Whitworth", [0.640_327, 1.280_654, 1.280_654]),
            _ => ("BA", [0.6, 1.2, 1.2]),
        };
        let close = |ours: f64, rule: f64| {
            assert!((ours - rule).abs() <= 1.1e-3, "{}: {ours}, {rule}", thread.full_name());
        };
        close(thread.pitch_diameter_mm, thread.major_mm - pitch_diameter * thread.pitch_mm);
        close(thread.minor_nut_mm, thread.major_mm - nut * thread.pitch_mm);
        close(thread.minor_bolt_mm, thread.major_mm - bolt * thread.pitch_mm);
        let by_rule = of("thread_sizes")
            .number("major", thread.major_mm / 1e3)
            .number("pitch", thread.pitch_mm / 1e3)
            .text("form", form)
            .answer();
        close(thread.pitch_diameter_mm, by_rule.number("pitch_diameter") * 1e3);
        close(thread.minor_nut_mm, by_rule.number("minor_nut") * 1e3);
        close(thread.minor_bolt_mm, by_rule.number("minor_bolt") * 1e3);
        if let Some(area) = thread.stress_area_mm2 {
            let rule = by_rule.number("stress_area") * 1e6;
            assert!((area - rule).abs() <= 6e-4 * rule, "{}: area {area}, rule {rule}", thread.full_name());
        }
    }
}

/// Published stress areas of ISO 898-1 and ASME B1.1 (from memory).
#[test]
fn stress_areas_as_printed() {
    let printed = [
        ("M6", 20.1),
        ("M8", 36.6),
        ("M10", 58.0),
        ("M12", 84.3),
        ("M16", 157.0),
        ("M20", 245.0),
        ("M24", 353.0),
    ];
    for (name, area) in printed {
        let ours = of("thread_stress_area").text("designation", name).answer().number("area") * 1e6;
        assert!((ours - area).abs() < 0.6 && (ours - area).abs() < 0.005 * area, "{name}: {ours}");
    }
    for (name, area) in
        [("1/4-20 UNC", 0.0318), ("1/2-13 UNC", 0.1419), ("1/2-20 UNF", 0.1599), ("1-8 UNC", 0.606)]
    {
        let ours =
            of("thread_stress_area").text("designation", name).answer().number("area") / 0.0254 / 0.0254;
        assert!((ours - area).abs() < 1e-3 * area, "{name}: {ours}");
    }
    // ISO 898-1: pi/4 ((d2 + d3)/2)^2, i.e. pi/4 (d - 0.9382 P)^2.
    let area = of("thread_stress_area").text("designation", "M12").answer().number("area") * 1e6;
    assert!((area - FRAC_PI_4 * libm::pow(12.0 - 0.9382 * 1.75, 2.0)).abs() < 0.01);
}

fn near(diameter: f64, pitch: f64) -> Vec<Candidate> {
    candidates(Some(diameter), Some(pitch), &Options::default()).expect("these can be measured")
}

/// Every row from its own diameter and pitch: it, or a thread of equal sizes, ranks first.
#[test]
fn every_thread_is_identified_by_its_sizes() {
    for thread in threads() {
        let found = near(thread.major_mm, thread.pitch_mm);
        let same = |each: &Candidate| {
            (each.major_mm - thread.major_mm).abs() < 1e-9 && (each.pitch_mm - thread.pitch_mm).abs() < 1e-9
        };
        assert!(same(&found[0]), "{}: {}", thread.full_name(), found[0].designation);
        assert_eq!(found[0].sure, "agrees");
        assert!(
            found.iter().any(|each| each.designation == thread.full_name()),
            "{} is not listed",
            thread.full_name()
        );
        let inside = Options { inside: true, ..Options::default() };
        let hole = candidates(Some(thread.minor_nut_mm), Some(thread.pitch_mm), &inside).unwrap();
        assert!(hole.iter().any(|each| each.designation == thread.full_name() && each.sure == "agrees"));
        assert!(hole[0].deviation_mm.diameter.unwrap().abs() <= 1e-9);
    }
}

/// Every row with crests worn by a few hundredths of a millimetre and the pitch read from a rule over ten
/// threads: still the first of its system.
#[test]
fn every_worn_thread_is_still_identified() {
    for (crest, pitch) in [(-0.03, 1.0), (-0.05, 1.002), (-0.02, 0.998), (0.02, 1.001)] {
        for thread in threads() {
            let found = near(thread.major_mm + crest, thread.pitch_mm * pitch);
            let first =
                found.iter().find(|each| each.system == thread.system.name()).expect("its system is listed");
            assert_eq!(first.designation, thread.full_name(), "worn by {crest}, pitch times {pitch}");
            assert_eq!(first.sure, "agrees", "{}", first.designation);
        }
    }
}

/// BS 84 and ASME B1.1: 1/2 in is 12 threads at 55 deg or 13 at 60 deg; 1/4 in has 20 in both.
#[test]
fn near_twins_are_named() {
    let half = near(12.7, 25.4 / 12.0);
    assert_eq!((half[0].designation.as_str(), half[0].angle_deg), ("1/2-12 BSW", 55.0));
    let twin = half[0].twins.iter().find(|twin| twin.designation == "1/2-13 UNC").expect("the twin is named");
    assert_eq!(
        twin.tell,
        "pitch 1.954 against 2.117 mm, 1.63 mm over ten threads; flanks at 60 against 55 deg"
    );
    let quarter = near(6.35, 1.27);
    let names: Vec<&str> = quarter.iter().take(2).map(|each| each.designation.as_str()).collect();
    assert_eq!(names, ["1/4-20 UNC", "1/4-20 BSW"]);
    assert_eq!(quarter[0].twins[0].tell, "flanks at 55 against 60 deg");
}

fn refused(text: &str) -> Refusal {
    let refusal = lookup(text).expect_err("a refusal");
    assert!(refusal.help.ends_with('.') && !refusal.message.ends_with('.'), "{refusal:?}");
    refusal
}

#[test]
fn what_the_table_does_not_hold_has_clear_words() {
    let pitch = refused("M12 x 1.8");
    assert_eq!(pitch.message, "no thread `M12 x 1.8` is in the table");
    assert_eq!(
        pitch.help,
        "Of this size it holds M12, M12x1, M12x1.25 or M12x1.5. For another pitch use `thread_sizes`."
    );
    assert_eq!(refused("M13").help, "The nearest sizes are M12, M14, M12x1 or M12x1.25.");
    assert_eq!(refused("1/2-14 NPT").help, "The table does not hold American taper pipe threads.");
    assert_eq!(refused("R 1/2").help, "The table does not hold taper pipe threads.");
    assert_eq!(refused("Tr 36x6").help, "The table does not hold trapezoidal threads.");
    for square in ["2 1/4 in square", "2 1/4 square", "2 1/4 in Square thread", "1 1/2 sq"] {
        assert_eq!(refused(square).help, "The table does not hold square threads.");
    }
    assert_eq!(refused("G 1/2 taper").help, "The table does not hold taper pipe threads.");
    assert!(refused("1/2 in lowenherz").help.starts_with("`lowenherz` is no thread that it knows."));
    assert_eq!(
        lookup("1/2 inch bolt, fine thread").map(|found| found.len()),
        lookup("1/2").map(|found| found.len())
    );
    for unreadable in ["", "M", "thread", "M x 1", "G", "BA", "1/0", "0/0 UNC", "M1e9", "x", "-", "½½"] {
        assert!(!refused(unreadable).help.is_empty(), "{unreadable}");
    }
    let several = of("thread").text("designation", "1/2").outcome().unwrap_err();
    assert_eq!(several.message, "`1/2` is the size of several threads");
    assert_eq!(several.help, "Write 1/2-13 UNC, 1/2-20 UNF, 1/2-12 BSW or 1/2-16 BSF.");
    assert_eq!(lookup("1/4-20").unwrap().len(), 2, "UNC and BSW");
    let pipe = of("thread_stress_area").text("designation", "G 1/2").outcome().unwrap_err();
    assert_eq!(pipe.message, "G 1/2 is a pipe thread: it has no stress area");
    let deep = of("thread_sizes").number("major", 1e-3).number("pitch", 1e-3).outcome().unwrap_err();
    assert_eq!(deep.message, "the thread is deeper than the bolt is thick");
    let nothing = of("identify_thread").outcome().unwrap_err();
    assert_eq!(nothing.message, "nothing was measured");
    let both = of("identify_thread").number("pitch", 1e-3).number("per_inch", 20.0).outcome().unwrap_err();
    assert_eq!(both.message, "`pitch` and `per_inch` are both given");
}

#[test]
fn a_thread_in_a_calculation() {
    let thread = of("thread").text("designation", "M12 x 1.75").answer();
    assert!((thread.number("pitch") - 1.75e-3).abs() < 1e-12);
    assert!((thread.number("angle").to_degrees() - 60.0).abs() < 1e-9);
    let hole = of("thread_tap_drill").text("designation", "1/2-13 UNC").answer();
    assert!((hole.number("drill") - 10.716e-3).abs() < 1e-9, "27/64 in");
    let basic = of("thread_tap_drill").text("designation", "2BA").answer();
    assert!((basic.number("drill") - 3.728e-3).abs() < 1e-12);
    assert!(basic.0.remarks[0].text.contains("the table has no drill for 2 BA"));
    let found = of("identify_thread").number("major", 12.6e-3).number("per_inch", 12.0).answer();
    assert_eq!((found.text("designation"), found.text("system")), ("1/2-12 BSW", "BSW"));
    let nut = of("identify_thread").number("hole", 10.15e-3).number("pitch", 1.75e-3).answer();
    assert_eq!(nut.text("designation"), "M12");
}

proptest! {
    /// Whatever is typed: an answer or a refusal, never a panic.
    #[test]
    fn any_text_is_answered(text in ".{0,40}") {
        if let Err(refusal) = lookup(&text) {
            prop_assert!(!refusal.message.is_empty() && !refusal.help.is_empty());
        }
    }

    /// The same for text made of what designations are made of.
    #[test]
    fn any_designation_is_answered(text in "(M|G|BA|UNC|BSW|#|No )?[0-9./x -]{0,12}(UNF|BSP|BA|in|-6g)?") {
        if let Ok(found) = lookup(&text) {
            prop_assert!(!found.is_empty());
        }
    }

    /// Whatever is measured is answered.
    #[test]
    fn any_size_is_answered(diameter in 0.5..200.0_f64, pitch in 0.1..12.0_f64) {
        let found = near(diameter, pitch);
        prop_assert!(!found.is_empty());
    }
}

#[test]
fn slopes() {
    for form in ["ISO", "UN", "Whitworth", "BA"] {
        let sizes = of("thread_sizes").number("major", 0.012).number("pitch", 1.75e-3).text("form", form);
        for output in ["pitch_diameter", "minor_bolt", "minor_nut", "stress_area"] {
            sizes.assert_slopes(output, 1e-6);
        }
    }
}
