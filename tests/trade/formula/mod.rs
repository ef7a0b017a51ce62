//! The formula that is printed is the formula that runs: every function against its own formula, run by the engine.
//!
//! Each function is called as its example calls it, and with 200 sets of inputs near those, drawn with a fixed seed and
//! scaled by 0.5 to 2; what it refuses is drawn again. The formula's lines are run by the engine, with dimensions, over
//! the same inputs; every result that they define agrees to 1e-9.

mod inputs;
mod names;

use std::collections::BTreeSet;

use asfound::calc::formula;
use asfound::calc::function::{Absent, Function, Gives};
use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::syntax::{Line, Statement};
use asfound::calc::units::{Settings, Units};
use asfound::calc::value::Value;
use asfound::trade;
use inputs::{Inputs, Seed, calls};
use snapbox::{Assert, Data};

/// Sets of inputs for each function, and how often inputs may be refused for one that is not.
const SETS: usize = 200;
const MOST_REFUSED: usize = 60 * SETS;
/// Relative.
const TOLERANCE: f64 = 1e-9;

/// Calls that reach what no example does: what may be left out, the other words of a text.
const MORE: &[(&str, &str)] = &[
    ("turn_of_nut", "nut = turn_of_nut(preload: 50 kN, pitch: 2 mm, bolt: 500 kN/mm, clamped: 900 kN/mm)"),
    (
        "twist",
        "rod = twist(torque: 250 N*m, length: 1 m, d: 40 mm, bore: 20 mm, material: material(\"S235JR\"))",
    ),
    ("torsion", "rod = torsion(torque: 250 N*m, d: 40 mm, bore: 20 mm)"),
    (
        "shaft_stress",
        "rod = shaft_stress(moment: 90 N*m, torque: 80 N*m, d: 40 mm, bore: 20 mm, axial: 4 kN)",
    ),
    (
        "shaft_diameter",
        "rod = shaft_diameter(torque: 800 N*m, moment: 500 N*m, shear: 60 MPa, torque_shock: 1.2, moment_shock: 1.5, \
         bore_ratio: 0.4)",
    ),
    (
        "shaft_capacity",
        "rod = shaft_capacity(d: 40 mm, bore: 10 mm, shear: 60 MPa, twist: 2 deg, length: 1 m, material: \
         material(\"S235JR\"))",
    ),
    ("shaft_capacity", "rod = shaft_capacity(d: 40 mm, shear: 60 MPa)"),
    (
        "shear_pin_guard",
        "guard = shear_pin_guard(pin: 6 mm, shaft: 40 mm, bore: 8 mm, strength: 300 MPa, yield: 235 MPa, others: \
         [500 N*m, 700 N*m])",
    ),
    (
        "stress_area_unified",
        "bolt = stress_area_unified(major: 0.75 in, pitch: 0.1 in, pitch_diameter: 0.68 in)",
    ),
    (
        "bolt_stiffness",
        "bolt = bolt_stiffness(area: 157 mm^2, length: 50 mm, shank_area: 201 mm^2, shank_length: 30 mm, modulus: \
         206 GPa)",
    ),
    ("bolt_group_tilt", "b = bolt_group_tilt(moment: 1 kN*m, distances: [50 mm, 150 mm], pull: 3 kN)"),
    (
        "bolt_group_twist",
        "b = bolt_group_twist(xs: [-50 mm, 60 mm, 40 mm], ys: [5 mm, 70 mm, -30 mm], across: 1 kN, up: -2 kN, \
         moment: -300 N*m)",
    ),
    ("critical_speed", "w = critical_speed(deflections: [1 mm, 0.7 mm], shaft_deflection: 0.2 mm)"),
    (
        "critical_speed_bare",
        "w = critical_speed_bare(d: 50 mm, bore: 20 mm, span: 2 m, material: material(\"S235JR\"))",
    ),
    (
        "beam_point",
        "b = beam_point(force: 4 kN, span: 2 m, at: 0.7 m, second_moment: 60 cm^4, material: material(\"S235JR\"))",
    ),
    ("box_section", "box = box_section(width: 60 mm, height: 100 mm, wall: 5 mm, corner: 12 mm)"),
    ("box_section", "box = box_section(width: 60 mm, height: 100 mm, wall: 8 mm, corner: 5 mm)"),
    ("round_section", "tube = round_section(d: 100 mm, bore: 60 mm, density: 7200 kg/m^3)"),
    (
        "buckling",
        "strut = buckling(length: 0.5 m, second_moment: 4 cm^4, area: 7 cm^2, modulus: 206 GPa, yield: 235 MPa)",
    ),
    ("eccentric_load", "post = eccentric_load(force: 9 kN, eccentricity: 50 mm, d: 60 mm, bore: 20 mm)"),
    (
        "key_stress",
        "key = key_stress(torque: 20 N*m, d: 20 mm, width: 6 mm, height: 6 mm, length: 25 mm, depth: 2.5 mm)",
    ),
    ("fillet_weld", "w = fillet_weld(force: 90 kN, leg: 8 mm, length: 90 mm, count: 2, craters: true)"),
    ("fillet_weld_load", "w = fillet_weld_load(leg: 8 mm, length: 90 mm, shear: 80 MPa, craters: true)"),
    ("clevis_pin", "pin = clevis_pin(force: 10 kN, d: 20 mm, eye: 20 mm, fork: 10 mm, gap: 1 mm)"),
    (
        "pinned_plate_capacity",
        "rod = pinned_plate_capacity(d: 25 mm, thickness: 12 mm, width: 80 mm, edge: 50 mm, shear: 45 MPa, bearing: \
         180 MPa, net: 75 MPa, tear_out: 40 MPa, planes: 2, count: 2)",
    ),
    ("wall_left", "post = wall_left(d: 100 mm, wall: 10 mm, least: 8 mm, side: \"outside\")"),
    (
        "beam_uniform",
        "b = beam_uniform(load: 1 N/mm, span: 2 m, second_moment: 10 cm^4, modulus: 200 GPa, ends: \"supported\")",
    ),
    (
        "weld_line",
        "w = weld_line(length: 100 mm, along: 4 kN, across: 3 kN, pull: 10 kN, swing: 100 N*m, twist: 90 N*m)",
    ),
    (
        "weld_two_lines",
        "w = weld_two_lines(length: 50 mm, gap: 60 mm, along: 4 kN, across: 3 kN, pull: 10 kN, tilt: 80 N*m, swing: \
         100 N*m, twist: 90 N*m)",
    ),
    (
        "weld_u",
        "w = weld_u(length: 50 mm, gap: 60 mm, along: 4 kN, across: 3 kN, pull: 10 kN, tilt: 80 N*m, swing: 100 \
         N*m, twist: 90 N*m)",
    ),
    (
        "weld_rectangle",
        "w = weld_rectangle(width: 50 mm, height: 60 mm, along: 4 kN, across: 3 kN, pull: 10 kN, tilt: 80 N*m, \
         swing: 100 N*m, twist: 90 N*m)",
    ),
    (
        "weld_round",
        "w = weld_round(d: 50 mm, along: 4 kN, across: 3 kN, pull: 10 kN, tilt: 80 N*m, swing: 100 N*m, twist: 90 \
         N*m)",
    ),
    ("tube_stub", "stub = tube_stub(force: 2 kN, length: 100 mm, d: 60 mm, bore: 50 mm)"),
    (
        "thread_shear_area",
        "m = thread_shear_area(engagement: 16 mm, pitch: 2 mm, major: 16 mm, pitch_diameter: 14.7 mm, minor: 13.8 \
         mm, nut_pitch_diameter: 14.9 mm, angle: 55 deg)",
    ),
    (
        "press_fit",
        "p = press_fit(d: 50 mm, interference: 0.06 mm, length: 60 mm, outer: 90 mm, inner: 20 mm, hub: \
         material(\"GJL-200\"), shaft: material(\"S235JR\"), mu: 0.12, mu_hold: 0.08, roughness_hub: 6 um, \
         roughness_shaft: 4 um)",
    ),
    (
        "interference_to_hold",
        "w = interference_to_hold(d: 60 mm, length: 70 mm, outer: 110 mm, inner: 20 mm, torque: 500 N*m, force: 9 \
         kN, hub: material(\"GJL-200\"), shaft: material(\"S235JR\"), mu: 0.1, roughness_hub: 6 um, roughness_shaft: 4 um)",
    ),
    (
        "shrink_temperatures",
        "w = shrink_temperatures(d: 400 mm, interference: 0.2 mm, clearance: 0.1 mm, hub: material(\"S235JR\"), \
         shaft: material(\"GJL-200\"), room: 10 degC)",
    ),
    (
        "undersize_strength",
        "p = undersize_strength(d: 60 mm, was: 70 mm, inner: 20 mm, torque: 1 kN*m, moment: 2 kN*m, material: material(\"S235JR\"), notch: 1.5)",
    ),
    (
        "bearing_load",
        "p = bearing_load(radial: 1250 N, axial: 625 N, x: 0.56, y: 1.2, e: 0.4, rotation: 1.2)",
    ),
    ("bearing_life", "life = bearing_life(rating: 5590 N, load: 1450 N, kind: \"roller\")"),
    (
        "bearing_life_time",
        "life = bearing_life_time(rating: 41 kN, load: 20 kN, speed: 720 rpm, kind: \"roller\", a1: 0.6, a_iso: 0.8)",
    ),
    ("bearing_rating", "c = bearing_rating(load: 3975 N, speed: 1080 rpm, time: 10000 h, kind: \"roller\")"),
    (
        "bearing_varying_load",
        "m = bearing_varying_load(loads: [3 kN, 4 kN], speeds: [1440 rpm, 720 rpm], shares: [1, 3], kind: \"roller\")",
    ),
    ("bearing_clearance", "gap = bearing_clearance(d: 60 mm, service: \"general\")"),
    (
        "thrust_sharing",
        "t = thrust_sharing(load: 5 kN, stiffness_1: 9817 N/mm, stiffness_2: 4909 N/mm, end_play: 1 mm)",
    ),
    ("gear", "wheel = gear(teeth: 60, diametral_pitch: 8/(1 in))"),
    ("gear_pair", "pair = gear_pair(teeth_1: 25, teeth_2: 60, diametral_pitch: 8/(1 in))"),
    (
        "gear_train",
        "hoist = gear_train(drivers: [12, 16], driven: [36, 64], torque: 54 N*m, speed: 1750 rpm, efficiency: 90 %)",
    ),
    ("sprocket_root", "wheel = sprocket_root(pitch: 19.05 mm, teeth: 18, roller: 12.07 mm)"),
    ("link_chain", "chain = link_chain(bar: 13 mm, grade: \"M\", factor: 5)"),
    ("link_chain_wear", "old = link_chain_wear(pitch: 31 mm, links: 11, length: 349 mm)"),
    ("mass_bar", "bar = mass_bar(d: 50 mm, length: 1 m, material: material(\"S235JR\"))"),
    ("mass_cone", "taper = mass_cone(large: 300 mm, length: 2 m, density: 7200 kg/m^3)"),
    ("mass_ring", "disc = mass_ring(outer: 400 mm, thickness: 50 mm, density: 7200 kg/m^3)"),
    ("sling", "legs = sling(mass: 900 kg, legs: 4, angle: 60 deg, counted: 3)"),
    ("sling", "legs = sling(mass: 900 kg, legs: 2, angle: 50 deg)"),
    (
        "screw_jack",
        "jack = screw_jack(load: 20 kN, arm: 500 mm, mean_d: 36 mm, lead: 6 mm, mu: 0.15, half_angle: 15 deg, collar_mu: 0.1, collar_radius: 30 mm)",
    ),
    (
        "screw_force",
        "jack = screw_force(effort: 200 N, arm: 500 mm, mean_d: 36 mm, lead: 6 mm, mu: 0.15, half_angle: 15 deg, collar_mu: 0.1, collar_radius: 30 mm)",
    ),
    (
        "trailer_load_place",
        "p = trailer_load_place(masses: [220 kg], at: [1.85 m], axle: 2.15 m, load: 540 kg, nose: 7 %)",
    ),
    ("axle_balance", "load = axle_balance(mass: 3000 kg, front: 1.1 m, rear: 1.7 m)"),
    ("tap_drill_by_pitch", "hole = tap_drill_by_pitch(major: 10 mm, pitch: 1.5 mm, thread: 70 %)"),
    ("surface_round", "post = surface_round(d: 300 mm, length: 4 m)"),
    (
        "clamped_stress",
        "rail = clamped_stress(40 K, material: material(\"S235JR\"), gap: 0.1 mm, length: 1 m)",
    ),
    (
        "bars_across_gap",
        "bars = bars_across_gap(length_1: 360 mm, area_1: 1300 mm^2, bar_1: material(\"S235JR\"), length_2: 450 mm, area_2: 1600 mm^2, bar_2: material(\"GJL-200\"), rise: 80 K, gap: 0.1 mm)",
    ),
    (
        "ball_contact",
        "ball = ball_contact(40 N, d: 10 mm, ball: material(\"EN 24\"), other: material(\"S235JR\"), against: 50 mm)",
    ),
    (
        "line_contact",
        "wheel = line_contact(24 kN, length: 20 mm, d: 80 mm, roller: material(\"EN 24\"), other: material(\"S235JR\"))",
    ),
    ("over_wires", "m10 = over_wires(1.5 mm, wire: 0.866 mm, major: 10 mm)"),
];

