//! Twelve parts as they come to a repair shop, in millimetres and in inches, whose drawings are kept.

use super::cases::*;
use asfound::drafting::{Purpose, Title};
use asfound::shape::*;

fn thou(size: Size, low: f64, high: f64) -> Size {
    size.within(low * 25.4e-6, high * 25.4e-6)
}

fn coarse(key: usize, text: &str, major: f64, pitch: f64) -> Thread {
    Thread { key, text: text.to_owned(), major: major * 1e-3, pitch: pitch * 1e-3 }
}

fn run_out(of: &str, to: &str, within: Size) -> Vec<Control> {
    vec![Control { key: 9, of: of.into(), to: to.into(), kind: ControlKind::RunOut, within }]
}

fn inches(mut shape: Shape) -> Shape {
    shape.general = Some(General::Figure { plus_minus: 0.000_254, text: "0.010 in".into() });
    shape.edges = Some("break 1/64 in".into());
    shape
}

fn of_turned(turned: Turned) -> Shape {
    shape(Body::Turned(turned))
}

fn of_flat(thick: Size, outline: Outline, holes: Vec<Hole>, slots: Vec<Slot>) -> Shape {
    shape(Body::Flat(Flat { thick, outline, holes, slots }))
}

/// A keyway that runs out at the end, and one that is closed.
fn keyed_shaft() -> Shape {
    let outside = vec![
        plain(fit(30.0, "k6", 2.0, 15.0), mm(48.0)).chamfered(1.0),
        plain(fit(40.0, "m6", 9.0, 25.0), mm(36.0)).rounded(1.0).finished("Ra 0.8").named("left journal"),
        plain(mm(52.0), mm(70.0)).rounded(2.0),
        plain(fit(40.0, "m6", 9.0, 25.0), mm(36.0)).rounded(1.0).finished("Ra 0.8").named("right journal"),
        plain(fit(30.0, "k6", 2.0, 15.0), mm(60.0)).chamfered(1.0),
    ];
    let key = |long: f64, at: f64| {
        let what =
            Across::Keyway { wide: fit(8.0, "P9", -51.0, -15.0), long: mm(long), deep: tol(4.0, 0.0, 0.2) };
        cut(what, mm(at))
    };
    let true_to = run_out("right journal", "left journal", mm(0.02));
    of_turned(Turned { across: vec![key(40.0, 0.0), key(45.0, 198.0)], true_to, ..turned(outside) })
}

fn stud() -> Shape {
    let thread =
        |long| Segment { form: Form::Thread(coarse(7, "M20", 20.0, 2.5)), ..plain(mm(20.0), mm(long)) };
    let outside = vec![thread(30.0).chamfered(2.5), plain(mm(20.0), mm(65.0)), thread(45.0).chamfered(2.5)];
    of_turned(turned(outside))
}

fn inch_flanged_bush() -> Shape {
    let outside = vec![
        plain(inch(3.5, "3 1/2"), inch(0.5, "1/2")).named("flange"),
        plain(thou(inch(2.5, "2 1/2").class("s6", 0.0, 0.0), 2.3, 3.0), inch(2.25, "2 1/4"))
            .finished("Ra 1.6"),
    ];
    let bores = vec![Bore {
        name: Some("bore".into()),
        chamfer: Some(inch(0.0625, "1/16")),
        finish: Some("Ra 0.8".into()),
        ..bore(Size { as_limits: true, ..thou(inch(2.0, "2.000"), 0.0, 1.0) }, None)
    }];
    let across = vec![cut(Across::Hole { d: inch(0.1875, "3/16"), through: false }, inch(1.5, "1 1/2"))];
    let true_to = run_out("flange", "bore", inch(0.001, "0.001"));
    inches(of_turned(Turned { bores, across, true_to, ..turned(outside) }))
}

