//! Where each step is done: what the notes say, held against what the shops have.

use super::capability::{Asked, Lack, Means, Measure, Verdict, judge};
use super::handling::{Load, Makings, loads};
use super::network::Resource;
use super::past::{Moment, Past};
use super::whereabouts::Whereabouts;
use crate::dossier::{Dossier, Noted, Resolved, ShopId, StepId, Table};
use crate::record::{self, Shop, Step, StepState, Want};

/// Who can do a step and where it will be done.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Placement {
    /// What it calls for, and what its parts weigh and measure.
    pub demand: Means,
    /// What has to be lifted and has to fit.
    pub loads: Vec<Load>,
    /// Who can; shops are counted as in the dossier.
    pub verdict: Verdict,
    /// Where it is done: `at`; else, if what it touches is still on the machine, where that stands, or whoever comes
    /// there; else at home if home can; else the nearest shop that can; `None` if nobody can, or if nothing is called
    /// for and no shop is home.
    pub place: Option<ShopId>,
    /// The shop comes for it: it is done where the part is.
    pub in_place: bool,
}

impl Placement {
    /// Whether no known shop has all that is called for, or every shop states too little for what its parts weigh.
    pub fn nobody_can(&self) -> bool {
        let Verdict { able, misses, nearest } = &self.verdict;
        able.is_empty() && (!self.demand.is_empty() || !misses.is_empty() || nearest.is_some())
    }

    /// What a shop lacks for the step.
    pub fn lacks(&self, dossier: &Dossier, shop: ShopId) -> Vec<Lack> {
        self.demand.lacking_in(&means(&dossier[shop].has, &dossier[shop].processes))
    }

    /// Whether this shop can do the step.
    pub fn can(&self, shop: ShopId) -> bool {
        self.demand.asks_nothing() || self.verdict.able.contains(&shop.index())
    }
}

/// The placement of every step, in the dossier's order. A step that is done stays where it was planned: that it is done
/// tells nothing of where.
pub fn placements(dossier: &Dossier, makings: &Makings) -> Table<StepId, Placement> {
    let shops: Vec<Means> = dossier.shops.iter().map(|shop| means(&shop.has, &shop.processes)).collect();
    let (mut whereabouts, past) = (Whereabouts::of(dossier), Past::of(dossier));
    let placed = |id: StepId| {
        let at_the_machine = dossier[id].at.is_none() && whereabouts.is_at_the_machine(id);
        placement((dossier, makings), (id, past.at(id)), &shops, at_the_machine)
    };
    dossier.steps.ids().map(placed).collect()
}

fn placement(
    (dossier, makings): (&Dossier, &Makings),
    (id, then): (StepId, Moment),
    shops: &[Means],
    at_the_machine: bool,
) -> Placement {
    let step = &dossier[id];
    let mut demand = means(&step.calls_for, &step.processes);
    let loads = loads(dossier, makings, id, then);
    loads.iter().for_each(|load| load.add_to(&mut demand));
    let mut placement = Placement { verdict: judge(&demand, shops), demand, loads, ..Placement::default() };
    let there = || at_the_machine.then(|| at_the_machine_by(dossier, &placement)).flatten();
    // What is done to a part on the machine was done where that stands, whoever can.
    let was_there = || dossier.site.filter(|_| at_the_machine && step.state == StepState::Done);
    let place = step.at.or_else(there).or_else(was_there);
    placement.place = place.or_else(|| chosen(dossier, &placement));
    placement.in_place = in_place(dossier, step, placement.place);
    placement
}

fn in_place(dossier: &Dossier, step: &Step<Resolved>, place: Option<ShopId>) -> bool {
    step.in_place || place.is_some_and(|shop| dossier[shop].comes)
}

/// Whether a step is done somewhere else than where the machine stands; of a place not yet known nobody can say.
pub(super) fn is_away(dossier: &Dossier, placement: &Placement) -> bool {
    let is_known = placement.place.is_some() || !placement.nobody_can();
    is_known && !placement.in_place && placement.place != dossier.site
}

