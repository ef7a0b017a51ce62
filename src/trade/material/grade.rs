//! The rows of the materials table, and what stands for an unknown grade.

use std::sync::OnceLock;

use super::basis::Basis;
use super::find::{self, Names, NotFound};
use super::range::Range;
use crate::calc::function::Source;
use crate::trade::sources;
use crate::trade::table::{Row, Table};

pub(in crate::trade) static TABLE: Table = Table::of(include_str!("../data/materials.csv"));

/// A material of the table, or several joined because the grade is unknown.
#[derive(Clone, Debug)]
pub struct Material {
    /// The name in the table.
    pub name: String,
    /// Other designations.
    pub designations: Vec<String>,
    /// How it was made or treated; empty if the table does not say.
    pub condition: String,
    /// Where the figures come from.
    pub sources: Vec<Source>,
    /// What is worth saying whenever it is used.
    pub notes: Vec<String>,
    ranges: [Option<Range>; Property::ALL.len()],
    /// Of the strengths.
    bases: [Option<Basis>; Property::ALL.len()],
}

/// What the table states of a material.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Property {
    /// Modulus of elasticity, Pa.
    Modulus,
    /// Poisson's ratio.
    Poisson,
    /// Yield strength, Pa.
    Yield,
    /// Ultimate tensile strength, Pa; of wood the bending strength.
    Tensile,
    /// Compressive strength, Pa.
    Compressive,
    /// Thermal expansion, 1/K.
    Expansion,
    /// Density, kg/m³.
    Density,
}

impl Property {
    /// In the order of the fields of `material("…")`.
    pub const ALL: [Self; 7] = [
        Self::Modulus,
        Self::Poisson,
        Self::Yield,
        Self::Tensile,
        Self::Compressive,
        Self::Expansion,
        Self::Density,
    ];

    /// Its field in a calculation.
    pub fn field(self) -> &'static str {
        self.row().0
    }

    /// Its name in a message.
    pub fn words(self) -> &'static str {
        self.row().1
    }

    /// Whether the lower bound is used rather than the middle.
    pub fn is_strength(self) -> bool {
        matches!(self, Self::Yield | Self::Tensile | Self::Compressive)
    }

    /// Field, words, column of the table, SI units to the column's unit.
    fn row(self) -> (&'static str, &'static str, &'static str, f64) {
        match self {
            Self::Modulus => ("E", "modulus of elasticity", "E_GPa", 1e9),
            Self::Poisson => ("poisson", "Poisson's ratio", "poisson", 1.0),
            Self::Yield => ("yield", "yield strength", "yield_MPa", 1e6),
            Self::Tensile => ("uts", "ultimate tensile strength", "uts_MPa", 1e6),
            Self::Compressive => ("compressive", "compressive strength", "compressive_MPa", 1e6),
            Self::Expansion => ("cte", "thermal expansion", "cte_1e-6_per_K", 1e-6),
            Self::Density => ("density", "density", "density_kg_m3", 1.0),
        }
    }

    fn read(self, row: &Row) -> Option<Range> {
        let (_, _, column, scale) = self.row();
        Range::read(row.text(column), scale)
    }

    fn basis(self, row: &Row) -> Option<Basis> {
        Basis::read(row.text(&format!("{}_basis", self.field())))
    }
}

impl Material {
    fn read(row: &'static Row) -> Self {
        Self {
            name: row.text("material").to_owned(),
            designations: row.text("designations").split(';').map(|each| each.trim().to_owned()).collect(),
            condition: row.text("condition").to_owned(),
            sources: sources::named(row.text("source")),
            notes: Vec::new(),
            ranges: Property::ALL.map(|property| property.read(row)),
            bases: Property::ALL.map(|property| property.basis(row)),
        }
    }

    /// What the table states of it; `None` if nothing.
    pub fn property(&self, property: Property) -> Option<Range> {
        self.ranges[property as usize]
    }

    /// How sure a strength is; `None` of what is no strength or not stated.
    pub fn basis(&self, property: Property) -> Option<Basis> {
        self.bases[property as usize]
    }

