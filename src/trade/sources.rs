//! Where the rows of the tables come from: the cells of their `source` columns as [`Source`].
//!
//! ```text
//! M2: 1C45, 340/580; recalled a textbook: 310/565
//! ```
//!
//! Sources stand one after the other, `;` between them: a key of `KEYS`, `recalled` and a work, `rule` and what it
//! follows from, or `practice`; after a colon what was taken. A cell that is empty is covered by the head of its table.

use super::declare::{derived, open_table, practice, recalled};
use super::table::{Row, Table};
use super::{bearing, chain, limits, material, repair, strength, thread};
use crate::calc::function::{Seen, Source};

/// The works behind the keys, as the heads of the tables explain them; all were seen as open tables or transcriptions.
const KEYS: &[(&str, &str)] = &[
    ("A1", "ANSI B4.1-1967 as printed in a machinery handbook"),
    ("C1", "maker's chain catalogue"),
    ("K1", "code table of DIN 6885"),
    ("K2", "gear maker's table after DIN 6885-1"),
    ("K3", "transcription of ANSI B17.1"),
    ("K4", "second transcription of ANSI B17.1"),
    ("K5", "chart of keyways after DIN 6885-1 and BS 4235-1"),
    ("K6", "table of JIS B 1301"),
    ("M1", "machine-design textbook appendix"),
    ("M2", "material cards with EN and DIN minima"),
    ("M3", "list of typical ranges"),
    ("M4", "aerospace handbook"),
    ("M5", "data pages for UNS C93200"),
    ("M6", "data page for ISO grade 150 after ASTM A48"),
    ("M7", "Mechanical Engineer's Data Handbook, table of physical properties"),
    ("M8", "data page of the alloy"),
    ("M9", "Mechanical Engineer's Data Handbook, 6.1.3"),
    ("M10", "bolt maker's page on ASTM A47"),
    ("P1", "help page after DIN 7190-1"),
    ("P2", "code table after DIN 7190-1"),
    ("P3", "university tribology page"),
    ("P4", "general friction table"),
    ("P5", "another general friction table"),
    ("P6", "machine-design textbook table 16-1"),
    ("P7", "bronze supplier's data page"),
    ("P8", "machine-elements textbook table 12.5"),
    ("P9", "tribology handbook page"),
    ("P10", "Mechanical Engineer's Data Handbook, 2.9.3"),
    ("P11", "tribology handbook page on rubbing bearings"),
    ("T1", "hole tables of an open CAD program"),
    ("T2", "thread milling tables of an open CAD program"),
    ("T3", "open parts library"),
    ("T4", "open thread library after ASME B1.1-2019"),
];

/// The sources that a cell names; what it calls by no key counts as recalled.
pub(super) fn named(cell: &'static str) -> Vec<Source> {
    cell.split("; ").filter(|piece| !piece.is_empty()).map(one).collect()
}

fn one(piece: &'static str) -> Source {
    let (name, at) = piece.split_once(": ").unwrap_or((piece, ""));
    if let Some((_, work)) = KEYS.iter().find(|(key, _)| *key == name) {
        return open_table(work, "", at);
    }
    match name.split_once(' ').unwrap_or((name, "")) {
        ("rule", _) => derived(piece),
        ("practice", _) => practice(at),
        ("recalled", work) => recalled(work, "", at),
        _ => recalled(name, "", at),
    }
}

/// Whether any of them was recalled and not seen.
pub(super) fn any_recalled(sources: &[Source]) -> bool {
    sources.iter().any(|source| source.seen() == Some(Seen::Recalled))
}

/// Each source once, in the order in which they come.
pub fn each_once<'a>(sources: impl Iterator<Item = &'a Source>) -> Vec<Source> {
    let mut each: Vec<Source> = Vec::new();
    for source in sources {
        if !each.contains(source) {
            each.push(*source);
        }
    }
    each
}

/// Those that were recalled and not seen, each once.
pub fn recalled_of<'a>(sources: impl Iterator<Item = &'a Source>) -> Vec<Source> {
    each_once(sources.filter(|source| source.seen() == Some(Seen::Recalled)))
}

/// One source of one row of a table.
pub struct OfRow {
    /// The table: `materials`.
    pub table: &'static str,
    /// What tells the row from the others: `wrought iron`.
    pub row: String,
    /// Where figures of the row come from.
    pub source: Source,
}

/// A table that names its sources, the columns that tell its rows apart, and the column of the sources.
struct Sourced {
    name: &'static str,
    table: &'static Table,
    told_by: &'static [&'static str],
    column: &'static str,
}

const fn sourced(name: &'static str, table: &'static Table, told_by: &'static [&'static str]) -> Sourced {
    Sourced { name, table, told_by, column: "source" }
}

static TABLES: [Sourced; 9] = [
    sourced("ansi_b41_fits", &limits::ansi_b41::FITS, &["fit", "over_in"]),
    sourced("bar_sizes", &repair::BARS, &["series", "size"]),
    Sourced {
        name: "bearings",
        table: &bearing::catalogue::TABLE,
        told_by: &["designation"],
        column: "rings",
    },
    sourced("chains", &chain::identify::CHAINS, &["designation"]),
    sourced("friction_pv", &material::FRICTION_TABLE, &["material_pair", "condition"]),
    sourced("iso286_holes", &limits::iso286::HOLES, &["over_mm", "upto_mm"]),
    sourced("keys", &strength::KEY_TABLE, &["system", "over_mm"]),
    sourced("materials", &material::MATERIAL_TABLE, &["material"]),
    sourced("threads", &thread::THREAD_TABLE, &["designation"]),
];

/// The sources of all tables that name them row by row, in the order of the tables.
pub fn of_tables() -> impl Iterator<Item = OfRow> {
    TABLES.iter().flat_map(|sourced| sourced.table.rows().iter().flat_map(|row| sourced.of_row(row)))
}

impl Sourced {
    fn of_row(&'static self, row: &'static Row) -> impl Iterator<Item = OfRow> {
        let cells = self.told_by.iter().map(|column| row.text(column)).filter(|cell| !cell.is_empty());
        let label = cells.collect::<Vec<_>>().join(" ");
        let sources = named(row.text(self.column)).into_iter();
        sources.map(move |source| OfRow { table: self.name, row: label.clone(), source })
    }
}
