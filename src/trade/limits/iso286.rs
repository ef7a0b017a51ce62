//! ISO 286-1:2010: tolerance classes, from the tables of grades and fundamental deviations.

use std::fmt;

use crate::calc::function::Refusal;
use crate::trade::table::{Row, Table};

static GRADES: Table = Table::of(include_str!("../data/iso286_grades.csv"));
static SHAFTS: Table = Table::of(include_str!("../data/iso286_shafts.csv"));
pub(in crate::trade) static HOLES: Table = Table::of(include_str!("../data/iso286_holes.csv"));

/// The letters in the order of the standard, lower case, from loosest to tightest.
const LETTERS: [&str; 28] = [
    "a", "b", "c", "cd", "d", "e", "ef", "f", "fg", "g", "h", "js", "j", "k", "m", "n", "p", "r", "s", "t",
    "u", "v", "x", "y", "z", "za", "zb", "zc",
];

/// The largest nominal size of the standard, in millimetres.
const LARGEST: f64 = 3150.0;

/// Whether a class belongs to the bore or to what goes into it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Member {
    /// The bore: capital letters.
    Hole,
    /// What goes into it: small letters.
    Shaft,
}

/// A tolerance class: `H7`, `js6`, `za11`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Class {
    member: Member,
    /// Its place in [`LETTERS`], so that `f` comes before `g`.
    letter: usize,
    grade: Grade,
}

/// A standard tolerance grade: IT01, IT0, IT1 … IT18, as −1, 0, 1 … 18.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
struct Grade(i8);

/// The limit deviations of a class at a nominal size, in micrometres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deviations {
    /// EI or ei.
    pub lower_um: f64,
    /// ES or es.
    pub upper_um: f64,
}

impl Member {
    /// `hole` or `shaft`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Hole => "hole",
            Self::Shaft => "shaft",
        }
    }
}

impl Class {
    /// Reads a class as it is written on a drawing.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let text = text.trim();
        let letters = text.trim_end_matches(|c: char| c.is_ascii_digit());
        let digits = text.get(letters.len()..).unwrap_or_default();
        let member =
            if letters.starts_with(|c: char| c.is_ascii_uppercase()) { Member::Hole } else { Member::Shaft };
        let one_case = match member {
            Member::Hole => letters.chars().all(|c| c.is_ascii_uppercase()),
            Member::Shaft => letters.chars().all(|c| c.is_ascii_lowercase()),
        };
        let lower = letters.to_ascii_lowercase();
        let letter = LETTERS.iter().position(|each| *each == lower);
        match (letter, Grade::parse(digits)) {
            (Some(letter), Some(grade)) if one_case => Ok(Self { member, letter, grade }),
            (letter, grade) => Err(no_class(text, letter.is_some() && one_case, grade.is_some())),
        }
    }

    /// Whether it is a hole's or a shaft's.
    pub const fn member(self) -> Member {
        self.member
    }

    /// The class with another letter.
    const fn lettered(self, letter: usize) -> Self {
        Self { letter, ..self }
    }

    fn letter(self) -> &'static str {
        LETTERS[self.letter]
    }

    /// Whether the fundamental deviation is the lower limit: holes A to H, shafts j to zc.
    fn starts_at_lower(self) -> bool {
        let up_to_h = self.letter() <= "h";
        up_to_h == (self.member == Member::Hole)
    }
}

impl fmt::Display for Class {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        match self.member {
            Member::Hole => write!(out, "{}{}", self.letter().to_ascii_uppercase(), self.grade),
            Member::Shaft => write!(out, "{}{}", self.letter(), self.grade),
        }
    }
}

impl Grade {
    fn parse(digits: &str) -> Option<Self> {
        match digits {
            "01" => Some(Self(-1)),
            "0" => Some(Self(0)),
            _ if digits.starts_with('0') || digits.len() > 2 => None,
            _ => digits.parse().ok().filter(|grade| (1..=18).contains(grade)).map(Self),
        }
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        if self.0 < 0 { out.write_str("01") } else { self.0.fmt(out) }
    }
}

/// The limit deviations of `class` at the nominal size `size_mm` in millimetres, over 0 up to 3150.
pub fn deviations(class: Class, size_mm: f64) -> Result<Deviations, Refusal> {
    let size = tidy(size_mm);
    if !(size > 0.0 && size <= LARGEST) {
        return Err(Refusal::of(
            "at",
            format!("ISO 286 gives no classes for a nominal size of {size} mm"),
            format!("It covers sizes over 0 up to {LARGEST} mm."),
        ));
    }
    defined(class, size).ok_or_else(|| undefined(class, size))
}

/// To the nearest nanometre, so that 50 mm that came by way of inches or metres still counts as 50 mm.
fn tidy(size_mm: f64) -> f64 {
    (size_mm * 1e6).round() / 1e6
}

fn defined(class: Class, size: f64) -> Option<Deviations> {
    let tolerance = tolerance(class.grade, size)?;
    if class.letter() == "js" {
        return Some(Deviations { lower_um: -tolerance / 2.0, upper_um: tolerance / 2.0 });
    }
    let fundamental = fundamental(class, size)?;
    Some(if class.starts_at_lower() {
        Deviations { lower_um: fundamental, upper_um: fundamental + tolerance }
    } else {
        Deviations { lower_um: fundamental - tolerance, upper_um: fundamental }
    })
}

