//! Whatever a person can type: a clear message, no panic, no hang.

use asfound::calc::fault::Fault;
use asfound::calc::literal::Literal;
use asfound::calc::sheet::{Block, Evaluation, Scope, SourceLine, evaluate};
use asfound::calc::uncertainty::Sources;
use asfound::calc::units::{Settings, Units};
use proptest::prelude::*;

use super::functions;

fn units() -> Units {
    Units::new(&Settings::default())
}

fn scope(id: &str, text: &str) -> Scope {
    let mut offset = 0;
    let lines = text.lines().map(|line| {
        let start = offset;
        offset += line.len() + 1;
        SourceLine { text: line.to_owned(), offset: start }
    });
    Scope { id: id.to_owned(), blocks: vec![Block { lines: lines.collect() }], ..Scope::default() }
}

fn run(text: &str) -> Evaluation {
    evaluate(&[scope("note", text)], &units(), functions::ALL, Sources::new())
}

#[track_caller]
fn fault(text: &str) -> Fault {
    let faults = run(text).faults;
    assert!(!faults.is_empty(), "no fault: {}", &text[..text.len().min(80)]);
    faults[0].clone()
}

#[track_caller]
fn code(text: &str, expected: &str) {
    let fault = fault(text);
    assert_eq!(fault.code.word(), expected, "{}", fault.message);
    assert!(!fault.message.is_empty() && !fault.help.is_empty());
}

/// Each slip, the code, the message and a piece of the help.
const SLIPS: &[[&str; 4]] = &[
    ["a = 1 mm / 0", "calc-arithmetic", "this divisor is zero", "how the divisor came about"],
    ["a = 1 / (2 mm - 2 mm)", "calc-arithmetic", "this divisor is zero", "how the divisor came about"],
    ["a = 0 / 0", "calc-arithmetic", "this divisor is zero", "how the divisor came about"],
    ["a = 1e308 * 10", "calc-arithmetic", "the result is too large to calculate with", "about 1e308"],
    ["a = 0 * (1e308 * 10)", "calc-arithmetic", "the result is too large to calculate with", "about 1e308"],
    ["a = 7e400", "calc-literal", "this number is too large to calculate with", "about 1e308"],
    ["a = nan", "calc-unknown-name", "nothing is called `nan` here", "Define it"],
    ["a = inf - inf", "calc-unknown-name", "nothing is called `inf` here", "Define it"],
    ["a = sqrt(-1)", "calc-arithmetic", "this is the root of a negative value", "signs"],
    ["a = sqrt(2 mm^2 - 3 mm^2)", "calc-arithmetic", "this is the root of a negative value", "signs"],
    ["a = (-8)^(1/3)", "calc-arithmetic", "the base of this power is negative", "its base can't be negative"],
    ["a = (5 m)^(1/7) + 5 m", "calc-dimension", "adding length^(1/7) and a length does not work", "one kind"],
    ["f(x) = f(x - 1) + 1", "calc-circle", "`f` needs itself", "a function can't call itself"],
    ["a = a + 1", "calc-circle", "`a` needs itself", "from other values"],
    ["f(x) = g(x)\ng(x) = f(x)", "calc-circle", "these need each other: f → g → f", "without the others"],
    ["m = 3\na = 5 m", "calc-name-is-unit", "`m` is read as the unit, but is also a name here", "rename `m`"],
    [
        "a = 2 - 5/16 in",
        "calc-dimension",
        "subtracting a plain number and a length does not work",
        "`2 5/16 in`",
    ],
    [
        "a = 3 - 2 5/16 in",
        "calc-dimension",
        "subtracting a plain number and a length does not work",
        "`3 in - 2 5/16 in`",
    ],
    [
        "d = 5 in\na = d/2-5/16 in",
        "calc-literal",
        "this may be a mixed number or a difference",
        "blanks round",
    ],
    ["a = 5' - 3\"", "calc-literal", "this dash may join feet and inches, or subtract", "`5 ft 3 in`"],
    ["a = 5 ft-3 in", "calc-literal", "this dash may join feet and inches, or subtract", "`5 ft - 3 in`"],
    ["a = 8/1 in", "calc-literal", "this is no fraction: which is meant?", "`8 1/in`"],
    ["a = 30 psia", "calc-literal", "`psia` is not a unit", "write `psi`"],
    ["a = 30 psig", "calc-literal", "`psig` is not a unit", "`+ 1 atm`"],
    ["a = 100 lb to lbf", "calc-dimension", "`lbf` is not a unit for a mass", "`* g_n`"],
    ["a = 100 lbf + 50 lb", "calc-dimension", "adding a force and a mass does not work", "`* g_n`"],
    [
        "a = 3 psi - 2 lb/in^2",
        "calc-dimension",
        "subtracting a stress or pressure and mass / length^2 does not work",
        "`lbf`",
    ],
    ["check 100 lb <= 50 lbf", "calc-dimension", "comparing a mass and a force does not work", "`lbf`"],
    ["a = 5 mm + 3 kg", "calc-dimension", "adding a length and a mass does not work", "one kind"],
    ["a = 20 degC + 5 degC", "calc-temperature", "adding two temperatures does not work", "`20 degC + 5 K`"],
];

