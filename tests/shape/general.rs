//! ISO 2768-1:1989, tables 1 to 3: one figure from every column and every class, after open reprints of the tables.

use asfound::shape::{Class, SizeKind};

const CLASSES: [Class; 4] = [Class::Fine, Class::Medium, Class::Coarse, Class::VeryCoarse];

fn table(kind: SizeKind, mm: f64) -> [Option<f64>; 4] {
    CLASSES.map(|class| class.deviation(kind, mm * 1e-3).map(|metres| (metres * 1e6).round() / 1e3))
}

#[test]
fn linear_sizes() {
    let of = |mm| table(SizeKind::Linear, mm);
    assert_eq!(of(0.4), [None; 4]);
    assert_eq!(of(3.0), [Some(0.05), Some(0.1), Some(0.2), None]);
    assert_eq!(of(3.001), [Some(0.05), Some(0.1), Some(0.3), Some(0.5)]);
    assert_eq!(of(30.0), [Some(0.1), Some(0.2), Some(0.5), Some(1.0)]);
    assert_eq!(of(120.0), [Some(0.15), Some(0.3), Some(0.8), Some(1.5)]);
    assert_eq!(of(400.0), [Some(0.2), Some(0.5), Some(1.2), Some(2.5)]);
    assert_eq!(of(1000.0), [Some(0.3), Some(0.8), Some(2.0), Some(4.0)]);
    assert_eq!(of(2000.0), [Some(0.5), Some(1.2), Some(3.0), Some(6.0)]);
    assert_eq!(of(4000.0), [None, Some(2.0), Some(4.0), Some(8.0)]);
    assert_eq!(of(4001.0), [None; 4]);
}

#[test]
fn radii_and_chamfers() {
    let of = |mm| table(SizeKind::Edge, mm);
    assert_eq!(of(3.0), [Some(0.2), Some(0.2), Some(0.4), Some(0.4)]);
    assert_eq!(of(6.0), [Some(0.5), Some(0.5), Some(1.0), Some(1.0)]);
    assert_eq!(of(60.0), [Some(1.0), Some(1.0), Some(2.0), Some(2.0)]);
}

#[test]
fn angles_by_the_shorter_leg() {
    let minutes =
        |mm: f64| CLASSES.map(|class| class.angle(mm * 1e-3).map(|a| (a.to_degrees() * 60.0).round()));
    assert_eq!(minutes(10.0), [Some(60.0), Some(60.0), Some(90.0), Some(180.0)]);
    assert_eq!(minutes(50.0), [Some(30.0), Some(30.0), Some(60.0), Some(120.0)]);
    assert_eq!(minutes(120.0), [Some(20.0), Some(20.0), Some(30.0), Some(60.0)]);
    assert_eq!(minutes(400.0), [Some(10.0), Some(10.0), Some(15.0), Some(30.0)]);
    assert_eq!(minutes(401.0), [Some(5.0), Some(5.0), Some(10.0), Some(20.0)]);
}

#[test]
fn letters() {
    assert_eq!(Class::from_letter("m"), Some(Class::Medium));
    assert_eq!(Class::from_letter("x"), None);
}
