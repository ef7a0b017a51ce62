//! Reading a designation as people write it: `6205`, `6205-2RS C3`, `nu 205`, `NJ 205 E`, `51110`, `RLS 8`,
//! `LM11949`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::catalogue::{Bearing, bearings};
use crate::calc::function::Refusal;
use crate::trade::declare::joined;

/// A bearing found by its designation.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    pub bearing: &'static Bearing,
    /// Its designation with the letters that were asked for (`NJ205` where the table says `NU205`), without
    /// suffixes.
    pub designation: String,
    /// What its suffixes say, as far as they are common: "sealed", "internal clearance C3".
    pub notes: Vec<&'static str>,
    /// Whether only one half of it was named: the cone or the cup of an inch tapered bearing.
    pub by_half: bool,
}

/// Designations are shorter than this.
const LONGEST: usize = 40;
/// One table row serves for all of these: they differ in the lips of the rings only.
const CYLINDRICAL: &[&str] = &["NUP", "NJ", "NU", "NF", "N"];
/// What common suffixes mean (common practice of the catalogues, from memory).
const SUFFIXES: &[(&str, &str)] = &[
    ("2RS", "sealed on both sides"),
    ("RS", "sealed"),
    ("2Z", "shielded on both sides"),
    ("ZZ", "shielded on both sides"),
    ("Z", "shielded on one side"),
    ("C2", "internal clearance C2, smaller than normal"),
    ("C3", "internal clearance C3, larger than normal"),
    ("C4", "internal clearance C4, larger than C3"),
    ("K", "taper bore 1:12, the table's bore at its small end"),
    ("NR", "groove and snap ring in the outer ring"),
    ("M", "machined brass cage"),
];

static BY_NAME: LazyLock<BTreeMap<String, Vec<&'static Bearing>>> = LazyLock::new(|| {
    let mut names: BTreeMap<String, Vec<&'static Bearing>> = BTreeMap::new();
    for bearing in bearings() {
        names.entry(bearing.designation.to_owned()).or_default().push(bearing);
    }
    names
});

/// Inch tapered bearings by the number of the cone or of the cup alone, or of both written together.
static BY_HALF: LazyLock<BTreeMap<String, Vec<&'static Bearing>>> = LazyLock::new(|| {
    let mut names: BTreeMap<String, Vec<&'static Bearing>> = BTreeMap::new();
    for bearing in bearings().iter().filter(|bearing| bearing.is_tapered()) {
        if let Some((cone, cup)) = bearing.designation.split_once('/') {
            for name in [cone.to_owned(), cup.to_owned(), format!("{cone}{cup}")] {
                names.entry(name).or_default().push(bearing);
            }
        }
    }
    names
});

/// The bearings of that designation: one, or several where it also or only names a half of inch tapered
/// bearings; a bearing named whole comes first.
///
/// # Errors
/// A designation that the table does not hold, with the nearest ones.
pub fn lookup(designation: &str) -> Result<Vec<Found>, Refusal> {
    let parts = parts(designation);
    let name = parts.concat();
    if name.is_empty() || name.len() > LONGEST {
        return Err(Refusal::of(
            "designation",
            "this is no bearing designation",
            "Write one such as 6205 or NU 205.",
        ));
    }
    whole(&name).or_else(|| with_suffix(&parts)).ok_or_else(|| unknown(designation.trim(), &parts))
}

/// Capital letters, figures and strokes, cut at everything else.
fn parts(designation: &str) -> Vec<String> {
    designation
        .chars()
        .take(4 * LONGEST)
        .collect::<String>()
        .to_uppercase()
        .split(|each: char| !each.is_ascii_alphanumeric() && each != '/')
        .filter(|part| !part.is_empty())
        .map(str::to_owned)
        .collect()
}

fn whole(name: &str) -> Option<Vec<Found>> {
    let halves = BY_HALF.get(name).into_iter().flatten();
    let halves = halves.map(|bearing| Found { by_half: true, ..found(bearing, bearing.designation) });
    let all: Vec<Found> = table_name(name).into_iter().chain(halves).collect();
    if all.is_empty() { None } else { Some(all) }
}

