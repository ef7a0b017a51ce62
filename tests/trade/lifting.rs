//! Masses, centres of gravity, slings, jacks and axles against worked examples.

use asfound::hazard::Hazard;
use std::f64::consts::PI;

use asfound::trade::lifting::{FUNCTIONS, GRAVITY};

use super::calling::{Answered, Calling};
use super::worked::worked_examples;

fn of(name: &str) -> Calling {
    Calling::of(FUNCTIONS, name)
}

fn warned(answer: &Answered) -> String {
    answer.0.warnings.join("; ")
}

worked_examples! {
    /// Public crane-safety practice quiz (two-leg bridle)
    sling_by_height "LI-01" => |example| {
        let answer = of("sling_from_height")
            .number("mass", example.input("W") / GRAVITY)
            .count("legs", 2)
            .number("length", example.input("L"))
            .number("height", example.input("H"))
            .answer();
        example.check("tension", answer.number("tension"));
    }

    /// Rigging load-angle tables (OSHA/ASME B30.9 practice)
    load_angle_factors "LI-03" => |example| {
        for (name, angle) in [("f60", "a1"), ("f45", "a2"), ("f30", "a3")] {
            let legs = of("sling")
                .number("mass", 900.0)
                .count("legs", 2)
                .number("angle", example.input(angle));
            example.check(name, legs.answer().number("factor"));
        }
    }

    /// F. P. Beer, E. R. Johnston and others, Vector Mechanics for Engineers: Statics, Sample Problem 5.1
    composite_plate_with_a_hole "LI-04" => |example| {
        // The parts as the example lists them in words, in mm; areas stand for masses.
        let areas = [120.0 * 80.0, 60.0 * 120.0 / 2.0, PI * 60.0 * 60.0 / 2.0, -PI * 40.0 * 40.0];
        let x = [60.0, 40.0, 60.0, 60.0];
        let y = [40.0, -20.0, 80.0 + 4.0 * 60.0 / (3.0 * PI), 80.0];
        let centre = |at: &[f64; 4]| {
            of("centre_of_gravity")
                .list("masses", &areas)
                .list("at", at)
                .answer()
                .number("centre")
        };
        example.check("X", centre(&x) / 1e3);
        example.check("Y", centre(&y) / 1e3);
    }

    /// F. P. Beer, E. R. Johnston and others, Vector Mechanics for Engineers: Statics, Sample Problem 4.1
    fixed_crane "LI-06" => |example| {
        let answer = of("crane_post")
            .list("loads", &[example.input("W1"), example.input("W2")])
            .list("reach", &[example.input("x1"), example.input("x2")])
            .number("height", example.input("h"))
            .answer();
        example.check("B", answer.number("side"));
        example.check("A", answer.number("foot"));
    }

    /// F. P. Beer, E. R. Johnston and others, Vector Mechanics for Engineers: Statics, Sample Problem 4.2
    /// (SI)
    beam_on_two_supports "LI-07" => |example| {
        let answer = of("two_supports")
            .list("loads", &[example.input("P1"), example.input("P2"), example.input("P3")])
            .list("at", &[example.input("x1"), example.input("x2"), example.input("x3")])
            .number("span", example.input("L"))
            .answer();
        example.check("A", answer.number("first"));
        example.check("B", answer.number("second"));
    }

    /// Public posted solution of a statics textbook problem (pickup-truck axle loads)
    equal_axle_loads "LI-09" => |example| {
        let answer = of("axle_balance")
            .number("mass", example.input("W") / GRAVITY)
            .number("front", example.input("a"))
            .number("rear", example.input("b"))
            .number("behind", example.input("x"))
            .answer();
        example.check("load", answer.number("load") * GRAVITY);
    }

    /// U. C. Jindal, Machine Design, Example 16-5
    two_start_screw "LI-10" => |example| {
        let answer = of("screw_force")
            .number("effort", example.input("F"))
            .number("arm", example.input("arm"))
            .number("mean_d", example.input("d") - example.input("p") / 2.0)
            .number("lead", example.input("starts") * example.input("p"))
            .number("mu", example.input("mu"))
            .answer();
        example.check("force", answer.number("load"));
        assert!(warned(&answer).contains("runs back"), "a two-start thread at mu 0.14 does not hold");
    }

    /// A. K. Tayal, Engineering Mechanics, Example 8-4
    five_pulleys "LI-11" => |example| {
        let answer = of("pulleys")
            .number("load", example.input("W"))
            .number("ratio", example.input("VR"))
            .number("efficiency", example.input("efficiency"))
            .answer();
        example.check("effort", answer.number("effort"));
    }

    /// I. J. Levinson, Statics and Strength of Materials, Example 1.5
    plate_mass "LI-12" => |example| {
        let answer = of("mass_plate")
            .number("length", example.input("L"))
            .number("width", example.input("b"))
            .number("thickness", example.input("t"))
            .number("density", example.input("w"))
            .answer();
        example.check("weight", answer.number("mass"));
    }

    /// Constructed check, derived two ways (problem data from a public question)
    single_axle_trailer "XC-08" => |example| {
        let trailer = |masses: &[f64], at: &[f64]| {
            of("trailer")
                .list("masses", masses)
                .list("at", at)
                .number("axle", example.input("r_axle"))
                .number("g", example.input("g"))
                .answer()
        };
        let (own, load) = (example.input("m_trailer"), example.input("m_load"));
        let (own_at, load_at) = (example.input("r_cg"), example.input("r_load"));
        example.check("coupling_empty", trailer(&[own], &[own_at]).number("coupling"));
        let loaded = trailer(&[own, load], &[own_at, load_at]);
        example.check("coupling_loaded", loaded.number("coupling"));
        assert!(warned(&loaded).contains("tail-heavy"));
        let place = of("trailer_load_place")
            .list("masses", &[own])
            .list("at", &[own_at])
            .number("axle", example.input("r_axle"))
            .number("load", load);
        example.check("balance_r", place.answer().number("at"));
    }

    /// EN 10060 tables
    round_bar_mass "WS-15" => |example| {
        for (name, d) in [("m25", "d25"), ("m50", "d50")] {
            let bar = of("mass_bar").number("d", example.input(d)).number("length", 3.0);
            let answer = bar.number("density", example.input("rho")).answer();
            example.check(name, answer.number("per_length"));
        }
    }
}