struct Checked {
    /// Sets of inputs that were not refused.
    sets: usize,
    /// Results held against the formula.
    results: BTreeSet<String>,
    wrong: Vec<String>,
}

fn units() -> Units {
    Units::new(&Settings::default())
}

/// One function with every call of it in its example and above.
fn check(function: &'static Function, all: &[&'static Function], units: &Units) -> Checked {
    let mut checked = Checked { sets: 0, results: BTreeSet::new(), wrong: Vec::new() };
    let more = MORE.iter().filter(|(name, _)| *name == function.name).map(|(_, text)| *text);
    let texts: Vec<&str> = std::iter::once(function.example).chain(more).collect();
    let calls: Vec<_> = texts.iter().flat_map(|text| calls(function, text)).collect();
    let lines =
        formula::read(&text(function)).unwrap_or_else(|fault| panic!("{}: {}", function.name, fault.message));
    let is_needed = |each: &&&'static Function| each.name == function.name || calls_it(&texts, each.name);
    let needed: Vec<&'static Function> = all.iter().filter(is_needed).copied().collect();
    let mut seed = Seed::new(function.name);
    let (mut refused, mut turn) = (0, 0);
    while checked.sets < SETS && refused < MOST_REFUSED && checked.wrong.is_empty() && !calls.is_empty() {
        let (preparation, call) = &calls[turn % calls.len()];
        let mut session = Session::new(&needed);
        for line in preparation {
            let _ = evaluate_line(line, units, &mut session);
        }
        let inputs =
            if turn < calls.len() { call.as_typed() } else { call.drawn(function, &lines, &mut seed) };
        turn += 1;
        match agree(function, &lines, &inputs, &mut session, units, &mut checked) {
            true => checked.sets += 1,
            false => refused += 1,
        }
    }
    checked
}

