//! `lookup thread`: the basic sizes of standard threads.

use serde::Serialize;

use crate::calc::provenance::source_words;
use crate::cli::workshop::{self, Column, Page, Said, figure, tidy, trouble};
use crate::cli::{AnswerForm, Ended, Trouble};
use crate::hazard::Hazard;
use crate::trade::sources::recalled_of;
use crate::trade::thread::{System, Thread, lookup};

/// Look up the sizes, the stress area and the tap drill of a thread
///
/// Held are ISO metric coarse and fine, UNC, UNF, BSW, BSF, BA and parallel pipe threads (G). A size that several threads
/// have lists them all.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The thread as it is written: "M12", "M12 x 1.25", "1/2-13 UNC", "1/2 BSW", "2 BA", "G 1/2"
    #[arg(value_name = "THREAD", required = true, allow_negative_numbers = true)]
    words: Vec<String>,
    #[command(flatten)]
    form: AnswerForm,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let asked = workshop::together(&arguments.words)?;
    let threads = lookup(&asked)?;
    let said = said(&threads);
    match threads.as_slice() {
        [thread] => {
            let page = page(&named(thread), &threads, &said);
            workshop::give(&arguments.form, &page, &Listed::of(thread, said))
        }
        several if arguments.form.json() => Err(ambiguous(&asked, several)),
        several => {
            let title = format!(
                "{asked} is the size of {} threads: the pitch and the flanks tell which",
                several.len()
            );
            workshop::give(&arguments.form, &page(&title, several, &said), &())
        }
    }
}

/// With the system in words, unless the designation has it.
fn named(thread: &Thread) -> String {
    let (name, system) = (thread.full_name(), thread.system.name());
    if name.ends_with(system) { name } else { format!("{name}: {system}") }
}

fn ambiguous(asked: &str, threads: &[&Thread]) -> Trouble {
    let names: Vec<String> = threads.iter().map(|thread| thread.full_name()).collect();
    trouble(
        &format!("`{asked}` is the size of several threads"),
        &format!("Write one of {}.", names.join(", ")),
    )
}

/// A column a thread.
fn page(title: &str, threads: &[&Thread], said: &Said) -> Page {
    let mut columns = vec![Column::words("", ROWS.iter().map(|(label, _)| *label))];
    for thread in threads {
        columns.push(Column::figures(&thread.full_name(), ROWS.iter().map(|(_, cell)| cell(thread))));
    }
    Page::headed(title).table(&columns).said(said)
}

/// A row of the table, and its cell of one thread.
type Shown = (&'static str, fn(&Thread) -> String);

const ROWS: &[Shown] = &[
    ("outside diameter mm", |thread| figure(thread.major_mm, 3)),
    ("outside diameter in", |thread| figure(thread.major_mm / 25.4, 4)),
    ("pitch mm", |thread| figure(thread.pitch_mm, 4)),
    ("threads per inch", |thread| figure(thread.per_inch, 2)),
    ("flank angle deg", |thread| figure(thread.angle_deg, 1)),
    ("pitch diameter mm", |thread| figure(thread.pitch_diameter_mm, 3)),
    ("core of the bolt mm", |thread| figure(thread.minor_bolt_mm, 3)),
    ("hole of the nut mm", |thread| figure(thread.minor_nut_mm, 3)),
    ("stress area mm²", |thread| thread.stress_area_mm2.map_or_else(unknown, |area| figure(area, 2))),
    ("tap drill mm", |thread| thread.tap_drill_mm.map_or_else(unknown, |drill| figure(drill, 2))),
    ("tap drill by name", |thread| match thread.tap_drill {
        "" => unknown(),
        drill if drill.contains('/') => format!("{drill} in"),
        drill => drill.to_owned(),
    }),
];

fn unknown() -> String {
    "-".to_owned()
}

fn said(threads: &[&Thread]) -> Said {
    let mut remarks =
        vec!["basic sizes without tolerance: a real bolt is smaller, a real nut larger".to_owned()];
    if threads.iter().any(|thread| thread.tap_drill_mm.is_none()) {
        remarks.push("where no tap drill is given, drill to the hole of the nut or a little over".to_owned());
    }
    let carries = threads.iter().any(|thread| thread.stress_area_mm2.is_some());
    let mut sources: Vec<&str> = threads.iter().map(|thread| source(thread.system)).collect();
    sources.dedup();
    let recalled = source_words(&recalled_of(threads.iter().flat_map(|thread| &thread.sources)));
    sources.extend(Some(recalled.as_str()).filter(|recalled| !recalled.is_empty()));
    Said { remarks, source: sources.join("; "), caution: carries.then_some(Hazard::LoadCarryingPart) }
}

const fn source(system: System) -> &'static str {
    match system {
        System::MetricCoarse | System::MetricFine => {
            "ISO 261 and ISO 724 (sizes), ISO 898-1 (stress area), ISO 2306 (tap drill)"
        }
        System::Unc | System::Unf => "ASME B1.1 (sizes, stress area), handbook tables (tap drill)",
        System::Bsw | System::Bsf => {
            "BS 84 (sizes), BS 1157 (tap drill); stress area by the definition of ISO 898-1, which BS 84 does not print"
        }
        System::Ba => "BS 93 (sizes); stress area by the definition of ISO 898-1, which BS 93 does not print",
        System::Pipe => "ISO 228-1",
    }
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
    pitch_diameter_mm: f64,
    /// Of the nut, which is that of the basic profile.
    minor_mm: f64,
    minor_bolt_mm: f64,
    stress_area_mm2: Option<f64>,
    tap_drill_mm: Option<f64>,
    #[serde(flatten)]
    said: Said,
}

impl Listed {
    fn of(thread: &Thread, said: Said) -> Self {
        Self {
            designation: thread.full_name(),
            system: thread.system.name(),
            standard: thread.system.standard(),
            major_mm: tidy(thread.major_mm),
            pitch_mm: tidy(thread.pitch_mm),
            per_inch: thread.per_inch,
            angle_deg: thread.angle_deg,
            pitch_diameter_mm: thread.pitch_diameter_mm,
            minor_mm: thread.minor_nut_mm,
            minor_bolt_mm: thread.minor_bolt_mm,
            stress_area_mm2: thread.stress_area_mm2,
            tap_drill_mm: thread.tap_drill_mm,
            said,
        }
    }
}
