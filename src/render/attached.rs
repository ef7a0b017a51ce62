//! Files that go with a document, inside the PDF.

use std::collections::BTreeSet;

use serde::Serialize;

use super::assets::FULL;
use super::dossier::bill_csv;
use super::edition::Edition;
use super::state::state_json;
use super::templates::RenderFault;
use crate::Project;
use crate::dossier::{PaperId, decoded};
use crate::issued::STORE;
use crate::note::body::{InlineShape, each_inline};
use crate::photo::{self, PhotoFault};
use crate::text::FileId;
use crate::typeset::Folder;

#[derive(Serialize)]
pub(super) struct Attached {
    /// Where it belongs: its path in the project, or what it is called.
    #[serde(skip)]
    pub(super) place: String,
    /// In the virtual folder, where its own name could mean something.
    path: String,
    /// As a viewer saves it.
    pub(super) name: String,
    mime: &'static str,
    /// What the file is to the document, in a word of PDF/A-3.
    relation: &'static str,
    pub(super) says: String,
}

/// The list of the attachments, with where in the project each belongs.
const MANIFEST: &str = "manifest.tsv";

/// A picture of more bytes is attached as it is printed.
const LARGEST_PICTURE: usize = 1 << 20;

/// The notes, their pictures and papers, the bill and the computed state: the file alone is the record, and what is attached
/// makes the project again.
///
/// # Errors
/// A paper or a picture that can't be read.
pub(super) fn record(edition: &Edition, folder: &mut Folder) -> Result<Vec<Attached>, RenderFault> {
    let mut attached = notes(edition.project, folder);
    attached.extend(pictures(edition, folder)?);
    let all: Vec<PaperId> = edition.dossier().papers.ids().collect();
    let papers = papers(edition.project, &all, folder)?;
    attached.extend(
        papers
            .into_iter()
            .filter(|paper| attached.iter().all(|other| other.place != paper.place))
            .collect::<Vec<_>>(),
    );
    attached.extend(issued(edition.project, folder));
    let beside = [
        ("bill.csv", "text/csv", bill_csv(edition), "The bill of materials"),
        ("dossier.json", "application/json", state_json(edition), "The computed state"),
    ];
    for (name, mime, text, says) in beside {
        attached.push(laid(folder, &format!("out/{name}"), text.into_bytes(), mime, "data", says.to_owned()));
    }
    name_all(&mut attached);
    attached.push(manifest(&attached, folder));
    Ok(attached)
}

/// Lays a file of the project into the folder.
fn laid(
    folder: &mut Folder,
    place: &str,
    bytes: Vec<u8>,
    mime: &'static str,
    relation: &'static str,
    says: String,
) -> Attached {
    let path = format!("/attached/{}", folder.len() + 1);
    folder.insert(path.clone(), bytes);
    Attached { place: place.to_owned(), path, name: String::new(), mime, relation, says }
}

/// What was read as notes; a text that is none stays where it lies.
fn notes(project: &Project, folder: &mut Folder) -> Vec<Attached> {
    let sources = &project.sources;
    let note = |id| {
        let source = sources.file(id);
        let mime = if source.path.ends_with(".md") { "text/markdown" } else { "application/yaml" };
        let says = format!("The note {}", source.path);
        laid(folder, &source.path, source.text.clone().into_bytes(), mime, "source", says)
    };
    sources.ids().filter(|id| !project.left_alone.contains(id)).map(note).collect()
}

/// What an earlier edition reported, from which this one says what has changed.
fn issued(project: &Project, folder: &mut Folder) -> Option<Attached> {
    let bytes = project.issued.as_ref().and_then(|_| project.sources.bytes(STORE).ok())?;
    Some(laid(folder, STORE, bytes, "application/json", "data", "What was issued before".to_owned()))
}