fn calls_it(texts: &[&str], name: &str) -> bool {
    texts.iter().any(|text| text.contains(&format!("{name}(")))
}

fn text(function: &Function) -> String {
    function.formula.texts().collect::<Vec<_>>().join("\n")
}

/// Whether the function takes these inputs; what disagrees is noted.
fn agree(
    function: &Function,
    lines: &[Line],
    inputs: &Inputs,
    session: &mut Session,
    units: &Units,
    checked: &mut Checked,
) -> bool {
    let mut run = |line: &str| evaluate_line(line, units, session);
    let mut known: BTreeSet<String> = BTreeSet::new();
    for (name, given) in &inputs.given {
        run(&format!("{name} = {given}"))
            .unwrap_or_else(|faults| panic!("{}: {name} = {given}: {faults:?}", function.name));
        known.insert(name.clone());
    }
    let Ok(answer) = run(&format!("answer = {}", inputs.call(function.name))) else { return false };
    let Some(answer) = answer.outcome.value else { return false };
    let fields = fields(function, &answer);
    for parameter in function.parameters.iter().filter(|each| !inputs.has(each.name)) {
        let stands = match parameter.absent {
            Absent::From(text) if inputs::names(text).iter().all(|name| known.contains(name)) => {
                text.to_owned()
            }
            Absent::Number(number) => inputs::si(number, parameter.takes),
            Absent::Words(words) => format!("\"{words}\""),
            Absent::Truth(truth) => truth.to_string(),
            _ => continue,
        };
        if run(&format!("{} = {stands}", parameter.name)).is_ok() {
            known.insert(parameter.name.to_owned());
        }
    }
    let defined: Vec<&str> =
        lines.iter().filter_map(|line| line.defines().map(|name| line.at(name))).collect();
    // What is looked up is taken from the answer.
    for output in function.outputs.iter().filter(|output| !defined.contains(&output.name)) {
        if fields.iter().any(|(name, _)| *name == output.name)
            && function.formula.how().is_some()
            && run(&format!("{} = {}", output.name, read(function, output.name))).is_ok()
        {
            known.insert(output.name.to_owned());
        }
    }
    let mut results: Vec<(String, Value)> = Vec::new();
    for line in lines {
        let Statement::Define { name, .. } = line.statement else { continue };
        if !inputs::used(line).all(|name| known.contains(name)) {
            continue;
        }
        match run(&line.text) {
            Ok(done) => {
                known.insert(line.at(name).to_owned());
                results.retain(|(each, _)| each != line.at(name));
                results.extend(done.outcome.value.map(|value| (line.at(name).to_owned(), value)));
            }
            Err(faults) => {
                let words: Vec<String> =
                    faults.iter().map(|fault| format!("{} {}", fault.message, fault.help)).collect();
                checked.wrong.push(format!(
                    "{}: `{}`: {}\n  for {inputs:?}",
                    function.name,
                    line.text,
                    words.join("; ")
                ));
                return true;
            }
        }
    }
    for (name, value) in fields {
        let Some((_, by_formula)) = results.iter().find(|(each, _)| *each == name) else { continue };
        checked.results.insert(name.clone());
        if !same(by_formula, &value) {
            let told = |value: &Value| format!("{:?}", numbers(value));
            checked.wrong.push(format!(
                "{}: {name} is {} by the formula and {} by the function\n  for {inputs:?}",
                function.name,
                told(by_formula),
                told(&value)
            ));
        }
    }
    true
}

