//! Every fault at its own place, and none on a sound part.

use crate::parts::cases::*;
use asfound::shape::*;

fn faults(outside: Vec<Segment>, change: impl FnOnce(&mut Turned)) -> Vec<Fault> {
    let mut part = turned(outside);
    change(&mut part);
    check(&shape(Body::Turned(part)))
}

fn bar() -> Vec<Segment> {
    vec![plain(mm(40.0), mm(60.0)), plain(mm(30.0), mm(40.0))]
}

fn only(faults: Vec<Fault>) -> Fault {
    assert_eq!(faults.len(), 1, "{faults:?}");
    faults.into_iter().next().expect("one")
}

fn keyed(key: usize, size: Size) -> Size {
    Size { key, ..size }
}

#[test]
fn sound_parts_have_none() {
    for (name, shape) in all() {
        assert_eq!(check(&shape), vec![], "{name}");
    }
}

#[test]
fn lengths_must_be_above_zero() {
    let fault = only(faults(vec![plain(keyed(5, mm(0.0)), mm(10.0))], |_| {}));
    assert!(matches!(fault, Fault::NotPositive { size: 5, .. }), "{fault:?}");
    let fault = only(faults(vec![plain(mm(10.0), keyed(6, Size::mm(6, -3.0)))], |_| {}));
    assert!(matches!(fault, Fault::NotPositive { size: 6, .. }), "{fault:?}");
    let fault = only(faults(vec![plain(mm(10.0), keyed(6, Size::mm(6, f64::NAN)))], |_| {}));
    assert!(matches!(fault, Fault::NotPositive { size: 6, .. }), "{fault:?}");
}

#[test]
fn limits_the_wrong_way_round() {
    let fault = only(faults(vec![plain(keyed(5, tol(40.0, 0.1, -0.1)), mm(10.0))], |_| {}));
    assert_eq!(fault, Fault::LimitsReversed { size: 5 });
}

#[test]
fn a_missing_length_needs_the_whole() {
    let mut outside = bar();
    (outside[1].long, outside[1].key) = (None, 8);
    let fault = only(faults(outside.clone(), |_| {}));
    assert_eq!(fault, Fault::Missing { feature: 8, what: Lacking::Length });
    assert_eq!(faults(outside.clone(), |part| part.overall = Some(mm(100.0))), vec![]);
    let fault = only(faults(outside, |part| part.overall = Some(mm(50.0))));
    assert!(matches!(fault, Fault::NothingLeft { feature: 8, .. }), "{fault:?}");
}

#[test]
fn the_whole_length_given_twice() {
    let fault = only(faults(bar(), |part| part.overall = Some(keyed(9, mm(101.0)))));
    assert!(matches!(fault, Fault::GivenTwice { size: 9, .. }), "{fault:?}");
    assert_eq!(faults(bar(), |part| part.overall = Some(mm(100.0))), vec![]);
}

#[test]
fn a_chain_that_does_not_hold() {
    let fault = only(faults(bar(), |part| part.overall = Some(keyed(9, tol(100.0, -0.1, 0.1)))));
    assert!(matches!(fault, Fault::ChainTooWide { size: 9, .. }), "{fault:?}");
}

#[test]
fn bore_through_the_wall() {
    let wide = Bore { key: 41, ..bore(mm(32.0), None) };
    let fault = only(faults(bar(), |part| part.bores.push(wide)));
    let Fault::BoreOutside { bore: 41, at, bore_d, outside_d } = fault else { panic!("{fault:?}") };
    assert!((at - 0.06).abs() < 1e-9 && (bore_d - 0.032).abs() < 1e-9 && (outside_d - 0.03).abs() < 1e-9);
}

#[test]
fn bore_that_meets_a_groove() {
    let groove = cut(Across::Groove { wide: mm(3.0), d: mm(25.0) }, mm(80.0));
    let fault = only(faults(bar(), |part| {
        part.bores.push(bore(mm(25.0), None));
        part.across.push(groove);
    }));
    assert!(matches!(fault, Fault::BoreOutside { .. }), "{fault:?}");
}

