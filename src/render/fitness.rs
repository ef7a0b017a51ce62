//! Whether the machine may be used: for the cover, and in full for the inspector.

use serde::Serialize;

use super::checks::{self, CheckRow, Group, Listed, by_note};
use super::edition::Edition;
use super::prose::{day, said};
use super::shapes::Mention;
use super::working::verdict_code;
use crate::calc::evaluate::verdict::Outcome;
use crate::dossier::{FindingId, NoteId, PaperId, PartId};
use crate::fitness::{Asks, Check, Fitness, LoadPart, Standing};
use crate::record::{Chapter, Severity};

/// What the cover answers first.
#[derive(Serialize)]
pub(super) struct FitnessShape {
    /// "Not declared fit for use", "Declared fit for use", or that and what stands against it.
    head: &'static str,
    /// It is declared, and nothing that is known stands against it.
    is_clear: bool,
    /// What the keeper wrote, with its date and its end; `None` where there is no declaration.
    declaration: Option<DeclarationShape>,
    /// Why a declaration does not count, or what is later than it.
    remark: Option<String>,
    later: Vec<Danger>,
    dangerous: Vec<Danger>,
    /// The load-carrying checks that are not met.
    not_met: Vec<Brief>,
    held: usize,
    lapsed: Vec<PaperLine>,
    /// Whether any part is tagged as carrying load.
    is_tagged: bool,
    /// Checks of the notes that are not met and concern no part that is known to carry load.
    others_not_met: usize,
    /// The chapter that has them is in this edition.
    has_checks: bool,
}

#[derive(Serialize)]
struct DeclarationShape {
    words: String,
    date: String,
    valid_until: Option<String>,
    signed_by: Option<String>,
}

/// A dangerous finding, with the names of the parts that it is on.
#[derive(Serialize)]
struct Danger {
    of: String,
    finding: Mention,
}

/// A check in one line.
#[derive(Serialize)]
struct Brief {
    verdict: &'static str,
    /// The part, else the note that it stands in.
    of: Mention,
    /// What is checked; empty where that is a formula.
    says: String,
    /// The check as it was typed, where it is of a formula.
    typed: Option<String>,
    by: Option<String>,
}

#[derive(Serialize)]
pub(super) struct PaperLine {
    paper: Mention,
    what: Option<String>,
    date: Option<String>,
    valid_until: Option<String>,
    lapsed: bool,
}

pub(super) fn shape(edition: &Edition) -> FitnessShape {
    let fitness = &edition.project.fitness;
    let declared = edition.dossier().about.fit_for_use.as_ref();
    let later = match &fitness.standing {
        Standing::Overtaken(later) => later.iter().map(|id| danger(edition, *id)).collect(),
        _ => Vec::new(),
    };
    FitnessShape {
        head: head(fitness),
        is_clear: fitness.standing == Standing::Declared && fitness.is_unopposed(),
        declaration: declared.map(|declared| DeclarationShape {
            words: declared.words.clone(),
            date: day(declared.date.date).says,
            valid_until: said(declared.valid_until),
            signed_by: declared.signed_by.clone(),
        }),
        remark: remark(edition, &fitness.standing),
        later,
        dangerous: fitness.dangerous.iter().map(|id| danger(edition, *id)).collect(),
        not_met: fitness.not_met().map(|check| brief(edition, check)).collect(),
        held: fitness.checks.iter().filter(|check| check.outcome == Outcome::Holds).count(),
        lapsed: fitness.lapsed.iter().map(|id| paper_line(edition, *id)).collect(),
        is_tagged: fitness.is_tagged(),
        others_not_met: fitness.others.iter().filter(|check| check.outcome != Outcome::Holds).count(),
        has_checks: edition.names.has(Chapter::Checks),
    }
}

fn head(fitness: &Fitness) -> &'static str {
    match fitness.standing {
        Standing::NotDeclared | Standing::Ahead | Standing::Ended => "Not declared fit for use",
        Standing::Overtaken(_) => "Declared fit for use, and overtaken by what was found since",
        Standing::Declared if fitness.is_unopposed() => "Declared fit for use",
        Standing::Declared => "Declared fit for use, and what is known stands against it",
    }
}

fn danger(edition: &Edition, id: FindingId) -> Danger {
    let dossier = edition.dossier();
    let parts: Vec<&str> = dossier[id].about.iter().map(|part| dossier[*part].name.as_str()).collect();
    Danger { of: parts.join(", "), finding: edition.names.mention(id.into()) }
}

fn remark(edition: &Edition, standing: &Standing) -> Option<String> {
    let today = edition.dossier().day_zero().map(|today| day(today).says).unwrap_or_default();
    match standing {
        Standing::NotDeclared | Standing::Declared => None,
        Standing::Ahead => Some(format!(
            "The declaration is dated after the last date in the notes, {today}: it does not count yet."
        )),
        Standing::Ended => Some(format!("The declaration has ended; the notes have come to {today}.")),
        Standing::Overtaken(_) => Some(
            "The declaration is overtaken by dangerous findings that are later, or of no known day:"
                .to_owned(),
        ),
    }
}

