//! `build`: the whole dossier, written whole or not at all.

use super::output::{self, Progress};
use super::pages::{self, Pages};
use super::{Ended, Outcome, Project};
use crate::diagnostic::typeset as problem;
use crate::render::{self, Edition};
use crate::typeset::Made;
use crate::{Outlook, Project as Notes};

/// Build the dossier: out/dossier.pdf, and the bill, the graph and the computed state beside it
///
/// Nothing is written while the notes have errors, and every file is written whole or not at all. The same notes give
/// the same bytes: the dossier bears the day that --date or SOURCE_DATE_EPOCH names, else the last date in the notes.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    project: Project,
    #[command(flatten)]
    pages: Pages,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let (dir, pages) = (&arguments.project.dir, &arguments.pages);
    let progress = Progress::start();
    progress.now("reading the notes");
    let notes = Notes::open(dir)?;
    if notes.has_errors() {
        drop(progress);
        return Ok(pages::refused(notes.problems(), &notes.sources));
    }
    progress.now("planning");
    let outlook = Outlook::of(&notes);
    let edition = Edition::new(&notes, &outlook, pages.date()?, pages.draft);
    progress.now("filling in the chapters");
    let folder = match pages.templates().and_then(|templates| render::dossier(&edition, &templates)) {
        Ok(folder) => folder,
        Err(fault) => {
            drop(progress);
            return Ok(pages::refused(&[problem::template(&fault.0)], &notes.sources));
        }
    };
    progress.now("setting the pages");
    let made = pages.set(&folder, notes.dossier.about.title.clone(), &notes.sources);
    drop(progress);
    match made {
        Err(problems) => Ok(pages::refused(&problems, &notes.sources)),
        Ok(made) => {
            pages::write(dir, files(&edition, &made))?;
            report(arguments, &notes, &made);
            Ok(Outcome::Clean)
        }
    }
}

fn files(edition: &Edition, made: &Made) -> Vec<(String, Vec<u8>)> {
    vec![
        ("bill.csv".to_owned(), render::bill_csv(edition).into_bytes()),
        ("dossier.json".to_owned(), render::state_json(edition).into_bytes()),
        ("sequence.svg".to_owned(), render::sequence_svg(edition).into_bytes()),
        ("dossier.pdf".to_owned(), made.pdf.clone()),
    ]
}

fn report(arguments: &Arguments, notes: &Notes, made: &Made) {
    pages::mention_warnings(made);
    output::say(&format!(
        "{}: {} pages from {} notes; {}",
        arguments.project.dir.join("out/dossier.pdf").display(),
        made.pages,
        notes.dossier.notes().count(),
        output::tally(notes.problems()),
    ));
}
