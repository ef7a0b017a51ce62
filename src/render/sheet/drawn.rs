//! The drawings that a sheet holds: of every part that its jobs make or work on, each once.

use std::collections::{BTreeMap, BTreeSet};

use super::ToMeasure;
use super::scope::Scope;
use crate::dossier::{PartId, StepId};
use crate::drafting::Numbered;
use crate::render::part_drawing::{self, Laid, PartDrawing};
use crate::shape::Unit;

/// A drawing and the job that it belongs to.
pub(super) struct Drawn {
    pub(super) job: usize,
    pub(super) part: PartId,
    pub(super) name: String,
    drawing: PartDrawing,
}

/// What keeps a part from being made from a sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing {
    /// The number of the job.
    pub job: usize,
    /// The part's name.
    pub part: String,
    /// What has to be done first.
    pub why: String,
}

impl Missing {
    /// As it stands on the sheet and in the terminal.
    pub fn says(&self) -> String {
        format!("{} can't be made from this sheet: a size is missing: {}", self.part, self.why)
    }
}

/// Under the first job that needs it; a drawing that finds no room is left out.
pub(super) fn all(scopes: &[Scope], numbers: &BTreeMap<StepId, usize>) -> Vec<Drawn> {
    let mut seen = BTreeSet::new();
    let parts = scopes.iter().flat_map(|scope| scope.shaped.iter().map(move |part| (scope, *part)));
    let one = |(scope, part): (&Scope, PartId)| {
        let edition = scope.edition;
        let shape = part_drawing::shape(edition.project, part).filter(|_| seen.insert(part))?;
        let drawing = part_drawing::on_sheet(edition, part, shape).ok()?;
        Some(Drawn { job: numbers[&scope.step], part, name: edition.dossier()[part].name.clone(), drawing })
    };
    parts.filter_map(one).collect()
}

impl Drawn {
    pub(super) fn lay(&self, scope: &Scope) -> Laid {
        part_drawing::lay(scope.edition, self.part, "sheet", &self.drawing)
    }

    pub(super) fn missing(&self) -> Vec<Missing> {
        let one = |why: &str| Missing { job: self.job, part: self.name.clone(), why: why.to_owned() };
        self.drawing.missing().into_iter().map(one).collect()
    }

    /// A line of the form for every size with limits, by its number on the drawing.
    pub(super) fn to_measure(&self) -> Vec<ToMeasure> {
        let line = |size: &Numbered| ToMeasure {
            job: self.job,
            feature: Some(format!("{}, no. {} on the drawing: {}", self.name, size.number, size.text)),
            least: Some(figure(size.least, size.unit)),
            most: Some(figure(size.greatest, size.unit)),
            unit: Some(size.unit.symbol().to_owned()),
        };
        self.drawing.drawing.numbered.iter().map(line).collect()
    }
}

/// To a micrometre or a ten-thousandth of an inch.
fn figure(metres: f64, unit: Unit) -> String {
    let decimals = if unit == Unit::Inch { 4 } else { 3 };
    format!("{:.decimals$}", metres / unit.metres())
}
