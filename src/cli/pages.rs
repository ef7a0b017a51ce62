//! What the commands that make a PDF share: its day, its templates, and setting it.

use std::ops::Range;
use std::path::PathBuf;

use jiff::civil::Date;

use super::{Outcome, Trouble, output};
use crate::Project as Notes;
use crate::calc::print::counted;
use crate::diagnostic::Problem;
use crate::photo::PhotoFault;
use crate::release::{self, Secrets};
use crate::render::{self, RenderFault, Templates};
use crate::source::Sources;
use crate::text::Span;
use crate::typeset::problems as problem;
use crate::typeset::{Again, Fault, Folder, Made, Making, typeset};

/// How the pages are made.
#[derive(Debug, clap::Args)]
pub(super) struct Pages {
    /// The day that the pages bear: 2027-03-01
    #[arg(long, value_name = "DAY")]
    date: Option<Date>,
    /// Build quickly, without the claims of an archival and accessible PDF
    #[arg(long)]
    pub(super) draft: bool,
    /// A folder of templates; each file in it replaces the built-in one of the same name
    #[arg(long, value_name = "DIR")]
    pub(super) templates: Option<PathBuf>,
}

impl Pages {
    /// The day of --date, else of SOURCE_DATE_EPOCH.
    pub(super) fn date(&self) -> Result<Option<Date>, Trouble> {
        Ok(self.date.or(day_of_source()?))
    }

    pub(super) fn templates(&self) -> Result<Templates, RenderFault> {
        Templates::load(self.templates.as_deref())
    }

    /// Sets the folder; `identity` is what stays the same from one edition to the next.
    pub(super) fn set(&self, folder: &Folder, identity: String) -> Result<Made, Vec<Fault>> {
        typeset(folder, &self.making(identity))
    }

    /// As `set`, in a process that has set it before.
    pub(super) fn set_again(
        &self,
        again: &mut Again,
        folder: &Folder,
        identity: String,
    ) -> Result<Made, Vec<Fault>> {
        again.typeset(folder, &self.making(identity))
    }

    fn making(&self, identity: String) -> Making {
        Making { main: render::MAIN.to_owned(), identity, archival: !self.draft }
    }
}

/// The day of SOURCE_DATE_EPOCH, in UTC.
fn day_of_source() -> Result<Option<Date>, Trouble> {
    let Ok(text) = std::env::var("SOURCE_DATE_EPOCH") else { return Ok(None) };
    let day = text.parse::<i64>().ok().and_then(|seconds| jiff::Timestamp::from_second(seconds).ok());
    match day {
        Some(stamp) => Ok(Some(jiff::tz::TimeZone::UTC.to_datetime(stamp).date())),
        None => {
            Err(Trouble(format!("SOURCE_DATE_EPOCH is `{text}`; it must be a number of seconds since 1970")))
        }
    }
}

/// Says what keeps the pages from being put together.
pub(super) fn not_put_together(fault: &RenderFault, notes: &Notes) -> Outcome {
    match fault {
        RenderFault::Pictures(faults) => {
            let problem = |(path, fault): &(String, PhotoFault)| {
                let at = notes.dossier.shown_at(path, &notes.sources);
                problem::unprintable(at, path, fault)
            };
            refused(&faults.iter().map(problem).collect::<Vec<_>>(), &notes.sources)
        }
        RenderFault::Paper { path, why } => refused(&[problem::paper_unreadable(path, why)], &notes.sources),
        RenderFault::Template(fault) => {
            let text = fault.place.as_ref().map(|(name, text, _)| (name.clone(), text.clone()));
            let sources = Sources::in_memory(text);
            let place = fault.place.as_ref().and_then(|(name, _, at)| place_in(&sources, name, at));
            refused(&[problem::template(place, &fault.message, fault.help.as_deref())], &sources)
        }
    }
}

fn place_in(sources: &Sources, path: &str, at: &Range<usize>) -> Option<Span> {
    Some(Span::new(sources.find(path)?, at.clone()))
}

/// Says why the pages can't be set, in the notes that they were made from, else in the made text itself.
pub(super) fn not_set(faults: &[Fault], folder: &Folder, sources: &Sources) -> Outcome {
    let made = |fault: &Fault| {
        let (path, _) = fault.place.as_ref()?;
        Some((path.clone(), String::from_utf8_lossy(folder.get(path)?).into_owned()))
    };
    let sources = sources.and(faults.iter().filter_map(made));
    let aimed = |fault: &Fault| {
        let made = fault.place.as_ref().and_then(|(path, at)| place_in(&sources, path, at));
        problem::typeset(in_note(fault, &sources), made, &fault.message, &fault.hints)
    };
    refused(&faults.iter().map(aimed).collect::<Vec<_>>(), &sources)
}

/// The line of the note that the text was made from.
fn in_note(fault: &Fault, sources: &Sources) -> Option<Span> {
    let (file, line) = fault.note?;
    let text = &sources.ids().find(|id| *id == file).map(|id| sources.file(id))?.text;
    let start = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum::<usize>();
    let length = text.get(start..)?.lines().next().map_or(0, str::len);
    Some(Span::new(file, start..start + length))
}

/// Says what is wrong, and that the old files stand.
pub(super) fn refused(problems: &[Problem], sources: &Sources) -> Outcome {
    output::show_problems(problems, sources);
    output::say(&format!("{}; nothing was written.", output::tally(problems)));
    Outcome::ProblemsInNotes
}

/// Whether a finished PDF that goes to others holds what may not go; then it is said what and where.
///
/// # Errors
/// When the PDF can't be read back.
pub(super) fn would_leak(made: &Made, secrets: &Secrets) -> Result<bool, Trouble> {
    let unread = || {
        Trouble(
            "the finished PDF can't be read back to look for what may not go; nothing was written".to_owned(),
        )
    };
    let leaks = release::leaks(&made.pdf, secrets).ok_or_else(unread)?;
    for leak in &leaks {
        output::say(&format!("may not go: {}, on or in {}", leak.what, leak.place));
    }
    if !leaks.is_empty() {
        output::say(&format!(
            "{} in the finished PDF; nothing was written. Reword the place that prints it, or let it through with `for_helpers`.",
            counted(leaks.len(), "leak")
        ));
    }
    Ok(!leaks.is_empty())
}

/// Says what the page setter warned of.
pub(super) fn mention_warnings(made: &Made) {
    for fault in &made.warnings {
        output::say(&format!("warning from the page setter: {}", fault.message));
    }
}
