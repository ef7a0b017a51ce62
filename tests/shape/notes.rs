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
    // 0 to +33 µm are 0 to +0.0012 in and no more.
    let inch = typed("1 in H8").limits.expect("it has limits");
    assert!(inch.lower.abs() < 1e-12 && (inch.upper - 0.0012 * 0.0254).abs() < 1e-12, "{inch:?}");
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

/// A fault of an expression is told once, at its own place, and no second time by the shape.
#[test]
fn a_faulty_expression_is_told_once() {
    let pin = "---\nkind: part\nname: Pin\nshape: {turned: [{d: = walls + 1 mm, long: 30 mm}]}\n---\n";
    let project = project(&[("pin.md", pin)]);
    let told: Vec<&str> = project.problems().iter().map(|problem| problem.code.word).collect();
    assert_eq!(told.iter().filter(|code| !code.starts_with("disposition")).count(), 1, "{told:?}");
    assert!(told.contains(&"calc-unknown-name") && project.worked.shapes.is_empty());
}
