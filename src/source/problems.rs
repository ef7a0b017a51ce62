//! Problems of the files themselves.

use std::fmt::Display;
use std::path::Path;

use crate::diagnostic::{Problem, codes};
use crate::text::Span;

pub fn no_dossier(root: &Path, meant: Option<&Path>) -> Problem {
    let help = match meant {
        Some(folder) => format!("There is one in {}: name that folder.", folder.display()),
        None => "Name the folder that holds it, or start a project with `asfound new DIR`.".to_owned(),
    };
    Problem::new(&codes::NO_DOSSIER, None, format!("there is no dossier.yaml in {}", root.display()))
        .help(help)
}

pub fn not_a_file(at: Span) -> Problem {
    Problem::new(&codes::NOT_A_FILE, at, "this has the name of a note but is no file")
        .help("Rename the folder so that it does not end in `.md`; the notes inside it are read.")
}

pub fn too_large(at: Span, size: u64, limit: u64) -> Problem {
    let mib = |bytes: u64| bytes.div_ceil(1024 * 1024);
    Problem::new(
        &codes::TOO_LARGE,
        at,
        format!("this note is {} MiB long; the limit is {} MiB", mib(size), mib(limit)),
    )
    .help("Split it, and keep pictures and data in files of their own.")
}

pub fn binary(at: Span) -> Problem {
    Problem::new(&codes::NOT_TEXT, at, "this is not a text: it holds zero bytes")
        .help("Give the file its right ending, or save it again as plain text in UTF-8.")
}

pub fn not_utf8(at: Span, line: usize) -> Problem {
    Problem::new(
        &codes::NOT_TEXT,
        at,
        format!("this is not UTF-8: line {line} holds a byte that can't be read"),
    )
    .help("Save the file again from your editor with the encoding UTF-8.")
}

pub fn link_outside(at: Span) -> Problem {
    Problem::new(&codes::LINK_OUTSIDE, at, "this is a link to a file outside the project's folder")
        .help("Copy the file into the project: a dossier must not depend on what lies elsewhere.")
}

pub fn link_loop(at: Span) -> Problem {
    Problem::new(&codes::LINK_LOOP, at, "this link leads back to a folder that holds it")
        .help("Remove the link; the notes behind it are read once where they lie.")
}

pub fn unreadable(at: Span, error: &impl Display) -> Problem {
    Problem::new(&codes::UNREADABLE, at, format!("this can't be read: {error}"))
        .help("Check that the file still exists and that you may read it.")
}

pub fn issued_unreadable(path: &str, why: &impl Display) -> Problem {
    Problem::new(&codes::ISSUED_UNREADABLE, None, format!("{path} can't be read: {why}"))
        .help("Bring it back from a copy, or delete it; the next `asfound build --issue` writes it anew.")
}
