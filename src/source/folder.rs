//! Walks the project's folder and reads its notes.

use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Duration;

use rayon::iter::{IntoParallelIterator, ParallelIterator};
use walkdir::{DirEntry, WalkDir};

use super::{Footprint, LARGEST_NOTE, Sources};
use crate::diagnostic::Problem;
use crate::source::problems as problem;
use crate::text::Span;

/// Folders of ours that never hold notes: what was built, and the cache.
const NOT_NOTES: [&str; 1] = ["out"];

/// How often the notes are read anew while they change; and how long is waited in between.
const MOST_READINGS: usize = 20;
const PAUSE: Duration = Duration::from_millis(50);

/// Reads until nothing was saved in the meantime: half of a change in two notes is in no state that anybody wrote.
pub(super) fn load(root: &Path) -> std::io::Result<(Sources, Vec<Problem>)> {
    let look = || Footprint::of(&[root.to_owned()]);
    let mut before = look();
    for _ in 0..MOST_READINGS {
        let read = read_once(root)?;
        let after = look();
        if after == before {
            return Ok(read);
        }
        sleep(PAUSE);
        before = look();
    }
    Err(std::io::Error::other("the files change while they are read; try again when they are saved"))
}

fn read_once(root: &Path) -> std::io::Result<(Sources, Vec<Problem>)> {
    let home = root.canonicalize()?;
    std::fs::read_dir(&home)?;
    let mut sources = Sources::at(root.to_owned());
    if !root.join("dossier.yaml").exists() {
        // The notes of another folder, or of several projects at once, would only be misread.
        return Ok((sources, vec![problem::no_dossier(root, nearest_project(&home).as_deref())]));
    }
    let mut finder = Finder { root, home, found: Vec::new() };
    for entry in walk(root) {
        match entry {
            Ok(entry) => finder.entry(&entry),
            Err(error) => finder.walk_error(&error),
        }
    }
    let texts = finder.found.into_par_iter().map(|(path, full)| (path, full.and_then(|full| text(&full))));
    let mut problems = Vec::new();
    for (path, text) in texts.collect::<Vec<_>>() {
        match text {
            Ok(text) => {
                sources.add(path, text);
            }
            // The file keeps its name, with no text, so that the problem has a place.
            Err(refusal) => {
                let file = sources.add(path, String::new());
                problems.push(refusal(Span::start_of(file)));
            }
        }
    }
    Ok((sources, problems))
}

/// A project that was probably meant: the one that this folder lies in, or the only one in it.
fn nearest_project(home: &Path) -> Option<PathBuf> {
    let holds_one = |folder: &Path| folder.join("dossier.yaml").is_file();
    if let Some(above) = home.ancestors().skip(1).find(|folder| holds_one(folder)) {
        return Some(above.to_owned());
    }
    let folders = std::fs::read_dir(home).ok()?.flatten().map(|entry| entry.path());
    let mut below = folders.filter(|folder| holds_one(folder));
    let only = below.next()?;
    below.next().is_none().then(|| only.strip_prefix(home).map(Path::to_owned).unwrap_or(only))
}

/// The texts below a folder whose names end so, each with its path within the folder, in order.
///
/// # Errors
/// When the folder or one of the files can't be read.
pub fn own_files(folder: &Path, ending: &str) -> std::io::Result<Vec<(String, String)>> {
    std::fs::read_dir(folder)?;
    let is_wanted = |path: &Path| path.extension().is_some_and(|found| found == ending);
    let mut files = Vec::new();
    for entry in WalkDir::new(folder).sort_by_file_name() {
        let path = entry?.into_path();
        if is_wanted(&path) && path.is_file() {
            let text = std::fs::read_to_string(&path)
                .map_err(|error| std::io::Error::other(format!("{}: {error}", path.display())))?;
            files.push((within(folder, &path), text));
        }
    }
    Ok(files)
}

