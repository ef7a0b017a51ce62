//! `identify`: the standard sizes nearest to what was measured.

pub(super) mod bearing;
mod chain;
mod gear;
mod thread;

use super::Ended;

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

/// The first of the words on how sure a match is; the others are told under the table.
fn verdict(sure: &str) -> &str {
    sure.split_once("; ").map_or(sure, |(verdict, _)| verdict)
}

/// That even the nearest is not it.
fn none_agrees(nearest: Option<&str>) -> Option<String> {
    match nearest {
        None => Some("nothing in the table is near what was measured: measure again".to_owned()),
        Some(sure) if verdict(sure).contains("does not agree") => {
            Some("none agrees with what was measured: measure again; it may be a size that the table does not hold".to_owned())
        }
        Some(_) => None,
    }
}