/// Where the machine stands, if that can; else the nearest that can of those who come.
fn at_the_machine_by(dossier: &Dossier, placement: &Placement) -> Option<ShopId> {
    let comes = |shop: &ShopId| dossier[*shop].comes && placement.can(*shop);
    let coming = || nearest(dossier, dossier.shops.ids().filter(comes));
    dossier.site.filter(|site| placement.can(*site)).or_else(coming)
}

fn nearest(dossier: &Dossier, shops: impl Iterator<Item = ShopId>) -> Option<ShopId> {
    let distance = |shop: &ShopId| dossier[*shop].distance.unwrap_or(f64::INFINITY);
    shops.min_by(|one, two| distance(one).total_cmp(&distance(two)))
}

/// Home if home can; else the nearest shop that can.
fn chosen(dossier: &Dossier, placement: &Placement) -> Option<ShopId> {
    let able = dossier.shops.ids().filter(|&shop| placement.can(shop));
    match dossier.home {
        Some(home) if placement.can(home) => Some(home),
        _ if placement.demand.is_empty() => None,
        _ => nearest(dossier, able),
    }
}

fn means(wants: &[Want], processes: &[String]) -> Means {
    let measure = |want: &Want| Measure {
        what: want.what.clone(),
        low: want.amount.low,
        high: want.amount.high,
        dimension: want.amount.dimension(),
        typed: want.amount.to_string(),
        asked: Asked::ByStep,
    };
    Means { measures: wants.iter().map(measure).collect(), processes: processes.to_vec() }
}

/// Whose hands do each step.
pub(super) struct Hands {
    /// The places of the network: every shop in the dossier's order; after them the keeper, if no shop is home; then the
    /// place not yet known of what nobody can do; and last, for each step that nobody can do, hands of its own.
    pub(super) places: Vec<Resource>,
    /// By step: an index into `places`.
    pub(super) by_step: Vec<usize>,
}

impl Hands {
    pub(super) fn of(dossier: &Dossier, placements: &[Placement]) -> Self {
        let mut places = places(dossier);
        let unknown = places[unknown_place(dossier)].clone();
        let mut of = |placement: &Placement| {
            if placement.nobody_can() {
                places.push(unknown.clone());
                return places.len() - 1;
            }
            match placement.place {
                Some(shop) if dossier[shop].hands == record::Hands::Own => shop.index(),
                _ => keeper(dossier),
            }
        };
        let by_step = placements.iter().map(&mut of).collect();
        Self { places, by_step }
    }
}

fn places(dossier: &Dossier) -> Vec<Resource> {
    let pace = keeper_pace(dossier);
    let of_shop = |shop: &Noted<Shop>| Resource {
        id: shop.id().to_owned(),
        hours_per_week: shop.hours_per_week.map_or(pace, |own| own.hours.max(SLOWEST)),
    };
    let nameless = || Resource { id: String::new(), hours_per_week: pace };
    let keeper = dossier.home.is_none().then(nameless);
    dossier.shops.iter().map(of_shop).chain(keeper).chain([nameless()]).collect()
}

/// The place in [`places`] where a step is done.
pub(super) fn place_of(dossier: &Dossier, placement: &Placement) -> usize {
    match placement.place {
        Some(shop) => shop.index(),
        None if placement.nobody_can() => unknown_place(dossier),
        None => keeper(dossier),
    }
}

/// The place in [`places`] of what nobody can do.
pub(super) fn unknown_place(dossier: &Dossier) -> usize {
    dossier.shops.len() + usize::from(dossier.home.is_none())
}

/// The keeper's own place in [`places`].
pub(super) fn keeper(dossier: &Dossier) -> usize {
    dossier.home.map_or(dossier.shops.len(), ShopId::index)
}

/// Less than this many hours a week counts as this many: a plan of ages helps nobody.
const SLOWEST: f64 = 0.01;

fn keeper_pace(dossier: &Dossier) -> f64 {
    let home = dossier.home.and_then(|home| dossier[home].hours_per_week);
    home.map_or(dossier.about.hours_per_week, |own| own.hours).max(SLOWEST)
}
