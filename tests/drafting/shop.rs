//! Twelve parts of a repair shop: their drawings are kept in `kept`, and what a machinist stumbled on stays mended.
//! `SNAPSHOTS=overwrite` writes what is drawn now; look at the drawings before you keep them.

use std::path::Path;

use crate::parts::cases::*;
use crate::parts::shop::twelve;
use asfound::drafting::*;
use asfound::shape::*;
use snapbox::{Assert, Data};

fn drawn(name: &str) -> Drawing {
    let (title, shape) = twelve().into_iter().find(|(title, _)| title.title == name).expect("a part");
    draw(&shape, &title, &Sheet::A4_LANDSCAPE).expect("drawn")
}

fn of(shape: &Shape) -> Drawing {
    draw(shape, &Title::default(), &Sheet::A4_LANDSCAPE).expect("drawn")
}

/// What is said in words: every size, then every note.
fn words(drawing: &Drawing) -> String {
    let stated = drawing.stated.iter().map(|stated| stated.text.as_str());
    let lines: Vec<&str> = stated.chain([""]).chain(drawing.notes.iter().map(String::as_str)).collect();
    format!("scale {}\n{}\n", drawing.scale.text(), lines.join("\n"))
}

fn lines(drawing: &Drawing, pen: Pen) -> Vec<(Point, Point)> {
    let of_pen = drawing.marks.iter().filter(|mark| mark.pen == pen && mark.owner == 0);
    of_pen
        .filter_map(|mark| if let Ink::Line { from, to } = mark.ink { Some((from, to)) } else { None })
        .collect()
}

fn notes_have(drawing: &Drawing, line: &str) {
    assert!(drawing.notes.iter().any(|note| note == line), "{line} in {:?}", drawing.notes);
}

#[test]
fn drawings_are_as_kept() {
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/drafting/kept");
    for (title, shape) in twelve() {
        let drawing = draw(&shape, &title, &Sheet::A4_LANDSCAPE).expect("drawn");
        for (ending, text) in [("svg", to_svg(&drawing, "")), ("txt", words(&drawing))] {
            let path = kept.join(format!("{}.{ending}", title.title));
            Assert::new().action_env("SNAPSHOTS").eq(text, Data::read_from(&path, None).raw());
        }
    }
}

#[test]
fn nothing_lies_over_a_text_on_any_sheet() {
    let sheets =
        [Sheet::A4_LANDSCAPE, Sheet::A4_PORTRAIT, Sheet::LETTER_LANDSCAPE, Sheet::figure(180.0, 200.0)];
    for (title, shape) in twelve() {
        for sheet in sheets {
            let drawing =
                draw(&shape, &title, &sheet).unwrap_or_else(|why| panic!("{}: {why:?}", title.title));
            assert_eq!(clashes(&drawing), [], "{}", title.title);
        }
    }
}

/// The arrow at a mouth's chamfer has its tip on the slanting edge in the cut half, which is 1/16 in at 1 : 1.
#[test]
fn leader_of_a_mouth_ends_on_its_chamfer() {
    let drawing = drawn("inch-flanged-bush");
    let slanting = lines(&drawing, Pen::Outline).into_iter().find(|(from, to)| {
        let (dx, dy) = ((from.x - to.x).abs(), (from.y - to.y).abs());
        (dx - 1.5875).abs() < 0.01 && (dy - 1.5875).abs() < 0.01
    });
    let (from, to) = slanting.expect("a chamfer");
    let middle = Point::new(f64::midpoint(from.x, to.x), f64::midpoint(from.y, to.y));
    let near = |point: &Point| (point.x - middle.x).abs() + (point.y - middle.y).abs() < 1e-6;
    let is_tip = |mark: &Mark| matches!(&mark.ink, Ink::Solid { points } if points.first().is_some_and(near));
    assert!(drawing.marks.iter().any(is_tip));
    assert!(drawing.stated.iter().any(|stated| stated.text == "1/16 × 45°"));
}

