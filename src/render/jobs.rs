//! Jobs for others: the shops with what each is asked for, and the jobs that nobody can do.

use serde::Serialize;

use super::edition::Edition;
use super::prerequisites;
use super::prose::process;
use super::sequence::work_order;
use super::shapes::{Fact, Mention, RecordShape};
use crate::dossier::{NoteId, ShopId, StepId};
use crate::plan::readiness::State;
use crate::record::StepState;

#[derive(Serialize)]
pub(super) struct Jobs {
    shops: Vec<ShopShape>,
    unplaced: Vec<UnplacedShape>,
}

#[derive(Serialize)]
struct ShopShape {
    #[serde(flatten)]
    record: RecordShape,
    name: String,
    home: bool,
    has: Vec<String>,
    facts: Vec<Fact>,
    /// Its open steps.
    steps: Vec<Mention>,
    /// Its steps that are over.
    over: Vec<Mention>,
}

#[derive(Serialize)]
struct UnplacedShape {
    label: Option<String>,
    does: String,
    needs: Vec<String>,
    nearest: Option<String>,
}

/// The keeper's own shop first.
pub(super) fn chapter(edition: &Edition) -> Jobs {
    let dossier = edition.dossier();
    let mut shops: Vec<ShopId> = dossier.shops.ids().collect();
    shops.sort_by_key(|shop| dossier.home != Some(*shop));
    Jobs { shops: shops.into_iter().map(|shop| shape(edition, shop)).collect(), unplaced: unplaced(edition) }
}

fn unplaced(edition: &Edition) -> Vec<UnplacedShape> {
    let (dossier, plan) = (edition.dossier(), &edition.project.plan);
    let nobody_can = |step: &StepId| {
        let state = plan.standing(*step).state;
        state.is_open() && state != State::Doing && plan.placement(*step).nobody_can()
    };
    let one = |step: StepId| {
        let placement = plan.placement(step);
        let nearest = placement.verdict.nearest.as_ref();
        UnplacedShape {
            label: edition.names.label(step.into()),
            does: dossier[step].does.clone(),
            needs: placement.demand.called_for(process),
            nearest: nearest.map(|_| edition.names.misses(&placement.verdict)),
        }
    };
    dossier.steps.ids().filter(nobody_can).map(one).collect()
}

/// The open steps that are to be done at a shop, in the order of the work.
pub(super) fn steps_at(edition: &Edition, shop: ShopId) -> Vec<StepId> {
    let plan = &edition.project.plan;
    let here = |step: &StepId| {
        plan.standing(*step).state.is_open()
            && !plan.placement(*step).nobody_can()
            && plan.placement(*step).place == Some(shop)
    };
    work_order(edition.dossier(), &edition.outlook.timetable).into_iter().filter(here).collect()
}

fn shape(edition: &Edition, shop: ShopId) -> ShopShape {
    let dossier = edition.dossier();
    let keys = &dossier[shop];
    let open = steps_at(edition, shop);
    let to_pay = prerequisites::to_pay(edition, shop, &open.iter().copied().collect());
    let is_over = |step: &StepId| !edition.project.plan.standing(*step).state.is_open();
    let over: Vec<StepId> =
        dossier.steps.ids().filter(|step| dossier[*step].at == Some(shop) && is_over(step)).collect();
    let done = over.iter().copied().filter(|step| dossier[*step].state == StepState::Done).collect();
    let for_done = prerequisites::to_pay(edition, shop, &done);
    let listed: Vec<NoteId> = open.iter().chain(&over).map(|step| NoteId::Step(*step)).collect();
    let measures = keys.has.iter().map(|has| format!("{} {}", has.what, edition.amounts.typed(&has.amount)));
    let facts = [
        keys.distance.map(|distance| Fact::new("away", edition.amounts.away(distance))),
        keys.comes.then(|| Fact::new("works", "here, with the machine".to_owned())),
        keys.rate.as_ref().map(|rate| Fact::new("rate", edition.amounts.typed(rate))),
        keys.hours_per_week.map(|pace| Fact::new("hours a week", pace.hours.to_string())),
        to_pay.map(|sum| Fact::new("for all of it", sum)),
        for_done.map(|sum| Fact::new("for what is done, by the estimates", sum)),
        keys.contact.clone().map(|contact| Fact::new("contact", contact)),
    ];
    ShopShape {
        record: RecordShape {
            named_in: edition.names.named_in(shop.into(), &listed),
            ..RecordShape::of(edition, shop.into())
        },
        name: keys.name.clone(),
        home: dossier.home == Some(shop),
        has: measures.chain(keys.processes.iter().map(|name| process(name))).collect(),
        facts: facts.into_iter().flatten().collect(),
        steps: edition.names.steps_in_order(open),
        over: edition.names.steps_in_order(over),
    }
}
