//! The work: the graph, the ordered list, what decides the end, the forecast, the trips.

use std::collections::{BTreeMap, BTreeSet};

use jiff::ToSpan;
use serde::Serialize;

use super::cautions::{self, Warning};
use super::drawing::{Drawing, drawings};
use super::edition::{Edition, day, said};
use super::shapes::{Fact, Mention, RecordShape};
use crate::calc::function::Caution;
use crate::calc::literal::Literal;
use crate::calc::print::counted;
use crate::dossier::{NoteId, PartId, ShopId, StepId};
use crate::plan::forecast::Slot;
use crate::plan::graph::Graph;
use crate::plan::loads::{Loads, Run};
use crate::plan::network::Kind;
use crate::plan::readiness::{Cause, Obstacle};
use crate::plan::timetable::Timetable;
use crate::plan::travel::Trip;
use crate::record::StepState;

#[derive(Serialize)]
pub(super) struct Sequence {
    graphs: Vec<GraphShape>,
    steps: Vec<StepShape>,
    path: Vec<PathLine>,
    chart: Option<String>,
    forecast: Option<ForecastShape>,
    trips: Vec<TripShape>,
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
    hangs_on: Vec<Mention>,
    uses: Vec<Mention>,
    under: Vec<Mention>,
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

#[derive(Serialize)]
struct PathLine {
    label: Option<String>,
    number: String,
    does: String,
    start: String,
    finish: String,
    float: String,
}

#[derive(Serialize)]
struct ForecastShape {
    says: String,
    /// While these have none, the end is not known.
    without_shop: Vec<Mention>,
}

#[derive(Serialize)]
struct TripShape {
    /// `None` where nobody can do it yet.
    shop: Option<Mention>,
    /// The shop comes for all of it.
    comes: bool,
    steps: Vec<TripStep>,
    parts: Vec<Mention>,
    /// In the unit of mass.
    mass: Option<String>,
    /// How the keeper's own transport carries it.
    carried: Option<String>,
}

#[derive(Serialize)]
struct TripStep {
    #[serde(flatten)]
    mention: Mention,
    /// The shop comes for it, but not for all that it does.
    in_place: bool,
}

pub(super) fn chapter(edition: &Edition) -> Sequence {
    let (order, numbers) = (work_order(edition), edition.numbers());
    let timetable = &edition.outlook.timetable;
    Sequence {
        graphs: graphs(edition),
        path: path(edition, timetable, numbers),
        chart: chart(edition, timetable),
        forecast: forecast(edition, timetable),
        trips: trips(edition),
        transport: transport(edition),
        site: edition.dossier().site.map(|site| edition.dossier()[site].name.clone()),
        mass_unit: edition.mass_unit().shown(),
        fewest: edition.outlook.itinerary.proven,
        has_seasons: edition.project.plan.windows.iter().any(|window| window.first.or(window.last).is_some()),
        steps: order.into_iter().map(|step| shape(edition, step, numbers[&step])).collect(),
    }
}

/// What is done in the order of its days, then what is open as the hands will take it up, then what was dropped.
pub(super) fn work_order(edition: &Edition) -> Vec<StepId> {
    let dossier = edition.dossier();
    let timetable = &edition.outlook.timetable;
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
    let before = before(edition, id);
    let keeps_back = |note: NoteId| standing.causes.iter().any(|cause| cause.note == note);
    let moved = [&keys.removes, &keys.refits, &keys.makes];
    let only_worked_on =
        keys.parts.iter().copied().filter(|part| !moved.iter().any(|parts| parts.contains(part)));
    let keep = keys.refits.iter().flat_map(|part| {
        dossier[*part]
            .marks
            .iter()
            .map(|says| Keep { part: edition.mention((*part).into()), says: says.clone() })
    });
    StepShape {
        record: RecordShape { named_in: edition.named_in(id.into(), &before), ..edition.record(id.into()) },
        number,
        does: keys.does.clone(),
        state: standing.state.word(),
        facts: facts(edition, id),
        irreversible: keys.irreversible,
        if_wrong: keys.if_wrong.clone(),
        why: why_not(edition, &standing.causes),
        parts: edition.mentions(only_worked_on),
        needs: edition.mentions(keys.needs.iter().copied().filter(|step| !keeps_back((*step).into()))),
        before: edition.mentions(before),
        hangs_on: edition
            .mentions(keys.hangs_on.iter().copied().filter(|question| !keeps_back((*question).into()))),
        uses: edition.mentions(keys.uses.iter().copied()),
        under: edition.mentions(keys.under.iter().copied()),
        removes: edition.mentions(keys.removes.iter().copied()),
        refits: edition.mentions(keys.refits.iter().copied()),
        makes: edition.mentions(keys.makes.iter().copied()),
        mends: edition.mentions(keys.mends.iter().copied()),
        hazards: cautions::of_step(edition, id),
        keep: keep.collect(),
    }
}

/// What comes after a step, written or not: steps and questions in the order of the notes, each once.
fn before(edition: &Edition, id: StepId) -> Vec<NoteId> {
    let graph = &edition.project.plan.graph;
    let after = graph.network.edges().iter().filter(|edge| edge.before == Graph::step(id));
    let notes = after.map(|edge| graph.notes[edge.after]);
    notes.filter(|note| !matches!(note, NoteId::Part(_))).collect::<BTreeSet<_>>().into_iter().collect()
}

/// The causes, those of a kind together, each note once.
fn why_not(edition: &Edition, causes: &[Cause]) -> Vec<WhyNot> {
    let mut whys: Vec<WhyNot> = Vec::new();
    for cause in causes {
        let (says, is_about_it) = match cause.obstacle {
            Obstacle::Step => ("first", true),
            Obstacle::Question => ("an open question:", true),
            Obstacle::Part => ("still to come:", true),
            Obstacle::Record => ("not recorded as found:", true),
            Obstacle::Recovery | Obstacle::Capability | Obstacle::Day | Obstacle::Paper => ("", false),
        };
        if !is_about_it {
            whys.push(WhyNot { says: edition.because(cause), them: Vec::new() });
            continue;
        }
        let mention = edition.mention(cause.note);
        match whys.iter_mut().find(|why| why.says == says) {
            Some(why) if why.them.iter().any(|other| other.id == mention.id) => {}
            Some(why) => why.them.push(mention),
            None => whys.push(WhyNot { says: says.to_owned(), them: vec![mention] }),
        }
    }
    whys
}

fn facts(edition: &Edition, id: StepId) -> Vec<Fact> {
    let dossier = edition.dossier();
    let keys = &dossier[id];
    let placement = edition.project.plan.placement(id);
    let shop = placement.place.map(|shop| Fact {
        label: edition.label(shop.into()),
        ..Fact::new(where_it_is(edition, id, shop), dossier[shop].name.clone())
    });
    let calls: Vec<String> = keys
        .calls_for
        .iter()
        .map(|want| format!("{} {}", want.what, edition.typed(&want.amount)))
        .chain(keys.processes.iter().cloned())
        .collect();
    let facts = [
        shop,
        keys.takes.as_ref().map(|takes| Fact::new("takes", edition.estimate(takes))),
        keys.waits.as_ref().map(|waits| Fact::new("waits", edition.estimate(waits))),
        said(keys.not_before).map(|day| Fact::new("not before", day)),
        said(keys.not_after).map(|day| Fact::new("done by", day)),
        (!calls.is_empty()).then(|| Fact::new("calls for", calls.join("; "))),
        keys.cost.as_ref().map(|cost| Fact::new("cost", edition.estimate(cost))),
        said(keys.done_on).map(|date| Fact::new("done", date)),
        keys.done_by.as_ref().map(|by| Fact::new("done by", by.text.clone())),
    ];
    facts.into_iter().flatten().collect()
}

/// What the name of the shop stands for: of a step that is done, the notes tell where only if they name the place.
fn where_it_is(edition: &Edition, id: StepId, shop: ShopId) -> &'static str {
    let (dossier, placement) = (edition.dossier(), edition.project.plan.placement(id));
    let is_over = !edition.project.plan.standing(id).state.is_open();
    let is_usual = Some(shop) == dossier.home || Some(shop) == dossier.site;
    match () {
        () if is_over && dossier[id].at.is_none() && !is_usual => "planned at",
        () if placement.in_place => "in place, by",
        () if dossier[shop].name_after_at() != dossier[shop].name => "where",
        () => "at",
    }
}

