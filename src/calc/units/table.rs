//! The table of units, read once from `units.tsv`.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::parse;
use super::unit::Unit;
use super::{System, Ton};
use crate::calc::dimension::Dimension;

/// One unit of the table.
#[derive(Debug)]
pub(super) struct Row {
    pub symbol: String,
    /// The symbol in print.
    pub shown: String,
    pub scale: Scale,
    pub dimension: Dimension,
    /// A temperature on its scale: kelvin at its zero.
    pub zero: Option<Scale>,
    pub system: Option<System>,
    /// Counts angle as a number: radian, degree, revolution.
    pub angle: bool,
    /// Counts whole turns: `rev`, `rpm`.
    pub turn: bool,
    /// Counts cycles, not radians.
    pub cycle: bool,
    pub money_decimals: Option<u8>,
    pub bare: Option<Ton>,
}

/// A factor to SI, kept as numerator and denominator so that decimal definitions stay exact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scale {
    pub numerator: f64,
    pub denominator: f64,
}

impl Scale {
    pub(super) const ONE: Self = Self { numerator: 1.0, denominator: 1.0 };

    pub(super) fn times(self, other: Self) -> Self {
        Self {
            numerator: self.numerator * other.numerator,
            denominator: self.denominator * other.denominator,
        }
    }

    pub(super) fn inverse(self) -> Self {
        Self { numerator: self.denominator, denominator: self.numerator }
    }

    /// Ten to a power, exact up to 10^22.
    pub(super) fn ten(power: i32) -> Self {
        let size = (0..power.unsigned_abs()).fold(1.0, |size, _| size * 10.0);
        let up = Self { numerator: size, denominator: 1.0 };
        if power < 0 { up.inverse() } else { up }
    }
}

pub(super) const PREFIXES: &[(&str, &str, i8)] = &[
    ("G", "giga", 9),
    ("M", "mega", 6),
    ("k", "kilo", 3),
    ("h", "hecto", 2),
    ("d", "deci", -1),
    ("c", "centi", -2),
    ("m", "milli", -3),
    ("u", "micro", -6),
    ("µ", "micro", -6),
    ("μ", "micro", -6),
    ("n", "nano", -9),
    ("p", "pico", -12),
];

#[derive(Default)]
struct Table {
    rows: Vec<Row>,
    /// Every name with its row and power of ten.
    names: HashMap<String, (u16, i8)>,
    bare: Vec<(String, Ton, u16)>,
    sorted: Vec<String>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    let mut table = Table::default();
    for line in include_str!("units.tsv").lines().filter(|line| !line.starts_with('#')) {
        table.read(line);
    }
    table.sorted.sort();
    table.sorted.dedup();
    table
});

pub(super) fn row(index: u16) -> &'static Row {
    &TABLE.rows[usize::from(index)]
}

pub(super) fn find(name: &str) -> Option<(u16, i8)> {
    TABLE.names.get(name).copied()
}

pub(super) fn find_bare(name: &str, ton: Ton) -> Option<(u16, i8)> {
    TABLE.bare.iter().find(|(each, of, _)| each == name && *of == ton).map(|(_, _, row)| (*row, 0))
}

pub(super) fn names() -> impl Iterator<Item = &'static str> {
    TABLE.sorted.iter().map(String::as_str)
}

impl Table {
    /// One line of the file; a line that is not understood is left out, which a test notices.
    fn read(&mut self, line: &str) -> Option<()> {
        let columns: Vec<&str> = line.split('\t').collect();
        let [symbols, words, shown, prefixes, kind, definition, _source] = columns[..] else { return None };
        let mut row = self.define(definition)?;
        symbols.split(',').next()?.clone_into(&mut row.symbol);
        row.shown = if shown.is_empty() { row.symbol.clone() } else { shown.to_owned() };
        row.describe(kind);
        let index = u16::try_from(self.rows.len()).ok()?;
        let bare = row.bare;
        self.rows.push(row);
        let words: Vec<String> = words.split(',').filter(|word| !word.is_empty()).flat_map(forms).collect();
        for name in symbols.split(',').map(str::to_owned).chain(words.iter().cloned()) {
            self.sorted.push(name.clone());
            match bare {
                Some(ton) => self.bare.push((name, ton, index)),
                None => drop(self.names.insert(name, (index, 0))),
            }
        }
        self.prefix(prefixes, symbols, &words, index);
        Some(())
    }

    fn prefix(&mut self, prefixes: &str, symbols: &str, words: &[String], index: u16) {
        for (letter, long, power) in PREFIXES {
            let written = if matches!(*letter, "µ" | "μ") { "u" } else { letter };
            if prefixes != "all" && !prefixes.split(' ').any(|each| each == written) {
                continue;
            }
            let symbols = symbols
                .split(',')
                .filter(|symbol| *symbol != "sec")
                .map(|symbol| format!("{letter}{symbol}"));
            for name in symbols.chain(words.iter().map(|word| format!("{long}{word}"))) {
                self.sorted.push(name.clone());
                self.names.insert(name, (index, *power));
            }
        }
    }

