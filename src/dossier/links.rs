//! Where a note names others: the keys of each kind, nested ones with them, and what they lead to.

use crate::record::{Head, Typed};
use crate::text::Span;

/// A link as typed, and what it should lead to.
pub(super) type Link = (Typed, Wanted);

/// What a link leads to.
#[derive(Clone, Copy)]
pub(super) enum Wanted {
    /// A note of any kind.
    Any,
    /// A note of this kind.
    Kind(&'static str),
    /// An instrument of dossier.yaml.
    Instrument,
}

/// All links of a note, whether what they belong to could be read whole or not.
pub(super) fn links(head: &Head, kind: &str) -> Vec<Link> {
    let typed = |(text, span): (&str, Span)| Typed { text: text.to_owned(), span };
    let mut links: Vec<Link> = Vec::new();
    for (key, wanted) in link_keys(kind) {
        links.extend(head.values(key).map(|value| (typed(value), *wanted)));
    }
    if kind == "entry" {
        links.extend(head.keys_under("hours").map(|step| (typed(step), Wanted::Kind("step"))));
    }
    links
}

/// The keys of a kind of note that name others, and what each names.
fn link_keys(kind: &str) -> &'static [(&'static str, Wanted)] {
    use Wanted::{Any, Instrument, Kind};
    const PART: Wanted = Kind("part");
    match kind {
        "part" => &[("within", PART), ("replaces", PART), ("trapped_by", PART), ("fit.with", PART)],
        "finding" => &[("about", PART)],
        "measurement" => &[("of", PART), ("instrument", Instrument)],
        "question" => {
            &[("about", Any), ("settled_by", Any), ("theories.for", Any), ("theories.against", Any)]
        }
        "step" => &[
            ("parts", PART),
            ("needs", Kind("step")),
            ("hangs_on", Kind("question")),
            ("uses", PART),
            ("makes", PART),
            ("removes", PART),
            ("refits", PART),
            ("mends", Kind("finding")),
            ("under", Kind("paper")),
            ("at", Kind("shop")),
        ],
        "paper" | "entry" => &[("about", Any)],
        _ => &[],
    }
}