fn brief(edition: &Edition, check: &Check) -> Brief {
    let of = edition.names.mention(check.part.map_or(check.note, NoteId::Part));
    let line = match check.asks {
        Asks::Line(place) => edition.project.worked.evaluation.line(place),
        Asks::Limits(_) | Asks::Fit(..) => None,
    };
    let place = match check.asks {
        Asks::Limits(id) => edition.names.label(id.into()),
        _ => line.map(|line| edition.names.line_label(check.note, line)),
    };
    let title = checks::title(edition, check);
    let typed = line.and_then(|line| line.asked.as_ref()).filter(|_| title.is_none());
    Brief {
        verdict: verdict_code(check.outcome),
        of: Mention { place, ..of },
        typed: typed.map(|asked| asked.text.clone()),
        says: title.unwrap_or_default(),
        by: checks::row(edition, check).and_then(|row| row.by),
    }
}

pub(super) fn paper_line(edition: &Edition, id: PaperId) -> PaperLine {
    let keys = &edition.dossier()[id];
    PaperLine {
        paper: edition.names.mention(id.into()),
        what: keys.what.clone(),
        date: said(keys.date),
        valid_until: said(keys.valid_until),
        lapsed: edition.project.fitness.lapsed.contains(&id),
    }
}

/// All that an inspector has to see.
#[derive(Serialize)]
pub(super) struct Inspector {
    fitness: FitnessShape,
    /// The parts that carry load.
    parts: Vec<Group>,
    /// Those that nothing is known of.
    bare: Vec<Mention>,
    /// Checks by a formula for what carries load, on parts without the tag.
    others: Vec<Group>,
    /// Papers with a last day that stand with no part above.
    papers: Vec<PaperLine>,
}

pub(super) fn inspector(edition: &Edition) -> Inspector {
    let fitness = &edition.project.fitness;
    let dossier = edition.dossier();
    let is_listed = |id: &PaperId| fitness.parts.iter().any(|part| part.papers.contains(id));
    let dated = dossier.papers.ids().filter(|id| dossier[*id].valid_until.is_some() && !is_listed(id));
    let is_bare = |load: &&LoadPart| {
        load.findings.is_empty() && load.papers.is_empty() && of_part(edition, load.part).next().is_none()
    };
    let (bare, known): (Vec<&LoadPart>, Vec<&LoadPart>) = fitness.parts.iter().partition(is_bare);
    Inspector {
        fitness: shape(edition),
        parts: known.into_iter().map(|load| group(edition, load)).collect(),
        bare: edition.names.mentions(bare.into_iter().map(|load| load.part)),
        others: by_note(edition, fitness.checks.iter().filter(|check| check.part.is_none())),
        papers: dated.map(|id| paper_line(edition, id)).collect(),
    }
}

fn of_part<'a>(edition: &'a Edition, part: PartId) -> impl Iterator<Item = &'a Check> {
    edition.project.fitness.checks.iter().filter(move |check| check.part == Some(part))
}

fn group(edition: &Edition, load: &LoadPart) -> Group {
    let keys = &edition.dossier()[load.part];
    let rows: Vec<CheckRow> =
        of_part(edition, load.part).filter_map(|check| checks::row(edition, check)).collect();
    let says = [keys.material.clone(), rows.is_empty().then(|| "no check".to_owned())];
    Group::of(edition.names.mention(load.part.into()), rows)
        .saying(keys.disposition.word(), says.into_iter().flatten().collect())
        .with("Found", load.findings.iter().map(|id| finding(edition, *id)).collect())
        .with("Papers", load.papers.iter().map(|id| paper(edition, *id)).collect())
}

fn finding(edition: &Edition, id: FindingId) -> Listed {
    let dossier = edition.dossier();
    let keys = &dossier[id];
    let mended: Vec<String> = dossier
        .mended_by(id)
        .iter()
        .map(|step| format!("mended by step {}", edition.names.numbers()[step]))
        .collect();
    let is_open = mended.is_empty();
    let seen = said(keys.seen).map(|day| format!("seen {day}"));
    let severity = keys.severity.map(Severity::word);
    let quiet = severity.filter(|_| !is_open).map(str::to_owned);
    Listed {
        note: edition.names.mention(id.into()),
        warns: severity.filter(|_| is_open).map(str::to_owned),
        says: quiet.into_iter().chain(seen).chain(mended).collect(),
    }
}

fn paper(edition: &Edition, id: PaperId) -> Listed {
    let PaperLine { paper, what, date, valid_until, lapsed } = paper_line(edition, id);
    let until = valid_until.map(|until| format!("valid until {until}"));
    Listed {
        note: paper,
        warns: lapsed.then(|| "lapsed".to_owned()),
        says: what.into_iter().chain(date.map(|date| format!("of {date}"))).chain(until).collect(),
    }
}
