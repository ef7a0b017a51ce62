//! The sizes that a job works to, with their limits in figures: from its fits and its toleranced dimensions.

use serde::Serialize;

use super::super::fit;
use super::super::prose::decapital;
use super::scope::Scope;
use crate::calc::dimension::Dimension;
use crate::calc::literal::{Form, Literal, Piece};
use crate::calc::print::{self, rounded};
use crate::calc::sheet::{BlockOutcome, LineOutcome};
use crate::calc::units::Unit;
use crate::dossier::{NoteId, PartId};
use crate::trade::limits::fit::Resolved as Limited;
use crate::trade::limits::iso286::Member;
use crate::worked::Fitted;

/// A size to work to, as it is printed: numbers are text in `unit`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Size {
    pub(super) feature: String,
    #[serde(flatten)]
    pub(super) figures: Printed,
    /// The same in the other system, where the dossier asks for both.
    other: Option<Printed>,
    /// A feature of this part, to be measured when it is done; else that of its mate.
    #[serde(skip)]
    pub(super) of: Option<PartId>,
    /// What it mates with, which is not to be made.
    is_mate: bool,
    #[serde(skip)]
    is_of_fit: bool,
    /// In metres.
    #[serde(skip)]
    nominal_m: f64,
}

impl Size {
    /// Whether another is the same said again: by a calculation what a fit says already, or in the same words.
    fn says(&self, other: &Self) -> bool {
        self.figures == other.figures && (self.is_of_fit || self.feature == other.feature)
    }

    /// The nominal size in metres.
    pub(super) fn nominal_m(&self) -> f64 {
        self.nominal_m
    }
}

/// The figures of a size in one unit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Printed {
    nominal: String,
    pub(super) least: String,
    pub(super) most: String,
    pub(super) unit: String,
}

/// A size to work to before it is printed.
struct Line {
    feature: String,
    unit: Unit,
    /// As typed, and in SI units.
    nominal: (String, f64),
    least: Figure,
    most: Figure,
    of: Option<PartId>,
    is_mate: bool,
    is_of_fit: bool,
}

/// A size with what its printing needs.
#[derive(Clone, Copy)]
pub(super) struct Figure {
    /// In SI units.
    pub(super) size: f64,
    /// In the unit of the line.
    pub(super) decimals: i32,
    /// One unit of the last figure that was typed or read, in SI units.
    pub(super) step: f64,
}

impl Figure {
    /// To so many decimals of the unit.
    pub(super) fn to(decimals: i32, unit: Unit, size: f64) -> Self {
        let step = unit.interval_to_si(libm::pow(10.0, -f64::from(decimals)));
        Self { size, decimals, step }
    }

    pub(super) fn in_own(self, unit: Unit) -> String {
        rounded(unit.from_si(self.size), self.decimals)
    }

    pub(super) fn in_other(self, unit: Unit) -> String {
        print::systems::reading(self.size, self.step, unit)
    }
}

impl Line {
    fn printed(self, scope: &Scope) -> Size {
        let units = &scope.edition.dossier().units;
        let (least, most, nominal) = (self.least, self.most, self.nominal.1);
        let other =
            units.counterpart(self.unit, most.size.max(nominal)).filter(|_| scope.edition.amounts.shows_both);
        let in_other = |unit: Unit| Printed {
            // A nominal is never rounded.
            nominal: unrounded(unit.from_si(nominal)),
            least: least.in_other(unit),
            most: most.in_other(unit),
            unit: unit.shown(),
        };
        let figures = Printed {
            nominal: self.nominal.0,
            least: least.in_own(self.unit),
            most: most.in_own(self.unit),
            unit: self.unit.shown(),
        };
        let (of, is_mate, is_of_fit) = (self.of, self.is_mate, self.is_of_fit);
        Size {
            feature: self.feature,
            figures,
            other: other.map(in_other),
            of,
            is_mate,
            is_of_fit,
            nominal_m: nominal,
        }
    }
}

/// The sizes with limits that the job works to: fits first, then the dimensions that the calculations fix.
pub(super) fn sizes(scope: &Scope) -> Vec<Size> {
    let fits = scope.shaped.iter().flat_map(|part| of_fit(scope, *part));
    let of_parts = scope.shaped.iter().flat_map(|part| {
        let blocks = blocks_of(scope, (*part).into());
        toleranced(scope, (*part).into(), &blocks).into_iter().map(|line| Line { of: Some(*part), ..line })
    });
    let own = toleranced(scope, scope.step.into(), &blocks_of(scope, scope.step.into()));
    // What the step itself states holds for what it works on, be that made before and only fitted here.
    let worked_on = scope.shaped.first().or(scope.sized.first()).copied();
    let own = own.into_iter().map(|line| Line { of: worked_on, ..line });
    let mut sizes: Vec<Size> = Vec::new();
    for line in fits.chain(of_parts).chain(own) {
        let size = line.printed(scope);
        if !sizes.iter().any(|known| known.says(&size)) {
            sizes.push(size);
        }
    }
    sizes
}

// A fit