/// Shapes cut from one another have the mass that is left: closed forms that must agree.
#[test]
fn shapes_agree_with_one_another() {
    let steel = |calling: Calling| calling.number("density", 7850.0).answer().number("mass");
    let close = |a: f64, b: f64| assert!((a - b).abs() <= 1e-12 * b, "{a} is not {b}");
    let bar = |d: f64| steel(of("mass_bar").number("d", d).number("length", 0.7));
    let tube = of("mass_tube").number("outer", 0.1).number("inner", 0.06).number("length", 0.7);
    close(steel(tube), bar(0.1) - bar(0.06));
    let ring = of("mass_ring").number("outer", 0.1).number("inner", 0.06).number("thickness", 0.7);
    close(steel(ring), bar(0.1) - bar(0.06));
    close(steel(of("mass_cone").number("large", 0.1).number("small", 0.1).number("length", 0.7)), bar(0.1));
    close(3.0 * steel(of("mass_cone").number("large", 0.1).number("length", 0.7)), bar(0.1));
    close(
        1.5 * steel(of("mass_ball").number("d", 0.1)),
        steel(of("mass_bar").number("d", 0.1).number("length", 0.1)),
    );
    let flat = |a: f64, b: f64| {
        steel(of("mass_flat").number("width", a).number("thickness", b).number("length", 0.7))
    };
    let boxed = of("mass_box_tube").number("width", 0.1).number("height", 0.08).number("wall", 0.005);
    close(steel(boxed.number("length", 0.7)), flat(0.1, 0.08) - flat(0.09, 0.07));
    let plate = of("mass_plate").number("length", 0.7).number("width", 0.1).number("thickness", 0.08);
    close(steel(plate), flat(0.1, 0.08));
    // Six triangles of side across_flats / sqrt(3).
    let side = 0.03 / 3.0_f64.sqrt();
    let hexagon = of("mass_hexagon").number("across_flats", 0.03).number("length", 0.7);
    close(steel(hexagon), 6.0 * flat(side, 0.015) / 2.0);
    close(steel(of("mass_of").number("volume", 0.02)), 157.0);
}

