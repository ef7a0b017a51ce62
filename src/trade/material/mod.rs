//! The materials table, friction coefficients and the load limits of bearing materials.
//!
//! Takes: a name in any of its forms. Gives: properties with their ranges, or the candidates if a name fits
//! several. A range becomes its middle with bounds; of a strength the lower end is used, with the scatter of what it is, and
//! both are said. Never: fills a gap; what the table does not state is absent, and asking for it is refused in words.

use crate::calc::cause::{Cause, Origin};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Field, Function, Output, Refusal, Said, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{
    in_work, joined, needed, open_table, practice, quantity, recalled, strength, table, words,
};
use crate::trade::sources;

mod basis;
mod find;
mod friction;
mod grade;
mod range;

pub use basis::Basis;
pub use find::NotFound;
pub(in crate::trade) use friction::TABLE as FRICTION_TABLE;
pub use friction::{Friction, PvLimit, find_friction, find_pv_limit, frictions, pv_limit, pv_limits};
pub(in crate::trade) use grade::TABLE as MATERIAL_TABLE;
pub use grade::{Material, Property, density, find, materials};
pub use range::Range;

/// The look-ups of this room.
pub const FUNCTIONS: &[&Function] = &[&MATERIAL, &friction::FRICTION, &friction::BEARING_MATERIAL];

/// The fields that a material has, in the order of [`Property::ALL`], after its name.
const OUTPUTS: &[Output] = &[
    words("name", "the name in the table"),
    quantity("E", Dimension::STRESS, ["GPa", "ksi"], "modulus of elasticity"),
    quantity("poisson", Dimension::NONE, ["", ""], "Poisson's ratio"),
    strength("yield", "yield strength, lower end"),
    strength("uts", "ultimate tensile strength, lower end (wood: bending strength)"),
    strength("compressive", "compressive strength, lower end"),
    quantity("cte", Dimension::EXPANSION, ["um/(m K)", "um/(m K)"], "thermal expansion, 20 to 100 degC"),
    quantity("density", Dimension::DENSITY, ["kg/m^3", "lb/in^3"], "density"),
];

/// `material("…")`.
pub static MATERIAL: Function = Function {
    name: "material",
    does: "properties of a material by any of its designations",
    parameters: &[needed(
        "name",
        Takes::Text,
        "name or designation; `old iron`, `unknown steel` for unknown grades",
    )],
    outputs: OUTPUTS,
    formula: table(
        "the row of the table of materials; a range lo..hi becomes its middle within half its width, of a strength its lower end is used, with the scatter of what it is: exact where it is the lower limit of a standard, within 15 % where it is typical, 20 % where it is from memory, 35 % of wood. `old …` or `unknown …` joins all materials with those words: the widest range, the least strength, the widest scatter. A property that the table does not state is absent",
        "",
    ),
    validity: "Room temperature; figures for sizing and checking old parts, none of them certified for the part in hand.",
    source: &[
        open_table(
            "table of shop materials",
            "",
            "each row names its source (textbook appendices, EN, DIN and ASTM minima, MIL-HDBK-5H)",
        ),
        recalled("table of shop materials", "", "the rows and figures that say so"),
        in_work(
            "JCSS Probabilistic Model Code",
            "",
            "part 3, static properties of structural steel (scatter of rolled steel)",
        ),
        practice("the scatter of typical strengths of other metals, and of recalled ones"),
        recalled("Wood Handbook, Forest Products Laboratory", "", "scatter of clear wood"),
    ],
    hazard: None,
    example: "iron = material(\"GJL-150\")\n\
              check iron.uts within 120 MPa .. 180 MPa \"150 MPa from memory, within a fifth\"\n\
              check iron.E within 70 GPa .. 110 GPa \"far below steel\"",
    body: material,
};

fn material(call: &Call) -> Result<Answer, Refusal> {
    let material = find(call.text("name")).map_err(|unknown| unknown.refusal("name", "materials"))?;
    let mut answer = Answer::new().text("name", &material.name);
    for property in Property::ALL {
        if let Some(range) = material.property(property) {
            answer = answer.field(property.field(), field(&material, property, range));
        }
    }
    Ok(remarked(answer, &material))
}