/// Both members of the part's fit, since a fit is held by both; its own first where the readings or the shapes tell which
/// it is.
fn of_fit(scope: &Scope, part: PartId) -> Vec<Line> {
    let keys = &scope.edition.dossier()[part];
    let Some(fit) = keys.fit.as_ref().filter(|fit| scope.redaction.is_open(fit.with)) else {
        return Vec::new();
    };
    let fitted = scope.edition.project.worked.fit(part);
    let Some((fitted, limits)) = fitted.and_then(|fitted| Some((fitted, fitted.limits.as_ref().ok()?)))
    else {
        return Vec::new();
    };
    let own = member_of(scope, part, fit.with, fitted);
    let mate = decapital(&scope.redaction.text(fit.with, &scope.edition.dossier()[fit.with].name));
    let line = |(member, word): (Member, &str)| {
        let sizes = limits.sizes(member)?;
        let says = match own {
            Some(own) if own != member => {
                format!("the {word} of the {mate}, {}", fit.class.text)
            }
            _ => scope.of_part(part, &format!("{word}, {} with {mate}", fit.class.text)),
        };
        let of = own.is_none_or(|own| own == member).then_some(part);
        Some(limit_line(scope, says, &fit.at, sizes, limits, of))
    };
    // The drawing of a part states its own member, perhaps before it is pressed in: there are no two sizes to make.
    let is_drawn = scope.edition.dossier()[part].shape.is_some();
    let mut lines: Vec<Line> =
        [(Member::Hole, "bore"), (Member::Shaft, "shaft")].into_iter().filter_map(line).collect();
    lines.retain(|line| !is_drawn || line.of.is_none());
    lines.sort_by_key(|line| line.of.is_none());
    lines
}

/// Which member of its fit a part is: by a measured bore or journal of it or of its mate, or by its name.
fn member_of(scope: &Scope, part: PartId, mate: PartId, fitted: &Fitted) -> Option<Member> {
    let dossier = scope.edition.dossier();
    let other = |member| if member == Member::Hole { Member::Shaft } else { Member::Hole };
    let of = |wanted: PartId| {
        let judged = fitted.judged.iter().find(|judged| dossier[judged.measurement].of == wanted);
        judged.map(|judged| judged.member)
    };
    of(part).or_else(|| of(mate).map(other)).or_else(|| {
        let name = dossier[part].name.to_lowercase();
        let is_one = |words: &[&str]| {
            words.iter().any(|word| {
                name.split(|c: char| !c.is_alphabetic()).any(|own| own.trim_end_matches('s') == *word)
            })
        };
        match (is_one(HOLES), is_one(SHAFTS)) {
            (true, false) => Some(Member::Hole),
            (false, true) => Some(Member::Shaft),
            _ => None,
        }
    })
}

/// What goes round the other member, and what goes into it. Common practice, no source.
const HOLES: &[&str] = &["bush", "bearing", "wheel", "pulley", "sheave", "hub", "housing"];
const SHAFTS: &[&str] = &["pin", "shaft", "spindle", "journal", "axle", "gudgeon", "stud"];

fn limit_line(
    scope: &Scope,
    feature: String,
    at: &Literal,
    (least, most): (f64, f64),
    limits: &Limited,
    of: Option<PartId>,
) -> Line {
    let unit = fit::length_unit(scope.edition.dossier(), at.unit);
    let decimals = fit::places(scope.edition.dossier(), limits, [least, most], unit);
    let figure = |size: f64| Figure::to(decimals, unit, size);
    let nominal = if unit == at.unit { typed_nominal(at) } else { unrounded(unit.from_si(at.nominal)) };
    let (nominal, is_mate) = ((nominal, at.nominal), of.is_none());
    Line { feature, unit, nominal, least: figure(least), most: figure(most), of, is_mate, is_of_fit: true }
}

// Toleranced dimensions

/// The calculations of a note.
fn blocks_of<'a>(scope: &'a Scope, note: NoteId) -> Vec<&'a BlockOutcome> {
    let body = &scope.edition.dossier().head(note).body;
    body.iter().filter_map(|block| scope.edition.project.worked.block(block.span)).collect()
}

/// Lines that are a dimension with limits, as a drawing has it: `bore = 3.9730 in +0.0022/-0`.
fn toleranced(scope: &Scope, note: NoteId, blocks: &[&BlockOutcome]) -> Vec<Line> {
    let line = |line: &LineOutcome| {
        let literal = line.literal.as_ref()?;
        let is_drawn = literal.form == Form::Limits && literal.dimension() == Dimension::LENGTH;
        let name = scope.redaction.text(note, &line.name.as_ref()?.replace('_', " "));
        let name = match note {
            NoteId::Part(part) => scope.of_part(part, &name),
            _ => name,
        };
        is_drawn.then(|| of_literal(name, literal))
    };
    blocks.iter().flat_map(|block| &block.lines).filter_map(line).collect()
}

fn of_literal(feature: String, literal: &Literal) -> Line {
    let figure = |size: f64| typed_figure(literal, size);
    Line {
        feature,
        unit: literal.unit,
        nominal: (typed_nominal(literal), literal.nominal),
        least: figure(literal.low),
        most: figure(literal.high),
        of: None,
        is_mate: false,
        is_of_fit: false,
    }
}

/// Every figure of a nominal size that was converted: 2 5/16 in is 58.7375 mm.
fn unrounded(value: f64) -> String {
    let figures = format!("{value:.7}");
    figures.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The figures of a nominal size as they were typed: `2 5/16`.
fn typed_nominal(literal: &Literal) -> String {
    let figures = literal.pieces().iter().filter_map(|piece| match piece {
        Piece::Figures(figures) => Some(figures.trim()),
        _ => None,
    });
    figures.take(1).collect()
}

/// A size that a literal says, as finely as it says it.
pub(super) fn typed_figure(literal: &Literal, size: f64) -> Figure {
    let figure = Figure::to(literal.decimals(), literal.unit, size);
    if literal.has_fraction() { Figure { step: print::systems::fineness(literal), ..figure } } else { figure }
}
