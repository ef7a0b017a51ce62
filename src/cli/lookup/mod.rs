//! `lookup`: a value of the workshop tables, for people and for scripts.

mod bearing;
mod fit;
mod material;
mod thread;

use super::Ended;

/// Look up a fit, a thread, a bearing or a material
///
/// The tables come with the program; each answer names the standard or the book that its figures are from, and says what
/// is uncertain about them. No project is needed.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(subcommand)]
    table: Table,
}

#[derive(Debug, clap::Subcommand)]
enum Table {
    Fit(fit::Arguments),
    Thread(thread::Arguments),
    Bearing(bearing::Arguments),
    Material(material::Arguments),
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    match &arguments.table {
        Table::Fit(arguments) => fit::run(arguments),
        Table::Thread(arguments) => thread::run(arguments),
        Table::Bearing(arguments) => bearing::run(arguments),
        Table::Material(arguments) => material::run(arguments),
    }
}
