//! One figure from outside for each function that no worked example of the collection reaches; its source stands beside it.

use asfound::trade::strength;

use super::calling::{Answered, Calling};
use super::worked::{example, in_si};

fn call(name: &str) -> Calling {
    Calling::of(strength::FUNCTIONS, name)
}

/// The output agrees with the printed figure, to half a unit of its last place.
#[track_caller]
fn prints(answer: &Answered, output: &str, figure: &str, last_place: f64) {
    let (number, unit) = figure.split_once(' ').expect("a number and a unit");
    let printed: f64 = number.parse().expect("a number");
    let got = answer.number(output) / in_si(&format!("1 {unit}"));
    assert!(
        (got - printed).abs() <= last_place / 2.0 * (1.0 + 1e-9),
        "{output}: got {got}, printed {figure}"
    );
}

/// Mathalino, Mechanics of Materials, fully restrained beams, case 1 (open table): a load at a from the left, b from the
/// right fixes the ends with P a b^2/L^2 and bends the middle by P b^2 (3 L - 4 b)/(48 E I).
#[test]
fn beam_fixed() {
    let (force, span, second_moment, modulus) = (9e3, 1.6, 12e-8, 205e9);
    let answer = call("beam_fixed")
        .number("force", force)
        .number("span", span)
        .number("second_moment", second_moment)
        .number("modulus", modulus)
        .answer();
    let (a, b) = (span / 2.0, span / 2.0);
    let ends = force * a * b * b / (span * span);
    let middle = force * b * b * (3.0 * span - 4.0 * b) / (48.0 * modulus * second_moment);
    assert!((answer.number("moment") / ends - 1.0).abs() < 1e-12);
    assert!((answer.number("deflection") / middle - 1.0).abs() < 1e-12);
    assert!((answer.number("reaction") - 4500.0).abs() < 1e-9);
}

/// R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design, 9th ed., Example 8-4 (p. 443, read): shank
/// 0.3068 in2 and thread 0.226 in2, 0.75 in each, 30 Mpsi: 5.21 Mlbf/in.
#[test]
fn bolt_stiffness() {
    let answer = call("bolt_stiffness")
        .number("area", in_si("0.226 in**2"))
        .number("length", in_si("0.75 in"))
        .number("shank_area", in_si("0.3068 in**2"))
        .number("shank_length", in_si("0.75 in"))
        .number("modulus", in_si("30e3 ksi"))
        .answer();
    prints(&answer, "stiffness", "5.21e3 kip/in", 10.0);
}

/// The same example: no. 25 cast iron of 14 Mpsi, 1.5 in thick, under a 5/8 in bolt: 8.95 Mlbf/in.
#[test]
fn clamp_stiffness() {
    let answer = call("clamp_stiffness")
        .number("major", in_si("0.625 in"))
        .number("grip", in_si("1.5 in"))
        .number("modulus", in_si("14e3 ksi"))
        .answer();
    prints(&answer, "stiffness", "8.95e3 kip/in", 10.0);
}

/// The same book, problem 8-28 on that joint (stiffnesses 5.21 and 8.95 Mlbf/in and preload 14.4 kip read in Example 8-4; the
/// answer, 0.0481 turns or 17.3 degrees, is from memory): 11 threads to the inch.
#[test]
fn turn_of_nut() {
    let answer = call("turn_of_nut")
        .number("preload", in_si("14.4 kip"))
        .number("pitch", in_si("1 in") / 11.0)
        .number("bolt", in_si("5.21e3 kip/in"))
        .number("clamped", in_si("8.95e3 kip/in"))
        .answer();
    prints(&answer, "turn", "17.3 deg", 0.1);
}

/// V. M. Faires, Design of Machine Elements, problem 941 (published solution, read): 10 kips on a butt weld 0.375 in thick, of
/// 16 ksi and efficiency 0.9, need 1.85 in.
#[test]
fn butt_weld_load() {
    let answer = call("butt_weld_load")
        .number("thickness", in_si("0.375 in"))
        .number("length", in_si("1.85 in"))
        .number("stress", in_si("16 ksi"))
        .number("efficiency", 0.90)
        .answer();
    prints(&answer, "load", "10.0 kip", 0.1);
}

/// Shigley, 9th ed., problem 3-40, model c (read: loads even along the parts, a = 0.5 in, b = 0.75 in, d = 0.5 in, 1000 lbf);
/// its answer, 17.8 kpsi, is from memory.
#[test]
fn clevis_pin() {
    let answer = call("clevis_pin")
        .number("force", in_si("1000 lbf"))
        .number("d", in_si("0.5 in"))
        .number("eye", in_si("0.75 in"))
        .number("fork", in_si("0.5 in"))
        .answer();
    prints(&answer, "bending_stress", "17.8 ksi", 0.1);
}

