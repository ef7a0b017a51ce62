//! Welds against published worked examples.

use asfound::calc::function::Said;
use asfound::trade::strength;

use super::calling::{Answered, Calling};
use super::worked::{Example, worked_examples};

fn call(name: &str) -> Calling {
    Calling::of(strength::FUNCTIONS, name)
}

/// Throat and leg for the worst point of a group.
fn size(group: &Answered, example: &Example) -> Answered {
    call("weld_size")
        .number("line_load", group.number("line_load"))
        .number("allowable", example.input("tau"))
        .answer()
}

/// A group with a load at a distance from its plane, put together by maximum shear, as Bhandari does.
fn bracket(group: Calling, example: &Example) {
    let (force, arm) = (example.input("P"), example.input("e"));
    let group =
        group.number("across", force).number("tilt", force * arm).text("method", "maximum shear").answer();
    let weld = size(&group, example);
    example.check("throat", weld.number("throat"));
    example.check("leg", weld.number("leg"));
}

worked_examples! {
    /// U. C. Jindal, Machine Design, Example 12-1
    four_fillets "WE-01" => |example| {
        let weld = call("fillet_weld")
            .number("force", example.input("P"))
            .number("leg", example.input("leg"))
            .number("length", example.input("length"))
            .count("count", 4)
            .answer();
        example.check("shear_stress", weld.number("shear_stress"));
    }

    /// U. C. Jindal, Machine Design, Example 12-3
    two_fillets "WE-02" => |example| {
        let weld = call("fillet_weld_load")
            .number("leg", example.input("leg"))
            .number("length", example.input("length"))
            .number("shear", example.input("tau"))
            .count("count", 2)
            .answer();
        example.check("load", weld.number("load"));
    }

    /// V. B. Bhandari, Design of Machine Elements, 3rd ed., Example 8.9
    load_in_the_plane "WE-03" => |example| {
        let group = call("weld_two_lines")
            .number("length", example.input("length"))
            .number("gap", example.input("width"))
            .number("across", example.input("P"))
            .number("twist", example.input("P") * example.input("e"))
            .answer();
        example.check("throat", size(&group, example).number("throat"));
    }

    /// V. B. Bhandari, Design of Machine Elements, 3rd ed., Example 8.15
    all_round_a_bar "WE-04" => |example| {
        bracket(call("weld_round").number("d", example.input("d")), example);
    }

    /// V. B. Bhandari, Design of Machine Elements, 3rd ed., Example 8.12
    two_level_welds "WE-06" => |example| {
        let (length, gap) = (example.input("length"), example.input("width"));
        bracket(call("weld_two_lines").number("length", length).number("gap", gap), example);
    }

    /// V. B. Bhandari, Design of Machine Elements, 3rd ed., Example 8.14
    all_round_a_rectangle "WE-08" => |example| {
        let group =
            call("weld_rectangle").number("width", example.input("b")).number("height", example.input("d"));
        bracket(group, example);
    }

    /// I. J. Levinson, Statics and Strength of Materials, Example 15.2
    angle "WE-09" => |example| {
        let welds = call("angle_welds")
            .number("force", example.input("P"))
            .number("line_load", example.input("p"))
            .number("y1", example.input("y1"))
            .number("y2", example.input("y2"))
            .answer();
        example.check("L1", welds.number("length1"));
        example.check("L2", welds.number("length2"));
    }
}

