//! Which standard bearings a worn one can be, from its boundary dimensions.

use super::catalogue::{Bearing, bearings};
use crate::calc::function::Refusal;
use crate::calc::units::System;
use crate::trade::declare::clean_mm;

/// A reading may be this far off either way, mm.
pub const READING_MM: f64 = 0.05;
/// A bore may be this much larger than new: the ring has crept on its shaft, mm.
pub const BORE_WEAR_MM: f64 = 0.15;
/// An outside diameter may be this much smaller than new: the ring has turned in its housing, mm.
pub const OUTSIDE_WEAR_MM: f64 = 0.15;
/// A width or height may be this much smaller than new: tolerance (ISO 492 allows 0.12 mm and more), faces
/// and races worn, mm.
pub const WIDTH_WEAR_MM: f64 = 0.30;

/// A dimension off by more steps of wear and reading than this speaks against the bearing.
const DOUBTFUL: f64 = 3.0;

/// How to search.
#[derive(Clone, Copy, Debug)]
pub struct Options {
    /// Thrust bearings only: the width is then the height.
    pub thrust_only: bool,
    /// At most so many candidates; those that are exactly as near as the last one are given all the same, those that do
    /// not agree only when none does.
    pub most: usize,
}

impl Default for Options {
    fn default() -> Self {
        Self { thrust_only: false, most: 8 }
    }
}

/// A standard bearing near the measured one; lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    pub designation: &'static str,
    pub type_: &'static str,
    pub standard: &'static str,
    /// The system in which its series is listed.
    pub system: System,
    pub bore_mm: f64,
    pub outside_mm: f64,
    /// Width of the inner ring; overall width of a tapered bearing, or that of its outer ring, where that is what the
    /// reading agrees with; height of a thrust bearing.
    pub width_mm: f64,
    /// Of a tapered bearing the width over both rings, where it is known.
    pub overall_mm: Option<f64>,
    /// Of a tapered bearing the width of the outer ring, where it is known.
    pub outer_ring_mm: Option<f64>,
    pub deviation_mm: Deviation,
    /// Other bearings with the same boundary dimensions.
    pub twins: Vec<&'static str>,
    /// How sure the match is, in words.
    pub sure: String,
}

/// Measured less nominal, of each dimension that was measured; mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Deviation {
    pub bore: Option<f64>,
    pub outside: Option<f64>,
    pub width: Option<f64>,
}

/// The standard bearings nearest to the measured dimensions (mm), nearest first; any dimension may be
/// missing.
///
/// Worn rings are allowed for: bores up to [`BORE_WEAR_MM`] larger, outsides and widths up to
/// [`OUTSIDE_WEAR_MM`] and [`WIDTH_WEAR_MM`] smaller than new, readings [`READING_MM`] off either way.
/// Boundary dimensions alone do not give the type: every type that has them is listed.
///
/// # Errors
/// Nothing measured; a dimension that is not above zero; a bore that is not smaller than the outside.
pub fn candidates(
    bore_mm: Option<f64>,
    outside_mm: Option<f64>,
    width_mm: Option<f64>,
    options: &Options,
) -> Result<Vec<Candidate>, Refusal> {
    let measured = Measured { bore: bore_mm, outside: outside_mm, width: width_mm };
    measured.checked()?;
    let mut near: Vec<Near> = bearings()
        .iter()
        .filter(|bearing| !options.thrust_only || bearing.is_thrust())
        .map(|bearing| measured.against(bearing))
        .collect();
    // The sort is stable: equally near bearings with as many sources stay in the order of the table.
    let by_other_width = |near: &Near| near.over != Over::InnerRing;
    near.sort_by(|a, b| {
        let by_width = by_other_width(a).cmp(&by_other_width(b));
        a.distance.total_cmp(&b.distance).then(by_width).then(b.bearing.sources.cmp(&a.bearing.sources))
    });
    if near.iter().any(|near| near.worst <= DOUBTFUL) {
        near.retain(|near| near.worst <= DOUBTFUL);
    }
    let last = near.get(options.most.saturating_sub(1)).map_or(f64::INFINITY, |near| near.distance);
    near.retain(|near| near.distance <= last);
    Ok(near.into_iter().map(|near| measured.candidate(&near)).collect())
}

/// What a width was measured over.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Over {
    InnerRing,
    OuterRing,
    Both,
}

#[derive(Clone, Copy)]
struct Measured {
    bore: Option<f64>,
    outside: Option<f64>,
    width: Option<f64>,
}

/// A bearing and how far the measured one is from it, in steps of what wear and reading explain.
struct Near {
    bearing: &'static Bearing,
    /// The width that the reading was held against, and which one it is.
    width_mm: f64,
    over: Over,
    deviation: Deviation,
    worst: f64,
    /// Sum of the squared steps.
    distance: f64,
}

