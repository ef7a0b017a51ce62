//! The bill by what becomes of a part: the lines under each disposition, and what they come to.

use super::mass::added_ends;
use super::roll_up::{Bill, PartLine};
use crate::dossier::{Dossier, PartId};
use crate::estimate::Estimate;
use crate::record::Disposition;

/// The lines of one disposition with their sums.
#[derive(Clone, Debug)]
pub struct Section<'a> {
    pub lines: Vec<&'a PartLine>,
    /// Of all lines that have a cost, in the dossier's money; `None` where none has.
    pub cost: Option<Estimate>,
    /// The ends of the mass, kg, each piece counted once; `None` where none is known.
    pub mass_ends_kg: Option<(f64, f64)>,
    /// Lines that belong to that mass and whose own is not known.
    pub unweighed: usize,
    /// Lines to be bought or made without a cost of their own; of what is made, the work may have one.
    pub unpriced: usize,
}

/// What the mass of a line stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Covers {
    /// The part itself, which has nothing within it.
    Part,
    /// The part, which this assembly was weighed with: it is counted there.
    WithinWeighed(PartId),
    /// The assembly with all that is within it.
    Assembly,
    /// An assembly without a mass in its note: its pieces have theirs.
    Pieces,
}

impl Bill {
    /// What stands under a disposition. An assembly that is neither decided nor paid for as a whole is no line of it: its
    /// pieces are.
    pub fn section(&self, dossier: &Dossier, disposition: Disposition) -> Section<'_> {
        let is_in = |line: &&PartLine| {
            let part = &dossier[line.part];
            let own = disposition != Disposition::Undecided || part.cost.is_some();
            part.disposition == disposition && (own || dossier.children(line.part).is_empty())
        };
        let lines: Vec<&PartLine> = self.lines.iter().filter(is_in).collect();
        let costs: Vec<Estimate> = lines.iter().filter_map(|line| line.cost).collect();
        let is_new = matches!(disposition, Disposition::Buy | Disposition::Make);
        let counted = lines.iter().filter(|line| line.is_counted(dossier));
        let masses: Vec<_> = counted.map(|line| line.mass_ends_kg).collect();
        Section {
            cost: (!costs.is_empty()).then(|| costs.into_iter().sum()),
            mass_ends_kg: masses.iter().copied().fold(None, added_ends),
            unweighed: masses.iter().filter(|mass| mass.is_none()).count(),
            unpriced: lines.iter().filter(|line| is_new && line.cost.is_none()).count(),
            lines,
        }
    }
}

impl PartLine {
    /// What its mass stands for.
    pub fn covers(&self, dossier: &Dossier) -> Covers {
        match (self.weighed_with(dossier), dossier.children(self.part).is_empty()) {
            (Some(assembly), _) if self.mass_kg.is_some() => Covers::WithinWeighed(assembly),
            (_, true) => Covers::Part,
            (_, false) if self.weight.given => Covers::Assembly,
            _ => Covers::Pieces,
        }
    }

    /// Whether it has a mass of its own: an assembly without one in its note has only those of its pieces.
    pub fn has_own_mass(&self, dossier: &Dossier) -> bool {
        self.weight.given || dossier.children(self.part).is_empty()
    }

    /// Whether its mass belongs to the sum of its section.
    fn is_counted(&self, dossier: &Dossier) -> bool {
        self.has_own_mass(dossier) && self.weighed_with(dossier).is_none()
    }

    /// The assembly that was weighed with this part in it, if it is a line too. What is new was not in it, and what is
    /// scrapped leaves it, unless all of it is.
    fn weighed_with(&self, dossier: &Dossier) -> Option<PartId> {
        let own = dossier[self.part].disposition;
        if matches!(own, Disposition::Buy | Disposition::Make) {
            return None;
        }
        let is_line = |part: &PartId| {
            let keys = &dossier[*part];
            let is_decided = keys.disposition != Disposition::Undecided || keys.cost.is_some();
            keys.mass.is_some() && is_decided && (own != Disposition::Scrap || keys.disposition == own)
        };
        let around = |part: PartId| std::iter::successors(dossier[part].within, |part| dossier[*part].within);
        around(self.part).find(is_line)
    }
}