// The graph

fn graphs(edition: &Edition) -> Vec<GraphShape> {
    let drawings = drawings(edition);
    let count = drawings.len();
    let one = |(index, drawing): (usize, Drawing)| GraphShape {
        caption: caption(index + 1, count),
        data: edition.lay_data(&format!("sequence-{}", index + 1), &drawing),
    };
    drawings.into_iter().enumerate().map(one).collect()
}

fn caption(number: usize, count: usize) -> String {
    let key = "Heavy frames can be done now, dashed ones wait, double ones can't be undone";
    match (number, count) {
        (_, 1) => format!("What comes before what, from the top down. {key}."),
        (1, _) => format!(
            "What comes before what, from the top down; piece 1 of {count}. {key}; \"from\" and \"to\" name the steps of \
             other pieces."
        ),
        _ => format!("What comes before what; piece {number} of {count}."),
    }
}

// What decides the end

fn path(edition: &Edition, timetable: &Timetable, numbers: &BTreeMap<StepId, usize>) -> Vec<PathLine> {
    let line = |node: usize| {
        let slot = &timetable.forecast.slots[node];
        let note = timetable.notes[node];
        let date = |days: f64| {
            let date = date_of(edition, days);
            if timetable.conditional[node] { format!("({date})") } else { date }
        };
        PathLine {
            label: edition.label(note),
            number: match note {
                NoteId::Step(step) => numbers.get(&step).map(ToString::to_string).unwrap_or_default(),
                _ => String::new(),
            },
            does: match note {
                NoteId::Part(part) => format!("Delivery: {}", edition.dossier()[part].name),
                note => edition.dossier().title(note),
            },
            start: date(slot.start),
            finish: date(slot.finish),
            float: float_of(slot),
        }
    };
    told(timetable).into_iter().map(line).collect()
}

