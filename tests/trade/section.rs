//! Sections against finite elements (PyPI `sectionproperties` 3.10.2; the table says how it was made).

use asfound::trade::strength;
use asfound::trade::table::{self, Row};

use super::calling::{Answered, Calling};

/// The columns of the table, the outputs they hold, and how close they must be: polygons stand in for circles
/// there.
const EXACT: [(&str, &str, f64); 4] = [
    ("area", "area", 1e-4),
    ("upright", "second_moment", 1e-4),
    ("modulus", "section_modulus", 1e-4),
    ("torsion", "torsion_constant", 0.0),
];
const BOTH_AXES: [(&str, &str, f64); 2] =
    [("flat", "second_moment_flat", 1e-4), ("modulus_flat", "section_modulus_flat", 1e-4)];
const CENTROID: [(&str, &str, f64); 2] =
    [("centroid", "centroid", 1e-9), ("centroid_side", "centroid_side", 1e-9)];

/// How close the torsion constant is: closed forms, a series, and for a box the thin-wall formula.
fn torsion_rtol(shape: &str) -> f64 {
    match shape {
        "round" => 1e-4,
        "rectangle" => 2e-3,
        _ => 0.03,
    }
}

fn answer(row: &Row) -> Answered {
    let name = format!("{}_section", row.text("shape"));
    let sizes = ["d", "bore", "height", "width", "web", "flange", "wall", "corner"];
    let given = sizes.iter().filter_map(|size| Some((*size, row.number(size)?)));
    given
        .fold(Calling::of(strength::FUNCTIONS, &name), |call, (size, mm)| call.number(size, mm * 1e-3))
        .answer()
}

/// Millimetres to the power that a column has.
fn scale(column: &str) -> f64 {
    let power = match column {
        "area" => 2,
        "modulus" | "modulus_flat" => 3,
        "centroid" | "centroid_side" => 1,
        _ => 4,
    };
    1e-3_f64.powi(power)
}

#[test]
fn every_section_of_the_table() {
    let mut figures = 0;
    let rows = table::rows(include_str!("../reference/sections.csv"));
    for row in &rows {
        let shape = row.text("shape");
        let answer = answer(row);
        let mut columns = EXACT.to_vec();
        columns.extend(BOTH_AXES.iter().filter(|_| !["round", "rectangle"].contains(&shape)));
        columns.extend(CENTROID.iter().filter(|_| !["round", "rectangle", "box"].contains(&shape)));
        for (column, output, rtol) in columns {
            let Some(wanted) = row.number(column) else { continue };
            let got = answer.number(output) / scale(column);
            let rtol = if column == "torsion" { torsion_rtol(shape) } else { rtol };
            assert!((got / wanted - 1.0).abs() <= rtol, "{shape} {column}: {got}, wanted {wanted}");
            figures += 1;
        }
    }
    println!("{} sections, {figures} figures", rows.len());
    assert!(rows.len() >= 22 && figures >= 100);
}

/// EN 10210-2 prints for 50 x 50 x 5 (corner radius 1.5 t outside, 1.0 t inside) 8.73 cm2 and 28.9 cm4; with
/// the corners that this room takes (inside = outside less the wall) it differs by under 2 %. From memory.
#[test]
fn square_hollow_section() {
    let square = Calling::of(strength::FUNCTIONS, "box_section")
        .number("width", 0.05)
        .number("height", 0.05)
        .number("wall", 0.005)
        .number("corner", 0.0075)
        .answer();
    assert!((square.number("area") * 1e4 / 8.73 - 1.0).abs() < 0.02);
    assert!((square.number("second_moment") * 1e8 / 28.9 - 1.0).abs() < 0.025);
}

/// Sections that cannot be.
#[test]
fn refused() {
    let thick = Calling::of(strength::FUNCTIONS, "box_section").number("width", 0.05).number("height", 0.1);
    let refusal = thick.number("wall", 0.03).outcome().unwrap_err();
    assert_eq!(
        refusal.message,
        "the wall of 30 mm (1.181 in) is not smaller than half the smaller side of 25 mm (0.9843 in)"
    );
}
