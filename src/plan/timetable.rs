//! Days for all that is still to be done.

use super::Plan;
use super::forecast::{Forecast, forecast_around, unlimited};
use super::network::{ActivityKind, Network};
use super::precedence::Precedence;
use super::schedule::critical_path::CriticalPath;
use crate::dossier::{NoteId, StepId};

/// The forecast of every open step and every part still to come: the one place that the printed days, floats and end come
/// from.
#[derive(Clone, Debug, Default)]
pub struct Timetable {
    /// What is still to be done: steps, orders, and questions that take no time.
    pub network: Network,
    /// By activity: its note.
    pub notes: Vec<NoteId>,
    /// With one pair of hands at each place.
    pub forecast: Forecast,
    /// Without any limit of hands: for other programs only, since its floats promise more than the hands can keep.
    pub unlimited: CriticalPath,
    /// The open steps that no known shop can do, in the order of the notes: while there is one, the end is not known.
    pub without_shop: Vec<StepId>,
    /// By activity: whether its days hold only if shops are found, for it or for what comes before it.
    pub conditional: Vec<bool>,
}

impl Timetable {
    /// Times what is open in a plan.
    pub fn of(plan: &Plan) -> Self {
        let is_open = |node: usize| match plan.graph.notes[node] {
            NoteId::Step(step) => plan.standing(step).state.is_open(),
            _ => true,
        };
        let (network, kept) = plan.graph.network.only(is_open);
        let notes: Vec<NoteId> = kept.into_iter().map(|node| plan.graph.notes[node]).collect();
        let without_shop: Vec<StepId> = plan.unplaced().collect();
        let has_no_shop = |note: &NoteId| matches!(note, NoteId::Step(step) if without_shop.contains(step));
        let conditional = downstream(network.precedence(), notes.iter().map(has_no_shop).collect());
        Self {
            forecast: forecast_around(&network, &conditional),
            unlimited: unlimited(&network),
            conditional,
            without_shop,
            notes,
            network,
        }
    }

    /// Whether everything that is left can be done by somebody.
    pub fn end_is_known(&self) -> bool {
        self.without_shop.is_empty()
    }

    /// The activities that take time, the earliest start first, and each after all that comes before it.
    pub fn in_order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = self.network.precedence().order().to_vec();
        order.retain(|&node| self.takes_time(node));
        order.sort_by(|&one, &two| self.forecast.slots[one].start.total_cmp(&self.forecast.slots[two].start));
        order
    }

    /// The open steps as the hands will take them up by the forecast.
    pub fn work_list(&self) -> Vec<usize> {
        let mut order = self.in_order();
        order.retain(|&node| self.network.activities()[node].kind == ActivityKind::Step);
        order
    }

    /// The chain that decides the end, without the questions on it.
    pub fn critical_path(&self) -> impl Iterator<Item = usize> {
        self.timed(&self.forecast.path)
    }

    /// All that moves the end by the day that it slips, on whatever chain, the earliest start first.
    pub fn moving_the_end(&self) -> impl Iterator<Item = usize> {
        self.in_order().into_iter().filter(|&node| self.forecast.slots[node].moves_the_end())
    }

    /// The longest chain without any limit of hands, without the questions on it.
    pub fn unlimited_path(&self) -> impl Iterator<Item = usize> {
        self.timed(&self.unlimited.path)
    }

    fn timed<'a>(&'a self, path: &'a [usize]) -> impl Iterator<Item = usize> + 'a {
        path.iter().copied().filter(|&node| self.takes_time(node))
    }

    /// The steps that are not finished by the day that they are due, with that day and the finish by the forecast.
    pub fn late(&self) -> impl Iterator<Item = (StepId, f64)> {
        let slots = self.notes.iter().zip(self.network.activities()).zip(&self.forecast.slots);
        slots.filter_map(|((note, activity), slot)| match note {
            NoteId::Step(step) if activity.due.is_some_and(|due| slot.finish > due) => {
                Some((*step, slot.finish))
            }
            _ => None,
        })
    }

    fn takes_time(&self, node: usize) -> bool {
        self.network.activities()[node].kind != ActivityKind::Question
    }
}

/// The nodes marked, and all that come after them.
fn downstream(precedence: &Precedence, mut marked: Vec<bool>) -> Vec<bool> {
    for &node in precedence.order() {
        if marked[node] {
            precedence.after(node).iter().for_each(|&next| marked[next] = true);
        }
    }
    marked
}
