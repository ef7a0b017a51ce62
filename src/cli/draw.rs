//! `draw`: the drawing of one part, written whole or not at all.

use std::path::{Path, PathBuf};

use super::open;
use super::output::{self, Progress};
use super::pages::{self, Pages};
use super::storage;
use super::{Ended, Outcome, Trouble};
use crate::calc::print::counted;
use crate::diagnostic::nearest;
use crate::dossier::{Dossier, NoteId, PartId};
use crate::drafting::{Unplaceable, profile_to_dxf};
use crate::render::{self, Edition, PartDrawing};
use crate::shape::Shape;
use crate::{Outlook, Project as Notes};

/// Write the drawing of a part that has a `shape`: out/PART.pdf, out/PART.svg and its contour, out/PART.dxf
///
/// The drawing states every size once, with its limits, on one sheet of the dossier's paper at a scale of ISO 5455. Sizes
/// with limits are numbered, so that readings can be sent back by their numbers. The DXF file holds the contour in
/// millimetres, for laser, water-jet and lathe; it is left out while a size is on hold.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The id of the part
    #[arg(value_name = "PART")]
    part: String,
    /// The project's folder, which holds dossier.yaml
    #[arg(value_name = "DIR", default_value = ".")]
    dir: PathBuf,
    #[command(flatten)]
    pages: Pages,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let progress = Progress::start();
    progress.now("reading the notes");
    let notes = open::with_problems(&arguments.dir)?;
    if notes.has_errors() {
        drop(progress);
        return Ok(pages::refused(notes.problems(), &notes.sources));
    }
    let part = find(&notes.dossier, &arguments.part)?;
    let outlook = Outlook::of(&notes);
    let edition = Edition::new(&notes, &outlook, arguments.pages.date()?, arguments.pages.draft);
    let shape = render::shape_of(&notes, part).ok_or_else(|| without_shape(&arguments.part))?;
    let drawn =
        render::drawing_on_sheet(&edition, part, shape).map_err(|why| no_room(&arguments.part, &why))?;
    progress.now("setting the page");
    let filled = arguments
        .pages
        .templates()
        .and_then(|templates| render::drawing_document(&edition, part, &drawn, &templates));
    let folder = match filled {
        Ok(folder) => folder,
        Err(fault) => return Ok(pages::not_put_together(&fault, &notes)),
    };
    let identity = format!("{}, {}", notes.dossier.about.title, arguments.part);
    let made = arguments.pages.set(&folder, identity);
    drop(progress);
    match made {
        Err(faults) => Ok(pages::not_set(&faults, &folder, &notes.sources)),
        Ok(made) => {
            pages::mention_warnings(&made);
            write(arguments, &notes, shape, &drawn, made.pdf)
        }
    }
}

fn write(arguments: &Arguments, notes: &Notes, shape: &Shape, drawn: &PartDrawing, pdf: Vec<u8>) -> Ended {
    let path = |ending: &str| format!("out/{}.{ending}", arguments.part);
    let mut files = vec![(path("pdf"), pdf), (path("svg"), drawn.svg().into_bytes())];
    files.extend(profile_to_dxf(shape).ok().map(|contour| (path("dxf"), contour.into_bytes())));
    let names: Vec<String> =
        files.iter().map(|(path, _)| Path::new(&arguments.dir).join(path).display().to_string()).collect();
    storage::replace(&arguments.dir, &files)?;
    let name = &notes.dossier[find(&notes.dossier, &arguments.part)?].name;
    for why in drawn.missing() {
        output::say(&format!("{name} can't be made from this drawing: a size is missing: {why}"));
    }
    let (sizes, scale) = (counted(drawn.drawing.numbered.len(), "size"), drawn.drawing.scale.text());
    output::say(&format!("{}: scale {scale}, {sizes} with limits", names.join(", ")));
    Ok(Outcome::Clean)
}

fn find(dossier: &Dossier, id: &str) -> Result<PartId, Trouble> {
    if let Some(NoteId::Part(part)) = dossier.find(id) {
        return Ok(part);
    }
    let drawable = || dossier.parts.ids().filter(|part| dossier[*part].shape.is_some());
    let ids: Vec<&str> = drawable().map(|part| dossier[part].id()).collect();
    let help = match nearest(id, ids.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if ids.is_empty() => "no part has a `shape` yet".to_owned(),
        None => format!("the parts with a `shape` are {}", ids.join(", ")),
    };
    Err(Trouble(format!("there is no part with the id `{id}`; {help}")))
}

fn without_shape(id: &str) -> Trouble {
    Trouble(format!("`{id}` has no `shape`, so there is nothing to draw; say in its note what it looks like"))
}

fn no_room(id: &str, why: &Unplaceable) -> Trouble {
    let sizes = match why {
        Unplaceable::NoRoom { sizes } => counted(*sizes, "size"),
        Unplaceable::Faulty(faults) => counted(faults.len(), "fault"),
    };
    Trouble(format!("`{id}` finds no room on one sheet with its {sizes}; describe it as two parts"))
}
