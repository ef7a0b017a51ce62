//! What stands between now and a step, part or question.

use serde::Serialize;

use super::id;
use crate::dossier::Dossier;
use crate::plan::why::{ChainLine, Why};

/// What stands between now and a step, part or question.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reasons {
    /// What was asked about.
    pub id: String,
    /// The direct causes, each with its own.
    pub causes: Vec<CauseTree>,
    /// The steps, questions and parts that something can be done about today.
    pub doable_now: Vec<String>,
}

/// A cause and its causes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CauseTree {
    /// As in [`super::DirectCause`].
    pub kind: &'static str,
    /// The note to look at.
    pub id: String,
    /// Why, as a sentence.
    pub why: String,
    /// The note that says so.
    pub from: String,
    /// Its own causes stand at its first mention.
    pub told_above: bool,
    /// Its own causes.
    pub causes: Vec<CauseTree>,
}

/// Causes deeper than this stand beside each other instead of below each other.
const DEEPEST: usize = 60;

impl Reasons {
    /// The tree of causes.
    pub fn of(dossier: &Dossier, why: &Why) -> Self {
        let mut lines = why.lines.iter().peekable();
        let doable =
            why.doable.iter().filter(|doable| !doable.in_the_notes).map(|doable| id(dossier, doable.note));
        let mut doable_now: Vec<String> = doable.collect();
        let mut once = std::collections::BTreeSet::new();
        doable_now.retain(|id| once.insert(id.clone()));
        Self { id: id(dossier, why.note), causes: trees(dossier, &mut lines, 0), doable_now }
    }
}

fn trees<'a>(
    dossier: &Dossier,
    lines: &mut std::iter::Peekable<impl Iterator<Item = &'a ChainLine>>,
    depth: usize,
) -> Vec<CauseTree> {
    let mut found = Vec::new();
    while let Some(line) = lines.next_if(|line| line.depth >= depth) {
        let cause = &line.cause;
        let causes = if depth < DEEPEST { trees(dossier, lines, depth + 1) } else { Vec::new() };
        found.push(CauseTree {
            kind: cause.obstacle.word(),
            id: id(dossier, cause.note),
            why: cause.sentence(dossier),
            from: id(dossier, cause.says),
            told_above: line.told_above,
            causes,
        });
    }
    found
}
