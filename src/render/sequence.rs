//! The work: the graph, the forecast with its dates, the trips, the ordered list.

mod forecast;
mod trips;

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::cautions::{self, Warning};
use super::drawing::{Drawing, drawings};
use super::edition::Edition;
use super::names::Names;
use super::prose::{in_sentence, process, said};
use super::shapes::{Fact, Mention, RecordShape};
use crate::Project;
use crate::dossier::{Dossier, NoteId, ShopId, StepId};
use crate::plan::graph::Graph;
use crate::plan::readiness::{Cause, Obstacle};
use crate::plan::timetable::Timetable;
use crate::record::StepState;
use forecast::{ForecastShape, dates, forecast};
pub(super) use forecast::{date_of, days_of};
use trips::{TripShape, left, of_unknown_size, transport, trips};

#[derive(Serialize)]
pub(super) struct Sequence {
    graphs: Vec<GraphShape>,
    steps: Vec<StepShape>,
    forecast: Option<ForecastShape>,
    dates: Option<String>,
    trips: Vec<TripShape>,
    /// What no step brings back.
    left: Option<String>,
    /// Whose sizes nobody has written down.
    of_unknown_size: Option<String>,
    /// Where new parts are delivered: the shop that is home.
    home: Option<String>,
    /// What the keeper carries parts with, and the caution of the road, where something is carried.
    transport: Option<String>,
    /// Where the machine stands, if that is a shop.
    site: Option<String>,
    mass_unit: String,
    /// Whether fewer moves are proven to be impossible.
    fewest: bool,
    /// Whether a step has its days, which the order of the trips does not know of.
    has_seasons: bool,
}

#[derive(Serialize)]
struct GraphShape {
    data: String,
    caption: String,
}

#[derive(Serialize)]
struct StepShape {
    #[serde(flatten)]
    record: RecordShape,
    number: usize,
    does: String,
    state: &'static str,
    facts: Vec<Fact>,
    irreversible: bool,
    if_wrong: Option<String>,
    why: Vec<WhyNot>,
    parts: Vec<Mention>,
    needs: Vec<Mention>,
    before: Vec<Mention>,
    settles: Vec<Mention>,
    hangs_on: Vec<Mention>,
    uses: Vec<Mention>,
    under: Vec<Mention>,
    renews: Vec<Mention>,
    removes: Vec<Mention>,
    refits: Vec<Mention>,
    makes: Vec<Mention>,
    mends: Vec<Mention>,
    hazards: Vec<Warning>,
    keep: Vec<Keep>,
}

/// What keeps a step back: a few words, and the notes they are about.
#[derive(Serialize)]
struct WhyNot {
    says: String,
    them: Vec<Mention>,
}

#[derive(Serialize)]
struct Keep {
    part: Mention,
    says: String,
}

pub(super) fn chapter(edition: &Edition) -> Sequence {
    let (order, numbers) =
        (work_order(edition.dossier(), &edition.outlook.timetable), edition.names.numbers());
    let timetable = &edition.outlook.timetable;
    Sequence {
        graphs: graphs(edition),
        forecast: forecast(edition, timetable),
        dates: dates(edition, timetable),
        trips: trips(edition),
        left: left(edition),
        of_unknown_size: of_unknown_size(edition),
        home: edition.dossier().home.map(|home| edition.dossier()[home].name.clone()),
        transport: transport(edition),
        site: edition.dossier().site.map(|site| in_sentence(edition.dossier()[site].name_after_at())),
        mass_unit: edition.amounts.mass_unit().shown(),
        fewest: edition.outlook.itinerary.proven,
        has_seasons: edition.project.plan.windows.iter().any(|window| window.first.or(window.last).is_some()),
        steps: order.into_iter().map(|step| shape(edition, step, numbers[&step])).collect(),
    }
}

/// What is done in the order of its days, then what is open as the hands will take it up, then what was dropped.
pub(super) fn work_order(dossier: &Dossier, timetable: &Timetable) -> Vec<StepId> {
    let place_in_plan: BTreeMap<NoteId, usize> = timetable
        .work_list()
        .into_iter()
        .enumerate()
        .map(|(place, node)| (timetable.notes[node], place))
        .collect();
    let mut order: Vec<StepId> = dossier.steps.ids().collect();
    order.sort_by_key(|step| {
        let keys = &dossier[*step];
        let rank = match keys.state {
            StepState::Done => 0,
            StepState::Doing | StepState::Todo => 1,
            StepState::Dropped => 2,
        };
        (rank, keys.done_on.map(|done| done.date), place_in_plan.get(&NoteId::Step(*step)).copied())
    });
    order
}

fn shape(edition: &Edition, id: StepId, number: usize) -> StepShape {
    let dossier = edition.dossier();
    let keys = &dossier[id];
    let standing = edition.project.plan.standing(id);
    let before = before(edition.project, id);
    let keeps_back = |note: NoteId| standing.causes.iter().any(|cause| cause.note == note);
    let moved = [&keys.removes, &keys.refits, &keys.makes];
    let only_worked_on =
        keys.parts.iter().copied().filter(|part| !moved.iter().any(|parts| parts.contains(part)));
    let keep = keys.refits.iter().flat_map(|part| {
        dossier[*part]
            .marks
            .iter()
            .map(|says| Keep { part: edition.names.mention((*part).into()), says: says.clone() })
    });
    StepShape {
        record: RecordShape {
            named_in: edition.names.named_in(id.into(), &before),
            ..RecordShape::of(edition, id.into())
        },
        number,
        does: keys.does.clone(),
        state: standing.state.word(),
        facts: facts(edition, id),
        irreversible: keys.irreversible,
        if_wrong: keys.if_wrong.clone(),
        why: why_not(&edition.names, &standing.causes),
        parts: edition.names.mentions(only_worked_on),
        needs: edition
            .names
            .steps_in_order(keys.needs.iter().copied().filter(|step| !keeps_back((*step).into()))),
        before: edition.names.steps_in_order(before.iter().filter_map(|note| match note {
            NoteId::Step(step) => Some(*step),
            _ => None,
        })),
        settles: edition
            .names
            .mentions(before.iter().copied().filter(|note| !matches!(note, NoteId::Step(_)))),
        hangs_on: edition
            .names
            .mentions(keys.hangs_on.iter().copied().filter(|question| !keeps_back((*question).into()))),
        uses: edition.names.mentions(keys.uses.iter().copied()),
        under: edition.names.mentions(keys.under.iter().copied()),
        renews: edition.names.mentions(keys.renews.iter().copied()),
        removes: edition.names.mentions(keys.removes.iter().copied()),
        refits: edition.names.mentions(keys.refits.iter().copied()),
        makes: edition.names.mentions(keys.makes.iter().copied()),
        mends: edition.names.mentions(keys.mends.iter().copied()),
        hazards: cautions::of_step(edition.project, id),
        keep: keep.collect(),
    }
}

