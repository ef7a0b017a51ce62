//! Everything needed to make the part is on the drawing, and nothing twice.

use crate::parts::cases::*;
use asfound::drafting::*;
use asfound::shape::*;

fn drawn(shape: &Shape) -> Drawing {
    draw(shape, &Title::default(), &Sheet::A4_LANDSCAPE).expect("drawn")
}

fn texts(shape: &Shape) -> Vec<String> {
    drawn(shape).stated.into_iter().map(|stated| stated.text).collect()
}

#[test]
fn stepped_shaft_states_every_size_once() {
    let expected = [
        "⌀60 datum A",
        "1 × 45°, both ends",
        "⌀40 f7 −0.025/−0.050 Ra 0.8 run-out 0.02 A",
        "R1",
        "taper ⌀38 to ⌀30",
        "M24 × 2",
        "2 × 45°",
        "undercut 3 × ⌀21",
        "12",
        "50 +0.2/0",
        "30",
        "117",
        "20",
        "32",
        "12 P9 −0.018/−0.061",
        "5 +0.2/0",
    ];
    let mut stated = texts(&stepped_shaft());
    stated.sort();
    let mut expected: Vec<String> = expected.map(str::to_owned).into();
    expected.sort();
    assert_eq!(stated, expected);
}

#[test]
fn sizes_with_limits_are_numbered_in_order() {
    let drawing = drawn(&flanged_bush());
    let numbered: Vec<(usize, &str)> = drawing.numbered.iter().map(|n| (n.number, n.text.as_str())).collect();
    assert_eq!(numbered, [(1, "⌀65 r6"), (2, "⌀50 H7"), (3, "48")]);
    let first = &drawing.numbered[0];
    assert!((first.least - 0.065_041).abs() < 1e-12 && (first.greatest - 0.065_06).abs() < 1e-12);
}

#[test]
fn a_sum_never_hides_limits() {
    // The second length has limits, so the third shoulder is placed from the face, and the whole is a sum.
    let outside =
        vec![plain(mm(30.0), mm(10.0)), plain(mm(20.0), tol(15.0, 0.0, 0.1)), plain(mm(10.0), mm(5.0))];
    let stated = texts(&shape(Body::Turned(turned(outside))));
    assert!(stated.contains(&"15 +0.1/0".to_owned()) && stated.contains(&"30".to_owned()), "{stated:?}");
    assert!(!stated.contains(&"25".to_owned()), "{stated:?}");
}

#[test]
fn the_closing_size_stands_in_brackets() {
    let outside = vec![plain(mm(30.0), mm(10.0)), plain(mm(20.0), tol(15.0, 0.0, 0.1))];
    assert!(texts(&shape(Body::Turned(turned(outside)))).contains(&"(25)".to_owned()));
}

#[test]
fn fractions_add_up_as_fractions() {
    let stated = texts(&inch_part());
    for expected in ["1/2", "1 11/16", "5 ±1/64", "(6 11/16)", "⌀ 2.002/2.000 Ra 1.6", "⌀1 3/16 +0.002/0"]
    {
        assert!(stated.contains(&expected.to_owned()), "{expected} in {stated:?}");
    }
}

#[test]
fn holds_are_boxed_and_explained_and_never_numbered() {
    let drawing = drawn(&with_holds());
    let signs: Vec<(&str, usize)> = drawing.held.iter().map(|held| (held.sign.as_str(), held.key)).collect();
    assert_eq!(signs, [("?1", 5), ("?2", 6)]);
    assert!(
        drawing
            .notes
            .contains(&"?1 on hold, not to be made yet: turn the neck clean, then measure it".to_owned())
    );
    assert!(drawing.stated.iter().any(|stated| stated.text == "[⌀?1] Ra 0.8"));
    assert!(drawing.stated.iter().any(|stated| stated.text == "(⌀42)"));
}

#[test]
fn equal_holes_and_corners_share_a_label() {
    let stated = texts(&gusset());
    assert_eq!(stated.iter().filter(|text| text.contains('⌀')).count(), 1, "{stated:?}");
    assert!(stated.contains(&"5 × ⌀18".to_owned()));
    assert!(texts(&pawl()).contains(&"2 × R25".to_owned()));
    assert!(texts(&gasket()).contains(&"8 × ⌀18 on ⌀160 first at 22.5°".to_owned()));
}

