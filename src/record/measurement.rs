//! Readings of one feature.

use super::declare::record;
use super::fields::{Fields, Word};
use super::form::{Field, Reads, by, date, link, one, place_of, text, word};
use super::key::Form;
use super::links::{TypedInstrument, TypedPart, without_links};
use super::{Dated, Typed, comma, heads};
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::calc::units::Unit;
use crate::limits::MOST_READINGS;
use crate::note::body::{BlockShape, Cell, Table, each_block, plain};
use crate::note::yaml::Shape;
use crate::record::problems as problem;
use crate::text::Span;

record! {
    /// Readings of one feature of a part.
    pub struct Measurement<L> of "a measurement" {
        /// The part that was measured.
        of: L::Part = link::<TypedPart>().needed("name the part that was measured");
        /// Which bore, journal or face.
        feature: String = text().needed("say which bore, journal or face was measured");
        /// Where the feature stands.
        feature_span (): Span = place_of("feature");
        /// Before or after the work; left out, as found.
        state: State = word().or(State::AsFound);
        /// What it was measured with.
        instrument: Option<L::Instrument> = link::<TypedInstrument>();
        /// The day it was measured.
        date: Option<Dated> = date();
        /// The unit of figures that stand without one, as typed.
        unit: Option<String> = text();
        /// The figures: from a key, or from the first table of the body.
        readings ("value", "values"): Readings = readings();
        /// The size that it is meant to have.
        nominal: Option<Literal> = in_unit();
        /// The sizes between which it is good.
        limits: Option<Literal> = in_unit();
        /// On which side the metal is; left out, outside.
        surface: Surface = word().or(Surface::Outside);
    }
}

without_links!(State, Surface, Readings);

/// Before or after the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    AsFound,
    AsLeft,
}

/// On which side of the surface the metal is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Surface {
    Outside,
    Inside,
}

/// The figures, in SI units.
#[derive(Clone, Debug)]
pub struct Readings {
    /// The head of the first column.
    pub corner: String,
    /// The heads of the others: angles or words are places, counting numbers are repeats.
    pub columns: Vec<String>,
    pub stations: Vec<Station>,
    /// The unit of the first reading, in which results print.
    pub unit: Unit,
    /// The columns are repeats of one dimension.
    pub repeats: bool,
    /// The columns are diameters of one circle in different directions.
    pub diameters: bool,
    /// The place of the table among the body's blocks, when the readings stand in one.
    pub table: Option<Span>,
}

/// The readings of one place along the feature.
#[derive(Clone, Debug)]
pub struct Station {
    /// As typed in the first column.
    pub place: String,
    /// In metres, when the place is a length.
    pub position: Option<f64>,
    pub readings: Vec<Reading>,
}

impl Station {
    /// The mean of its readings, in SI units; none without a reading.
    pub fn mean(&self) -> Option<f64> {
        let count = u32::try_from(self.readings.len()).ok().filter(|count| *count > 0)?;
        Some(self.readings.iter().map(|reading| reading.value).sum::<f64>() / f64::from(count))
    }
}

/// One figure.
#[derive(Clone, Debug)]
pub struct Reading {
    /// In SI units.
    pub value: f64,
    /// One unit of the last digit typed, in SI units.
    pub step: f64,
    /// The number of its column among [`Readings::columns`].
    pub column: usize,
    /// Where it stands.
    pub span: Span,
}

impl Word for State {
    const WORDS: &'static [(&'static str, Self)] = &[("as-found", Self::AsFound), ("as-left", Self::AsLeft)];
}

impl Word for Surface {
    const WORDS: &'static [(&'static str, Self)] = &[("outside", Self::Outside), ("inside", Self::Inside)];
}

impl State {
    /// The word as a person types it.
    pub fn word(self) -> &'static str {
        super::fields::word_of(self)
    }
}

type Found = Option<(Readings, Dimension)>;

/// Needs no key where a table stands in the body. What is read after it must be of its dimension.
fn readings() -> Field<2, impl Reads<2, Readings>> {
    let read = |fields: &mut Fields, keys: [&'static str; 2]| {
        let (mut readings, dimension) = found(fields, keys)?;
        let count = readings.stations.iter().map(|station| station.readings.len()).sum();
        if count > MOST_READINGS {
            fields.reader.problems.push(problem::readings_many(fields.span, count));
            return None;
        }
        if dimension == Dimension::LENGTH {
            let feature = fields.said("feature").unwrap_or_default();
            readings.diameters = heads::are_diameters(&readings.columns, feature);
        }
        fields.settled = Some(dimension);
        Some(readings)
    };
    let meanings = [
        "The one reading, where the body has no table.",
        "Repeats of one reading, where the body has no table.",
    ];
    by([Form::Quantity(None), Form::Quantities], read).each_says(meanings)
}