    /// `FACTOR UNIT`, `FACTOR base N`, or `FACTOR K from ZERO`.
    fn define(&self, definition: &str) -> Option<Row> {
        let (definition, zero) = match definition.split_once(" from ") {
            Some((definition, zero)) => (definition, Some(factor(zero)?)),
            None => (definition, None),
        };
        let (number, unit) = match definition.split_once(' ') {
            Some((number, unit)) if number != "base" => (number, unit),
            _ if definition.starts_with("base") => ("1", definition),
            _ => (definition, ""),
        };
        let scale = factor(number)?;
        let (scale, dimension) = match unit.strip_prefix("base ") {
            Some(index) => (scale, Dimension::of_base(index.parse().ok()?)),
            None if unit.is_empty() => (scale, Dimension::NONE),
            None => self.product(scale, unit)?,
        };
        Some(Row::new(scale, dimension, zero))
    }

    fn product(&self, mut scale: Scale, unit: &str) -> Option<(Scale, Dimension)> {
        let mut dimension = Dimension::NONE;
        for (name, exponent) in parse::plain_product(unit)? {
            let (row, prefix) = self.names.get(name)?;
            let row = &self.rows[usize::from(*row)];
            let one = row.scale.times(Scale::ten(i32::from(*prefix)));
            for _ in 0..exponent.unsigned_abs() {
                scale = scale.times(if exponent < 0 { one.inverse() } else { one });
            }
            let exponent = crate::calc::dimension::Exponent::whole(i16::from(exponent));
            dimension = dimension.times(row.dimension.to_the(exponent)?)?;
        }
        Some((scale, dimension))
    }
}

impl Row {
    fn new(scale: Scale, dimension: Dimension, zero: Option<Scale>) -> Self {
        Self {
            symbol: String::new(),
            shown: String::new(),
            scale,
            dimension,
            zero,
            system: None,
            angle: false,
            turn: false,
            cycle: false,
            money_decimals: None,
            bare: None,
        }
    }

    fn describe(&mut self, kind: &str) {
        for word in kind.split(' ') {
            match word {
                "metric" => self.system = Some(System::Metric),
                "inch" => self.system = Some(System::Inch),
                "angle" => self.angle = true,
                "turn" => self.turn = true,
                "cycle" => self.cycle = true,
                "bare-short" => self.bare = Some(Ton::Short),
                "bare-long" => self.bare = Some(Ton::Long),
                "bare-metric" => self.bare = Some(Ton::Metric),
                _ => {
                    self.money_decimals =
                        word.strip_prefix("money-").and_then(|decimals| decimals.parse().ok());
                }
            }
        }
    }
}

/// Singular and plural: `inch/inches`, else with an s.
fn forms(word: &str) -> [String; 2] {
    match word.split_once('/') {
        Some((one, many)) => [one.to_owned(), many.to_owned()],
        None => [word.to_owned(), format!("{word}s")],
    }
}

/// A product of decimal numbers and `pi`, parted by `*` and `/`.
fn factor(text: &str) -> Option<Scale> {
    let mut scale = Scale::ONE;
    for (index, part) in text.split('/').enumerate() {
        // `a/b*c` is written `a*c/b` in the table: what stands after a stroke divides.
        for (place, number) in part.split('*').enumerate() {
            let number = decimal(number)?;
            scale = scale.times(if index > 0 && place == 0 { number.inverse() } else { number });
        }
    }
    Some(scale)
}

/// A decimal number as a whole number over a power of ten.
fn decimal(text: &str) -> Option<Scale> {
    if text == "pi" {
        return Some(Scale { numerator: std::f64::consts::PI, denominator: 1.0 });
    }
    let (whole, places) = text.split_once('.').unwrap_or((text, ""));
    let numerator = format!("{whole}{places}").parse().ok()?;
    let places = i32::try_from(places.len()).ok()?;
    Some(Scale { numerator, ..Scale::ten(-places) })
        .map(|scale| Scale { denominator: Scale::ten(places).numerator, ..scale })
}

/// How many units the file lists, for the test that all are understood.
#[cfg(test)]
pub(super) fn counts() -> (usize, usize) {
    let listed = include_str!("units.tsv").lines().filter(|line| !line.starts_with('#')).count();
    (listed, TABLE.rows.len())
}

/// The kilogram and its fellows, for [`Unit::coherent`].
pub(super) fn base_unit(index: usize) -> Option<Unit> {
    let (name, prefix) =
        [("m", 0), ("g", 3), ("s", 0), ("A", 0), ("K", 0), ("mol", 0), ("cd", 0)].get(index)?;
    let (row, _) = find(name)?;
    Some(Unit::single(row, *prefix))
}
