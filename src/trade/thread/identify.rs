//! Which standard thread a measured one can be.

use super::table::{Thread, threads};
use crate::calc::function::Refusal;
use crate::calc::units::System;
use crate::trade::declare::clean_mm;

/// A diameter may be read this much off either way, mm.
pub const READING_MM: f64 = 0.05;
/// Crests may be this share of the pitch lower than basic: tolerance of the thread and wear.
pub const CREST_LOSS: f64 = 0.12;
/// A pitch taken over several threads may be off by this share of itself.
pub const PITCH_SHARE: f64 = 0.006;
/// Threads whose diameters differ by no more than this share, and pitches by no more than [`TWIN_PITCH`],
/// start in each other's nuts.
pub const TWIN_DIAMETER: f64 = 0.04;
/// See [`TWIN_DIAMETER`].
pub const TWIN_PITCH: f64 = 0.10;

/// A diameter or pitch off by more steps of tolerance, wear and reading than this speaks against the thread.
const DOUBTFUL: f64 = 3.0;

/// How to search.
#[derive(Clone, Copy, Debug)]
pub struct Options {
    /// The diameter is that of a nut's hole, not of a bolt.
    pub inside: bool,
    /// At most so many candidates; those that are exactly as near as the last one are given all the same, those that do
    /// not agree only when none does.
    pub most: usize,
}

impl Default for Options {
    fn default() -> Self {
        Self { inside: false, most: 6 }
    }
}

/// A standard thread near the measured one; lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// With its system: "1/2-12 BSW".
    pub designation: String,
    /// The system in which its standard gives the sizes.
    pub measured_in: System,
    pub system: &'static str,
    pub standard: &'static str,
    pub major_mm: f64,
    pub pitch_mm: f64,
    pub per_inch: f64,
    /// Angle between the flanks.
    pub angle_deg: f64,
    pub deviation_mm: Deviation,
    /// Threads of other systems that are easily taken for it.
    pub twins: Vec<Twin>,
    /// How sure the match is, in words.
    pub sure: String,
}

/// Measured less basic, of what was measured; mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Deviation {
    /// Of the bolt's outside, or of the nut's hole.
    pub diameter: Option<f64>,
    pub pitch: Option<f64>,
}

/// A thread that is easily taken for another.
#[derive(Clone, Debug, PartialEq)]
pub struct Twin {
    pub designation: String,
    /// How to tell them apart.
    pub tell: String,
}

/// The standard threads nearest to the measured diameter and pitch (mm), nearest first; one of the two may be
/// missing.
///
/// A bolt's crests may stand [`CREST_LOSS`] of the pitch low, a nut's hole be as much large.
///
/// # Errors
/// Nothing measured, or a length that is not above zero.
pub fn candidates(
    diameter_mm: Option<f64>,
    pitch_mm: Option<f64>,
    options: &Options,
) -> Result<Vec<Candidate>, Refusal> {
    if diameter_mm.is_none() && pitch_mm.is_none() {
        let help = "Give the outside diameter and the pitch, or the threads per inch.";
        return Err(Refusal::whole("nothing was measured", help));
    }
    for (name, length) in [("major", diameter_mm), ("pitch", pitch_mm)] {
        if length.is_some_and(|length| !length.is_finite() || length <= 0.0) {
            return Err(Refusal::of(name, format!("the {name} must be above zero"), "Measure it again."));
        }
    }
    let mut near: Vec<Near> =
        threads().iter().map(|thread| Near::of(thread, diameter_mm, pitch_mm, options.inside)).collect();
    near.sort_by(|a, b| a.distance.total_cmp(&b.distance));
    if near.iter().any(|near| near.worst <= DOUBTFUL) {
        near.retain(|near| near.worst <= DOUBTFUL);
    }
    let last = near.get(options.most.saturating_sub(1)).map_or(f64::INFINITY, |near| near.distance);
    near.retain(|near| near.distance <= last);
    Ok(near.iter().map(Near::candidate).collect())
}

