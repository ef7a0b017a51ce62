//! The pictures and tables of data that the pages draw in, laid into the folder that is set.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

use serde::Serialize;

use super::escape::without_controls;
use super::shapes::{Mark, Picture};
use super::templates::RenderFault;
use crate::photo::{Cache, Kind, PhotoFault};
use crate::record::PictureMark;
use crate::source::Sources;
use crate::text::FileId;
use crate::typeset::Folder;

/// What the chapters have asked for so far.
pub(super) struct Assets<'a> {
    sources: &'a Sources,
    /// By project path.
    pictures: RefCell<BTreeMap<String, Laid>>,
    /// Files made here, by virtual path.
    data: RefCell<Folder>,
    /// How many footnotes are set.
    footnotes: Cell<usize>,
}

impl<'a> Assets<'a> {
    pub(super) fn of(sources: &'a Sources) -> Self {
        Self { sources, pictures: RefCell::default(), data: RefCell::default(), footnotes: Cell::default() }
    }

    /// A picture named in a note, printed at most so many millimetres wide; `None` when it can't be read (a problem says so).
    pub(super) fn picture(
        &self,
        from: FileId,
        target: &str,
        caption: Option<&str>,
        marks: &[PictureMark],
        width: f64,
    ) -> Option<Picture> {
        self.lay((from, target), caption, marks, width, true)
    }

    /// The picture of the whole, which has no number: where it is shown again, it is shown in full.
    pub(super) fn frontispiece(&self, from: FileId, target: &str, caption: &str) -> Option<Picture> {
        self.lay((from, target), Some(caption), &[], FULL, false)
    }

    fn lay(
        &self,
        (from, target): (FileId, &str),
        caption: Option<&str>,
        marks: &[PictureMark],
        width: f64,
        counts: bool,
    ) -> Option<Picture> {
        let path = self.sources.relative(from, &crate::dossier::decoded(target))?;
        let kind = Kind::of(&self.sources.beginning(&path, Kind::BEGINNING).ok()?)?;
        let mut pictures = self.pictures.borrow_mut();
        let number = pictures.len() + 1;
        // A raster has no ending: what it is made into is known only once it is made, and Typst looks at its bytes.
        let ending = if kind == Kind::Svg { ".svg" } else { "" };
        let laid = pictures.entry(path).or_insert_with(|| Laid {
            path: format!("/pictures/{number}{ending}"),
            width: 0.0,
            times: 0,
        });
        laid.width = laid.width.max(width);
        laid.times += usize::from(counts);
        let time = laid.times;
        let shown = laid.path.clone();
        let caption = caption.map(str::trim).filter(|text| !text.is_empty()).map(str::to_owned);
        let name = target.rsplit('/').next().unwrap_or(target);
        let alt = caption.clone().unwrap_or_else(|| format!("Picture {name}, without a description"));
        let mark = |mark: &PictureMark| Mark { x: mark.at[0], y: mark.at[1], says: mark.says.clone() };
        Some(Picture { path: shown, time, alt, caption, marks: marks.iter().map(mark).collect() })
    }

    /// Lays a table of data into the folder; the path that the template reads it from.
    pub(super) fn lay_data(&self, data: &impl Serialize) -> String {
        let mut value = serde_json::to_value(data).unwrap_or_default();
        without_controls(&mut value);
        self.lay_bytes("data", ".json", value.to_string().into_bytes())
    }

    /// Lays a file made here into the folder; its path, which no name of the project is in.
    pub(super) fn lay_bytes(&self, kind: &str, ending: &str, bytes: Vec<u8>) -> String {
        let mut data = self.data.borrow_mut();
        let path = format!("/{kind}/{}{ending}", data.len() + 1);
        data.insert(path.clone(), bytes);
        path
    }

    /// The number of a new footnote, from 1: none is in the document twice.
    pub(super) fn next_footnote(&self) -> usize {
        self.footnotes.set(self.footnotes.get() + 1);
        self.footnotes.get()
    }

    /// The data and the pictures that the chapters asked for.
    ///
    /// # Errors
    /// Pictures that can't be printed.
    pub(super) fn lay_files(&self, folder: &mut Folder) -> Result<(), RenderFault> {
        folder.extend(self.data.borrow().clone());
        let faults = self.lay_pictures(folder);
        if faults.is_empty() { Ok(()) } else { Err(RenderFault::Pictures(faults)) }
    }

    /// Every picture made ready for its size, without what a camera writes beside it; those that can't be printed.
    fn lay_pictures(&self, folder: &mut Folder) -> Vec<(String, PhotoFault)> {
        let cache = Cache::of_project(self.sources.root());
        let pictures = self.pictures.borrow();
        let jobs: Vec<(&String, f64)> = pictures.iter().map(|(path, laid)| (path, laid.width)).collect();
        let sources = self.sources;
        let made = cache.prepare_all(&jobs, |path| sources.bytes(path));
        cache.sweep();
        let mut faults = Vec::new();
        for ((path, laid), made) in pictures.iter().zip(made) {
            match made {
                Ok(prepared) => {
                    folder.insert(laid.path.clone(), prepared.bytes);
                }
                Err(fault) => faults.push((path.clone(), fault)),
            }
        }
        faults
    }
}

/// A picture in the folder.
#[derive(Clone, Debug)]
struct Laid {
    /// Its virtual path.
    path: String,
    /// The widest that it is printed, in millimetres.
    width: f64,
    /// How often it was asked for.
    times: usize,
}

/// The printed width of a picture that stands alone, of one of two, of one of more, in millimetres.
pub(super) const COLUMN: f64 = 112.0;

/// The printed width of a picture across both columns, in millimetres.
pub(super) const FULL: f64 = 158.0;

const HALF: f64 = 54.0;

const THIRD: f64 = 34.7;

/// The printed width of each of so many pictures side by side.
pub(super) fn width_of_each(count: usize) -> f64 {
    match count {
        0 | 1 => COLUMN,
        2 => HALF,
        _ => THIRD,
    }
}
