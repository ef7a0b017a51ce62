//! `identify bearing`: the standard bearings nearest to a worn one.

use serde::Serialize;

use super::{Answer, Sureness, worth_telling};
use crate::calc::units::System;
use crate::cli::workshop::{self, Column, Page, Reading, Said, figure, standards, tidy, trouble};
use crate::cli::{AnswerForm, Ended};
use crate::trade::bearing::catalogue::{Bearing, bearings};
use crate::trade::bearing::identify::{
    BORE_WEAR_MM, Candidate, Deviation, OUTSIDE_WEAR_MM, Options, READING_MM, WIDTH_WEAR_MM, candidates,
};

/// Where the dimensions were taken from.
pub(in crate::cli) const TABLE: &str = "dimensions from catalogues, textbooks and open data that agree";

/// Find which standard bearing a worn one can be
///
/// Measure with the bearing clean, the bore where it is least worn. Boundary dimensions do not give the type: every type
/// that has them is listed.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The bore, with its unit: 50.1mm or "1 1/4 in"
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    bore: Option<String>,
    /// The outside diameter
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    outside: Option<String>,
    /// The width of the inner ring; of a tapered bearing that or the width over both rings, without a bore also that of
    /// the outer ring
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    width: Option<String>,
    /// The height, for thrust bearings: looks at no others
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    height: Option<String>,
    #[command(flatten)]
    form: AnswerForm,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let bore = Reading::of("bore", arguments.bore.as_ref())?;
    let outside = Reading::of("outside", arguments.outside.as_ref())?;
    let width = match (&arguments.width, &arguments.height) {
        (Some(_), Some(_)) => {
            let help = "Leave one out; the height is for thrust bearings.";
            return Err(trouble("`--width` and `--height` are both given", help));
        }
        (_, Some(height)) => Reading::of("height", Some(height))?,
        (width, None) => Reading::of("width", width.as_ref())?,
    };
    let options = Options { thrust_only: arguments.height.is_some(), ..Options::default() };
    let found = candidates(bore.mm(), outside.mm(), width.mm(), &options)?;
    let readings = [&bore, &outside, &width];
    let told = worth_telling(&found, |each| &each.sure);
    let said = said(&told, &readings);
    let page = Page::headed(&workshop::measured(&readings)).table(&columns(&told, &readings)).said(&said);
    let candidates = found.iter().map(Listed::of).collect();
    workshop::give(&arguments.form, &page, &Answer { candidates, said })
}

fn columns(told: &[&Candidate], [bore, outside, width]: &[&Reading; 3]) -> Vec<Column> {
    let sizes = |size: fn(&Candidate) -> (f64, Option<f64>)| told.iter().copied().map(size);
    let mut columns = vec![
        Column::words("bearing", told.iter().map(|each| each.designation)),
        Column::words("type", told.iter().map(|each| each.type_)),
        Column::sizes(&bore.head(), sizes(|each| (each.bore_mm, each.deviation_mm.bore))),
        Column::sizes(&outside.head(), sizes(|each| (each.outside_mm, each.deviation_mm.outside))),
        Column::sizes(&width.head(), sizes(|each| (each.width_mm, each.deviation_mm.width))),
    ];
    columns.extend(Sureness::of(told.iter().map(|each| &each.sure)).column());
    columns
}

fn said(told: &[&Candidate], readings: &[&Reading]) -> Said {
    let mut remarks = Sureness::of(told.iter().map(|each| &each.sure)).remarks();
    remarks.extend(workshop::not_measured(readings));
    remarks.push(format!(
        "signed figures are measured less standard. Allowed for wear and reading: a bore {} mm large, an outside {} mm and a \
         width {} mm small, {READING_MM} mm the other way",
        figure(BORE_WEAR_MM + READING_MM, 2),
        figure(OUTSIDE_WEAR_MM + READING_MM, 2),
        figure(WIDTH_WEAR_MM + READING_MM, 2),
    ));
    remarks.extend(told.first().and_then(|nearest| worn_bore(nearest)));
    remarks.extend(told.first().and_then(|nearest| row(nearest.designation)).and_then(rings));
    remarks.extend(told.first().and_then(|nearest| shared(nearest.designation, &nearest.twins)));
    remarks.extend(one_source(told.iter().map(|each| each.designation)));
    remarks.push(
        "a number that can still be read on a ring settles it: `asfound lookup bearing NUMBER`".to_owned(),
    );
    let source = format!("{}; {TABLE}", standards(told.iter().map(|each| each.standard)));
    Said { remarks, source, caution: None }
}

/// That a bore over size is wear, and what else it asks to look at.
fn worn_bore(candidate: &Candidate) -> Option<String> {
    let over =
        candidate.deviation_mm.bore.filter(|over| (READING_MM..=BORE_WEAR_MM + READING_MM).contains(over))?;
    let over = figure(over, 3);
    Some(format!(
        "the bore is {over} mm over standard: the ring may have crept on its shaft; measure the journal as well"
    ))
}