fn found(fields: &mut Fields, [one, several]: [&'static str; 2]) -> Found {
    let mut table = None;
    each_block(fields.reader.body, &mut |block| {
        if let BlockShape::Table(found) = &block.shape {
            table = table.or(Some((found, block.span)));
        }
    });
    if let (Some(one), Some(several)) = (fields.node(one), fields.node(several)) {
        fields.reader.problems.push(problem::readings_twice(one.span, several.span));
    }
    let unit = fields.said("unit");
    match (fields.node(one).is_some(), fields.node(several).is_some(), table) {
        (true, ..) => values(fields, one, unit),
        (_, true, _) => values(fields, several, unit),
        (.., Some((table, span))) => {
            let mut readings = from_table(fields, table, unit)?;
            readings.0.table = Some(span);
            Some(readings)
        }
        _ => {
            let problem = problem::readings_missing(fields.span);
            fields.reader.problems.push(problem);
            None
        }
    }
}

/// `value: 12.42 mm` or `values: [..]`: repeats at one place.
fn values(fields: &mut Fields, key: &str, unit: Option<&str>) -> Found {
    let mut first: Option<Unit> = None;
    let mut readings = Vec::new();
    if let Some(typed) = unbracketed(fields, key) {
        fields.reader.problems.push(problem::readings_unbracketed(typed.span, &typed.text));
        return None;
    }
    let items = fields.list(key);
    if let Some((span, whole, places)) = comma::decimal_comma(&items) {
        fields.reader.problems.push(problem::decimal_comma(span, whole, places));
        return None;
    }
    for (index, typed) in items.iter().enumerate() {
        if let Some(literal) = fields.reading(typed, unit, first.as_ref().map(Unit::dimension)) {
            first.get_or_insert(literal.unit);
            readings.push(reading(&literal, index, typed.span));
        }
    }
    if let Some(misplaced) = comma::misplaced_point(&readings) {
        fields.reader.problems.push(problem::misplaced_point(misplaced.span));
        return None;
    }
    let unit = first?;
    let columns = (1..=readings.len()).map(|each| each.to_string()).collect();
    let stations = vec![Station { place: String::new(), position: None, readings }];
    let readings = Readings {
        corner: String::new(),
        columns,
        stations,
        unit,
        repeats: true,
        diameters: false,
        table: None,
    };
    Some((readings, unit.dimension()))
}

/// Figures with commas between them where one value stands.
fn unbracketed(fields: &mut Fields, key: &str) -> Option<Typed> {
    let Shape::Scalar { .. } = fields.node(key)?.shape else { return None };
    let typed = fields.typed(key)?;
    let mut pieces = typed.text.split(',').map(str::trim);
    let are_figures =
        pieces.all(|piece| piece.starts_with(|letter: char| letter.is_ascii_digit() || letter == '-'));
    (typed.text.contains(',') && are_figures).then_some(typed)
}

fn from_table(fields: &mut Fields, table: &Table, unit: Option<&str>) -> Found {
    let heads: Vec<String> = table.head.iter().map(|cell| plain(&cell.text).trim().to_owned()).collect();
    let (corner, columns) = heads.split_first()?;
    let repeats = heads::are_repeats(columns);
    let mut first = None;
    let mut stations = Vec::new();
    for row in &table.rows {
        stations.extend(station(fields, row, columns.len(), unit, &mut first));
    }
    let Some(unit) = first else {
        let problem = problem::readings_missing(fields.span);
        fields.reader.problems.push(problem);
        return None;
    };
    let (corner, columns) = (corner.clone(), columns.to_vec());
    let readings = Readings { corner, columns, stations, unit, repeats, diameters: false, table: None };
    Some((readings, unit.dimension()))
}

fn station(
    fields: &mut Fields,
    row: &[Cell],
    columns: usize,
    unit: Option<&str>,
    first: &mut Option<Unit>,
) -> Option<Station> {
    let (place, cells) = row.split_first()?;
    let place = plain(&place.text).trim().to_owned();
    let position = Literal::parse(&place, fields.reader.units)
        .ok()
        .filter(|literal| literal.dimension() == Dimension::LENGTH)
        .map(|literal| literal.nominal);
    let mut readings = Vec::new();
    for (column, cell) in cells.iter().enumerate().take(columns) {
        let text = plain(&cell.text).trim().to_owned();
        if matches!(text.as_str(), "" | "-" | "–" | "—") {
            continue;
        }
        if let Some(literal) =
            fields.reading(&Typed { text, span: cell.span }, unit, first.as_ref().map(Unit::dimension))
        {
            first.get_or_insert(literal.unit);
            readings.push(reading(&literal, column, cell.span));
        }
    }
    Some(Station { place, position, readings })
}

fn reading(literal: &Literal, column: usize, span: Span) -> Reading {
    Reading { value: literal.nominal, step: literal.step, column, span }
}

impl Fields<'_, '_, '_> {
    /// A figure in the measurement's unit, or a quantity that carries its own.
    fn reading(
        &mut self,
        typed: &Typed,
        unit: Option<&str>,
        dimension: Option<Dimension>,
    ) -> Option<Literal> {
        let with_unit = with_unit(&typed.text, unit);
        let literal = self.literal(&Typed { text: with_unit, span: typed.span }, dimension)?;
        if literal.dimension() == Dimension::NONE {
            let help = "its unit, or `unit: mm` for all";
            self.reader.problems.push(problem::unit_missing(typed.span, &typed.text, help));
            return None;
        }
        Some(literal)
    }
}

/// A quantity that may lean on the measurement's unit.
fn in_unit() -> Field<1, impl Reads<1, Option<Literal>>> {
    one(Form::Quantity(None), |fields, key| {
        let typed = fields.typed(key)?;
        let text = with_unit(&typed.text, fields.said("unit"));
        fields.literal(&Typed { text, span: typed.span }, fields.settled)
    })
}

fn with_unit(text: &str, unit: Option<&str>) -> String {
    let bare = !text.chars().any(|letter| letter.is_alphabetic() || matches!(letter, '"' | '\'' | '%' | '°'));
    match unit {
        Some(unit) if bare => format!("{text} {unit}"),
        _ => text.to_owned(),
    }
}
