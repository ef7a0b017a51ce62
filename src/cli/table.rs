//! Tables for the terminal: a head, a line under it, no vertical lines, as wide as the terminal allows.

use std::fmt;

use comfy_table::{
    CellAlignment, ColumnConstraint, ContentArrangement, ContentLineStyle, LineStyle, TableStyle,
};

/// On which side a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    Left,
    Right,
}

/// A line under the head and nothing else.
const OPEN: TableStyle = TableStyle::new()
    .header_lines(ContentLineStyle::none().junction(' '))
    .header_separator(LineStyle::none().fill('─').junction('─'))
    .content_lines(ContentLineStyle::none().junction(' '));

/// A table that prints as nothing when it has no rows.
pub(super) struct Table {
    table: comfy_table::Table,
    rows: usize,
}

impl Table {
    pub(super) fn new(heads: &[(&str, Side)]) -> Self {
        let mut table = comfy_table::Table::new();
        table.load_style(OPEN).set_content_arrangement(ContentArrangement::Dynamic);
        if table.width().is_none() {
            table.set_width(110);
        }
        table.set_header(heads.iter().map(|(head, _)| *head));
        for (index, (_, side)) in heads.iter().enumerate() {
            let alignment = if *side == Side::Right { CellAlignment::Right } else { CellAlignment::Left };
            if let Some(column) = table.column_mut(index) {
                column.set_cell_alignment(alignment);
            }
        }
        Self { table, rows: 0 }
    }

    /// The cells of this column are not broken, however wide the table gets.
    pub(super) fn whole(mut self, column: usize) -> Self {
        if let Some(column) = self.table.column_mut(column) {
            column.set_constraint(ColumnConstraint::ContentWidth);
        }
        self
    }

    pub(super) fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        self.table.add_row(cells);
        self.rows += 1;
    }
}

impl fmt::Display for Table {
    fn fmt(&self, formatter: &mut fmt::Formatter) -> fmt::Result {
        if self.rows == 0 {
            return Ok(());
        }
        for line in self.table.to_string().lines() {
            writeln!(formatter, "{}", line.trim_end())?;
        }
        Ok(())
    }
}
