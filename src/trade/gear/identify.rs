//! Which standard tooth size a measured gear has.

use std::f64::consts::PI;

use crate::calc::function::Refusal;
use crate::trade::declare::clean_mm;

/// Modules of ISO 54:1996, series 1 and 2, mm (from memory).
const MODULES: &[f64] = &[
    1.0, 1.125, 1.25, 1.375, 1.5, 1.75, 2.0, 2.25, 2.5, 2.75, 3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 6.0, 6.5, 7.0,
    8.0, 9.0, 10.0, 11.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 25.0, 28.0, 32.0, 36.0, 40.0, 45.0, 50.0,
];
/// Usual diametral pitches, teeth per inch of pitch diameter (common practice, no source).
const DIAMETRAL_PITCHES: &[f64] = &[
    1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 2.75, 3.0, 3.5, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0,
    14.0, 16.0, 18.0, 20.0, 22.0, 24.0, 26.0, 28.0, 30.0, 32.0,
];
/// Circular pitches of old cast and cut gears run by eighths of an inch up to this many (common practice,
/// from memory).
const CIRCULAR_EIGHTHS: u32 = 32;
/// Tip height of cast teeth over their circular pitch; cut teeth have 1/pi (common practice, from memory).
const CAST_ADDENDUM: f64 = 0.3;

/// An outside diameter this far off (share of itself, and mm) still agrees: turning tolerance and worn tips.
pub const TOLERANCE: (f64, f64) = (0.001, 0.1);

/// A standard tooth size near the measured gear.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// "module 5 mm", "diametral pitch 8", "circular pitch 1 1/4 in, cast teeth".
    pub designation: String,
    pub module_mm: f64,
    /// Outside diameter that a new gear of this size and these teeth has.
    pub outside_mm: f64,
    /// Measured less nominal outside diameter.
    pub deviation_mm: f64,
    /// How sure the match is, in words.
    pub sure: String,
}

/// The standard tooth sizes nearest to a full-depth gear of this outside diameter, nearest first, at most
/// `most`.
///
/// # Errors
/// A diameter that is no positive number, or fewer than three teeth.
pub fn candidates(outside_mm: f64, teeth: u32, most: usize) -> Result<Vec<Candidate>, Refusal> {
    if !outside_mm.is_finite() || outside_mm <= 0.0 {
        return Err(Refusal::of(
            "outside",
            "the outside diameter must be above zero",
            "Measure across the tips.",
        ));
    }
    if teeth < 3 {
        return Err(Refusal::of(
            "teeth",
            "a gear has at least three teeth",
            "Count the teeth of the whole gear.",
        ));
    }
    let mut found: Vec<Candidate> =
        standard().map(|tooth| tooth.against(outside_mm, f64::from(teeth))).collect();
    found.sort_by(|a, b| a.deviation_mm.abs().total_cmp(&b.deviation_mm.abs()));
    found.truncate(most);
    Ok(found)
}

/// A standard tooth: its name, module in mm, and tip height in modules.
struct Tooth {
    name: String,
    module_mm: f64,
    addendum: f64,
}

fn standard() -> impl Iterator<Item = Tooth> {
    let modules = MODULES.iter().map(|module| full(format!("module {module} mm"), *module));
    let diametral =
        DIAMETRAL_PITCHES.iter().map(|pitch| full(format!("diametral pitch {pitch}"), 25.4 / pitch));
    let cut = eighths().map(|(name, module)| full(format!("circular pitch {name} in"), module));
    let cast = eighths().map(|(name, module_mm)| Tooth {
        name: format!("circular pitch {name} in, cast teeth"),
        module_mm,
        addendum: CAST_ADDENDUM * PI,
    });
    modules.chain(diametral).chain(cut).chain(cast)
}

fn full(name: String, module_mm: f64) -> Tooth {
    Tooth { name, module_mm, addendum: 1.0 }
}

/// Circular pitches by eighths of an inch from 1/4 in, with their modules in mm.
fn eighths() -> impl Iterator<Item = (String, f64)> {
    (2..=CIRCULAR_EIGHTHS).map(|eighths| (in_eighths(eighths), f64::from(eighths) / 8.0 * 25.4 / PI))
}

fn in_eighths(eighths: u32) -> String {
    let (whole, rest) = (eighths / 8, eighths % 8);
    let fraction = match rest {
        0 => return whole.to_string(),
        2 | 6 => format!("{}/4", rest / 2),
        4 => "1/2".to_owned(),
        _ => format!("{rest}/8"),
    };
    if whole == 0 { fraction } else { format!("{whole} {fraction}") }
}

impl Tooth {
    fn against(self, measured: f64, teeth: f64) -> Candidate {
        let outside_mm = clean_mm(self.module_mm * (teeth + 2.0 * self.addendum));
        let deviation_mm = clean_mm(measured - outside_mm);
        let sure = words(deviation_mm, outside_mm, self.module_mm);
        Candidate { designation: self.name, module_mm: self.module_mm, outside_mm, deviation_mm, sure }
    }
}

fn words(deviation_mm: f64, outside_mm: f64, module_mm: f64) -> String {
    let (share, least) = TOLERANCE;
    let allowed = least + share * outside_mm;
    let grade = if deviation_mm.abs() <= allowed {
        "the outside diameter agrees"
    } else if deviation_mm < 0.0 && -deviation_mm <= 0.1 * module_mm + allowed {
        "agrees if the tips are worn or turned down"
    } else {
        "the outside diameter does not agree with full-depth teeth: stub or shifted teeth, or another size"
    };
    format!("{grade}; check the centre distance or a span over teeth before cutting a new gear")
}
