//! `sheet`: a letter for one helper, or for whoever can, written whole or not at all.

use std::path::{Path, PathBuf};

use super::open;
use super::output::{self, Progress};
use super::pages::{self, Pages};
use super::storage;
use super::{Ended, Outcome, Trouble};
use crate::calc::print::counted;
use crate::diagnostic::nearest;
use crate::dossier::{Dossier, NoteId, PaperId};
use crate::record::KeeperContact;
use crate::release::Secrets;
use crate::render::{self, Addressee, Edition, KeptBack, Sheet};
use crate::source::Sources;
use crate::typeset::Made;
use crate::{Outlook, Project as Notes};

/// Write the job sheet for one shop, or for the jobs that no known shop can do: out/sheet-SHOP.pdf
///
/// A sheet holds the open jobs in order of work with what they need, and nothing else: no costs, contacts, private notes
/// or names of other helpers. A finding, question, paper or page of the log goes where its note says
/// `for_helpers: true`. A passage that would tell of what stays leaves a gap, and is named on the terminal.
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "asfound sheet [OPTIONS] SHOP [DIR]\n       asfound sheet [OPTIONS] --unplaced [DIR]"
)]
pub(super) struct Arguments {
    /// The id of a shop; with --unplaced, the project's folder
    #[arg(value_name = "SHOP", required_unless_present = "unplaced")]
    first: Option<String>,
    /// The project's folder, which holds dossier.yaml [default: .]
    #[arg(value_name = "DIR")]
    second: Option<PathBuf>,
    /// The jobs that no known shop can do: out/sheet-unplaced.pdf
    #[arg(long)]
    unplaced: bool,
    /// Put the file of a paper inside the sheet, by the paper's id: a drawing, say
    #[arg(long, value_name = "PAPER")]
    attach: Vec<String>,
    #[command(flatten)]
    pages: Pages,
}

impl Arguments {
    /// The shop that is asked for, if any, and the project's folder.
    fn sorted(&self) -> Result<(Option<&str>, PathBuf), Trouble> {
        let here = || PathBuf::from(".");
        match (self.unplaced, self.first.as_deref(), self.second.as_ref()) {
            (false, shop, dir) => Ok((shop, dir.cloned().unwrap_or_else(here))),
            (true, dir, None) => Ok((None, dir.map_or_else(here, PathBuf::from))),
            (true, Some(shop), Some(_)) => {
                Err(Trouble(format!("--unplaced is for no shop; leave out `{shop}` or leave out --unplaced")))
            }
            (true, None, Some(dir)) => Ok((None, dir.clone())),
        }
    }
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let (shop, dir) = arguments.sorted()?;
    let progress = Progress::start();
    progress.now("reading the notes");
    let notes = open::with_problems(&dir)?;
    if notes.has_errors() {
        drop(progress);
        return Ok(pages::refused(notes.problems(), &notes.sources));
    }
    let whom = shop.map_or(Ok(Addressee::Anyone), |shop| find(&notes.dossier, shop))?;
    let papers = papers(&notes.dossier, &arguments.attach)?;
    progress.now("planning");
    let outlook = Outlook::of(&notes);
    let edition = Edition::new(&notes, &outlook, arguments.pages.date()?, arguments.pages.draft);
    let filled =
        arguments.pages.templates().and_then(|templates| render::sheet(edition, whom, &papers, &templates));
    drop(progress);
    match filled {
        Err(fault) => Ok(pages::not_put_together(&fault, &notes)),
        Ok(None) => {
            output::say(&format!("{}; nothing was written.", nothing_open(&notes.dossier, whom)));
            Ok(Outcome::Clean)
        }
        Ok(Some(sheet)) => set(arguments, &dir, &notes, whom, &sheet),
    }
}

fn find(dossier: &Dossier, id: &str) -> Result<Addressee, Trouble> {
    if let Some(NoteId::Shop(shop)) = dossier.find(id) {
        return Ok(Addressee::Shop(shop));
    }
    let shops: Vec<&str> = dossier.shops.ids().map(|shop| dossier[shop].id()).collect();
    let help = match nearest(id, shops.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if shops.is_empty() => "the notes hold no shop".to_owned(),
        None => format!("the shops are {}", shops.join(", ")),
    };
    Err(Trouble(format!("there is no shop with the id `{id}`; {help}")))
}

