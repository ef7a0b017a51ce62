//! The table of a measurement's readings: down or across, whichever is lower.

use std::collections::BTreeMap;

use serde::Serialize;

use super::measurement::{Taken, decimals, places_of};
use crate::calc::print;
use crate::record::Reading;

/// Readings by station, or one line of them.
#[derive(Serialize)]
pub(super) struct Table {
    corner: String,
    heads: Vec<String>,
    unit: String,
    rows: Vec<Row>,
    mean: bool,
    means: Vec<Option<String>>,
    /// Readings at one station, as a line: `10.02, 10.03, 10.02 mm`.
    line: Option<String>,
}

#[derive(Serialize)]
struct Row {
    station: String,
    readings: Vec<Option<String>>,
}

impl Table {
    pub(super) fn of(keys: &Taken) -> Self {
        let down = Self::down(keys);
        if down.rows.len() == 1 {
            return Self { line: Some(down.in_a_line()), ..down };
        }
        let across = down.across();
        if across.rows.len() < down.rows.len() && across.letters() <= WIDEST { across } else { down }
    }

    /// A station a row.
    fn down(keys: &Taken) -> Self {
        let unit = keys.readings.unit;
        let decimals = decimals(keys, unit);
        let figure = |value: f64, decimals: i32| print::rounded(unit.from_si(value), decimals);
        let columns = keys.readings.columns.len();
        let as_read = |reading: &Reading| figure(reading.value, places_of(reading.step, unit));
        let rows = keys.readings.stations.iter().map(|station| {
            let by_column: BTreeMap<usize, String> =
                station.readings.iter().map(|reading| (reading.column, as_read(reading))).collect();
            let readings = (0..columns).map(|column| by_column.get(&column).cloned()).collect();
            Row { station: station.place.clone(), readings }
        });
        let means = keys.readings.stations.iter();
        let means = means.map(|station| station.mean().map(|mean| figure(mean, decimals)));
        Self {
            corner: keys.readings.corner.clone(),
            heads: keys.readings.columns.clone(),
            unit: unit.shown(),
            means: means.collect(),
            rows: rows.collect(),
            mean: keys.readings.repeats && columns > 1,
            line: None,
        }
    }

    /// A station a column; the means are the last row.
    fn across(&self) -> Self {
        let column = |(at, head): (usize, &String)| Row {
            station: head.clone(),
            readings: self.rows.iter().map(|row| row.readings.get(at).cloned().flatten()).collect(),
        };
        let mean = Row { station: "mean".to_owned(), readings: self.means.clone() };
        Self {
            corner: self.corner.clone(),
            heads: self.rows.iter().map(|row| row.station.clone()).collect(),
            unit: self.unit.clone(),
            rows: self.heads.iter().enumerate().map(column).chain(self.mean.then_some(mean)).collect(),
            mean: false,
            means: Vec::new(),
            line: None,
        }
    }

    /// About how many letters wide it is, with the gaps between its columns.
    fn letters(&self) -> usize {
        let wide = |text: &str| text.chars().count();
        let first = self.rows.iter().map(|row| wide(&row.station)).max().unwrap_or(0);
        let first = first.max(wide(&self.corner) + wide(&self.unit) + 1);
        let column = |(at, head): (usize, &String)| {
            let down = self.rows.iter().filter_map(|row| row.readings.get(at)?.as_deref());
            down.map(wide).chain([wide(head)]).max().unwrap_or(0) + GAP
        };
        first + self.heads.iter().enumerate().map(column).sum::<usize>()
    }

    /// `10.02, 10.03, 10.02 mm`, each after the head of its column if that is not just its number.
    fn in_a_line(&self) -> String {
        let counted = self.heads.iter().all(|head| head.parse::<usize>().is_ok() || head.is_empty());
        let readings = self.rows.iter().flat_map(|row| self.heads.iter().zip(&row.readings));
        let said = readings.filter_map(|(head, reading)| {
            let reading = reading.as_ref()?;
            Some(if counted { reading.clone() } else { format!("{head} {reading}") })
        });
        format!("{} {}", said.collect::<Vec<_>>().join(", "), self.unit)
    }
}

/// Letters of a table that stand beside each other in the main column, and of a gap between two columns.
const WIDEST: usize = 76;
const GAP: usize = 3;
