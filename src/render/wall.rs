//! The repair sequence on one large sheet, to hang on the wall.

use std::collections::BTreeMap;

use serde::Serialize;

use super::dossier::{MAIN, WithDoc};
use super::drawing::{Drawing, whole};
use super::edition::Edition;
use super::graph::Room;
use super::shapes::Doc;
use super::templates::{RenderFault, Templates};
use crate::record::PaperSize;
use crate::typeset::Folder;

#[derive(Serialize)]
struct Wall {
    /// Of the paper and of its margins, in points.
    width: f64,
    height: f64,
    margin: f64,
    /// By which the drawing is enlarged.
    scale: f64,
    data: &'static str,
}

/// Paper, in points.
#[derive(Clone, Copy, Debug)]
struct Paper {
    width: f64,
    height: f64,
}

/// ISO 216, A3 to A0, in points: 297 mm by 420 mm and so on.
const ISO: [[f64; 2]; 4] = [[841.9, 1190.6], [1190.6, 1683.8], [1683.8, 2383.9], [2383.9, 3370.4]];
/// ANSI/ASME Y14.1, sizes B to E: 11 in by 17 in and so on.
const INCH: [[f64; 2]; 4] = [[792.0, 1224.0], [1224.0, 1584.0], [1584.0, 2448.0], [2448.0, 3168.0]];
/// No side of a page may be longer (ISO 19005-2, 6.1.13, from memory).
const LONGEST: f64 = 14_400.0;

const MARGIN: f64 = 34.0;
/// What title and key take of the height.
const HEAD_AND_KEY: f64 = 120.0;
/// The drawing's smallest letters are 7.5 points: they are read at arm's length from 9 points on.
const LEAST_SCALE: f64 = 1.25;
const MOST_SCALE: f64 = 2.0;

/// The virtual files of the sheet, its main file at [`MAIN`]; `pages` are those of the labels in the dossier.
///
/// # Errors
/// A template that can't be filled in.
pub fn sequence_sheet(
    edition: &Edition,
    templates: &Templates,
    pages: &BTreeMap<String, usize>,
) -> Result<Folder, RenderFault> {
    const DATA: &str = "/data/wall.json";
    let papers = papers(edition.dossier().about.paper);
    let rooms: Vec<Room> = papers.iter().map(Paper::room).collect();
    let (at, drawing) = whole(edition, &rooms, pages);
    let wall = papers[at].holding(&drawing, DATA);
    let mut folder = Folder::new();
    let text = templates.fill("wall.typ", &WithDoc { doc: &Doc::of(edition), chapter: wall })?;
    folder.insert(MAIN.to_owned(), text.into_bytes());
    folder.insert(DATA.to_owned(), serde_json::to_vec(&drawing).expect("plain shapes always serialise"));
    templates.lay_look(&mut folder);
    Ok(folder)
}

/// From the smallest, each lying and standing; the last one as long as the graph is high.
fn papers(size: PaperSize) -> Vec<Paper> {
    let sizes = match size {
        PaperSize::A4 => ISO,
        PaperSize::Letter => INCH,
    };
    let [_, _, _, [_, widest]] = sizes;
    let both = sizes.into_iter().flat_map(|[short, long]| [(long, short), (short, long)]);
    let fixed = both.map(|(width, height)| Paper { width, height });
    fixed.chain([Paper { width: widest, height: f64::INFINITY }]).collect()
}

impl Paper {
    /// For the drawing, in its own points.
    fn room(&self) -> Room {
        Room {
            width: (self.width - 2.0 * MARGIN) / LEAST_SCALE,
            height: (self.height - 2.0 * MARGIN - HEAD_AND_KEY) / LEAST_SCALE,
        }
    }

    fn holding(self, drawing: &Drawing, data: &'static str) -> Wall {
        let rest = 2.0 * MARGIN + HEAD_AND_KEY;
        let needed = (drawing.height * LEAST_SCALE + rest).clamp(self.width, LONGEST);
        let height = if self.height.is_finite() { self.height } else { needed };
        let across = (self.width - 2.0 * MARGIN) / drawing.width.max(1.0);
        let scale = across.min((height - rest) / drawing.height.max(1.0)).min(MOST_SCALE);
        Wall { width: self.width, height, margin: MARGIN, scale, data }
    }
}
