//! Which notes the calculations of others name: `@id.name` refers to a note as a link does.

use super::{Dossier, NoteId};
use crate::note::body::{BlockShape, InlineShape, each_block, each_inline};

/// From each note to those that its calculations and quoted values name.
pub(super) fn of_calculations(dossier: &Dossier) -> Vec<(NoteId, NoteId)> {
    let mut references = Vec::new();
    for (from, body) in dossier.bodies() {
        let mut add = |formula: &str| {
            let named = ids(formula).into_iter().filter_map(|id| dossier.find(id));
            references.extend(named.filter(|to| *to != from).map(|to| (from, to)));
        };
        each_block(body, &mut |block| match &block.shape {
            BlockShape::Code(code) if code.language == "calc" => {
                code.lines.iter().for_each(|line| add(&line.text));
            }
            _ => {}
        });
        each_inline(body, &mut |inline| {
            if let InlineShape::Code(text) = &inline.shape
                && let Some(formula) = text.strip_prefix("calc ")
            {
                add(formula);
            }
        });
    }
    references
}

/// The ids behind `@` in a formula, outside its texts in quotes and its remark.
fn ids(formula: &str) -> Vec<&str> {
    let mut found = Vec::new();
    for unquoted in formula.split('"').step_by(2) {
        let (names, is_last) = unquoted.split_once('#').map_or((unquoted, false), |(names, _)| (names, true));
        found.extend(names.split('@').skip(1).filter_map(|name| name.split_once('.')).map(|(id, _)| id));
        if is_last {
            break;
        }
    }
    found
}