/// How a result is read from the answer.
fn read(function: &Function, output: &str) -> String {
    if function.outputs.len() == 1 { "answer".to_owned() } else { format!("answer.{output}") }
}

fn fields(function: &Function, answer: &Value) -> Vec<(String, Value)> {
    match answer {
        Value::Record(record) if function.outputs.len() > 1 => record.fields.clone(),
        only => vec![(function.outputs[0].name.to_owned(), only.clone())],
    }
}

fn numbers(value: &Value) -> Vec<f64> {
    match value {
        Value::Quantity(quantity) => vec![quantity.value],
        Value::List(list) => list.iter().flat_map(numbers).collect(),
        Value::Truth(truth) => vec![f64::from(u8::from(*truth))],
        Value::Text(text) => text.bytes().map(f64::from).collect(),
        Value::Record(_) | Value::Either(_) => Vec::new(),
    }
}

fn same(here: &Value, there: &Value) -> bool {
    let dimension = |value: &Value| value.quantity().map(|quantity| quantity.dimension);
    let (a, b) = (numbers(here), numbers(there));
    let near = |(a, b): (&f64, &f64)| (a - b).abs() <= TOLERANCE * a.abs().max(b.abs()).max(1e-9);
    dimension(here) == dimension(there) && a.len() == b.len() && a.iter().zip(&b).all(near)
}

