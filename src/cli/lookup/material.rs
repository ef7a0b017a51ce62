//! `lookup material`: the properties of shop materials, as ranges.

use serde::Serialize;

use crate::calc::provenance::source_words;
use crate::cli::workshop::{self, Column, Page, Said, figure, tidy, trouble};
use crate::cli::{AnswerForm, Ended, Trouble};
use crate::hazard::Hazard;
use crate::trade::material::{MATERIAL, Material, NotFound, Property, Range, find, how_sure, materials};

/// Look up the strength, stiffness, expansion and density of a material
///
/// Figures are ranges where a single one would be dishonest. `old iron` or `unknown steel` joins all grades with that
/// word: the widest range and the least strength. Of a strength the lower end is taken, with the scatter of what it is. Without a name, the whole table is listed.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// A name or a designation: "GJL-150", "EN 8", "mild steel", "old cast iron"
    #[arg(value_name = "NAME")]
    words: Vec<String>,
    #[command(flatten)]
    form: AnswerForm,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let asked = workshop::together(&arguments.words)?;
    if asked.is_empty() {
        return whole_table(&arguments.form);
    }
    let material = find(&asked).map_err(not_found)?;
    let said = said(&material);
    let page = Page::headed(&title(&material)).table(&columns(&material)).said(&said);
    workshop::give(&arguments.form, &page, &Listed::of(&material, said))
}

fn whole_table(form: &AnswerForm) -> Ended {
    let said = Said {
        remarks: vec![MATERIAL.validity.to_owned()],
        source: source_words(MATERIAL.source),
        caution: None,
    };
    let page = Page::headed(&format!("{} materials", materials().len()))
        .table(&[
            Column::words("material", materials().iter().map(|each| each.name.as_str())),
            Column::words("also known as", materials().iter().map(|each| each.designations.join("; "))),
        ])
        .said(&said);
    let listed = materials().iter().map(|each| Listed::of(each, source_only(each))).collect();
    workshop::give(form, &page, &Everything { materials: listed, said })
}

fn not_found(fault: NotFound) -> Trouble {
    let lines = |names: &[String]| names.iter().map(|name| format!("  {name}\n")).collect::<String>();
    match fault {
        NotFound::Ambiguous { given, candidates } => {
            let message = format!(
                "`{given}` fits {} materials of the table:\n{}",
                candidates.len(),
                lines(&candidates)
            );
            trouble(message.trim_end(), "Write more of the name, or `old` before it if the grade is unknown.")
        }
        NotFound::Unknown { given, nearest } if nearest.is_empty() => trouble(
            &format!("no material `{given}` is in the table"),
            "`asfound lookup material` lists them all.",
        ),
        NotFound::Unknown { given, nearest } => {
            let message = format!("no material `{given}` is in the table; near to it:\n{}", lines(&nearest));
            trouble(message.trim_end(), "`asfound lookup material` lists them all.")
        }
    }
}

fn title(material: &Material) -> String {
    let also = material.designations.join("; ");
    if also.is_empty() { material.name.clone() } else { format!("{} ({also})", material.name) }
}

/// How a property is shown: label with its unit, SI units in one of that, decimals.
const fn shown(property: Property) -> (&'static str, f64, usize) {
    match property {
        Property::Modulus => ("modulus of elasticity GPa", 1e9, 1),
        Property::Poisson => ("Poisson's ratio", 1.0, 3),
        Property::Yield => ("yield strength MPa", 1e6, 0),
        Property::Tensile => ("tensile strength MPa", 1e6, 0),
        Property::Compressive => ("compressive strength MPa", 1e6, 0),
        Property::Expansion => ("expansion µm/(m K)", 1e-6, 2),
        Property::Density => ("density kg/m³", 1.0, 0),
    }
}