/// The whole days that it may slip.
fn float_of(slot: &Slot) -> String {
    format!("{:.0}", slot.float.floor())
}

/// What takes time, but for orders that decide nothing.
fn told(timetable: &Timetable) -> Vec<usize> {
    let idle = timetable.network.idle_orders();
    timetable.in_order().into_iter().filter(|&node| !idle[node]).collect()
}

/// The date so many days after day 0; the number of the day when the notes hold no date.
fn date_of(edition: &Edition, days: f64) -> String {
    let whole = days.floor();
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a forecast of more than 2^31 days is refused by the calendar"
    )]
    let later = edition.project.plan.day_zero.and_then(|zero| zero.checked_add((whole as i32).days()).ok());
    later.map_or_else(|| format!("day {whole:.0}"), |date| day(date).says)
}

#[derive(Serialize)]
struct Chart {
    days: f64,
    ticks: Vec<Tick>,
    bars: Vec<Bar>,
    ends: Option<Ends>,
    caption: String,
    alt: String,
}

#[derive(Serialize)]
struct Tick {
    day: f64,
    says: String,
}

#[derive(Serialize)]
struct Bar {
    label: Option<String>,
    says: String,
    state: &'static str,
    critical: bool,
    start: f64,
    hands: f64,
    waits: f64,
    float: f64,
    /// In whole days, as in the table.
    says_float: String,
}

#[derive(Serialize)]
struct Ends {
    low: f64,
    likely: f64,
    high: f64,
}

fn chart(edition: &Edition, timetable: &Timetable) -> Option<String> {
    let nodes = told(timetable);
    if nodes.is_empty() {
        return None;
    }
    let days = timetable.forecast.days;
    let spread = timetable.forecast.spread;
    let known = timetable.end_is_known();
    let over = if known {
        format!(" over {}", counted(format!("{:.0}", days.likely), "day"))
    } else {
        String::new()
    };
    let chart = Chart {
        days: days.likely,
        ticks: ticks(edition, spread.p90.max(days.likely)),
        bars: nodes.iter().map(|node| bar(edition, timetable, *node)).collect(),
        ends: known.then_some(Ends { low: spread.p10, likely: days.likely, high: spread.p90 }),
        caption: "The forecast: solid bars can't slip without moving the end; dashes are waiting that costs no hands; the \
                  thin line is how far a step may slip."
            .to_owned(),
        alt: format!("Bar chart of the forecast: {}{over}.", counted(nodes.len(), "job")),
    };
    Some(edition.lay_data("chart", &chart))
}