/// Bored from both sides, with a groove and a hole for oil, both mouths chamfered.
pub(crate) fn greased_bush() -> Shape {
    let outside = vec![plain(fit(70.0, "r6", 41.0, 60.0), mm(80.0)).chamfered(2.0)];
    let mouth = |side, d, deep| Bore { side, chamfer: Some(mm(1.5)), ..bore(fit(d, "H7", 0.0, 30.0), deep) };
    let bores = vec![mouth(Side::Left, 50.0, None), mouth(Side::Right, 56.0, Some(mm(20.0)))];
    let across = vec![
        cut(Across::Groove { wide: mm(6.0), d: mm(66.0) }, mm(27.0)),
        cut(Across::Hole { d: mm(5.0), through: true }, mm(30.0)),
    ];
    of_turned(Turned { bores, across, ..turned(outside) })
}

fn shouldered_pin() -> Shape {
    let outside = vec![
        plain(inch(2.0, "2"), inch(0.375, "3/8")).chamfer_of(inch(0.0625, "1/16")),
        plain(thou(inch(1.5, "1 1/2"), -2.0, 0.0), inch(4.0, "4")).finished("Ra 1.6").named("body"),
        plain(inch(1.25, "1 1/4"), inch(1.0, "1")).chamfer_of(inch(0.125, "1/8")),
    ];
    let across = vec![cut(Across::Hole { d: inch(0.25, "1/4"), through: true }, inch(4.875, "4 7/8"))];
    inches(of_turned(Turned { across, ..turned(outside) }))
}

fn washer() -> Shape {
    let hole = hole(10, mm(31.0), 0.0, 0.0);
    of_flat(tol(4.0, -0.1, 0.1), Outline::Disc { d: mm(56.0) }, vec![hole], vec![])
}

fn drilled_plate() -> Shape {
    let d = |key, x, y| hole(key, fit(18.0, "H13", 0.0, 270.0), x, y);
    let tapped = |key, x, y| Hole { thread: Some(coarse(7, "M10", 10.0, 1.5)), ..hole(key, mm(8.5), x, y) };
    let holes = vec![
        d(10, 25.0, 25.0),
        d(11, 215.0, 25.0),
        d(12, 25.0, 135.0),
        d(13, 215.0, 135.0),
        tapped(14, 120.0, 25.0),
        tapped(15, 120.0, 135.0),
        hole(16, fit(60.0, "H8", 0.0, 46.0), 120.0, 80.0),
    ];
    let outline =
        Outline::Rectangle { wide: mm(240.0), high: mm(160.0), corner: Some(Corner::Round(mm(12.0))) };
    of_flat(mm(15.0), outline, holes, vec![])
}

fn slotted_link() -> Shape {
    let outline = Outline::Rectangle {
        wide: inch(7.0, "7"),
        high: inch(1.5, "1 1/2"),
        corner: Some(Corner::Round(inch(0.75, "3/4"))),
    };
    let place = |x, text, y, up| [inch(x, text), inch(y, up)];
    let slots = vec![Slot {
        key: 20,
        name: None,
        wide: thou(inch(0.625, "5/8"), 0.0, 4.0),
        from: place(3.5, "3 1/2", 0.75, "3/4"),
        to: place(6.0, "6", 0.75, "3/4"),
    }];
    let eye = hole(10, thou(inch(0.75, "3/4"), 0.0, 1.0), 0.0, 0.0);
    let eye = Hole { spot: Spot::At(place(0.75, "3/4", 0.75, "3/4")), ..eye };
    inches(of_flat(inch(0.5, "1/2"), outline, vec![eye], slots))
}

/// Slanted sides under radii, so that sizes go to corners that are not there.
fn bracket() -> Shape {
    let outline = Outline::Polygon(vec![
        vertex(1, 0.0, 0.0, 10.0),
        vertex(2, 160.0, 0.0, 10.0),
        vertex(3, 160.0, 40.0, 15.0),
        vertex(4, 70.0, 60.0, 40.0),
        vertex(5, 45.0, 150.0, 20.0),
        vertex(6, 0.0, 150.0, 20.0),
    ]);
    let holes = vec![
        hole(10, mm(14.0), 22.0, 120.0),
        hole(11, mm(14.0), 22.0, 70.0),
        hole(12, mm(14.0), 130.0, 20.0),
    ];
    of_flat(mm(12.0), outline, holes, vec![])
}

