//! Friction coefficients, and pressure, speed and PV limits of plain-bearing materials.

use std::sync::OnceLock;

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Field, Function, Refusal, Said, Source, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{needed, number, open_table, quantity, recalled, stress, table, words};
use crate::trade::sources;
use crate::trade::table::{Row, Table};

use super::find::{self, Names, NotFound};
use super::range::Range;
use crate::hazard::Hazard;

pub(in crate::trade) static TABLE: Table = Table::of(include_str!("../data/friction_pv.csv"));

/// A pair of materials and its coefficient of static friction.
#[derive(Clone, Debug)]
pub struct Friction {
    /// `steel / bronze`.
    pub pair: String,
    /// How it is lubricated and joined.
    pub condition: String,
    /// The coefficient.
    pub mu: Range,
    /// The standard or kind of table that it is taken from.
    pub standard: String,
    /// Where the figure was seen.
    pub sources: Vec<Source>,
}

/// What a plain-bearing material bears; all limits that are stated hold together.
#[derive(Clone, Debug)]
pub struct PvLimit {
    /// The bearing material.
    pub material: String,
    /// Load by projected area, Pa.
    pub pressure: Option<Range>,
    /// Surface speed, m/s.
    pub speed: Option<Range>,
    /// Pressure times speed, W/m².
    pub pv: Option<Range>,
    /// The highest temperature, degrees Celsius.
    pub hottest: Option<f64>,
    /// Where the figures were seen.
    pub sources: Vec<Source>,
    /// Remarks of the table.
    pub note: String,
}

impl Friction {
    fn read(row: &'static Row) -> Option<Self> {
        Some(Self {
            pair: row.text("material_pair").to_owned(),
            condition: row.text("condition").to_owned(),
            mu: Range::read(row.text("mu"), 1.0)?,
            standard: row.text("standard").to_owned(),
            sources: sources::named(row.text("source")),
        })
    }

    /// Pair and condition: what it is looked up and listed by.
    pub fn label(&self) -> String {
        format!("{}, {}", self.pair, self.condition)
    }

    /// Whether it was measured between flat surfaces, and so must not be used for a press fit.
    pub fn is_flat(&self) -> bool {
        self.standard.starts_with("general friction table")
    }
}

impl PvLimit {
    fn read(row: &'static Row) -> Self {
        Self {
            material: row.text("material_pair").to_owned(),
            pressure: Range::read(row.text("p_MPa"), 1e6),
            speed: Range::read(row.text("v_m_s"), 1.0),
            pv: Range::read(row.text("pv_MPa_m_s"), 1e6),
            hottest: row.number("tmax_C"),
            sources: sources::named(row.text("source")),
            note: row.text("note").to_owned(),
        }
    }
}

fn of_kind(kind: &'static str) -> impl Iterator<Item = &'static Row> {
    TABLE.rows().iter().filter(move |row| row.text("kind") == kind)
}

/// All friction coefficients of the table, in its order.
pub fn frictions() -> &'static [Friction] {
    static FRICTIONS: OnceLock<Vec<Friction>> = OnceLock::new();
    FRICTIONS.get_or_init(|| of_kind("friction_static").filter_map(Friction::read).collect())
}

/// All bearing materials with limits, in the order of the table.
pub fn pv_limits() -> &'static [PvLimit] {
    static LIMITS: OnceLock<Vec<PvLimit>> = OnceLock::new();
    LIMITS.get_or_init(|| of_kind("plain_bearing_limit").map(PvLimit::read).collect())
}

/// The coefficient that the words mean: `steel on bronze, oiled`.
///
/// # Errors
/// [`NotFound`] with the candidates if the words fit several rows, with the likest if they fit none.
pub fn find_friction(given: &str) -> Result<&'static Friction, NotFound> {
    static NAMES: OnceLock<Vec<Names>> = OnceLock::new();
    let names =
        NAMES.get_or_init(|| frictions().iter().map(|each| Names::new(&each.label(), &[], "")).collect());
    find::find(names, given).map(|index| &frictions()[index])
}

/// The limits of the bearing material that the words mean.
///
/// # Errors
/// [`NotFound`] with the candidates if the words fit several rows, with the likest if they fit none.
pub fn find_pv_limit(given: &str) -> Result<&'static PvLimit, NotFound> {
    static NAMES: OnceLock<Vec<Names>> = OnceLock::new();
    let names =
        NAMES.get_or_init(|| pv_limits().iter().map(|each| Names::new(&each.material, &[], "")).collect());
    find::find(names, given).map(|index| &pv_limits()[index])
}

