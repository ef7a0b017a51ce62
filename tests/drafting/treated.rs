//! Where a treatment is limited to a feature (ISO 15787), and grooves in a bore.

use crate::parts::cases::*;
use crate::parts::shop::greased_bush;
use asfound::drafting::*;
use asfound::shape::*;

fn drawn(shape: &Shape) -> Drawing {
    let drawing = draw(shape, &Title::default(), &Sheet::A4_LANDSCAPE).expect("drawn");
    assert_eq!(clashes(&drawing), []);
    drawing
}

fn treat(of: &str, within: Option<f64>) -> Treat {
    Treat {
        of: Some(of.to_owned()),
        hardness: Some("50 +5/0 HRC".to_owned()),
        words: Some("temper straw".to_owned()),
        within: within.map(|mm| (mm * 1e-3, format!("{mm} mm"))),
        ..Treat::default()
    }
}

/// Every piece of the long-dashed dotted wide line.
fn beside(drawing: &Drawing) -> Vec<(Point, Point)> {
    let marks = drawing.marks.iter().filter(|mark| mark.pen == Pen::Treated);
    marks
        .filter_map(|mark| if let Ink::Line { from, to } = mark.ink { Some((from, to)) } else { None })
        .collect()
}

fn has_note(drawing: &Drawing, note: &str) {
    assert!(drawing.notes.iter().any(|line| line == note), "{note} in {:?}", drawing.notes);
}

const LINE: &str = "Long-dashed dotted line beside a surface: where it is heat treated";

/// The journal of 50 mm, and nothing else of the shaft.
#[test]
fn a_treated_journal_has_the_line_along_it() {
    let drawing = drawn(&Shape { treat: Some(treat("journal", None)), ..stepped_shaft() });
    let [(from, to)] = beside(&drawing)[..] else { panic!("one line") };
    let long = (to.x - from.x).abs() / drawing.scale.mm_per_metre();
    assert!((long - 0.05).abs() < 0.003, "{long}");
    assert!((from.y - to.y).abs() < 1e-9);
    has_note(&drawing, "Heat treatment: journal: 50 +5/0 HRC; temper straw");
    has_note(&drawing, LINE);
    assert!((Pen::Treated.width() - Pen::Outline.width()).abs() < 1e-12 && Pen::Treated.dashes().len() == 4);
}

#[test]
fn words_alone_draw_no_line() {
    let drawing = drawn(&stepped_shaft());
    assert_eq!(beside(&drawing), []);
    has_note(&drawing, "Heat treatment: harden the nose to 50 HRC, temper straw");
    assert!(!drawing.notes.iter().any(|note| note == LINE));
}

/// The line keeps within 30 mm of the corner, on both sides of it, outside the metal.
#[test]
fn a_treated_corner_has_the_line_as_far_as_it_says() {
    let mut it = pawl();
    let Body::Flat(flat) = &mut it.body else { panic!("flat") };
    let Outline::Polygon(corners) = &mut flat.outline else { panic!("a polygon") };
    corners[3].name = Some("nose".to_owned());
    it.treat = Some(treat("nose", Some(30.0)));
    let drawing = drawn(&it);
    let pieces = beside(&drawing);
    let scale = drawing.scale.mm_per_metre() * 1e-3;
    let width = |of: fn(Point) -> f64| {
        let all = pieces.iter().flat_map(|(a, b)| [of(*a), of(*b)]);
        all.clone().fold(f64::NEG_INFINITY, f64::max) - all.fold(f64::INFINITY, f64::min)
    };
    // From 19.25 mm down one side, which slants by 8 in 18, to 30 mm along the other.
    let wide = width(|point| point.x) / scale;
    assert!(pieces.len() > 3 && wide > 25.0 && wide < 34.0, "{wide}");
    assert!(width(|point| point.y) / scale < 34.0);
    has_note(&drawing, "Heat treatment: nose, within 30 mm of it: 50 +5/0 HRC; temper straw");
    has_note(&drawing, &format!("{LINE}, along the edge each way from where the sides of the corner meet"));
    assert!(drawing.stated.iter().any(|stated| stated.text == "treated 30 each way"));
    // The longest piece lies along the one side, from the end of the rounding: 30 mm less its setback. What is left of the
    // other 30 mm behind the corner of 19.7 mm lies along the side after it.
    let mut long: Vec<f64> = pieces.iter().map(|(a, b)| libm::hypot(a.x - b.x, a.y - b.y) / scale).collect();
    long.sort_by(f64::total_cmp);
    let [.., second, first] = long[..] else { panic!("pieces") };
    let setback = {
        let (a, b) = ((-8.0, -18.0), (-88.0, 10.0));
        let (la, lb) = (libm::hypot(a.0, a.1), libm::hypot(b.0, b.1));
        let half = libm::acos((a.0 * b.0 + a.1 * b.1) / (la * lb)) / 2.0;
        3.0 / libm::tan(half)
    };
    assert!((first - (30.0 - setback)).abs() < 1e-6, "{first}");
    assert!((second - (libm::hypot(8.0, 18.0) - setback)).abs() < 1e-6, "{second}");
}

