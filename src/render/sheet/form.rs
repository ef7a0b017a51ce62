//! The form that comes back with a job: a line for every size with limits that it makes or ends with, one for each
//! occurrence; for what a size on hold waits for; and for what the step's note asks to be reported.

use serde::Serialize;

use super::drawn::Drawn;
use super::found::is_one_dimension;
use super::scope::Scope;
use super::sizes::Size;
use crate::dossier::{NoteId, PartId};
use crate::record::MeasurementState;

/// A line of the form.
#[derive(Serialize)]
pub(super) struct ToMeasure {
    pub(super) feature: Option<String>,
    pub(super) least: Option<String>,
    pub(super) most: Option<String>,
    pub(super) unit: Option<String>,
}

impl ToMeasure {
    fn asked(feature: String) -> Self {
        Self { feature: Some(feature), least: None, most: None, unit: None }
    }
}

/// A job that asks for nothing has one free line.
pub(super) fn send_back(scope: &Scope, sizes: &[Size], drawn: &[&Drawn]) -> Vec<ToMeasure> {
    let is_drawn = |part: PartId| drawn.iter().any(|one| one.part == part && one.has_numbers());
    let numbered = drawn.iter().flat_map(|one| one.to_measure(&pieces(scope, one.part)));
    let told = sizes
        .iter()
        .filter(|size| size.of.is_some_and(|part| scope.parts.contains(&part) && !is_drawn(part)));
    let told = told.flat_map(|size| occurrences(scope, size));
    let step = &scope.edition.dossier()[scope.step];
    let asked: Vec<String> = match step.reports.as_slice() {
        [] => on_hold(scope),
        reports => reports.iter().flat_map(|text| reported(scope, text)).collect(),
    };
    let lines: Vec<ToMeasure> = numbered.chain(told).chain(asked.into_iter().map(ToMeasure::asked)).collect();
    let free = || vec![ToMeasure { feature: None, least: None, most: None, unit: None }];
    if lines.is_empty() { free() } else { lines }
}

/// What begins with "each" is asked of every piece of the job's part.
fn reported(scope: &Scope, text: &str) -> Vec<String> {
    let says = scope.redaction.text(scope.step, text);
    let is_each = text.to_lowercase().starts_with("each ");
    let pieces = scope.parts.first().filter(|_| is_each).map(|part| pieces(scope, *part)).unwrap_or_default();
    if pieces.is_empty() {
        vec![says]
    } else {
        pieces.iter().map(|piece| format!("{says}, {piece}")).collect()
    }
}

/// A line for each place at which it was measured as found, else for each piece.
fn occurrences(scope: &Scope, size: &Size) -> Vec<ToMeasure> {
    let places = size.of.map_or_else(Vec::new, |part| places(scope, part, size.nominal_m()));
    let pieces = size.of.map_or_else(Vec::new, |part| pieces(scope, part));
    let each = if places.is_empty() { pieces } else { places };
    let line = |at: Option<&String>| ToMeasure {
        feature: Some(at.map_or_else(|| size.feature.clone(), |at| format!("{}, {at}", size.feature))),
        least: Some(size.figures.least.clone()),
        most: Some(size.figures.most.clone()),
        unit: Some(size.figures.unit.clone()),
    };
    if each.is_empty() { vec![line(None)] } else { each.iter().map(|at| line(Some(at))).collect() }
}

/// "piece 1", "piece 2"; of very many, none.
fn pieces(scope: &Scope, part: PartId) -> Vec<String> {
    const MOST: u32 = 12;
    let count = scope.edition.dossier()[part].quantity;
    let is_asked = (2..=MOST).contains(&count);
    (1..=count).filter(|_| is_asked).map(|piece| format!("piece {piece}")).collect()
}

/// The places of the one measurement of the part that is about as large: of the same feature as found.
fn places(scope: &Scope, part: PartId, nominal: f64) -> Vec<String> {
    const ALIKE: f64 = 0.1;
    let dossier = scope.edition.dossier();
    let is_alike = |size: f64| libm::fabs(size - nominal) <= ALIKE * nominal;
    let is_same_feature = |id: &&crate::dossier::MeasurementId| {
        let keys = &dossier[**id];
        let mut means = keys.readings.stations.iter().filter_map(crate::record::Station::mean);
        keys.of == part && keys.state == MeasurementState::AsFound && means.all(is_alike)
    };
    let found: Vec<_> = scope.measurements.iter().filter(is_same_feature).collect();
    let [one] = found.as_slice() else { return Vec::new() };
    let stations = &dossier[**one].readings.stations;
    if is_one_dimension(&dossier[**one]) {
        return Vec::new();
    }
    stations.iter().map(|station| scope.redaction.text(**one, &station.place)).collect()
}

/// What sizes on hold wait for, of the parts for which this step gives them.
fn on_hold(scope: &Scope) -> Vec<String> {
    let dossier = scope.edition.dossier();
    let open = dossier.parts.ids().filter(|part| scope.redaction.is_open(*part));
    let of_part = open.filter_map(|part| Some((part, dossier[part].shape.as_ref()?)));
    let gives = NoteId::Step(scope.step);
    let held = of_part.flat_map(|(part, shaped)| {
        let ours = shaped.holds.iter().filter(|hold| hold.settled_by.contains(&gives));
        ours.map(move |hold| (part, &hold.why))
    });
    let mut lines: Vec<String> = held
        .map(|(part, why)| format!("for {}: {}", scope.name(part), scope.redaction.text(part, why)))
        .collect();
    lines.dedup();
    lines
}
