//! Chains and sprockets against worked examples.

use std::f64::consts::TAU;

use asfound::trade::chain::FUNCTIONS;
use asfound::trade::chain::identify::{Measured, candidates};

use super::calling::Calling;
use super::worked::{Example, worked_examples};

fn of(name: &str) -> Calling {
    Calling::of(FUNCTIONS, name)
}

fn teeth(example: &Example, name: &str) -> u32 {
    example.input(name) as u32
}

fn rpm(per_minute: f64) -> f64 {
    per_minute * TAU / 60.0
}

worked_examples! {
    /// V. B. Bhandari, Design of Machine Elements, 3rd ed., Example 14.4
    chain_drive "CG-01" => |example| {
        let pitch = example.input("p");
        let wheel = |name: &str| {
            of("sprocket")
                .number("pitch", pitch)
                .count("teeth", teeth(example, name))
                .answer()
        };
        example.check("D1", wheel("z1").number("pitch_diameter"));
        example.check("D2", wheel("z2").number("pitch_diameter"));
        let chain = of("chain_length")
            .number("pitch", pitch)
            .count("teeth_1", teeth(example, "z1"))
            .count("teeth_2", teeth(example, "z2"))
            .number("centre", example.input("a0_pitches") * pitch)
            .number("slack", example.input("sag"))
            .answer();
        example.check("links", chain.number("links"));
        example.check("links_rounded", chain.number("even_links"));
        example.check("centre", chain.number("centre"));
    }

    /// U. C. Jindal, Machine Design, Example 30-3
    speed_and_pull "CG-03" => |example| {
        let drive = of("chain_pull")
            .number("pitch", example.input("p"))
            .count("teeth", teeth(example, "z1"))
            .number("speed", rpm(example.input("rev_per_min")))
            .number("power", example.input("power"))
            .answer();
        example.check("speed", drive.number("velocity"));
        example.check("tension", drive.number("pull"));
        let safety = of("chain_safety")
            .number("breaking", example.input("breaking"))
            .number("pull", drive.number("pull"));
        example.check("safety", safety.answer().number("safety"));
    }

    /// R. S. Khurmi and J. K. Gupta, Theory of Machines, Example 11.23
    pitch_from_a_measured_sprocket "CG-04" => |example| {
        let found = of("sprocket_pitch")
            .number("pitch_diameter", example.input("D2"))
            .count("teeth", teeth(example, "z2"));
        let pitch = found.answer().number("pitch");
        example.check("pitch", pitch);
        let chain = of("chain_length")
            .number("pitch", pitch)
            .count("teeth_1", teeth(example, "z1"))
            .count("teeth_2", teeth(example, "z2"))
            .number("centre", example.input("x"))
            .answer();
        example.check("length", chain.number("length"));
    }

    /// T. H. Wentzell, Machine Design, Example 14.4 (p. 321)
    sprocket_for_a_speed "CG-05" => |example| {
        let (driver, speed) = (teeth(example, "z1"), rpm(example.input("n1")));
        let wheel = of("driven_teeth")
            .count("teeth", driver)
            .number("speed", speed)
            .number("wanted", rpm(example.input("n2")));
        example.check("teeth_out", wheel.answer().number("exact"));
        example.check("teeth_out", wheel.answer().number("teeth"));
        let drive = of("chain_pull")
            .number("pitch", example.input("p"))
            .count("teeth", driver)
            .number("speed", speed);
        let drive = drive.number("power", example.input("power")).answer();
        example.check("velocity", drive.number("velocity"));
        example.check("pull", drive.number("pull"));
    }
}

