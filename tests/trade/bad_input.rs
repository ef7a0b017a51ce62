//! What the workshop functions say to figures that can't be: which argument, what is wrong, what to do.

use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::units::{Settings, Units};
use asfound::trade;

/// The first fault of a line, or its first caution: code, message, help, and the text it stands at.
fn told(text: &str) -> (&'static str, String, String, String) {
    let functions: Vec<_> = trade::functions().collect();
    let (units, mut session) = (Units::new(&Settings::default()), Session::new(&functions));
    let fault = match evaluate_line(text, &units, &mut session) {
        Ok(answer) => answer.cautions.into_iter().next(),
        Err(faults) => faults.into_iter().next(),
    };
    let fault = fault.unwrap_or_else(|| panic!("nothing is said of {text}"));
    (fault.code.word(), fault.message, fault.help, session.typed()[fault.range].to_owned())
}

/// The call, the code, a piece of the message, a piece of the help, and where it points.
const SLIPS: &[[&str; 5]] = &[
    // Sizes outside of a table.
    ["fit(\"H7/k6\", at: 4 m)", "calc-validity", "4000 mm", "over 0 up to 3150 mm", "4 m"],
    ["fit(\"RC4\", at: 30 in)", "calc-validity", "30 in", "over 0 up to 19.69 in", "30 in"],
    [
        "fit(\"LT3\", at: 0.1 in)",
        "calc-validity",
        "the table gives no limits of LT3 at 0.1 in",
        "over 0.24 up to",
        "0.1 in",
    ],
    [
        "key_size(d: 2 m)",
        "calc-validity",
        "no key for a shaft of 2000 mm",
        "from over 6 mm (0.2362 in) to 500 mm",
        "2 m",
    ],
    // Classes that do not exist, or not there.
    ["fit(\"H19/k6\", at: 50 mm)", "calc-validity", "`H19` is no tolerance class", "to 18", "\"H19/k6\""],
    [
        "fit(\"H7/kk6\", at: 50 mm)",
        "calc-validity",
        "`kk6` is no tolerance class",
        "letters are",
        "\"H7/kk6\"",
    ],
    [
        "tolerance_limits(\"t6\", at: 20 mm)",
        "calc-validity",
        "does not define t6",
        "over 24 up to 3150 mm",
        "20 mm",
    ],
    [
        "tolerance_limits(\"a11\", at: 600 mm)",
        "calc-validity",
        "does not define a11",
        "class given at 600 mm is d11",
        "600 mm",
    ],
    ["thread(\"M13\")", "calc-validity", "no thread `M13` is in the table", "M12, M14", "\"M13\""],
    ["material(\"unobtainium\")", "calc-validity", "unobtainium", "", "\"unobtainium\""],
    // Past yield: a caution with the figure.
    [
        "press_fit(d: 50 mm, interference: 0.2 mm, length: 50 mm, outer: 90 mm, hub: material(\"mild steel\"), \
         shaft: material(\"EN 8\"), mu: 0.15)",
        "calc-warning",
        "passes its yield: 721.4 MPa (104.6 ksi) against 235 MPa",
        "look whether the part bears it",
        "",
    ],
    // A hub thinner than nothing, a bore wider than its shaft.
    [
        "press_fit(d: 50 mm, interference: 0.02 mm, length: 50 mm, outer: 40 mm, hub: material(\"EN 8\"), \
         shaft: material(\"EN 8\"), mu: 0.15)",
        "calc-validity",
        "the hub is thinner than nothing",
        "",
        "40 mm",
    ],
    ["round_section(d: 20 mm, bore: 25 mm)", "calc-validity", "the bore", "", "25 mm"],
    // Negative lengths, a wrong dimension.
    [
        "mass_bar(d: -20 mm, length: 1 m, density: 7850 kg/m^3)",
        "calc-range",
        "`d` must be above zero",
        "",
        "-20 mm",
    ],
    [
        "tolerance_limits(\"H7\", at: -50 mm)",
        "calc-range",
        "`at` must be above zero",
        "nominal size",
        "-50 mm",
    ],
    [
        "tolerance_limits(\"H7\", at: 50 kg)",
        "calc-dimension",
        "for `at` a length is needed here, and this is a mass",
        "",
        "50 kg",
    ],
    ["tolerance_limits(\"H7\", at: 50)", "calc-dimension", "for `at` a length is needed here", "", "50"],
    // A pin that is stronger than its shaft.
    [
        "shear_pin_guard(pin: 14 mm, shaft: 20 mm, strength: 400 MPa, material: material(\"mild steel\"))",
        "calc-warning",
        "the pin is stronger than the shaft at the pin's hole: that gives way at 86.44 N·m",
        "",
        "",
    ],
];

#[test]
fn every_slip_has_its_words() {
    for [text, code, message, help, at] in SLIPS {
        let told = told(text);
        let [told_code, told_message, told_help] = [told.0, told.1.as_str(), told.2.as_str()];
        assert!(
            told_code.starts_with(code) && told_message.contains(message),
            "{text}: {told_code} {told_message}"
        );
        assert!(!told_help.is_empty() && told_help.contains(help), "{text}: {told_help}");
        assert!(at.is_empty() || told.3 == *at, "{text}: at `{}`", told.3);
        println!("{text}\n  {told_message}\n  {told_help}");
    }
}
