//! Volume, centroid, blank and chain against closed formulas.

use std::f64::consts::PI;

use crate::parts::cases::*;
use asfound::shape::*;

fn worked(shape: &Shape) -> Worked {
    work_out(shape, &Allowance::USUAL).expect("sound")
}

fn near(a: f64, b: f64, relative: f64) {
    assert!((a - b).abs() <= relative * b.abs().max(1e-12), "{a} is not {b}");
}

fn solid(outside: Vec<Segment>) -> Shape {
    shape(Body::Turned(turned(outside)))
}

#[test]
fn cone_has_a_third_of_its_cylinder_more_or_less() {
    let it = worked(&solid(vec![taper(60.0, 30.0, 40.0)]));
    near(it.volume, PI * 0.04 * (0.03 * 0.03 + 0.03 * 0.015 + 0.015 * 0.015) / 3.0, 1e-12);
}

#[test]
fn fillet_is_what_is_left_between_a_corner_and_its_torus() {
    // Pappus: the corner's area r²(1 − π/4), its centroid r(10 − 3π)/(12 − 3π) from the walls.
    let round = 3.0_f64;
    let with = solid(vec![plain(mm(40.0), mm(50.0)).rounded(round), plain(mm(60.0), mm(20.0))]);
    let without = solid(vec![plain(mm(40.0), mm(50.0)), plain(mm(60.0), mm(20.0))]);
    let area = round * round * (1.0 - PI / 4.0);
    let off = round * (10.0 - 3.0 * PI) / (12.0 - 3.0 * PI);
    let expected = 2.0 * PI * (20.0 + off) * area * 1e-9;
    near(worked(&with).volume - worked(&without).volume, expected, 1e-9);
}

#[test]
fn crossing_cylinders_of_one_diameter_share_sixteen_thirds_of_the_cube_of_the_radius() {
    // Steinmetz's solid; the hole is a hair smaller than the bar.
    let d = 29.999_9;
    let hole = cut(Across::Hole { d: mm(d), through: true }, mm(50.0));
    let it = shape(Body::Turned(Turned { across: vec![hole], ..turned(vec![plain(mm(30.0), mm(100.0))]) }));
    let it = worked(&it);
    near(PI * 0.015 * 0.015 * 0.1 - it.volume, 16.0 / 3.0 * 0.015 * 0.015 * 0.015, 1e-4);
    assert!(it.volume_error < 1e-4 * it.volume);
}

#[test]
fn hexagon_from_end_to_end() {
    let flats = cut(Across::Flats { size: mm(30.0), count: 6, long: mm(20.0) }, mm(0.0));
    let it = shape(Body::Turned(Turned { across: vec![flats], ..turned(vec![plain(mm(40.0), mm(20.0))]) }));
    near(worked(&it).volume, 3.0_f64.sqrt() / 2.0 * 0.03 * 0.03 * 0.02, 1e-9);
}

#[test]
fn two_flats_take_two_segments() {
    let flats = cut(Across::Flats { size: mm(30.0), count: 2, long: mm(20.0) }, mm(10.0));
    let it = shape(Body::Turned(Turned { across: vec![flats], ..turned(vec![plain(mm(40.0), mm(50.0))]) }));
    let angle = 2.0 * libm::acos(15.0 / 20.0);
    let segment = 0.02 * 0.02 / 2.0 * (angle - libm::sin(angle));
    near(PI * 0.02 * 0.02 * 0.05 - worked(&it).volume, 2.0 * segment * 0.02, 1e-8);
}

#[test]
fn keyway_pulls_the_centroid_away_from_itself() {
    let key = cut(Across::Keyway { wide: mm(12.0), long: mm(40.0), deep: mm(5.0) }, mm(30.0));
    let it = shape(Body::Turned(Turned { across: vec![key], ..turned(vec![plain(mm(40.0), mm(100.0))]) }));
    let it = worked(&it);
    assert!(it.centroid[1] < 0.0, "{:?}", it.centroid);
    near(it.centroid[0], 0.05, 1e-9);
}

