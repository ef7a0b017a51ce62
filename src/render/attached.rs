//! Files that go with a document, inside the PDF.

use serde::Serialize;

use super::dossier::bill_csv;
use super::edition::Edition;
use super::state::state_json;
use super::templates::RenderFault;
use crate::Project;
use crate::dossier::PaperId;
use crate::photo;
use crate::typeset::Folder;

#[derive(Serialize)]
pub(super) struct Attached {
    /// In the virtual folder.
    pub(super) path: String,
    mime: &'static str,
    /// What the file is to the document, in a word of PDF/A-3.
    relation: &'static str,
    pub(super) says: String,
}

/// The notes, the papers, the bill and the computed state, so that the file alone is the record.
///
/// # Errors
/// A paper that can't be read.
pub(super) fn record(edition: &Edition, folder: &mut Folder) -> Result<Vec<Attached>, RenderFault> {
    let mut attached = notes(edition.project, folder);
    let beside = [
        ("bill.csv", "text/csv", bill_csv(edition), "The bill of materials"),
        ("dossier.json", "application/json", state_json(edition), "The computed state"),
    ];
    for (name, mime, text, says) in beside {
        let path = format!("/attached/{name}");
        folder.insert(path.clone(), text.into_bytes());
        attached.push(Attached { path, mime, relation: "data", says: says.to_owned() });
    }
    let all: Vec<PaperId> = edition.dossier().papers.ids().collect();
    attached.extend(papers(edition.project, &all, folder)?);
    Ok(attached)
}

fn notes(project: &Project, folder: &mut Folder) -> Vec<Attached> {
    let sources = &project.sources;
    let note = |id| {
        let source = sources.file(id);
        let path = format!("/attached/notes/{}", source.path);
        let mime = if source.path.ends_with(".md") { "text/markdown" } else { "application/yaml" };
        folder.insert(path.clone(), source.text.clone().into_bytes());
        Attached { path, mime, relation: "source", says: format!("The note {}", source.path) }
    };
    sources.ids().map(note).collect()
}

/// A file that was made for this document.
pub(super) fn made(edition: &Edition, name: &str, text: String, says: &str) -> Attached {
    let path = format!("/attached/drawings/{name}");
    edition.assets.lay_bytes(&path, text.into_bytes());
    let says = format!("{says} ({name})");
    Attached { path, mime: mime_of(name), relation: "supplement", says }
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
    let mut attached = Vec::new();
    for &id in papers {
        let paper = &dossier[id];
        let file = paper.file.as_ref().and_then(|file| sources.relative(file.span.file, &file.text));
        let Some(file) = file else { continue };
        let path = format!("/attached/papers/{file}");
        if !folder.contains_key(&path) {
            let unfit = |why: String| RenderFault::Paper { path: file.clone(), why };
            let bytes = sources.bytes(&file).map_err(|error| unfit(error.to_string()))?;
            let bytes = photo::without_metadata(&bytes).map_err(|fault| unfit(fault.to_string()))?;
            folder.insert(path.clone(), bytes);
            let (mime, says) = (mime_of(&file), paper.title.clone());
            attached.push(Attached { path, mime, relation: "supplement", says });
        }
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