/// Forces balance and moments balance: the two legs of an uneven sling hold the load up and not aside.
#[test]
fn uneven_sling_is_in_balance() {
    let (height, left, right) = (1.5, 0.5, 1.2);
    let legs = of("sling_off_centre").number("mass", 400.0);
    let answer = legs.number("height", height).number("left", left).number("right", right).answer();
    let upward = |side: &str| {
        answer.number(&format!("tension_{side}")) * libm::sin(answer.number(&format!("angle_{side}")))
    };
    let (up_left, up_right) = (upward("left"), upward("right"));
    assert!((up_left + up_right - 400.0 * GRAVITY).abs() < 1e-9);
    assert!((up_left * left - up_right * right).abs() < 1e-9, "moments about the centre of gravity");
    // Even legs carry what the plain sling says.
    let even = of("sling_off_centre")
        .number("mass", 400.0)
        .number("height", 1.0)
        .number("left", 1.0)
        .number("right", 1.0);
    let plain = of("sling").number("mass", 400.0).count("legs", 2).number("angle", PI / 4.0).answer();
    assert!((even.answer().number("tension_left") - plain.number("tension")).abs() < 1e-9);
}

/// Common practice: of four and more legs on a stiff load two are counted.
#[test]
fn legs_that_are_counted() {
    let tension =
        |legs: u32| of("sling").number("mass", 1200.0).count("legs", legs).number("angle", PI / 2.0);
    let share = |legs: u32| tension(legs).answer().number("tension") / (1200.0 * GRAVITY);
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} is not {b}");
    [(1, 1.0), (2, 0.5), (3, 1.0 / 3.0), (4, 0.5), (6, 0.5)]
        .iter()
        .for_each(|(legs, part)| close(share(*legs), *part));
    let three_of_four = tension(4).count("counted", 3).answer();
    close(three_of_four.number("tension") / (1200.0 * GRAVITY), 1.0 / 3.0);
    let refusal = tension(2).count("counted", 3).outcome().unwrap_err();
    assert_eq!(refusal.message, "3 legs cannot carry when there are 2");
}

#[test]
fn flat_legs_are_warned_of() {
    let at = |degrees: f64| {
        of("sling").number("mass", 100.0).count("legs", 2).number("angle", degrees.to_radians())
    };
    assert_eq!(at(60.0).answer().0.warnings, Vec::<String>::new());
    assert_eq!(at(45.0).answer().0.warnings, Vec::<String>::new());
    assert!(warned(&at(44.0).answer()).contains("44.0 deg from the horizontal; many codes"));
    assert!(warned(&at(29.0).answer()).contains("under 30 deg no sling is used"));
    assert_eq!(at(91.0).outcome().unwrap_err().parameter, Some("angle"));
}

/// Every function that ends in a lift or a journey carries its caution.
#[test]
fn cautions() {
    for function in FUNCTIONS {
        let expected = match function.name {
            "trailer" | "trailer_load_place" | "axle_loads" | "axle_balance" => Hazard::RoadTransport,
            "screw_force" => Hazard::Pressing,
            _ => Hazard::Lifting,
        };
        assert_eq!(function.hazard, Some(expected), "{}", function.name);
    }
}

