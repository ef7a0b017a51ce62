//! The whole dossier: every chapter filled in, the look beside it, the notes attached.

use serde::Serialize;

use super::attached::{self, Attached};
use super::edition::Edition;
use super::shapes::Doc;
use super::templates::{RenderFault, Templates};
use super::{
    assumptions, bill, closing, cover, fitness, index, jobs, log, machine, next, papers, questions, sequence,
};
use crate::bill::report::BillReport;
use crate::record::Chapter;
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
    for chapter in &edition.dossier().about.chapters {
        chapters.add(edition, *chapter)?;
    }
    let Chapters { mut folder, names, .. } = chapters;
    edition.assets.lay_files(&mut folder)?;
    let attached = attached::record(edition, &mut folder)?;
    let whole = WithDoc { doc: &doc, chapter: Whole { chapters: names, attached } };
    folder.insert(MAIN.to_owned(), templates.fill("dossier.typ", &whole)?.into_bytes());
    templates.lay_look(&mut folder);
    Ok(folder)
}

struct Chapters<'a> {
    doc: &'a Doc,
    templates: &'a Templates,
    folder: Folder,
    names: Vec<&'static str>,
}

impl Chapters<'_> {
    fn add(&mut self, edition: &Edition, chapter: Chapter) -> Result<(), RenderFault> {
        match chapter {
            Chapter::Next => self.fill("next", next::chapter(edition)),
            Chapter::Inspector => self.fill("inspector", fitness::inspector(edition)),
            Chapter::Reading => self.fill("reading", cover::reading(edition)),
            Chapter::Machine => self.fill("machine", machine::chapter(edition)),
            Chapter::Questions => self.fill("questions", questions::chapter(edition)),
            Chapter::Checks => self.fill("assumptions", assumptions::chapter(edition)),
            Chapter::Bill => self.fill("bill", bill::chapter(edition)),
            Chapter::Sequence => self.fill("sequence", sequence::chapter(edition)),
            Chapter::Jobs => self.fill("jobs", jobs::chapter(edition)),
            Chapter::Papers => self.fill("papers", papers::chapter(edition)),
            Chapter::Log => self.fill("log", log::chapter(edition)),
            Chapter::AsLeft => {
                closing::chapter(edition).map_or(Ok(()), |closing| self.fill("closing", closing))
            }
            Chapter::Sources => self.fill("sources", assumptions::sources(edition)),
            Chapter::Index => self.fill("index", index::chapter(edition)),
        }
    }

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
