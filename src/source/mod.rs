//! The files of a project: found, read once, never changed.
//!
//! Takes: the project's folder. Gives: [`Sources`] with every text in a stable order, and the bytes of pictures and papers.
//! Never: understands what a file says. The only room that reads the project from the disk.

mod folder;
mod footprint;
pub mod problems;

use std::io::Read;
use std::path::{Component, Path, PathBuf};

use crate::diagnostic::Problem;
use crate::text::{FileId, Texts};
pub use folder::own_files;
pub use footprint::Footprint;

/// A text longer than this is refused: a note of this size is no note.
pub const LARGEST_NOTE: u64 = 4 * 1024 * 1024;

/// A picture or paper longer than this is not read: it would not fit into a document that can be sent.
pub const LARGEST_FILE: u64 = 256 * 1024 * 1024;

/// Everything that was read, and the folder that pictures are read from.
#[derive(Debug)]
pub struct Sources {
    root: PathBuf,
    texts: Texts,
}

/// What was read can be asked for as texts.
impl std::ops::Deref for Sources {
    type Target = Texts;

    fn deref(&self) -> &Texts {
        &self.texts
    }
}

impl Sources {
    fn at(root: PathBuf) -> Self {
        Self { root, texts: Texts::default() }
    }

    /// Reads `dossier.yaml` and every `*.md` below `root`, in path order.
    ///
    /// # Errors
    /// Only when `root` is no folder that can be read; a file that can't be read is a problem beside the result.
    pub fn load(root: &Path) -> std::io::Result<(Self, Vec<Problem>)> {
        folder::load(root)
    }

    /// Texts that are not on the disk, each with its path: for tests.
    pub fn in_memory(texts: impl IntoIterator<Item = (String, String)>) -> Self {
        let mut sources = Self::at(PathBuf::new());
        for (path, text) in texts {
            sources.add(path, text);
        }
        sources
    }

    /// Other texts in the same folder, so that what they name is found there.
    #[must_use]
    pub fn replaced(&self, texts: impl IntoIterator<Item = (String, String)>) -> Self {
        Self { root: self.root.clone(), ..Self::in_memory(texts) }
    }

    /// The same texts and others beside them, for problems that point into both.
    #[must_use]
    pub fn and(&self, texts: impl IntoIterator<Item = (String, String)>) -> Self {
        let own = self.ids().map(|id| (self.file(id).path.clone(), self.file(id).text.clone()));
        let mut all = Self::in_memory(own);
        for (path, text) in texts {
            all.add(path, text);
        }
        all
    }

    fn add(&mut self, path: String, text: String) -> FileId {
        self.texts.add(path, text)
    }

    pub fn root(&self) -> &Path {
        &self.root
    }

    /// The project path of what `target` names from within the note `from`: `None` when it leads out of the project.
    pub fn relative(&self, from: FileId, target: &str) -> Option<String> {
        let folder = Path::new(&self.file(from).path).parent().unwrap_or(Path::new(""));
        normal(&folder.join(target))
    }

    /// The bytes of a picture or paper by its project path.
    ///
    /// # Errors
    /// When it is not there, is no regular file, is longer than [`LARGEST_FILE`], can't be read, or a link leads out of the
    /// project.
    pub fn bytes(&self, path: &str) -> std::io::Result<Vec<u8>> {
        let (full, length) = self.regular(path)?;
        if length > LARGEST_FILE {
            let mib = |bytes: u64| bytes.div_ceil(1024 * 1024);
            let long = format!("it is {} MiB long; the limit is {} MiB", mib(length), mib(LARGEST_FILE));
            return Err(std::io::Error::other(long));
        }
        std::fs::read(full)
    }

    /// The first bytes of a file, at most `length` of them.
    ///
    /// # Errors
    /// As [`Self::bytes`].
    pub fn beginning(&self, path: &str, length: u64) -> std::io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        std::fs::File::open(self.regular(path)?.0)?.take(length).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    /// Whether there is a file of this project path.
    pub fn is_file(&self, path: &str) -> bool {
        self.within(path).is_ok_and(|full| full.is_file())
    }

    /// The names of what lies in a folder of the project, in order; none when it can't be read.
    pub fn names(&self, folder: &str) -> Vec<String> {
        let entries = self.within(folder).and_then(std::fs::read_dir);
        let named = entries.into_iter().flatten().flatten().map(|entry| entry.file_name());
        let mut names: Vec<String> = named.filter_map(|name| name.into_string().ok()).collect();
        names.sort();
        names
    }

    /// A file that ends, and its length: a pipe or a device would be read for ever.
    fn regular(&self, path: &str) -> std::io::Result<(PathBuf, u64)> {
        let full = self.within(path)?;
        let about = std::fs::metadata(&full)?;
        if about.is_file() {
            Ok((full, about.len()))
        } else {
            Err(std::io::Error::other("it is no regular file"))
        }
    }

    fn within(&self, path: &str) -> std::io::Result<PathBuf> {
        let full = self.root.join(path).canonicalize()?;
        if !full.starts_with(self.root.canonicalize()?) {
            return Err(std::io::Error::other("it lies outside the project's folder"));
        }
        Ok(full)
    }
}

/// A path without `.` and `..`, with `/`; `None` when it climbs out.
fn normal(path: &Path) -> Option<String> {
    let mut kept: Vec<&str> = Vec::new();
    for component in path.components() {
        match component {
            Component::Normal(name) => kept.push(name.to_str()?),
            Component::ParentDir => {
                kept.pop()?;
            }
            Component::CurDir => {}
            Component::RootDir | Component::Prefix(_) => return None,
        }
    }
    Some(kept.join("/"))
}
