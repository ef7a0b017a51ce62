//! A drawing as DXF, release 12 (AC1009), the one every program reads: in millimetres, y upwards, one layer a kind of
//! line. Characters outside ASCII are written as `%%c`, `%%d`, `%%p` or `\U+XXXX`.

use std::f64::consts::PI;
use std::fmt::Write as _;

use super::drawing::{Drawing, Ink, Pen, Point};

/// Groups of a DXF file: a code and a value, each on its line.
#[derive(Default)]
pub(crate) struct Groups {
    out: String,
}

impl Groups {
    pub(crate) fn text(&mut self, code: u16, value: &str) {
        let _ = write!(self.out, "{code}\r\n{value}\r\n");
    }

    pub(crate) fn number(&mut self, code: u16, value: f64) {
        let value = if value.abs() < 5e-7 { 0.0 } else { value };
        self.text(code, &format!("{value:.6}"));
    }

    pub(crate) fn point(&mut self, first: u16, x: f64, y: f64) {
        self.number(first, x);
        self.number(first + 10, y);
        self.number(first + 20, 0.0);
    }

    pub(crate) fn entity(&mut self, kind: &str, layer: &str) {
        self.text(0, kind);
        self.text(8, layer);
    }

    pub(crate) fn finish(mut self) -> String {
        self.text(0, "ENDSEC");
        self.text(0, "EOF");
        self.out
    }
}

/// A layer with its line type.
pub(crate) struct Layer {
    pub(crate) name: &'static str,
    pub(crate) dashes: &'static [f64],
    pub(crate) kind: &'static str,
}

fn layer(pen: Pen) -> Layer {
    let (name, kind) = match pen {
        Pen::Outline => ("OUTLINE", "CONTINUOUS"),
        Pen::Thin => ("DIMENSION", "CONTINUOUS"),
        Pen::Hidden => ("HIDDEN", "HIDDEN"),
        Pen::Centre => ("CENTRE", "CENTRE"),
        Pen::Hatch => ("HATCH", "CONTINUOUS"),
        Pen::Plane => ("PLANE", "CONTINUOUS"),
        Pen::Treated => ("TREATED", "CENTRE"),
        Pen::Frame => ("FRAME", "CONTINUOUS"),
        Pen::Lettering => ("TEXT", "CONTINUOUS"),
    };
    Layer { name, dashes: pen.dashes(), kind }
}

/// Header and tables, up to the beginning of the entities.
pub(crate) fn opening(layers: &[Layer], extent: (f64, f64, f64, f64)) -> Groups {
    let mut groups = Groups::default();
    section(&mut groups, "HEADER");
    groups.text(9, "$ACADVER");
    groups.text(1, "AC1009");
    groups.text(9, "$EXTMIN");
    groups.point(10, extent.0, extent.1);
    groups.text(9, "$EXTMAX");
    groups.point(10, extent.2, extent.3);
    groups.text(0, "ENDSEC");
    section(&mut groups, "TABLES");
    line_types(&mut groups, layers);
    table(&mut groups, "LAYER", layers.len());
    for layer in layers {
        groups.text(0, "LAYER");
        groups.text(2, layer.name);
        groups.text(70, "0");
        groups.text(62, "7");
        groups.text(6, layer.kind);
    }
    groups.text(0, "ENDTAB");
    style(&mut groups);
    groups.text(0, "ENDSEC");
    section(&mut groups, "ENTITIES");
    groups
}

fn section(groups: &mut Groups, name: &str) {
    groups.text(0, "SECTION");
    groups.text(2, name);
}

fn table(groups: &mut Groups, name: &str, count: usize) {
    groups.text(0, "TABLE");
    groups.text(2, name);
    groups.text(70, &count.to_string());
}

fn line_types(groups: &mut Groups, layers: &[Layer]) {
    let dashed: Vec<&Layer> = layers.iter().filter(|layer| !layer.dashes.is_empty()).collect();
    table(groups, "LTYPE", dashed.len() + 1);
    line_type(groups, "CONTINUOUS", "Solid line", &[]);
    dashed.iter().for_each(|layer| line_type(groups, layer.kind, layer.kind, layer.dashes));
    groups.text(0, "ENDTAB");
}

