//! Walks the project's folder and reads its notes.

use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Duration;

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
    let mut reader = Reader { home, sources: Sources::at(root.to_owned()), problems: Vec::new() };
    if !root.join("dossier.yaml").exists() {
        // The notes of another folder, or of several projects at once, would only be misread.
        reader.problems.push(problem::no_dossier(root, nearest_project(&reader.home).as_deref()));
        return Ok((reader.sources, reader.problems));
    }
    for entry in walk(root) {
        match entry {
            Ok(entry) => reader.entry(&entry),
            Err(error) => reader.walk_error(&error),
        }
    }
    Ok((reader.sources, reader.problems))
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

struct Reader {
    home: PathBuf,
    sources: Sources,
    problems: Vec<Problem>,
}

impl Reader {
    fn entry(&mut self, entry: &DirEntry) {
        let path = self.shown(entry.path());
        let is_note = has_note_ending(&path) || path == "dossier.yaml";
        if entry.path_is_symlink() {
            self.link(entry.path(), path, is_note);
        } else if is_note && entry.file_type().is_dir() {
            self.refuse(path, problem::not_a_file);
        } else if is_note {
            self.read(entry.path(), path);
        }
    }

    /// What a link leads to within the project is read once, where it lies; a note that lies among hidden files, by its
    /// link.
    fn link(&mut self, full: &Path, path: String, is_note: bool) {
        let Ok(target) = full.canonicalize() else {
            if is_note {
                self.read(full, path);
            }
            return;
        };
        let within = target.strip_prefix(&self.home).map(Path::to_owned);
        match within {
            Err(_) if is_note || target.is_dir() => self.refuse(path, problem::link_outside),
            Ok(target) if Path::new(&path).starts_with(&target) => self.refuse(path, problem::link_loop),
            Ok(target) if is_note && is_passed_over(&target) => self.read(full, path),
            _ => {}
        }
    }

    fn read(&mut self, full: &Path, path: String) {
        match std::fs::metadata(full) {
            Ok(metadata) if metadata.len() > LARGEST_NOTE => {
                return self.refuse(path, |at| problem::too_large(at, metadata.len(), LARGEST_NOTE));
            }
            Ok(metadata) if !metadata.is_file() => return self.refuse(path, problem::not_a_file),
            Err(error) => return self.refuse(path, |at| problem::unreadable(at, &error)),
            Ok(_) => {}
        }
        match std::fs::read(full) {
            Err(error) => self.refuse(path, |at| problem::unreadable(at, &error)),
            Ok(bytes) if bytes.contains(&0) => self.refuse(path, problem::binary),
            Ok(bytes) => match String::from_utf8(bytes) {
                Ok(text) => {
                    self.sources.add(path, text);
                }
                Err(error) => {
                    let at = error.utf8_error().valid_up_to();
                    let good = String::from_utf8_lossy(&error.as_bytes()[..at]).into_owned();
                    let line = good.matches('\n').count() + 1;
                    self.refuse(path, |span| problem::not_utf8(span, line));
                }
            },
        }
    }

    /// Keeps the file's name, with no text, so that the problem has a place.
    fn refuse(&mut self, path: String, problem: impl FnOnce(Span) -> Problem) {
        let file = self.sources.add(path, String::new());
        self.problems.push(problem(Span::start_of(file)));
    }

    fn walk_error(&mut self, error: &walkdir::Error) {
        let path = error.path().map(|path| self.shown(path)).unwrap_or_default();
        let message = error.io_error().map_or_else(|| error.to_string(), ToString::to_string);
        self.refuse(path, |at| problem::unreadable(at, &message));
    }

    /// The path within the project.
    fn shown(&self, full: &Path) -> String {
        within(&self.sources.root, full)
    }
}

pub(super) fn has_note_ending(path: &str) -> bool {
    path.rsplit('/').next().is_some_and(|name| name.len() > 3 && name.to_lowercase().ends_with(".md"))
}
