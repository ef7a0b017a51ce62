//! What Typst may see: the virtual files, the embedded fonts, no clock.

use std::collections::HashMap;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, OnceLock};

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_kit::fonts::{FontStore, embedded};

use super::Folder;
use super::coverage::printable;
use super::places::Places;

pub(super) struct MemoryWorld {
    library: LazyHash<Library>,
    main: FileId,
    sources: HashMap<FileId, Source>,
    files: HashMap<FileId, Bytes>,
    last_read: Mutex<Option<FileId>>,
    places: Option<Places>,
    asked_for_places: AtomicBool,
}

/// The embedded fonts, loaded once a process.
pub(super) fn fonts() -> &'static FontStore {
    static FONTS: OnceLock<FontStore> = OnceLock::new();
    FONTS.get_or_init(|| {
        let mut store = FontStore::new();
        store.extend(embedded());
        store
    })
}

impl MemoryWorld {
    pub(super) fn new(folder: &Folder, main: &str) -> Self {
        let mut world = Self {
            library: LazyHash::new(Library::default()),
            main: file_id(main).unwrap_or_else(nowhere),
            sources: HashMap::new(),
            files: HashMap::new(),
            last_read: Mutex::new(None),
            places: None,
            asked_for_places: AtomicBool::new(false),
        };
        for (path, bytes) in folder {
            let Some(id) = file_id(path) else { continue };
            let bytes = match Path::new(path).extension().and_then(OsStr::to_str) {
                Some("typ" | "json") if !path.starts_with("/look/") => {
                    printable(&String::from_utf8_lossy(bytes)).into_bytes()
                }
                _ => bytes.clone(),
            };
            if path.ends_with(".typ") {
                let text = String::from_utf8_lossy(&bytes).into_owned();
                world.sources.insert(id, Source::new(id, text));
            }
            world.files.insert(id, Bytes::new(bytes));
        }
        world
    }

    /// Tells the text what is known of its pages.
    pub(super) fn write(&mut self, places: &Places) {
        self.places = Some(places.clone());
    }

    /// A file of what is known of the pages.
    fn place(&self, path: &str) -> Option<Bytes> {
        let found = self.places.as_ref()?.file(path)?;
        self.asked_for_places.store(true, Ordering::Relaxed);
        Some(Bytes::from_string(found))
    }

    /// Whether anything depends on what is known of the pages.
    pub(super) fn asked_for_places(&self) -> bool {
        self.asked_for_places.load(Ordering::Relaxed)
    }

    /// How long the made text is.
    pub(super) fn letters(&self) -> usize {
        self.sources.values().map(|source| source.text().len()).sum()
    }

    /// The path of the picture or table that was asked for last.
    pub(super) fn last_read(&self) -> Option<String> {
        let last = *self.last_read.lock().ok()?;
        Some(last?.get().vpath().get_with_slash().to_owned())
    }
}

fn file_id(path: &str) -> Option<FileId> {
    Some(RootedPath::new(VirtualRoot::Project, VirtualPath::new(path).ok()?).intern())
}

/// A path that no folder holds: Typst then says that the main file is missing.
fn nowhere() -> FileId {
    file_id("/main.typ").expect("a plain path is valid")
}

impl World for MemoryWorld {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        fonts().book()
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.sources.get(&id).cloned().ok_or_else(|| missing(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if let Some(place) = self.place(id.get().vpath().get_with_slash()) {
            return Ok(place);
        }
        if let Ok(mut last) = self.last_read.lock() {
            *last = Some(id);
        }
        self.files.get(&id).cloned().ok_or_else(|| missing(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        fonts().font(index)
    }

    /// The date stands in the document: the clock would make every build another.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn missing(id: FileId) -> FileError {
    FileError::NotFound(PathBuf::from(id.get().vpath().get_with_slash()))
}