/// Both ends, and the figure that a calculation takes with its bounds.
fn columns(material: &Material) -> [Column; 5] {
    let cells = |end: fn(Property, Range) -> f64| {
        Property::ALL.map(|property| {
            let (_, unit, decimals) = shown(property);
            let range = material.property(property);
            range.map_or_else(|| "-".to_owned(), |range| figure(end(property, range) / unit, decimals))
        })
    };
    [
        Column::words("property", Property::ALL.map(|property| shown(property).0)),
        Column::figures("from", cells(|_, range| range.low)),
        Column::figures("to", cells(|_, range| range.high)),
        Column::figures("calculations take", cells(taken)),
        Column::figures("within", Property::ALL.map(|property| half_width(material, property))),
    ]
}

/// `32`; nothing where a figure is taken as it stands.
fn half_width(material: &Material, property: Property) -> String {
    let (_, unit, decimals) = shown(property);
    let half = figure(tidy(material.half_width(property) / unit), decimals.max(1));
    if half == "0" { String::new() } else { format!("± {half}") }
}

/// Of a strength the lower end, else the middle.
fn taken(property: Property, range: Range) -> f64 {
    if property.is_strength() { range.low } else { range.middle() }
}

fn said(material: &Material) -> Said {
    let mut remarks = material.notes.clone();
    if !material.condition.is_empty() {
        remarks.push(format!("condition: {}", material.condition));
    }
    remarks.extend(how_sure(material));
    let missing: Vec<&str> = Property::ALL
        .into_iter()
        .filter(|property| material.property(*property).is_none())
        .map(Property::words)
        .collect();
    if !missing.is_empty() {
        remarks.push(format!("the table states no {}", missing.join(", no ")));
    }
    remarks.push(MATERIAL.validity.to_owned());
    Said { remarks, source: source_words(&material.sources), caution: Some(Hazard::LoadCarryingPart) }
}

fn source_only(material: &Material) -> Said {
    Said { remarks: material.notes.clone(), source: source_words(&material.sources), caution: None }
}

#[derive(Serialize)]
struct Everything<'a> {
    materials: Vec<Listed<'a>>,
    #[serde(flatten)]
    said: Said,
}

/// What the table does not state is null.
#[derive(Serialize)]
struct Listed<'a> {
    name: &'a str,
    designations: &'a [String],
    condition: &'a str,
    modulus_gpa: Option<Ends>,
    poisson: Option<Ends>,
    yield_mpa: Option<Ends>,
    tensile_mpa: Option<Ends>,
    compressive_mpa: Option<Ends>,
    expansion_um_per_m_k: Option<Ends>,
    density_kg_per_m3: Option<Ends>,
    #[serde(flatten)]
    said: Said,
}

#[derive(Serialize)]
struct Ends {
    low: f64,
    high: f64,
    #[serde(flatten)]
    strength: Option<Strength>,
}

/// How sure a strength is.
#[derive(Serialize)]
struct Strength {
    basis: &'static str,
    /// About the lower end, which calculations take.
    within: f64,
}

impl<'a> Listed<'a> {
    fn of(material: &'a Material, said: Said) -> Self {
        let ends = |property: Property| {
            let (_, unit, _) = shown(property);
            let within = tidy(material.half_width(property) / unit);
            let strength = material.basis(property).map(|basis| Strength { basis: basis.word(), within });
            let [low, high] = [|range: Range| range.low, |range: Range| range.high];
            let end = |of: fn(Range) -> f64| material.property(property).map(|range| tidy(of(range) / unit));
            Some(Ends { low: end(low)?, high: end(high)?, strength })
        };
        Self {
            name: &material.name,
            designations: &material.designations,
            condition: &material.condition,
            modulus_gpa: ends(Property::Modulus),
            poisson: ends(Property::Poisson),
            yield_mpa: ends(Property::Yield),
            tensile_mpa: ends(Property::Tensile),
            compressive_mpa: ends(Property::Compressive),
            expansion_um_per_m_k: ends(Property::Expansion),
            density_kg_per_m3: ends(Property::Density),
            said,
        }
    }
}
