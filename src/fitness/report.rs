//! The same for other programs; book/src/json.md says what every key means.

use serde::Serialize;

use super::{Asks, Check, Fitness, LoadPart, Standing};
use crate::calc::evaluate::verdict::Outcome;
use crate::dossier::{Dossier, NoteId};
use crate::record::FitForUse;
use crate::worked::Worked;

/// Whether the machine may be used, as far as the notes say.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FitnessReport {
    standing: &'static str,
    declaration: Option<Declaration>,
    overtaken_by: Vec<String>,
    dangerous: Vec<String>,
    checks: Vec<CheckLine>,
    lapsed: Vec<String>,
    parts: Vec<PartLine>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
struct Declaration {
    words: String,
    date: String,
    valid_until: Option<String>,
    signed_by: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
struct CheckLine {
    id: String,
    part: Option<String>,
    kind: &'static str,
    says: String,
    verdict: &'static str,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
struct PartLine {
    id: String,
    findings: Vec<String>,
    papers: Vec<String>,
}

impl FitnessReport {
    /// In ids and words.
    pub fn of(fitness: &Fitness, dossier: &Dossier, worked: &Worked) -> Self {
        let overtaken_by = match &fitness.standing {
            Standing::Overtaken(later) => later.as_slice(),
            _ => &[],
        };
        Self {
            standing: fitness.standing.word(),
            declaration: dossier.about.fit_for_use.as_ref().map(declaration),
            overtaken_by: ids(dossier, overtaken_by),
            dangerous: ids(dossier, &fitness.dangerous),
            checks: fitness.checks.iter().map(|check| check_line(dossier, worked, check)).collect(),
            lapsed: ids(dossier, &fitness.lapsed),
            parts: fitness.parts.iter().map(|part| part_line(dossier, part)).collect(),
        }
    }
}

impl Standing {
    /// The word for other programs.
    pub fn word(&self) -> &'static str {
        match self {
            Self::NotDeclared => "not declared",
            Self::Ahead => "dated ahead",
            Self::Ended => "ended",
            Self::Overtaken(_) => "overtaken",
            Self::Declared => "declared",
        }
    }
}

fn ids<N: Copy + Into<NoteId>>(dossier: &Dossier, notes: &[N]) -> Vec<String> {
    notes.iter().map(|note| dossier.head((*note).into()).id.clone()).collect()
}

fn declaration(declared: &FitForUse) -> Declaration {
    Declaration {
        words: declared.words.clone(),
        date: declared.date.date.to_string(),
        valid_until: declared.valid_until.map(|day| day.date.to_string()),
        signed_by: declared.signed_by.clone(),
    }
}

fn check_line(dossier: &Dossier, worked: &Worked, check: &Check) -> CheckLine {
    let (kind, says) = match check.asks {
        Asks::Line(place) => {
            let asked = worked.evaluation.line(place).and_then(|line| line.asked.as_ref());
            ("check", asked.map(|asked| asked.text.clone()).unwrap_or_default())
        }
        Asks::Limits(measurement) => ("limits", dossier[measurement].feature.clone()),
        Asks::Fit(_, measurement) => ("fit", dossier[measurement].feature.clone()),
    };
    CheckLine {
        id: dossier.head(check.note).id.clone(),
        part: check.part.map(|part| dossier[part].id().to_owned()),
        kind,
        says,
        verdict: match check.outcome {
            Outcome::Holds => "holds",
            Outcome::Fails => "fails",
            Outcome::NotSettled => "not settled",
        },
    }
}

fn part_line(dossier: &Dossier, part: &LoadPart) -> PartLine {
    PartLine {
        id: dossier[part.part].id().to_owned(),
        findings: ids(dossier, &part.findings),
        papers: ids(dossier, &part.papers),
    }
}