impl Measured {
    fn named(self) -> [(&'static str, Option<f64>); 3] {
        [("bore", self.bore), ("outside", self.outside), ("width", self.width)]
    }

    fn checked(self) -> Result<(), Refusal> {
        if self.named().iter().all(|(_, length)| length.is_none()) {
            let help =
                "Give at least one of bore, outside and width (or height); two or three find it better.";
            return Err(Refusal::whole("nothing was measured", help));
        }
        for (name, length) in self.named() {
            if length.is_some_and(|length| !length.is_finite() || length <= 0.0) {
                return Err(Refusal::of(name, format!("the {name} must be above zero"), "Measure it again."));
            }
        }
        match (self.bore, self.outside) {
            (Some(bore), Some(outside)) if bore >= outside => Err(Refusal::of(
                "bore",
                "the bore is not smaller than the outside",
                "Give the bore first, or swap the two.",
            )),
            _ => Ok(()),
        }
    }

    fn against(self, bearing: &'static Bearing) -> Near {
        let (width_mm, over) = self.width_to_compare(bearing);
        let off = |measured: Option<f64>, nominal: f64| measured.map(|measured| clean_mm(measured - nominal));
        let deviation = Deviation {
            bore: off(self.bore, bearing.bore_mm),
            outside: off(self.outside, bearing.outside_mm),
            width: off(self.width, width_mm),
        };
        let steps = [
            deviation.bore.map(|off| step(off, BORE_WEAR_MM, 0.0)),
            deviation.outside.map(|off| step(off, 0.0, OUTSIDE_WEAR_MM)),
            deviation.width.map(|off| step(off, 0.0, WIDTH_WEAR_MM)),
        ];
        let worst = steps.into_iter().flatten().fold(0.0, f64::max);
        let distance = steps.into_iter().flatten().map(|step| step * step).sum();
        Near { bearing, width_mm, over, deviation, worst, distance }
    }

    /// A tapered bearing may have been measured over its inner ring or over both; without a bore only the outer ring may be
    /// at hand. The nearest counts, the inner ring where two are alike.
    fn width_to_compare(self, bearing: &Bearing) -> (f64, Over) {
        let inner = (bearing.width_mm, Over::InnerRing);
        let Some(width) = self.width.filter(|_| bearing.is_tapered()) else { return inner };
        let outer = bearing.cup_mm.filter(|_| self.bore.is_none()).map(|width| (width, Over::OuterRing));
        let both = bearing.overall_mm.map(|width| (width, Over::Both));
        [outer, both].into_iter().flatten().fold(inner, |nearest, other| {
            if (width - other.0).abs() < (width - nearest.0).abs() { other } else { nearest }
        })
    }

    fn candidate(self, near: &Near) -> Candidate {
        let bearing = near.bearing;
        let twins: Vec<&str> = bearings()
            .iter()
            .filter(|other| other.designation != bearing.designation && other.is_as_large_as(bearing))
            .map(|other| other.designation)
            .collect();
        Candidate {
            designation: bearing.designation,
            type_: bearing.type_,
            standard: bearing.standard,
            system: bearing.system,
            bore_mm: bearing.bore_mm,
            outside_mm: bearing.outside_mm,
            width_mm: near.width_mm,
            overall_mm: bearing.overall_mm,
            outer_ring_mm: bearing.cup_mm,
            deviation_mm: near.deviation,
            sure: self.sure(near, &twins),
            twins,
        }
    }

    fn sure(self, near: &Near, twins: &[&str]) -> String {
        let mut words = vec![grade(near.worst).to_owned()];
        let missing: Vec<&str> =
            self.named().iter().filter(|(_, length)| length.is_none()).map(|(name, _)| *name).collect();
        if !missing.is_empty() {
            words.push(format!("not measured: {}", missing.join(", ")));
        }
        match near.over {
            Over::Both => words.push("width taken as the overall width".to_owned()),
            Over::OuterRing => words.push("width taken as that of the outer ring".to_owned()),
            Over::InnerRing if self.may_be_overall(near) => {
                words.push("its width over all is not in the table: measure the inner ring alone".to_owned());
            }
            Over::InnerRing => {}
        }
        if !twins.is_empty() {
            words.push(format!(
                "{} have the same dimensions: balls or rollers and ring shape tell the type",
                twins.join(", ")
            ));
        }
        if near.bearing.sources < 2 {
            words.push("dimensions from one source only".to_owned());
        }
        words.join("; ")
    }
}

impl Measured {
    /// Whether the width can have been taken over both rings of a tapered bearing whose overall width is not known.
    fn may_be_overall(self, near: &Near) -> bool {
        near.bearing.is_tapered()
            && near.bearing.overall_mm.is_none()
            && near.deviation.width.is_some_and(|off| step(off, 0.0, WIDTH_WEAR_MM) > 1.0)
    }
}

/// How far off a reading is, in steps of what reading and wear explain; `larger` and `smaller` are the wear,
/// mm.
fn step(off: f64, larger: f64, smaller: f64) -> f64 {
    let allowed = READING_MM + if off > 0.0 { larger } else { smaller };
    off.abs() / allowed
}

fn grade(worst: f64) -> &'static str {
    if worst <= 0.25 {
        "agrees"
    } else if worst <= 1.0 {
        "agrees, wear allowed for"
    } else if worst <= DOUBTFUL {
        "doubtful: off by more than wear explains"
    } else {
        "does not agree"
    }
}