/// A name that a row of the table stands for.
fn table_name(name: &str) -> Option<Found> {
    if let Some(bearing) = BY_NAME.get(name).and_then(|rows| rows.first()) {
        return Some(found(bearing, name));
    }
    let number = CYLINDRICAL.iter().find_map(|letters| name.strip_prefix(letters))?;
    let bearing = BY_NAME.get(&format!("NU{number}"))?.first()?;
    Some(found(bearing, name))
}

fn found(bearing: &'static Bearing, designation: &str) -> Found {
    Found { bearing, designation: designation.to_owned(), notes: Vec::new(), by_half: false }
}

/// The longest table name that the text begins with, when the rest can only be a suffix; a name that ends
/// where the writer parted it goes before a longer one.
fn with_suffix(parts: &[String]) -> Option<Vec<Found>> {
    let name = parts.concat();
    let parted = (1..parts.len()).rev().map(|count| parts[..count].iter().map(String::len).sum());
    let anywhere = (1..name.len()).rev();
    let (end, mut found) = parted.chain(anywhere).find_map(|end: usize| {
        let found = table_name(&name[..end])?;
        can_follow(&name[end..], found.bearing).then_some((end, found))
    })?;
    found.notes = notes(&suffixes(parts, end));
    Some(vec![found])
}

/// A suffix begins with a letter, a stroke and a letter, or with `2R` or `2Z`.
fn is_suffix(rest: &str) -> bool {
    let rest = rest.strip_prefix('/').unwrap_or(rest);
    let seal = rest.strip_prefix('2').is_some_and(|rest| rest.starts_with(['R', 'Z']));
    seal || rest.starts_with(|first: char| first.is_ascii_alphabetic())
}

/// In the inch series a letter may name another size (R4 and R4A), so only the common suffixes pass there.
fn can_follow(rest: &str, bearing: &Bearing) -> bool {
    is_suffix(rest)
        && (!bearing.type_.ends_with("inch") || SUFFIXES.iter().any(|(suffix, _)| rest.starts_with(suffix)))
}

/// What stands behind the first `end` bytes of the joined parts, cut as it was written.
fn suffixes(parts: &[String], end: usize) -> Vec<&str> {
    let mut start = 0;
    let mut found = Vec::new();
    for part in parts {
        let from = end.saturating_sub(start).min(part.len());
        start += part.len();
        found.extend(part[from..].split('/').filter(|each| !each.is_empty()));
    }
    found
}

fn notes(suffixes: &[&str]) -> Vec<&'static str> {
    // Makers add letters of their own to the seals only: 2RS1, 2RSH, RSR.
    let is = |suffix: &str, name: &str| suffix == name || (name.ends_with("RS") && suffix.starts_with(name));
    let known = suffixes.iter().filter_map(|suffix| SUFFIXES.iter().find(|(name, _)| is(suffix, name)));
    known.map(|(_, meaning)| *meaning).collect()
}

fn unknown(designation: &str, parts: &[String]) -> Refusal {
    let message = format!("no bearing `{designation}` is in the table");
    if let [first, rest @ ..] = parts
        && first.chars().all(|each| each.is_ascii_alphabetic())
        && let Some(found) = whole(&rest.concat()).and_then(|found| found.into_iter().next())
    {
        return Refusal::of(
            "designation",
            message,
            format!("If `{first}` is a maker's name, leave it out and write {}.", found.designation),
        );
    }
    let help = format!(
        "Near it are {}. The table holds deep groove, self-aligning, angular contact, cylindrical, spherical \
         and tapered roller, thrust ball 511 to 514, and inch R, RLS, RMS and tapered bearings.",
        joined(&near(&parts.concat()))
    );
    Refusal::of("designation", message, help)
}

/// The designations most like a name: those that end in its figures, then those that are spelt nearly so.
fn near(name: &str) -> Vec<String> {
    let likeness = |candidate: &str| {
        let tail = candidate.len() > name.len() && candidate.ends_with(name);
        let spelling = strsim::jaro_winkler(candidate, name);
        if tail { spelling + 1.0 } else { spelling }
    };
    let mut ranked: Vec<(f64, &str)> =
        bearings().iter().map(|bearing| (likeness(bearing.designation), bearing.designation)).collect();
    ranked.sort_by(|(a, _), (b, _)| b.total_cmp(a));
    ranked.iter().take(4).map(|(_, name)| (*name).to_owned()).collect()
}