pub(super) static FRICTION: Function = Function {
    name: "friction",
    does: "coefficient of static friction",
    parameters: &[needed(
        "pair",
        Takes::Text,
        "the two materials and the condition: `steel on bronze, oiled`",
    )],
    outputs: &[number("mu", "coefficient of static friction")],
    formula: table(
        "the row of the table; a range lo..hi becomes its middle (lo + hi)/2 within (hi - lo)/2",
        "",
    ),
    validity: "Slow sliding or about to slip, below 100 degC. Figures for flat surfaces are not for press \
               fits, where they are three to six times too high.",
    source: &[
        open_table("general friction tables", "", "the row used is named in the remark"),
        recalled("DIN 7190-1", "", "press and shrink fits, figures in part"),
    ],
    hazard: None,
    example: "mu = friction(\"steel on steel, press fit, oiled\")\n\
              check mu within 0.04 .. 0.11 \"a range, not a figure\"",
    body: friction,
};

fn friction(call: &Call) -> Result<Answer, Refusal> {
    let row = find_friction(call.text("pair")).map_err(|unknown| unknown.refusal("pair", "pairs"))?;
    let label = row.label();
    let mut answer = Answer::new().field("mu", row.mu.field(|| format!("friction: {label}")));
    answer = answer.remark(Said::of(&label, &*row.standard));
    if row.mu.is_single() {
        answer =
            answer.remark("one figure in the table; in a real joint friction differs by a third either way");
    }
    if row.is_flat() {
        answer =
            answer.warn("measured between flat surfaces: in a press fit it is three to six times too high");
    }
    Ok(answer)
}

pub(super) static BEARING_MATERIAL: Function = Function {
    name: "bearing_material",
    does: "what a plain-bearing material bears",
    parameters: &[needed("material", Takes::Text, "the bearing material: \"SAE 660\", \"lignum vitae\"")],
    outputs: &[
        words("name", "the name in the table"),
        stress("pressure", "greatest load by projected area"),
        quantity("speed", Dimension::SPEED, ["m/s", "ft/min"], "greatest surface speed"),
        quantity("pv", Dimension::PV, ["MPa·m/s", "psi·ft/min"], "greatest pressure times speed"),
    ],
    formula: table(
        "the row of the table; of a range the lower bound is used. Pressure, speed and their product must all be kept; one that the table does not state is absent",
        "",
    ),
    validity: "Boundary lubrication unless the name says full film.",
    source: &[
        open_table(
            "tables of plain-bearing materials",
            "",
            "machine-design textbook table 16-1, machine-elements textbook table 12.5, a bronze supplier's data page",
        ),
        recalled("tables of plain-bearing materials", "", "the rows that say so"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "limit = bearing_material(\"SAE 660\")\n\
              check limit.pressure <= 21 MPa \"3000 psi\"\n\
              check limit.pv >= 2.5 MPa·m/s \"75000 psi ft/min\"",
    body: bearing_material,
};

/// The limits of the bearing material that a text argument names.
pub fn pv_limit(call: &Call, parameter: &'static str) -> Result<&'static PvLimit, Refusal> {
    find_pv_limit(call.text(parameter)).map_err(|unknown| unknown.refusal(parameter, "bearing materials"))
}

fn bearing_material(call: &Call) -> Result<Answer, Refusal> {
    let row = pv_limit(call, "material")?;
    let mut answer = Answer::new().text("name", &row.material);
    for (name, range) in [("pressure", row.pressure), ("speed", row.speed), ("pv", row.pv)] {
        let Some(range) = range else { continue };
        answer = answer.field(name, Field::Number(Real::exact(range.low)));
        if !range.is_single() {
            answer = answer.remark(format!("{name} is stated as a range: its lower bound is used"));
        }
    }
    if let Some(hottest) = row.hottest {
        answer = answer.remark(format!("not above {hottest:.0} °C"));
    }
    if !row.note.is_empty() {
        answer = answer.remark(&row.note);
    }
    Ok(if sources::any_recalled(&row.sources) {
        answer.remark("some of these limits are from memory")
    } else {
        answer
    })
}
