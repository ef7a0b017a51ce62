//! `build`: the whole dossier, written whole or not at all.

use std::io::Write;
use std::path::{Path, PathBuf};

use jiff::civil::Date;

use super::output::{self, Progress};
use super::{Ended, Outcome, Project, Trouble};
use crate::diagnostic::{Problem, typeset as problem};
use crate::render::{self, Edition, Templates};
use crate::source::{Sources, Span};
use crate::typeset::{Fault, Made, Making, typeset};
use crate::{Outlook, Project as Notes};

/// Build the dossier: out/dossier.pdf, and the bill, the graph and the computed state beside it
///
/// Nothing is written while the notes have errors, and every file is written whole or not at all. The same notes give
/// the same bytes: the dossier bears the day that --date or SOURCE_DATE_EPOCH names, else the last date in the notes.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    project: Project,
    /// The day that the dossier bears: 2027-03-01
    #[arg(long, value_name = "DAY")]
    date: Option<Date>,
    /// Build quickly, without the claims of an archival and accessible PDF
    #[arg(long)]
    draft: bool,
    /// A folder of templates; each file in it replaces the built-in one of the same name
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let progress = Progress::start();
    progress.now("reading the notes");
    let notes = Notes::open(&arguments.project.dir)?;
    if notes.has_errors() {
        drop(progress);
        return Ok(refused(notes.problems(), &notes.sources));
    }
    progress.now("planning");
    let outlook = Outlook::of(&notes);
    let date = arguments.date.or(day_of_source()?);
    let edition = Edition::new(&notes, &outlook, date, arguments.draft);
    progress.now("filling in the chapters");
    let filled = Templates::load(arguments.templates.as_deref())
        .and_then(|templates| render::dossier(&edition, &templates));
    let folder = match filled {
        Ok(folder) => folder,
        Err(fault) => {
            drop(progress);
            return Ok(refused(&[problem::template(&fault.0)], &notes.sources));
        }
    };
    progress.now("setting the pages");
    let making = Making {
        main: render::MAIN.to_owned(),
        identity: notes.dossier.about.title.clone(),
        archival: !arguments.draft,
    };
    let made = typeset(&folder, &making);
    drop(progress);
    match made {
        Err(faults) => {
            let problems: Vec<Problem> = faults.iter().map(|fault| aimed(fault, &notes.sources)).collect();
            Ok(refused(&problems, &notes.sources))
        }
        Ok(made) => {
            write(&arguments.project.dir, &edition, &made)?;
            report(arguments, &notes, &made);
            Ok(Outcome::Clean)
        }
    }
}

/// Says what is wrong, and that the old dossier stands.
fn refused(problems: &[Problem], sources: &Sources) -> Outcome {
    output::show_problems(problems, sources);
    output::say(&format!("{}; nothing was written.", output::tally(problems)));
    Outcome::ProblemsInNotes
}

/// The day of SOURCE_DATE_EPOCH, in UTC.
fn day_of_source() -> Result<Option<Date>, Trouble> {
    let Ok(text) = std::env::var("SOURCE_DATE_EPOCH") else { return Ok(None) };
    let day = text.parse::<i64>().ok().and_then(|seconds| jiff::Timestamp::from_second(seconds).ok());
    match day {
        Some(stamp) => Ok(Some(jiff::tz::TimeZone::UTC.to_datetime(stamp).date())),
        None => Err(Trouble(format!("SOURCE_DATE_EPOCH is `{text}`; it must be a number of seconds since 1970"))),
    }
}

/// A fault of Typst, aimed at the note that the text was made from.
fn aimed(fault: &Fault, sources: &Sources) -> Problem {
    let span = fault.note.as_ref().and_then(|(path, line)| {
        let file = sources.find(path)?;
        let text = &sources.file(file).text;
        let start = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum::<usize>();
        let length = text.get(start..)?.lines().next().map_or(0, str::len);
        Some(Span::new(file, start..start + length))
    });
    problem::typeset(span, &fault.message, fault.place.as_ref(), &fault.hints)
}

fn write(dir: &Path, edition: &Edition, made: &Made) -> Result<(), Trouble> {
    let out = dir.join("out");
    std::fs::create_dir_all(&out)?;
    let files = [
        ("bill.csv", render::bill_csv(edition).into_bytes()),
        ("dossier.json", render::state_json(edition).into_bytes()),
        ("sequence.svg", render::sequence_svg(edition).into_bytes()),
        ("dossier.pdf", made.pdf.clone()),
    ];
    // All are complete on the disk before the first old one is replaced.
    let mut ready = Vec::new();
    for (name, bytes) in files {
        let mut file = tempfile::NamedTempFile::new_in(&out)?;
        file.write_all(&bytes)?;
        ready.push((file, out.join(name)));
    }
    for (file, path) in ready {
        file.persist(&path).map_err(|error| Trouble(format!("{}: {}", path.display(), error.error)))?;
    }
    Ok(())
}

fn report(arguments: &Arguments, notes: &Notes, made: &Made) {
    for fault in &made.warnings {
        output::say(&format!("warning from the page setter: {}", fault.message));
    }
    output::say(&format!(
        "{}: {} pages from {} notes; {}",
        arguments.project.dir.join("out/dossier.pdf").display(),
        made.pages,
        notes.dossier.notes().count(),
        output::tally(notes.problems()),
    ));
}
