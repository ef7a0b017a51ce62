//! Rows by their id.

use std::marker::PhantomData;
use std::ops::Deref;
use std::slice;

/// Rows of one kind, in the order of their ids; as a whole they are a slice.
#[derive(Clone, Debug)]
pub struct Table<Id, Row> {
    rows: Vec<Row>,
    ids: PhantomData<Id>,
}

impl<Id, Row> Table<Id, Row> {
    pub(super) fn push(&mut self, row: Row) {
        self.rows.push(row);
    }

    pub(super) fn rows_mut(&mut self) -> &mut [Row] {
        &mut self.rows
    }
}

impl<Id, Row> Default for Table<Id, Row> {
    fn default() -> Self {
        Self { rows: Vec::new(), ids: PhantomData }
    }
}

impl<Id, Row> FromIterator<Row> for Table<Id, Row> {
    fn from_iter<I: IntoIterator<Item = Row>>(rows: I) -> Self {
        Self { rows: rows.into_iter().collect(), ids: PhantomData }
    }
}

impl<Id, Row> Deref for Table<Id, Row> {
    type Target = [Row];
    fn deref(&self) -> &[Row] {
        &self.rows
    }
}

impl<'a, Id, Row> IntoIterator for &'a Table<Id, Row> {
    type Item = &'a Row;
    type IntoIter = slice::Iter<'a, Row>;
    fn into_iter(self) -> Self::IntoIter {
        self.rows.iter()
    }
}