/// The line of a treated bore lies in the hollow, above its surface, grooves or not.
#[test]
fn a_treated_bore_has_the_line_in_the_hollow() {
    let mut it = oiled();
    it.treat = Some(treat("journal", None));
    let Body::Turned(turned) = &mut it.body else { panic!("turned") };
    turned.bores[0].name = Some("journal".to_owned());
    let drawing = drawn(&it);
    let [(from, to)] = beside(&drawing)[..] else { panic!("one line") };
    let axis = drawing.marks.iter().filter(|mark| mark.pen == Pen::Centre && mark.owner == 0);
    let mut axis = axis.filter_map(|mark| match mark.ink {
        Ink::Line { from, to } if (from.y - to.y).abs() < 1e-9 => Some(from.y),
        _ => None,
    });
    let axis = axis.next_back().expect("an axis");
    let (away, radius) = (from.y - axis, 25.0 * drawing.scale.mm_per_metre() * 1e-3);
    assert!(away < radius && away > radius - 2.0, "{away} {radius}");
    assert!((from.y - to.y).abs() < 1e-9);
}

/// A bush with a groove all round, a groove along, and a hole to both.
fn oiled() -> Shape {
    let mut it = greased_bush();
    let Body::Turned(turned) = &mut it.body else { panic!("turned") };
    turned.across = vec![
        cut(Across::BoreGroove { wide: mm(6.0), d: mm(54.0) }, mm(27.0)),
        Cut { key: 51, ..cut(Across::OilGroove { wide: mm(5.0), long: mm(40.0), deep: mm(2.0) }, mm(10.0)) },
        Cut { key: 52, ..cut(Across::Hole { d: mm(5.0), through: false }, mm(30.0)) },
    ];
    it
}

#[test]
fn grooves_in_a_bore_state_every_size() {
    let drawing = drawn(&oiled());
    let stated: Vec<&str> = drawing.stated.iter().map(|stated| stated.text.as_str()).collect();
    for text in ["groove in bore 6 × ⌀54", "oil groove 5 × 2 deep", "27", "10", "40", "30"] {
        assert!(stated.contains(&text), "{text} in {stated:?}");
    }
    // Only the upper wall has the groove along the bore; the one all round is shown by the half that is cut.
    let hidden = drawing.marks.iter().filter(|mark| mark.pen == Pen::Hidden);
    let level =
        hidden.filter(|mark| matches!(mark.ink, Ink::Line { from, to } if (from.y - to.y).abs() < 1e-9));
    assert_eq!(level.count(), 1);
}

#[test]
fn grooves_are_drawn_on_every_sheet() {
    for sheet in
        [Sheet::A4_LANDSCAPE, Sheet::A4_PORTRAIT, Sheet::LETTER_LANDSCAPE, Sheet::figure(180.0, 200.0)]
    {
        let drawing = draw(&oiled(), &Title::default(), &sheet).expect("drawn");
        assert_eq!(clashes(&drawing), []);
    }
}

#[test]
fn the_side_that_is_up_is_said() {
    let drawing = drawn(&Shape { up: Some("left".to_owned()), ..bush() });
    has_note(&drawing, "In its place, this end is up: left");
    has_note(&drawing, "Left: as drawn");
}

/// ISO 13715: how sharp an inside corner has to be is a figure.
#[test]
fn inside_corners_without_a_radius_are_said_by_a_figure() {
    let drawing = drawn(&Shape { corners: Some("0.4 mm".to_owned()), ..flanged_bush() });
    has_note(&drawing, "Inside corners without a radius: R0.4 mm at most");
}