/// What comes after a step, written or not: steps and questions in the order of the notes, each once.
fn before(project: &Project, id: StepId) -> Vec<NoteId> {
    let graph = &project.plan.graph;
    let after = graph.network.edges().iter().filter(|edge| edge.before == Graph::step(id));
    let notes = after.map(|edge| graph.notes[edge.after]);
    notes.filter(|note| !matches!(note, NoteId::Part(_))).collect::<BTreeSet<_>>().into_iter().collect()
}

/// The causes, those of a kind together, each note once.
fn why_not(names: &Names, causes: &[Cause]) -> Vec<WhyNot> {
    let mut whys: Vec<WhyNot> = Vec::new();
    for cause in causes {
        let (says, is_about_it) = match cause.obstacle {
            Obstacle::Step => ("first", true),
            Obstacle::Question => ("an open question:", true),
            Obstacle::Part => ("still to come:", true),
            Obstacle::Record => ("not recorded as found:", true),
            Obstacle::Size | Obstacle::Recovery | Obstacle::Capability | Obstacle::Day | Obstacle::Paper => {
                ("", false)
            }
        };
        if !is_about_it {
            whys.push(WhyNot { says: names.because(cause), them: Vec::new() });
            continue;
        }
        let mention = names.mention(cause.note);
        match whys.iter_mut().find(|why| why.says == says) {
            Some(why) if why.them.iter().any(|other| other.id == mention.id) => {}
            Some(why) => why.them.push(mention),
            None => whys.push(WhyNot { says: says.to_owned(), them: vec![mention] }),
        }
    }
    whys.iter_mut().for_each(|why| why.them.sort_by_key(|it| it.number));
    whys
}

fn facts(edition: &Edition, id: StepId) -> Vec<Fact> {
    let dossier = edition.dossier();
    let keys = &dossier[id];
    let placement = edition.project.plan.placement(id);
    let shop = placement.place.map(|shop| Fact {
        label: edition.names.label(shop.into()),
        ..Fact::new(where_it_is(edition.project, id, shop), dossier[shop].name.clone())
    });
    let calls: Vec<String> = keys
        .calls_for
        .iter()
        .map(|want| format!("{} {}", want.what, edition.amounts.typed(&want.amount)))
        .chain(keys.processes.iter().map(|name| process(name)))
        .collect();
    let facts = [
        shop,
        keys.takes.as_ref().map(|takes| Fact::new("takes", edition.amounts.estimate(takes))),
        keys.waits.as_ref().map(|waits| Fact::new("waits", edition.amounts.estimate(waits))),
        said(keys.not_before).map(|day| Fact::new("not before", day)),
        said(keys.not_after).map(|day| Fact::new("due by", day)),
        (!calls.is_empty()).then(|| Fact::new("calls for", calls.join("; "))),
        keys.cost.as_ref().map(|cost| Fact::new("cost", edition.amounts.estimate(cost))),
        said(keys.done_on).map(|date| Fact::new("done", date)),
        keys.done_by.as_ref().map(|by| Fact::new("done by", by.text.clone())),
    ];
    facts.into_iter().flatten().collect()
}

/// What the name of the shop stands for: of a step that is done, the notes tell where only if they name the place.
fn where_it_is(project: &Project, id: StepId, shop: ShopId) -> &'static str {
    let (dossier, placement) = (&project.dossier, project.plan.placement(id));
    let is_over = !project.plan.standing(id).state.is_open();
    let is_usual = Some(shop) == dossier.home || Some(shop) == dossier.site;
    match () {
        () if is_over && dossier[id].at.is_none() && !is_usual => "planned at",
        () if placement.in_place => "in place, by",
        () if dossier[shop].name_after_at() != dossier[shop].name => "where",
        () => "at",
    }
}

fn graphs(edition: &Edition) -> Vec<GraphShape> {
    let drawings = drawings(edition);
    let count = drawings.len();
    let one = |(index, drawing): (usize, Drawing)| GraphShape {
        caption: caption(index + 1, count),
        data: edition.assets.lay_data(&drawing),
    };
    drawings.into_iter().enumerate().map(one).collect()
}

fn caption(number: usize, count: usize) -> String {
    let key = "A heavy frame: can be done now; dashed: waiting; double: can't be undone";
    match (number, count) {
        (_, 1) => format!("What comes before what, from the top down. {key}."),
        (1, _) => format!(
            "What comes before what, from the top down; piece 1 of {count}. {key}; \"from\" and \"to\" name the steps of \
             other pieces. In one piece, for the wall: out/sequence.pdf."
        ),
        _ => format!("What comes before what; piece {number} of {count}."),
    }
}