fn bar(edition: &Edition, timetable: &Timetable, node: usize) -> Bar {
    let slot = &timetable.forecast.slots[node];
    let note = timetable.notes[node];
    let is_step = timetable.network.activities()[node].kind == Kind::Step;
    Bar {
        label: edition.label(note),
        says: if is_step {
            edition.dossier().title(note)
        } else {
            format!("Delivery: {}", edition.dossier().title(note))
        },
        state: match note {
            NoteId::Step(step) => edition.project.state(step),
            _ => "waiting",
        },
        critical: slot.float < 1.0,
        start: slot.start,
        hands: slot.hands_off - slot.start,
        waits: slot.finish - slot.hands_off,
        float: slot.float,
        says_float: float_of(slot),
    }
}

/// The first of every month, or of every second or third when there are many.
fn ticks(edition: &Edition, last: f64) -> Vec<Tick> {
    let Some(zero) = edition.project.plan.day_zero else { return Vec::new() };
    let every = (last / 30.0 / 5.0).ceil().max(1.0);
    let mut ticks = Vec::new();
    let mut month = zero.first_of_month();
    loop {
        #[expect(clippy::cast_possible_truncation, reason = "a handful of months")]
        let Ok(next) = month.checked_add((every as i32).months()) else { break };
        let day = f64::from((next - zero).get_days());
        if day > last || ticks.len() > 24 {
            break;
        }
        let says = super::edition::day(next).says;
        let says = says.split_once(' ').map_or(says.clone(), |(_, rest)| short_month(rest));
        ticks.push(Tick { day, says });
        month = next;
    }
    ticks
}

/// "Mar 2027" for "March 2027".
fn short_month(text: &str) -> String {
    text.split_once(' ')
        .map_or(text.to_owned(), |(month, year)| format!("{} {year}", month.get(..3).unwrap_or(month)))
}

fn forecast(edition: &Edition, timetable: &Timetable) -> Option<ForecastShape> {
    if timetable.notes.is_empty() {
        return None;
    }
    if timetable.work_list().is_empty() {
        let says = "No step is open: there is no end to forecast.".to_owned();
        return Some(ForecastShape { says, without_shop: Vec::new() });
    }
    let spread = timetable.forecast.spread;
    let says = format!(
        "{} the last step is likely done by {}; eight times in ten {}. \
         Played through {} times with every time drawn between its low and its high; shops work side by side, and \
         waiting costs no hands. Taken for granted: questions are settled and papers renewed when the work comes to \
         them, what is not on order is ordered on day 0, and a shop without hours of its own keeps the keeper's pace.{}",
        opening(edition, timetable),
        date_of(edition, timetable.forecast.days.likely),
        within(&date_of(edition, spread.p10), &date_of(edition, spread.p90)),
        spread.runs,
        too_late(edition, timetable),
    );
    Some(ForecastShape { says, without_shop: edition.mentions(timetable.without_shop.iter().copied()) })
}

/// "between 3 May 2027 and 9 May 2027", "on 3 May 2027".
fn within(first: &str, last: &str) -> String {
    if first == last { format!("on {last}") } else { format!("between {first} and {last}") }
}

/// The pace; and that there is no end while somebody has still to be found.
fn opening(edition: &Edition, timetable: &Timetable) -> String {
    let pace = format!("the keeper's {} a week", counted(edition.dossier().about.hours_per_week, "hour"));
    match timetable.without_shop.len() {
        0 => format!("With {pace}"),
        1 => format!(
            "The end is not known while one step has no shop that can do it. If one is found by the time it is needed, \
             then with {pace}"
        ),
        count => format!(
            "The end is not known while {count} steps have no shop that can do them. If shops are found by the time they \
             are needed, then with {pace}"
        ),
    }
}