fn gland() -> Shape {
    let outside = vec![
        plain(mm(110.0), mm(16.0)).chamfered(1.0),
        plain(fit(70.0, "f8", -76.0, -30.0), mm(38.0)).undercut(3.0, Some(69.0)),
    ];
    let bores = vec![
        bore(fit(50.5, "H9", 0.0, 74.0), None),
        Bore {
            side: Side::Right,
            form: BoreForm::Taper { d: mm(64.0), to: mm(51.0) },
            ..bore(mm(64.0), Some(mm(8.0)))
        },
    ];
    let across = vec![cut(Across::Hole { d: mm(8.0), through: false }, mm(35.0))];
    of_turned(Turned { bores, across, ..turned(outside) })
}

fn taper_socket() -> Shape {
    let outside = vec![plain(inch(1.75, "1 3/4"), inch(3.0, "3"))];
    let form = BoreForm::Taper { d: thou(inch(1.0, "1"), 0.0, 2.0), to: inch(0.875, "7/8") };
    let bores = vec![Bore { form, finish: Some("Ra 0.8".into()), ..bore(inch(1.0, "1"), None) }];
    let across = vec![cut(Across::Hole { d: inch(0.25, "1/4"), through: true }, inch(2.25, "2 1/4"))];
    inches(of_turned(Turned { bores, across, ..turned(outside) }))
}

/// A journal to be turned to what cleans up, on a shaft that is there.
fn reworked_spindle() -> Shape {
    let held = Size::hold(5, "turn until it cleans up", Unit::Inch).about(2.15 * 0.0254, "2.15");
    let stays = |size: Size| size.stays();
    let outside = vec![
        plain(stays(inch(1.75, "1 3/4")), stays(inch(3.0, "3"))),
        plain(held, stays(inch(2.5, "2 1/2"))).finished("Ra 0.8").named("journal"),
        plain(stays(inch(2.5, "2 1/2")), stays(inch(60.0, "60"))),
    ];
    let bores = vec![Bore {
        form: BoreForm::Thread { thread: coarse(30, "M6", 6.0, 1.0), drill: Some(inch(0.5, "1/2")) },
        ..bore(mm(6.0), Some(inch(0.375, "3/8")))
    }];
    inches(of_turned(Turned { bores, ..turned(outside) }))
}

/// Each with its title block.
pub(crate) fn twelve() -> Vec<(Title, Shape)> {
    let make = Purpose::Make;
    let all: [(&str, &str, Purpose, Shape); 12] = [
        ("keyed-shaft", "C45", make, keyed_shaft()),
        ("stud", "8.8", make, stud()),
        ("inch-flanged-bush", "C93200", make, inch_flanged_bush()),
        ("greased-bush", "CuSn12", make, greased_bush()),
        ("shouldered-pin", "EN 8", make, shouldered_pin()),
        ("washer", "S235JR", Purpose::Make, washer()),
        ("drilled-plate", "S235JR", make, drilled_plate()),
        ("slotted-link", "EN 8", make, slotted_link()),
        ("bracket", "S235JR", make, bracket()),
        ("gland", "CuSn12", make, gland()),
        ("taper-socket", "EN 8", make, taper_socket()),
        ("reworked-spindle", "mild steel", Purpose::Rework, reworked_spindle()),
    ];
    all.into_iter()
        .map(|(name, material, purpose, shape)| {
            let settles = vec![("turn until it cleans up".to_owned(), "the lathe's first cut".to_owned())];
            let (title, material) = (name.to_owned(), material.to_owned());
            (Title { number: title.clone(), title, material, purpose, settles, ..Title::default() }, shape)
        })
        .collect()
}