/// A sprocket's pitch diameter leads back to its teeth and its pitch.
#[test]
fn sprockets_lead_back() {
    for count in 8..=120 {
        let d =
            of("sprocket").number("pitch", 0.0254).count("teeth", count).answer().number("pitch_diameter");
        let teeth = of("sprocket_teeth").number("pitch", 0.0254).number("pitch_diameter", d).answer();
        assert_eq!(teeth.number("teeth").to_bits(), f64::from(count).to_bits());
        assert!(
            (teeth.number("exact") - f64::from(count)).abs() < 1e-9 * f64::from(count) * f64::from(count)
        );
        assert!(teeth.number("residual").abs() < 1e-12);
        let pitch = of("sprocket_pitch").number("pitch_diameter", d).count("teeth", count).answer();
        assert!((pitch.number("pitch") - 0.0254).abs() < 1e-15);
    }
}

/// The even chain laid back over the corrected centre distance has just that many links.
#[test]
fn corrected_centre_distance_fits_the_chain() {
    for (first, second, centre) in [(17, 34, 0.762), (12, 60, 1.1), (21, 21, 0.5)] {
        let chain = |centre: f64| {
            let sprockets =
                of("chain_length").number("pitch", 0.01905).count("teeth_1", first).count("teeth_2", second);
            sprockets.number("centre", centre).answer()
        };
        let wanted = chain(centre);
        let links = chain(wanted.number("centre")).number("links");
        assert!((links - wanted.number("even_links")).abs() < 1e-9, "{links}");
    }
}

/// A caliper over an odd sprocket reads less than the root diameter (ISO 606 measurement, from memory).
#[test]
fn root_of_even_and_odd_sprockets() {
    let root = |teeth: u32| {
        of("sprocket_root").number("pitch", 0.01905).count("teeth", teeth).number("roller", 0.01207)
    };
    let (even, odd) = (root(18).answer(), root(17).answer());
    assert_eq!(even.number("root").to_bits(), even.number("calliper").to_bits());
    let (diameter, roller) = (odd.number("root") + 0.01207, 0.01207);
    let across = diameter * libm::cos(std::f64::consts::FRAC_PI_2 / 17.0) - roller;
    assert!((odd.number("calliper") - across).abs() < 1e-15);
}

/// Every chain of the table (ISO 606 from memory) from its own dimensions, new and worn.
#[test]
fn every_chain_is_found() {
    let rows: Vec<csv::StringRecord> = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(include_str!("../../src/trade/data/chains.csv").as_bytes())
        .records()
        .map(Result::unwrap)
        .collect();
    assert_eq!(rows.len(), 32);
    for row in &rows {
        let length = |column: usize| row[column].parse::<f64>().unwrap();
        let (pitch, roller, width) = (length(2), length(3), length(4));
        let new = Measured { pitch: Some(pitch), roller: Some(roller), width: Some(width) };
        let worn =
            Measured { pitch: Some(pitch * 1.015), roller: Some(roller - 0.05), width: Some(width + 0.02) };
        for measured in [new, worn] {
            let found = candidates(measured, 3).unwrap();
            assert_eq!(found[0].designation, row[0], "{found:?}");
            assert!(found[0].sure.starts_with("agrees"), "{}", found[0].sure);
        }
    }
}

#[test]
fn wear_is_judged() {
    let verdict = |grown: f64| {
        let old = of("chain_wear")
            .number("pitch", 0.01905)
            .count("links", 24)
            .number("length", 24.0 * 0.01905 * grown);
        old.answer().text("verdict").to_owned()
    };
    assert_eq!(verdict(1.01), "serves");
    assert!(verdict(1.025).contains("many teeth"));
    assert!(verdict(1.035).starts_with("worn out: replace it"));
    assert!(verdict(0.98).starts_with("shorter than new"));
}

#[test]
fn bad_inputs_have_clear_words() {
    let said = |calling: Calling| calling.outcome().unwrap_err().message;
    let close = of("chain_length").number("pitch", 0.0254).count("teeth_1", 20).count("teeth_2", 20);
    assert_eq!(said(close.number("centre", 0.1)), "the sprockets would touch");
    let small = of("sprocket_teeth").number("pitch", 0.0254).number("pitch_diameter", 0.02);
    assert_eq!(said(small), "no sprocket of this pitch is so small");
    assert_eq!(
        said(of("sprocket").number("pitch", 0.0254).count("teeth", 2)),
        "a sprocket has at least three teeth"
    );
    assert_eq!(candidates(Measured::default(), 3).unwrap_err().message, "nothing was measured");
    let negative = Measured { pitch: Some(-1.0), ..Measured::default() };
    assert_eq!(candidates(negative, 3).unwrap_err().message, "the pitch must be above zero");
    let weak = of("chain_safety").number("breaking", 1000.0).number("pull", 500.0).answer();
    assert!(weak.0.warnings[0].contains("the safety is 2.0"));
}

