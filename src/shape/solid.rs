//! What follows from a sound shape: volume, centroid, envelope, surface, wall, what a machine has to take.

use std::f64::consts::PI;

use super::check::{around, check, extent, walls};
use super::check_flat::thinnest;
use super::cut::taken;
use super::edge::{Path, distance};
use super::fault::Fault;
use super::laid::{Laid, lay_out};
use super::model::{Body, Flat, Shape};
use super::outline::{closed, holes, xy};
use super::size::{Key, Size};
use super::stock::{Allowance, Blank, Needs, bar, plate};
use super::walk::sizes;

/// Why nothing can be worked out.
#[derive(Clone, Debug, PartialEq)]
pub enum NotKnown {
    /// The shape is wrong.
    Faulty(Vec<Fault>),
    /// These sizes are on hold.
    Held(Vec<Key>),
}

/// What follows from a shape. SI units.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// Volume, m³.
    pub volume: f64,
    /// Error of the volume from numerical integration, m³; 0 where it is exact.
    pub volume_error: f64,
    /// Centre of gravity, m. Turned: from the left face along the axis, towards the side that is cut, and 0. Flat: x,
    /// y and half the thickness.
    pub centroid: [f64; 3],
    /// Smallest box round it, m: along the axis, across, across; or x, y, thickness. Flats are not deducted.
    pub envelope: [f64; 3],
    /// Surface, m². Of a turned part without keyways, cross holes and flats.
    pub surface: f64,
    /// The thinnest wall between hollow and outside, openings and outline; `None` without any.
    pub wall: Option<f64>,
    /// What to saw it from.
    pub blank: Blank,
    /// What a machine has to take.
    pub needs: Needs,
}

/// Works everything out, once every size is known.
///
/// # Errors
/// If the shape has faults, or sizes on hold.
pub fn work_out(shape: &Shape, allowance: &Allowance) -> Result<Worked, NotKnown> {
    let faults = check(shape);
    if !faults.is_empty() {
        return Err(NotKnown::Faulty(faults));
    }
    let held: Vec<Key> = sizes(shape)
        .iter()
        .map(|(_, size)| size)
        .filter(|s| s.on_hold() || s.nominal.is_none())
        .map(|s| s.key)
        .collect();
    if !held.is_empty() {
        return Err(NotKnown::Held(held));
    }
    match &shape.body {
        Body::Turned(turned) => {
            let laid = lay_out(turned).ok_or_else(|| NotKnown::Faulty(Vec::new()))?;
            Ok(of_turned(&laid, allowance))
        }
        Body::Flat(flat) => Ok(of_flat(flat, allowance)),
    }
}

fn of_turned(laid: &Laid, allowance: &Allowance) -> Worked {
    let (outer, inner, cuts) = (laid.outside.integrals(), laid.inside.integrals(), taken(laid));
    let volume = PI * (outer.square - inner.square) - cuts.volume;
    let along = PI * (outer.moment - inner.moment) - cuts.along;
    let d = laid.outside.greatest() * 2.0;
    let wall = walls(laid, &laid.inside).filter(|(_, _, r)| *r > 0.0).map(|(_, outer, inner)| outer - inner);
    let grooves = laid.turned.across.iter().filter_map(|cut| {
        let (from, to) = extent(cut);
        Some(around(laid, from, to).0 - laid.groove_floor(cut)?)
    });
    Worked {
        volume,
        volume_error: cuts.error,
        centroid: [along / volume, -cuts.towards / volume, 0.0],
        envelope: [laid.length, d, d],
        surface: 2.0 * PI * (outer.skin + inner.skin) + faces(laid),
        wall: wall.chain(grooves).reduce(f64::min),
        blank: bar(d, laid.length, allowance),
        needs: Needs { swing: Some(d), between_centres: Some(laid.length) },
    }
}

/// Faces square to the axis: steps of the outside, steps of the hollow, less the mouths.
fn faces(laid: &Laid) -> f64 {
    let mouth = |r: f64| PI * r * r;
    let (left, right) = (laid.inside.around(0.0).1, laid.inside.around(laid.length).0);
    laid.outside.faces() + laid.inside.faces() - 2.0 * (mouth(left) + mouth(right))
}

fn of_flat(flat: &Flat, allowance: &Allowance) -> Worked {
    let path = closed(flat);
    let mut openings: Vec<Path> =
        holes(flat).into_iter().map(|hole| Path::circle(hole.centre, hole.radius, hole.key)).collect();
    openings.extend(flat.slots.iter().map(|s| slot_path(xy(&s.from), xy(&s.to), s.wide.m() / 2.0, s.key)));
    let (mut area, mut moment) = path.area();
    let mut rim = path.length();
    for opening in &openings {
        let (less, shift) = opening.area();
        area -= less;
        moment = [moment[0] - shift[0], moment[1] - shift[1]];
        rim += opening.length();
    }
    let thick = Size::m(&flat.thick);
    let (least, greatest) = path.extent();
    let (wide, high) = (greatest[0] - least[0], greatest[1] - least[1]);
    Worked {
        volume: area * thick,
        volume_error: 0.0,
        centroid: [moment[0] / area, moment[1] / area, thick / 2.0],
        envelope: [wide, high, thick],
        surface: 2.0 * area + rim * thick,
        wall: thinnest(flat, &path),
        blank: plate(wide, high, thick, allowance),
        needs: Needs { swing: None, between_centres: None },
    }
}

/// The outline of a slot, counter-clockwise.
pub fn slot_path(from: [f64; 2], to: [f64; 2], radius: f64, key: Key) -> Path {
    if distance(from, to) < 1e-12 {
        return Path::circle(from, radius, key);
    }
    let along = libm::atan2(to[1] - from[1], to[0] - from[0]);
    let end = |centre: [f64; 2], start: f64| {
        let turn = super::edge::Turn { centre, radius, start, sweep: PI };
        super::edge::Edge { from: turn.at(0.0), to: turn.at(1.0), turn: Some(turn), key }
    };
    let (far, near) = (end(to, along - PI / 2.0), end(from, along + PI / 2.0));
    let line = |a: [f64; 2], b: [f64; 2]| super::edge::Edge { from: a, to: b, turn: None, key };
    Path { edges: vec![far, line(far.to, near.from), near, line(near.to, far.from)] }
}
