//! `build`: the whole dossier, written whole or not at all.

use std::path::{Path, PathBuf};

use super::open;
use super::output::{self, Progress};
use super::pages::{self, Pages};
use super::storage;
use super::{Ended, Outcome, Project, Trouble};
use crate::calc::print::counted;
use crate::issued::{self, Figures, Snapshot};
use crate::release::{self, Secrets};
use crate::render::{self, Edition, RenderFault};
use crate::source::Footprint;
use crate::typeset::{Again, Fault, Folder, Made};
use crate::{Outlook, Project as Notes};

/// Build the dossier: out/dossier.pdf, the sequence for the wall, the bill, the graph and the computed state
///
/// Nothing is written while the notes have errors, and every file is written whole or not at all. The same notes give
/// the same bytes: the dossier bears the day that --date or SOURCE_DATE_EPOCH names, else the last date in the notes.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    making: Making,
    /// Issue the dossier: keep what it tells, so that the next one says what has changed since. WORDS say for whom or
    /// why: "for the boatyard"
    #[arg(long, value_name = "WORDS", value_parser = words, conflicts_with = "draft")]
    issue: Option<String>,
    /// Build an edition for others, out/dossier-for-others.pdf: without private notes, contacts and costs, and refused
    /// if the finished PDF holds any of them
    #[arg(long, conflicts_with = "issue")]
    for_others: bool,
}

/// What is built, and how.
#[derive(Debug, clap::Args)]
pub(super) struct Making {
    #[command(flatten)]
    project: Project,
    #[command(flatten)]
    pages: Pages,
}

impl Making {
    /// The project's folder.
    pub(super) fn dir(&self) -> &Path {
        &self.project.dir
    }

    /// The folders that a dossier is made from.
    pub(super) fn folders(&self) -> Vec<PathBuf> {
        std::iter::once(&self.project.dir).chain(&self.pages.templates).cloned().collect()
    }
}

const LONGEST_WORDS: usize = 200;

/// For whom it is issued: a few words on one line.
fn words(text: &str) -> Result<String, String> {
    match text.trim() {
        "" => Err("say for whom or why it is issued".to_owned()),
        words if words.chars().any(char::is_control) => Err("write it on one line".to_owned()),
        words if words.chars().count() > LONGEST_WORDS => {
            Err(format!("it is longer than {LONGEST_WORDS} letters"))
        }
        words => Ok(words.to_owned()),
    }
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    if arguments.for_others {
        return for_others(&arguments.making);
    }
    once(&arguments.making, arguments.issue.as_deref(), None)
}

/// The edition for others; what was left out on the way, and the finished PDF, is looked at once more.
fn for_others(making: &Making) -> Ended {
    let (dir, pages) = (making.dir(), &making.pages);
    let whole = open::with_problems(dir)?;
    if whole.has_errors() {
        return Ok(pages::refused(whole.problems(), &whole.sources));
    }
    let secrets = Secrets::of(&whole);
    let notes = release::for_others(&whole, &secrets);
    if notes.has_errors() {
        output::say("Without private notes, contacts and costs the notes don't hold together:");
        return Ok(pages::refused(notes.problems(), &notes.sources));
    }
    let outlook = Outlook::of(&notes);
    let edition = Edition::new(&notes, &outlook, pages.date()?, pages.draft);
    let folder = match pages.templates().and_then(|templates| render::dossier(&edition, &templates)) {
        Ok(folder) => folder,
        Err(fault) => return Ok(pages::not_put_together(&fault, &notes)),
    };
    match pages.set(&folder, notes.dossier.about.title.clone()) {
        Err(faults) => Ok(pages::not_set(&faults, &folder, &notes.sources)),
        Ok(made) if pages::would_leak(&made, &secrets)? => Ok(Outcome::ProblemsInNotes),
        Ok(made) => {
            storage::replace(dir, &[(FOR_OTHERS.to_owned(), made.pdf.clone())])?;
            let path = dir.join(FOR_OTHERS).display().to_string();
            output::say(&format!(
                "{path}: {} without private notes, contacts and costs",
                counted(made.pages, "page")
            ));
            Ok(Outcome::Clean)
        }
    }
}

const FOR_OTHERS: &str = "out/dossier-for-others.pdf";

/// How often the pages are made anew because a picture or a paper was saved meanwhile.
const MOST_TRIES: usize = 3;

/// Builds the dossier as it stands. again: what the builds before it have left for it.
pub(super) fn once(making: &Making, issue: Option<&str>, mut again: Option<&mut Again>) -> Ended {
    let look = || Footprint::of(&making.folders());
    for _ in 0..MOST_TRIES {
        let before = look();
        let has_changed = || look().differs_beside_notes(&before);
        if let Some(ended) = attempt(making, issue, again.as_deref_mut(), has_changed)? {
            return Ok(ended);
        }
    }
    Err(Trouble("pictures or papers change while they are read; nothing was written: build again".to_owned()))
}

