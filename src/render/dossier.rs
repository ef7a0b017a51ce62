//! The whole dossier: every chapter filled in, the look beside it, the notes attached.

use serde::Serialize;

use super::attached::{self, Attached};
use super::edition::Edition;
use super::shapes::Doc;
use super::templates::{RenderFault, Templates};
use super::{assumptions, bill, closing, cover, index, jobs, log, machine, questions, sequence};
use crate::bill::report::BillReport;
use crate::typeset::Folder;

/// What a template sees: its chapter, and the document that it stands in.
#[derive(Serialize)]
pub(super) struct WithDoc<'a, T: Serialize> {
    pub(super) doc: &'a Doc,
    #[serde(flatten)]
    pub(super) chapter: T,
}

#[derive(Serialize)]
struct Whole {
    chapters: Vec<&'static str>,
    attached: Vec<Attached>,
}

/// The file that the others are included from.
pub const MAIN: &str = "/main.typ";

/// Fills in every chapter.
///
/// # Errors
/// A template that can't be filled in, a picture that can't be printed, a paper that can't be read.
pub fn dossier(edition: &Edition, templates: &Templates) -> Result<Folder, RenderFault> {
    let doc = Doc::of(edition);
    let mut chapters = Chapters { doc: &doc, templates, folder: Folder::new(), names: Vec::new() };
    chapters.fill("cover", cover::chapter(edition))?;
    chapters.fill("reading", cover::reading(edition))?;
    chapters.fill("machine", machine::chapter(edition))?;
    chapters.fill("questions", questions::chapter(edition))?;
    chapters.fill("assumptions", assumptions::chapter(edition))?;
    chapters.fill("bill", bill::chapter(edition))?;
    chapters.fill("sequence", sequence::chapter(edition))?;
    chapters.fill("jobs", jobs::chapter(edition))?;
    chapters.fill("log", log::chapter(edition))?;
    if let Some(closing) = closing::chapter(edition) {
        chapters.fill("closing", closing)?;
    }
    chapters.fill("sources", assumptions::sources(edition))?;
    chapters.fill("index", index::chapter(edition))?;
    let Chapters { mut folder, names, .. } = chapters;
    let attached = attached::record(edition, &mut folder)?;
    let whole = WithDoc { doc: &doc, chapter: Whole { chapters: names, attached } };
    folder.insert(MAIN.to_owned(), templates.fill("dossier.typ", &whole)?.into_bytes());
    templates.lay_look(&mut folder);
    edition.assets.lay_files(&mut folder)?;
    Ok(folder)
}

struct Chapters<'a> {
    doc: &'a Doc,
    templates: &'a Templates,
    folder: Folder,
    names: Vec<&'static str>,
}

impl Chapters<'_> {
    fn fill(&mut self, name: &'static str, chapter: impl Serialize) -> Result<(), RenderFault> {
        let text = self.templates.fill(&format!("{name}.typ"), &WithDoc { doc: self.doc, chapter })?;
        self.folder.insert(format!("/chapters/{name}.typ"), text.into_bytes());
        self.names.push(name);
        Ok(())
    }
}

/// The bill of materials as CSV.
pub fn bill_csv(edition: &Edition) -> String {
    BillReport::of(edition.dossier(), &edition.outlook.bill).csv()
}
