//! The papers that go with a sheet: inside the PDF, and on paper by name with their first page.

use std::collections::BTreeSet;

use serde::Serialize;

use super::redaction::Redaction;
use super::scope::Scope;
use crate::dossier::{NoteId, PaperId};
use crate::photo::{self, Kind};
use crate::render::assets::COLUMN;
use crate::render::attached::{self, Attached};
use crate::render::edition::Edition;

/// A paper as it stands on the sheet.
#[derive(Serialize)]
pub(super) struct Enclosed {
    says: String,
    /// Of its picture, or of its first page's; `None` where it has none that can be shown.
    path: Option<String>,
}

/// Those asked for, and those whose notes let them go with these jobs.
pub(super) fn which(edition: &Edition, asked: &[PaperId], scopes: &[Scope]) -> Vec<PaperId> {
    let dossier = edition.dossier();
    let is_about = |note: &NoteId| {
        scopes.iter().any(|scope| match note {
            NoteId::Part(part) => scope.is_ours(*part),
            NoteId::Step(step) => *step == scope.step,
            _ => false,
        })
    };
    let goes = |id: &PaperId| {
        let is_ours = dossier[*id].about.iter().any(is_about);
        is_ours && scopes.first().is_some_and(|scope| scope.redaction.goes(*id))
    };
    let mut seen = BTreeSet::new();
    let all = asked.iter().copied().chain(dossier.papers.ids().filter(goes));
    all.filter(|id| seen.insert(*id)).collect()
}

/// Names the files that go with a sheet, neutrally where their own name is not for this reader; the folders of the
/// project are the keeper's own business.
pub(super) fn name(redaction: &Redaction, attached: &mut [Attached]) {
    for (at, file) in attached.iter_mut().enumerate() {
        let name = file.place.rsplit('/').next().unwrap_or_default().to_owned();
        let ending = name.rsplit_once('.').map_or_else(String::new, |(_, ending)| format!(".{ending}"));
        let is_known = redaction.joined(&name) == name;
        file.place = if is_known { name } else { format!("file-{}{ending}", at + 1) };
    }
    attached::name_all(attached);
}

pub(super) fn enclosed(edition: &Edition, redaction: &Redaction, papers: &[PaperId]) -> Vec<Enclosed> {
    let one = |id: &PaperId| {
        let says = redaction.text(*id, &edition.dossier()[*id].title);
        Enclosed { says, path: picture(edition, redaction, *id) }
    };
    papers.iter().map(one).collect()
}

fn picture(edition: &Edition, redaction: &Redaction, id: PaperId) -> Option<String> {
    let file = edition.dossier()[id].file.as_ref()?;
    let path = edition.project.sources.relative(file.span.file, &crate::dossier::decoded(&file.text))?;
    let bytes = edition.project.sources.bytes(&path).ok()?;
    match Kind::of(&bytes) {
        Some(Kind::Svg) if !redaction.allows_picture(id, &file.text) => None,
        Some(_) => {
            edition.assets.picture(file.span.file, &file.text, None, &[], COLUMN).map(|picture| picture.path)
        }
        None => Some(edition.assets.lay_bytes("pages", ".svg", photo::first_page(&bytes)?)),
    }
}
