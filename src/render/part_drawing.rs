//! The drawing of a part's shape: a figure on its page, and a sheet of its own.

use serde::Serialize;

use super::assets::COLUMN;
use super::dossier::MAIN;
use super::edition::Edition;
use super::shapes::Doc;
use super::templates::{RenderFault, Templates};
use crate::Project;
use crate::dossier::Dossier;
use crate::dossier::{NoteId, PartId};
use crate::drafting::{Drawing, Purpose, Sheet, Title, Unplaceable, draw, to_svg};
use crate::record::{Disposition, PaperSize};
use crate::shape::{Allowance, Shape, work_out};
use crate::trade::material;
use crate::typeset::Folder;

/// The tallest that a figure on a part's page may be, mm.
const TALLEST: f64 = 110.0;
/// A figure is laid out on a larger paper and printed smaller: its least lettering is 7 pt there.
const REDUCED: f64 = 0.75;

/// A drawing, and all that it says in words.
#[derive(Clone, Debug)]
pub struct PartDrawing {
    pub drawing: Drawing,
    pub words: String,
}

/// A drawing as a template sees it; sizes in millimetres.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Laid {
    path: String,
    alt: String,
    width: f64,
    height: f64,
    /// What is not known yet.
    held: Vec<String>,
}

#[derive(Serialize)]
struct Page {
    doc: Doc,
    title: String,
    drawing: Laid,
}

impl PartDrawing {
    /// As a picture of its own, with its words as the alternative text.
    pub fn svg(&self) -> String {
        to_svg(&self.drawing, &self.words)
    }

    /// What has to be done before the part can be made: each size on hold once.
    pub fn missing(&self) -> Vec<&str> {
        let mut all: Vec<&str> = Vec::new();
        for held in &self.drawing.held {
            if !all.contains(&held.why.as_str()) {
                all.push(&held.why);
            }
        }
        all
    }
}

/// The shape of a part that can be drawn; `None` without one, or while it has faults.
pub fn shape(project: &Project, part: PartId) -> Option<&Shape> {
    let formed = project.worked.shape(part)?;
    formed.is_sound().then_some(&formed.shape)
}

/// Larger sheets on their side, for what finds no room on the dossier's paper: A3 and A2 (ISO 216), B and C of ASME Y14.1.
const LARGER_A4: [Sheet; 2] = [Sheet::framed(420.0, 297.0), Sheet::framed(594.0, 420.0)];
const LARGER_LETTER: [Sheet; 2] = [Sheet::framed(431.8, 279.4), Sheet::framed(558.8, 431.8)];

/// The drawing on a sheet of the dossier's paper, on its side or upright, whichever shows it larger; on a larger sheet where
/// its sizes find no room on that.
///
/// # Errors
/// If its sizes find no room on the largest sheet.
pub fn on_sheet(edition: &Edition, part: PartId, shape: &Shape) -> Result<PartDrawing, Unplaceable> {
    on_sheet_of(edition, part, shape, edition.dossier().about.keeper.as_deref().unwrap_or_default())
}

/// The same with these words for the keeper in its title block.
pub(super) fn on_sheet_of(
    edition: &Edition,
    part: PartId,
    shape: &Shape,
    keeper: &str,
) -> Result<PartDrawing, Unplaceable> {
    let (sheets, larger) = match edition.dossier().about.paper {
        PaperSize::A4 => ([Sheet::A4_LANDSCAPE, Sheet::A4_PORTRAIT], LARGER_A4),
        PaperSize::Letter => ([Sheet::LETTER_LANDSCAPE, Sheet::LETTER_PORTRAIT], LARGER_LETTER),
    };
    let title = title(edition, part, shape, keeper.to_owned());
    let [flat, upright] = sheets.map(|sheet| draw(shape, &title, &sheet));
    let scale =
        |drawn: &Result<Drawing, Unplaceable>| drawn.as_ref().map_or(0.0, |each| each.scale.mm_per_metre());
    let own = if scale(&upright) > scale(&flat) { upright } else { flat };
    let drawing = larger.iter().fold(own, |drawn, sheet| drawn.or_else(|_| draw(shape, &title, sheet)))?;
    Ok(PartDrawing { words: words(edition.dossier(), part, &drawing), drawing })
}

