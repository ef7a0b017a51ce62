//! `check`: every problem in the notes.

use std::io::IsTerminal;

use clap::ValueEnum;

use super::{Ended, Outcome, Project, open, output};
use crate::calc::print::counted;
use crate::diagnostic::Format;
use crate::record::Kind;

/// Report every problem in the notes
///
/// Errors are notes that can't be read or contradict another; cautions are what a careful person would mend. The exit
/// code is 0 when there are no errors, 1 when there are (with --strict: or cautions), 2 when the tool could not run.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    project: Project,
    /// How problems are printed: with the line shown, one line each, or as JSON
    #[arg(long, value_enum, default_value_t = Form::Text)]
    format: Form,
    /// Let cautions count as errors for the exit code
    #[arg(long)]
    strict: bool,
    /// Also list the notes that were read and the files that were left alone
    #[arg(short, long)]
    verbose: bool,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Form {
    Text,
    Short,
    Json,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let project = open::with_problems(&arguments.project.dir)?;
    let problems = project.problems();
    let format = match arguments.format {
        Form::Text => output::text_form(std::io::stdout().is_terminal()),
        Form::Short => Format::Short,
        Form::Json => Format::Json,
    };
    output::print_problems(problems, &project.sources, format)?;
    if arguments.verbose {
        output::print(&read_notes(&project))?;
    }
    if !matches!(arguments.format, Form::Json) {
        output::say(&summary(&project));
    }
    let bad = problems.iter().any(|problem| arguments.strict || problem.is_error());
    Ok(if bad { Outcome::ProblemsInNotes } else { Outcome::Clean })
}

fn summary(project: &crate::Project) -> String {
    let dossier = &project.dossier;
    let of_kind = |kind: Kind| {
        let count = dossier.notes().filter(|note| note.kind() == kind).count();
        format!("{count} {}", if count == 1 { kind.word() } else { kind.plural() })
    };
    let kinds = [Kind::Part, Kind::Finding, Kind::Measurement, Kind::Question, Kind::Step].map(of_kind);
    let notes = counted(dossier.notes().count(), "note");
    format!("{notes}: {}; {}", kinds.join(", "), output::tally(project.problems()))
}

fn read_notes(project: &crate::Project) -> String {
    let mut lines = String::new();
    for (id, note) in project.dossier.ids() {
        let path = &project.sources.file(project.dossier.head(note).file).path;
        lines.push_str(&format!("{:<12} {id:<32} {path}\n", note.kind().word()));
    }
    for file in &project.left_alone {
        lines.push_str(&format!("{:<12} {:<32} {}\n", "left alone", "", project.sources.file(*file).path));
    }
    lines
}
