//! Pins, bolts and threads against published worked examples and standards.

use asfound::trade::{strength, table};

use super::calling::{Answered, Calling};
use super::worked::{in_si, worked_examples};

fn call(name: &str) -> Calling {
    Calling::of(strength::FUNCTIONS, name)
}

fn sheared(force: f64, d: f64, planes: u32) -> f64 {
    call("pin_shear")
        .number("force", force)
        .number("d", d)
        .count("planes", planes)
        .answer()
        .number("shear_stress")
}

worked_examples! {
    /// Machinery's Handbook, 31st ed., Strength of Taper Pins, Example 6(a)
    cross_pin "PB-01" => |example| {
        let torque = example.input("pull") * example.input("arm");
        let pin = call("cross_pin")
            .number("torque", torque)
            .number("pin", example.input("d"))
            .number("shaft", example.input("D"))
            .answer();
        example.check("shear_stress", pin.number("shear_stress"));
        let size = call("cross_pin_size")
            .number("torque", torque)
            .number("shaft", example.input("D"))
            .number("strength", example.input("S"))
            .answer();
        example.check("pin_diameter", size.number("d"));
    }

    /// Public workshop estimate of an outboard drive pin
    drive_pin "PB-03" => |example| {
        let pin = call("cross_pin_break")
            .number("pin", example.input("d"))
            .number("shaft", example.input("D"))
            .number("strength", example.input("shear_ratio") * example.input("Sut"))
            .answer();
        example.check("force_two_planes", pin.number("force"));
        example.check("torque_to_shear", pin.number("torque"));
    }

    /// R. C. Hibbeler, Mechanics of Materials, Example 1.10 (p. 35)
    beam_pins "PB-04" => |example| {
        let [force, x, y] = ["F", "x", "y"].map(|name| example.input(name));
        let on_b = force * x / (example.input("sin") * (x + y));
        let on_a = (on_b * example.input("cos")).hypot(force - on_b * example.input("sin"));
        example.check("tau_A", sheared(on_a, example.input("d_A"), 2));
        example.check("tau_B", sheared(on_b, example.input("d_B"), 1));
    }

    /// J. M. Gere, Mechanics of Materials, 5th ed., Example 1-5
    strut_foot "PB-05" => |example| {
        let pressure = |force: f64, d: &str, length: &str, count: u32| {
            call("bearing_pressure")
                .number("force", force)
                .number("d", example.input(d))
                .number("length", example.input(length))
                .count("count", count)
                .answer()
                .number("pressure")
        };
        let force = example.input("P");
        let level = force * example.input("angle").cos();
        example.check("bearing_strut", pressure(force, "d_pin", "t", 2));
        example.check("bearing_gusset", pressure(force, "d_pin", "t_G", 2));
        example.check("bearing_base", pressure(level, "d_bolt", "t_B", 4));
        example.check("shear_pin", sheared(force, example.input("d_pin"), 2));
        let bolts =
            call("pin_shear").number("force", level).number("d", example.input("d_bolt")).count("count", 4).answer();
        example.check("shear_bolt", bolts.number("shear_stress"));
    }

    /// J. M. Gere, Mechanics of Materials, 5th ed., Example 1-7
    hanger_bar "PB-06" => |example| {
        let bar = call("pinned_plate_capacity")
            .number("d", example.input("d"))
            .number("thickness", example.input("t"))
            .number("width", example.input("b2"))
            .number("edge", example.input("b2"))
            .number("shear", example.input("tau"))
            .number("bearing", example.input("s_b"))
            .number("net", example.input("s_net"))
            .count("planes", 2)
            .answer();
        // The bar away from the hole: the load is the allowable stress by the stress of one newton.
        let unit = call("axial_stress")
            .number("force", 1.0)
            .number("area", example.input("t") * example.input("b1"))
            .number("length", 1.0)
            .number("modulus", 2e11)
            .answer();
        example.check("P1", example.input("s_t") / unit.number("stress"));
        example.check("P2", bar.number("by_net"));
        example.check("P3", bar.number("by_bearing"));
        example.check("P4", bar.number("by_shear"));
        assert_eq!(bar.text("governs"), "the pins in shear");
    }

    /// T. H. Wentzell, Machine Design, Example 6.1 (p. 120)
    tightening "PB-07" => |example| {
        let preload = call("bolt_preload")
            .number("proof", example.input("Sp"))
            .number("area", example.input("At"))
            .number("fraction", example.input("fraction"))
            .answer();
        let torque = call("tightening_torque")
            .number("preload", preload.number("preload"))
            .number("major", example.input("d"))
            .number("k", example.input("K"))
            .answer();
        example.check("torque", torque.number("torque"));
    }

    /// U. C. Jindal, Machine Design, Example 9-1; formula ISO 898-1
    stress_areas "PB-09" => |example| {
        for (output, pitch) in [("At_coarse", "P_coarse"), ("At_fine", "P_fine")] {
            let pitch = example.input(pitch);
            let thread = call("stress_area_metric").number("major", example.input("d")).number("pitch", pitch).answer();
            example.check(output, thread.number("area"));
        }
    }

    /// A check worked out two ways, not published: M10 x 1.5. The basic profile (ISO 68-1) has d2 = d - 3/4 H and
    /// D1 = d - 5/4 H, H = sqrt(3)/2 P, which the file prints to five decimals.
    stripping_areas "XC-05" => |example| {
        let (d, pitch) = (example.input("d"), example.input("P"));
        let triangle = 3_f64.sqrt() / 2.0 * pitch;
        let thread = call("thread_shear_area")
            .number("engagement", example.input("Le"))
            .number("pitch", pitch)
            .number("major", d)
            .number("pitch_diameter", d - 0.75 * triangle)
            .number("minor", d - 1.25 * triangle)
            .answer();
        example.check("As_external", thread.number("screw"));
        example.check("An_internal", thread.number("nut"));
    }

    /// U. C. Jindal, Machine Design, Example 11-1
    riveted_lap "PB-12" => |example| {
        let plate = |name: &str| {
            call(name)
                .number("d", example.input("d"))
                .number("thickness", example.input("t"))
                .number("width", example.input("p"))
                .number("edge", example.input("d"))
        };
        let strong = 1e12;
        let capacity = plate("pinned_plate_capacity")
            .number("net", example.input("s"))
            .number("shear", strong)
            .number("bearing", strong)
            .answer();
        example.check("tear_load", capacity.number("by_net"));
        let lap = plate("pinned_plate").number("force", capacity.number("by_net")).answer();
        example.check("shear", lap.number("shear"));
        example.check("bearing", lap.number("bearing"));
    }
}