/// ISO 5459: the triangle of an axis stands on the extension line of its diameter, in line with the dimension.
#[test]
fn datum_of_a_bore_hangs_in_line_with_its_dimension() {
    let drawing = drawn("inch-flanged-bush");
    let letter = drawing.marks.iter().find_map(|mark| match &mark.ink {
        Ink::Text { at, text, upward: false, .. } if text == "A" => Some((mark.owner, *at)),
        _ => None,
    });
    // The other A, in the tolerance frame, stands far above.
    let triangle = |owner: usize| {
        drawing.marks.iter().filter(move |mark| mark.owner == owner).find_map(|mark| match &mark.ink {
            Ink::Solid { points } if points.len() == 3 => Some(points.clone()),
            _ => None,
        })
    };
    let hanging: Vec<Vec<Point>> = drawing
        .marks
        .iter()
        .filter(|mark| matches!(&mark.ink, Ink::Text { text, .. } if text == "A"))
        .filter_map(|mark| triangle(mark.owner))
        .filter(|points| (points[0].y - points[1].y).abs() < 1e-9 && points[2].y > points[0].y + 2.0)
        .collect();
    assert!(letter.is_some() && hanging.len() == 1, "{hanging:?}");
    let (x, y) = (hanging[0][2].x, hanging[0][0].y);
    let thin = |from: &Point, to: &Point| {
        let level = (from.y - y).abs() < 1e-6 && (to.y - y).abs() < 1e-6;
        level && from.x.min(to.x) < x - 1.0 && from.x.max(to.x) > x + 1.0
    };
    let is_line = |mark: &Mark| matches!(&mark.ink, Ink::Line { from, to } if thin(from, to));
    assert!(drawing.marks.iter().any(|mark| mark.pen == Pen::Thin && is_line(mark)));
}

/// Sides of a rounded corner that sizes go to are prolonged to where they meet (ISO 129-1).
#[test]
fn sizes_to_rounded_corners_show_where_the_sides_meet() {
    let drawing = drawn("bracket");
    notes_have(&drawing, "Sizes to a worked corner are to where its sides meet");
    assert_eq!(lines(&drawing, Pen::Thin).len(), 6, "two at each of three corners with a slanting side");
    assert_eq!(lines(&drawn("drilled-plate"), Pen::Thin), []);
}

/// No leader runs along or across the part to a corner below.
#[test]
fn corners_that_no_leader_reaches_are_noted() {
    notes_have(&drawn("bracket"), "Rounded corners without a size: R10");
    notes_have(&of(&gusset()), "Cut corners without a size: 20 × 45°");
}

#[test]
fn a_size_on_hold_says_what_it_will_be_about_and_what_settles_it() {
    let drawing = drawn("reworked-spindle");
    assert!(drawing.stated.iter().any(|stated| stated.text == "[⌀?1] about 2.15 Ra 0.8"));
    let line = "?1 on hold, not to be made yet: turn until it cleans up; settled by: the lathe's first cut";
    notes_have(&drawing, line);
}

/// ISO 261 leaves the coarse pitch out of the designation; whoever cuts the thread by change wheels needs it.
#[test]
fn the_pitch_of_a_coarse_thread_is_noted_once() {
    let drawing = drawn("stud");
    assert_eq!(drawing.notes.iter().filter(|note| *note == "M20: pitch 2.5 mm").count(), 1);
    notes_have(&drawn("reworked-spindle"), "M6: pitch 1 mm");
    assert!(!of(&stepped_shaft()).notes.iter().any(|note| note.contains("pitch")), "M24 × 2 says it itself");
}