/// The drawing as a figure as wide as a page's main column; `None` if it has no room there.
pub(super) fn figure(edition: &Edition, part: PartId) -> Option<Laid> {
    let shape = shape(edition.project, part)?;
    let title =
        Title { purpose: purpose(edition, part), settles: settles(edition, part), ..Title::default() };
    let drawing = draw(shape, &title, &Sheet::figure(COLUMN / REDUCED, TALLEST / REDUCED)).ok()?;
    let words = format!("Drawing of {}. {}", edition.dossier()[part].name, said(&drawing));
    let laid = lay(edition, &PartDrawing { drawing, words });
    Some(Laid { width: laid.width * REDUCED, height: laid.height * REDUCED, ..laid })
}

/// The drawing as a document of one page.
///
/// # Errors
/// If the template can't be filled in.
pub fn document(
    edition: &Edition,
    part: PartId,
    drawn: &PartDrawing,
    templates: &Templates,
) -> Result<Folder, RenderFault> {
    let mut folder = Folder::new();
    let title = format!("{}: {}", edition.dossier()[part].name, edition.dossier().about.title);
    let page = Page { doc: Doc::of(edition), title, drawing: lay(edition, drawn) };
    folder.insert(MAIN.to_owned(), templates.fill("drawing.typ", &page)?.into_bytes());
    edition.assets.lay_files(&mut folder)?;
    Ok(folder)
}

pub(super) fn lay(edition: &Edition, drawn: &PartDrawing) -> Laid {
    Laid {
        path: edition.assets.lay_bytes("drawings", ".svg", drawn.svg().into_bytes()),
        alt: drawn.words.clone(),
        width: drawn.drawing.width,
        height: drawn.drawing.height,
        held: drawn.missing().into_iter().map(str::to_owned).collect(),
    }
}

fn title(edition: &Edition, part: PartId, shape: &Shape, keeper: String) -> Title {
    let (keys, about) = (&edition.dossier()[part], &edition.dossier().about);
    let day = edition.date.map(|date| date.to_string());
    Title {
        title: keys.name.clone(),
        number: keys.id().to_owned(),
        material: keys.material.clone().unwrap_or_default(),
        owner: keeper.clone(),
        creator: keeper,
        date: day.unwrap_or_default(),
        revision: about.revision.clone().unwrap_or_default(),
        sheet: "1/1".to_owned(),
        mass: mass(edition, part, shape).unwrap_or_default(),
        quantity: keys.quantity.to_string(),
        purpose: purpose(edition, part),
        settles: settles(edition, part),
        ..Title::default()
    }
}

fn purpose(edition: &Edition, part: PartId) -> Purpose {
    match edition.dossier()[part].disposition {
        Disposition::Rework => Purpose::Rework,
        _ => Purpose::Make,
    }
}

/// Every reason for which a size is on hold, with the steps and measurements that settle it, private ones left out.
fn settles(edition: &Edition, part: PartId) -> Vec<(String, String)> {
    let dossier = edition.dossier();
    let holds = dossier[part].holds().iter();
    let shown = holds.flat_map(|hold| hold.settled_by.iter().map(move |note| (hold, *note)));
    let goes_out = |note: NoteId| {
        matches!(note, NoteId::Step(_) | NoteId::Measurement(_)) && !edition.privacy().is_private(note)
    };
    let shown = shown.filter(|(_, note)| goes_out(*note));
    shown.map(|(hold, note)| (hold.why.clone(), dossier.title(note))).collect()
}

/// As typed; else from the volume and the density of the material.
fn mass(edition: &Edition, part: PartId, shape: &Shape) -> Option<String> {
    let keys = &edition.dossier()[part];
    let each = if keys.quantity > 1 { " each" } else { "" };
    if let Some(mass) = &keys.mass {
        return Some(format!("{}{each}", edition.amounts.typed(mass)));
    }
    let density = material::density(keys.material.as_deref()?)?;
    let volume = work_out(shape, &Allowance::USUAL).ok()?.volume;
    Some(format!("{}{each}", edition.amounts.mass(volume * density.middle())))
}

/// Every size and note of the drawing, for whoever does not see it.
fn words(dossier: &Dossier, part: PartId, drawing: &Drawing) -> String {
    let said = said(drawing);
    format!("Drawing of {}, scale {}. {said}", dossier[part].name, drawing.scale.text())
}

fn said(drawing: &Drawing) -> String {
    let stated: Vec<String> = drawing.stated.iter().map(|size| size.text.replace('⌀', "diameter ")).collect();
    format!("Sizes: {}. Notes: {}.", stated.join("; "), drawing.notes.join("; "))
}