#[test]
fn tapped_hole_wider_than_its_outside() {
    let form = BoreForm::Thread { thread: m_thread(30.0, 3.5), drill: None };
    let tapped = Bore { form, side: Side::Right, ..bore(mm(30.0), Some(mm(20.0))) };
    assert!(matches!(only(faults(bar(), |part| part.bores.push(tapped))), Fault::BoreOutside { .. }));
}

#[test]
fn depths() {
    let deep = Bore { key: 41, ..bore(mm(10.0), Some(mm(120.0))) };
    assert!(matches!(only(faults(bar(), |part| part.bores.push(deep))), Fault::BoreTooDeep { bore: 41, .. }));
    let form = BoreForm::Thread { thread: m_thread(6.0, 1.0), drill: Some(keyed(43, mm(9.0))) };
    let short = Bore { form, ..bore(mm(6.0), Some(mm(12.0))) };
    assert!(matches!(
        only(faults(bar(), |part| part.bores.push(short))),
        Fault::DrillTooShort { size: 43, .. }
    ));
}

#[test]
fn bores_that_hide_each_other() {
    let narrow = Bore { key: 41, ..bore(mm(10.0), Some(mm(20.0))) };
    let wide = Bore { key: 42, ..bore(mm(20.0), None) };
    let pair = [narrow.clone(), wide];
    assert!(matches!(
        only(faults(bar(), |part| part.bores.extend(pair))),
        Fault::BoreHidden { bore: 41, behind: 42 }
    ));
    let within = Bore { key: 43, side: Side::Right, ..bore(mm(10.0), Some(mm(20.0))) };
    let pair = [within, bore(mm(20.0), None)];
    assert!(matches!(
        only(faults(bar(), |part| part.bores.extend(pair))),
        Fault::BoreHidden { bore: 43, behind: 40 }
    ));
    let twin = Bore { key: 42, ..bore(mm(12.0), Some(mm(20.0))) };
    let pair = [narrow, twin];
    assert!(matches!(
        only(faults(bar(), |part| part.bores.extend(pair))),
        Fault::SameDepth { one: 41, other: 42 }
    ));
}

#[test]
fn cuts_within_the_body() {
    let with = |what: Across, at: f64| only(faults(bar(), |part| part.across.push(cut(what, mm(at)))));
    let hole = |d: f64| Across::Hole { d: mm(d), through: true };
    assert!(matches!(with(hole(10.0), 97.0), Fault::CutOutside { .. }));
    assert!(matches!(with(hole(30.0), 80.0), Fault::CutTooLarge { .. }));
    let key = |long: f64, deep: f64| Across::Keyway { wide: mm(8.0), long: mm(long), deep: mm(deep) };
    assert!(matches!(with(key(50.0, 4.0), 60.0), Fault::CutOutside { .. }));
    assert!(matches!(with(key(20.0, 16.0), 70.0), Fault::CutTooLarge { .. }));
    let flats = |size: f64, count: u32| Across::Flats { size: mm(size), count, long: mm(10.0) };
    assert!(matches!(with(flats(40.0, 2), 10.0), Fault::NothingCut { .. }));
    assert!(matches!(with(flats(32.0, 5), 10.0), Fault::Count { count: 5, .. }));
    assert!(matches!(with(Across::Groove { wide: mm(2.0), d: mm(31.0) }, 80.0), Fault::NothingCut { .. }));
}

/// A chamfer larger than its shoulder would cut into the neighbour; beside a size on hold that is not known.
#[test]
fn a_chamfer_stays_on_its_shoulder() {
    let collar = |size: f64, beside: Size| {
        let own = Segment { chamfer: Some(keyed(77, mm(size))), ..plain(mm(38.0), mm(12.0)) };
        faults(vec![own, plain(beside, mm(60.0))], |_| {})
    };
    assert!(matches!(only(collar(1.6, mm(35.0))), Fault::TooLarge { size: 77, .. }));
    assert_eq!(collar(1.5, mm(35.0)), []);
    assert_eq!(collar(1.6, Size::hold(78, "measure it", Unit::Millimetre)), []);
}