#[test]
fn slopes() {
    let all = |calling: Calling, outputs: &[&str]| {
        outputs.iter().for_each(|output| calling.assert_slopes(output, 1e-6));
    };
    let wheel = |name: &str| of(name).number("pitch", 0.01905).count("teeth", 17);
    all(wheel("sprocket"), &["pitch_diameter", "outside"]);
    all(wheel("sprocket_root").number("roller", 0.012), &["root", "calliper"]);
    all(of("sprocket_pitch").count("teeth", 17).number("pitch_diameter", 0.1), &["pitch"]);
    all(of("sprocket_teeth").number("pitch", 0.01905).number("pitch_diameter", 0.1), &["exact", "residual"]);
    all(of("driven_teeth").count("teeth", 17).number("speed", 20.0).number("wanted", 12.0), &["exact"]);
    let chain = of("chain_length").number("pitch", 0.01905).count("teeth_1", 17).count("teeth_2", 34);
    all(chain.number("centre", 0.762).number("slack", 0.002), &["links", "length", "centre"]);
    all(wheel("chain_pull").number("speed", 20.0).number("power", 3000.0), &["velocity", "pull"]);
    all(of("chain_safety").number("breaking", 1e5).number("pull", 1e3), &["safety"]);
    let worn = of("chain_wear").number("pitch", 0.01905).count("links", 24).number("length", 0.464);
    all(worn, &["elongation"]);
}

/// EN 818-2, least breaking loads of grade 8 chain (from memory), kN by bar in mm.
#[test]
fn link_chain_by_grade() {
    for (bar, breaking) in [(7.0, 61.6), (8.0, 80.4), (10.0, 126.0), (13.0, 212.0), (16.0, 322.0)] {
        let chain = of("link_chain").number("bar", bar * 1e-3).text("grade", "8").answer();
        assert!((chain.number("breaking") / (breaking * 1e3) - 1.0).abs() < 0.005, "{bar} mm");
        assert!((chain.number("working") * 4.0 / chain.number("breaking") - 1.0).abs() < 1e-12);
    }
    let soft = of("link_chain").number("bar", 0.01).text("grade", "m").answer();
    let hard = of("link_chain").number("bar", 0.01).text("grade", "T").answer();
    assert!((hard.number("breaking") / soft.number("breaking") - 2.0).abs() < 1e-12);
    let iron = of("link_chain").number("bar", 0.01).text("grade", "iron").outcome().unwrap_err();
    assert_eq!(iron.parameter, Some("grade"));
}

#[test]
fn link_chain_wears_out_by_growth_or_bar() {
    let worn = |length: f64, worn: f64| {
        of("link_chain_wear")
            .number("pitch", 0.030)
            .count("links", 10)
            .number("length", length)
            .number("bar", 0.010)
            .number("worn", worn)
            .answer()
            .text("verdict")
            .to_owned()
    };
    assert_eq!(worn(0.303, 0.0095), "within the usual limits by its value");
    assert_eq!(worn(0.307, 0.0095), "worn out by its value: grown");
    assert_eq!(worn(0.303, 0.0089), "worn out by its value: thin");
    assert_eq!(worn(0.307, 0.0089), "worn out by its values: grown and thin");
    let half = of("link_chain_wear").number("pitch", 0.030).count("links", 10).number("length", 0.303);
    assert_eq!(half.number("bar", 0.01).outcome().unwrap_err().parameter, Some("worn"));
}