#[test]
fn one_size_says_square_or_hexagon() {
    assert!(texts(&nut()).contains(&"AF 55 0/−1.9".to_owned()));
    let square = cut(Across::Flats { size: mm(20.0), count: 4, long: mm(25.0) }, mm(0.0));
    let part = Turned { across: vec![square], ..turned(vec![plain(mm(30.0), mm(80.0))]) };
    assert!(texts(&shape(Body::Turned(part))).contains(&"□20".to_owned()));
}

#[test]
fn a_coordinate_is_dimensioned_once() {
    let stated = texts(&gusset());
    assert_eq!(stated.iter().filter(|text| *text == "40").count(), 2, "once across, once up: {stated:?}");
}

#[test]
fn scales_are_recommended_ones_and_inches_turn_the_projection() {
    for (name, shape) in all() {
        let scale = drawn(&shape).scale;
        assert!(Scale::ALL.contains(&scale), "{name}");
        let decimal =
            |n: u32| [1, 2, 5].contains(&n) || (n.is_multiple_of(10) && [1, 2, 5].contains(&(n / 10)));
        assert!(
            decimal(scale.paper) && decimal(scale.part) && (scale.paper == 1 || scale.part == 1),
            "{name}"
        );
    }
}

#[test]
fn wide_lines_are_twice_as_wide_as_narrow_ones() {
    assert!((Pen::Outline.width() - 2.0 * Pen::Thin.width()).abs() < 1e-12);
}

#[test]
fn a_faulty_shape_is_not_drawn() {
    let part = shape(Body::Turned(Turned {
        bores: vec![bore(mm(50.0), None)],
        ..turned(vec![plain(mm(40.0), mm(60.0))])
    }));
    assert!(matches!(draw(&part, &Title::default(), &Sheet::A4_LANDSCAPE), Err(Unplaceable::Faulty(_))));
    assert!(matches!(profile_to_dxf(&part), Err(NoProfile::Faulty(_))));
    assert_eq!(profile_to_dxf(&with_holds()), Err(NoProfile::Held));
}

/// What stays as it is adds up as well, in brackets; a hole across a solid part goes through the part, not through walls.
#[test]
fn the_whole_of_what_stays_stands_in_brackets() {
    let stays = |size: Size| size.stays();
    let outside = vec![plain(stays(mm(30.0)), stays(mm(10.0))), plain(tol(20.0, -0.1, 0.0), stays(mm(15.0)))];
    assert!(texts(&shape(Body::Turned(turned(outside)))).contains(&"(25)".to_owned()));
    let mut pin = turned(vec![plain(mm(20.0), mm(60.0))]);
    pin.bores = vec![bore(mm(5.0), Some(mm(20.0)))];
    pin.across = vec![
        cut(Across::Hole { d: mm(4.0), through: true }, mm(50.0)),
        cut(Across::Hole { d: mm(3.0), through: true }, mm(10.0)),
    ];
    let stated = texts(&shape(Body::Turned(pin)));
    for expected in ["⌀4 through", "⌀3 through"] {
        assert!(stated.contains(&expected.to_owned()), "{expected} in {stated:?}");
    }
}

/// Labels above the view stand right above it where what is beside it leaves room: no leader is longer than needed.
#[test]
fn leaders_stay_short_beside_tall_labels_of_a_bore() {
    let mut pin = turned(vec![plain(mm(30.0), mm(12.0)), plain(mm(20.0), mm(120.0))]);
    pin.bores = vec![bore(tol(5.0, 0.0, 0.012), Some(tol(100.0, 0.0, 0.25)))];
    let drawing = drawn(&shape(Body::Turned(pin)));
    let leaders = drawing.marks.iter().filter(|mark| mark.pen == Pen::Thin && mark.owner > 0);
    let slanted = leaders.filter_map(|mark| match mark.ink {
        Ink::Line { from, to } if (from.x - to.x).abs() > 0.5 && (from.y - to.y).abs() > 0.5 => {
            Some((from.y - to.y).abs())
        }
        _ => None,
    });
    assert!(slanted.fold(0.0, f64::max) < 25.0);
}
