//! Shafts and beams against published worked examples.

use asfound::trade::strength;

use super::calling::Calling;
use super::worked::worked_examples;

fn call(name: &str) -> Calling {
    Calling::of(strength::FUNCTIONS, name)
}

/// Second moment of area of a solid round bar.
fn round(d: f64) -> f64 {
    call("round_section").number("d", d).answer().number("second_moment")
}

worked_examples! {
    /// T. H. Wentzell, Machine Design, Example 3.4 (p. 46)
    torque_from_power "SH-01" => |example| {
        let torque = call("torque_of_power")
            .number("power", example.input("power"))
            .number("speed", example.input("speed"))
            .answer()
            .number("torque");
        example.check("torque", torque);
        let torsion = call("torsion").number("torque", torque).number("d", example.input("d")).answer();
        example.check("shear_stress", torsion.number("shear_stress"));
        let twist = call("twist")
            .number("torque", torque)
            .number("length", example.input("length"))
            .number("d", example.input("d"))
            .number("shear_modulus", example.input("G"))
            .answer();
        example.check("twist", twist.number("twist"));
    }

    /// J. M. Gere, Mechanics of Materials, 5th ed., Example 3-1
    solid_bar_in_torsion "SH-02" => |example| {
        let bar = |name| call(name).number("d", example.input("d"));
        let torsion = bar("torsion").number("torque", example.input("torque")).answer();
        example.check("shear_stress", torsion.number("shear_stress"));
        let long = |name| {
            bar(name).number("length", example.input("length")).number("shear_modulus", example.input("G"))
        };
        let twist = long("twist").number("torque", example.input("torque")).answer();
        example.check("twist", twist.number("twist"));
        let capacity = long("shaft_capacity")
            .number("shear", example.input("tau_allow"))
            .number("twist", example.input("twist_allow"))
            .answer();
        example.check("torque_permissible", capacity.number("torque"));
        assert_eq!(capacity.text("governs"), "stress");
    }

    /// J. M. Gere, Mechanics of Materials, 5th ed., Example 3-6
    tube_in_torsion "SH-04" => |example| {
        let torsion = call("torsion")
            .number("torque", example.input("torque"))
            .number("d", example.input("d_outer"))
            .number("bore", example.input("d_inner"))
            .answer();
        example.check("shear_stress", torsion.number("shear_stress"));
    }

    /// J. M. Gere, Mechanics of Materials, 5th ed., Example 3-8
    motor_shaft "SH-05" => |example| {
        let torque = |power: f64| {
            let speed = std::f64::consts::TAU * example.input("frequency");
            call("torque_of_power").number("power", power).number("speed", speed).answer().number("torque")
        };
        let twist = |torque: f64, length: &str| {
            call("twist")
                .number("torque", torque)
                .number("length", example.input(length))
                .number("d", example.input("d"))
                .number("shear_modulus", example.input("G"))
                .answer()
                .number("twist")
        };
        let (first, second) = (torque(example.input("P_A")), torque(example.input("P_C")));
        example.check("torque_AB", first);
        example.check("twist_AC", twist(first, "L_AB") + twist(second, "L_BC"));
    }

    /// U. C. Jindal, Machine Design, Example 3-21: the stress at an inner radius is that at a bore there, the
    /// torque being what the whole section carries.
    stress_inside "SH-06" => |example| {
        let torsion = |d: f64, torque: f64| call("torsion").number("torque", torque).number("d", d).answer();
        let (d, torque) = (example.input("d"), example.input("torque"));
        example.check("tau_surface", torsion(d, torque).number("shear_stress"));
        let inner = 2.0 * example.input("r");
        let core_share = (inner / d).powi(4);
        example.check("tau_at_r", torsion(inner, torque * core_share).number("shear_stress"));
        let twist = call("twist")
            .number("torque", torque)
            .number("length", example.input("length"))
            .number("d", d)
            .number("shear_modulus", example.input("G"))
            .answer();
        example.check("twist", twist.number("twist"));
    }

    /// Sadhu Singh, Machine Design I, Example 6.1 (p. 168)
    old_shaft_code "SH-08" => |example| {
        let allowed = call("shaft_code_stress")
            .number("yield", example.input("Syt"))
            .number("uts", example.input("Sut"))
            .truth("keyway", true)
            .answer()
            .number("shear");
        let (tight, slack) = (example.input("F1"), example.input("F2"));
        let torque = (tight - slack) * example.input("d_A") / 2.0;
        let slack_b = torque / (example.input("d_B") / 2.0) / (example.input("ratio") - 1.0);
        let on_b = slack_b * (1.0 + example.input("ratio"));
        let beam = |name: &str, force: f64| {
            call(name)
                .number("force", force)
                .number("span", example.input("L"))
                .number("second_moment", 1e-7)
                .number("modulus", 2e11)
        };
        let upright = beam("beam_point", tight + slack).answer().number("moment");
        let level = beam("beam_overhang", on_b).number("overhang", example.input("overhang")).answer();
        let moment = upright.hypot(level.number("moment") / 2.0);
        let shaft = call("shaft_diameter")
            .number("torque", torque)
            .number("moment", moment)
            .number("shear", allowed)
            .number("torque_shock", example.input("Kt"))
            .number("moment_shock", example.input("Km"))
            .answer();
        example.check("diameter", shaft.number("d"));
    }

    /// T. H. Wentzell, Machine Design, Example 4.4 (p. 71)
    chain_driven_shaft "SH-10" => |example| {
        let torque = call("torque_of_power")
            .number("power", example.input("power"))
            .number("speed", example.input("speed"))
            .answer()
            .number("torque");
        let beam = call("beam_point")
            .number("force", torque / (example.input("d_sprocket") / 2.0))
            .number("span", example.input("span"))
            .number("second_moment", 1e-7)
            .number("modulus", 2e11)
            .answer();
        let shaft = call("shaft_stress")
            .number("moment", beam.number("moment"))
            .number("torque", torque)
            .number("d", example.input("d"))
            .answer();
        example.check("bending_stress", shaft.number("bending_stress"));
        example.check("max_normal_stress", shaft.number("max_normal"));
    }

    /// T. H. Wentzell, Machine Design, Example 1.2 (p. 13)
    cantilever "SH-11" => |example| {
        let tip = call("cantilever")
            .number("force", example.input("F"))
            .number("length", example.input("L"))
            .number("second_moment", round(example.input("d")))
            .number("modulus", example.input("E"))
            .answer();
        example.check("deflection", tip.number("deflection"));
    }

    /// B. K. Sarkar, Theory of Machines, Illustration 11.11 (p. 297). The book prints
    /// 0.4985/sqrt(deflection), which is g = (2 pi 0.4985)^2 = 9.8105 m/s^2, and the divisor 1.27; both are
    /// handed over. Its weights are those with 9.81.
    three_masses "SH-12" => |example| {
        let (span, modulus) = (example.input("L"), example.input("E"));
        let second_moment = round(example.input("d"));
        let under = |mass: &str, at: &str| {
            call("beam_point")
                .number("force", example.input(mass) * 9.81)
                .number("span", span)
                .number("at", example.input(at))
                .number("second_moment", second_moment)
                .number("modulus", modulus)
                .answer()
                .number("deflection")
        };
        let shaft = call("beam_uniform")
            .number("load", example.input("shaft_weight") / span)
            .number("span", span)
            .number("second_moment", second_moment)
            .number("modulus", modulus)
            .answer();
        let whirl = call("critical_speed")
            .list("deflections", &[under("m1", "x1"), under("m2", "x2"), under("m3", "x3")])
            .number("shaft_deflection", shaft.number("deflection"))
            .number("gravity", (std::f64::consts::TAU * 0.4985).powi(2))
            .number("shaft_divisor", 1.27)
            .answer();
        example.check("critical_speed", whirl.number("speed"));
    }
}