    /// Half the width of the bounds about the figure that calculations take of a property, in SI units.
    pub fn half_width(&self, property: Property) -> f64 {
        match (self.property(property), self.basis(property)) {
            (Some(range), Some(basis)) => basis.share() * range.low,
            (Some(range), None) => range.half_width(),
            (None, _) => 0.0,
        }
    }

    fn names(&self) -> Names {
        let parts = self.name.split(" / ").chain(self.designations.iter().map(String::as_str));
        Names::new(&self.name, &parts.collect::<Vec<_>>(), &self.condition)
    }
}

/// The whole table, in its order.
pub fn materials() -> &'static [Material] {
    static MATERIALS: OnceLock<Vec<Material>> = OnceLock::new();
    MATERIALS.get_or_init(|| TABLE.rows().iter().map(Material::read).collect())
}

fn names() -> &'static [Names] {
    static NAMES: OnceLock<Vec<Names>> = OnceLock::new();
    NAMES.get_or_init(|| materials().iter().map(Material::names).collect())
}

/// The material of that name or designation; `old …` and `unknown …` join all whose names have the other
/// words.
///
/// # Errors
/// [`NotFound`] with the candidates if the words fit several materials, with the likest names if they fit
/// none.
pub fn find(given: &str) -> Result<Material, NotFound> {
    let asked = find::split(given);
    match asked.split_first() {
        Some((first, rest)) if first == "old" || first == "unknown" => of_unknown_grade(given, rest),
        _ => find::find(names(), given).map(|index| materials()[index].clone()),
    }
}

/// The density of a material as people write it, `bearing bronze, C93200`: where several rows fit, the range that holds
/// all of them; `None` where none fits or one states nothing.
pub fn density(text: &str) -> Option<Range> {
    let pieces = std::iter::once(text).chain(text.split(','));
    pieces.map(str::trim).find_map(|piece| match find(piece) {
        Ok(material) => material.property(Property::Density),
        Err(NotFound::Ambiguous { candidates, .. }) => {
            let fitting = materials().iter().filter(|each| candidates.contains(&each.name));
            range_of_all(&fitting.collect::<Vec<_>>(), Property::Density)
        }
        Err(NotFound::Unknown { .. }) => None,
    })
}

fn of_unknown_grade(given: &str, words: &[String]) -> Result<Material, NotFound> {
    let fitting = materials().iter().zip(names()).filter(|(_, names)| names.has_words(words));
    let fitting: Vec<&Material> = fitting.map(|(material, _)| material).collect();
    if fitting.is_empty() {
        return Err(NotFound::Unknown { given: given.to_owned(), nearest: Vec::new() });
    }
    Ok(joined(given, &fitting))
}

/// One material for several: ranges that hold all, and nothing where one of them states nothing.
fn joined(given: &str, several: &[&Material]) -> Material {
    let names: Vec<&str> = several.iter().map(|each| each.name.as_str()).collect();
    let note = format!("grade unknown: the widest range and the least strength of {}", names.join("; "));
    Material {
        name: given.trim().to_lowercase(),
        designations: Vec::new(),
        condition: String::new(),
        sources: sources::each_once(several.iter().flat_map(|each| &each.sources)),
        notes: vec![note, "test the part where safety depends on it".to_owned()],
        ranges: Property::ALL.map(|property| range_of_all(several, property)),
        bases: Property::ALL.map(|property| least_certain(several, property)),
    }
}

/// The basis of the least certain of all; `None` if one of them states no such strength.
fn least_certain(several: &[&Material], property: Property) -> Option<Basis> {
    let bases: Option<Vec<Basis>> = several.iter().map(|each| each.basis(property)).collect();
    bases?.into_iter().max()
}

/// The range that holds those of all; `None` if one of them states none.
fn range_of_all(several: &[&Material], property: Property) -> Option<Range> {
    let ranges: Option<Vec<Range>> = several.iter().map(|each| each.property(property)).collect();
    ranges?.into_iter().reduce(Range::with)
}
