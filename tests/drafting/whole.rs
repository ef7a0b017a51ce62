//! Solid parts that are drawn whole, what is said of the holes in them, and sizes that can be told apart.

use std::f64::consts::PI;

use crate::parts::cases::*;
use asfound::drafting::*;
use asfound::shape::*;

fn drawn(shape: &Shape) -> Drawing {
    let drawing = draw(shape, &Title::default(), &Sheet::A4_LANDSCAPE).expect("drawn");
    assert_eq!(clashes(&drawing), []);
    drawing
}

fn lines(drawing: &Drawing, pen: Pen) -> Vec<(Point, Point)> {
    let of_pen = drawing.marks.iter().filter(|mark| mark.pen == pen);
    of_pen
        .filter_map(|mark| if let Ink::Line { from, to } = mark.ink { Some((from, to)) } else { None })
        .collect()
}

fn states(drawing: &Drawing, text: &str) {
    let stated: Vec<&str> = drawing.stated.iter().map(|stated| stated.text.as_str()).collect();
    assert!(stated.contains(&text), "{text} in {stated:?}");
}

fn across(d: f64, at: f64, through: bool) -> Cut {
    cut(Across::Hole { d: mm(d), through }, mm(at))
}

/// 40 mm across and 120 mm long, with a way of 8 mm drilled 60 mm deep.
fn greased_pin(across: Vec<Cut>) -> Shape {
    let bores = vec![bore(mm(8.0), Some(mm(60.0)))];
    shape(Body::Turned(Turned { bores, across, ..turned(vec![plain(mm(40.0), mm(120.0))]) }))
}

/// ISO 128-3: solid pins are not cut lengthwise.
#[test]
fn a_solid_pin_is_not_cut_and_its_way_is_hidden() {
    let drawing = drawn(&greased_pin(vec![]));
    assert!(drawing.hatched.is_empty());
    let level = lines(&drawing, Pen::Hidden).into_iter().filter(|(from, to)| (from.y - to.y).abs() < 1e-9);
    assert_eq!(level.count(), 2, "above and below the axis");
    assert!(!drawn(&bush()).hatched.is_empty(), "a bush is about its bore");
}

/// A blind hollow at least half as wide as the part is what the part is about.
#[test]
fn a_wide_blind_hollow_is_shown_in_section() {
    let cup = |d: f64| {
        let bores = vec![bore(mm(d), Some(mm(30.0)))];
        shape(Body::Turned(Turned { bores, ..turned(vec![plain(mm(60.0), mm(50.0))]) }))
    };
    assert!(!drawn(&cup(40.0)).hatched.is_empty());
    assert!(drawn(&cup(25.0)).hatched.is_empty());
}

/// The point of a drill is drawn at 120° and counts neither to the depth nor to the volume.
#[test]
fn a_drilled_hole_ends_in_a_point() {
    let shape = greased_pin(vec![]);
    let drawing = drawn(&shape);
    let slanting: Vec<f64> = lines(&drawing, Pen::Hidden)
        .into_iter()
        .filter(|(from, to)| (from.y - to.y).abs() > 0.1 && (from.x - to.x).abs() > 0.1)
        .map(|(from, to)| ((from.y - to.y) / (from.x - to.x)).abs())
        .collect();
    assert_eq!(slanting.len(), 2);
    assert!(slanting.iter().all(|slope| (slope - 3.0_f64.sqrt()).abs() < 1e-6), "{slanting:?}");
    states(&drawing, "⌀8, 60 deep");
    assert!(
        drawing.notes.iter().any(|note| note == "Depth of a drilled hole: without its point, drawn at 120°")
    );
    let volume = work_out(&shape, &Allowance::USUAL).expect("sound").volume;
    assert!((volume - PI * (0.02 * 0.02 * 0.12 - 0.004 * 0.004 * 0.06)).abs() < 1e-12);
    let bored = vec![bore(mm(24.0), Some(mm(30.0)))];
    let bored =
        drawn(&self::shape(Body::Turned(Turned { bores: bored, ..turned(vec![plain(mm(60.0), mm(50.0))]) })));
    assert!(!bored.notes.iter().any(|note| note.contains("point")), "what is bored has a flat bottom");
}

#[test]
fn a_hole_into_a_solid_part_goes_to_the_bore_or_to_the_axis() {
    let drawing = drawn(&greased_pin(vec![across(5.0, 50.0, false), across(4.0, 90.0, false)]));
    states(&drawing, "⌀5 to meet the bore");
    states(&drawing, "⌀4 to the axis");
    let tube = drawn(&flanged_bush());
    states(&tube, "⌀6 through one wall");
}

