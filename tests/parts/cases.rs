//! Parts drawn in tests and looked at.

use asfound::shape::*;

pub(crate) fn mm(figure: f64) -> Size {
    Size::mm((figure * 1e4).round().abs() as usize, figure)
}

pub(crate) fn fit(figure: f64, class: &str, lower: f64, upper: f64) -> Size {
    mm(figure).class(class, lower * 1e-6, upper * 1e-6)
}

pub(crate) fn tol(figure: f64, lower: f64, upper: f64) -> Size {
    mm(figure).within(lower * 1e-3, upper * 1e-3)
}

pub(crate) fn plain(d: Size, long: Size) -> Segment {
    Segment {
        key: 1,
        name: None,
        form: Form::Plain { d },
        long: Some(long),
        chamfer: None,
        end: None,
        finish: None,
    }
}

pub(crate) fn taper(d: f64, to: f64, long: f64) -> Segment {
    Segment { form: Form::Taper { d: mm(d), to: mm(to) }, ..plain(mm(d), mm(long)) }
}

pub(crate) fn m_thread(d: f64, pitch: f64) -> Thread {
    let text = if pitch > 0.0 { format!("M{d} × {pitch}") } else { format!("M{d}") };
    Thread { key: 7, text, major: d * 1e-3, pitch: pitch * 1e-3 }
}

pub(crate) fn threaded(d: f64, pitch: f64, long: f64) -> Segment {
    Segment { form: Form::Thread(m_thread(d, pitch)), ..plain(mm(d), mm(long)) }
}

impl Segments for Segment {}

/// Short ways to say what a segment has.
pub(crate) trait Segments: Sized + Into<Segment> {
    fn chamfered(self, size: f64) -> Segment {
        self.chamfer_of(mm(size))
    }
    fn chamfer_of(self, size: Size) -> Segment {
        Segment { chamfer: Some(size), ..self.into() }
    }
    fn rounded(self, size: f64) -> Segment {
        Segment { end: Some(End::Radius(mm(size))), ..self.into() }
    }
    fn undercut(self, wide: f64, d: Option<f64>) -> Segment {
        Segment { end: Some(End::Undercut { wide: mm(wide), d: d.map(mm) }), ..self.into() }
    }
    fn finished(self, text: &str) -> Segment {
        Segment { finish: Some(text.to_owned()), ..self.into() }
    }
    fn named(self, name: &str) -> Segment {
        Segment { name: Some(name.to_owned()), ..self.into() }
    }
}

pub(crate) fn bore(d: Size, deep: Option<Size>) -> Bore {
    let deep = deep.map_or(Deep::Through, Deep::To);
    Bore {
        key: 40,
        name: None,
        side: Side::Left,
        form: BoreForm::Plain { d },
        deep,
        chamfer: None,
        both_mouths: false,
        finish: None,
    }
}

pub(crate) fn cut(what: Across, at: Size) -> Cut {
    Cut { key: 50, name: None, what, at, finish: None }
}

pub(crate) fn shape(body: Body) -> Shape {
    Shape {
        key: 0,
        general: Some(General::Class(Class::Medium)),
        finish: Some("Ra 3.2".to_owned()),
        edges: Some("break 0.3".to_owned()),
        corners: None,
        treat: None,
        up: None,
        coat: None,
        notes: Vec::new(),
        body,
    }
}

pub(crate) fn turned(outside: Vec<Segment>) -> Turned {
    Turned { outside, ..Turned::default() }
}

pub(crate) fn bush() -> Shape {
    let outside = vec![plain(fit(60.0, "r6", 41.0, 60.0), mm(50.0)).chamfered(1.5).finished("Ra 1.6")];
    let bores = vec![Bore {
        chamfer: Some(mm(1.0)),
        finish: Some("Ra 0.8".into()),
        ..bore(fit(45.0, "H7", 0.0, 25.0), None)
    }];
    shape(Body::Turned(Turned { bores, ..turned(outside) }))
}

pub(crate) fn flanged_bush() -> Shape {
    let outside = vec![
        plain(mm(90.0), mm(12.0)).chamfered(1.0).named("flange"),
        plain(fit(65.0, "r6", 41.0, 60.0), tol(48.0, -0.1, 0.0))
            .chamfered(2.0)
            .undercut(2.0, Some(64.0))
            .finished("Ra 1.6"),
    ];
    let bores = vec![Bore {
        name: Some("journal".into()),
        finish: Some("Ra 0.8".into()),
        ..bore(fit(50.0, "H7", 0.0, 25.0), None)
    }];
    let across = vec![cut(Across::Hole { d: mm(6.0), through: false }, mm(36.0))];
    let true_to = vec![Control {
        key: 9,
        of: "flange".into(),
        to: "journal".into(),
        kind: ControlKind::RunOut,
        within: mm(0.02),
    }];
    shape(Body::Turned(Turned { bores, across, true_to, ..turned(outside) }))
}

