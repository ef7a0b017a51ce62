//! The papers that belong to the machine.

use serde::Serialize;

use super::edition::Edition;
use super::prose::said;
use super::shapes::{Fact, Mention, RecordShape};
use crate::dossier::PaperId;

#[derive(Serialize)]
pub(super) struct Papers {
    papers: Vec<PaperShape>,
}

#[derive(Serialize)]
struct PaperShape {
    #[serde(flatten)]
    record: RecordShape,
    title: String,
    what: Option<String>,
    about: Vec<Mention>,
    date: Option<String>,
    valid_until: Option<String>,
    lapsed: bool,
    file: Option<String>,
    facts: Vec<Fact>,
}

pub(super) fn chapter(edition: &Edition) -> Papers {
    Papers { papers: edition.dossier().papers.ids().map(|id| paper(edition, id)).collect() }
}

fn paper(edition: &Edition, id: PaperId) -> PaperShape {
    let keys = &edition.dossier()[id];
    let facts = [
        keys.what.clone().map(|what| Fact::new("what", what)),
        said(keys.date).map(|date| Fact::new("date", date)),
        said(keys.valid_from).map(|from| Fact::new("valid from", from)),
        said(keys.valid_until).map(|until| Fact::new("valid until", until)),
        keys.file
            .as_ref()
            .map(|file| Fact::new("file", file.text.rsplit('/').next().unwrap_or_default().to_owned())),
    ];
    PaperShape {
        record: RecordShape::of(edition, id.into()),
        title: keys.title.clone(),
        what: keys.what.clone(),
        about: edition.names.mentions(keys.about.iter().copied()),
        date: said(keys.date),
        valid_until: said(keys.valid_until),
        lapsed: edition.project.fitness.lapsed.contains(&id),
        file: keys.file.as_ref().map(|file| file.text.clone()),
        facts: facts.into_iter().flatten().collect(),
    }
}