/// A thread and how far the measured one is from it, in steps of what tolerance, wear and reading explain.
struct Near {
    thread: &'static Thread,
    deviation: Deviation,
    worst: f64,
    distance: f64,
}

impl Near {
    fn of(thread: &'static Thread, diameter: Option<f64>, pitch: Option<f64>, inside: bool) -> Self {
        let basic = if inside { thread.minor_nut_mm } else { thread.major_mm };
        let deviation = Deviation {
            diameter: diameter.map(|measured| clean_mm(measured - basic)),
            pitch: pitch.map(|measured| clean_mm(measured - thread.pitch_mm)),
        };
        let wear = CREST_LOSS * thread.pitch_mm;
        let diameter_step = deviation.diameter.map(|off| {
            let worn = if inside { off > 0.0 } else { off < 0.0 };
            off.abs() / if worn { READING_MM + wear } else { READING_MM }
        });
        let pitch_step = deviation.pitch.map(|off| off.abs() / (PITCH_SHARE * thread.pitch_mm));
        let steps = [diameter_step, pitch_step];
        Self {
            thread,
            deviation,
            worst: steps.into_iter().flatten().fold(0.0, f64::max),
            distance: steps.into_iter().flatten().map(|step| step * step).sum(),
        }
    }

    fn candidate(&self) -> Candidate {
        let thread = self.thread;
        Candidate {
            designation: thread.full_name(),
            measured_in: thread.measured_in(),
            system: thread.system.name(),
            standard: thread.system.standard(),
            major_mm: thread.major_mm,
            pitch_mm: thread.pitch_mm,
            per_inch: thread.per_inch,
            angle_deg: thread.angle_deg,
            deviation_mm: self.deviation,
            twins: twins(thread),
            sure: self.sure(),
        }
    }

    fn sure(&self) -> String {
        let grade = if self.worst <= 1.0 {
            "agrees"
        } else if self.worst <= DOUBTFUL {
            "doubtful: off by more than tolerance and wear explain"
        } else {
            "does not agree"
        };
        match self.deviation {
            Deviation { diameter: None, .. } => format!("{grade}; diameter not measured"),
            Deviation { pitch: None, .. } => format!("{grade}; pitch not measured: use a thread gauge"),
            _ => grade.to_owned(),
        }
    }
}

/// The threads of other systems that start in this one's nut.
fn twins(thread: &Thread) -> Vec<Twin> {
    threads()
        .iter()
        .filter(|other| other.system != thread.system)
        .filter(|other| (other.major_mm - thread.major_mm).abs() <= TWIN_DIAMETER * thread.major_mm)
        .filter(|other| (other.pitch_mm - thread.pitch_mm).abs() <= TWIN_PITCH * thread.pitch_mm)
        .map(|other| Twin { designation: other.full_name(), tell: tell(thread, other) })
        .collect()
}

/// How to tell two threads apart.
fn tell(thread: &Thread, other: &Thread) -> String {
    let mut signs = Vec::new();
    let pitch = other.pitch_mm - thread.pitch_mm;
    if pitch.abs() > 1e-4 {
        let gained = 10.0 * pitch.abs();
        signs.push(format!(
            "pitch {:.3} against {:.3} mm, {gained:.2} mm over ten threads",
            other.pitch_mm, thread.pitch_mm
        ));
    }
    if (other.angle_deg - thread.angle_deg).abs() > 0.1 {
        signs.push(format!("flanks at {} against {} deg", other.angle_deg, thread.angle_deg));
    }
    let diameter = other.major_mm - thread.major_mm;
    if diameter.abs() > READING_MM {
        signs.push(format!("outside {:.2} against {:.2} mm", other.major_mm, thread.major_mm));
    }
    if signs.is_empty() { "no difference in basic sizes".to_owned() } else { signs.join("; ") }
}