#[test]
fn every_formula_runs_as_its_function() {
    let (units, all) = (units(), trade::functions().collect::<Vec<_>>());
    let mut wrong = Vec::new();
    let mut sets = 0;
    for function in &all {
        if function.formula.lines().is_empty() {
            continue;
        }
        let checked = check(function, &all, &units);
        sets += checked.sets;
        if checked.wrong.is_empty() && checked.sets < SETS {
            wrong.push(format!("{}: only {} sets of inputs were not refused", function.name, checked.sets));
        }
        let figures = function.outputs.iter().filter(|output| {
            matches!(output.gives, Gives::Quantity { .. } | Gives::List { .. })
                && !checked.results.contains(output.name)
                && !function.parameters.iter().any(|each| each.name == output.name)
        });
        if function.formula.how().is_none() && checked.wrong.is_empty() {
            wrong.extend(figures.map(|output| format!("{}: no line gives {}", function.name, output.name)));
        }
        wrong.extend(checked.wrong.into_iter().take(1));
    }
    println!("{} functions, {sets} sets of inputs", all.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The functions that look up or search what no formula gives, each with how; the list is kept short knowingly.
#[test]
fn what_is_looked_up_is_listed() {
    let listed: String = trade::functions()
        .filter_map(|function| Some(format!("{}: {}\n", function.name, function.formula.how()?)))
        .collect();
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/trade/formula/looked_up.txt");
    Assert::new().action_env("SNAPSHOTS").eq(listed, Data::read_from(&path, None).raw());
}

/// A formula that differs from its function is found, in one figure as in one dimension.
#[test]
fn a_wrong_formula_is_found() {
    let all: Vec<&'static Function> = trade::functions().collect();
    let lever = all.iter().find(|function| function.name == "mass_ball").expect("a function");
    for (lines, found) in
        [("volume = pi/6*d^3", false), ("volume = pi/6.0001*d^3", true), ("volume = pi/6*d^2", true)]
    {
        let checked = {
            let lines = formula::read(lines).expect("a formula");
            let mut checked = Checked { sets: 0, results: BTreeSet::new(), wrong: Vec::new() };
            let (_, call) = calls(lever, lever.example).remove(0);
            agree(lever, &lines, &call.as_typed(), &mut Session::new(&all), &units(), &mut checked);
            checked
        };
        assert_eq!(!checked.wrong.is_empty(), found, "{lines}: {:?}", checked.wrong);
    }
}