/// A thin bore that is drawn larger than the scale does not make the outside larger.
#[test]
fn enlarged_steps_leave_the_rest_to_scale() {
    let thread = m_thread(6.0, 1.0);
    let nipple = BoreForm::Thread { thread, drill: Some(mm(13.0)) };
    let bores = vec![Bore { form: nipple, ..bore(mm(6.0), Some(mm(10.0))) }, bore(mm(4.8), Some(mm(90.0)))];
    let outside = vec![plain(mm(38.0), mm(13.0)), plain(mm(34.0), mm(190.0))];
    let drawing = of(&shape(Body::Turned(Turned { bores, ..turned(outside) })));
    let ends = lines(&drawing, Pen::Outline).into_iter().flat_map(|(from, to)| [from, to]);
    let (low, high, left, right) = ends.fold((f64::MAX, f64::MIN, f64::MAX, f64::MIN), |(a, b, c, d), p| {
        (a.min(p.y), b.max(p.y), c.min(p.x), d.max(p.x))
    });
    let scale = drawing.scale.mm_per_metre() * 1e-3;
    assert!((high - low - 38.0 * scale).abs() < 0.01, "{} at {}", high - low, drawing.scale.text());
    assert!((right - left - 203.0 * scale).abs() < 0.01, "{}", right - left);
}

/// One through both walls is shown by the half that is cut.
#[test]
fn a_cross_hole_has_hidden_edges_where_only_the_half_that_is_seen_has_it() {
    for (name, holes) in [("taper-socket", 0), ("greased-bush", 0), ("inch-flanged-bush", 1)] {
        assert_eq!(lines(&drawn(name), Pen::Hidden).len(), 2 * holes, "{name}");
    }
}

/// Where a keyway runs out at a face it has no round end there.
#[test]
fn an_open_keyway_is_drawn_open() {
    let drawing = drawn("keyed-shaft");
    let arcs = drawing.marks.iter().filter(|mark| mark.owner == 0 && mark.pen == Pen::Outline);
    let arcs = arcs.filter(|mark| matches!(mark.ink, Ink::Arc { .. })).count();
    assert_eq!(arcs, 6, "quarters: two of the open keyway, four of the closed one");
    notes_have(&drawing, "Keyway B–B is open at the left end");
    assert!(!drawing.notes.iter().any(|note| note.starts_with("Keyway C")));
}

/// A keyway that runs out at the right end is placed by its length: its place would say the same once more.
#[test]
fn an_open_keyway_is_placed_by_its_length() {
    let keyed = |at: f64| {
        let keyway = Across::Keyway { wide: mm(8.0), long: mm(30.0), deep: mm(4.0) };
        let across = vec![cut(keyway, mm(at))];
        of(&shape(Body::Turned(Turned { across, ..turned(vec![plain(mm(25.0), mm(100.0))]) })))
    };
    let states = |drawing: &Drawing, text: &str| drawing.stated.iter().any(|size| size.text == text);
    assert!(states(&keyed(60.0), "60") && states(&keyed(60.0), "30"));
    assert!(!states(&keyed(70.0), "70") && states(&keyed(70.0), "30"));
}

/// ISO 2768-1:1989, tables 1 and 2, class m: 0.1 mm to 6, 0.2 to 30, 0.3 to 120; chamfers 0.2 to 3. In inches, rounded to
/// what lies within.
#[test]
fn general_tolerances_of_an_inch_drawing_are_in_inches() {
    let inch = |figure: f64, text: &str| Size::inch(1, figure, text);
    let segment = plain(inch(1.5, "1 1/2"), inch(4.0, "4"));
    let chamfered = segment.chamfer_of(inch(0.0625, "1/16"));
    let hole = cut(Across::Hole { d: inch(0.1875, "3/16"), through: true }, inch(1.0, "1"));
    let it = shape(Body::Turned(Turned { across: vec![hole], ..turned(vec![chamfered]) }));
    let note = "ISO 2768-m in inches: to 0.236 ±0.0039, to 1.181 ±0.0078, to 4.724 ±0.0118; radii and chamfers to 0.118 \
                ±0.0078";
    notes_have(&of(&it), note);
}