#[test]
fn every_slip_has_its_words() {
    for [text, code, message, help] in SLIPS {
        let fault = fault(text);
        assert_eq!((fault.code.word(), fault.message.as_str()), (*code, *message), "{text}");
        assert!(fault.help.contains(help), "{text}: {}", fault.help);
    }
}

/// Every formula that a help text offers can be worked out.
#[test]
fn help_that_is_followed_works() {
    let mut count = 0;
    for [text, _, _, _] in SLIPS {
        let help = fault(text).help;
        let formulas =
            help.split('`').skip(1).step_by(2).filter(|piece| {
                piece.starts_with(|first: char| first.is_ascii_digit()) && !piece.ends_with('…')
            });
        for formula in formulas {
            let faults = run(&format!("a = {formula}")).faults;
            assert!(faults.is_empty(), "{text}: {formula}: {faults:?}");
            count += 1;
        }
    }
    assert!(count >= 10, "{count}");
    for composed in ["100 lb * g_n to lbf", "30 psi + 1 atm to psi", "3 psi - 2 lbf/in^2"] {
        assert_eq!(run(&format!("a = {composed}")).faults, [], "{composed}");
    }
}

/// Dashes without end are read in one go.
#[test]
fn feet_and_inches_without_end() {
    let many = format!("a = {}", "5'-".repeat(6_000));
    assert!(!run(&many).faults.is_empty());
    let more = format!("a = {}3\"", "5' ".repeat(6_000));
    assert!(!run(&more).faults.is_empty());
}

#[test]
fn nesting_without_end() {
    code(&format!("a = {}1{}", "(".repeat(10_000), ")".repeat(10_000)), "calc-limit");
    code(&format!("a = {}1", "(".repeat(5_000)), "calc-limit");
    code(&format!("a = {}1", "-".repeat(10_000)), "calc-limit");
    code(&format!("a = {}1", "2^".repeat(5_000)), "calc-limit");
    code(&format!("a = {}true", "not ".repeat(4_000)), "calc-limit");
    code(&format!("a = {}", "if true then 1 else ".repeat(900)), "calc-limit");
    code(&format!("a = {}1{}", "sqrt(".repeat(3_000), ")".repeat(3_000)), "calc-limit");
    code(&format!("a = {}1{}", "[".repeat(9_000), "]".repeat(9_000)), "calc-limit");
    code(&format!("a = 1{}", " + 1".repeat(4_000)), "calc-limit");
    code(&format!("a = x{}", ".f".repeat(4_000)), "calc-limit");
}

#[test]
fn a_line_of_a_megabyte() {
    code(&format!("a = 1{}", "0".repeat(1_000_000)), "calc-limit");
    code(&"x".repeat(1_000_000), "calc-limit");
    let many = format!("a = (1\n{}", "+ 1\n".repeat(100_000));
    assert!(!run(&many).faults.is_empty());
}

#[test]
fn numbers_out_of_range() {
    code(&format!("a = {}", "7".repeat(400)), "calc-literal");
    code("a = 1e999", "calc-literal");
    code("a = 1e308 * 10", "calc-arithmetic");
    code("a = 1e308 m * 1e308 m", "calc-arithmetic");
    code("a = exp(1000)", "calc-arithmetic");
    code("a = 1e308 km", "calc-literal");
    code("a = (1e200 mm)^2", "calc-arithmetic");
    code("a = 0 / 0", "calc-arithmetic");
    code("a = 1 mm ± 1e308 km", "calc-literal");
    code("a = ln(-1)", "calc-arithmetic");
    code("a = tan(1e308) * 1e308 * 1e10", "calc-arithmetic");
    code("a = (2 m)^30000 * (2 m)^30000", "calc-arithmetic");
    code("a = 3 m^100", "calc-literal");
    assert!(run("a = 1e-308 / 1e10").faults.is_empty());
}

#[test]
fn a_unit_raised_to_a_seventh() {
    assert!(run("a = (5 m)^(1/7)").faults.is_empty());
    let fault = fault("a = (5 m)^(1/7) + 5 m");
    assert_eq!(fault.code.word(), "calc-dimension");
    assert!(fault.message.contains("length^(1/7)"), "{}", fault.message);
    code("a = (5 m)^(1/13)", "calc-dimension");
}