/// Builds it once; `None`, and nothing is written, where what was read has changed meanwhile.
fn attempt(
    making: &Making,
    issue: Option<&str>,
    again: Option<&mut Again>,
    has_changed: impl Fn() -> bool,
) -> Result<Option<Outcome>, Trouble> {
    let (dir, pages) = (making.dir(), &making.pages);
    let progress = Progress::start();
    progress.now("reading the notes");
    let notes = open::with_problems(dir)?;
    if notes.has_errors() {
        drop(progress);
        return Ok(Some(pages::refused(notes.problems(), &notes.sources)));
    }
    progress.now("planning");
    let outlook = Outlook::of(&notes);
    let edition = Edition::new(&notes, &outlook, pages.date()?, pages.draft);
    progress.now("filling in the chapters");
    let made = set(&edition, pages, again, &progress);
    drop(progress);
    match made {
        Err(Unset::Template(fault)) => Ok(Some(pages::not_put_together(&fault, &notes))),
        _ if has_changed() => Ok(None),
        Err(Unset::Pages(faults, folder)) => Ok(Some(pages::not_set(&faults, &folder, &notes.sources))),
        Ok(made) => {
            storage::replace(dir, &files(&edition, &made, issue))?;
            report(dir, issue, &notes, &made.dossier);
            Ok(Some(Outcome::Clean))
        }
    }
}

/// The dossier, and the sequence on one sheet.
struct Both<T> {
    dossier: T,
    sequence: T,
}

/// Why there are no pages.
enum Unset {
    Template(RenderFault),
    Pages(Vec<Fault>, Folder),
}

impl From<RenderFault> for Unset {
    fn from(fault: RenderFault) -> Self {
        Self::Template(fault)
    }
}

/// Both, the sheet with the pages of the dossier; or why the first of them can't be set.
fn set(
    edition: &Edition,
    pages: &Pages,
    mut again: Option<&mut Again>,
    progress: &Progress,
) -> Result<Both<Made>, Unset> {
    let title = &edition.project.dossier.about.title;
    let mut set = |folder: Folder, identity: String| {
        let made = match again.as_deref_mut() {
            Some(again) => pages.set_again(again, &folder, identity),
            None => pages.set(&folder, identity),
        };
        made.map_err(|faults| Unset::Pages(faults, folder))
    };
    let templates = pages.templates()?;
    let folder = render::dossier(edition, &templates)?;
    progress.now("setting the pages");
    let dossier = set(folder, title.clone())?;
    let sheet = render::sequence_sheet(edition, &templates, &dossier.places)?;
    Ok(Both { sequence: set(sheet, format!("{title}, repair sequence"))?, dossier })
}

fn files(edition: &Edition, made: &Both<Made>, issue: Option<&str>) -> Vec<(String, Vec<u8>)> {
    let mut files = vec![
        ("out/bill.csv".to_owned(), render::bill_csv(edition).into_bytes()),
        ("out/dossier.json".to_owned(), render::state_json(edition).into_bytes()),
        ("out/sequence.svg".to_owned(), render::sequence_svg(edition).into_bytes()),
        ("out/sequence.pdf".to_owned(), made.sequence.pdf.clone()),
        ("out/dossier.pdf".to_owned(), made.dossier.pdf.clone()),
    ];
    let told = issue.map(|words| told(edition, words).to_json().into_bytes());
    files.extend(told.map(|bytes| (issued::STORE.to_owned(), bytes)));
    files
}

/// What this edition tells.
fn told(edition: &Edition, words: &str) -> Snapshot {
    let (project, outlook) = (edition.project, edition.outlook);
    let figures = Figures {
        likely_end: issued::likely_end(&project.plan, &outlook.timetable),
        forecast_days: outlook.timetable.forecast.days,
        cost: outlook.bill.totals.together,
        money: &project.dossier.about.settings.currency,
    };
    Snapshot::of(project.today(), figures, edition.date, words)
}

fn report(dir: &Path, issue: Option<&str>, notes: &Notes, made: &Made) {
    pages::mention_warnings(made);
    output::say(&format!(
        "{}: {} from {}; {}",
        dir.join("out/dossier.pdf").display(),
        counted(made.pages, "page"),
        counted(notes.dossier.notes().count(), "note"),
        output::tally(notes.problems()),
    ));
    if let Some(words) = issue {
        output::say(&format!("Issued, {words}: the next dossier says what has changed since."));
        output::say(
            "It is the full dossier, with private notes, contacts and costs: read it before it goes to others.",
        );
    }
}