/// Table 1, in micrometres.
fn tolerance(grade: Grade, size: f64) -> Option<f64> {
    if grade.0 >= 14 && size <= 1.0 {
        return None;
    }
    row(&GRADES, size)?.number(&format!("IT{grade}"))
}

/// Tables 2 to 5, in micrometres.
fn fundamental(class: Class, size: f64) -> Option<f64> {
    let (letter, grade) = (class.letter(), class.grade.0);
    if size <= 1.0
        && (matches!(letter, "a" | "b") || class.member == Member::Hole && letter == "n" && grade > 8)
    {
        return None;
    }
    match class.member {
        Member::Shaft => row(&SHAFTS, size)?.number(&shaft_column(class)),
        Member::Hole if letter == "m" && grade == 6 && size > 250.0 && size <= 315.0 => Some(-9.0),
        Member::Hole => {
            let row = row(&HOLES, size)?;
            Some(row.number(&hole_column(class))? + delta(row, class, size)?)
        }
    }
}

fn shaft_column(class: Class) -> String {
    match class.letter() {
        "j" => format!("j{}", class.grade),
        "k" if (4..=7).contains(&class.grade.0) => "k4-7".to_owned(),
        letter => letter.to_owned(),
    }
}

fn hole_column(class: Class) -> String {
    let letter = class.letter().to_ascii_uppercase();
    match letter.as_str() {
        "J" => format!("J{}", class.grade),
        "K" | "M" | "N" if class.grade.0 > 8 => format!("{letter}>8"),
        _ => letter,
    }
}

/// What K, M, N up to IT8 and P to ZC up to IT7 move by towards the shaft of the grade below.
fn delta(row: &Row, class: Class, size: f64) -> Option<f64> {
    let last = match class.letter() {
        "k" | "m" | "n" => 8,
        letter if letter > "n" => 7,
        _ => return Some(0.0),
    };
    if class.grade.0 > last || size <= 3.0 || size > 500.0 {
        return Some(0.0);
    }
    row.number(&format!("delta{}", class.grade))
}

fn row(table: &'static Table, size: f64) -> Option<&'static Row> {
    table.rows().iter().find(|row| covers(row, size))
}

fn covers(row: &Row, size: f64) -> bool {
    let (over, upto) = range(row);
    over < size && size <= upto
}

fn range(row: &Row) -> (f64, f64) {
    (row.number("over_mm").unwrap_or(f64::NAN), row.number("upto_mm").unwrap_or(f64::NAN))
}

fn no_class(text: &str, letter: bool, grade: bool) -> Refusal {
    let help = match (letter, grade) {
        (true, _) => "The grade is a number from 01, 0, 1 to 18: H7, js6.".to_owned(),
        (false, true) => format!(
            "The letters are {} for shafts and the same in capitals for holes; both letters of a pair in one case.",
            LETTERS.join(", ")
        ),
        (false, false) => "A class is a letter and a grade: H7 for a hole, f7 for a shaft.".to_owned(),
    };
    Refusal::whole(format!("`{text}` is no tolerance class of ISO 286"), help)
}

fn undefined(class: Class, size: f64) -> Refusal {
    let spans = spans(class);
    let given = if spans.is_empty() {
        format!("{class} is given at no size")
    } else {
        format!("{class} is given {}", spans.join(" and "))
    };
    let near = neighbours(class, size);
    let near = if near.is_empty() {
        String::new()
    } else {
        let (noun, are) = if near.len() == 1 { ("class", "is") } else { ("classes", "are") };
        format!("; the nearest {noun} given at {size} mm {are} {}", near.join(" and "))
    };
    Refusal::whole(format!("ISO 286 does not define {class} at {size} mm"), format!("{given}{near}."))
}

/// The size ranges in which the class is given, in words, adjoining ranges joined.
fn spans(class: Class) -> Vec<String> {
    let mut joined: Vec<(f64, f64)> = Vec::new();
    for (over, upto) in ranges() {
        if defined(class, upto).is_none() {
            continue;
        }
        match joined.last_mut() {
            Some(last) if last.1 >= over => last.1 = upto,
            _ => joined.push((over, upto)),
        }
    }
    joined.iter().map(|(over, upto)| format!("over {over} up to {upto} mm")).collect()
}

/// The size ranges of the deviation tables, the first cut at 1 mm, below which some classes are not used.
fn ranges() -> impl Iterator<Item = (f64, f64)> {
    let first = [(0.0, 1.0), (1.0, 3.0)];
    first.into_iter().chain(SHAFTS.rows().iter().skip(1).map(range))
}

/// The next looser and the next tighter letter that the standard gives at that size and grade.
fn neighbours(class: Class, size: f64) -> Vec<String> {
    let is_given = |letter: &usize| defined(class.lettered(*letter), size).is_some();
    let looser = (0..class.letter).rev().find(is_given);
    let tighter = (class.letter + 1..LETTERS.len()).find(is_given);
    looser.into_iter().chain(tighter).map(|letter| class.lettered(letter).to_string()).collect()
}
