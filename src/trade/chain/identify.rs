//! Which standard chain a measured one is.

use crate::calc::function::{Refusal, Source};
use crate::trade::declare::clean_mm;
use crate::trade::sources;
use crate::trade::table::{Row, Table};

pub(in crate::trade) static CHAINS: Table = Table::of(include_str!("../data/chains.csv"));

/// A worn chain's pitch may be this share longer than new.
pub const GROWN: f64 = 0.03;
/// Its rollers may have lost this share of their diameter.
pub const ROLLER_LOSS: f64 = 0.06;
/// Readings may be this far off either way, mm.
pub const READING_MM: f64 = 0.15;

/// A dimension off by more steps of wear and reading than this speaks against the chain.
const DOUBTFUL: f64 = 2.0;

/// A standard chain near the measured one; lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    pub designation: String,
    /// The number of the other series, if it has one ("ANSI 60"), or empty.
    pub other_name: String,
    pub standard: &'static str,
    /// Where its row of the table comes from.
    pub sources: Vec<Source>,
    pub pitch_mm: f64,
    pub roller_mm: f64,
    /// Between the inner plates.
    pub width_mm: f64,
    /// Least breaking strength.
    pub breaking_kn: f64,
    pub deviation_mm: Deviation,
    /// How sure the match is, in words.
    pub sure: String,
}

/// Measured less nominal, of each dimension that was measured; mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Deviation {
    pub pitch: Option<f64>,
    pub roller: Option<f64>,
    pub width: Option<f64>,
}

/// What was measured, mm; any may be missing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Measured {
    pub pitch: Option<f64>,
    pub roller: Option<f64>,
    pub width: Option<f64>,
}

/// The standard chains nearest to the measured one, nearest first, at most `most`; those that do
/// not agree only when none does.
///
/// Wear is allowed for: the pitch up to [`GROWN`] longer, the roller up to [`ROLLER_LOSS`] smaller than new.
///
/// # Errors
/// Nothing measured, or a length that is not above zero.
pub fn candidates(measured: Measured, most: usize) -> Result<Vec<Candidate>, Refusal> {
    let given = [("pitch", measured.pitch), ("roller", measured.roller), ("width", measured.width)];
    if given.iter().all(|(_, length)| length.is_none()) {
        return Err(Refusal::whole(
            "nothing was measured",
            "Give the pitch, the roller diameter or the inner width.",
        ));
    }
    for (name, length) in given {
        if length.is_some_and(|length| !length.is_finite() || length <= 0.0) {
            return Err(Refusal::of(name, format!("the {name} must be above zero"), "Measure it again."));
        }
    }
    let mut near: Vec<Near> = CHAINS.rows().iter().filter_map(|row| against(row, measured)).collect();
    near.sort_by(|a, b| a.distance.total_cmp(&b.distance));
    if near.iter().any(|near| near.worst <= DOUBTFUL) {
        near.retain(|near| near.worst <= DOUBTFUL);
    }
    Ok(near.into_iter().take(most).map(|near| near.candidate).collect())
}

/// A chain and how far the measured one is from it, in steps of what wear and reading explain.
struct Near {
    candidate: Candidate,
    worst: f64,
    /// Sum of the squared steps.
    distance: f64,
}

fn against(row: &'static Row, measured: Measured) -> Option<Near> {
    let (pitch, roller, width) = (row.number("pitch")?, row.number("roller")?, row.number("width")?);
    let off = |measured: Option<f64>, nominal: f64| measured.map(|measured| clean_mm(measured - nominal));
    let deviation = Deviation {
        pitch: off(measured.pitch, pitch),
        roller: off(measured.roller, roller),
        width: off(measured.width, width),
    };
    let steps = [
        deviation.pitch.map(|off| step(off, GROWN * pitch, 0.0)),
        deviation.roller.map(|off| step(off, 0.0, ROLLER_LOSS * roller)),
        deviation.width.map(|off| step(off, 0.0, 0.0)),
    ];
    let worst = steps.into_iter().flatten().fold(0.0, f64::max);
    let distance: f64 = steps.into_iter().flatten().map(|step| step * step).sum();
    let candidate = Candidate {
        designation: row.text("designation").to_owned(),
        other_name: row.text("other_name").to_owned(),
        standard: "ISO 606",
        sources: sources::named(row.text("source")),
        pitch_mm: pitch,
        roller_mm: roller,
        width_mm: width,
        breaking_kn: row.number("breaking_kN")?,
        deviation_mm: deviation,
        sure: words(worst, measured),
    };
    Some(Near { candidate, worst, distance })
}

/// How far off a reading is, in steps of what reading and wear explain; `longer` and `shorter` are the wear,
/// mm.
fn step(off: f64, longer: f64, shorter: f64) -> f64 {
    let allowed = READING_MM + if off > 0.0 { longer } else { shorter };
    off.abs() / allowed
}

fn words(worst: f64, measured: Measured) -> String {
    let grade = if worst <= 1.0 {
        "agrees, wear allowed for"
    } else if worst <= DOUBTFUL {
        "doubtful: a dimension is off by more than wear explains"
    } else {
        "does not agree"
    };
    let missing: Vec<&str> =
        [("pitch", measured.pitch), ("roller diameter", measured.roller), ("inner width", measured.width)]
            .iter()
            .filter(|(_, length)| length.is_none())
            .map(|(name, _)| *name)
            .collect();
    match missing.as_slice() {
        [] => grade.to_owned(),
        missing => format!("{grade}; not measured: {}", missing.join(", ")),
    }
}
