//! What a shape comes to, held against what the part's note says of its mass and its stock.

use super::Formed;
use super::problems as problem;
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::calc::units::Units;
use crate::diagnostic::Problem;
use crate::dossier::{Dossier, Noted, Resolved};
use crate::record::{Part, Stock};
use crate::shape::{Allowance, Blank, Unit, unit, work_out};
use crate::trade::material::density;

/// Edges, rounded corners and what the table's density leaves out, as a part of the mass. A rule of our own.
const ROUGHLY: f64 = 0.05;

/// Cautions: a typed mass that the shape can't have, a stock that it can't be cut from.
pub(super) fn problems(dossier: &Dossier, formed: &Formed) -> Vec<Problem> {
    let part = &dossier[formed.part];
    let Ok(worked) = work_out(&formed.shape, &Allowance::USUAL) else { return Vec::new() };
    let mass = mass(dossier, part, worked.volume);
    let bare = work_out(&formed.shape, &NOTHING).ok().map(|worked| worked.blank);
    let stock = part.stock.as_ref().zip(bare).and_then(|(stock, bare)| {
        let needed = too_small(stock, &dossier.units, &bare, &worked.blank)?;
        Some(problem::stock(&part.head, &stock.section, &needed.said(unit(&formed.shape))))
    });
    mass.into_iter().chain(stock).collect()
}

/// A bright bar and a plate as rolled keep their faces.
const NOTHING: Allowance = Allowance { diameter: 0.0, facing: 0.0, margin: 0.0, thickness: 0.0 };

fn mass(dossier: &Dossier, part: &Noted<Part<Resolved>>, volume: f64) -> Option<Problem> {
    let (typed, density) = (part.mass.as_ref()?, density(part.material.as_deref()?)?);
    let (low, high) = (volume * density.low, volume * density.high);
    let is_off = low * (1.0 - ROUGHLY) > typed.high + typed.step / 2.0
        || high * (1.0 + ROUGHLY) < typed.low - typed.step / 2.0;
    let middle = low.midpoint(high);
    let unit = dossier.units.usual(Dimension::MASS, middle);
    is_off.then(|| {
        problem::mass(&part.head, &typed.print(), &format!("{} {unit}", three_figures(unit.from_si(middle))))
    })
}

/// The density of the tables is known no better.
fn three_figures(value: f64) -> String {
    let decimals = if value >= 100.0 {
        0
    } else if value >= 10.0 {
        1
    } else {
        2
    };
    format!("{value:.decimals$}")
}

/// What the stock has too little of.
enum Needed {
    Diameter(f64),
    Thickness(f64),
    Length(f64),
}

impl Needed {
    fn said(&self, unit: Unit) -> String {
        let (what, metres) = match self {
            Self::Diameter(metres) => ("diameter", metres),
            Self::Thickness(metres) => ("thickness", metres),
            Self::Length(metres) => ("length with facing", metres),
        };
        format!("a {what} of {}", problem::length(*metres, unit))
    }
}

/// Sections that are read: `round 1 1/2 in, EN 8`, `plate 3/4 in`, `flat 2 in x 3/4 in`; nothing is said of others.
fn too_small(stock: &Stock, units: &Units, bare: &Blank, blank: &Blank) -> Option<Needed> {
    const SLACK: f64 = 1e-6;
    let (kind, sizes) = section(&stock.section, units)?;
    let length = stock.length.as_ref().map(|length| length.high);
    let is_short = |needed: f64| length.is_some_and(|length| length < needed - SLACK);
    match (bare, blank) {
        (Blank::Bar { d, .. }, Blank::Bar { long, .. }) if kind == "round" => {
            let is_thin = sizes.first().is_some_and(|size| *size < d - SLACK);
            let is_thin = is_thin.then_some(Needed::Diameter(*d));
            is_thin.or_else(|| is_short(*long).then_some(Needed::Length(*long)))
        }
        (Blank::Plate { thick, .. }, _) if kind == "plate" || kind == "flat" => {
            let least = sizes.iter().copied().reduce(f64::min)?;
            (least < thick - SLACK).then_some(Needed::Thickness(*thick))
        }
        _ => None,
    }
}

/// Its first word, and the sizes behind it in metres.
fn section(text: &str, units: &Units) -> Option<(&'static str, Vec<f64>)> {
    let kind = ["round", "plate", "flat"].into_iter().find(|kind| text.to_lowercase().starts_with(kind))?;
    let first = text.split(',').next().unwrap_or_default();
    let sizes = first[first.find(|letter: char| letter.is_ascii_digit())?..].split(" x ");
    let size =
        |text: &str| Literal::parse(text, units).ok().filter(|size| size.dimension() == Dimension::LENGTH);
    let sizes = sizes.map(|text| size(text).map(|size| size.high)).collect::<Option<Vec<f64>>>()?;
    Some((kind, sizes))
}
