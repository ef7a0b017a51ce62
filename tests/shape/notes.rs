//! Shapes as notes say them: what each way of typing a size comes to.

use asfound::Project;
use asfound::shape::{Body, Form, Limits, Origin, Size, Unit, sizes};
use asfound::source::Sources;

const DOSSIER: (&str, &str) = ("dossier.yaml", "title: The hand crane at Saltmarsh Basin\nunits: metric\n");

fn project(notes: &[(&str, &str)]) -> Project {
    let notes = notes.iter().chain([&DOSSIER]).map(|(path, text)| ((*path).to_owned(), (*text).to_owned()));
    Project::from_sources(Sources::in_memory(notes), Vec::new())
}

/// The diameter that is typed so, within a part that has a calculation and a measured neighbour.
fn typed(size: &str) -> Size {
    let pin = format!(
        "---\nkind: part\nname: Pin\nshape:\n  turned:\n    - {{d: {size}, long: 10 mm}}\n---\n\n```calc\nwall = 2.5 mm\n```\n"
    );
    let hub = "---\nkind: measurement\nof: pin\nfeature: eye\nunit: mm\nvalues: [40.011, 40.013]\n---\n";
    let project = project(&[("parts/pin.md", &pin), ("hub-eye.md", hub)]);
    assert!(!project.has_errors(), "{size}: {:?}", project.problems());
    let formed = project.worked.shapes.first().unwrap_or_else(|| panic!("{size}: no shape"));
    assert!(formed.is_sound());
    sizes(&formed.shape)[0].1.clone()
}

fn limits(size: &Size) -> (f64, f64) {
    let Limits { lower, upper } = size.limits.expect("it has limits");
    ((lower * 1e7).round() / 1e4, (upper * 1e7).round() / 1e4)
}

/// The least hardness with what may be above it, as ISO 15787 writes it, however it was typed; words stay as they are.
#[test]
fn a_treatment_is_said_with_its_limits() {
    for (typed, said) in [
        ("{of: neck, to: 50 HRC .. 55 HRC, words: temper straw}", "neck: 50 +5/0 HRC; temper straw"),
        ("{to: 58 .. 62 HRC}", "58 +4/0 HRC"),
        ("{to: 50 HRC +5/-0}", "50 +5/0 HRC"),
        ("{to: 600 .. 650 HV10, words: nitrided}", "600 +50/0 HV10; nitrided"),
        ("harden to 50 HRC", "harden to 50 HRC"),
    ] {
        let pin = format!(
            "---\nkind: part\nname: Pin\nshape:\n  treat: {typed}\n  turned:\n    - {{d: 20 mm, long: 10 mm, as: neck}}\n---\n"
        );
        let project = project(&[("parts/pin.md", &pin)]);
        assert!(!project.has_errors(), "{typed}: {:?}", project.problems());
        let treat = project.worked.shapes[0].shape.treat.as_ref().expect("a treatment");
        assert_eq!(treat.said(), said);
    }
}

#[test]
fn a_nominal_is_printed_as_it_was_typed() {
    for (text, printed, unit, metres) in [
        ("40 mm", "40", Unit::Millimetre, 0.04),
        ("40.0 mm", "40.0", Unit::Millimetre, 0.04),
        ("4 cm", "40", Unit::Millimetre, 0.04),
        ("1 3/16 in", "1 3/16", Unit::Inch, 1.1875 * 0.0254),
        ("0.1 ft", "1.2", Unit::Inch, 0.03048),
    ] {
        let size = typed(text);
        assert_eq!((size.text.as_str(), size.unit), (printed, unit), "{text}");
        assert!((size.m() - metres).abs() < 1e-12 && size.limits.is_none(), "{text}: {size:?}");
        assert_eq!(size.origin, Origin::Given);
    }
}