pub(crate) fn stepped_shaft() -> Shape {
    let outside = vec![
        plain(mm(60.0), mm(12.0)).chamfered(1.0).named("collar"),
        plain(fit(40.0, "f7", -50.0, -25.0), tol(50.0, 0.0, 0.2))
            .rounded(1.0)
            .finished("Ra 0.8")
            .named("journal"),
        taper(38.0, 30.0, 25.0),
        threaded(24.0, 2.0, 30.0).undercut(3.0, None).chamfered(2.0),
    ];
    let across = vec![cut(
        Across::Keyway { wide: fit(12.0, "P9", -61.0, -18.0), long: mm(32.0), deep: tol(5.0, 0.0, 0.2) },
        mm(20.0),
    )];
    let true_to = vec![Control {
        key: 9,
        of: "journal".into(),
        to: "collar".into(),
        kind: ControlKind::RunOut,
        within: mm(0.02),
    }];
    let mut it = shape(Body::Turned(Turned { across, true_to, ..turned(outside) }));
    it.treat = Some("harden the nose to 50 HRC, temper straw".into());
    it
}

pub(crate) fn twelve_features() -> Shape {
    let outside = vec![
        threaded(20.0, 1.5, 22.0).chamfered(1.5).undercut(2.5, None),
        plain(fit(25.0, "k6", 2.0, 15.0), mm(28.0)).rounded(0.8),
        plain(mm(32.0), mm(40.0)).rounded(1.0),
        plain(mm(45.0), mm(8.0)).chamfered(1.0).rounded(1.0),
        plain(fit(35.0, "k6", 2.0, 18.0), mm(45.0)).rounded(1.0).finished("Ra 0.8"),
        plain(fit(30.0, "h6", -13.0, 0.0), mm(42.0)).chamfered(1.0),
    ];
    let across = vec![
        cut(
            Across::Keyway { wide: fit(10.0, "P9", -51.0, -15.0), long: mm(32.0), deep: tol(5.0, 0.0, 0.2) },
            mm(148.0),
        ),
        cut(Across::Groove { wide: fit(1.3, "H13", 0.0, 140.0), d: fit(23.9, "h12", -210.0, 0.0) }, mm(45.0)),
        cut(Across::Hole { d: mm(5.0), through: true }, mm(70.0)),
    ];
    shape(Body::Turned(Turned { across, ..turned(outside) }))
}

pub(crate) fn pin() -> Shape {
    let outside = vec![plain(fit(30.0, "f7", -41.0, -20.0), mm(110.0)).chamfered(1.5).finished("Ra 0.8")];
    let groove = |at: f64| {
        cut(Across::Groove { wide: fit(1.6, "H13", 0.0, 140.0), d: fit(28.6, "h12", -210.0, 0.0) }, mm(at))
    };
    let across = vec![
        groove(6.0),
        groove(102.4),
        cut(Across::Hole { d: fit(8.0, "H8", 0.0, 22.0), through: true }, mm(55.0)),
    ];
    shape(Body::Turned(Turned { across, ..turned(outside) }))
}

pub(crate) fn tie_rod() -> Shape {
    let outside = vec![
        threaded(24.0, 3.0, 60.0).chamfered(2.0),
        plain(mm(25.0), mm(1850.0)),
        threaded(24.0, 3.0, 60.0).chamfered(2.0),
    ];
    shape(Body::Turned(turned(outside)))
}

pub(crate) fn sleeve() -> Shape {
    let outside = vec![plain(mm(80.0), mm(120.0)).chamfered(1.0)];
    let bores = vec![
        bore(fit(60.0, "H8", 0.0, 46.0), Some(mm(35.0))),
        bore(mm(50.0), None),
        Bore { side: Side::Right, ..bore(fit(58.0, "H7", 0.0, 30.0), Some(tol(30.0, 0.0, 0.1))) },
    ];
    let across = vec![
        cut(Across::Hole { d: fit(12.0, "H9", 0.0, 43.0), through: true }, mm(20.0)),
        cut(Across::Hole { d: mm(8.0), through: false }, mm(100.0)),
    ];
    shape(Body::Turned(Turned { bores, across, ..turned(outside) }))
}

