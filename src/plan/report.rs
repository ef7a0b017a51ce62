//! The plan as figures and words for JSON: documented keys, the unit in the key.

mod next;
mod reasons;
mod schedule;
mod trips;

use crate::dossier::{Dossier, NoteId};
pub use next::{DirectCause, HeldStep, Job, Next, Order, Unplaced};
pub use reasons::{CauseTree, Reasons};
pub use schedule::{End, METHOD, Schedule, Simulated, ThreePoint, TimedStep};
pub use trips::{CargoLine, Carried, LeftLine, LegLine, NoRun, RunLine, TripLine, left, trips};

fn id(dossier: &Dossier, note: NoteId) -> String {
    dossier.head(note).id.clone()
}