/// ISO 286-2:2010: 40 f7 is −25/−50 µm, 25 H7 is 0/+21 µm.
#[test]
fn limits_come_from_classes_deviations_and_ranges() {
    for (text, lower, upper) in [
        ("40 mm f7", -0.05, -0.025),
        ("25 mm H7", 0.0, 0.021),
        ("25 mm +0.021/-0", 0.0, 0.021),
        ("40 mm ± 0.1 mm", -0.1, 0.1),
        ("40 mm .. 40.2 mm", 0.0, 0.2),
    ] {
        assert_eq!(limits(&typed(text)), (lower, upper), "{text}");
    }
    // ISO 370:1975, method A (from memory): no limit is passed by more than 2 % of the tolerance. 0 to +33 µm are 0 to
    // +0.0013 in, 0.02 µm more; of −30 to −60 µm the lower is −0.0023 in, since −0.0024 in would be 0.96 µm more.
    for (text, lower, upper) in [("1 in H8", 0.0, 0.0013), ("2 in f7", -0.0023, -0.0012)] {
        let inch = typed(text).limits.expect("it has limits");
        let near = |metres: f64, inches: f64| (metres - inches * 0.0254).abs() < 1e-12;
        assert!(near(inch.lower, lower) && near(inch.upper, upper), "{text}: {inch:?}");
    }
    assert!(typed("40 mm .. 40.2 mm").as_limits);
    let fractions = typed("5 in ± 1/64 in").deviations;
    assert_eq!(fractions, Some(("1/64".to_owned(), "1/64".to_owned())));
}

#[test]
fn expressions_see_the_names_of_their_note_and_of_others() {
    let size = typed("= 2 * wall + 35 mm");
    assert_eq!((size.text.as_str(), size.origin.clone()), ("40", Origin::Calculated));
    let size = typed("= @hub-eye.mean");
    assert_eq!((size.text.as_str(), size.origin.clone()), ("40.01", Origin::Measured));
    let size = typed("\"= @hub-eye.mean - 0.01 mm h6\"");
    assert_eq!((size.text.as_str(), size.class.as_deref()), ("40.002", Some("h6")));
    assert_eq!((limits(&size), size.origin), ((-0.016, 0.0), Origin::Calculated));
}

#[test]
fn what_stays_and_what_waits() {
    assert!(typed("(40 mm)").auxiliary);
    let held = typed("{hold: turn the journal first}");
    assert_eq!(held.origin, Origin::Hold { why: "turn the journal first".to_owned() });
    assert!(held.nominal.is_none());
}

#[test]
fn a_thread_is_that_of_the_tables() {
    let pin = "---\nkind: part\nname: Pin\nshape: {turned: {thread: M24 x 2, long: 30 mm}}\n---\n";
    let project = project(&[("pin.md", pin)]);
    let Body::Turned(turned) = &project.worked.shapes[0].shape.body else { panic!("it is turned") };
    let Form::Thread(thread) = &turned.outside[0].form else { panic!("it is a thread") };
    assert_eq!(thread.text, "M24 × 2");
    assert!((thread.major - 0.024).abs() < 1e-9 && (thread.pitch - 0.002).abs() < 1e-9);
}

/// ISO 286-2:2010: 40 f7 is −25/−50 µm, so the middle is 39.9625 mm.
#[test]
fn calculations_read_named_features_with_their_limits() {
    let pin = "---\nkind: part\nname: Pin\ndisposition: make\nshape: {turned: [{d: 40 mm f7, long: 30 mm, as: big end}]}\n---\n";
    let hub = "---\nkind: part\nname: Hub\ndisposition: make\n---\n\n```calc\ncheck @pin.big_end within 39.95 mm .. 39.975 mm\ncheck @pin.big_end <= 39.97 mm\n```\n";
    let project = project(&[("pin.md", pin), ("hub.md", hub)]);
    let told: Vec<&str> = project.problems().iter().map(|problem| problem.code.word).collect();
    assert_eq!(told, ["check-not-settled"], "{:?}", project.problems());
}

/// A fault of an expression is reported once, at its own place, and no second time by the shape.
#[test]
fn a_faulty_expression_is_told_once() {
    let pin = "---\nkind: part\nname: Pin\nshape: {turned: [{d: = walls + 1 mm, long: 30 mm}]}\n---\n";
    let project = project(&[("pin.md", pin)]);
    let told: Vec<&str> = project.problems().iter().map(|problem| problem.code.word).collect();
    assert_eq!(told.iter().filter(|code| !code.starts_with("disposition")).count(), 1, "{told:?}");
    assert!(told.contains(&"calc-unknown-name") && project.worked.shapes.is_empty());
}

