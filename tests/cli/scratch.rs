//! Small projects in a folder of their own.

use std::path::Path;

use snapbox::cmd::Command;

/// A project `crane` of these files, in a new folder.
pub(super) fn project(files: &[(&str, &str)]) -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    for (path, text) in files {
        write(dir.path(), path, text);
    }
    dir
}

/// Writes a file of the project.
pub(super) fn write(dir: &Path, path: &str, text: &str) {
    let full = dir.join("crane").join(path);
    std::fs::create_dir_all(full.parent().unwrap()).unwrap();
    std::fs::write(full, text).unwrap();
}

/// What a command prints that ends well.
pub(super) fn printed(command: Command) -> String {
    let result = command.assert().success();
    String::from_utf8(result.get_output().stdout.clone()).unwrap()
}

/// What a command prints as JSON.
pub(super) fn json(command: Command) -> serde_json::Value {
    serde_json::from_str(&printed(command)).unwrap()
}