/// Dunkerley is a lower and Rayleigh an upper bound; one mass alone: both the same.
#[test]
fn bounds_of_the_critical_speed() {
    let dunkerley = |list: &[f64]| call("critical_speed").list("deflections", list).answer().number("speed");
    let rayleigh = |masses: &[f64], list: &[f64]| {
        call("critical_speed_rayleigh")
            .list("masses", masses)
            .list("deflections", list)
            .answer()
            .number("speed")
    };
    let (one, other) = (dunkerley(&[1e-3]), rayleigh(&[20.0], &[1e-3]));
    assert!((one / other - 1.0).abs() < 1e-12);
    // Two equal masses at a quarter and three quarters of a span: 3/256 and 7/768 of F L^3/(E I).
    let (own, cross) = (3.0 / 256.0, 7.0 / 768.0);
    let unit = 1e-3;
    assert!(dunkerley(&[own * unit; 2]) < rayleigh(&[10.0; 2], &[(own + cross) * unit; 2]));
}

/// A bare shaft: Dunkerley's divisor is exact for a uniform shaft, so both functions agree.
#[test]
fn bare_shaft_two_ways() {
    let (d, span, modulus, density) = (0.05, 2.0, 206e9, 7850.0);
    let bare = call("critical_speed_bare")
        .number("d", d)
        .number("span", span)
        .number("modulus", modulus)
        .number("density", density)
        .number("running", 155.0)
        .answer();
    let section = call("round_section").number("d", d).number("density", density).answer();
    let sag = call("beam_uniform")
        .number("load", section.number("mass_per_length") * 9.80665)
        .number("span", span)
        .number("second_moment", section.number("second_moment"))
        .number("modulus", modulus)
        .answer();
    let none = 1e-12;
    let whirl = call("critical_speed")
        .list("deflections", &[none])
        .number("shaft_deflection", sag.number("deflection"))
        .answer();
    assert!((whirl.number("speed") / bare.number("speed") - 1.0).abs() < 1e-6);
    assert!(bare.0.warnings[0].contains("too near the critical speed"), "{:?}", bare.0.warnings);
}

