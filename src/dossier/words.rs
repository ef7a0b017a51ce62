//! Words of capability that were probably mistyped: `calls_for` and `has` are in words of the keeper's own, so that a slip
//! of the pen makes a demand that no shop meets.

use std::collections::{BTreeMap, BTreeSet};

use super::Dossier;
use crate::diagnostic::{Problem, nearest};
use crate::dossier::problems as problem;
use crate::record::{Head, Want};

/// Words that are in use in every workshop, whether or not another note has them. Common practice, no source.
const KNOWN: &[&str] =
    &["between centres", "bore", "length", "lift", "press", "swing", "table", "throat", "travel"];

/// One use of a word.
struct Use<'a> {
    key: &'static str,
    head: &'a Head,
    want: &'a Want,
}

/// A word that no other note uses and that is close to one that is known or used elsewhere.
pub(super) fn check(dossier: &Dossier, problems: &mut Vec<Problem>) {
    let uses: Vec<Use> = uses(dossier).collect();
    let mut notes: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
    for one in &uses {
        notes.entry(plain(&one.want.what)).or_default().insert(&one.head.id);
    }
    let is_alone =
        |word: &str| notes.get(word).is_some_and(|notes| notes.len() == 1) && !KNOWN.contains(&word);
    let mut told_of = BTreeSet::new();
    for one in uses.iter().filter(|one| is_alone(&plain(&one.want.what))) {
        let word = plain(&one.want.what);
        let others = notes.keys().map(String::as_str).chain(KNOWN.iter().copied());
        // Of two words that are each alone, one is reported.
        let others = others.filter(|other| *other != word && !told_of.contains(*other));
        if let Some(near) = nearest(&word, others) {
            problems.push(problem::capability_word(one.head, one.want.word, one.key, &one.want.what, near));
            told_of.insert(word);
        }
    }
}

/// What steps call for first: a shop's word is more likely the one that is meant.
fn uses(dossier: &Dossier) -> impl Iterator<Item = Use<'_>> {
    let steps = dossier
        .steps
        .iter()
        .flat_map(|step| step.calls_for.iter().map(|want| Use { key: "calls_for", head: &step.head, want }));
    let shops = dossier
        .shops
        .iter()
        .flat_map(|shop| shop.has.iter().map(|want| Use { key: "has", head: &shop.head, want }));
    steps.chain(shops)
}

/// Words that differ in case, hyphens or underscores are one, as they are when a step is held against a shop.
fn plain(word: &str) -> String {
    word.trim().to_lowercase().replace(['_', '-'], " ")
}