#[test]
fn equal_cross_holes_share_a_leader() {
    let pin = |across| shape(Body::Turned(Turned { across, ..turned(vec![plain(mm(30.0), mm(200.0))]) }));
    let drawing = drawn(&pin(vec![across(8.0, 10.0, true), across(8.0, 190.0, true)]));
    states(&drawing, "2 × ⌀8 through");
    assert_eq!(drawing.stated.iter().filter(|stated| stated.text.contains("⌀8")).count(), 1);
    let rough = Cut { finish: Some("Ra 0.8".into()), ..across(8.0, 190.0, true) };
    let drawing = drawn(&pin(vec![across(8.0, 10.0, true), rough]));
    assert_eq!(drawing.stated.iter().filter(|stated| stated.text.contains("⌀8")).count(), 2);
}

/// ISO 129-1: extension lines run unbroken, also where they cross dimension lines.
#[test]
fn extension_lines_are_unbroken() {
    for (name, shape) in all() {
        let drawing = drawn(&shape);
        let upright = |mark: &Mark| match mark.ink {
            Ink::Line { from, to }
                if mark.pen == Pen::Thin && mark.owner > 0 && (from.x - to.x).abs() < 1e-9 =>
            {
                Some((mark.owner, from.x, from.y.min(to.y), from.y.max(to.y)))
            }
            _ => None,
        };
        let all: Vec<_> = drawing.marks.iter().filter_map(upright).collect();
        let is_next = |a: &(usize, f64, f64, f64), b: &(usize, f64, f64, f64)| {
            a.0 == b.0 && (a.1 - b.1).abs() < 1e-9 && b.2 - a.3 > 1.5 && b.2 - a.3 < 2.5
        };
        let broken = all.iter().find(|a| all.iter().any(|b| is_next(a, b)));
        assert_eq!(broken, None, "{name}");
    }
}

/// Two heights of a few tenths on paper, one on each side of the axis.
#[test]
fn small_heights_say_on_which_side_of_the_axis_they_are() {
    let outline = Outline::Polygon(vec![
        vertex(1, -20.0, -25.0, 0.0),
        vertex(2, 100.0, -4.0, 0.0),
        vertex(3, 150.0, 2.0, 0.0),
        vertex(4, 150.0, 25.0, 0.0),
        vertex(5, -20.0, 25.0, 0.0),
    ]);
    let drawing = drawn(&shape(Body::Flat(Flat { thick: mm(10.0), outline, holes: vec![], slots: vec![] })));
    states(&drawing, "2 above");
    states(&drawing, "4 below");
    let place = |wanted: &str| {
        let texts = drawing.claims.iter().filter(|claim| {
            let is_own = |mark: &Mark| matches!(&mark.ink, Ink::Text { text, .. } if text == wanted);
            drawing.marks.iter().any(|mark| mark.owner == claim.owner && is_own(mark))
        });
        texts.map(|claim| claim.rect).next().expect("a text")
    };
    assert!(place("2 above").bottom < place("4 below").top);
}

/// A text longer than the hole is wide stands level, on a leader to where the axis meets the face.
#[test]
fn a_narrow_hole_is_led_to_and_its_text_is_level() {
    let drawing = drawn(&greased_pin(vec![]));
    let text = drawing.marks.iter().find_map(|mark| match &mark.ink {
        Ink::Text { text, upward, .. } if text == "⌀8, 60 deep" => Some(*upward),
        _ => None,
    });
    assert_eq!(text, Some(false));
}

#[test]
fn a_chamfer_at_both_mouths_is_cut_twice_and_said_once() {
    let with = |both_mouths| {
        let bores = vec![Bore { chamfer: Some(mm(2.0)), both_mouths, ..bore(mm(60.0), None) }];
        shape(Body::Turned(Turned { bores, ..turned(vec![plain(mm(80.0), mm(100.0))]) }))
    };
    let volume = |shape: &Shape| work_out(shape, &Allowance::USUAL).expect("sound").volume;
    let bored = PI * (0.04 * 0.04 - 0.03 * 0.03) * 0.1;
    let (one, two) = (bored - volume(&with(false)), bored - volume(&with(true)));
    assert!(one > 0.0 && (two - 2.0 * one).abs() < 1e-12);
    states(&drawn(&with(false)), "2 × 45°");
    states(&drawn(&with(true)), "2 × 45°, both mouths");
}

#[test]
fn lines_of_words_stand_in_the_notes_and_turn_sides_to_those_drawn() {
    let drawing = drawn(&Shape { notes: vec!["Stamp T on the left end".into()], ..bush() });
    assert!(drawing.notes.iter().any(|note| note == "Stamp T on the left end"));
    assert!(drawing.notes.iter().any(|note| note == "Left: as drawn"));
}
