//! The drawings that a sheet holds: of every part that its jobs make or work on, each once; and what a sheet lacks for a
//! part to be made from it.

use std::collections::{BTreeMap, BTreeSet};

use super::form::ToMeasure;
use super::scope::Scope;
use crate::dossier::{PartId, StepId};
use crate::drafting::{Numbered, profile_to_dxf};
use crate::render::attached::{self, Attached};
use crate::render::edition::Edition;
use crate::render::part_drawing::{self, Laid, PartDrawing};
use crate::shape::Unit;

/// A drawing and the job that it belongs to.
pub(super) struct Drawn {
    pub(super) job: usize,
    pub(super) part: PartId,
    pub(super) name: String,
    /// The job makes it, or takes metal off.
    is_made: bool,
    drawing: PartDrawing,
}

/// What keeps a part from being made from a sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing {
    /// The number of the job.
    pub job: usize,
    /// The part's name.
    pub part: String,
    pub what: Lacking,
}

/// What a sheet lacks for a part to be made from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lacking {
    /// A size waits for what has to be done first.
    Size(String),
    /// There is neither a drawing nor a size with its limits.
    Sizes,
    /// The part is there, and what it is to be worked to is not.
    Limits,
    /// Its shape can't be drawn on one sheet, or has faults.
    Drawing,
    /// Its drawing is not for this reader.
    KeptBack,
    /// It is to be tested under a load, and nothing says which.
    Load,
    /// Nothing says how the job is done.
    Description,
}

impl Missing {
    /// As it stands on the sheet and in the terminal.
    pub fn says(&self) -> String {
        let what = match &self.what {
            Lacking::Size(why) => format!("a size is missing: {why}"),
            Lacking::Sizes => "a drawing, or sizes with their limits, are missing".to_owned(),
            Lacking::Limits => "the size, its limits and where it lies are missing".to_owned(),
            Lacking::Drawing => "its drawing is missing: its shape finds no room or has faults".to_owned(),
            Lacking::KeptBack => "its drawing is missing: it is kept back".to_owned(),
            Lacking::Load => "the test load is missing".to_owned(),
            Lacking::Description => return "No description: ask before you start".to_owned(),
        };
        let done = match self.what {
            Lacking::Limits => "worked to size",
            Lacking::Load => "tested",
            _ => "made",
        };
        format!("{} can't be {done} from this sheet: {what}", self.part)
    }
}

/// Of every part once, under the first job that needs it; and what keeps a part from being drawn.
pub(super) fn all(scopes: &[Scope], numbers: &BTreeMap<StepId, usize>) -> (Vec<Drawn>, Vec<Missing>) {
    let mut seen = BTreeSet::new();
    let (shaping, others): (Vec<&Scope>, Vec<&Scope>) = scopes.iter().partition(|scope| scope.shapes());
    let scopes = shaping.into_iter().chain(others);
    let parts = scopes.flat_map(|scope| scope.shaped.iter().map(move |part| (scope, *part)));
    let (mut drawn, mut missing) = (Vec::new(), Vec::new());
    for (scope, part) in
        parts.filter(|(scope, part)| scope.edition.dossier()[*part].shape.is_some() && seen.insert(*part))
    {
        let (job, name) = (numbers[&scope.step], scope.name(part));
        match drawing(scope, part) {
            Ok(drawing) => drawn.push(Drawn { job, part, name, is_made: scope.shapes(), drawing }),
            Err(what) if scope.shapes() => missing.push(Missing { job, part: name, what }),
            Err(_) => {}
        }
    }
    (drawn, missing)
}

fn drawing(scope: &Scope, part: PartId) -> Result<PartDrawing, Lacking> {
    let edition = scope.edition;
    if edition.privacy().shape(part) {
        return Err(Lacking::KeptBack);
    }
    let shape = part_drawing::shape(edition.project, part).ok_or(Lacking::Drawing)?;
    let keeper = edition.dossier().about.keeper.as_deref().unwrap_or_default();
    let keeper = scope.redaction.joined(keeper);
    let drawing = part_drawing::on_sheet_of(edition, part, shape, &keeper).map_err(|_| Lacking::Drawing)?;
    let may_go = scope.redaction.allows_drawing(part, drawing.svg().as_bytes(), &drawing.words);
    may_go.then_some(drawing).ok_or(Lacking::KeptBack)
}

impl Drawn {
    /// The drawing as SVG, and the contour as DXF while no size is on hold, to go with the sheet.
    pub(super) fn files(&self, edition: &Edition) -> Vec<Attached> {
        let id = edition.dossier()[self.part].id();
        let contour =
            part_drawing::shape(edition.project, self.part).and_then(|shape| profile_to_dxf(shape).ok());
        let says = format!("{}, the drawing", self.name);
        let svg = attached::made(edition, &format!("{id}.svg"), self.drawing.svg(), &says);
        let dxf = contour.map(|contour| {
            let says = format!("{}, its contour in millimetres", self.name);
            attached::made(edition, &format!("{id}.dxf"), contour, &says)
        });
        [svg].into_iter().chain(dxf).collect()
    }

    pub(super) fn lay(&self, scope: &Scope) -> Laid {
        part_drawing::lay(scope.edition, &self.drawing)
    }

    pub(super) fn missing(&self) -> Vec<Missing> {
        let one = |why: &str| Missing {
            job: self.job,
            part: self.name.clone(),
            what: Lacking::Size(why.to_owned()),
        };
        let held = if self.is_made { self.drawing.missing() } else { Vec::new() };
        held.into_iter().map(one).collect()
    }

    /// Whether it has sizes that are to be measured.
    pub(super) fn has_numbers(&self) -> bool {
        !self.drawing.drawing.numbered.is_empty()
    }

    /// A line of the form for every size with limits, by its number on the drawing, and for each of the pieces.
    pub(super) fn to_measure(&self, pieces: &[String]) -> Vec<ToMeasure> {
        let line = |size: &Numbered, piece: Option<&String>| ToMeasure {
            feature: Some(format!(
                "{}, no. {} on the drawing: {}{}",
                self.name,
                size.number,
                size.text,
                piece.map(|piece| format!(", {piece}")).unwrap_or_default()
            )),
            least: Some(figure(size.least, size.unit)),
            most: Some(figure(size.greatest, size.unit)),
            unit: Some(size.unit.symbol().to_owned()),
        };
        let of_size = |size| match pieces {
            [] => vec![line(size, None)],
            _ => pieces.iter().map(|piece| line(size, Some(piece))).collect(),
        };
        self.drawing.drawing.numbered.iter().flat_map(of_size).collect()
    }
}

/// To a micrometre or a ten-thousandth of an inch.
fn figure(metres: f64, unit: Unit) -> String {
    let decimals = if unit == Unit::Inch { 4 } else { 3 };
    format!("{:.decimals$}", metres / unit.metres())
}
