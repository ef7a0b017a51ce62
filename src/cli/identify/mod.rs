//! `identify`: the standard sizes nearest to what was measured.

pub(super) mod bearing;
mod chain;
mod gear;
mod thread;

use serde::Serialize;

use super::Ended;
use super::workshop::{Column, Said};

/// Find what a worn bearing, thread, gear or chain can be from what was measured on it
///
/// The standard sizes nearest to the measured ones are listed, nearest first, with how far each dimension is off. Wear
/// is allowed for. Give the dimensions you have; those that are missing are said to be.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(subcommand)]
    thing: Thing,
}

#[derive(Debug, clap::Subcommand)]
enum Thing {
    Bearing(bearing::Arguments),
    Thread(thread::Arguments),
    Gear(gear::Arguments),
    Chain(chain::Arguments),
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    match &arguments.thing {
        Thing::Bearing(arguments) => bearing::run(arguments),
        Thing::Thread(arguments) => thread::run(arguments),
        Thing::Gear(arguments) => gear::run(arguments),
        Thing::Chain(arguments) => chain::run(arguments),
    }
}

/// What was found, for scripts.
#[derive(Serialize)]
struct Answer<Listed> {
    candidates: Vec<Listed>,
    #[serde(flatten)]
    said: Said,
}

/// How sure each match of a list is, nearest first.
struct Sureness<'a>(Vec<&'a str>);

impl<'a> Sureness<'a> {
    /// Of each the first words; the others are reported under the table.
    fn of(sures: impl Iterator<Item = &'a String>) -> Self {
        Self(sures.map(|sure| sure.split_once("; ").map_or(sure.as_str(), |(verdict, _)| verdict)).collect())
    }

    /// The verdict, where it is the same of all.
    fn common(&self) -> Option<&'a str> {
        let (first, rest) = self.0.split_first()?;
        rest.iter().all(|verdict| verdict == first).then_some(*first)
    }

    /// A column of verdicts, where they differ.
    fn column(&self) -> Option<Column> {
        let verdicts = self.0.iter().copied();
        self.common().is_none().then(|| Column::words("how sure", verdicts))
    }

    /// What holds for all.
    fn remarks(&self) -> Vec<String> {
        let Some(verdict) = self.common() else { return Vec::new() };
        let head = if self.0.len() == 1 { "how sure" } else { "how sure, all of them" };
        let mut remarks = vec![format!("{head}: {verdict}")];
        if !agrees(verdict) {
            remarks.push("measure again; it may be a size that the table does not hold".to_owned());
        }
        remarks
    }
}

fn agrees(verdict: &str) -> bool {
    !verdict.contains("does not agree")
}

/// Those that agree with what was measured, or all if none does.
fn worth_telling<T>(found: &[T], sure: impl Fn(&T) -> &String) -> Vec<&T> {
    let near: Vec<&T> = found.iter().filter(|each| agrees(sure(each))).collect();
    if near.is_empty() { found.iter().collect() } else { near }
}
