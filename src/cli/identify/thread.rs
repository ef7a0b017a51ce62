//! `identify thread`: the standard threads nearest to a measured one.

use serde::Serialize;

use super::{Answer, Sureness, worth_telling};
use crate::cli::workshop::{self, Column, Page, Reading, Said, figure, standards, tidy, trouble};
use crate::cli::{AnswerForm, Ended, Trouble};
use crate::hazard::Hazard;
use crate::trade::thread::identify::{
    CREST_LOSS, Candidate, Deviation, Options, READING_MM, Twin, candidates,
};

/// Find which standard thread a measured one can be
///
/// Measure the outside diameter of the bolt, or the hole of the nut, and the pitch over ten threads or more; or count the
/// threads in an inch. A thread gauge and a look at the flanks settle what is left open.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The outside diameter of the bolt, with its unit: 12.6mm or "1/2 in"
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    major: Option<String>,
    /// Or the diameter of the nut's hole
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    hole: Option<String>,
    /// The pitch: 1.75mm
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pitch: Option<String>,
    /// Or the threads per inch: 13
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    tpi: Option<String>,
    #[command(flatten)]
    form: AnswerForm,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let Measured { diameter, pitch, inside } = Measured::read(arguments)?;
    let options = Options { inside, ..Options::default() };
    let found = candidates(diameter.mm(), pitch.mm(), &options)?;
    let readings = [&diameter, &pitch];
    let told = worth_telling(&found, |each| &each.sure);
    let said = said(&told, &readings);
    let page =
        Page::headed(&workshop::measured(&readings)).table(&columns(&told, &diameter, inside)).said(&said);
    let candidates = found.iter().map(Listed::of).collect();
    workshop::give(&arguments.form, &page, &Answer { candidates, said })
}

struct Measured {
    diameter: Reading,
    pitch: Reading,
    /// The diameter is that of a nut's hole.
    inside: bool,
}

impl Measured {
    fn read(arguments: &Arguments) -> Result<Self, Trouble> {
        let diameter = match (&arguments.major, &arguments.hole) {
            (Some(_), Some(_)) => {
                return Err(both("--major", "--hole", "One is of the bolt, the other of the nut"));
            }
            (_, Some(hole)) => Reading::of("nut's hole", Some(hole))?,
            (major, None) => Reading::of("outside", major.as_ref())?,
        };
        let pitch = match (&arguments.pitch, &arguments.tpi) {
            (Some(_), Some(_)) => return Err(both("--pitch", "--tpi", "One follows from the other")),
            (_, Some(tpi)) => per_inch(tpi.trim())?,
            (pitch, None) => Reading::of("pitch", pitch.as_ref())?,
        };
        Ok(Self { diameter, pitch, inside: arguments.hole.is_some() })
    }
}

fn both(one: &str, other: &str, why: &str) -> Trouble {
    trouble(&format!("`{one}` and `{other}` are both given"), &format!("{why}: leave one out."))
}

/// The pitch from a count of threads: 13, 4.5 or 4 1/2.
fn per_inch(text: &str) -> Result<Reading, Trouble> {
    let count =
        workshop::quantity(text).ok().and_then(|count| count.plain_number()).filter(|count| *count > 0.0);
    let pitch = count.map(|count| 25.4 / count).filter(|pitch| pitch.is_finite());
    let pitch = pitch.ok_or_else(|| {
        trouble(&format!("`{text}` is no number of threads per inch"), "Write it as 13 or \"4 1/2\".")
    })?;
    Ok(Reading::known("pitch", format!("{} mm ({text} to the inch)", figure(pitch, 4)), pitch))
}

fn columns(told: &[&Candidate], diameter: &Reading, inside: bool) -> Vec<Column> {
    let basic = |each: &Candidate| match (diameter.mm(), each.deviation_mm.diameter) {
        (Some(measured), Some(off)) if inside => (measured - off, Some(off)),
        (_, off) => (each.major_mm, off),
    };
    let mut columns = vec![
        Column::words("thread", told.iter().map(|each| each.designation.as_str())),
        Column::sizes(&diameter.head(), told.iter().copied().map(basic)),
        Column::sizes("pitch mm", told.iter().map(|each| (each.pitch_mm, each.deviation_mm.pitch))),
        Column::figures("per inch", told.iter().map(|each| figure(each.per_inch, 2))),
        Column::figures("flanks deg", told.iter().map(|each| figure(each.angle_deg, 1))),
    ];
    columns.extend(Sureness::of(told.iter().map(|each| &each.sure)).column());
    columns
}

fn said(told: &[&Candidate], readings: &[&Reading]) -> Said {
    let mut remarks = Sureness::of(told.iter().map(|each| &each.sure)).remarks();
    remarks.extend(workshop::not_measured(readings));
    remarks.push(format!(
        "signed figures are measured less standard. Allowed for: a reading {READING_MM} mm off, and crests worn or cut low by \
         {CREST_LOSS} of the pitch"
    ));
    if let Some(nearest) = told.first() {
        remarks.extend(nearest.twins.iter().map(|twin| easily_taken(&nearest.designation, twin)));
    }
    let source = standards(told.iter().map(|each| each.standard));
    Said { remarks, source, caution: Some(Hazard::LoadCarryingPart) }
}

fn easily_taken(designation: &str, twin: &Twin) -> String {
    format!("{designation} is easily taken for {}: {}", twin.designation, twin.tell)
}

#[derive(Serialize)]
struct Listed {
    designation: String,
    system: &'static str,
    standard: &'static str,
    major_mm: f64,
    pitch_mm: f64,
    per_inch: f64,
    angle_deg: f64,
    deviation_mm: Off,
    sure: String,
    easily_taken_for: Vec<Other>,
}

/// Measured less basic; null where nothing was measured.
#[derive(Serialize)]
struct Off {
    /// Of the bolt's outside, or of the nut's hole.
    diameter: Option<f64>,
    pitch: Option<f64>,
}

#[derive(Serialize)]
struct Other {
    designation: String,
    tell: String,
}

impl Listed {
    fn of(candidate: &Candidate) -> Self {
        let Deviation { diameter, pitch } = candidate.deviation_mm;
        let other = |twin: &Twin| Other { designation: twin.designation.clone(), tell: twin.tell.clone() };
        Self {
            designation: candidate.designation.clone(),
            system: candidate.system,
            standard: candidate.standard,
            major_mm: tidy(candidate.major_mm),
            pitch_mm: tidy(candidate.pitch_mm),
            per_inch: candidate.per_inch,
            angle_deg: candidate.angle_deg,
            deviation_mm: Off { diameter: diameter.map(tidy), pitch: pitch.map(tidy) },
            sure: candidate.sure.clone(),
            easily_taken_for: candidate.twins.iter().map(other).collect(),
        }
    }
}
