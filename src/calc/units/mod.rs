//! Units of measure: their names, factors and dimensions.
//!
//! One table (`units.tsv`) holds every unit with its definition and source. A [`Unit`] is a product of these, kept as
//! it was typed; [`Units`] reads them under a dossier's settings (which ton, which money).

mod counterpart;
mod customary;
mod parse;
mod table;
mod unit;

use super::dimension::Dimension;
use super::scan::Scan;
use super::suggest;
pub use parse::UnitFault;
pub(super) use parse::{FOOT_MARKS, INCH_MARKS};
pub use unit::Unit;

/// The unit that begins at the scan, moved past it; `None`, and the scan left alone, when none does.
pub(super) fn unit_here(units: &Units, scan: &mut Scan) -> Result<Option<Unit>, UnitFault> {
    parse::unit(units, scan)
}

/// The unit of an inch or foot mark that stands at the scan.
pub(super) fn mark_here(units: &Units, scan: &mut Scan) -> Option<Unit> {
    parse::mark(units, scan)
}

/// The fault of a word at the scan that is no unit.
pub(super) fn unknown_here(units: &Units, scan: &Scan) -> UnitFault {
    parse::unknown(units, scan.text, scan.at)
}

/// Which ton a bare `ton`, `tonf` or `cwt` is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ton {
    /// 2000 lb.
    #[default]
    Short,
    /// 2240 lb.
    Long,
    /// 1000 kg; a bare `cwt` is refused.
    Metric,
}

/// The system that a result prints in when its formula does not say.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum System {
    #[default]
    Metric,
    Inch,
}

/// What a dossier says about units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settings {
    pub ton: Ton,
    /// The dossier does not say which ton: its use is an assumption.
    pub ton_assumed: bool,
    /// An ISO 4217 code.
    pub currency: String,
    pub system: System,
}

impl Default for Settings {
    fn default() -> Self {
        Self { ton: Ton::Short, ton_assumed: true, currency: "EUR".to_owned(), system: System::Metric }
    }
}

/// The units that a dossier knows.
#[derive(Clone, Debug)]
pub struct Units {
    settings: Settings,
}

impl Units {
    pub fn new(settings: &Settings) -> Self {
        Self { settings: settings.clone() }
    }

    pub fn settings(&self) -> &Settings {
        &self.settings
    }

    /// Whether `code` is a money that a dossier can be kept in (ISO 4217).
    pub fn is_currency(code: &str) -> bool {
        table::find(code).is_some_and(|(row, _)| table::row(row).money_decimals.is_some())
    }

    /// The unit written as `text`: `kg/m^3`, `ft·lbf`, `long tons`.
    ///
    /// # Errors
    /// When `text` is empty, is no unit or holds more than a unit; the range is within `text`.
    pub fn parse(&self, text: &str) -> Result<Unit, UnitFault> {
        parse::whole(self, text)
    }

    /// The unit of one name, with its prefix or in the plural: `mm`, `inches`.
    pub fn named(&self, name: &str) -> Option<Unit> {
        let (row, prefix) = self.find(name)?;
        Some(Unit::single(row, prefix))
    }

    /// The unit whose name is nearest to a misspelt one.
    pub fn suggestion(&self, name: &str) -> Option<&'static str> {
        suggest::nearest(name, table::names().filter(|candidate| self.find(candidate).is_some()))
    }

    /// A few units of `dimension`, for a message: `mm, m, in, ft`.
    pub fn examples(&self, dimension: Dimension) -> String {
        customary::examples(dimension, &self.settings.currency)
    }

    /// The money of the dossier as a unit.
    pub fn money(&self) -> Unit {
        self.named(&self.settings.currency).unwrap_or_default()
    }

    /// The customary unit for a result of `dimension` and SI value `value` whose formula gave `derived`: `derived`
    /// itself if a person would write it so, else the unit that is usual for such a quantity.
    pub fn customary(&self, derived: Unit, dimension: Dimension, value: f64) -> Unit {
        customary::choose(self, derived, dimension, value)
    }

    /// The unit of the other system that a person would write for `value`, in SI units; `None` for what belongs to
    /// neither, as hours and degrees of angle do.
    pub fn counterpart(&self, unit: Unit, value: f64) -> Option<Unit> {
        counterpart::counterpart(self, unit, value)
    }

    /// The usual unit of a dimension in the dossier's own system.
    pub fn usual(&self, dimension: Dimension, value: f64) -> Unit {
        customary::of_system(self, self.settings.system, dimension, value)
            .unwrap_or_else(|| Unit::coherent(dimension))
    }

    fn find(&self, name: &str) -> Option<(u16, i8)> {
        if matches!(name, "ton" | "tons" | "tonf" | "ton-force" | "tons-force" | "cwt" | "hundredweight") {
            return table::find_bare(name, self.settings.ton);
        }
        let (row, prefix) = table::find(name)?;
        let is_foreign = table::row(row).money_decimals.is_some() && name != self.settings.currency;
        (!is_foreign).then_some((row, prefix))
    }
}
