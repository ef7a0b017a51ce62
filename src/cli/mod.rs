//! The commands: arguments read, the library asked, the answer printed.
//!
//! Takes: the command line. Gives: an exit code: 0 all is well, 1 problems in the notes, 2 the tool could not run.
//! Never: decides anything about notes. The only room that prints.

mod bill;
mod build;
mod calc;
mod check;
mod draw;
mod explain;
mod identify;
mod lookup;
mod new;
mod next;
mod open;
mod output;
mod pages;
mod sheet;
mod storage;
mod table;
mod watch;
mod why;
mod workshop;
mod wrap;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::guard;

/// Builds the dossier of one machine's restoration from plain-text notes.
///
/// Start with `asfound new DIR`, write notes in any editor, and run `asfound build DIR`. `asfound check` says what is
/// wrong in the notes, `asfound next` what can be done now, `asfound explain CODE` what a problem means.
#[derive(Debug, Parser)]
#[command(version, help_expected = true, arg_required_else_help = true)]
pub struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    New(new::Arguments),
    Build(build::Arguments),
    Watch(watch::Arguments),
    Check(check::Arguments),
    Next(next::Arguments),
    Why(why::Arguments),
    Bill(bill::Arguments),
    Draw(draw::Arguments),
    Sheet(sheet::Arguments),
    Lookup(lookup::Arguments),
    Identify(identify::Arguments),
    Calc(calc::Arguments),
    Explain(explain::Arguments),
}

/// The folder of a project, shared by the commands that read one.
#[derive(Debug, clap::Args)]
struct Project {
    /// The project's folder, which holds dossier.yaml
    #[arg(value_name = "DIR", default_value = ".")]
    dir: PathBuf,
}

/// How an answer is printed, shared by the commands that print facts.
#[derive(Debug, clap::Args)]
struct AnswerForm {
    /// How the answer is printed
    #[arg(long, value_enum, default_value_t = Form::Text)]
    format: Form,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
enum Form {
    /// For people
    Text,
    /// For scripts: stable keys, the unit in the key
    Json,
}

impl AnswerForm {
    fn json(&self) -> bool {
        self.format == Form::Json
    }
}

/// How a command ended, short of an error of the tool itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Outcome {
    Clean,
    ProblemsInNotes,
}

/// Something that keeps the tool itself from running: a sentence, and what to do.
#[derive(Debug)]
struct Trouble(String);

impl<E: std::error::Error> From<E> for Trouble {
    fn from(error: E) -> Self {
        Self(error.to_string())
    }
}

type Ended = Result<Outcome, Trouble>;

/// Runs the command line.
pub fn main() -> ExitCode {
    guard::print_no_guarded_panics();
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => {
            let asked_for_help = !error.use_stderr();
            let _ = error.print();
            return if asked_for_help { ExitCode::SUCCESS } else { ExitCode::from(2) };
        }
    };
    match run(arguments.command) {
        Ok(Outcome::Clean) => ExitCode::SUCCESS,
        Ok(Outcome::ProblemsInNotes) => ExitCode::from(1),
        Err(Trouble(message)) => {
            output::complain(&message);
            ExitCode::from(2)
        }
    }
}

fn run(command: Command) -> Ended {
    match command {
        Command::New(arguments) => new::run(&arguments),
        Command::Build(arguments) => build::run(&arguments),
        Command::Watch(arguments) => watch::run(&arguments),
        Command::Check(arguments) => check::run(&arguments),
        Command::Next(arguments) => next::run(&arguments),
        Command::Why(arguments) => why::run(&arguments),
        Command::Bill(arguments) => bill::run(&arguments),
        Command::Draw(arguments) => draw::run(&arguments),
        Command::Sheet(arguments) => sheet::run(&arguments),
        Command::Lookup(arguments) => lookup::run(&arguments),
        Command::Identify(arguments) => identify::run(&arguments),
        Command::Calc(arguments) => calc::run(&arguments),
        Command::Explain(arguments) => explain::run(&arguments),
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    #[test]
    fn every_argument_is_well_formed_and_has_help() {
        super::Arguments::command().debug_assert();
    }
}
