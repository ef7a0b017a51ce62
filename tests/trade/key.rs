//! Keys against published worked examples and the standards' tables.

use asfound::trade::strength;

use super::calling::Calling;
use super::worked::{in_si, worked_examples};

fn call(name: &str) -> Calling {
    Calling::of(strength::FUNCTIONS, name)
}

worked_examples! {
    /// T. H. Wentzell, Machine Design, Example 15.1 (p. 332)
    key_with_safety "KY-01" => |example| {
        let torque = torque(example);
        example.check("torque", torque);
        lengths(example, torque);
    }

    /// Sadhu Singh, Machine Design I, Example 7.8 (p. 208)
    balanced_square_key "KY-02" => |example| {
        lengths(example, torque(example));
    }

    /// Sadhu Singh, Machine Design I, Example 7.10 (p. 212)
    flange_coupling "KY-05" => |example| {
        let torque = example.input("T");
        let bolts = call("flange_pins_size")
            .number("torque", torque)
            .number("radius", example.input("d_pc") / 2.0)
            .count("count", 6)
            .number("strength", example.input("tau_b"))
            .answer();
        example.check("bolt_diameter", bolts.number("d"));
        let flange = call("flange_thickness")
            .number("torque", torque)
            .number("hub", example.input("d_hub"))
            .number("shear", example.input("tau_ci"))
            .answer();
        example.check("flange_thickness", flange.number("thickness"));
        let key = call("key_length")
            .number("torque", torque)
            .number("d", example.input("D"))
            .number("width", example.input("b"))
            .number("height", example.input("b"))
            .number("shear", example.input("tau_k"))
            .number("crushing", 1e9)
            .answer();
        example.check("key_length", key.number("length_shear"));
        assert!(key.0.warnings[0].contains("longer than 1.5 times the shaft"), "{:?}", key.0.warnings);
    }

    /// Sadhu Singh, Machine Design I, Example 7.7 (p. 208)
    key_as_strong_as_its_shaft "KY-06" => |example| {
        let key = call("key_balanced")
            .number("d", example.input("D"))
            .number("width", example.input("b"))
            .number("shear", example.input("tau"))
            .number("crushing", example.input("s_c"))
            .answer();
        example.check("thickness", key.number("height"));
        example.check("length", key.number("length"));
    }
}

fn torque(example: &super::worked::Example) -> f64 {
    let call = call("torque_of_power")
        .number("power", example.input("power"))
        .number("speed", example.input("speed"));
    call.answer().number("torque")
}

fn lengths(example: &super::worked::Example, torque: f64) {
    let key = call("key_length")
        .number("torque", torque)
        .number("d", example.input("D"))
        .number("width", example.input("b"))
        .number("height", example.input("h"))
        .number("shear", example.input("tau"))
        .number("crushing", example.input("s_c"))
        .number("safety", example.input("SF"))
        .answer();
    example.check("length_shear", key.number("length_shear"));
    example.check("length_crush", key.number("length_crush"));
}

/// A key as long as it must be has just the stresses that are allowed.
#[test]
fn length_and_stress_agree() {
    let key = |name: &str| {
        call(name).number("torque", 300.0).number("d", 0.04).number("width", 0.012).number("height", 0.008)
    };
    let length = key("key_length").number("shear", 60e6).number("crushing", 100e6).answer();
    let stress = key("key_stress").number("length", length.number("length")).answer();
    assert!((stress.number("crushing") / 100e6 - 1.0).abs() < 1e-12);
    assert!(stress.number("shear_stress") < 60e6);
}

/// DIN 6885-1 (figures also in a gear maker's printed table): shafts of 40 and 100 mm, both ends of a range.
#[test]
fn metric_sizes() {
    let key = |d: f64| {
        let key = call("key_size").number("d", d).answer();
        ["width", "height", "shaft_depth", "hub_depth"].map(|part| (key.number(part) * 1e4).round() / 10.0)
    };
    assert_eq!(key(0.040), [12.0, 8.0, 5.0, 3.3]);
    assert_eq!(key(0.100), [28.0, 16.0, 10.0, 6.4]);
    assert_eq!(key(0.044), [12.0, 8.0, 5.0, 3.3]);
    assert_eq!(key(0.0441), [14.0, 9.0, 5.5, 3.8]);
}

/// ANSI B17.1-1967, table 1: 1 1/4 in is the end of its range, 7 in has a flat key.
#[test]
fn inch_sizes() {
    let key = |d: &str| {
        let key = call("key_size").number("d", in_si(d)).text("system", "inch").answer();
        ["width", "height", "shaft_depth"].map(|part| (key.number(part) / in_si("1 in") * 1e6).round() / 1e6)
    };
    assert_eq!(key("1.25 in"), [0.25, 0.25, 0.125]);
    assert_eq!(key("1.26 in"), [0.3125, 0.3125, 0.15625]);
    assert_eq!(key("7 in"), [1.75, 1.5, 0.75]);
}

/// The table is without gaps: every range begins where the last ended, and keys grow with the shaft.
#[test]
fn the_table_has_no_gaps() {
    for (system, from, to) in [("metric", 0.006, 0.5), ("inch", 0.312_5 * 0.0254, 11.0 * 0.0254)] {
        let (mut at, mut last, mut rows) = (from * 1.000_001, 0.0, 0);
        while at < to {
            let size = strength::key_size(system, at).expect("no gap");
            assert!(size.width > last && size.height <= size.width, "{system} {at}");
            (at, last, rows) = (size.to * 1.000_001, size.width, rows + 1);
        }
        println!("{system}: {rows} sizes of keys");
    }
}

/// Outside the table it says which range there is.
#[test]
fn outside_the_table() {
    let refusal = call("key_size").number("d", 0.6).outcome().unwrap_err();
    assert_eq!(refusal.message, "the standard has no key for a shaft of 600 mm (23.62 in)");
    assert_eq!(refusal.help, "Its table runs from over 6 mm (0.2362 in) to 500 mm (19.69 in).");
    let wide = call("key_balanced")
        .number("d", 0.02)
        .number("width", 0.03)
        .number("shear", 42e6)
        .number("crushing", 72e6)
        .outcome();
    assert!(
        wide.unwrap_err().message.starts_with("the key of 30 mm (1.181 in) is not smaller than the shaft")
    );
}