/// The papers asked for: each must have a file, and none may be private.
fn papers(dossier: &Dossier, ids: &[String]) -> Result<Vec<PaperId>, Trouble> {
    ids.iter().map(|id| paper(dossier, id).map_err(Trouble)).collect()
}

fn paper(dossier: &Dossier, id: &str) -> Result<PaperId, String> {
    let papers = || dossier.papers.ids();
    let Some(found) = papers().find(|paper| dossier[*paper].id() == id) else {
        let near = nearest(id, papers().map(|paper| dossier[paper].id()));
        let help = near.map(|near| format!("; did you mean `{near}`?")).unwrap_or_default();
        return Err(format!("there is no paper with the id `{id}`{help}"));
    };
    match &dossier[found] {
        paper if paper.head.private => Err(format!("`{id}` is private and stays in your own dossier")),
        paper if paper.file.is_none() => Err(format!("the paper `{id}` names no `file:` to attach")),
        _ => Ok(found),
    }
}

fn nothing_open(dossier: &Dossier, whom: Addressee) -> String {
    match whom {
        Addressee::Shop(shop) => format!("no open job is to be done at {}", dossier[shop].name_after_at()),
        Addressee::Anyone => "every open job has a shop that can do it".to_owned(),
    }
}

fn set(arguments: &Arguments, dir: &Path, notes: &Notes, whom: Addressee, sheet: &Sheet) -> Ended {
    let name = match whom {
        Addressee::Shop(shop) => format!("sheet-{}.pdf", notes.dossier[shop].id()),
        Addressee::Anyone => "sheet-unplaced.pdf".to_owned(),
    };
    let progress = Progress::start();
    progress.now("setting the pages");
    let identity = format!("{}, {name}", notes.dossier.about.title);
    let made = arguments.pages.set(&sheet.folder, identity);
    drop(progress);
    match made {
        Err(faults) => Ok(pages::not_set(&faults, &sheet.folder, &notes.sources)),
        Ok(made) if pages::would_leak(&made, &Secrets::of(notes))? => Ok(Outcome::ProblemsInNotes),
        Ok(made) => {
            storage::replace(dir, &[(format!("out/{name}"), made.pdf.clone())])?;
            report(&dir.join("out").join(name), notes, sheet, &made);
            Ok(Outcome::Clean)
        }
    }
}

fn report(path: &Path, notes: &Notes, sheet: &Sheet, made: &Made) {
    pages::mention_warnings(made);
    for kept in &sheet.kept_back {
        output::say(&told(kept, &notes.sources));
    }
    if sheet.kept_back.iter().any(|kept| kept.can_go) {
        output::say(LET_THROUGH);
    }
    if !sheet.stays.is_empty() {
        let ids: Vec<&str> = sheet.stays.iter().map(|note| notes.dossier.head(*note).id.as_str()).collect();
        output::say(&format!(
            "not in it, for want of `for_helpers: true` in their notes: {}",
            ids.join(", ")
        ));
    }
    if !sheet.unneeded.is_empty() {
        let ids: Vec<&str> =
            sheet.unneeded.iter().map(|note| notes.dossier.head(*note).id.as_str()).collect();
        output::say(&format!("not in it, since no job of it needs them: {}", ids.join(", ")));
    }
    if notes.dossier.about.keeper_contact == KeeperContact::default() {
        output::say("it does not say how to reach you: `keeper_contact:` in dossier.yaml does");
    }
    for missing in &sheet.missing {
        output::say(&format!("job {}: {}", missing.job, missing.says()));
    }
    let (jobs, pages) = (counted(sheet.jobs, "job"), counted(made.pages, "page"));
    output::say(&format!("{}: {jobs} on {pages}", path.display()));
}

const LET_THROUGH: &str = "To let a passage through, put its words in the note: `for_helpers: [the words]`; \
                           for every note, in dossier.yaml.";

fn told(kept: &KeptBack, sources: &Sources) -> String {
    let place = kept.place.map_or_else(String::new, |place| {
        format!("{}:{}: ", sources.file(place.file).path, sources.place(place).line)
    });
    format!("kept back: {place}{}: \"{}\"", kept.why, kept.passage)
}