/// Every picture that a note names, without what a camera wrote beside it; a large one no finer than it is printed.
///
/// # Errors
/// A picture that can't be read.
fn pictures(edition: &Edition, folder: &mut Folder) -> Result<Vec<Attached>, RenderFault> {
    let sources = &edition.project.sources;
    let mut attached = Vec::new();
    for path in named_pictures(edition.project) {
        let fault = |fault: PhotoFault| RenderFault::Pictures(vec![(path.clone(), fault)]);
        let Ok(bytes) = sources.bytes(&path) else { continue };
        let bare = photo::without_metadata(&bytes).map_err(fault)?;
        let (bytes, says) = if bare.len() <= LARGEST_PICTURE {
            (bare, format!("The picture {path}"))
        } else {
            (
                photo::prepare(&bytes, FULL).map_err(fault)?.bytes,
                format!("The picture {path}, as it is printed"),
            )
        };
        attached.push(laid(folder, &path, bytes, mime_of(&path), "supplement", says));
    }
    Ok(attached)
}

/// The project paths of the pictures in bodies and of findings, each once.
fn named_pictures(project: &Project) -> BTreeSet<String> {
    let (dossier, sources) = (&project.dossier, &project.sources);
    let mut targets: Vec<(FileId, &str)> = Vec::new();
    for (note, body) in dossier.bodies() {
        let file = dossier.head(note).file;
        each_inline(body, &mut |inline| {
            if let InlineShape::Picture { target, .. } = &inline.shape {
                targets.push((file, target));
            }
        });
    }
    let photos = dossier
        .findings
        .iter()
        .flat_map(|finding| finding.photos.iter().map(|photo| (finding.head.file, photo.file.text.as_str())));
    let all = targets.into_iter().chain(photos);
    all.filter_map(|(file, target)| sources.relative(file, &decoded(target)))
        .filter(|path| sources.is_file(path))
        .collect()
}

/// Where each attachment belongs: its name, a tab, its path in the project, a tab, what it is.
fn manifest(attached: &[Attached], folder: &mut Folder) -> Attached {
    let plain = |text: &str| text.replace(['\t', '\n', '\r'], " ");
    let line = |file: &Attached| format!("{}\t{}\t{}\n", file.name, plain(&file.place), plain(&file.says));
    let text: String =
        std::iter::once("attachment\tpath\twhat\n".to_owned()).chain(attached.iter().map(line)).collect();
    let says = "Where each attached file belongs in the project".to_owned();
    let file = laid(folder, MANIFEST, text.into_bytes(), "text/tab-separated-values", "data", says);
    Attached { name: MANIFEST.to_owned(), ..file }
}

/// Gives each attachment a name of its own that every viewer saves.
pub(super) fn name_all(attached: &mut [Attached]) {
    let mut taken = BTreeSet::from([MANIFEST.to_owned()]);
    for file in attached {
        let plain = plain_name(&file.place);
        let (stem, ending) = plain
            .rsplit_once('.')
            .map_or((plain.as_str(), String::new()), |(stem, ending)| (stem, format!(".{ending}")));
        let names =
            std::iter::once(plain.clone()).chain((2..).map(|number| format!("{stem}-{number}{ending}")));
        let mut free = names.filter(|name| taken.insert(name.to_lowercase()));
        file.name = free.next().unwrap_or_default();
    }
}

/// The longest name of an attachment, in letters.
const LONGEST_NAME: usize = 120;