/// What a calculation of another note makes of the pin and the lug.
fn checked(calc: &str) -> Vec<&'static str> {
    let pin = "---\nkind: part\nname: Pin\ndisposition: make\nshape:\n  overall: 50 mm\n  turned:\n    - {d: = bore - 0.01 mm f7, long: = reach + 5 mm ± 0.2 mm, as: big end}\n    - {d: 20 mm}\n---\n\n```calc\nbore = 40.01 mm\nreach = @lug.nose.x\n```\n";
    let lug = "---\nkind: part\nname: Lug\ndisposition: make\nshape:\n  flat:\n    thick: 8 mm\n    outline: [[0 mm, 0 mm], {to: [30 mm +0/-0.1, 0 mm], as: nose}, [0 mm, 30 mm]]\n    holes: [{d: 6 mm, at: [8 mm, 9 mm], as: eye}]\n---\n";
    let hub = format!("---\nkind: part\nname: Hub\ndisposition: make\n---\n\n```calc\n{calc}\n```\n");
    let project = project(&[("pin.md", pin), ("lug.md", lug), ("hub.md", &hub)]);
    project.problems().iter().map(|problem| problem.code.word).collect()
}

/// Typed and worked out, of one feature and of the whole, each with its limits as bounds (ISO 286-2:2010: 40 f7 is −25/−50 µm).
#[test]
fn calculations_read_every_named_size_and_shapes_read_calculations() {
    for holds in [
        "check @pin.big_end within 39.95 mm .. 39.975 mm",
        "check @pin.big_end.long within 34.75 mm .. 35.15 mm",
        "check @pin.shape.long == 50 mm",
        "check @lug.nose.x within 29.9 mm .. 30 mm",
        "check @lug.nose.y == 0 mm",
        "check @lug.eye == 6 mm",
        "check @lug.eye.y == 9 mm",
        "check @lug.shape.thick == 8 mm",
    ] {
        assert_eq!(checked(holds), [] as [&str; 0], "{holds}");
    }
    for (calc, code) in [
        ("check @pin.big_end <= 39.97 mm", "check-not-settled"),
        ("check @pin.big_end.long <= 35 mm", "check-not-settled"),
        ("check @pin.big_end < 39.9 mm", "check-fails"),
        ("far = @pin.big_end.longer", "calc-kind"),
        ("far = @pin.small_end", "calc-unknown-name"),
    ] {
        let told = checked(calc);
        assert!(told.contains(&code), "{calc}: {told:?}");
    }
}

/// A size that is worked out of one that waits for it is a circle, and is reported as one.
#[test]
fn shapes_that_wait_for_each_other_are_a_circle() {
    let pin = "---\nkind: part\nname: Pin\ndisposition: make\nshape: {turned: [{d: = @hub.eye - 1 mm, long: 30 mm, as: end}]}\n---\n";
    let hub = "---\nkind: part\nname: Hub\ndisposition: make\nshape: {turned: [{d: 50 mm, long: 30 mm}], bored: [{d: = @pin.end + 1 mm, deep: through, as: eye}]}\n---\n";
    let project = project(&[("pin.md", pin), ("hub.md", hub)]);
    assert!(
        project.problems().iter().any(|problem| problem.code.word == "calc-circle"),
        "{:?}",
        project.problems()
    );
}

/// Behind an expression limits are limits to work to, in the figures they were typed in.
#[test]
fn limits_follow_an_expression() {
    for (text, lower, upper, printed) in [
        ("= 2 * wall + 35 mm ± 0.01 mm", -0.01, 0.01, ("0.01", "0.01")),
        ("= 2 * wall + 35 mm +0.20/-0.050 mm", -0.05, 0.2, ("+0.20", "−0.050")),
        ("= 2 * wall + 35 mm +0/-0.1", -0.1, 0.0, ("0", "−0.1")),
    ] {
        let size = typed(text);
        assert_eq!((limits(&size), size.m()), ((lower, upper), 0.04), "{text}");
        let deviations = size.deviations.expect("as typed");
        assert_eq!((deviations.0.as_str(), deviations.1.as_str()), printed, "{text}");
    }
    assert_eq!(typed("40 mm +0/-0.10").deviations, Some(("0".to_owned(), "−0.10".to_owned())));
    assert_eq!(typed("40.00 mm .. 40.20 mm").deviations, Some(("40.20".to_owned(), "40.00".to_owned())));
}