/// Every stress area of the reference table of threads (rules and four public tables, named in its head).
#[test]
fn stress_areas_of_the_thread_table() {
    let mut seen = [0, 0];
    for row in table::rows(include_str!("../reference/threads.csv")) {
        let Some(printed) = row.number("stress_area_mm2") else { continue };
        let figure = |column: &str| row.number(column).unwrap_or_else(|| panic!("no {column}"));
        let thread = |name: &str| {
            let thread = call(name)
                .number("major", figure("major_mm") * 1e-3)
                .number("pitch", figure("pitch_mm") * 1e-3);
            thread.answer().number("area") * 1e6
        };
        let metric = row.text("system").starts_with("ISO metric");
        if !metric && !row.text("system").starts_with("UN") {
            continue;
        }
        let area = if metric { thread("stress_area_metric") } else { thread("stress_area_unified") };
        seen[usize::from(metric)] += 1;
        assert!(
            (area / printed - 1.0).abs() < 0.005,
            "{}: {area} mm2, printed {printed}",
            row.text("designation")
        );
    }
    println!("stress areas compared: {} Unified, {} metric", seen[0], seen[1]);
    assert!(seen[0] > 20 && seen[1] > 20, "{seen:?}");
}

/// ISO 898-1:2013 table 3: the name tells tensile strength / 100 and yield by tensile strength.
#[test]
fn class_names_tell_their_strength() {
    for class in ["4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"] {
        let (hundreds, tenths) = class.split_once('.').expect("two figures");
        let [hundreds, tenths]: [f64; 2] = [hundreds, tenths].map(|figure| figure.parse().expect("a figure"));
        let bolt = call("bolt_class").text("class", class).number("major", 0.012).answer();
        let (proof, yielding, tensile) = (bolt.number("proof"), bolt.number("yield"), bolt.number("uts"));
        assert!((1.0..1.051).contains(&(tensile / (hundreds * 1e8))), "{class}");
        assert!((1.0..1.07).contains(&(yielding / (hundreds * tenths * 1e7))), "{class}");
        assert!((0.87..0.95).contains(&(proof / yielding)), "{class}");
    }
}

/// SAE J429, grade 5: 85 ksi to 1 in, 74 ksi to 1 1/2 in, none above.
#[test]
fn grade_by_size() {
    let proof = |d: &str| call("bolt_class").text("class", "Grade 5").number("major", in_si(d)).outcome();
    let ksi = |answer: Answered| answer.number("proof") / in_si("1 ksi");
    assert!((ksi(proof("1 in").expect("within")) - 85.0).abs() < 1e-9);
    assert!((ksi(proof("1.125 in").expect("within")) - 74.0).abs() < 1e-9);
    let refusal = proof("1.75 in").unwrap_err();
    assert_eq!(refusal.message, "there is no Grade 5 for a diameter of 44.45 mm (1.75 in)");
    let unknown = call("bolt_class").text("class", "8,8").number("major", 0.01).outcome().unwrap_err();
    assert!(unknown.help.contains("\"8.8\", \"9.8\""), "{}", unknown.help);
}

/// The long form is the sum of its parts, and the nut factor 0.2 its usual round figure for friction of about
/// 0.15.
#[test]
fn long_form_of_the_torque() {
    let torque = call("tightening_torque_by_friction")
        .number("preload", 50e3)
        .number("pitch", 2e-3)
        .number("pitch_diameter", 14.701e-3)
        .number("bearing_diameter", 20e-3)
        .number("mu_thread", 0.15)
        .number("mu_head", 0.15)
        .answer();
    let parts = ["torque_pitch", "torque_thread", "torque_head"].map(|part| torque.number(part));
    assert!((parts.iter().sum::<f64>() / torque.number("torque") - 1.0).abs() < 1e-12);
    let factor = torque.number("torque") / (50e3 * 0.016);
    assert!((0.18..0.22).contains(&factor), "{factor}");
}