#[test]
fn tipping_is_said() {
    let beam = of("two_supports").list("loads", &[1000.0]).list("at", &[3.0]).number("span", 2.0).answer();
    assert!(warned(&beam).contains("the first support is pulled up with 0.5 kN (112.4 lbf)"));
    let jack = of("jack_at_end").number("mass", 100.0).number("centre", 2.0).number("at", 1.0).answer();
    assert!(warned(&jack).contains("tips over the jack"));
    let truck =
        of("axle_loads").list("masses", &[1000.0]).list("at", &[4.0]).number("wheelbase", 3.0).answer();
    assert!(warned(&truck).contains("the front axle lifts off"));
    let heavy =
        of("trailer").list("masses", &[100.0, 900.0]).list("at", &[2.0, 0.5]).number("axle", 2.0).answer();
    assert!(warned(&heavy).contains("67.5 % of the mass is on the coupling"));
}

#[test]
fn bad_inputs_have_clear_words() {
    let said = |calling: Calling| {
        let refusal = calling.outcome().unwrap_err();
        assert!(refusal.help.ends_with('.') && !refusal.message.ends_with('.'), "{refusal:?}");
        refusal.message
    };
    let tube = of("mass_tube").number("outer", 0.05).number("length", 1.0);
    assert_eq!(
        said(tube.clone().number("inner", 0.05).number("density", 7850.0)),
        "the hole is as large as the outside"
    );
    assert!(said(tube.clone().number("inner", 0.04)).contains("neither a material with a known density"));
    let both =
        tube.number("inner", 0.04).number("density", 7850.0).material("material", &[("density", 7850.0)]);
    assert_eq!(said(both), "`material` and `density` are both given");
    let wall = of("mass_box_tube")
        .number("width", 0.1)
        .number("height", 0.05)
        .number("length", 1.0)
        .number("density", 1.0);
    assert_eq!(said(wall.number("wall", 0.025)), "two walls are thicker than the tube");
    let lists = of("centre_of_gravity").list("masses", &[1.0, 2.0]).list("at", &[1.0]);
    assert_eq!(said(lists), "`masses` has 2 entries and `at` has 1");
    assert_eq!(said(of("centre_of_gravity").list("masses", &[]).list("at", &[])), "`masses` is empty");
    let nothing = of("centre_of_gravity").list("masses", &[1.0, -1.0]).list("at", &[1.0, 2.0]);
    assert_eq!(said(nothing), "the masses add up to nothing");
    let hook = of("sling_from_height")
        .number("mass", 1.0)
        .count("legs", 2)
        .number("length", 1.0)
        .number("height", 1.0);
    assert!(said(hook).contains("as high above the load as the leg is long"));
    let steep =
        of("screw_jack").number("load", 1.0).number("arm", 1.0).number("mean_d", 0.01).number("lead", 0.1);
    assert!(said(steep.number("mu", 0.5)).contains("no effort turns it"));
    assert!(
        said(of("pulleys").number("load", 1.0).number("ratio", 2.0).number("efficiency", 1.1))
            .contains("no tackle")
    );
    let rear = of("axle_balance").number("mass", 1.0).number("front", 2.0).number("rear", 1.0);
    assert!(said(rear).contains("already carries as much"));
    let place = of("trailer_load_place")
        .list("masses", &[1.0])
        .list("at", &[1.0])
        .number("axle", 2.0)
        .number("load", 1.0);
    assert!(said(place.number("nose", 1.0)).contains("cannot carry the whole trailer"));
}

/// A material's own density is used, and its uncertainty goes on.
#[test]
fn material_gives_the_density() {
    let bar =
        of("mass_bar").number("d", 0.05).number("length", 1.0).material("material", &[("density", 7200.0)]);
    let stated = of("mass_bar").number("d", 0.05).number("length", 1.0).number("density", 7200.0);
    assert_eq!(bar.answer().number("mass").to_bits(), stated.answer().number("mass").to_bits());
    bar.assert_slopes("mass", 1e-6);
}

