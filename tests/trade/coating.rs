//! Paint and areas against a data sheet's figures.

use asfound::trade::coating::FUNCTIONS;

use super::calling::Calling;
use super::worked::worked_examples;

fn of(name: &str) -> Calling {
    Calling::of(FUNCTIONS, name)
}

worked_examples! {
    /// Coating data sheet, general information on spreading rate
    spreading_rate "WS-08" => |example| {
        for (name, film) in [("us", "dft_us"), ("si", "dft_si")] {
            let rate = of("spreading_rate")
                .number("solids", example.input("solids"))
                .number("dry_film", example.input(film));
            example.check(name, rate.answer().number("rate"));
        }
    }
}

/// What a spreading rate covers is what the paint is bought for.
#[test]
fn paint_and_spreading_rate_agree() {
    let paint =
        of("paint").number("area", 12.0).number("dry_film", 75e-6).number("solids", 0.6).count("coats", 2);
    let rate = of("spreading_rate").number("solids", 0.6).number("dry_film", 75e-6).number("loss", 0.3);
    let volume = 2.0 * 12.0 / rate.answer().number("rate");
    assert!((paint.answer().number("volume") - volume).abs() < 1e-15);
    let one = of("paint").number("area", 12.0).number("dry_film", 75e-6).number("solids", 0.6);
    assert!(
        (2.0 * one.answer().number("volume") - volume).abs() < 1e-15,
        "one coat unless more are asked for"
    );
    let wet = of("wet_film").number("dry_film", 75e-6).number("solids", 0.6);
    assert!((one.answer().number("wet_film") - wet.answer().number("wet_film")).abs() < 1e-18);
    assert!((wet.answer().number("wet_film") - 125e-6).abs() < 1e-18);
}

#[test]
fn bad_inputs_have_clear_words() {
    let film = |solids: f64| of("spreading_rate").number("solids", solids).number("dry_film", 75e-6);
    assert_eq!(film(1.2).outcome().unwrap_err().message, "more than 100 % solids");
    assert_eq!(film(0.6).number("loss", 1.0).outcome().unwrap_err().message, "all the paint is lost");
}

#[test]
fn slopes() {
    let all = |calling: Calling, outputs: &[&str]| {
        outputs.iter().for_each(|output| calling.assert_slopes(output, 1e-6));
    };
    let coat = |name: &str| of(name).number("dry_film", 75e-6).number("solids", 0.6);
    let paint =
        coat("paint").number("area", 12.0).count("coats", 3).number("loss", 0.2).number("thinner", 0.1);
    all(paint, &["volume", "wet_film"]);
    all(coat("spreading_rate").number("loss", 0.2), &["rate"]);
    all(coat("wet_film").number("thinner", 0.1), &["wet_film"]);
    all(of("surface_round").number("d", 0.3).number("length", 4.0).truth("ends", true), &["area"]);
    all(of("surface_round").number("d", 0.3).number("length", 4.0), &["area"]);
    all(of("surface_block").number("length", 2.0).number("width", 1.0).number("thickness", 0.01), &["area"]);
}
