//! The notes of an edition for others: without private notes, contacts and costs, and with a mark where something is
//! left out.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::Secrets;
use super::secrets::{MONEY_KEYS, tells_of_money};
use crate::Project;
use crate::dossier::{NoteId, is_address};
use crate::note;
use crate::note::body::{Block, BlockShape, InlineShape, each_block, each_inline};
use crate::note::yaml::Shape;
use crate::text::{FileId, Span};
use crate::worked::Privacy;

/// What stands where something is left out.
const GAP: &str = "[kept back]";

/// How often what leans on something that was left out is left out too.
const MOST_ROUNDS: usize = 12;

/// What is taken out of the texts, by file.
type Cuts = BTreeMap<FileId, Vec<(Range<usize>, &'static str)>>;

/// The project as others may read it. What leans on something that is left out is left out with it; a problem that is
/// still there afterwards is one of the project that is returned.
pub fn for_others(project: &Project, secrets: &Secrets) -> Project {
    let privacy = Privacy::of(&project.dossier, &project.worked);
    let private: BTreeSet<FileId> = project
        .dossier
        .notes()
        .filter(|note| privacy.is_private(*note))
        .map(|note| file(project, note))
        .collect();
    let mut cuts = Cuts::new();
    for note in project.dossier.notes().filter(|note| !private.contains(&file(project, *note))) {
        cuts.insert(file(project, note), of_note(project, &privacy, secrets, note));
    }
    let mut others = without(project, &cuts, &private);
    for _ in 0..MOST_ROUNDS {
        let cuts = of_errors(&others);
        if cuts.is_empty() {
            break;
        }
        others = without(&others, &cuts, &BTreeSet::new());
    }
    if project.fitness.is_opposed_less_in(&project.dossier, &others.fitness, &others.dossier) {
        others = undeclared(others);
    }
    // What was issued before names every note.
    others.issued = None;
    others.dossier.about.title.push_str(", without private notes, contacts and costs");
    others
}

/// The project without its declaration of fitness: what stands against it is not in this edition.
fn undeclared(project: Project) -> Project {
    let Some(declared) = &project.dossier.about.fit_for_use else { return project };
    let file = declared.span.file;
    let range = entry_of(&project, file, "fit_for_use");
    let cuts = range.map(|range| (file, vec![(range, "")])).into_iter().collect();
    let mut left = without(&project, &cuts, &BTreeSet::new());
    // However the key was written.
    left.dossier.about.fit_for_use = None;
    left.fitness.withdraw();
    left
}

/// A key of a file of keys, with its value.
fn entry_of(project: &Project, file: FileId, key: &str) -> Option<Range<usize>> {
    let Shape::Map(entries) = note::read_yaml(&project.sources, file, &mut Vec::new())?.shape else {
        return None;
    };
    let entry = entries.into_iter().find(|entry| entry.key == key)?;
    Some(entry_range(&project.sources.file(file).text, entry.key_span, entry.value.span))
}

/// What goes with a key and its value: their lines, or between brackets the comma behind them.
fn entry_range(text: &str, key: Span, value: Span) -> Range<usize> {
    let line = text[..key.start].rfind('\n').map_or(0, |at| at + 1);
    // A key may be in quotes, or marked as one.
    let is_first =
        text[line..key.start].chars().all(|letter| letter.is_whitespace() || "\"'?".contains(letter));
    let start = if is_first { line } else { text[..key.start].trim_end_matches(['"', '\'']).len() };
    let rest = &text[value.end..];
    let comma = rest.trim_start().strip_prefix(',').map(|behind| text.len() - behind.len());
    let end = comma.unwrap_or(value.end);
    let line_end = text[end..].find('\n').map_or(text.len(), |at| end + at + 1);
    let is_last = text[end..line_end].trim_start().starts_with('#') || text[end..line_end].trim().is_empty();
    start..if is_first && is_last { line_end } else { end }
}

fn file(project: &Project, note: NoteId) -> FileId {
    project.dossier.head(note).file
}

/// The project anew from its texts without the cuts and without these files.
fn without(project: &Project, cuts: &Cuts, files: &BTreeSet<FileId>) -> Project {
    let left = project.sources.ids().filter(|id| !files.contains(id) && !project.left_alone.contains(id));
    let texts = left.map(|id| {
        let source = project.sources.file(id);
        (source.path.clone(), cut(&source.text, cuts.get(&id).map_or(&[], Vec::as_slice)))
    });
    Project::from_sources(project.sources.replaced(texts.collect::<Vec<_>>()), Vec::new())
}

fn cut(text: &str, cuts: &[(Range<usize>, &'static str)]) -> String {
    let mut cuts: Vec<_> = cuts.to_vec();
    cuts.sort_by_key(|(range, _)| range.start);
    let (mut left, mut at) = (String::with_capacity(text.len()), 0);
    for (range, instead) in cuts {
        if range.start >= at {
            left.push_str(&text[at..range.start]);
            left.push_str(instead);
            at = range.end;
        }
    }
    left + &text[at..]
}

fn of_note(
    project: &Project,
    privacy: &Privacy,
    secrets: &Secrets,
    note: NoteId,
) -> Vec<(Range<usize>, &'static str)> {
    let head = project.dossier.head(note);
    let stays = |key: &str, value: Span| {
        MONEY_KEYS.contains(&key)
            || key == "contact" && !head.for_helpers.goes
            || secrets.told_by(project.sources.slice(value)).next().is_some()
    };
    let text = &project.sources.file(head.file).text;
    let keys = head.keys.places().filter(|(key, _, value)| stays(key, *value));
    let mut cuts: Vec<_> = keys.map(|(_, key, value)| (entry_range(text, key, value), "")).collect();
    let hidden = head
        .links
        .iter()
        .filter(|link| project.dossier.find(&link.typed.text).is_some_and(|note| privacy.is_private(note)));
    let range = |id: Span| {
        let alone = head.keys.places().find(|(_, _, value)| *value == id);
        alone.map_or_else(|| link_of(project, id), |(_, key, value)| entry_range(text, key, value))
    };
    cuts.extend(hidden.map(|link| (range(link.typed.span), "")));
    let blocks = head.body.iter().filter(|block| block_stays(project, privacy, secrets, note, block));
    cuts.extend(blocks.map(|block| (block.span.range(), GAP)));
    cuts
}

/// An id in a list with the comma behind it, or the line that it stands in alone.
fn link_of(project: &Project, id: Span) -> Range<usize> {
    let text = &project.sources.file(id.file).text;
    let start = text[..id.start].rfind('\n').map_or(0, |at| at + 1);
    let before = text[start..id.start].trim_end();
    if before.ends_with(['[', ',']) {
        let rest = text[id.end..].trim_start();
        let behind = text.len() - rest.len() + usize::from(rest.starts_with(','));
        return id.start..if rest.starts_with(',') { behind } else { id.end };
    }
    start..text[id.end..].find('\n').map_or(text.len(), |at| id.end + at + 1)
}

fn block_stays(project: &Project, privacy: &Privacy, secrets: &Secrets, note: NoteId, block: &Block) -> bool {
    let (dossier, text) = (&project.dossier, project.sources.slice(block.span));
    let currency = &dossier.about.settings.currency;
    let mut stays = tells_of_money(text, currency) || secrets.told_by(text).next().is_some();
    let blocks = std::slice::from_ref(block);
    each_inline(blocks, &mut |inline| {
        stays |= match &inline.shape {
            InlineShape::Link { target, by_id, .. } if *by_id || !is_address(target) => {
                let found = dossier.link(block.span.file, target, *by_id, &project.sources);
                found.is_some_and(|note| privacy.is_private(note))
            }
            InlineShape::Code(_) => {
                let tells = |quote: &crate::calc::sheet::QuoteOutcome| tells_of_money(&quote.text, currency);
                privacy.quote(inline.span) || project.worked.quote(inline.span).is_some_and(tells)
            }
            _ => false,
        };
    });
    let id = &dossier.head(note).id;
    each_block(blocks, &mut |block| {
        if let BlockShape::Code(_) = &block.shape
            && let Some(worked) = project.worked.block(block.span)
        {
            stays |= worked.lines.iter().any(|line| privacy.rests(id, &line.references));
        }
    });
    stays
}

/// The blocks and keys in which errors stand.
fn of_errors(project: &Project) -> Cuts {
    let mut cuts = Cuts::new();
    for place in
        project.problems().iter().filter(|problem| problem.is_error()).filter_map(|problem| problem.place)
    {
        let note = project.dossier.notes().find(|note| file(project, *note) == place.file);
        let Some(head) = note.map(|note| project.dossier.head(note)) else { continue };
        let holds = |span: Span| span.start <= place.start && place.end <= span.end;
        let block = head.body.iter().find(|block| holds(block.span)).map(|block| (block.span.range(), GAP));
        let key = || {
            let text = &project.sources.file(head.file).text;
            let key = head.keys.places().find(|(_, _, value)| holds(*value));
            key.map(|(_, key, value)| (entry_range(text, key, value), ""))
        };
        if let Some(found) = block.or_else(key) {
            let cuts = cuts.entry(place.file).or_default();
            if !cuts.contains(&found) {
                cuts.push(found);
            }
        }
    }
    cuts
}

#[cfg(test)]
mod tests {
    use super::{cut, entry_range};
    use crate::text::{FileId, Span};

    #[test]
    fn what_is_cut_leaves_its_mark_and_overlapping_cuts_are_one() {
        assert_eq!(cut("abcdef", &[(4..5, ""), (1..3, "-"), (2..4, "x")]), "a-df");
    }

    #[test]
    fn a_key_is_cut_however_it_is_written() {
        for (text, value, left) in [
            ("a: 1\nkey: value\nb: 2\n", "value", "a: 1\nb: 2\n"),
            ("a: 1\nkey:\n  c: 1\n  d: 2 # more\nb: 2\n", "c: 1\n  d: 2", "a: 1\nb: 2\n"),
            ("a: 1\n\"key\": value\nb: 2\n", "value", "a: 1\nb: 2\n"),
            ("'key' : {c: 1}\n", "{c: 1}", ""),
            ("? key\n: value\nb: 2\n", "value", "b: 2\n"),
            ("{a: 1, key: value, b: 2}\n", "value", "{a: 1,  b: 2}\n"),
            ("{a: 1, \"key\": {c: 1}}\n", "{c: 1}", "{a: 1, }\n"),
            ("{key: value, b: 2}", "value", "{ b: 2}"),
            ("{\n  a: 1,\n  key: value,\n  b: 2\n}\n", "value", "{\n  a: 1,\n  b: 2\n}\n"),
            ("{\n  key: value, b: 2\n}\n", "value", "{\n b: 2\n}\n"),
        ] {
            let span = |words: &str| {
                let start = text.find(words).expect("it is there");
                Span::new(FileId::new(0), start..start + words.len())
            };
            assert_eq!(cut(text, &[(entry_range(text, span("key"), span(value)), "")]), left, "{text}");
        }
    }
}