#[test]
fn slopes() {
    let all = |calling: Calling, outputs: &[&str]| {
        outputs.iter().for_each(|output| calling.assert_slopes(output, 1e-6));
    };
    let bar = ["mass", "weight", "per_length"];
    let solid = ["mass", "weight", "volume"];
    let rho = |name: &str| of(name).number("density", 7200.0);
    all(rho("mass_bar").number("d", 0.05).number("length", 2.0), &bar);
    all(rho("mass_flat").number("width", 0.05).number("thickness", 0.01).number("length", 2.0), &bar);
    all(rho("mass_hexagon").number("across_flats", 0.05).number("length", 2.0), &bar);
    all(rho("mass_tube").number("outer", 0.05).number("inner", 0.03).number("length", 2.0), &bar);
    let boxed = rho("mass_box_tube").number("width", 0.1).number("height", 0.08).number("wall", 0.004);
    all(boxed.number("length", 2.0), &bar);
    all(rho("mass_plate").number("length", 1.0).number("width", 0.4).number("thickness", 0.02), &solid);
    all(rho("mass_ring").number("outer", 0.4).number("inner", 0.1).number("thickness", 0.02), &solid);
    all(rho("mass_cone").number("large", 0.4).number("small", 0.1).number("length", 0.9), &solid);
    all(rho("mass_ball").number("d", 0.1), &solid);
    all(rho("mass_of").number("volume", 0.01), &solid);
    let parts = of("centre_of_gravity").list("masses", &[300.0, 120.0, -20.0]).list("at", &[1.2, 3.4, 0.7]);
    all(parts, &["mass", "centre"]);
    let beam = of("two_supports").list("loads", &[300.0, 120.0]).list("at", &[1.2, 3.4]).number("span", 2.0);
    all(beam, &["first", "second"]);
    let post =
        of("crane_post").list("loads", &[300.0, 120.0]).list("reach", &[1.2, 3.4]).number("height", 2.0);
    all(post, &["side", "down", "foot"]);
    let sling = ["tension", "inward", "factor", "rating", "angle"];
    all(of("sling").number("mass", 300.0).count("legs", 4).number("angle", 1.0), &sling);
    all(
        of("sling_from_height")
            .number("mass", 300.0)
            .count("legs", 3)
            .number("length", 2.0)
            .number("height", 1.7),
        &sling,
    );
    let uneven = of("sling_off_centre")
        .number("mass", 300.0)
        .number("height", 2.0)
        .number("left", 0.4)
        .number("right", 0.9);
    all(uneven, &["tension_left", "tension_right", "inward", "angle_left", "angle_right"]);
    let lever = of("lever").number("load", 300.0).number("load_arm", 0.1).number("effort_arm", 1.4);
    all(lever, &["effort", "fulcrum", "advantage"]);
    all(
        of("jack_at_end").number("mass", 300.0).number("centre", 1.3).number("at", 2.4),
        &["jack", "far_end"],
    );
    let screw = |calling: Calling| {
        calling
            .number("arm", 0.5)
            .number("mean_d", 0.036)
            .number("lead", 0.006)
            .number("mu", 0.15)
            .number("half_angle", 0.25)
            .number("collar_mu", 0.12)
            .number("collar_radius", 0.02)
    };
    let turned = ["load", "effort", "torque", "efficiency", "lead_angle"];
    all(screw(of("screw_jack").number("load", 20e3)), &turned);
    all(screw(of("screw_force").number("effort", 200.0)), &turned);
    all(
        of("pulleys").number("load", 20e3).number("ratio", 4.0).number("efficiency", 0.8),
        &["effort", "advantage"],
    );
    let trailer =
        |name: &str| of(name).list("masses", &[220.0, 540.0]).list("at", &[1.85, 2.0]).number("axle", 2.15);
    all(trailer("trailer").number("g", 9.81), &["coupling", "axle", "mass", "nose"]);
    all(trailer("trailer_load_place").number("load", 100.0).number("nose", 0.1), &["at"]);
    let truck =
        of("axle_loads").list("masses", &[1370.0, 198.0]).list("at", &[1.14, 3.35]).number("wheelbase", 2.84);
    all(truck.number("g", 9.81), &["front", "rear"]);
    let balance = of("axle_balance")
        .number("mass", 1370.0)
        .number("front", 1.1)
        .number("rear", 1.7)
        .number("behind", 0.5);
    all(balance, &["load"]);
}