/// A path as one file name: letters and figures of ASCII, `-`, `_` and `.`; folders are parted by `--`. It begins with no
/// point, and is no name that Windows keeps for itself.
fn plain_name(path: &str) -> String {
    const KEPT_BACK: &[&str] = &["con", "prn", "aux", "nul"];
    let joined = path.trim_start_matches(['/', '.']).replace('/', "--");
    let plain: String = joined
        .chars()
        .map(|letter| if letter.is_ascii_alphanumeric() || "-_.".contains(letter) { letter } else { '_' })
        .collect();
    let plain = plain.trim_end_matches('.');
    let tail: String = plain.chars().skip(plain.chars().count().saturating_sub(LONGEST_NAME)).collect();
    let stem = tail.split('.').next().unwrap_or_default().to_lowercase();
    let is_port = |stem: &str| stem.len() == 4 && (stem.starts_with("com") || stem.starts_with("lpt"));
    if tail.is_empty() || KEPT_BACK.contains(&stem.as_str()) || is_port(&stem) {
        format!("file-{tail}")
    } else {
        tail
    }
}

/// A file that was made for this document.
pub(super) fn made(edition: &Edition, name: &str, text: String, says: &str) -> Attached {
    let path = edition.assets.lay_bytes("made", "", text.into_bytes());
    let (place, says) = (name.to_owned(), format!("{says} ({name})"));
    Attached { place, path, name: String::new(), mime: mime_of(name), relation: "supplement", says }
}

/// The files of these papers, each once; a paper without a file has none.
///
/// # Errors
/// A file that can't be read.
pub(super) fn papers(
    project: &Project,
    papers: &[PaperId],
    folder: &mut Folder,
) -> Result<Vec<Attached>, RenderFault> {
    let (dossier, sources) = (&project.dossier, &project.sources);
    let (mut attached, mut seen) = (Vec::new(), BTreeSet::new());
    for &id in papers {
        let paper = &dossier[id];
        let file = paper.file.as_ref().and_then(|file| sources.relative(file.span.file, &file.text));
        let Some(file) = file.filter(|file| seen.insert(file.clone())) else { continue };
        let unfit = |why: String| RenderFault::Paper { path: file.clone(), why };
        let bytes = sources.bytes(&file).map_err(|error| unfit(error.to_string()))?;
        let bytes = photo::without_metadata(&bytes).map_err(|fault| unfit(fault.to_string()))?;
        attached.push(laid(folder, &file, bytes, mime_of(&file), "supplement", paper.title.clone()));
    }
    Ok(attached)
}

/// The media type by the ending of the name, as registered with IANA.
fn mime_of(path: &str) -> &'static str {
    let ending = path.rsplit('.').next().unwrap_or_default().to_lowercase();
    match ending.as_str() {
        "pdf" => "application/pdf",
        "jpg" | "jpeg" => "image/jpeg",
        "png" => "image/png",
        "svg" => "image/svg+xml",
        "dxf" => "image/vnd.dxf",
        "webp" => "image/webp",
        "gif" => "image/gif",
        "tif" | "tiff" => "image/tiff",
        "txt" => "text/plain",
        "md" => "text/markdown",
        "csv" => "text/csv",
        "odt" => "application/vnd.oasis.opendocument.text",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_plain_and_no_two_are_alike() {
        let named = |paths: &[&str]| -> Vec<String> {
            let file = |path: &&str| Attached {
                place: (*path).to_owned(),
                path: String::new(),
                name: String::new(),
                mime: "text/plain",
                relation: "source",
                says: String::new(),
            };
            let mut attached: Vec<Attached> = paths.iter().map(file).collect();
            name_all(&mut attached);
            attached.into_iter().map(|file| file.name).collect()
        };
        assert_eq!(
            named(&[
                "parts/post.md",
                "parts--post.md",
                "PARTS/Post.md",
                "Größe: 2\".jpg",
                ".asfound/x",
                "aux.md",
                "manifest.tsv"
            ]),
            [
                "parts--post.md",
                "parts--post-2.md",
                "PARTS--Post-3.md",
                "Gr__e__2_.jpg",
                "asfound--x",
                "file-aux.md",
                "manifest-2.tsv"
            ]
        );
        let long = format!("{}.md", "a/".repeat(200));
        assert!(named(&[&long])[0].len() <= LONGEST_NAME && named(&[&long])[0].ends_with(".md"));
    }
}