/// R. L. Mott, Machine Elements in Mechanical Design, ch. 4, problem 1 (published solution, read): 20 ksi and 10 ksi of shear
/// give 24.14, -4.14 and 14.14 ksi.
#[test]
fn combined_stress() {
    let answer =
        call("combined_stress").number("normal", in_si("20 ksi")).number("shear", in_si("10 ksi")).answer();
    prints(&answer, "max_normal", "24.14 ksi", 0.01);
    prints(&answer, "min_normal", "-4.14 ksi", 0.01);
    prints(&answer, "max_shear", "14.14 ksi", 0.01);
}

/// A textbook exercise with its answer, discussed in an open forum (read): 1500 N m through four 8 mm bolts on a circle of
/// 175 mm shear them with 85.3 MPa.
#[test]
fn flange_pins() {
    let answer = call("flange_pins")
        .number("torque", 1500.0)
        .number("pin", 8e-3)
        .number("radius", 87.5e-3)
        .count("count", 4)
        .answer();
    prints(&answer, "shear_stress", "85.3 MPa", 0.1);
}

/// T. H. Wentzell, Machine Design, Example 3.4 (p. 46): 10 hp at 1750 rpm are 360 lbf in; back from that torque.
#[test]
fn power_of_torque() {
    let published = example("SH-01");
    let answer = call("power_of_torque")
        .number("torque", published.published("torque"))
        .number("speed", published.input("speed"))
        .answer();
    assert!((answer.number("power") / published.input("power") - 1.0).abs() < 1e-3);
}

/// Shigley, 9th ed., Example 8-3 (p. 439, read: 3/4 in bolt, preload 25 kip, equation 8-27 with K = 0.2, that is 3750 lbf in).
#[test]
fn preload_of_torque() {
    let answer = call("preload_of_torque")
        .number("torque", in_si("3750 lbf*in"))
        .number("major", in_si("0.75 in"))
        .number("k", 0.2)
        .answer();
    prints(&answer, "preload", "25.0 kip", 0.1);
}

/// A fastener maker's technical data sheet on shear strength (read): 1/4 in bolts of 150 000 psi shear at 4417.2 lbf on
/// 0.04908 in2. Industrial Fasteners Institute, Inch Fastener Standards, 7th ed., p. B-8: 120 000 psi, "reasonably 70 000".
#[test]
fn shear_strength() {
    let strong = call("shear_strength").number("uts", in_si("150 ksi")).answer();
    let sheared = strong.number("usual") * in_si("0.04908 in**2");
    assert!((sheared / in_si("4417.2 lbf") - 1.0).abs() < 1e-4);
    let grade_5 = call("shear_strength").number("uts", in_si("120 ksi")).answer();
    assert!(grade_5.number("holds") < in_si("70 ksi") && in_si("70 ksi") < grade_5.number("breaks"));
}

/// A textbook of machine design, question 7.24 (published solution, read): 191 N m on 45 mm through square keys of 4 mm need
/// 10.72 mm at 70 MPa.
#[test]
fn tangent_keys() {
    let answer = call("tangent_keys")
        .number("torque", 191.0)
        .number("d", 45e-3)
        .number("width", 4e-3)
        .number("length", 10.72e-3)
        .answer();
    prints(&answer, "shear_stress", "70.0 MPa", 0.1);
}

/// J. M. Gere, Mechanics of Materials, Example 5-11 (5-12 in the 5th ed.; reproduced with equation 5-41, read): a pole of 4.0 in
/// and 3.2 in under 1500 lbf: 658 psi.
#[test]
fn tube_stub() {
    let answer = call("tube_stub")
        .number("force", in_si("1500 lbf"))
        .number("length", in_si("1 ft"))
        .number("d", in_si("4 in"))
        .number("bore", in_si("3.2 in"))
        .answer();
    prints(&answer, "shear_stress", "658 psi", 1.0);
}

/// A tube maker's definitions with an example (read): walls of 0.120 in and 0.110 in are an eccentricity of 0.005 in.
#[test]
fn wall_eccentric() {
    let answer = call("wall_eccentric")
        .number("d", in_si("2 in"))
        .number("bore", in_si("1.77 in"))
        .number("offset", in_si("0.005 in"))
        .answer();
    prints(&answer, "most", "0.120 in", 1e-9);
    prints(&answer, "least", "0.110 in", 1e-9);
}

/// Instructor's solution manual to Shigley, 8th ed., problem 9-9 (read): a line of length a has J of a^3/12, three sides of a
/// square 11/12 a^3; here for a = 60 mm.
#[test]
fn weld_line_and_weld_u() {
    let a = 0.06;
    let line = call("weld_line").number("length", a).number("twist", 1.0).answer();
    assert!((line.number("torsion") / (a.powi(3) / 12.0) - 1.0).abs() < 1e-12);
    let three_sides = call("weld_u").number("length", a).number("gap", a).number("twist", 1.0).answer();
    assert!((three_sides.number("torsion") / (11.0 / 12.0 * a.powi(3)) - 1.0).abs() < 1e-12);
}
