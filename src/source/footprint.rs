//! What a folder looks like from outside: enough to see that somebody saved a file.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use rayon::iter::{IntoParallelIterator, ParallelIterator};

use super::folder;

/// Every file of a folder with its length and when it was last written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Footprint(BTreeMap<PathBuf, (u64, Option<SystemTime>)>);

impl Footprint {
    /// The folders as they stand now, without hidden files and what `build` writes. What can't be seen is left out.
    pub fn of(folders: &[PathBuf]) -> Self {
        let entries = folders.iter().flat_map(|folder| folder::walk(folder).flatten());
        let files: Vec<_> = entries.filter(|entry| !entry.file_type().is_dir()).collect();
        let stamps = files.into_par_iter().filter_map(|entry| {
            let metadata = std::fs::metadata(entry.path()).ok()?;
            Some((entry.into_path(), (metadata.len(), metadata.modified().ok())))
        });
        Self(stamps.collect())
    }

    /// Whether another file than a note was saved since: those are read while the pages are made.
    pub fn differs_beside_notes(&self, earlier: &Self) -> bool {
        let others = |footprint: &Self| {
            let files =
                footprint.0.iter().filter(|(path, _)| !folder::has_note_ending(&path.to_string_lossy()));
            files.map(|(path, stamp)| (path.clone(), *stamp)).collect::<Vec<_>>()
        };
        others(self) != others(earlier)
    }

    /// What was saved, added or taken away since, in a few words: "post.md was saved, and 2 more". folder: that paths
    /// are named from.
    pub fn changed_since(&self, earlier: &Self, folder: &Path) -> String {
        let name = |path: &Path| path.strip_prefix(folder).unwrap_or(path).display().to_string();
        let here = self.0.iter().filter_map(|(path, stamp)| match earlier.0.get(path) {
            Some(before) if before == stamp => None,
            Some(_) => Some(format!("{} was saved", name(path))),
            None => Some(format!("{} is new", name(path))),
        });
        let gone = earlier.0.keys().filter(|path| !self.0.contains_key(*path));
        let mut changes = here.chain(gone.map(|path| format!("{} is gone", name(path))));
        let first = changes.next().unwrap_or_else(|| "nothing has changed".to_owned());
        match changes.count() {
            0 => first,
            more => format!("{first}, and {more} more"),
        }
    }
}