/// The other bearings of the table with the same boundary dimensions.
pub(in crate::cli) fn twins(bearing: &Bearing) -> Vec<&'static str> {
    let options = Options { thrust_only: bearing.is_thrust(), most: 1 };
    let sizes = [bearing.bore_mm, bearing.outside_mm, bearing.width_mm].map(Some);
    let found = candidates(sizes[0], sizes[1], sizes[2], &options).unwrap_or_default();
    let same = found.into_iter().find(|candidate| candidate.designation == bearing.designation);
    same.map(|candidate| candidate.twins).unwrap_or_default()
}

/// That the boundary dimensions leave the type open.
pub(in crate::cli) fn shared(designation: &str, twins: &[&str]) -> Option<String> {
    let others = twins.join(", ");
    (!twins.is_empty()).then(|| {
        format!("{designation} shares its dimensions with {others}: balls or rollers and the shape of the rings tell the type")
    })
}

/// That some of these bearings rest on one source.
pub(in crate::cli) fn one_source<'a>(designations: impl Iterator<Item = &'a str>) -> Option<String> {
    let alone: Vec<&str> =
        designations.filter(|each| row(each).is_some_and(|bearing| bearing.sources < 2)).collect();
    (!alone.is_empty()).then(|| format!("dimensions from one source only: {}", alone.join(", ")))
}

fn row(designation: &str) -> Option<&'static Bearing> {
    bearings().iter().find(|bearing| bearing.designation == designation)
}

/// The widths of a tapered roller bearing: of each ring alone, and over both.
pub(in crate::cli) fn rings(bearing: &Bearing) -> Option<String> {
    let said =
        |width: Option<f64>| width.map_or_else(|| "not in the table".to_owned(), |mm| in_both(mm, bearing));
    let memory = if bearing.are_rings_recalled() { "; the last two are from memory" } else { "" };
    bearing.is_tapered().then(|| {
        format!(
            "{}, widths: inner ring {}, outer ring {}, over both {}{memory}",
            bearing.designation,
            said(Some(bearing.width_mm)),
            said(bearing.cup_mm),
            said(bearing.overall_mm)
        )
    })
}

/// `23.812 mm (0.9375 in)` where the series is listed in inches.
fn in_both(mm: f64, bearing: &Bearing) -> String {
    match bearing.system {
        System::Inch => format!("{} mm ({} in)", figure(mm, 3), figure(mm / 25.4, 4)),
        System::Metric => format!("{} mm", figure(mm, 3)),
    }
}

/// A bearing for scripts; the width is the height of a thrust bearing.
#[derive(Serialize)]
pub(in crate::cli) struct Listed {
    designation: String,
    #[serde(rename = "type")]
    type_: &'static str,
    standard: &'static str,
    bore_mm: f64,
    outside_mm: f64,
    width_mm: f64,
    overall_width_mm: Option<f64>,
    outer_ring_width_mm: Option<f64>,
    deviation_mm: Off,
    sure: Option<String>,
    same_dimensions: Vec<&'static str>,
}

/// Measured less standard; null where nothing was measured.
#[derive(Serialize)]
struct Off {
    bore: Option<f64>,
    outside: Option<f64>,
    width: Option<f64>,
}

impl Listed {
    fn of(candidate: &Candidate) -> Self {
        let Deviation { bore, outside, width } = candidate.deviation_mm;
        Self {
            designation: candidate.designation.to_owned(),
            type_: candidate.type_,
            standard: candidate.standard,
            bore_mm: tidy(candidate.bore_mm),
            outside_mm: tidy(candidate.outside_mm),
            width_mm: tidy(candidate.width_mm),
            overall_width_mm: candidate.overall_mm.map(tidy),
            outer_ring_width_mm: candidate.outer_ring_mm.map(tidy),
            deviation_mm: Off { bore: bore.map(tidy), outside: outside.map(tidy), width: width.map(tidy) },
            sure: Some(candidate.sure.clone()),
            same_dimensions: candidate.twins.clone(),
        }
    }

    /// A bearing that was asked for by its number: nothing was measured on it.
    pub(in crate::cli) fn named(designation: &str, bearing: &Bearing) -> Self {
        Self {
            designation: designation.to_owned(),
            type_: bearing.type_,
            standard: bearing.standard,
            bore_mm: tidy(bearing.bore_mm),
            outside_mm: tidy(bearing.outside_mm),
            width_mm: tidy(bearing.width_mm),
            overall_width_mm: bearing.overall_mm.map(tidy),
            outer_ring_width_mm: bearing.cup_mm.map(tidy),
            deviation_mm: Off { bore: None, outside: None, width: None },
            sure: None,
            same_dimensions: twins(bearing),
        }
    }
}
