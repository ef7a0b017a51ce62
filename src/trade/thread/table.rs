//! The table of screw threads: basic sizes by designation.

use std::sync::LazyLock;

use super::designation::{Size, size_of};
use crate::calc::function::Source;
use crate::calc::units;
use crate::trade::declare::clean_mm;
use crate::trade::sources;
use crate::trade::table::{Row, Table};

pub(in crate::trade) static TABLE: Table = Table::of(include_str!("../data/threads.csv"));
static THREADS: LazyLock<Vec<Thread>> = LazyLock::new(|| TABLE.rows().iter().filter_map(read).collect());

/// A thread system.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum System {
    MetricCoarse,
    MetricFine,
    Unc,
    Unf,
    Bsw,
    Bsf,
    Ba,
    /// Parallel pipe thread, ISO 228-1.
    Pipe,
}

/// One thread of the table; lengths in mm, areas in mm².
#[derive(Clone, Debug, PartialEq)]
pub struct Thread {
    pub system: System,
    /// What its designation calls it by.
    pub(super) size: Size,
    /// "M12", "M12x1.5", "1/2-13", "1/2-12 BSW", "2 BA", "G 1/2".
    pub designation: &'static str,
    /// Outside diameter of the bolt.
    pub major_mm: f64,
    pub pitch_mm: f64,
    /// Threads per inch.
    pub per_inch: f64,
    /// Angle between the flanks, degrees.
    pub angle_deg: f64,
    pub pitch_diameter_mm: f64,
    /// Diameter of the nut's hole, basic.
    pub minor_nut_mm: f64,
    /// Core of the bolt.
    pub minor_bolt_mm: f64,
    /// None for pipe threads, which carry no bolt load.
    pub stress_area_mm2: Option<f64>,
    /// Hole before tapping, where the table has one.
    pub tap_drill_mm: Option<f64>,
    /// That hole as shops name it: "10.2 mm", "27/64", "#7"; or empty.
    pub tap_drill: &'static str,
    /// Where its row of the table comes from.
    pub sources: Vec<Source>,
}

impl System {
    /// All systems with the name in the table and the name in a designation.
    const NAMES: [(Self, &'static str, &'static str); 8] = [
        (Self::MetricCoarse, "ISO metric coarse", "ISO metric coarse"),
        (Self::MetricFine, "ISO metric fine", "ISO metric fine"),
        (Self::Unc, "UNC", "UNC"),
        (Self::Unf, "UNF", "UNF"),
        (Self::Bsw, "BSW", "BSW"),
        (Self::Bsf, "BSF", "BSF"),
        (Self::Ba, "BA", "BA"),
        (Self::Pipe, "G (BSP parallel)", "G, parallel pipe"),
    ];

    /// "UNC", "ISO metric fine".
    pub fn name(self) -> &'static str {
        Self::NAMES.iter().find(|(system, ..)| *system == self).map_or("", |(_, _, name)| name)
    }

    /// The standard that defines it.
    pub fn standard(self) -> &'static str {
        match self {
            Self::MetricCoarse | Self::MetricFine => "ISO 261, ISO 724",
            Self::Unc | Self::Unf => "ASME B1.1",
            Self::Bsw | Self::Bsf => "BS 84",
            Self::Ba => "BS 93",
            Self::Pipe => "ISO 228-1",
        }
    }
}

impl Thread {
    /// The system in which its standard gives the sizes.
    pub fn measured_in(&self) -> units::System {
        match self.system {
            System::MetricCoarse | System::MetricFine | System::Ba => units::System::Metric,
            System::Unc | System::Unf | System::Bsw | System::Bsf | System::Pipe => units::System::Inch,
        }
    }

    /// Its designation with the system: "1/2-13 UNC", "M12".
    pub fn full_name(&self) -> String {
        match self.system {
            System::Unc | System::Unf => format!("{} {}", self.designation, self.system.name()),
            _ => self.designation.to_owned(),
        }
    }
}

/// All threads, in the order of the table.
pub fn threads() -> &'static [Thread] {
    &THREADS
}

fn read(row: &'static Row) -> Option<Thread> {
    let (system, ..) = System::NAMES.iter().find(|(_, name, _)| *name == row.text("system"))?;
    let designation = row.text("designation");
    let size = size_of(designation)?;
    let per_inch = row.number("tpi")?;
    Some(Thread {
        system: *system,
        size,
        designation,
        major_mm: major(row, *system, size)?,
        pitch_mm: pitch(row, *system, per_inch)?,
        per_inch,
        angle_deg: row.number("angle_deg")?,
        pitch_diameter_mm: row.number("pitch_dia_mm")?,
        minor_nut_mm: row.number("minor_internal_mm")?,
        minor_bolt_mm: row.number("minor_external_mm")?,
        stress_area_mm2: row.number("stress_area_mm2"),
        tap_drill_mm: row.number("tap_drill_mm"),
        tap_drill: row.text("tap_drill"),
        sources: sources::named(row.text("source")),
    })
}

/// Inch sizes are exact in inches, numbered ones go up by 0.013 in from 0.060 in (ASME B1.1); the table
/// rounds their millimetres.
fn major(row: &Row, system: System, size: Size) -> Option<f64> {
    match (system, size) {
        (System::Ba | System::Pipe | System::MetricCoarse | System::MetricFine, _) => row.number("major_mm"),
        (_, Size::Number(number)) => Some(clean_mm((0.060 + 0.013 * f64::from(number)) * 25.4)),
        (_, Size::Inches(inches)) => Some(clean_mm(inches * 25.4)),
        (_, Size::Mm(_)) => None,
    }
}

fn pitch(row: &Row, system: System, per_inch: f64) -> Option<f64> {
    match system {
        System::MetricCoarse | System::MetricFine | System::Ba => row.number("pitch_mm"),
        _ => Some(25.4 / per_inch),
    }
}
