//! Shapes from a seed: sound ones for comparison with other libraries, and wild ones for everything else.

use crate::parts::cases::{at, bore, cut, m_thread, mm, plain, shape, turned};
use asfound::shape::*;

/// A small generator whose numbers are the same everywhere (Numerical Recipes' 64-bit LCG constants, Knuth's MMIX).
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        let mut dice = Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(1));
        (0..4).for_each(|_| {
            dice.next();
        });
        dice
    }

    fn next(&mut self) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as u32
    }

    /// A whole number below `n`.
    pub(crate) fn below(&mut self, n: u32) -> u32 {
        self.next() % n
    }

    /// Millimetres between two figures, in steps of 0.1.
    fn mm(&mut self, from: f64, to: f64) -> f64 {
        let steps = ((to - from) * 10.0).max(1.0) as u32;
        ((from * 10.0).round() + f64::from(self.below(steps + 1))) / 10.0
    }

    fn chance(&mut self, percent: u32) -> bool {
        self.below(100) < percent
    }
}

/// A shape that can be made, found from a seed.
pub(crate) fn sound(seed: u64) -> Shape {
    (0..500)
        .map(|turn| candidate(&mut Dice::new(seed * 1000 + turn)))
        .find(|s| check(s).is_empty())
        .expect("one in 500")
}

fn candidate(dice: &mut Dice) -> Shape {
    if dice.chance(60) { turned_part(dice) } else { flat_part(dice) }
}

fn turned_part(dice: &mut Dice) -> Shape {
    let mut outside = Vec::new();
    for index in 0..1 + dice.below(5) {
        let long = dice.mm(8.0, 60.0);
        let mut segment = plain(mm(dice.mm(20.0, 90.0)), mm(long));
        if dice.chance(20) {
            segment.form = Form::Taper { d: mm(dice.mm(20.0, 90.0)), to: mm(dice.mm(20.0, 90.0)) };
        }
        segment.key = 100 + index as usize;
        segment.chamfer = dice.chance(30).then(|| mm(dice.mm(0.5, 2.0)));
        segment.end = dice.chance(25).then(|| End::Radius(mm(dice.mm(0.5, 3.0))));
        outside.push(segment);
    }
    let mut bores = Vec::new();
    if dice.chance(50) {
        bores.push(bore(mm(dice.mm(4.0, 30.0)), None));
    }
    if dice.chance(40) {
        bores.push(bore(mm(dice.mm(4.0, 40.0)), Some(mm(dice.mm(2.0, 30.0)))));
    }
    if dice.chance(25) {
        bores.push(Bore { side: Side::Right, ..bore(mm(dice.mm(4.0, 40.0)), Some(mm(dice.mm(2.0, 30.0)))) });
    }
    let mut across = Vec::new();
    for _ in 0..dice.below(3) {
        across.push(cut_of(dice));
    }
    shape(Body::Turned(Turned { bores, across, ..turned(outside) }))
}

fn cut_of(dice: &mut Dice) -> Cut {
    let place = mm(dice.mm(0.0, 100.0));
    let what = match dice.below(4) {
        0 => Across::Hole { d: mm(dice.mm(2.0, 12.0)), through: dice.chance(50) },
        1 => Across::Keyway {
            wide: mm(dice.mm(4.0, 12.0)),
            long: mm(dice.mm(14.0, 40.0)),
            deep: mm(dice.mm(2.0, 6.0)),
        },
        2 => Across::Flats {
            size: mm(dice.mm(18.0, 60.0)),
            count: 2 + 2 * dice.below(3),
            long: mm(dice.mm(5.0, 20.0)),
        },
        _ => Across::Groove { wide: mm(dice.mm(1.0, 5.0)), d: mm(dice.mm(18.0, 60.0)) },
    };
    Cut { key: 50 + dice.below(1000) as usize, ..cut(what, place) }
}

fn flat_part(dice: &mut Dice) -> Shape {
    let outline = match dice.below(3) {
        0 => Outline::Disc { d: mm(dice.mm(60.0, 200.0)) },
        1 => Outline::Rectangle {
            wide: mm(dice.mm(60.0, 200.0)),
            high: mm(dice.mm(40.0, 150.0)),
            corner: corner(dice),
        },
        _ => Outline::Polygon(polygon(dice)),
    };
    let is_disc = matches!(outline, Outline::Disc { .. });
    let (low, high) = if is_disc { (-60.0, 60.0) } else { (10.0, 150.0) };
    let mut holes = Vec::new();
    for index in 0..dice.below(4) {
        let spot = if is_disc && dice.chance(40) {
            Spot::Circle {
                d: mm(dice.mm(30.0, 150.0)),
                count: 3 + dice.below(6),
                first: f64::from(dice.below(8)) * 0.1,
                about: None,
            }
        } else {
            Spot::At(at(dice.mm(low, high), dice.mm(low, high)))
        };
        let d = mm(dice.mm(4.0, 20.0));
        holes.push(Hole { key: 300 + index as usize, name: None, d, thread: None, spot, finish: None });
    }
    let mut slots = Vec::new();
    if dice.chance(30) {
        let (x, y) = (dice.mm(low, high), dice.mm(low, high));
        let to = at(x + dice.mm(5.0, 30.0), y + dice.mm(0.0, 20.0));
        slots.push(Slot { key: 400, name: None, wide: mm(dice.mm(4.0, 12.0)), from: at(x, y), to });
    }
    shape(Body::Flat(Flat { thick: mm(dice.mm(2.0, 30.0)), outline, holes, slots }))
}

