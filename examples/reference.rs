//! Writes the random sound shapes as JSON lines and DXF files, for comparison with other libraries.
#![allow(clippy::print_stdout, clippy::unwrap_used)]
#[path = "../tests/parts/mod.rs"]
mod parts;
use parts::random;

use asfound::drafting::{Sheet, Title, draw, profile_to_dxf, to_dxf};
use asfound::shape::*;

fn main() {
    let folder = std::env::args().nth(1).unwrap();
    let count = std::env::args().nth(2).map_or(200, |count| count.parse().unwrap());
    for seed in 0..count {
        let shape = random::sound(seed);
        std::fs::write(format!("{folder}/profile-{seed}.dxf"), profile_to_dxf(&shape).unwrap()).unwrap();
        if let Ok(drawing) = draw(&shape, &Title::default(), &Sheet::A4_LANDSCAPE) {
            std::fs::write(format!("{folder}/drawing-{seed}.dxf"), to_dxf(&drawing)).unwrap();
        }
        let volume = work_out(&shape, &Allowance::USUAL).unwrap().volume * 1e9;
        println!("{{\"seed\": {seed}, \"volume\": {volume}, {}}}", body(&shape.body));
    }
}

fn m(size: &Size) -> f64 {
    size.m() * 1000.0
}

fn list(items: impl Iterator<Item = String>) -> String {
    format!("[{}]", items.collect::<Vec<_>>().join(", "))
}

fn body(body: &Body) -> String {
    match body {
        Body::Turned(t) => format!(
            "\"outside\": {}, \"bores\": {}, \"across\": {}",
            list(t.outside.iter().map(segment)),
            list(t.bores.iter().map(bore)),
            list(t.across.iter().map(cut))
        ),
        Body::Flat(f) => format!(
            "\"thick\": {}, \"outline\": {}, \"holes\": {}, \"slots\": {}",
            m(&f.thick),
            outline(&f.outline),
            list(f.holes.iter().map(hole)),
            list(f.slots.iter().map(|s| format!(
                "[{}, {}, {}, {}, {}]",
                m(&s.wide),
                m(&s.from[0]),
                m(&s.from[1]),
                m(&s.to[0]),
                m(&s.to[1])
            )))
        ),
    }
}

fn segment(s: &Segment) -> String {
    let (d, to) = s.form.radii();
    let chamfer = s.chamfer.as_ref().map_or(0.0, m);
    let radius = if let Some(End::Radius(size)) = &s.end { m(size) } else { 0.0 };
    format!("[{}, {}, {}, {chamfer}, {radius}]", d * 2000.0, to * 2000.0, s.long.as_ref().map_or(0.0, m))
}

fn bore(b: &Bore) -> String {
    let BoreForm::Plain { d } = &b.form else { unreachable!() };
    let deep = if let Deep::To(size) = &b.deep { m(size) } else { 0.0 };
    format!("[\"{:?}\", {}, {deep}]", b.side, m(d))
}

fn cut(c: &Cut) -> String {
    let at = m(&c.at);
    match &c.what {
        Across::Hole { d, through } => format!("[\"hole\", {at}, {}, {through}]", m(d)),
        Across::Keyway { wide, long, deep } => {
            format!("[\"keyway\", {at}, {}, {}, {}]", m(wide), m(long), m(deep))
        }
        Across::Flats { size, count, long } => {
            format!("[\"flats\", {at}, {}, {count}, {}]", m(size), m(long))
        }
        Across::Groove { wide, d } => format!("[\"groove\", {at}, {}, {}]", m(wide), m(d)),
        Across::BoreGroove { .. } | Across::OilGroove { .. } => unreachable!(),
    }
}

fn corner(c: Option<&Corner>) -> String {
    match c {
        None => "[\"\", 0]".to_owned(),
        Some(Corner::Round(size)) => format!("[\"round\", {}]", m(size)),
        Some(Corner::Cut(size)) => format!("[\"cut\", {}]", m(size)),
    }
}

fn outline(o: &Outline) -> String {
    match o {
        Outline::Disc { d } => format!("[\"disc\", {}]", m(d)),
        Outline::Rectangle { wide, high, corner: c } => {
            let (w, h, c) = (m(wide), m(high), corner(c.as_ref()));
            format!("[\"polygon\", [[0, 0, {c}], [{w}, 0, {c}], [{w}, {h}, {c}], [0, {h}, {c}]]]")
        }
        Outline::Polygon(vertices) => {
            let vertices = list(
                vertices
                    .iter()
                    .map(|v| format!("[{}, {}, {}]", m(&v.at[0]), m(&v.at[1]), corner(v.corner.as_ref()))),
            );
            format!("[\"polygon\", {vertices}]")
        }
    }
}

fn hole(h: &Hole) -> String {
    match &h.spot {
        Spot::At(at) => format!("[\"at\", {}, {}, {}]", m(&h.d), m(&at[0]), m(&at[1])),
        Spot::Circle { d, count, first, .. } => {
            format!("[\"circle\", {}, {}, {count}, {first}]", m(&h.d), m(d))
        }
    }
}
