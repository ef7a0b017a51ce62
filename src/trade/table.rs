//! The compiled-in tables: comma-separated text with a header line and `#` comment lines, parsed once.
//!
//! ```text
//! static STEELS: Table = Table::of(include_str!("data/steels.csv"));
//! for row in STEELS.rows() { row.text("name"); row.number("density_kg_m3"); }
//! ```

use std::sync::{Arc, OnceLock};

use csv::{ReaderBuilder, StringRecord, Trim};

/// A compiled-in table; its text is parsed when it is first asked for.
pub struct Table {
    text: &'static str,
    rows: OnceLock<Vec<Row>>,
}

/// One line of a table, its cells known by the names in the header line.
#[derive(Clone, Debug)]
pub struct Row {
    header: Arc<StringRecord>,
    cells: StringRecord,
}

impl Table {
    /// A table whose text comes with the program (`include_str!`).
    pub const fn of(text: &'static str) -> Self {
        Self { text, rows: OnceLock::new() }
    }

    /// Its rows, in the order of the text.
    pub fn rows(&self) -> &[Row] {
        self.rows.get_or_init(|| rows(self.text))
    }
}

impl Row {
    /// The cell in the column of that name; empty if the cell is empty or there is no such column.
    pub fn text(&self, column: &str) -> &str {
        let index = self.header.iter().position(|name| name == column);
        index.and_then(|index| self.cells.get(index)).unwrap_or_default()
    }

    /// The cell as a number; `None` if it is empty or no number.
    pub fn number(&self, column: &str) -> Option<f64> {
        self.text(column).parse().ok()
    }
}

/// The rows of a table's text: `#` lines and blank lines skipped, the first other line is the header, cells trimmed.
/// A row with fewer or more cells than the header is kept as it stands.
pub fn rows(text: &'static str) -> Vec<Row> {
    let mut reader = ReaderBuilder::new()
        .comment(Some(b'#'))
        .flexible(true)
        .trim(Trim::All)
        .has_headers(true)
        .from_reader(text.as_bytes());
    let header = Arc::new(reader.headers().cloned().unwrap_or_default());
    reader.records().flatten().map(|cells| Row { header: Arc::clone(&header), cells }).collect()
}