/// The steps that miss their last day.
fn too_late(edition: &Edition, timetable: &Timetable) -> String {
    let late = timetable.late().filter_map(|(step, finish)| {
        let last = edition.project.plan.window(step).last?;
        let (name, finish) = (edition.dossier().title(step.into()), date_of(edition, finish));
        Some(format!(
            " Too late by this: {name}, to be done by {}, likely finished {finish}.",
            day(last.day.date).says
        ))
    });
    late.collect()
}

fn trips(edition: &Edition) -> Vec<TripShape> {
    let trip = |(trip, loads): (&Trip, &Option<Loads>)| {
        let shop = if trip.unplaced { None } else { Some(trip.shop.or(edition.dossier().home)?) };
        let comes = trip.in_place.len() == trip.steps.len();
        let step = |&step: &StepId| TripStep {
            mention: edition.mention(step.into()),
            in_place: !comes && trip.in_place.contains(&step),
        };
        Some(TripShape {
            shop: shop.map(|shop| edition.mention(shop.into())),
            comes,
            steps: trip.steps.iter().map(step).collect(),
            parts: edition.mentions(trip.parts.iter().copied()),
            mass: trip.mass_ends_kg.map(|ends| edition.mass_numbers(ends)),
            carried: carried(edition, trip, loads.as_ref()),
        })
    };
    let outlook = edition.outlook;
    outlook.itinerary.trips.iter().zip(&outlook.loads).filter_map(trip).collect()
}

/// What the mass of a trip leaves out, then: "2 runs: 1. 2 × Side frame, at most 640 kg; 2. Post, at most 700 kg. No run takes Jib: longer than the bed."
fn carried(edition: &Edition, trip: &Trip, loads: Option<&Loads>) -> Option<String> {
    let name = |part: &PartId| edition.dossier().title((*part).into());
    let unknown: Vec<String> = trip.unweighed.iter().map(name).collect();
    let unknown = (!unknown.is_empty() && trip.mass_kg.is_some())
        .then(|| format!("The mass is without {}, of unknown mass.", unknown.join(", ")));
    let runs = loads.map(|loads| runs(edition, loads));
    let said: Vec<String> = unknown.into_iter().chain(runs).collect();
    (!said.is_empty()).then(|| said.join(" "))
}

fn runs(edition: &Edition, loads: &Loads) -> String {
    let name = |part: PartId| edition.dossier().title(part.into());
    let piece = |(part, pieces): &(PartId, u32)| match pieces {
        1 => name(*part),
        many => format!("{many} × {}", name(*part)),
    };
    let run = |(index, run): (usize, &Run)| {
        let pieces: Vec<String> = run.parts.iter().map(piece).collect();
        let number = if loads.runs.len() > 1 { format!("{}. ", index + 1) } else { String::new() };
        format!("{number}{}, at most {}", pieces.join(", "), edition.mass(run.mass_kg))
    };
    let runs: Vec<String> = loads.runs.iter().enumerate().map(run).collect();
    let refused: Vec<String> =
        loads.refused.iter().map(|(part, refusal)| format!("{} ({})", name(*part), refusal.word())).collect();
    let unknown: Vec<String> = loads.of_unknown_size.iter().map(|part| name(*part)).collect();
    let sentences = [
        (!runs.is_empty()).then(|| format!("{} there: {}.", counted(runs.len(), "run"), runs.join("; "))),
        (!refused.is_empty()).then(|| format!("No run of the keeper's takes: {}.", refused.join(", "))),
        (!unknown.is_empty())
            .then(|| format!("Size not known, held against the payload alone: {}.", unknown.join(", "))),
    ];
    sentences.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

fn transport(edition: &Edition) -> Option<String> {
    let transport = edition.dossier().about.transport.as_ref()?;
    edition.outlook.loads.iter().flatten().next()?;
    let bed: Vec<&Literal> = transport.bed.iter().collect();
    Some(format!(
        "The keeper's transport bears {} on a bed of {}. Every piece counts with the most that it may weigh and measure, \
         lying flat, none on another. {}",
        edition.typed(&transport.payload),
        edition.typed_together(&bed, " × "),
        cautions::caution_words(Caution::RoadTransport),
    ))
}
