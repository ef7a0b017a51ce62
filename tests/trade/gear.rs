//! Gears against worked examples, and found gears against the tooth sizes that made them.

use std::f64::consts::{PI, TAU};

use asfound::trade::gear::FUNCTIONS;
use asfound::trade::gear::identify::candidates;
use proptest::prelude::*;

use super::calling::Calling;
use super::worked::worked_examples;

fn of(name: &str) -> Calling {
    Calling::of(FUNCTIONS, name)
}

worked_examples! {
    /// U. C. Jindal, Machine Design, Example 25-1
    spur_pair "CG-07" => |example| {
        let pair = of("gear_pair")
            .count("teeth_1", 25)
            .count("teeth_2", 60)
            .number("module", example.input("m"))
            .answer();
        example.check("d1", pair.number("pitch_diameter_1"));
        example.check("d2", pair.number("pitch_diameter_2"));
        example.check("centre", pair.number("centre"));
        example.check("dedendum", pair.number("dedendum"));
        example.check("clearance", pair.number("clearance"));
    }

    /// T. H. Wentzell, Machine Design, Example 11.5 (p. 241)
    two_stage_train "CG-09" => |example| {
        let speed = example.input("rev_per_min") * TAU / 60.0;
        let train = of("gear_train")
            .list("drivers", &[example.input("z_a"), example.input("z_c")])
            .list("driven", &[example.input("z_b"), example.input("z_d")])
            .number("torque", example.input("power") / speed)
            .number("speed", speed)
            .answer();
        example.check("train", train.number("ratio"));
        example.check("torque_out", train.number("torque"));
        example.check("speed_out", train.number("speed") * 60.0 / TAU);
    }

    /// Constructed check, derived two ways
    gear_from_outside "XC-06" => |example| {
        let found = |outside: &str, teeth: u32| {
            of("gear_from_outside").number("outside", example.input(outside)).count("teeth", teeth).answer()
        };
        let metric = found("OD1", 25);
        example.check("module", metric.number("module"));
        assert_eq!(metric.text("nearest"), "module 5 mm");
        let inch = found("OD2", 32);
        example.check("Pd", inch.number("diametral_pitch"));
        assert_eq!(inch.text("nearest"), "diametral pitch 8");
    }
}

/// Outside diameters of full-depth gears from their own module and diametral pitch lead back to them (ISO 54
/// series 1 and usual pitches, from memory); a tip worn by a few hundredths still does.
#[test]
fn standard_gears_are_found() {
    let mut seen = 0;
    for module in
        [1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0]
    {
        seen += found_again(&format!("module {module} mm"), module, 1.0);
    }
    for pitch in [1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0] {
        seen += found_again(&format!("diametral pitch {pitch}"), 25.4 / pitch, 1.0);
    }
    for (name, inches) in
        [("1/2", 0.5), ("3/4", 0.75), ("1", 1.0), ("1 1/8", 1.125), ("1 1/4", 1.25), ("2", 2.0)]
    {
        seen += found_again(&format!("circular pitch {name} in"), inches * 25.4 / PI, 1.0);
        seen += found_again(&format!("circular pitch {name} in, cast teeth"), inches * 25.4 / PI, 0.3 * PI);
    }
    assert_eq!(seen, 4 * (18 + 14 + 12));
}

fn found_again(name: &str, module_mm: f64, addendum: f64) -> u32 {
    for teeth in [12_u32, 17, 40, 90] {
        let outside = module_mm * (f64::from(teeth) + 2.0 * addendum);
        let exact = candidates(outside, teeth, 6).expect("the gear can be measured");
        assert_eq!(
            exact[0].deviation_mm.abs().max(1e-9).to_bits(),
            1e-9_f64.to_bits(),
            "{name}, {teeth} teeth: {exact:?}"
        );
        assert!(exact.iter().any(|each| each.designation == name), "{name}, {teeth} teeth: {exact:?}");
        assert!(exact[0].sure.starts_with("the outside diameter agrees"));
        let worn = candidates(outside - 0.03, teeth, 6).expect("the gear can be measured");
        assert!(worn.iter().any(|each| each.designation == name), "{name} worn, {teeth} teeth");
    }
    4
}

/// Spans over teeth of a true involute (W = m cos a (pi (k - 0.5) + z inv a), shifted or not) lead back to
/// the module.
#[test]
fn spans_lead_back() {
    for (module, pressure, teeth, shift) in
        [(5.0, 20.0_f64, 25.0, 0.0), (3.0, 14.5, 40.0, 0.0), (4.0, 20.0, 17.0, 0.4)]
    {
        let a = pressure.to_radians();
        let involute = libm::tan(a) - a;
        let shifted = 2.0 * shift * module * libm::sin(a);
        let span = |k: f64| module * libm::cos(a) * (PI * (k - 0.5) + teeth * involute) + shifted;
        let found = of("gear_from_spans").number("more", span(4.0) / 1e3).number("fewer", span(3.0) / 1e3);
        let found = found.number("pressure_angle", a).answer();
        assert!((found.number("module") * 1e3 - module).abs() < 1e-9, "module {module}");
    }
}