#[test]
fn a_part_that_is_there_says_so_over_the_view() {
    let texts = |drawing: &Drawing| -> Vec<String> {
        let text =
            |mark: &Mark| if let Ink::Text { text, .. } = &mark.ink { Some(text.clone()) } else { None };
        drawing.marks.iter().filter_map(text).collect()
    };
    let rework = texts(&drawn("reworked-spindle"));
    assert!(rework.contains(&"REWORK OF AN EXISTING PART".to_owned()));
    assert!(rework.contains(&"Rework drawing".to_owned()));
    let stays = vec![plain(mm(40.0).stays(), mm(60.0).stays())];
    let there = shape(Body::Turned(turned(stays)));
    let title = Title { quantity: "1".into(), ..Title::default() };
    let there = draw(&there, &title, &Sheet::A4_LANDSCAPE).expect("drawn");
    let said = texts(&there);
    for expected in ["EXISTING PART: INFORMATION ONLY, NOT TO BE MADE", "Information", "none"] {
        assert!(said.contains(&expected.to_owned()), "{expected} in {said:?}");
    }
    assert!(!texts(&drawn("stud")).iter().any(|text| text.contains("EXISTING")));
}

#[test]
fn a_calculated_size_is_a_size_like_any_other() {
    let drawing = of(&with_holds());
    assert!(drawing.stated.iter().any(|stated| stated.text == "⌀35"));
    assert!(!drawing.notes.iter().any(|note| note.contains("calculated")));
}

#[test]
fn sides_that_names_speak_of_are_those_of_the_drawing() {
    notes_have(&drawn("keyed-shaft"), "Left and right: as drawn");
    assert!(!drawn("stud").notes.iter().any(|note| note.contains("as drawn")));
}

/// ISO 6410-1: the useful length of a thread ends in a wide line, on a shank of the same diameter too.
#[test]
fn a_thread_ends_in_a_wide_line() {
    let drawing = drawn("stud");
    let upright =
        |pen: Pen| lines(&drawing, pen).into_iter().filter(|(from, to)| (from.x - to.x).abs() < 1e-9).count();
    assert_eq!(upright(Pen::Thin), 0);
    assert_eq!(
        upright(Pen::Outline),
        12,
        "two faces, two chamfers, two ends of thread, above and below the axis"
    );
}

/// Equal centre lines do not lie over each other: their dashes would fill up.
#[test]
fn no_centre_line_lies_over_another() {
    for (title, shape) in twelve().into_iter().filter(|(_, shape)| matches!(shape.body, Body::Flat(_))) {
        let drawing = draw(&shape, &title, &Sheet::A4_LANDSCAPE).expect("drawn");
        let all = lines(&drawing, Pen::Centre);
        for (index, (from, to)) in all.iter().enumerate() {
            let level = |a: &Point, b: &Point| (a.y - b.y).abs() < 1e-6;
            let over = all[index + 1..].iter().find(|(a, b)| {
                level(from, to) && level(a, b) && level(from, a) && from.x < b.x && a.x < to.x
            });
            assert!(over.is_none(), "{}: {from:?} {over:?}", title.title);
        }
    }
}

/// A figure on a page: no empty room, and of the notes only those that sizes stand in or that stop the work.
#[test]
fn a_figure_says_what_it_cannot_do_without() {
    let sheet = Sheet::figure(150.0, 145.0);
    let drawn: Vec<(Title, Drawing)> = twelve()
        .into_iter()
        .filter_map(|(title, shape)| draw(&shape, &title, &sheet).ok().map(|drawing| (title, drawing)))
        .collect();
    assert!(drawn.len() >= 11, "{}", drawn.len());
    for (title, drawing) in drawn {
        assert_eq!(clashes(&drawing), [], "{}", title.title);
        assert!(drawing.height <= 145.0 && !drawing.notes.iter().any(|note| note.starts_with("Edges")));
        match title.title.as_str() {
            "washer" => assert!(drawing.height < 110.0, "{}", drawing.height),
            "stud" => notes_have(&drawing, "Chamfers without a size: 2.5 × 45°"),
            "reworked-spindle" => assert!(drawing.notes.iter().any(|note| note.starts_with("?1 on hold"))),
            _ => {}
        }
    }
}