/// The line properties of the usual table (formula sheet, section 5; in Bhandari's and Jindal's books).
#[test]
fn line_properties() {
    let (l, w) = (0.05, 0.08);
    let lines = call("weld_two_lines").number("length", l).number("gap", w).number("pull", 1.0).answer();
    let rectangle =
        call("weld_rectangle").number("width", l).number("height", w).number("pull", 1.0).answer();
    let round = call("weld_round").number("d", w).number("pull", 1.0).answer();
    let expected = [
        (&lines, 2.0 * l, 2.0 * l * (w / 2.0).powi(2), l * w * w / 2.0 + l.powi(3) / 6.0),
        (&rectangle, 2.0 * (l + w), l * w * w / 2.0 + w.powi(3) / 6.0, (l + w).powi(3) / 6.0),
        (
            &round,
            std::f64::consts::PI * w,
            std::f64::consts::PI * (w / 2.0).powi(3),
            std::f64::consts::TAU * (w / 2.0).powi(3),
        ),
    ];
    for (group, length, bending, torsion) in expected {
        assert!((group.number("length") / length - 1.0).abs() < 1e-12);
        assert!((group.number("bending") / bending - 1.0).abs() < 1e-12);
        assert!((group.number("torsion") / torsion - 1.0).abs() < 1e-12);
    }
}

/// Example 8.15 by the vector sum needs about twice the throat (10.2 against 5.13 mm), so the methods are in
/// order.
#[test]
fn methods_differ_as_the_sheet_says() {
    let throat = |method: &str| {
        let group = call("weld_round")
            .number("d", 0.05)
            .number("across", 10e3)
            .number("tilt", 2e3)
            .text("method", method)
            .answer();
        assert_eq!(group.0.remarks, [Said::from(format!("put together by {method}"))]);
        group.number("line_load") / 100e6
    };
    assert!((throat("vector sum") * 1e3 - 10.2).abs() < 0.05);
    assert!((throat("maximum shear") * 1e3 - 5.13).abs() < 0.005);
    assert!(throat("directional") > throat("vector sum"));
}

/// A ring of many lines behaves as the round weld does: the closed form and the lines are two ways to the
/// same.
#[test]
fn round_weld_between_squares() {
    let loads = |group: Calling| group.number("tilt", 2e3).answer().number("line_load");
    let round = loads(call("weld_round").number("d", 0.1));
    let inside = loads(
        call("weld_rectangle").number("width", 0.1 / 2_f64.sqrt()).number("height", 0.1 / 2_f64.sqrt()),
    );
    let outside = loads(call("weld_rectangle").number("width", 0.1).number("height", 0.1));
    assert!(outside < round && round < inside, "{outside} {round} {inside}");
}

/// EN 1993-1-8:2005, 4.5.3.3 with table 4.1: S235, S275 and S355 give 208, 223 and 241 MPa (public tables of
/// a code reference print the same).
#[test]
fn eurocode_strengths() {
    for (uts, beta, printed) in [(360e6, 0.8, 208.0), (410e6, 0.85, 223.0), (470e6, 0.9, 241.0)] {
        let weld = call("weld_strength").number("uts", uts).number("beta", beta).answer();
        assert!((weld.number("simplified") / 1e6 - printed).abs() < 0.5);
    }
}

/// End craters, efficiency and a weld without a load.
#[test]
fn cautions_of_welds() {
    let fillet = |length: f64| {
        call("fillet_weld")
            .number("force", 1e3)
            .number("leg", 8e-3)
            .number("length", length)
            .truth("craters", true)
    };
    let half = fillet(0.032).answer().number("shear_stress") / fillet(0.048).answer().number("shear_stress");
    assert!((half - 2.0).abs() < 1e-12);
    assert!(fillet(0.016).outcome().unwrap_err().message.starts_with("the two end craters of 16 mm"));
    let butt = call("butt_weld").number("force", 1e3).number("thickness", 8e-3).number("length", 0.1);
    let refusal = butt.number("efficiency", 1.2).outcome().unwrap_err();
    assert_eq!(refusal.message, "a joint is not stronger than its plate");
    let idle = call("weld_round").number("d", 0.05).outcome().unwrap_err();
    assert_eq!(idle.message, "the weld has no load");
    let method = call("weld_round").number("d", 0.05).number("pull", 1.0).text("method", "guess").outcome();
    assert!(method.unwrap_err().help.contains("\"vector sum\", \"maximum shear\" or \"directional\""));
}
