//! The table of rolling bearings: boundary dimensions by designation.

use std::sync::LazyLock;

use crate::calc::function::{Seen, Source};
use crate::calc::units::System;
use crate::trade::declare::clean_mm;
use crate::trade::sources;
use crate::trade::table::{Row, Table};

pub(in crate::trade) static TABLE: Table = Table::of(include_str!("../data/bearings.csv"));
static BEARINGS: LazyLock<Vec<Bearing>> = LazyLock::new(|| TABLE.rows().iter().filter_map(read).collect());

const MM_IN_INCH: f64 = 25.4;

/// One bearing of the table; lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Bearing {
    /// "6205", "NU205", "51110", "R8", "LM11949/LM11910".
    pub designation: &'static str,
    /// "deep groove ball", "thrust ball single direction".
    pub type_: &'static str,
    /// The plan or series that fixes its dimensions.
    pub standard: &'static str,
    /// The system in which its series is listed.
    pub system: System,
    pub bore_mm: f64,
    pub outside_mm: f64,
    /// Width B of the inner ring, or height of a thrust bearing.
    pub width_mm: f64,
    /// Overall width T of a tapered roller bearing, where it is known.
    pub overall_mm: Option<f64>,
    /// Width of the outer ring of a tapered roller bearing, where it is known.
    pub cup_mm: Option<f64>,
    /// Where the overall width and that of the outer ring come from, if not from where the rest does.
    pub rings: Option<Source>,
    /// Basic dynamic load rating, kN, where a source that is no maker prints it.
    pub dynamic_kn: Option<f64>,
    /// Basic static load rating, kN.
    pub static_kn: Option<f64>,
    /// How many sources agree on the dimensions.
    pub sources: u32,
}

impl Bearing {
    /// Whether it carries along the shaft only; its width is then called height.
    pub fn is_thrust(&self) -> bool {
        self.type_.starts_with("thrust")
    }

    /// Whether it is a tapered roller bearing, whose rings come apart and have widths of their own.
    pub fn is_tapered(&self) -> bool {
        self.type_.starts_with("tapered roller")
    }

    /// Whether the overall width and that of the outer ring were recalled and not seen.
    pub fn are_rings_recalled(&self) -> bool {
        self.rings.is_some_and(|source| source.seen() == Some(Seen::Recalled))
    }

    /// Whether another bearing has the same bore, outside and width.
    pub(super) fn is_as_large_as(&self, other: &Self) -> bool {
        const SAME_MM: f64 = 1e-6;
        [self.bore_mm - other.bore_mm, self.outside_mm - other.outside_mm, self.width_mm - other.width_mm]
            .iter()
            .all(|difference| difference.abs() < SAME_MM)
    }
}

/// All bearings, in the order of the table.
pub fn bearings() -> &'static [Bearing] {
    &BEARINGS
}

fn read(row: &'static Row) -> Option<Bearing> {
    let (scale, system) =
        if row.text("units") == "in" { (MM_IN_INCH, System::Inch) } else { (1.0, System::Metric) };
    let length = |column: &str| row.number(column).map(|length| clean_mm(length * scale));
    Some(Bearing {
        designation: row.text("designation"),
        type_: row.text("type"),
        standard: row.text("standard"),
        system,
        bore_mm: length("bore")?,
        outside_mm: length("od")?,
        width_mm: length("width")?,
        overall_mm: length("width_T"),
        cup_mm: length("width_C"),
        rings: sources::named(row.text("rings")).into_iter().next(),
        dynamic_kn: row.number("dyn_kN"),
        static_kn: row.number("stat_kN"),
        sources: row.text("n").parse().unwrap_or(1),
    })
}