/// A keyway from face to face is open at both ends: one cross-section all along. Its area by the circle's segment.
#[test]
fn an_open_keyway_takes_its_full_section_to_the_face() {
    let key = cut(Across::Keyway { wide: mm(12.0), long: mm(100.0), deep: mm(5.0) }, mm(0.0));
    let it = shape(Body::Turned(Turned { across: vec![key], ..turned(vec![plain(mm(40.0), mm(100.0))]) }));
    let (outer, half): (f64, f64) = (0.02, 0.006);
    let under_arc = half * (outer * outer - half * half).sqrt() + outer * outer * libm::asin(half / outer);
    let section = under_arc - 2.0 * half * 0.015;
    near(worked(&it).volume, (PI * outer * outer - section) * 0.1, 1e-11);
}

/// A groove in a bore is a ring; one along it has a flat floor under the circle of the bore: width × floor less the
/// circle's part, whose area is u·√(r² − u²) + r²·asin(u/r) between ±u.
#[test]
fn grooves_in_a_bore_take_a_ring_and_a_flat_bottomed_strip() {
    let with = |across: Vec<Cut>| {
        let bores = vec![bore(mm(50.0), None)];
        work_out(
            &shape(Body::Turned(Turned { bores, across, ..turned(vec![plain(mm(70.0), mm(80.0))]) })),
            &Allowance::USUAL,
        )
        .expect("sound")
    };
    let bare = with(vec![]).volume;
    let ring = with(vec![cut(Across::BoreGroove { wide: mm(6.0), d: mm(54.0) }, mm(27.0))]);
    near(bare - ring.volume, PI / 4.0 * (0.054 * 0.054 - 0.05 * 0.05) * 0.006, 1e-9);
    let strip = with(vec![cut(Across::OilGroove { wide: mm(5.0), long: mm(40.0), deep: mm(2.0) }, mm(10.0))]);
    let (u, r, floor) = (0.0025_f64, 0.025_f64, 0.027_f64);
    let area = 2.0 * u * floor - (u * (r * r - u * u).sqrt() + r * r * libm::asin(u / r));
    near(bare - strip.volume, area * 0.04, 1e-7);
    near(strip.wall.expect("a wall"), 0.035 - 0.027, 1e-9);
    // Where both cross nothing is taken twice.
    let both = with(vec![
        cut(Across::BoreGroove { wide: mm(6.0), d: mm(54.0) }, mm(27.0)),
        cut(Across::OilGroove { wide: mm(5.0), long: mm(40.0), deep: mm(2.0) }, mm(10.0)),
    ]);
    assert!(both.volume > bare - (bare - ring.volume) - (bare - strip.volume));
    let wider = 0.027_f64;
    let above =
        2.0 * u * floor - (u * (wider * wider - u * u).sqrt() + wider * wider * libm::asin(u / wider));
    near(bare - both.volume, bare - ring.volume + area * 0.034 + above * 0.006, 1e-6);
}

#[test]
fn ring_with_bolt_holes() {
    let it = worked(&gasket());
    near(it.volume, PI * (0.1 * 0.1 - 0.05 * 0.05 - 8.0 * 0.009 * 0.009) * 0.002, 1e-12);
    near(it.wall.expect("holes"), 0.011, 1e-9);
    let Blank::Plate { thick, long, wide } = it.blank else { panic!("{:?}", it.blank) };
    near(thick, 0.002, 1e-12);
    near(long, 0.206, 1e-12);
    near(wide, 0.206, 1e-12);
}

#[test]
fn surface_of_a_bush() {
    let bores = vec![bore(mm(40.0), None)];
    let it = worked(&shape(Body::Turned(Turned { bores, ..turned(vec![plain(mm(60.0), mm(50.0))]) })));
    near(it.surface, PI * (0.06 + 0.04) * 0.05 + 2.0 * PI * (0.03 * 0.03 - 0.02 * 0.02), 1e-12);
    near(it.wall.expect("a bore"), 0.01, 1e-12);
}