/// The load on a joint divides by stiffness until the joint opens; then the bolt has it all, and it is said.
#[test]
fn joint_opens() {
    let joint = |load: f64| {
        call("joint_under_load")
            .number("preload", 20e3)
            .number("load", load)
            .number("bolt", 2e8)
            .number("clamped", 8e8)
            .answer()
    };
    let below = joint(24.999e3);
    assert!((below.number("bolt_force") - 25e3).abs() < 1.0 && below.0.warnings.is_empty());
    let above = joint(26e3);
    assert!((above.number("bolt_force") - 26e3).abs() < 1e-9 && above.number("clamp_force") == 0.0);
    assert!(above.0.warnings[0].starts_with("the joint opens at 25 kN (5620 lbf)"), "{:?}", above.0.warnings);
}

/// The forces of a group balance its load: their sum is the force, their moment the moment.
#[test]
fn groups_balance() {
    let distances = [0.05, 0.05, 0.15, 0.25];
    let tilt = call("bolt_group_tilt").number("moment", 900.0).list("distances", &distances).answer();
    let moment: f64 = tilt.list("forces").iter().zip(distances).map(|(force, l)| force * l).sum();
    assert!((moment / 900.0 - 1.0).abs() < 1e-12);
    let twist = call("bolt_group_twist")
        .list("xs", &[0.0, 0.1, 0.1, 0.0])
        .list("ys", &[0.0, 0.0, 0.1, 0.1])
        .number("moment", 400.0)
        .answer();
    let reach = 0.05 * 2_f64.sqrt();
    assert!(twist.list("forces").iter().all(|force| (force * 4.0 * reach / 400.0 - 1.0).abs() < 1e-12));
    let lone = call("bolt_group_twist").list("xs", &[0.0]).list("ys", &[0.0]).number("moment", 1.0).outcome();
    assert_eq!(lone.unwrap_err().message, "a group needs two bolts at different places");
}

/// A thread as long as `thread_engagement` says breaks the screw and strips it at the same pull.
#[test]
fn engagement_is_where_breaking_meets_stripping() {
    for nut_uts in [150e6, 400e6] {
        let thread = |name: &str| {
            call(name)
                .number("pitch", 2e-3)
                .number("major", 16e-3)
                .number("pitch_diameter", 14.701e-3)
                .number("minor", 13.835e-3)
                .number("area", 156.7e-6)
                .number("screw_uts", 400e6)
                .number("nut_uts", nut_uts)
        };
        let engagement = thread("thread_engagement").answer().number("engagement");
        let pull = thread("thread_stripping").number("engagement", engagement).answer();
        let strips = pull.number("screw_strips").min(pull.number("nut_strips"));
        assert!((strips / pull.number("screw_breaks") - 1.0).abs() < 1e-12);
        let short = thread("thread_stripping").number("engagement", engagement * 0.9).answer();
        assert!(short.0.warnings[0].contains("strips before the screw breaks"));
    }
}

/// Issue of a pin that is stronger than the shaft: a warning with both figures, and what to do.
#[test]
fn pin_stronger_than_the_shaft() {
    let guard = |pin: f64| {
        call("shear_pin_guard")
            .number("pin", pin)
            .number("shaft", 0.025)
            .number("strength", 400e6)
            .number("yield", 235e6)
            .answer()
    };
    let thick = guard(0.008);
    assert_eq!(thick.text("first"), "the shaft at the pin's hole");
    assert_eq!(
        thick.0.warnings,
        [
            "the pin is stronger than the shaft at the pin's hole: that gives way at 303 N·m (223.5 ft·lbf), the \
          pin shears only at 502.7 N·m (370.7 ft·lbf); take a thinner or softer pin"
        ]
    );
    let thin = guard(0.004);
    assert_eq!((thin.text("first"), thin.0.warnings.len()), ("the pin", 0));
    assert!(thin.number("margin") > 1.0);
}

/// The rest of the drive is looked at as well, and the scatter of the pins counts.
#[test]
fn weakest_part_beside_the_pin() {
    let guard = |others: &[f64]| {
        call("shear_pin_guard")
            .number("pin", 0.006)
            .number("shaft", 0.04)
            .number("strength", 300e6)
            .number("yield", 235e6)
            .list("others", others)
            .answer()
    };
    assert_eq!(guard(&[500.0, 300.0]).text("first"), "number 2 of the other parts");
    let uncertain = guard(&[360.0]);
    assert_eq!(uncertain.text("first"), "the pin or number 1 of the other parts");
    assert!(uncertain.0.warnings[0].starts_with("the pin does not surely guard the drive"));
    assert_eq!(guard(&[400.0]).text("first"), "the pin");
}