fn corner(dice: &mut Dice) -> Option<Corner> {
    match dice.below(3) {
        0 => None,
        1 => Some(Corner::Round(mm(dice.mm(2.0, 15.0)))),
        _ => Some(Corner::Cut(mm(dice.mm(2.0, 15.0)))),
    }
}

fn polygon(dice: &mut Dice) -> Vec<Vertex> {
    let places = [(0.0, 0.0), (90.0, 0.0), (150.0, 20.0), (170.0, 90.0), (80.0, 130.0), (0.0, 110.0)];
    let count = 4 + dice.below(3) as usize;
    let vertex = |(index, (x, y)): (usize, (f64, f64))| {
        let shift = if index == 0 { (0.0, 0.0) } else { (dice.mm(0.0, 25.0), dice.mm(0.0, 25.0)) };
        Vertex { key: index + 1, name: None, at: at(x + shift.0, y + shift.1), corner: corner(dice) }
    };
    places.into_iter().take(count).enumerate().map(vertex).collect()
}

/// Anything: sound or not, with sizes of every magnitude, on hold, with limits, negative, no numbers.
pub(crate) fn wild(seed: u64) -> Shape {
    let mut dice = Dice::new(seed);
    let mut it = candidate(&mut dice);
    for _ in 0..dice.below(4) {
        add_something(&mut it, &mut dice);
    }
    let mutations = dice.below(4);
    for _ in 0..mutations {
        let mut chosen = dice.below(30);
        let kind = dice.below(7);
        let figure = [0.0, -1.0, f64::NAN, 1e-4, 10.0, 1e-7, 0.05][dice.below(7) as usize];
        each_size(&mut it, &mut |size| {
            if chosen == 0 {
                spoil(size, kind, figure);
            }
            chosen = chosen.wrapping_sub(1);
        });
    }
    it
}

fn add_something(it: &mut Shape, dice: &mut Dice) {
    let Body::Turned(turned) = &mut it.body else { return };
    match dice.below(6) {
        4 => turned.across.push(cut(
            Across::BoreGroove { wide: mm(dice.mm(1.0, 6.0)), d: mm(dice.mm(4.0, 50.0)) },
            mm(dice.mm(0.0, 60.0)),
        )),
        5 => turned.across.push(cut(
            Across::OilGroove {
                wide: mm(dice.mm(1.0, 6.0)),
                long: mm(dice.mm(5.0, 40.0)),
                deep: mm(dice.mm(0.5, 4.0)),
            },
            mm(dice.mm(0.0, 40.0)),
        )),
        0 => turned.outside.push(Segment {
            form: Form::Thread(m_thread(f64::from(4 + dice.below(40)), f64::from(dice.below(5)) * 0.75)),
            end: dice.chance(50).then(|| End::Undercut { wide: mm(3.0), d: None }),
            chamfer: dice.chance(50).then(|| mm(1.5)),
            ..plain(mm(10.0), mm(dice.mm(5.0, 80.0)))
        }),
        1 => turned.overall = Some(mm(dice.mm(20.0, 200.0)).within(-0.0005, 0.0005)),
        2 => {
            if let Some(segment) = turned.outside.first_mut() {
                segment.long = None;
                segment.name = Some("first".into());
            }
        }
        _ => {
            let form = BoreForm::Thread {
                thread: m_thread(f64::from(3 + dice.below(20)), 1.0),
                drill: Some(mm(dice.mm(5.0, 50.0))),
            };
            turned.bores.push(Bore {
                form,
                side: Side::Right,
                ..bore(mm(5.0), Some(mm(dice.mm(5.0, 40.0))))
            });
        }
    }
}

fn spoil(size: &mut Size, kind: u32, figure: f64) {
    match kind {
        0 => *size = Size::mm(size.key, figure * 1000.0),
        1 => *size = Size::hold(size.key, "measure first", Unit::Millimetre),
        2 => size.limits = Some(Limits { upper: 0.000_02, lower: -0.000_01 }),
        3 => size.limits = Some(Limits { upper: -0.1, lower: 0.1 }),
        4 => size.auxiliary = true,
        5 => *size = size.clone().class("H7", 0.0, 0.000_025),
        _ => size.unit = Unit::Inch,
    }
}

fn each_size(it: &mut Shape, see: &mut dyn FnMut(&mut Size)) {
    match &mut it.body {
        Body::Turned(turned) => {
            for segment in &mut turned.outside {
                if let Form::Plain { d } = &mut segment.form {
                    see(d);
                }
                segment.long.iter_mut().for_each(&mut *see);
                segment.chamfer.iter_mut().for_each(&mut *see);
            }
            for bore in &mut turned.bores {
                if let BoreForm::Plain { d } = &mut bore.form {
                    see(d);
                }
            }
            for cut in &mut turned.across {
                see(&mut cut.at);
            }
        }
        Body::Flat(flat) => {
            see(&mut flat.thick);
            if let Outline::Rectangle { wide, high, .. } = &mut flat.outline {
                see(wide);
                see(high);
            }
            for hole in &mut flat.holes {
                see(&mut hole.d);
            }
        }
    }
}
