//! `lookup bearing`: the boundary dimensions of a rolling bearing by its designation.

use serde::Serialize;

use crate::cli::identify::bearing::{Listed, TABLE, one_source, shared, twins};
use crate::cli::workshop::{self, Column, Page, Said, figure, standards};
use crate::cli::{AnswerForm, Ended};
use crate::hazard::Hazard;
use crate::trade::bearing::catalogue::Bearing;
use crate::trade::bearing::{Found, lookup};

/// Look up the dimensions of a rolling bearing by its number
///
/// Suffixes are read as far as they are common (2RS, C3). The number of one half of an inch tapered bearing lists all
/// bearings that it belongs to.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The number as it stands on the ring: 6205, "6205-2RS C3", "NU 205", 51110, "RLS 8", LM11949
    #[arg(value_name = "NUMBER", required = true, allow_negative_numbers = true)]
    words: Vec<String>,
    #[command(flatten)]
    form: AnswerForm,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let asked = workshop::together(&arguments.words)?;
    let found = lookup(&asked)?;
    let said = said(&found);
    let page = Page::headed(&title(&asked, &found)).table(&columns(&found)).said(&said);
    let candidates = found.iter().map(Candidate::of).collect();
    workshop::give(&arguments.form, &page, &Answer { candidates, said })
}

fn title(asked: &str, found: &[Found]) -> String {
    match found {
        [one] => format!("{}: {}", one.designation, one.bearing.type_),
        several => format!("{asked} fits {} bearings of the table", several.len()),
    }
}

fn columns(found: &[Found]) -> Vec<Column> {
    let figures = |size: fn(&Bearing) -> f64| found.iter().map(move |each| figure(size(each.bearing), 3));
    let is_every = |is: fn(&Bearing) -> bool| found.iter().all(|each| is(each.bearing));
    let width = match (is_every(Bearing::is_thrust), is_every(Bearing::is_tapered)) {
        (true, _) => "height mm",
        (_, true) => "inner ring mm",
        _ => "width mm",
    };
    let mut columns = vec![
        Column::words("bearing", found.iter().map(|each| each.designation.as_str())),
        Column::words("type", found.iter().map(|each| each.bearing.type_)),
        Column::figures("bore mm", figures(|bearing| bearing.bore_mm)),
        Column::figures("outside mm", figures(|bearing| bearing.outside_mm)),
        Column::figures(width, figures(|bearing| bearing.width_mm)),
    ];
    if found.iter().any(|each| each.bearing.is_tapered()) {
        let widths = |width: fn(&Bearing) -> Option<f64>| {
            let said = |width: Option<f64>| width.map_or_else(|| "-".to_owned(), |width| figure(width, 3));
            found.iter().map(move |each| said(width(each.bearing)))
        };
        columns.push(Column::figures("outer ring mm", widths(|bearing| bearing.cup_mm)));
        columns.push(Column::figures("over both mm", widths(|bearing| bearing.overall_mm)));
    }
    columns
}

fn said(found: &[Found]) -> Said {
    let bearings = || found.iter().map(|each| each.bearing);
    let mut remarks: Vec<String> = found.iter().flat_map(suffixes).collect();
    remarks.extend(bearings().filter_map(in_inches));
    remarks.extend(from_memory(found));
    remarks.extend(bearings().filter_map(ratings));
    remarks.extend(bearings().filter_map(|bearing| shared(bearing.designation, &twins(bearing))));
    remarks.extend(one_source(bearings().map(|bearing| bearing.designation)));
    remarks.push("an old bearing may follow its maker's own list: measure it as well".to_owned());
    let source = format!("{}; {TABLE}", standards(bearings().map(|bearing| bearing.standard)));
    Said { remarks, source, caution: Some(Hazard::MovingMachinery) }
}

/// What stands behind the number, and the row of the table where that goes by another one.
fn suffixes(found: &Found) -> impl Iterator<Item = String> {
    let (asked, row) = (&found.designation, found.bearing.designation);
    let other_row = (asked != row && !found.by_half)
        .then(|| format!("{asked} has the dimensions of {row}: they differ in the ribs of the rings only"));
    found.notes.iter().map(move |note| format!("{asked}: {note}")).chain(other_row)
}

fn in_inches(bearing: &Bearing) -> Option<String> {
    let inches = |mm: f64| figure(mm / 25.4, 4);
    let sizes = [bearing.bore_mm, bearing.outside_mm, bearing.width_mm].map(inches).join(" x ");
    let rings = [("outer ring", bearing.cup_mm), ("over both", bearing.overall_mm)];
    let rings = rings.into_iter().filter_map(|(name, mm)| Some(format!(", {name} {}", inches(mm?))));
    bearing
        .type_
        .ends_with("inch")
        .then(|| format!("{} in inches: {sizes}{}", bearing.designation, rings.collect::<String>()))
}

/// That the table holds some widths from memory alone.
fn from_memory(found: &[Found]) -> Option<String> {
    let some = found.iter().any(|each| each.bearing.are_rings_recalled());
    some.then(|| "widths of outer rings and over both rings from memory: measure before you order".to_owned())
}

fn ratings(bearing: &Bearing) -> Option<String> {
    let (dynamic, at_rest) = (bearing.dynamic_kn?, bearing.static_kn?);
    let designation = bearing.designation;
    Some(format!(
        "{designation}: basic load ratings {dynamic} kN dynamic, {at_rest} kN static, from a machine-design textbook; a \
         bearing of 1930 carries a half to two thirds of it"
    ))
}

#[derive(Serialize)]
struct Answer {
    candidates: Vec<Candidate>,
    #[serde(flatten)]
    said: Said,
}

/// A bearing that was asked for by its number; null what the table does not hold.
#[derive(Serialize)]
struct Candidate {
    #[serde(flatten)]
    listed: Listed,
    dynamic_kn: Option<f64>,
    static_kn: Option<f64>,
    suffixes: Vec<&'static str>,
}

impl Candidate {
    fn of(found: &Found) -> Self {
        let bearing = found.bearing;
        Self {
            listed: Listed::named(&found.designation, bearing),
            dynamic_kn: bearing.dynamic_kn,
            static_kn: bearing.static_kn,
            suffixes: found.notes.clone(),
        }
    }
}
