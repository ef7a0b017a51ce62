//! What bodies and keys point at: other notes, pictures, papers.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use percent_encoding::percent_decode_str;

use super::resolve::MOST_HINTS;
use super::{Dossier, NoteId};
use crate::diagnostic::{Problem, nearest};
use crate::dossier::problems as problem;
use crate::note::body::{InlineShape, each_inline};
use crate::photo::{Cache, PhotoFault};
use crate::source::Sources;
use crate::text::{FileId, Span};

/// The links from body to note, in order; one that leads nowhere is a problem.
pub(super) fn body_links(
    dossier: &Dossier,
    sources: &Sources,
    problems: &mut Vec<Problem>,
) -> Vec<(NoteId, NoteId)> {
    let mut links = Vec::new();
    for (from, body) in dossier.bodies() {
        let file = dossier.head(from).file;
        each_inline(body, &mut |inline| {
            let InlineShape::Link { target, by_id, .. } = &inline.shape else { return };
            if !by_id && is_elsewhere(target) {
                return;
            }
            match dossier.link(file, target, *by_id, sources) {
                Some(to) if to != from => links.push((from, to)),
                Some(_) => {}
                None if !by_id && is_a_file(file, target, sources) => {}
                None if has_scheme(target) => problems.push(problem::link_scheme(inline.span, target)),
                None => {
                    let most = if problems.len() < MOST_HINTS { usize::MAX } else { 0 };
                    let known: Vec<&str> = dossier.ids().map(|(id, _)| id).take(most).collect();
                    problems.push(problem::link_nowhere(inline.span, target, &known));
                }
            }
        });
    }
    links
}

/// A web address, a mail address, or a place on the same page.
fn is_elsewhere(target: &str) -> bool {
    target.starts_with('#') || is_address(target)
}

/// Whether a link leads to the web or writes a letter. No other address may be clicked in a document that goes to
/// strangers: it could open a file or run a program of the reader's.
pub fn is_address(target: &str) -> bool {
    let scheme = target.split_once(':').map(|(scheme, _)| scheme.to_ascii_lowercase());
    matches!(scheme.as_deref(), Some("http" | "https" | "mailto"))
}

/// Whether a target begins with the scheme of some address (RFC 3986, 3.1).
pub(super) fn has_scheme(target: &str) -> bool {
    target.split_once(':').is_some_and(|(scheme, _)| {
        scheme.starts_with(|first: char| first.is_ascii_alphabetic())
            && scheme.chars().all(|each| each.is_ascii_alphanumeric() || matches!(each, '+' | '-' | '.'))
    })
}

fn is_a_file(from: FileId, target: &str, sources: &Sources) -> bool {
    sources.relative(from, &decoded(target)).is_some_and(|path| sources.is_file(&path))
}

/// A path with `%20` and the like written out; as it stands where that gives no text.
pub fn decoded(target: &str) -> Cow<'_, str> {
    percent_decode_str(target).decode_utf8().unwrap_or(Cow::Borrowed(target))
}

/// A picture that a note shows.
struct Shown<'a> {
    from: FileId,
    target: &'a str,
    at: Span,
}

impl Shown<'_> {
    fn path(&self, sources: &Sources) -> Option<String> {
        sources.relative(self.from, &decoded(self.target))
    }
}

fn shown(dossier: &Dossier) -> Vec<Shown<'_>> {
    let photos = dossier.findings.iter().flat_map(|finding| {
        let photos = finding.photos.iter().map(|photo| &photo.file);
        photos.map(|file| Shown { from: finding.head.file, target: &file.text, at: file.span })
    });
    let mut shown: Vec<Shown> = photos.collect();
    for (note, body) in dossier.bodies() {
        each_inline(body, &mut |inline| {
            if let InlineShape::Picture { target, .. } = &inline.shape {
                shown.push(Shown { from: dossier.head(note).file, target, at: inline.span });
            }
        });
    }
    shown
}

impl Dossier {
    /// Where a note shows the picture of this project path.
    pub fn shown_at(&self, path: &str, sources: &Sources) -> Option<Span> {
        let shown = shown(self);
        shown.iter().find(|shown| shown.path(sources).as_deref() == Some(path)).map(|shown| shown.at)
    }
}

/// Every picture and paper that a note names must be there, and a picture must be one.
pub(super) fn check(dossier: &Dossier, sources: &Sources, problems: &mut Vec<Problem>) {
    let cache =
        if sources.root().as_os_str().is_empty() { Cache::none() } else { Cache::of_project(sources.root()) };
    let shown = shown(dossier);
    let paths: BTreeSet<String> = shown.iter().filter_map(|shown| shown.path(sources)).collect();
    let paths: Vec<String> = paths.into_iter().filter(|path| sources.is_file(path)).collect();
    let found = cache.look_at_all(&paths, |path| sources.bytes(path));
    let faults: BTreeMap<&String, PhotoFault> =
        paths.iter().zip(found).filter_map(|(path, found)| Some((path, found.err()?))).collect();
    for picture in &shown {
        problems.extend(fault_of(picture, &faults, sources));
    }
    for paper in &dossier.papers {
        if let Some(file) = &paper.file
            && !is_a_file(paper.head.file, &file.text, sources)
        {
            problems.push(missing(paper.head.file, file.span, &file.text, sources));
        }
    }
    for (note, body) in dossier.bodies() {
        each_inline(body, &mut |inline| {
            if let InlineShape::Picture { target, text } = &inline.shape
                && text.trim().is_empty()
            {
                problems.push(problem::picture_untold(dossier.head(note), inline.span, target));
            }
        });
    }
}

fn fault_of(picture: &Shown, faults: &BTreeMap<&String, PhotoFault>, sources: &Sources) -> Option<Problem> {
    let Shown { from, target, at } = *picture;
    let Some(path) = picture.path(sources) else { return Some(problem::file_outside(at, target)) };
    match faults.get(&path) {
        Some(PhotoFault::Unreadable(error)) => Some(problem::picture_unreadable(at, target, error)),
        Some(fault) => Some(problem::no_picture(at, target, fault)),
        None if sources.is_file(&path) => None,
        None => match sources.beginning(&path, 1) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
                Some(problem::picture_unreadable(at, target, &error))
            }
            _ => Some(missing(from, at, target, sources)),
        },
    }
}

fn missing(from: FileId, at: Span, target: &str, sources: &Sources) -> Problem {
    problem::file_missing(at, target, meant(from, target, sources).as_deref())
}

/// The target with the names of folders and file as they are on the disk, where they are nearly those.
fn meant(from: FileId, target: &str, sources: &Sources) -> Option<String> {
    let target = decoded(target);
    let path = sources.relative(from, &target)?;
    let mut found: Vec<String> = Vec::new();
    for name in path.split('/') {
        let names = sources.names(&found.join("/"));
        found.push(nearest(name, names.iter().map(String::as_str))?.to_owned());
    }
    let typed: Vec<&str> = target.split('/').collect();
    let is_name = |piece: &&&str| !matches!(**piece, "" | "." | "..");
    let climbs = typed.len() - typed.iter().rev().take_while(is_name).count();
    let named = typed.len() - climbs;
    let kept = typed[..climbs].iter().map(|piece| (*piece).to_owned());
    let pieces: Vec<String> =
        kept.chain(found.iter().skip(found.len().checked_sub(named)?).cloned()).collect();
    let meant = pieces.join("/");
    sources.relative(from, &meant).filter(|path| sources.is_file(path)).map(|_| meant)
}