/// Combined stresses agree however they are asked for; an equivalent torque gives back the same largest
/// shear.
#[test]
fn sized_and_checked() {
    let shaft =
        call("shaft_diameter").number("torque", 500.0).number("moment", 800.0).number("shear", 40e6).answer();
    let stress =
        |d: f64| call("shaft_stress").number("torque", 500.0).number("moment", 800.0).number("d", d).answer();
    assert!((stress(shaft.number("d")).number("max_shear") / 40e6 - 1.0).abs() < 1e-12);
    let von_mises = stress(shaft.number("d_von_mises")).number("von_mises");
    assert!((von_mises / (40e6 * 3_f64.sqrt()) - 1.0).abs() < 1e-12);
}

/// Euler and Johnson meet where the slenderness is sqrt(2 pi^2 E/yield), at half the yield load.
#[test]
fn columns_meet() {
    let section = call("round_section").number("d", 0.03).answer();
    let strut = |length: f64| {
        call("buckling")
            .number("length", length)
            .number("second_moment", section.number("second_moment"))
            .number("area", section.number("area"))
            .number("modulus", 206e9)
            .number("yield", 235e6)
            .answer()
    };
    let meet = (2.0 * 206e9 / 235e6_f64).sqrt() * std::f64::consts::PI * 0.03 / 4.0;
    let (stout, slender) = (strut(meet * 0.999_999), strut(meet * 1.000_001));
    assert_eq!((stout.text("rule"), slender.text("rule")), ("Johnson", "Euler"));
    assert!((stout.number("load") / slender.number("load") - 1.0).abs() < 1e-5);
    assert!((stout.number("load") / (section.number("area") * 235e6 / 2.0) - 1.0).abs() < 1e-5);
}

/// What cannot be is refused in words with the figures.
#[test]
fn refused_in_words() {
    let bored =
        call("torsion").number("torque", 10.0).number("d", 0.05).number("bore", 0.06).outcome().unwrap_err();
    assert_eq!(
        bored.message,
        "the bore of 60 mm (2.362 in) is not smaller than the outside diameter of 50 mm (1.969 in)"
    );
    let bare =
        call("twist").number("torque", 10.0).number("length", 1.0).number("d", 0.05).outcome().unwrap_err();
    assert_eq!(bare.message, "neither `shear_modulus` nor `material` is given");
    let lone = call("shaft_diameter").number("shear", 40e6).outcome().unwrap_err();
    assert_eq!(lone.message, "neither a torque nor a bending moment is given");
    let lists = call("critical_speed_rayleigh").list("masses", &[1.0, 2.0]).list("deflections", &[1e-3]);
    assert_eq!(lists.outcome().unwrap_err().message, "`deflections` has 1 figures where 2 are wanted");
}
