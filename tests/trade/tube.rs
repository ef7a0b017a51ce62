//! Tubes and hollow sections against published worked examples.

use asfound::trade::strength;

use super::calling::Calling;
use super::worked::worked_examples;

fn call(name: &str) -> Calling {
    Calling::of(strength::FUNCTIONS, name)
}

fn section(d: f64, bore: f64) -> super::calling::Answered {
    call("round_section").number("d", d).number("bore", bore).answer()
}

worked_examples! {
    /// EN 10210-2, section tables
    hollow_section "TU-01" => |example| {
        let d = example.input("d_outer");
        let tube = call("round_section")
            .number("d", d)
            .number("bore", d - 2.0 * example.input("t"))
            .number("density", example.input("rho"))
            .answer();
        example.check("area", tube.number("area"));
        example.check("I", tube.number("second_moment"));
        example.check("W_el", tube.number("section_modulus"));
        example.check("mass_per_m", tube.number("mass_per_length"));
    }

    /// S. S. Bhavikatti, Mechanics of Solids, Example 10.2 (p. 320)
    pipe_as_a_beam "TU-03" => |example| {
        let d = example.input("d_outer");
        let pipe = section(d, d - 2.0 * example.input("t"));
        let unit = call("beam_point")
            .number("force", 1.0)
            .number("span", example.input("L"))
            .number("second_moment", pipe.number("second_moment"))
            .number("modulus", 2e11)
            .answer();
        let stress_of_one_newton = unit.number("moment") / pipe.number("section_modulus");
        example.check("load", example.input("s") / stress_of_one_newton);
    }

    /// J. M. Gere, Mechanics of Materials, 5th ed., Example 1-1
    tube_post "TU-04" => |example| {
        let tube = section(example.input("d_outer"), example.input("d_inner"));
        let post = call("axial_stress")
            .number("force", example.input("P"))
            .number("area", tube.number("area"))
            .number("length", example.input("L"))
            .number("modulus", 2e11)
            .answer();
        example.check("stress", post.number("stress"));
        let measured = call("stretch")
            .number("change", example.input("shortening"))
            .number("length", example.input("L"))
            .number("modulus", 2e11)
            .answer();
        example.check("strain", measured.number("strain"));
    }

    /// R. C. Hibbeler, Mechanics of Materials, Example 5.3: two pulls, at 0.3 and 0.2 m, 0.5 m together
    pipe_under_a_wrench "TU-05" => |example| {
        let torsion = call("torsion")
            .number("torque", example.input("F") * example.input("arm"))
            .number("d", example.input("d_outer"))
            .number("bore", example.input("d_inner"))
            .answer();
        example.check("tau_outer", torsion.number("shear_stress"));
        example.check("tau_inner", torsion.number("shear_stress_bore"));
    }

    /// U. C. Jindal, Machine Design, Example 3-11
    thin_shell "TU-06" => |example| {
        let shell = call("shell_wall")
            .number("pressure", example.input("p"))
            .number("d", example.input("D"))
            .number("stress", example.input("s"))
            .number("efficiency", example.input("efficiency"))
            .answer();
        example.check("t", shell.number("wall"));
    }

    /// T. H. Wentzell, Machine Design, Example 4.1 (p. 66)
    load_off_the_centre "TU-08" => |example| {
        let post = call("eccentric_load")
            .number("force", example.input("F"))
            .number("eccentricity", example.input("e"))
            .number("d", example.input("d"))
            .answer();
        example.check("stress", post.number("stress_near"));
    }
}

/// The wall that `shell_wall` gives has the allowed hoop stress; thin and thick theory meet for a thin wall.
#[test]
fn shells_agree() {
    let (pressure, d) = (1.2e6, 1.5);
    let wall =
        call("shell_wall").number("pressure", pressure).number("d", d).number("stress", 100e6).answer();
    let stress = call("hoop_stress")
        .number("pressure", pressure)
        .number("d", d)
        .number("wall", wall.number("wall"))
        .answer();
    assert!((stress.number("hoop") / 100e6 - 1.0).abs() < 1e-12);
    let bore = d - 2.0 * wall.number("wall");
    let thick =
        call("thick_wall").number("pressure", pressure).number("bore", bore).number("stress", 100e6).answer();
    assert!((thick.number("wall") / wall.number("wall") - 1.0).abs() < 0.02);
}

/// The pressures of a spigot hold its load: force and moment come back when they are summed over the socket.
#[test]
fn spigot_in_balance() {
    let (force, arm, d, length) = (5e3, 0.3, 0.08, 0.2);
    let post = call("spigot")
        .number("force", force)
        .number("arm", arm)
        .number("d", d)
        .number("length", length)
        .answer();
    let (peak, inside) = (post.number("peak"), post.number("peak_inside"));
    let steps = 10_000;
    let (mut sum, mut moment) = (0.0, 0.0);
    for step in 0..steps {
        let at = (f64::from(step) + 0.5) / f64::from(steps);
        let share = (peak - (peak + inside) * at) * d * length / f64::from(steps);
        sum += share;
        moment += share * at * length;
    }
    assert!((sum / force - 1.0).abs() < 1e-6, "{sum}");
    assert!((moment / (-force * arm) - 1.0).abs() < 1e-6, "{moment}");
}

/// A tube that lost nothing is as new; a wall lost outside costs more strength than the same lost inside.
#[test]
fn walls_that_are_left() {
    let left = |least: f64, side: &str| {
        let tube =
            call("wall_left").number("d", 0.1).number("wall", 0.01).number("least", least).text("side", side);
        tube.answer().number("strength_left")
    };
    assert!((left(0.01, "inside") - 1.0).abs() < 1e-12 && (left(0.01, "outside") - 1.0).abs() < 1e-12);
    assert!(left(0.008, "outside") < left(0.008, "inside"));
    let gone =
        call("wall_left").number("d", 0.1).number("wall", 0.06).number("least", 0.01).outcome().unwrap_err();
    assert!(gone.message.starts_with("twice the wall of 120 mm"), "{}", gone.message);
    let odd = call("wall_left").number("d", 0.1).number("wall", 0.01).number("least", 0.011).answer();
    assert!(odd.0.warnings[0].contains("more than the wall when new"));
}

/// EN 1993-1-1, table 5.2: the limits 50, 70, 90 times 235 MPa/yield.
#[test]
fn classes_of_tubes() {
    let class = |slenderness: f64, strength: f64| {
        let wall = 0.1 / slenderness;
        let tube =
            call("tube_class").number("d", 0.1).number("bore", 0.1 - 2.0 * wall).number("yield", strength);
        tube.answer().text("class").to_owned()
    };
    let classes = [49.9, 50.1, 70.1, 90.1].map(|slenderness| class(slenderness, 235e6));
    assert_eq!(classes, ["1", "2", "3", "4"]);
    assert_eq!(class(49.9, 355e6), "3");
}

#[test]
fn ovality_the_wrong_way_round() {
    let refusal = call("ovality").number("largest", 0.099).number("smallest", 0.101).outcome().unwrap_err();
    assert_eq!(
        refusal.message,
        "the largest diameter, 99 mm (3.898 in), is less than the smallest, 101 mm (3.976 in)"
    );
    let swollen =
        call("thick_wall").number("pressure", 60e6).number("bore", 0.1).number("stress", 50e6).outcome();
    assert!(swollen.unwrap_err().message.starts_with("no wall holds 60 MPa"));
}