fn line_type(groups: &mut Groups, name: &str, words: &str, dashes: &[f64]) {
    groups.text(0, "LTYPE");
    groups.text(2, name);
    groups.text(70, "0");
    groups.text(3, words);
    groups.text(72, "65");
    groups.text(73, &dashes.len().to_string());
    groups.number(40, dashes.iter().sum());
    for (index, dash) in dashes.iter().enumerate() {
        groups.number(49, if index % 2 == 0 { *dash } else { -dash });
    }
}

fn style(groups: &mut Groups) {
    table(groups, "STYLE", 1);
    groups.text(0, "STYLE");
    groups.text(2, "STANDARD");
    groups.text(70, "0");
    groups.number(40, 0.0);
    groups.number(41, 1.0);
    groups.number(50, 0.0);
    groups.text(71, "0");
    groups.number(42, 2.5);
    groups.text(3, "txt");
    groups.text(4, "");
    groups.text(0, "ENDTAB");
}

/// Writes a drawing.
pub fn to_dxf(drawing: &Drawing) -> String {
    let layers: Vec<Layer> = Pen::ALL.into_iter().map(layer).collect();
    let mut groups = opening(&layers, (0.0, 0.0, drawing.width, drawing.height));
    for mark in &drawing.marks {
        ink(&mut groups, layer(mark.pen).name, &mark.ink, drawing.height);
    }
    groups.finish()
}

fn ink(groups: &mut Groups, layer: &str, ink: &Ink, height: f64) {
    match ink {
        Ink::Line { from, to } => {
            groups.entity("LINE", layer);
            groups.point(10, from.x, height - from.y);
            groups.point(11, to.x, height - to.y);
        }
        Ink::Arc { centre, radius, start, sweep } => {
            let (from, to) = if *sweep >= 0.0 { (start + sweep, *start) } else { (*start, start + sweep) };
            arc(groups, layer, (centre.x, height - centre.y, *radius), (-from, -to), sweep.abs());
        }
        Ink::Solid { points } => solid(groups, layer, points, height),
        Ink::Text { at, height: high, upward, text } => {
            groups.entity("TEXT", layer);
            groups.point(10, at.x, height - at.y);
            groups.number(40, *high);
            groups.text(1, &encoded(text));
            groups.number(50, if *upward { 90.0 } else { 0.0 });
            groups.number(41, 0.7);
        }
    }
}

/// An arc counter-clockwise between two angles, or a circle.
pub(crate) fn arc(
    groups: &mut Groups,
    layer: &str,
    (x, y, radius): (f64, f64, f64),
    (from, to): (f64, f64),
    sweep: f64,
) {
    let is_circle = sweep > 2.0 * PI - 1e-9;
    groups.entity(if is_circle { "CIRCLE" } else { "ARC" }, layer);
    groups.point(10, x, y);
    groups.number(40, radius);
    if !is_circle {
        groups.number(50, from.to_degrees().rem_euclid(360.0));
        groups.number(51, to.to_degrees().rem_euclid(360.0));
    }
}

/// A filled polygon as triangles.
fn solid(groups: &mut Groups, layer: &str, points: &[Point], height: f64) {
    let Some((first, rest)) = points.split_first() else { return };
    for pair in rest.windows(2) {
        groups.entity("SOLID", layer);
        for (code, point) in [(10, first), (11, &pair[0]), (12, &pair[1]), (13, &pair[1])] {
            groups.point(code, point.x, height - point.y);
        }
    }
}

fn encoded(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars() {
        match letter {
            '⌀' => out.push_str("%%c"),
            '°' => out.push_str("%%d"),
            '±' => out.push_str("%%p"),
            '−' | '–' => out.push('-'),
            '×' => out.push('x'),
            '%' => out.push_str("%%%"),
            plain if plain.is_ascii() && !plain.is_ascii_control() => out.push(plain),
            other => {
                let _ = write!(out, "\\U+{:04X}", u32::from(other));
            }
        }
    }
    out
}
