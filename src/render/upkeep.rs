//! What comes round again: inspection, grease.

use serde::Serialize;

use super::amounts::Amounts;
use super::edition::Edition;
use super::shapes::Mention;
use crate::dossier::PartId;
use crate::record::{Every, Upkeep};

#[derive(Serialize)]
pub(super) struct UpkeepLine {
    part: Mention,
    does: String,
    /// "every 3 months", "before every lift".
    every: String,
    with: Option<String>,
}

/// The upkeep of one part.
pub(super) fn of_part(edition: &Edition, part: PartId) -> Vec<UpkeepLine> {
    let line = |upkeep: &Upkeep| UpkeepLine {
        part: edition.names.mention(part.into()),
        does: upkeep.does.clone(),
        every: how_often(&edition.amounts, &upkeep.every),
        with: upkeep.with.clone(),
    };
    edition.dossier()[part].upkeep.iter().map(line).collect()
}

/// Of all parts, in the order of the tree.
pub(super) fn of_machine(edition: &Edition) -> Vec<UpkeepLine> {
    edition.dossier().tree().into_iter().flat_map(|(part, _)| of_part(edition, part)).collect()
}

pub(super) fn how_often(amounts: &Amounts, every: &Every) -> String {
    match every {
        Every::Time(time) => {
            let says = amounts.typed(time);
            format!("every {}", says.strip_prefix("1 ").unwrap_or(&says))
        }
        Every::Occasion(words) => words.clone(),
    }
}
