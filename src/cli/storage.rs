//! Writing a set of files within a project: afterwards all of them are new or all of them are old.
//!
//! Every file is first complete on the disk in [`NEW`]; then a list of what goes where is put in place, and only then
//! are the old files replaced. A process that is killed on the way leaves either the old set, or a list that the next
//! command works off.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Component, Path};

use super::Trouble;

/// Where files are made ready, within the project.
const NEW: &str = ".asfound/new";
/// The paths within the project that the files of [`NEW`] go to, a line each; there only while a set is being replaced.
const LIST: &str = ".asfound/replacing";
/// Held by the process that writes.
const LOCK: &str = ".asfound/lock";

/// Writes files at their paths within the project.
///
/// # Errors
/// When a file or folder can't be written, is write-protected, or leads out of the project. The old files then stand.
pub(super) fn replace(dir: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Trouble> {
    for folder in files.iter().filter_map(|(path, _)| Path::new(path).parent()).chain(Path::new(NEW).parent())
    {
        make_folder(dir, folder)?;
    }
    let lock = named(&dir.join(LOCK), File::create)?;
    named(&dir.join(LOCK), |_| lock.lock())?;
    work_off(dir)?;
    // Another process may have cleared it away until now.
    make_folder(dir, Path::new(NEW))?;
    for (path, _) in files {
        refuse_protected(&dir.join(path))?;
    }
    // A disk that is full has no room for what did not fit.
    make_ready(dir, files).inspect_err(|_| drop(fs::remove_dir_all(dir.join(NEW))))?;
    work_off(dir)
}

/// Finishes what a killed process began to replace. Nothing is said of a project that can't be written to.
pub(super) fn finish(dir: &Path) {
    if dir.join(LIST).is_file()
        && let Ok(lock) = File::create(dir.join(LOCK))
        && lock.lock().is_ok()
    {
        let _ = work_off(dir);
    }
}

/// Makes a folder of the project, which must not lead out of it by a link.
fn make_folder(dir: &Path, folder: &Path) -> Result<(), Trouble> {
    let full = dir.join(folder);
    named(&full, fs::create_dir_all)?;
    let (home, real) = (named(dir, fs::canonicalize)?, named(&full, fs::canonicalize)?);
    if real.starts_with(&home) {
        return Ok(());
    }
    Err(Trouble(format!(
        "{} is a link that leads out of the project, to {}; nothing was written: put a folder in its place",
        full.display(),
        real.display()
    )))
}

/// A file that its owner has protected stays as it is.
fn refuse_protected(path: &Path) -> Result<(), Trouble> {
    match fs::symlink_metadata(path) {
        Ok(about) if about.is_dir() => {
            Err(Trouble(format!("{} is a folder; nothing was written: move it away", path.display())))
        }
        Ok(about) if about.permissions().readonly() => Err(Trouble(format!(
            "{} is write-protected; nothing was written: allow writing, or move it away",
            path.display()
        ))),
        _ => Ok(()),
    }
}

/// Puts every file into [`NEW`] and, when all of them are on the disk, the list beside it.
fn make_ready(dir: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Trouble> {
    let folder = dir.join(NEW);
    named(&folder, fs::remove_dir_all)?;
    named(&folder, fs::create_dir)?;
    for (index, (_, bytes)) in files.iter().enumerate() {
        write_through(&folder.join(index.to_string()), bytes)?;
    }
    let list: String = files.iter().map(|(path, _)| format!("{path}\n")).collect();
    let ready = folder.join("list");
    write_through(&ready, list.as_bytes())?;
    sync_folder(&folder);
    named(&dir.join(LIST), |list| fs::rename(&ready, list))?;
    sync_folder(&dir.join(".asfound"));
    Ok(())
}

/// Moves each listed file that is still in [`NEW`] to its place, and strikes the list.
fn work_off(dir: &Path) -> Result<(), Trouble> {
    let list = dir.join(LIST);
    let Ok(text) = fs::read_to_string(&list) else { return Ok(()) };
    for (index, path) in text.lines().enumerate() {
        let (ready, folder) = (dir.join(NEW).join(index.to_string()), Path::new(path).parent());
        // A list that came with a stranger's folder may name any path.
        let Some(folder) = folder.filter(|_| is_written_here(path)) else { continue };
        if ready.is_file() {
            make_folder(dir, folder)?;
            named(&dir.join(path), |path| fs::rename(&ready, path))?;
        }
    }
    text.lines()
        .filter_map(|path| Path::new(path).parent())
        .for_each(|folder| sync_folder(&dir.join(folder)));
    named(&list, fs::remove_file)?;
    let _ = fs::remove_dir(dir.join(NEW));
    Ok(())
}

/// Whether a path within the project is one that a command writes.
fn is_written_here(path: &str) -> bool {
    let plain = Path::new(path).components().all(|part| matches!(part, Component::Normal(_)));
    plain && (path.starts_with("out/") || path == crate::issued::STORE)
}

fn write_through(path: &Path, bytes: &[u8]) -> Result<(), Trouble> {
    named(path, |path| {
        let mut file = File::create(path)?;
        file.write_all(bytes)?;
        file.sync_all()
    })
}

/// A rename is on the disk when its folder is. Where a folder can't be opened as a file the system sees to it itself.
fn sync_folder(folder: &Path) {
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
}

/// The trouble of a path names it.
fn named<'a, T>(path: &'a Path, act: impl FnOnce(&'a Path) -> io::Result<T>) -> Result<T, Trouble> {
    act(path).map_err(|error| Trouble(format!("{}: {error}", path.display())))
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::Path;

    use super::{LIST, NEW, finish, make_folder, make_ready, replace};

    const PATHS: [&str; 3] = ["out/bill.csv", "out/dossier.pdf", ".asfound/issued.json"];

    fn set(text: &str) -> Vec<(String, Vec<u8>)> {
        PATHS.map(|path| (path.to_owned(), format!("{text} {path}").into_bytes())).to_vec()
    }

    fn assert_whole(dir: &Path, text: &str) {
        for path in PATHS {
            let found = fs::read_to_string(dir.join(path)).expect("every file of the set is there");
            assert_eq!(found, format!("{text} {path}"));
        }
    }

    #[test]
    fn a_process_killed_at_any_rename_leaves_the_new_set_for_the_next_command() {
        for done in 0..=PATHS.len() {
            let dir = tempfile::tempdir().expect("a folder");
            let dir = dir.path();
            replace(dir, &set("old")).expect("written");
            make_folder(dir, Path::new(NEW)).expect("made");
            make_ready(dir, &set("new")).expect("ready");
            for (index, path) in PATHS.iter().enumerate().take(done) {
                fs::rename(dir.join(NEW).join(index.to_string()), dir.join(path)).expect("replaced");
            }
            finish(dir);
            assert_whole(dir, "new");
            assert!(!dir.join(LIST).exists() && !dir.join(NEW).exists(), "nothing is left over");
        }
    }

    #[test]
    fn a_process_killed_before_all_is_ready_leaves_the_old_set() {
        let dir = tempfile::tempdir().expect("a folder");
        let dir = dir.path();
        replace(dir, &set("old")).expect("written");
        make_folder(dir, Path::new(NEW)).expect("made");
        fs::write(dir.join(NEW).join("0"), "half of a fi").expect("written");
        finish(dir);
        assert_whole(dir, "old");
        replace(dir, &set("new")).expect("what was left over is no hindrance");
        assert_whole(dir, "new");
    }

    #[test]
    fn a_list_from_elsewhere_moves_nothing_out_of_the_folders_that_are_written_here() {
        let outside = tempfile::tempdir().expect("a folder");
        let dir = outside.path().join("project");
        fs::create_dir_all(dir.join(NEW)).expect("made");
        for (index, path) in ["../gone.md", "parts/post.md", "out/../parts/post.md"].iter().enumerate() {
            fs::write(dir.join(NEW).join(index.to_string()), path).expect("written");
        }
        fs::write(dir.join(LIST), "../gone.md\nparts/post.md\nout/../parts/post.md\n").expect("written");
        finish(&dir);
        assert!(!outside.path().join("gone.md").exists() && !dir.join("parts").exists());
    }
}