pub(crate) fn nut() -> Shape {
    let outside = vec![plain(mm(63.5), mm(29.0)).chamfered(3.0)];
    let form = BoreForm::Thread { thread: m_thread(36.0, 4.0), drill: None };
    let bores = vec![Bore { form, chamfer: Some(mm(2.5)), ..bore(mm(36.0), None) }];
    let across = vec![cut(Across::Flats { size: tol(55.0, -1.9, 0.0), count: 6, long: mm(29.0) }, mm(0.0))];
    shape(Body::Turned(Turned { bores, across, ..turned(outside) }))
}

pub(crate) fn roller() -> Shape {
    let outside = vec![
        plain(mm(70.0), mm(6.0)).chamfered(1.0),
        taper(118.0, 122.0, 60.0).finished("Ra 1.6"),
        plain(mm(70.0), mm(6.0)).chamfered(1.0),
    ];
    let bores = vec![
        bore(fit(40.0, "H7", 0.0, 25.0), None),
        Bore { chamfer: None, ..bore(mm(52.0), Some(mm(4.0))) },
        Bore { side: Side::Right, ..bore(mm(52.0), Some(mm(4.0))) },
    ];
    shape(Body::Turned(Turned { bores, ..turned(outside) }))
}

pub(crate) fn blind() -> Shape {
    let outside = vec![
        plain(mm(50.0), mm(20.0)).chamfered(1.0).rounded(2.0),
        plain(fit(35.0, "h6", -16.0, 0.0), mm(60.0)).chamfered(1.0),
    ];
    let form =
        |d: f64, p: f64, drill: f64| BoreForm::Thread { thread: m_thread(d, p), drill: Some(mm(drill)) };
    let bores = vec![
        Bore { form: form(16.0, 2.0, 36.0), ..bore(mm(16.0), Some(mm(28.0))) },
        bore(mm(22.0), Some(mm(5.0))),
        Bore { form: form(6.0, 1.0, 16.0), side: Side::Right, ..bore(mm(6.0), Some(mm(12.0))) },
    ];
    let across = vec![cut(Across::Flats { size: tol(41.0, -0.2, 0.0), count: 2, long: mm(20.0) }, mm(0.0))];
    shape(Body::Turned(Turned { bores, across, ..turned(outside) }))
}

pub(crate) fn at(x: f64, y: f64) -> [Size; 2] {
    [mm(x), mm(y)]
}

pub(crate) fn vertex(key: usize, x: f64, y: f64, radius: f64) -> Vertex {
    Vertex { key, name: None, at: at(x, y), corner: (radius > 0.0).then(|| Corner::Round(mm(radius))) }
}

pub(crate) fn hole(key: usize, d: Size, x: f64, y: f64) -> Hole {
    Hole { key, name: None, d, thread: None, spot: Spot::At(at(x, y)), finish: None }
}

pub(crate) fn pawl() -> Shape {
    let outline = Outline::Polygon(vec![
        vertex(1, 0.0, 0.0, 25.0),
        vertex(2, 60.0, 0.0, 40.0),
        vertex(3, 150.0, 22.0, 0.0),
        vertex(4, 158.0, 40.0, 3.0),
        vertex(5, 70.0, 50.0, 30.0),
        vertex(6, 0.0, 50.0, 25.0),
    ]);
    let holes = vec![
        Hole { finish: Some("Ra 1.6".into()), ..hole(10, fit(25.0, "H8", 0.0, 33.0), 25.0, 25.0) },
        hole(11, mm(8.5), 120.0, 30.0),
    ];
    let mut it = shape(Body::Flat(Flat { thick: mm(20.0), outline, holes, slots: vec![] }));
    it.treat = Some("harden the nose to 50 HRC, temper straw".into());
    it
}

pub(crate) fn gusset() -> Shape {
    let cut = |key, x, y, c: f64| Vertex {
        key,
        name: None,
        at: at(x, y),
        corner: (c > 0.0).then(|| Corner::Cut(mm(c))),
    };
    let outline = Outline::Polygon(vec![
        cut(1, 0.0, 0.0, 20.0),
        cut(2, 250.0, 0.0, 0.0),
        cut(3, 250.0, 40.0, 0.0),
        cut(4, 40.0, 220.0, 0.0),
        cut(5, 0.0, 220.0, 0.0),
    ]);
    let d = || mm(18.0);
    let holes = vec![
        hole(10, d(), 40.0, 60.0),
        hole(11, d(), 40.0, 120.0),
        hole(12, d(), 40.0, 180.0),
        hole(13, d(), 120.0, 40.0),
        hole(14, d(), 200.0, 40.0),
    ];
    shape(Body::Flat(Flat { thick: mm(10.0), outline, holes, slots: vec![] }))
}

