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

/// What an outside tool prints, or nothing where it is not installed; where CI is set it must be there.
pub(crate) fn outside(tool: &str, arguments: &[&str]) -> Option<String> {
    match std::process::Command::new(tool).args(arguments).output() {
        Ok(output) => {
            assert!(output.status.success(), "{tool} finds: {}", String::from_utf8_lossy(&output.stderr));
            Some(String::from_utf8_lossy(&output.stdout).into_owned())
        }
        Err(error) => {
            assert!(std::env::var_os("CI").is_none(), "{tool} must be installed where CI runs: {error}");
            None
        }
    }
}

/// The words of a PDF, or nothing where no reader of PDF is installed.
pub(super) fn pdf_text(pdf: &Path) -> Option<String> {
    let text = outside("pdftotext", &[pdf.to_str().unwrap(), "-"])?;
    Some(text.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// The words of a built dossier on one line; `None` where nothing reads them back.
pub(super) fn pages(notes: &[(&str, &str)]) -> Option<String> {
    let dir = project(notes);
    super::asfound(dir.path()).args(["build", "crane"]).assert().success();
    let text = pdf_text(&dir.path().join("crane/out/dossier.pdf"))?;
    Some(text.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// The pages of a built dossier line by line as they are laid out, gaps made one space; `None` where nothing reads them back.
pub(super) fn lines(notes: &[(&str, &str)]) -> Option<Vec<String>> {
    let dir = project(notes);
    super::asfound(dir.path()).args(["build", "crane"]).assert().success();
    let pdf = dir.path().join("crane/out/dossier.pdf");
    let text = outside("pdftotext", &["-layout", pdf.to_str().unwrap(), "-"])?;
    Some(text.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ")).collect())
}

/// The rows of every table of a PDF, cell by cell, as a screen reader has them: where a line breaks is not asked. `None`
/// where nothing reads them back.
pub(super) fn table_rows(pdf: &Path) -> Option<Vec<Vec<String>>> {
    let told = outside("pdfinfo", &["-struct-text", pdf.to_str().unwrap()])?;
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut cell = None;
    for line in told.lines() {
        let (text, depth) = (line.trim_start(), line.len() - line.trim_start().len());
        if cell.is_some_and(|cell| depth <= cell) {
            cell = None;
        }
        let tag = text.split([' ', ':']).next().unwrap_or_default();
        match (tag, rows.last_mut()) {
            ("TR", _) => rows.push(Vec::new()),
            ("TD" | "TH", Some(row)) => {
                row.push(String::new());
                cell = Some(depth);
            }
            (_, Some(row)) if cell.is_some() && text.starts_with('"') => {
                let said = text.trim_start_matches('"').trim_end_matches('"').trim();
                let last = row.last_mut().expect("a cell was begun");
                *last = format!("{last} {said}").trim().replace("\u{ad} ", "");
            }
            _ => {}
        }
    }
    Some(rows)
}
