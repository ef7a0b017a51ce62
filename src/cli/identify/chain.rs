//! `identify chain`: the standard roller chains nearest to a measured one.

use serde::Serialize;

use super::{Answer, Sureness, worth_telling};
use crate::calc::provenance::source_words;
use crate::cli::workshop::{self, Column, Page, Reading, Said, figure, tidy};
use crate::cli::{AnswerForm, Ended};
use crate::hazard::Hazard;
use crate::trade::chain::identify::{
    Candidate, Deviation, GROWN, Measured, READING_MM, ROLLER_LOSS, candidates,
};
use crate::trade::sources::each_once;

/// Find which standard roller chain a measured one can be
///
/// Measure the pitch over ten links or more, pulled straight, and divide; the roller with a calliper, the width between
/// the inner plates.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The pitch from pin to pin, with its unit: 12.7mm or "1/2 in"
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pitch: Option<String>,
    /// The diameter of the roller
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    roller: Option<String>,
    /// The width between the inner plates
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    width: Option<String>,
    #[command(flatten)]
    form: AnswerForm,
}

/// So many candidates are reported.
const MOST: usize = 6;

pub(super) fn run(arguments: &Arguments) -> Ended {
    let pitch = Reading::of("pitch", arguments.pitch.as_ref())?;
    let roller = Reading::of("roller", arguments.roller.as_ref())?;
    let width = Reading::of("width", arguments.width.as_ref())?;
    let readings = [&pitch, &roller, &width];
    let measured = Measured { pitch: pitch.mm(), roller: roller.mm(), width: width.mm() };
    let found = candidates(measured, MOST)?;
    let told = worth_telling(&found, |each| &each.sure);
    let said = said(&told, &readings);
    let page = Page::headed(&workshop::measured(&readings)).table(&columns(&told)).said(&said);
    let candidates = found.iter().map(Listed::of).collect();
    workshop::give(&arguments.form, &page, &Answer { candidates, said })
}

fn columns(told: &[&Candidate]) -> Vec<Column> {
    let name = |each: &Candidate| match each.other_name.as_str() {
        "" => each.designation.clone(),
        other => format!("{} ({other})", each.designation),
    };
    let mut columns = vec![
        Column::words("chain", told.iter().copied().map(name)),
        Column::sizes("pitch mm", told.iter().map(|each| (each.pitch_mm, each.deviation_mm.pitch))),
        Column::sizes("roller mm", told.iter().map(|each| (each.roller_mm, each.deviation_mm.roller))),
        Column::sizes("width mm", told.iter().map(|each| (each.width_mm, each.deviation_mm.width))),
        Column::figures("breaks at kN", told.iter().map(|each| figure(each.breaking_kn, 1))),
    ];
    columns.extend(Sureness::of(told.iter().map(|each| &each.sure)).column());
    columns
}

fn said(told: &[&Candidate], readings: &[&Reading]) -> Said {
    let mut remarks = Sureness::of(told.iter().map(|each| &each.sure)).remarks();
    remarks.extend(workshop::not_measured(readings));
    remarks.push(format!(
        "signed figures are measured less standard. Allowed for: a pitch grown by {} %, a roller worn by {} %, readings \
         {READING_MM} mm off",
        figure(100.0 * GROWN, 1),
        figure(100.0 * ROLLER_LOSS, 1),
    ));
    remarks.push(
        "compare with the maker's table before ordering; the breaking load is that of a new chain".to_owned(),
    );
    remarks
        .push("roller chain is not lifting chain: nothing hangs on it unless its maker says so".to_owned());
    let source = source_words(&each_once(told.iter().flat_map(|each| &each.sources)));
    Said { remarks, source, caution: Some(Hazard::Lifting) }
}

#[derive(Serialize)]
struct Listed {
    designation: String,
    /// The number of the other series, or null.
    other_name: Option<String>,
    standard: &'static str,
    pitch_mm: f64,
    roller_mm: f64,
    width_mm: f64,
    breaking_kn: f64,
    deviation_mm: Off,
    sure: String,
}

/// Measured less standard; null where nothing was measured.
#[derive(Serialize)]
struct Off {
    pitch: Option<f64>,
    roller: Option<f64>,
    width: Option<f64>,
}

impl Listed {
    fn of(candidate: &Candidate) -> Self {
        let Deviation { pitch, roller, width } = candidate.deviation_mm;
        Self {
            designation: candidate.designation.clone(),
            other_name: Some(candidate.other_name.clone()).filter(|name| !name.is_empty()),
            standard: candidate.standard,
            pitch_mm: candidate.pitch_mm,
            roller_mm: candidate.roller_mm,
            width_mm: candidate.width_mm,
            breaking_kn: candidate.breaking_kn,
            deviation_mm: Off { pitch: pitch.map(tidy), roller: roller.map(tidy), width: width.map(tidy) },
            sure: candidate.sure.clone(),
        }
    }
}