pub(crate) fn gasket() -> Shape {
    let ring = |d: f64, count, first: f64, size: f64, key| Hole {
        key,
        name: None,
        d: mm(size),
        thread: None,
        spot: Spot::Circle { d: mm(d), count, first: first.to_radians(), about: None },
        finish: None,
    };
    let holes = vec![hole(10, mm(100.0), 0.0, 0.0), ring(160.0, 8, 22.5, 18.0, 11)];
    let mut it = shape(Body::Flat(Flat {
        thick: mm(2.0),
        outline: Outline::Disc { d: mm(200.0) },
        holes,
        slots: vec![],
    }));
    it.finish = None;
    it.edges = None;
    it
}

pub(crate) fn slotted() -> Shape {
    let outline = Outline::Rectangle {
        wide: mm(180.0),
        high: tol(60.0, -0.2, 0.2),
        corner: Some(Corner::Round(mm(8.0))),
    };
    let slots = vec![Slot {
        key: 20,
        name: None,
        wide: fit(14.0, "H11", 0.0, 110.0),
        from: at(40.0, 30.0),
        to: at(90.0, 30.0),
    }];
    let tapped = Hole { thread: Some(m_thread(12.0, 1.75)), ..hole(12, mm(10.2), 150.0, 30.0) };
    let holes = vec![hole(10, mm(9.0), 12.0, 12.0), hole(11, mm(9.0), 168.0, 48.0), tapped];
    shape(Body::Flat(Flat { thick: mm(12.0), outline, holes, slots }))
}

pub(crate) fn tiny_and_large() -> Shape {
    let outside = vec![
        plain(mm(80.0), mm(0.1)),
        plain(mm(79.8), mm(10000.0)).chamfered(0.1),
        plain(mm(60.0), mm(40.0)),
    ];
    let across = vec![cut(Across::Groove { wide: mm(0.1), d: mm(59.8) }, mm(10020.0))];
    shape(Body::Turned(Turned { across, ..turned(outside) }))
}

pub(crate) fn with_holds() -> Shape {
    let worn = |key, why: &str| Size::hold(key, why, Unit::Millimetre);
    let outside = vec![
        plain(mm(42.0).stays(), mm(60.0).stays()),
        plain(worn(5, "turn the neck clean, then measure it"), mm(45.0)).finished("Ra 0.8").rounded(2.0),
        plain(mm(35.0).from(Origin::Calculated), worn(6, "measure the bearing's width")).chamfered(1.0),
        plain(fit(30.0, "h6", -13.0, 0.0).from(Origin::Measured), mm(40.0)).chamfered(1.0),
    ];
    shape(Body::Turned(turned(outside)))
}

pub(crate) fn inch(figure: f64, text: &str) -> Size {
    Size::inch((figure * 1e4).round().abs() as usize, figure, text)
}

pub(crate) fn inch_part() -> Shape {
    let thou = |size: Size, low: f64, high: f64| size.within(low * 0.0254, high * 0.0254);
    let limits = Size { as_limits: true, ..thou(inch(2.0, "2.000"), 0.0, 0.002) };
    let outside = vec![
        plain(inch(2.75, "2 3/4"), inch(0.5, "1/2")),
        plain(limits, inch(1.1875, "1 3/16")).finished("Ra 1.6"),
        plain(
            thou(inch(1.1875, "1 3/16"), 0.0, 0.002),
            Size {
                deviations: Some(("1/64".into(), "1/64".into())),
                ..thou(inch(5.0, "5"), -0.015625, 0.015625)
            },
        ),
    ];
    let bores = vec![bore(thou(inch(0.75, "3/4"), 0.0, 0.001), None)];
    let mut it = shape(Body::Turned(Turned { bores, ..turned(outside) }));
    it.general = Some(General::Figure { plus_minus: 0.000254, text: "0.010 in".into() });
    it.edges = Some("break 1/64 in".into());
    it
}

pub(crate) fn all() -> Vec<(&'static str, Shape)> {
    vec![
        ("bush", bush()),
        ("flanged-bush", flanged_bush()),
        ("stepped-shaft", stepped_shaft()),
        ("twelve-features", twelve_features()),
        ("pin", pin()),
        ("tie-rod", tie_rod()),
        ("sleeve", sleeve()),
        ("nut", nut()),
        ("roller", roller()),
        ("blind", blind()),
        ("pawl", pawl()),
        ("gusset", gusset()),
        ("gasket", gasket()),
        ("slotted", slotted()),
        ("tiny-and-large", tiny_and_large()),
        ("with-holds", with_holds()),
        ("inch-part", inch_part()),
    ]
}
