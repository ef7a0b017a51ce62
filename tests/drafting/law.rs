//! Nothing lies over a text, whatever is drawn.

use crate::parts::cases::*;
use crate::parts::random::{sound, wild};
use asfound::drafting::*;
use asfound::shape::*;
use proptest::prelude::*;

fn holds(drawing: &Drawing) {
    let clashes = clashes(drawing);
    assert!(clashes.is_empty(), "{:?}", clashes.first());
    let written = drawing.marks.iter().filter_map(|mark| match &mark.ink {
        Ink::Text { height, .. } => Some(*height),
        _ => None,
    });
    assert!(written.into_iter().all(|height| height >= 2.5));
}

const SHEETS: [Sheet; 5] = [
    Sheet::A4_LANDSCAPE,
    Sheet::A4_PORTRAIT,
    Sheet::LETTER_LANDSCAPE,
    Sheet::LETTER_PORTRAIT,
    Sheet::figure(180.0, 200.0),
];

#[test]
fn every_case_on_every_sheet() {
    for (name, shape) in all() {
        for sheet in SHEETS {
            let drawing = draw(&shape, &Title::default(), &sheet);
            holds(&drawing.unwrap_or_else(|why| panic!("{name}: {why:?}")));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

    #[test]
    fn random_shapes(seed in any::<u64>(), sheet in 0..5_usize) {
        let shape = wild(seed);
        match draw(&shape, &Title::default(), &SHEETS[sheet]) {
            Ok(drawing) => {
                holds(&drawing);
                let toleranced = sizes(&shape).iter().filter(|(_, s)| s.is_toleranced() && !s.on_hold()).count();
                prop_assert!(drawing.numbered.len() <= toleranced);
            }
            Err(Unplaceable::Faulty(faults)) => prop_assert!(!faults.is_empty()),
            Err(Unplaceable::NoRoom { sizes }) => prop_assert!(sizes > 0),
        }
        if let Ok(worked) = work_out(&shape, &Allowance::USUAL) {
            prop_assert!(worked.volume > 0.0 && worked.volume.is_finite());
            let [x, y, z] = worked.envelope;
            prop_assert!(worked.volume <= x * y * z * (1.0 + 1e-9));
        }
        let _ = profile_to_dxf(&shape);
    }
}

#[test]
fn most_sound_shapes_find_room() {
    let drawn = (1000..1100).filter(|seed| {
        let drawing = draw(&sound(*seed), &Title::default(), &Sheet::A4_LANDSCAPE);
        drawing.as_ref().is_ok_and(|drawing| clashes(drawing).is_empty())
    });
    assert!(drawn.count() >= 97);
}

#[test]
fn two_hundred_features_are_drawn_or_refused() {
    let outside: Vec<Segment> = (0..200).map(|i| plain(mm(20.0 + f64::from(i % 7)), mm(10.0))).collect();
    let many = shape(Body::Turned(turned(outside)));
    match draw(&many, &Title::default(), &Sheet::A4_LANDSCAPE) {
        Ok(drawing) => holds(&drawing),
        Err(why) => assert_eq!(why, Unplaceable::NoRoom { sizes: 400 }),
    }
}

#[test]
fn long_words_stay_on_the_sheet() {
    let long = "a very long name of a part that nobody would print on one line ".repeat(4);
    let title = Title {
        title: long.clone(),
        material: long.clone(),
        owner: "x".repeat(300),
        notes: vec![long],
        ..Title::default()
    };
    for sheet in SHEETS {
        if let Ok(drawing) = draw(&bush(), &title, &sheet) {
            holds(&drawing);
        }
    }
    assert!(draw(&bush(), &title, &Sheet::A4_PORTRAIT).is_ok());
}

/// Whether two straight lines cross within both.
fn cross(a: (Point, Point), b: (Point, Point)) -> bool {
    let side = |a: Point, b: Point, p: Point| (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    let apart = |a: (Point, Point), b: (Point, Point)| {
        let (first, second) = (side(a.0, a.1, b.0), side(a.0, a.1, b.1));
        first * second < 0.0 && first.abs() > 0.5 && second.abs() > 0.5
    };
    apart(a, b) && apart(b, a)
}

/// Whether one is level and the other upright: an extension line, which may cross a dimension line and is unbroken there
/// (ISO 129-1:2018).
fn is_extension(a: (Point, Point), b: (Point, Point)) -> bool {
    let level = |line: (Point, Point)| (line.0.y - line.1.y).abs() < 1e-9;
    let upright = |line: (Point, Point)| (line.0.x - line.1.x).abs() < 1e-9;
    (level(a) && upright(b)) || (upright(a) && level(b))
}

#[test]
fn no_leader_of_a_turned_part_crosses_another_or_a_dimension() {
    for (name, shape) in all().into_iter().filter(|(_, shape)| matches!(shape.body, Body::Turned(_))) {
        let drawing = draw(&shape, &Title::default(), &Sheet::A4_LANDSCAPE).expect("drawn");
        let lines: Vec<(usize, (Point, Point))> = drawing
            .marks
            .iter()
            .filter(|mark| mark.pen == Pen::Thin && mark.owner > 0)
            .filter_map(|mark| match mark.ink {
                Ink::Line { from, to } => Some((mark.owner, (from, to))),
                _ => None,
            })
            .collect();
        for (index, (owner, line)) in lines.iter().enumerate() {
            let crossed = lines[index + 1..].iter().find(|(other, second)| {
                other != owner && cross(*line, *second) && !is_extension(*line, *second)
            });
            assert!(crossed.is_none(), "{name}: {line:?} {crossed:?}");
        }
    }
}

/// Twelve short lengths with limits in a chain: their texts, wider than the lengths, stand in steps from both ends inwards.
#[test]
fn a_chain_of_short_lengths_with_limits_finds_room_at_a_scale_that_can_be_read() {
    let outside: Vec<Segment> = (0..12)
        .map(|i| {
            plain(
                fit(40.0 + f64::from(i % 3) * 7.0, "f7", -0.05, -0.025),
                tol(6.25 + f64::from(i % 4), -0.02, 0.02),
            )
        })
        .collect();
    let drawing =
        draw(&shape(Body::Turned(turned(outside))), &Title::default(), &Sheet::A4_LANDSCAPE).expect("drawn");
    holds(&drawing);
    assert!(drawing.scale.mm_per_metre() >= 500.0, "{}", drawing.scale.text());
}