#[test]
fn a_circle_over_five_notes_is_told_once() {
    let names = ["a", "b", "c", "d", "e"];
    let scopes: Vec<Scope> =
        (0..5).map(|index| scope(names[index], &format!("x = @{}.x + 1", names[(index + 1) % 5]))).collect();
    let evaluation = evaluate(&scopes, &units(), &[], Sources::new());
    assert_eq!(evaluation.faults.len(), 1);
    assert!(evaluation.faults[0].message.contains("@a.x → @b.x → @c.x → @d.x → @e.x → @a.x"));
}

#[test]
fn functions_that_double_the_work_each_time_come_to_an_end() {
    let mut text = "f0(x) = x + 1\n".to_owned();
    for level in 1..60 {
        text.push_str(&format!("f{level}(x) = f{before}(x) + f{before}(x)\n", before = level - 1));
    }
    text.push_str("a = f59(1)");
    code(&text, "calc-limit");
}

#[test]
fn functions_nested_deeper_than_the_stack() {
    let mut text = "f0(x) = x + 1\n".to_owned();
    for level in 1..2_000 {
        text.push_str(&format!("f{level}(x) = f{}(x) + 1\n", level - 1));
    }
    text.push_str("a = f1999(1)");
    code(&text, "calc-limit");
}

#[test]
fn uncertainties_that_pile_up_stay_within_the_limit_of_work() {
    let mut text = "x0 = 1 mm ± 0.1 mm\n".to_owned();
    for line in 1..20_000 {
        text.push_str(&format!("x{line} = x{} + (1 mm ± 0.1 mm)\n", line - 1));
    }
    assert!(run(&text).faults.iter().any(|fault| fault.code.word() == "calc-limit"));
}

#[test]
fn a_chain_of_a_hundred_thousand_lines() {
    let mut text = "x0 = 1\n".to_owned();
    for line in 1..100_000 {
        text.push_str(&format!("x{line} = x{} + 1\n", line - 1));
    }
    let evaluation = run(&text);
    assert!(evaluation.faults.is_empty());
    let last = evaluation.scopes[0].blocks[0].lines.last().and_then(|line| line.value.clone());
    assert_eq!(last.and_then(|value| value.quantity().map(|quantity| quantity.value)), Some(100_000.0));
}

const PIECES: &[&str] = &[
    "a",
    "b",
    "x_1",
    "@note.a",
    "@note",
    "f(",
    "(",
    ")",
    "[",
    "]",
    ",",
    ":",
    ".",
    "..",
    "=",
    "==",
    "<=",
    "<",
    "+",
    "-",
    "*",
    "/",
    "^",
    "±",
    "+0.1/-0",
    "2",
    "2 5/16",
    "2.5",
    "1e5",
    "1/64",
    "mm",
    "in",
    "\"",
    "'",
    "°C",
    "degF",
    "%",
    "EUR",
    "to",
    "ft-in",
    "within",
    "check",
    "assume",
    "if",
    "then",
    "else",
    "and",
    "not",
    "true",
    "\"why\"",
    "# r",
    " ",
    "  ",
    "\t",
    "é",
    "²",
    "½",
    "µm",
    "\u{0}",
    "sqrt(",
    "sum(",
    "interpolate(",
    "disc(",
    "d:",
    "alloy(",
    "budget(",
    "min",
    "pi",
    "…",
    "−",
    "·",
    "e",
    "E",
    "_",
    "1,5",
    "\u{202f}",
    "🚂",
    "kg/m^3",
    "m^",
    "^(1/",
    "1/",
    "long ton",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 3000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_pieces_in_any_order(pieces in prop::collection::vec(prop::sample::select(PIECES), 0..24), glued in any::<bool>()) {
        let text = pieces.join(if glued { "" } else { " " });
        let whole = format!("a = 2 mm\n{text}\nb = 3");
        let evaluation = run(&whole);
        for fault in &evaluation.faults {
            prop_assert!(!fault.help.is_empty(), "{fault:?}");
            prop_assert!(whole.get(fault.range.clone()).is_some(), "{fault:?}");
        }
        let _ = Literal::parse(&text, &units());
    }

    #[test]
    fn any_text_at_all(text in "\\PC{0,60}") {
        let evaluation = run(&text);
        for fault in &evaluation.faults {
            prop_assert!(text.get(fault.range.clone()).is_some(), "{fault:?}");
        }
        if let Err(fault) = Literal::parse(&text, &units()) {
            prop_assert!(text.get(fault.range.clone()).is_some(), "{fault:?}");
        }
    }
}