/// A bush whose outside waits is no fault, whatever its bore; what it will be about is used for nothing but the layout.
#[test]
fn an_outside_on_hold_is_laid_out_round_its_bore() {
    for outside in ["{hold: measure the seat}", "{hold: measure the seat, about: 52 mm}"] {
        let bush = format!(
            "---\nkind: part\nname: Bush\nshape:\n  turned: [{{d: {outside}, long: 60 mm}}]\n  bored: [{{d: 40 mm H7, deep: through}}]\n---\n"
        );
        let project = project(&[("bush.md", &bush)]);
        assert!(!project.has_errors(), "{:?}", project.problems());
        let shape = &project.worked.shapes[0].shape;
        assert!(asfound::shape::work_out(shape, &asfound::shape::Allowance::USUAL).is_err());
    }
}

/// The verdict on readings of `feature`, without limits of their own, of a part with this disposition.
fn judged(disposition: &str, state: &str, d: &str) -> Option<bool> {
    let pin = format!(
        "---\nkind: part\nname: Pin\ndisposition: {disposition}\nshape: {{turned: [{{d: {d}, long: 30 mm, as: big end}}]}}\n---\n\n```calc\nbore = 40 mm\n```\n"
    );
    let read = format!(
        "---\nkind: measurement\nof: pin\nfeature: big end\nstate: {state}\nunit: mm\nvalues: [39.960, 39.962, 39.961, 39.961, 39.960, 39.962]\n---\n"
    );
    let project = project(&[("pin.md", &pin), ("read.md", &read)]);
    let id = project.dossier.measurements.ids().next().expect("one");
    let limits = project.worked.limits(&project.dossier, id);
    let held = project.worked.measured(id).within_limits.as_ref();
    assert_eq!(limits.is_some(), held.is_some());
    held.map(|verdict| verdict.outcome == asfound::calc::evaluate::verdict::Outcome::Holds)
}

/// 39.95 to 39.975 mm by the class; what is found on a part that is reworked is not held against what it is to become.
#[test]
fn a_measurement_is_judged_by_the_limits_of_the_feature_that_it_names() {
    assert_eq!(judged("make", "as-left", "40 mm f7"), Some(true));
    assert_eq!(judged("make", "as-left", "= bore f7"), Some(true));
    assert_eq!(judged("make", "as-left", "39.97 mm f7"), Some(false));
    assert_eq!(judged("rework", "as-left", "40 mm f7"), Some(true));
    assert_eq!(judged("rework", "as-found", "40 mm f7"), None);
    assert_eq!(judged("make", "as-left", "40 mm"), None);
}

/// Lines of words for the drawing, and a chamfer at both mouths, which only a bore that goes through has.
#[test]
fn a_shape_has_lines_of_words_and_a_bore_two_mouths() {
    let bush = |deep: &str| {
        let bush = format!(
            "---\nkind: part\nname: Bush\nshape:\n  notes: [Stamp T on the left face]\n  turned:\n    - {{d: 60 mm, long: 50 mm}}\n  \
             bored:\n    - {{d: 40 mm, deep: {deep}, chamfer: 1 mm, both_mouths: true}}\n---\n"
        );
        project(&[("parts/bush.md", &bush)])
    };
    let sound = bush("through");
    assert!(!sound.has_errors(), "{:?}", sound.problems());
    let shape = &sound.worked.shapes[0].shape;
    assert_eq!(shape.notes, ["Stamp T on the left face"]);
    let Body::Turned(turned) = &shape.body else { panic!("turned") };
    assert!(turned.bores[0].both_mouths);
    assert!(bush("20 mm").has_errors());
}
