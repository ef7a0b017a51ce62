//! Typst text in, PDF out.
//!
//! Takes: a [`Folder`] of virtual files, made whole in memory. Gives: the PDF's bytes, or [`Fault`]s with the virtual
//! place and the note it was made from. Never: reads the disk or the network; no packages, only the embedded fonts.
//! The only user of the Typst crates.

mod coverage;
mod finish;
mod fragment;
mod passes;
mod places;
pub mod problems;
mod world;

use std::collections::BTreeMap;
use std::ops::Range;

use typst::diag::{Severity, SourceDiagnostic};
use typst::foundations::Smart;
use typst::{World, WorldExt};
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

pub use fragment::{Fragment, calls_only};

use crate::guard::guarded;
use crate::text::FileId;
use world::MemoryWorld;

/// Virtual files by their path from the root, such as `/chapters/bill.typ`. In texts outside `/look/` a character that
/// the text face lacks is written as its code.
pub type Folder = BTreeMap<String, Vec<u8>>;

/// How the PDF is made.
#[derive(Clone, Debug)]
pub struct Making {
    /// The path of the file that the others are included from.
    pub main: String,
    /// What identifies the document from one edition to the next.
    pub identity: String,
    /// Archival and accessible (PDF/A-3a and PDF/UA-1), or a quick draft that claims neither.
    pub archival: bool,
}

/// A finished PDF.
#[derive(Debug)]
pub struct Made {
    pub pdf: Vec<u8>,
    pub pages: usize,
    /// How often the pages were laid out until every number on them was right.
    pub passes: usize,
    /// What Typst warned of.
    pub warnings: Vec<Fault>,
    /// The page of every label, from 1.
    pub places: BTreeMap<String, usize>,
}

/// Something Typst could not set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    pub message: String,
    pub hints: Vec<String>,
    /// The virtual file, and where in it.
    pub place: Option<(String, Range<usize>)>,
    /// The note by its number, and the line in it, that this part of the text was made from.
    pub note: Option<(FileId, usize)>,
}

/// The beginning of a line that names the note and the line that the text below it was made from.
const NOTE_MARK: &str = "// note ";

/// Names the note and the line that the text below it is made from: in numbers, since a name may hold anything, and the
/// end of a line would end the comment.
pub fn note_mark(file: FileId, line: usize) -> String {
    format!("{NOTE_MARK}{}, line {line}\n", file.index())
}

/// Sets the folder's main file.
///
/// # Errors
/// Every error that Typst reports, in its order.
pub fn typeset(folder: &Folder, making: &Making) -> Result<Made, Vec<Fault>> {
    let mut world = MemoryWorld::new(folder, &making.main);
    let made = guarded(|| set(&mut world, making, None));
    made.unwrap_or_else(|why| Err(vec![gave_up(&why, &world)])).map(|(made, _)| made)
}

/// What a process that sets the same documents again and again keeps of the last time.
#[derive(Default)]
pub struct Again(BTreeMap<String, passes::Known>);

impl Again {
    /// As [`typeset`], but what has not changed since the last time is not laid out anew.
    ///
    /// # Errors
    /// As [`typeset`]; the last good time stays remembered.
    pub fn typeset(&mut self, folder: &Folder, making: &Making) -> Result<Made, Vec<Fault>> {
        let mut world = MemoryWorld::new(folder, &making.main);
        let made = guarded(|| set(&mut world, making, Some(self.0.get(&making.identity))));
        let (made, known) = made.unwrap_or_else(|why| Err(vec![gave_up(&why, &world)]))?;
        self.0.insert(making.identity.clone(), known);
        Ok(made)
    }
}

/// again: what is known of the last time, where the layout is kept for the next.
fn set(
    world: &mut MemoryWorld,
    making: &Making,
    again: Option<Option<&passes::Known>>,
) -> Result<(Made, passes::Known), Vec<Fault>> {
    let faults = |world: &MemoryWorld, diagnostics: &[SourceDiagnostic]| -> Vec<Fault> {
        diagnostics.iter().map(|diagnostic| fault(diagnostic, world)).collect()
    };
    let set =
        passes::set(world, again.flatten(), again.is_some()).map_err(|errors| faults(world, &errors))?;
    let document = finish::finished(&set.document).map_err(|errors| faults(world, &errors))?;
    let passes::Set { document: laid_out, known, warnings, passes } = set;
    drop(laid_out);
    if again.is_none() {
        typst::comemo::evict(0);
    }
    let pdf = typst_pdf::pdf(&document, &options(making)).map_err(|errors| faults(world, &errors))?;
    let warned: Vec<SourceDiagnostic> =
        warnings.into_iter().filter(|each| each.severity == Severity::Warning).collect();
    let (pages, warnings) = (document.pages().len(), faults(world, &warned));
    let made = Made { pdf, pages, passes, warnings, places: known.pages() };
    Ok((made, known))
}

/// How many builds a piece of layout is kept after its last use.
const REMEMBERED: usize = 3;

/// Gives back the memory of layout that no late build has used: for a process that builds again and again.
pub fn forget_what_is_old() {
    typst::comemo::evict(REMEMBERED);
}

/// The page setter itself failed; what it read last is the likeliest cause.
fn gave_up(why: &str, world: &MemoryWorld) -> Fault {
    let last = world.last_read().map(|path| format!("; the last file that it read is `{path}`"));
    Fault {
        message: format!("the page setter failed: {why}{}", last.unwrap_or_default()),
        hints: Vec::new(),
        place: None,
        note: None,
    }
}

fn options(making: &Making) -> PdfOptions {
    let archival = PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1])
        .expect("PDF/A-3a and PDF/UA-1 can be claimed together");
    PdfOptions {
        ident: Smart::Custom(making.identity.clone()),
        creator: Smart::Custom(Some(format!("asfound {}", env!("CARGO_PKG_VERSION")))),
        standards: if making.archival { archival } else { PdfStandards::default() },
        ..PdfOptions::default()
    }
}

fn fault(diagnostic: &SourceDiagnostic, world: &MemoryWorld) -> Fault {
    let file = diagnostic.span.id();
    let range = world.range(diagnostic.span);
    let source = file.and_then(|id| world.source(id).ok());
    let place = source
        .as_ref()
        .zip(range.clone())
        .map(|(source, range)| (source.id().vpath().get_with_slash().to_owned(), range));
    let note = source.as_ref().zip(range).and_then(|(source, range)| note_above(source.text(), range.start));
    Fault {
        message: diagnostic.message.to_string(),
        hints: diagnostic.hints.iter().map(|hint| hint.v.to_string()).collect(),
        place,
        note,
    }
}

/// The nearest mark above a place: `// note 3, line 12`.
fn note_above(text: &str, at: usize) -> Option<(FileId, usize)> {
    let above = text.get(..at)?;
    let mark = above.lines().rev().find_map(|line| line.trim_start().strip_prefix(NOTE_MARK))?;
    let (file, line) = mark.split_once(", line ")?;
    Some((FileId::new(file.parse::<u32>().ok()? as usize), line.trim().parse().ok()?))
}