#[test]
fn edges_have_room() {
    let size = |figure: f64| Some(keyed(77, mm(figure)));
    let chamfered = vec![Segment { chamfer: size(25.0), ..plain(mm(40.0), mm(60.0)) }];
    assert!(matches!(only(faults(chamfered, |_| {})), Fault::TooLarge { size: 77, .. }));
    let mut outside = bar();
    outside[0].end = Some(End::Radius(keyed(78, mm(6.0))));
    assert!(matches!(only(faults(outside, |_| {})), Fault::TooLarge { size: 78, .. }));
    let mut outside = bar();
    (outside[0].end, outside[0].key) = (Some(End::Undercut { wide: mm(3.0), d: None }), 8);
    assert!(matches!(
        only(faults(outside, |_| {})),
        Fault::Missing { feature: 8, what: Lacking::UndercutDiameter }
    ));
}

#[test]
fn names() {
    let outside = vec![plain(mm(40.0), mm(60.0)).named("seat"), plain(mm(30.0), mm(40.0)).named("seat")];
    assert!(matches!(only(faults(outside, |_| {})), Fault::NameTwice { .. }));
    let control =
        Control { key: 9, of: "seat".into(), to: "neck".into(), kind: ControlKind::RunOut, within: mm(0.02) };
    let outside = vec![plain(mm(40.0), mm(60.0)).named("seat")];
    let fault = only(faults(outside, |part| part.true_to.push(control)));
    assert_eq!(fault, Fault::NameUnknown { control: 9, name: "neck".into() });
}

fn plate(corners: &[(f64, f64)], holes: Vec<Hole>) -> Vec<Fault> {
    let vertices = corners.iter().enumerate().map(|(i, (x, y))| vertex(i + 1, *x, *y, 0.0)).collect();
    let flat = Flat { thick: mm(5.0), outline: Outline::Polygon(vertices), holes, slots: vec![] };
    check(&shape(Body::Flat(flat)))
}

const SQUARE: [(f64, f64); 4] = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)];

#[test]
fn outlines() {
    assert_eq!(plate(&SQUARE, vec![]), vec![]);
    let bow_tie = [(0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 80.0)];
    assert!(matches!(only(plate(&bow_tie, vec![])), Fault::OutlineCrosses { .. }));
    assert!(matches!(only(plate(&SQUARE[..2], vec![])), Fault::Missing { what: Lacking::Corners, .. }));
    let folded = [(0.0, 0.0), (100.0, 0.0), (50.0, 0.0), (50.0, 80.0)];
    assert!(matches!(plate(&folded, vec![]).first(), Some(Fault::OutlineCrosses { .. })));
}

#[test]
fn holes_need_metal() {
    let near_edge = plate(&SQUARE, vec![hole(10, mm(20.0), 8.0, 50.0)]);
    let Fault::HoleOutside { hole: 10, wall } = only(near_edge) else { panic!("no fault") };
    assert!((wall + 0.002).abs() < 1e-9);
    let close = plate(&SQUARE, vec![hole(10, mm(20.0), 40.0, 50.0), hole(11, mm(20.0), 55.0, 50.0)]);
    let Fault::HolesMeet { one: 10, other: 11, wall } = only(close) else { panic!("no fault") };
    assert!((wall + 0.005).abs() < 1e-9);
    assert!(matches!(only(plate(&SQUARE, vec![hole(10, mm(20.0), 150.0, 50.0)])), Fault::HoleOutside { .. }));
}

#[test]
fn a_size_on_hold_is_no_fault_by_itself() {
    let worn = || Size::hold(5, "measure it", Unit::Millimetre);
    let outside = vec![plain(worn(), mm(60.0)), plain(mm(30.0), mm(40.0))];
    assert_eq!(faults(outside.clone(), |part| part.bores.push(bore(mm(20.0), None))), vec![]);
    let wide = bore(mm(31.0), None);
    assert!(matches!(only(faults(outside, |part| part.bores.push(wide))), Fault::BoreOutside { .. }));
}
