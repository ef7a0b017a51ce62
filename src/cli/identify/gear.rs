//! `identify gear`: the standard tooth sizes nearest to a measured spur gear.

use serde::Serialize;

use super::{Answer, Sureness, worth_telling};
use crate::calc::provenance::source_words;
use crate::cli::workshop::{self, Column, Page, Reading, Said, figure, tidy, trouble};
use crate::cli::{AnswerForm, Ended, Trouble};
use crate::hazard::Hazard;
use crate::trade::gear::FROM_OUTSIDE;
use crate::trade::gear::identify::{Candidate, TOLERANCE, candidates};

/// Find the module or diametral pitch of a spur gear
///
/// Measure the outside diameter over the tips and count the teeth. With an odd number of teeth, measure from a tip to the
/// near side of the bore, add half the bore, and double it. Stub, shifted and helical teeth do not follow their outside
/// diameter.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The outside diameter over the tips, with its unit: 3.25in
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    outside: Option<String>,
    /// The number of teeth
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    teeth: Option<String>,
    #[command(flatten)]
    form: AnswerForm,
}

/// So many candidates are reported.
const MOST: usize = 6;

pub(super) fn run(arguments: &Arguments) -> Ended {
    let (Some(outside), Some(teeth)) = (&arguments.outside, &arguments.teeth) else {
        let help = "Give both: `--outside 3.25in --teeth 24`.";
        return Err(trouble("a tooth size takes the outside diameter and the number of teeth", help));
    };
    let (outside, teeth) = (Reading::of("outside", Some(outside))?, count(teeth.trim())?);
    let found = candidates(outside.mm().unwrap_or(f64::NAN), teeth, MOST)?;
    let told = worth_telling(&found, |each| &each.sure);
    let said = said(&told);
    let title = format!("{}, {teeth} teeth", workshop::measured(&[&outside]));
    let page = Page::headed(&title).table(&columns(&told)).said(&said);
    let candidates = found.iter().map(Listed::of).collect();
    workshop::give(&arguments.form, &page, &Answer { candidates, said })
}

fn count(text: &str) -> Result<u32, Trouble> {
    let help = "Count the teeth of the whole gear: `--teeth 24`.";
    text.parse().map_err(|_| trouble(&format!("`{text}` is no number of teeth"), help))
}

fn columns(told: &[&Candidate]) -> Vec<Column> {
    let mut columns = vec![
        Column::words("tooth size", told.iter().map(|each| each.designation.as_str())),
        Column::figures("module mm", told.iter().map(|each| figure(each.module_mm, 3))),
        Column::sizes("outside mm", told.iter().map(|each| (each.outside_mm, Some(each.deviation_mm)))),
    ];
    columns.extend(Sureness::of(told.iter().map(|each| &each.sure)).column());
    columns
}

fn said(told: &[&Candidate]) -> Said {
    let (share, least) = TOLERANCE;
    let percent = figure(100.0 * share, 2);
    let mut remarks = Sureness::of(told.iter().map(|each| &each.sure)).remarks();
    remarks.push(format!(
        "signed figures are measured less standard, for full-depth teeth without shift; {least} mm and {percent} % are allowed \
         for turning and worn tips"
    ));
    remarks.extend(
        told.first().and_then(|nearest| nearest.sure.split_once("; ")).map(|(_, rest)| rest.to_owned()),
    );
    let source = source_words(FROM_OUTSIDE.source);
    Said { remarks, source, caution: Some(Hazard::MovingMachinery) }
}

#[derive(Serialize)]
struct Listed {
    designation: String,
    module_mm: f64,
    diametral_pitch_per_in: f64,
    outside_mm: f64,
    deviation_mm: Off,
    sure: String,
}

/// Measured less standard.
#[derive(Serialize)]
struct Off {
    outside: f64,
}

impl Listed {
    fn of(candidate: &Candidate) -> Self {
        Self {
            designation: candidate.designation.clone(),
            module_mm: tidy(candidate.module_mm),
            diametral_pitch_per_in: tidy(25.4 / candidate.module_mm),
            outside_mm: tidy(candidate.outside_mm),
            deviation_mm: Off { outside: tidy(candidate.deviation_mm) },
            sure: candidate.sure.clone(),
        }
    }
}
