//! Days for all that is still to be done.

use super::Plan;
use super::forecast::{Forecast, forecast};
use super::network::{Kind, Network};
use super::schedule::critical_path::{CriticalPath, critical_path};
use crate::dossier::NoteId;

/// Early and late times, and the forecast, of every open step and every part still to come.
#[derive(Clone, Debug, Default)]
pub struct Timetable {
    /// What is still to be done: steps, orders, and questions that take no time.
    pub network: Network,
    /// By activity: its note.
    pub notes: Vec<NoteId>,
    /// Without any limit of hands, with likely times.
    pub critical: CriticalPath,
    /// With one pair of hands at each place.
    pub forecast: Forecast,
}

impl Timetable {
    /// Times what is open in a plan.
    pub fn of(plan: &Plan) -> Self {
        let is_open = |node: usize| match plan.graph.notes[node] {
            NoteId::Step(step) => plan.standing(step).state.is_open(),
            _ => true,
        };
        let (network, kept) = plan.graph.network.only(is_open);
        let likely: Vec<f64> = (0..kept.len()).map(|node| network.days(node).likely).collect();
        Self {
            critical: critical_path(network.precedence(), &likely),
            forecast: forecast(&network),
            notes: kept.into_iter().map(|node| plan.graph.notes[node]).collect(),
            network,
        }
    }

    /// The activities that take time, the earliest start first; of those, in the order of the notes.
    pub fn in_order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.notes.len()).filter(|&node| self.takes_time(node)).collect();
        let start = |node: usize| self.critical.times[node].early_start;
        order.sort_by(|&one, &two| start(one).total_cmp(&start(two)));
        order
    }

    /// The open steps as the hands will take them up by the forecast.
    pub fn work_list(&self) -> Vec<usize> {
        let mut order: Vec<usize> = self.network.precedence().order().to_vec();
        order.retain(|&node| self.network.activities()[node].kind == Kind::Step);
        order.sort_by(|&one, &two| self.forecast.slots[one].start.total_cmp(&self.forecast.slots[two].start));
        order
    }

    /// The critical path without the questions on it.
    pub fn critical_path(&self) -> impl Iterator<Item = usize> {
        self.critical.path.iter().copied().filter(|&node| self.takes_time(node))
    }

    fn takes_time(&self, node: usize) -> bool {
        self.network.activities()[node].kind != Kind::Question
    }
}