/// The path within a folder, with `/`.
fn within(folder: &Path, full: &Path) -> String {
    let path = full.strip_prefix(folder).unwrap_or(full);
    path.components().map(|part| part.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/")
}

/// Everything in the project's folder, in path order; links as links. Hidden files and what `build` wrote are passed
/// over.
pub(super) fn walk(root: &Path) -> impl Iterator<Item = walkdir::Result<DirEntry>> {
    WalkDir::new(root).sort_by_file_name().into_iter().filter_entry(is_wanted)
}

fn is_wanted(entry: &DirEntry) -> bool {
    let name = entry.file_name().to_string_lossy();
    entry.depth() == 0
        || !(name.starts_with('.') || (entry.depth() == 1 && NOT_NOTES.contains(&name.as_ref())))
}

/// Whether a file of this path within the project is read only by a link to it.
fn is_passed_over(path: &Path) -> bool {
    let mut names = path.components().map(|part| part.as_os_str().to_string_lossy());
    let first = names.clone().next();
    first.is_some_and(|first| NOT_NOTES.contains(&first.as_ref()))
        || names.any(|name| name.starts_with('.'))
        || !has_note_ending(&path.to_string_lossy())
}

/// Why a file is not read, once it has a place.
type Refusal = Box<dyn FnOnce(Span) -> Problem + Send>;

/// The files that are notes by their names, in path order.
struct Finder<'a> {
    root: &'a Path,
    home: PathBuf,
    found: Vec<(String, Result<PathBuf, Refusal>)>,
}

impl Finder<'_> {
    fn entry(&mut self, entry: &DirEntry) {
        let path = self.shown(entry.path());
        let is_note = has_note_ending(&path) || path == "dossier.yaml";
        if entry.path_is_symlink() {
            self.link(entry.path(), path, is_note);
        } else if is_note && entry.file_type().is_dir() {
            self.refuse(path, problem::not_a_file);
        } else if is_note {
            self.keep(entry.path(), path);
        }
    }

    /// What a link leads to within the project is read once, where it lies; a note that lies among hidden files, by its
    /// link.
    fn link(&mut self, full: &Path, path: String, is_note: bool) {
        let Ok(target) = full.canonicalize() else {
            if is_note {
                self.keep(full, path);
            }
            return;
        };
        let within = target.strip_prefix(&self.home).map(Path::to_owned);
        match within {
            Err(_) if is_note || target.is_dir() => self.refuse(path, problem::link_outside),
            Ok(target) if Path::new(&path).starts_with(&target) => self.refuse(path, problem::link_loop),
            Ok(target) if is_note && is_passed_over(&target) => self.keep(full, path),
            _ => {}
        }
    }

    fn keep(&mut self, full: &Path, path: String) {
        self.found.push((path, Ok(full.to_owned())));
    }

    fn refuse(&mut self, path: String, problem: impl FnOnce(Span) -> Problem + Send + 'static) {
        self.found.push((path, Err(Box::new(problem))));
    }

    fn walk_error(&mut self, error: &walkdir::Error) {
        let path = error.path().map(|path| self.shown(path)).unwrap_or_default();
        let message = error.io_error().map_or_else(|| error.to_string(), ToString::to_string);
        self.refuse(path, move |at| problem::unreadable(at, &message));
    }

    /// The path within the project.
    fn shown(&self, full: &Path) -> String {
        within(self.root, full)
    }
}

/// The text of a note. Only a regular file is opened: a pipe would be waited for.
fn text(full: &Path) -> Result<String, Refusal> {
    let unreadable =
        |error: std::io::Error| -> Refusal { Box::new(move |at| problem::unreadable(at, &error)) };
    let metadata = std::fs::metadata(full).map_err(unreadable)?;
    if metadata.len() > LARGEST_NOTE {
        return Err(Box::new(move |at| problem::too_large(at, metadata.len(), LARGEST_NOTE)));
    }
    if !metadata.is_file() {
        return Err(Box::new(problem::not_a_file));
    }
    let bytes = std::fs::read(full).map_err(unreadable)?;
    if bytes.contains(&0) {
        return Err(Box::new(problem::binary));
    }
    String::from_utf8(bytes).map_err(|error| -> Refusal {
        let at = error.utf8_error().valid_up_to();
        let good = String::from_utf8_lossy(&error.as_bytes()[..at]).into_owned();
        let line = good.matches('\n').count() + 1;
        Box::new(move |span| problem::not_utf8(span, line))
    })
}

pub(super) fn has_note_ending(path: &str) -> bool {
    path.rsplit('/').next().is_some_and(|name| name.len() > 3 && name.to_lowercase().ends_with(".md"))
}