fn field(material: &Material, property: Property, range: Range) -> Field {
    let label = || format!("{}: {}", material.name, property.words());
    match material.half_width(property) {
        _ if !property.is_strength() => range.field(label),
        0.0 => Field::Number(Real::exact(range.low)),
        half_width => {
            let source = Cause::of(Origin::Strength, label());
            Field::Bounded { middle: range.low, half_width, source }
        }
    }
}

/// The outputs that are strengths, for what is said of those alone.
const STRENGTHS: &[&str] = &["yield", "uts", "compressive"];
/// Every figure of a material.
const FIGURES: &[&str] = &["E", "poisson", "yield", "uts", "compressive", "cte", "density"];

/// The answer with what is worth saying of a material: its own notes, the rest only where what it is about is read. The
/// other end of a range is in the look-up.
fn remarked(answer: Answer, material: &Material) -> Answer {
    let strengths = Property::ALL.into_iter().filter(|property| property.is_strength());
    let is_range =
        strengths.filter_map(|property| material.property(property)).any(|range| !range.is_single());
    let told: Vec<String> = [
        (!material.condition.is_empty(), material.condition.as_str()),
        (is_range, "of each strength the lower end is used"),
    ]
    .into_iter()
    .filter(|(is_so, _)| *is_so)
    .map(|(_, words)| words.to_owned())
    .chain(how_sure(material))
    .collect();
    let answer = material.notes.iter().fold(answer, Answer::remark);
    let answer = if told.is_empty() {
        answer
    } else {
        answer.remark_of(STRENGTHS, Said::of(&material.name, told.join("; ")))
    };
    if !sources::any_recalled(&material.sources) {
        return answer;
    }
    answer.remark_of(FIGURES, Said::of(&material.name, "figures partly from memory"))
}

/// What its strengths are: `yield strength, ultimate tensile strength: a typical figure, ± 15 %`.
pub fn how_sure(material: &Material) -> Vec<String> {
    let of = |basis: Basis| {
        let names = Property::ALL.into_iter().filter(|property| material.basis(*property) == Some(basis));
        let names: Vec<&str> = names.map(Property::words).collect();
        (!names.is_empty()).then(|| format!("{}: {}", names.join(", "), basis.words()))
    };
    Basis::ALL.into_iter().filter_map(of).collect()
}

/// Whether the parameter was given a material.
pub fn given(call: &Call, parameter: &str) -> bool {
    call.text_of(parameter, "name").is_some()
}

/// A property of a material argument; refused in words if the table does not state it.
pub fn stated(call: &Call, parameter: &'static str, field: &str) -> Result<Real, Refusal> {
    call.field_of(parameter, field).ok_or_else(|| not_given(call, parameter, field))
}

/// The refusal of a property that the material does not state.
pub(super) fn not_given(call: &Call, parameter: &'static str, field: &str) -> Refusal {
    let name = call.text_of(parameter, "name").unwrap_or("this material");
    let property = Property::ALL.into_iter().find(|each| each.field() == field);
    let property = property.map_or(field, |property| property.words());
    Refusal::of(parameter, not_stated(name, property), HELP_NOT_STATED)
}

/// What to do about a property that the table leaves out.
pub const HELP_NOT_STATED: &str = "Take a figure from a test, a certificate or a paper, and give it instead.";

/// The message for a property that the table does not state.
pub fn not_stated(name: &str, property: &str) -> String {
    format!("the materials table states no {property} for {name}")
}

impl NotFound {
    /// The refusal of a look-up in the table of `what`.
    fn refusal(&self, parameter: &'static str, what: &str) -> Refusal {
        let quoted =
            |names: &[String]| joined(&names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>());
        match self {
            Self::Ambiguous { given, candidates } => Refusal::of(
                parameter,
                format!("\"{given}\" fits {} of the {what} in the table", candidates.len()),
                format!("Write one of {}.", quoted(candidates)),
            ),
            Self::Unknown { given, nearest } if nearest.is_empty() => Refusal::of(
                parameter,
                format!("\"{given}\" is not among the {what} in the table"),
                "List the table and choose the nearest, or give the figures themselves.",
            ),
            Self::Unknown { given, nearest } => Refusal::of(
                parameter,
                format!("\"{given}\" is not among the {what} in the table"),
                format!("Near to it: {}.", quoted(nearest)),
            ),
        }
    }
}