#[test]
fn surface_of_a_blind_hole_counts_its_floor() {
    let bores = vec![bore(mm(40.0), Some(mm(20.0)))];
    let it = worked(&shape(Body::Turned(Turned { bores, ..turned(vec![plain(mm(60.0), mm(50.0))]) })));
    near(it.surface, PI * 0.06 * 0.05 + 2.0 * PI * 0.03 * 0.03 + PI * 0.04 * 0.02, 1e-12);
}

#[test]
fn blank_and_needs_of_a_shaft() {
    let it = worked(&stepped_shaft());
    let Blank::Bar { d, long } = it.blank else { panic!("{:?}", it.blank) };
    near(d, 0.062, 1e-12);
    near(long, 0.12, 1e-12);
    near(it.needs.between_centres.expect("turned"), 0.117, 1e-12);
    assert!(Blank::Bar { d: 0.065, long: 0.2 }.is_enough_for(&it.blank));
    assert!(!Blank::Bar { d: 0.06, long: 0.2 }.is_enough_for(&it.blank));
    assert!(!Blank::Plate { thick: 1.0, long: 1.0, wide: 1.0 }.is_enough_for(&it.blank));
}

#[test]
fn nothing_is_worked_out_from_a_stand_in() {
    assert_eq!(work_out(&with_holds(), &Allowance::USUAL), Err(NotKnown::Held(vec![5, 6])));
}

#[test]
fn chain_of_lengths_worst_case_and_root_of_squares() {
    // Three lengths ±0.1: worst case ±0.3; root of squares ±0.1732.
    let part = |overall: Size| {
        let outside = vec![plain(mm(30.0), tol(20.0, -0.1, 0.1)); 3];
        Turned { overall: Some(overall), ..turned(outside) }
    };
    let wide = chain(&part(tol(60.0, -0.3, 0.3)), None).expect("a chain");
    assert!(wide.holds() && wide.holds_likely());
    let tight = chain(&part(tol(60.0, -0.2, 0.2)), None).expect("a chain");
    assert!(!tight.holds() && tight.holds_likely());
    near(tight.likely.1 - 0.06, 0.000_1 * 3.0_f64.sqrt(), 1e-9);
    let narrow = chain(&part(tol(60.0, -0.1, 0.1)), None).expect("a chain");
    assert!(!narrow.holds() && !narrow.holds_likely());
}

#[test]
fn lengths_without_limits_enter_the_chain_with_the_general_tolerance() {
    let outside = vec![plain(mm(30.0), mm(20.0)), plain(mm(40.0), mm(20.0))];
    let part = Turned { overall: Some(tol(40.0, -0.5, 0.5)), ..turned(outside) };
    assert_eq!(chain(&part, None), None);
    let chain = chain(&part, Some(&General::Class(Class::Medium))).expect("a chain");
    near(chain.worst.1 - 0.04, 0.000_4, 1e-9);
    assert!(chain.links.iter().all(|link| link.general));
}

#[test]
fn undercut_of_a_thread_follows_its_pitch() {
    // DIN 76-1: 1.6 mm below for 1 mm of pitch, 2.3 mm for 1.5 mm, 4.4 mm for 3 mm.
    for (pitch, below) in [(1.0, 1.6), (1.5, 2.3), (3.0, 4.4)] {
        let segment = threaded(24.0, pitch, 30.0).undercut(4.0, None);
        near(segment.undercut_diameter().expect("a thread"), (24.0 - below) * 1e-3, 1e-12);
    }
}

/// Ten tolerances of ±0.1 mm: ±1.0 mm at worst and ±0.316 mm by the root of squares, as an open course on tolerance analysis
/// works it out.
#[test]
fn ten_equal_lengths_of_a_published_example() {
    let outside = vec![plain(mm(30.0), tol(10.0, -0.1, 0.1)); 10];
    let part = Turned { overall: Some(tol(100.0, -0.5, 0.5)), ..turned(outside) };
    let chain = chain(&part, None).expect("a chain");
    near(chain.worst.1 - 0.1, 0.001, 1e-9);
    assert!((chain.likely.1 - 0.1 - 0.000_316).abs() < 5e-7, "{chain:?}");
    assert!(!chain.holds() && chain.holds_likely());
}