#[test]
fn module_and_diametral_pitch_are_two_words_for_one_thing() {
    let metric = of("gear").count("teeth", 32).number("module", 25.4e-3 / 8.0).answer();
    let inch = of("gear").count("teeth", 32).number("diametral_pitch", 8.0 / 25.4e-3).answer();
    for output in ["pitch_diameter", "outside", "root", "circular_pitch", "depth"] {
        assert!((metric.number(output) - inch.number(output)).abs() < 1e-15, "{output}");
    }
    assert!((metric.number("outside") - 4.25 * 25.4e-3).abs() < 1e-15);
}

#[test]
fn bad_inputs_have_clear_words() {
    let said = |calling: Calling| calling.outcome().unwrap_err().message;
    assert!(said(of("gear").count("teeth", 20)).contains("neither `module` nor `diametral_pitch`"));
    let both = of("gear").count("teeth", 20).number("module", 1e-3).number("diametral_pitch", 1e3);
    assert_eq!(said(both), "`module` and `diametral_pitch` are both given");
    assert_eq!(said(of("gear").count("teeth", 2).number("module", 1e-3)), "a gear has at least three teeth");
    let train = |drivers: &[f64], driven: &[f64]| {
        of("gear_train")
            .list("drivers", drivers)
            .list("driven", driven)
            .number("torque", 1.0)
            .number("speed", 1.0)
    };
    assert_eq!(said(train(&[12.0], &[36.0, 20.0])), "the train has not as many driven gears as drivers");
    assert_eq!(said(train(&[12.5], &[36.0])), "teeth are whole numbers, at least one gear");
    assert_eq!(said(train(&[], &[])), "teeth are whole numbers, at least one gear");
    assert!(said(train(&[12.0], &[36.0]).number("efficiency", 1.1)).contains("no train gives more work"));
    let spans = of("gear_from_spans").number("more", 0.03).number("fewer", 0.04);
    assert_eq!(said(spans), "the span over fewer teeth is not smaller");
    assert!(
        candidates(f64::NAN, 20, 3).is_err()
            && candidates(-1.0, 20, 3).is_err()
            && candidates(100.0, 2, 3).is_err()
    );
}

proptest! {
    /// Any gear: the candidates come nearest first.
    #[test]
    fn nearest_first(outside in 1.0..5000.0_f64, teeth in 3_u32..400) {
        let found = candidates(outside, teeth, 10).unwrap();
        prop_assert_eq!(found.len(), 10);
        prop_assert!(found.is_sorted_by(|a, b| a.deviation_mm.abs() <= b.deviation_mm.abs()));
    }
}

#[test]
fn slopes() {
    let all = |calling: Calling, outputs: &[&str]| {
        outputs.iter().for_each(|output| calling.assert_slopes(output, 1e-6));
    };
    let one = ["pitch_diameter", "outside", "root", "circular_pitch", "depth"];
    all(of("gear").count("teeth", 20).number("module", 5e-3), &one);
    all(of("gear").count("teeth", 20).number("diametral_pitch", 300.0), &one);
    let two = ["pitch_diameter_1", "pitch_diameter_2", "centre", "addendum", "dedendum", "clearance"];
    all(of("gear_pair").count("teeth_1", 20).count("teeth_2", 61).number("module", 5e-3), &two);
    let found = ["module", "diametral_pitch"];
    all(of("gear_from_outside").number("outside", 0.135).count("teeth", 25), &found);
    all(of("gear_from_centre").number("centre", 0.2125).count("teeth_1", 25).count("teeth_2", 60), &found);
    let spans =
        of("gear_from_spans").number("more", 0.0535).number("fewer", 0.0387).number("pressure_angle", 0.35);
    all(spans, &["base_pitch", "module", "diametral_pitch"]);
}

/// A train is a product, so its slopes are its results over its inputs; teeth are whole and cannot be moved a
/// little.
#[test]
fn slopes_of_a_train() {
    let train = of("gear_train").number("torque", 6.0).number("speed", 180.0).number("efficiency", 0.9);
    let answer = train.list("drivers", &[12.0, 16.0]).list("driven", &[36.0, 64.0]).answer();
    let (torque, speed) = (answer.real("torque"), answer.real("speed"));
    let close = |slope: f64, wanted: f64| assert!((slope - wanted).abs() < 1e-12, "{slope}, {wanted}");
    close(torque.slopes()[0], torque.value() / 6.0);
    close(torque.slopes()[2], torque.value() / 0.9);
    close(speed.slopes()[1], speed.value() / 180.0);
}
