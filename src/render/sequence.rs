//! The work: the graph, the ordered list, what decides the end, the forecast, the trips.

use std::collections::BTreeMap;

use jiff::ToSpan;
use serde::Serialize;

use super::cautions::{self, Warning};
use super::edition::{Edition, day, said};
use super::graph::{self, Card, Room};
use super::log::hours;
use super::shapes::{Fact, Mention, RecordShape};
use crate::dossier::{NoteId, StepId};
use crate::plan::network::{Kind, Reason};
use crate::plan::readiness::{Cause, Obstacle, State};
use crate::plan::timetable::Timetable;
use crate::record::{PaperSize, StepState};

#[derive(Serialize)]
pub(super) struct Sequence {
    graphs: Vec<GraphShape>,
    steps: Vec<StepShape>,
    path: Vec<PathLine>,
    chart: Option<String>,
    forecast: Option<ForecastShape>,
    trips: Vec<TripShape>,
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
    removes: Vec<Mention>,
    refits: Vec<Mention>,
    makes: Vec<Mention>,
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
}

#[derive(Serialize)]
struct TripShape {
    shop: Mention,
    steps: Vec<Mention>,
    parts: Vec<Mention>,
    mass: Option<String>,
}

pub(super) fn chapter(edition: &Edition) -> Sequence {
    let order = work_order(edition);
    let numbers = numbers(&order);
    let timetable = &edition.outlook.timetable;
    Sequence {
        graphs: graphs(edition),
        path: path(edition, timetable, &numbers),
        chart: chart(edition, timetable),
        forecast: forecast(edition, timetable),
        trips: trips(edition),
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
    let mut order: Vec<StepId> = StepId::all(dossier.steps.len()).collect();
    order.sort_by_key(|step| {
        let keys = &dossier[*step];
        let rank = match keys.state {
            StepState::Done => 0,
            StepState::Doing => 1,
            StepState::Todo => 2,
            StepState::Dropped => 3,
        };
        (rank, keys.done_on.map(|done| done.date), place_in_plan.get(&NoteId::Step(*step)).copied())
    });
    order
}

fn shape(edition: &Edition, id: StepId, number: usize) -> StepShape {
    let dossier = edition.dossier();
    let keys = &dossier[id];
    let standing = edition.project.plan.standing(id);
    let before: Vec<NoteId> = StepId::all(dossier.steps.len())
        .filter(|other| dossier[*other].needs.contains(&id))
        .map(NoteId::Step)
        .collect();
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
        removes: edition.mentions(keys.removes.iter().copied()),
        refits: edition.mentions(keys.refits.iter().copied()),
        makes: edition.mentions(keys.makes.iter().copied()),
        hazards: cautions::of_step(&keys.hazards),
        keep: keep.collect(),
    }
}

/// The causes, those of a kind together, each note once.
fn why_not(edition: &Edition, causes: &[Cause]) -> Vec<WhyNot> {
    let mut whys: Vec<WhyNot> = Vec::new();
    for cause in causes {
        let (says, is_about_it) = match cause.obstacle {
            Obstacle::Step => ("first", true),
            Obstacle::Question => ("an open question:", true),
            Obstacle::Part => ("it waits for", true),
            Obstacle::Record => ("nothing is recorded as found of", true),
            Obstacle::Recovery | Obstacle::Capability => ("", false),
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
    let place = edition.project.plan.placement(id).place;
    let shop = place.map(|shop| Fact {
        label: edition.label(shop.into()),
        ..Fact::new("at", dossier[shop].name.clone())
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
        (!calls.is_empty()).then(|| Fact::new("calls for", calls.join("; "))),
        keys.cost.as_ref().map(|cost| Fact::new("cost", edition.estimate(cost))),
        said(keys.done_on).map(|date| Fact::new("done", date)),
    ];
    facts.into_iter().flatten().collect()
}

// The graph

#[derive(Serialize)]
pub(super) struct Drawing {
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) alt: String,
    pub(super) nodes: Vec<NodeShape>,
    pub(super) edges: Vec<EdgeShape>,
    pub(super) continues: Vec<Continuation>,
}

#[derive(Serialize)]
pub(super) struct NodeShape {
    pub(super) label: Option<String>,
    pub(super) id: String,
    pub(super) lines: Vec<String>,
    pub(super) state: &'static str,
    pub(super) irreversible: bool,
    pub(super) note: Option<String>,
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) w: f64,
    pub(super) h: f64,
}

#[derive(Serialize)]
pub(super) struct EdgeShape {
    pub(super) points: Vec<[f64; 2]>,
    pub(super) reason: Option<&'static str>,
    pub(super) done: bool,
    pub(super) at: Option<[f64; 2]>,
}

#[derive(Serialize)]
pub(super) struct Continuation {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) says: String,
    pub(super) label: Option<String>,
    pub(super) way: &'static str,
}

const LETTERS_A_LINE: usize = 24;
/// Room for the marks where the graph goes on.
const UNDER_THE_LAST_ROW: f64 = 16.0;

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
    match count {
        1 => "What comes before what, from the top down.".to_owned(),
        _ => format!("What comes before what, from the top down; piece {number} of {count}."),
    }
}

/// The graph in pieces, each for one page.
pub(super) fn drawings(edition: &Edition) -> Vec<Drawing> {
    let numbers = numbers(&work_order(edition));
    let view = View::of(edition, &numbers);
    let room = match edition.dossier().about.paper {
        PaperSize::A4 => Room { width: 447.0, height: 540.0 },
        PaperSize::Letter => Room { width: 447.0, height: 486.0 },
    };
    let pieces = graph::pieces(&view.cards, &view.edges, room);
    let count = pieces.len();
    pieces.iter().enumerate().map(|(index, piece)| view.drawing(piece, index + 1, count)).collect()
}

/// The number of every step in the order of the work, from 1.
fn numbers(order: &[StepId]) -> BTreeMap<StepId, usize> {
    order.iter().enumerate().map(|(at, step)| (*step, at + 1)).collect()
}

/// The nodes of the plan that are drawn, numbered anew.
struct View<'a> {
    edition: &'a Edition<'a>,
    nodes: Vec<usize>,
    cards: Vec<Card>,
    edges: Vec<(usize, usize)>,
    reasons: Vec<&'a Reason>,
    numbers: &'a BTreeMap<StepId, usize>,
}

impl<'a> View<'a> {
    fn of(edition: &'a Edition<'a>, numbers: &'a BTreeMap<StepId, usize>) -> Self {
        let graph = &edition.project.plan.graph;
        let (network, old) = graph.network.only(|node| match graph.notes[node] {
            NoteId::Step(step) => edition.project.plan.standing(step).state != State::Dropped,
            _ => true,
        });
        let set_aside = network.set_aside();
        let kept = network.edges().iter().enumerate().filter(|(index, _)| !set_aside.contains(index));
        let mut edges: BTreeMap<(usize, usize), Reason> = BTreeMap::new();
        for (_, edge) in kept {
            edges.entry((edge.before, edge.after)).or_insert_with(|| edge.reason.clone());
        }
        let reason = |edge: &(usize, usize)| {
            let (before, after) = (old[edge.0], old[edge.1]);
            let of = |each: &&crate::plan::network::Edge| each.before == before && each.after == after;
            graph.network.edges().iter().find(of).map(|edge| &edge.reason)
        };
        let (edges, reasons) = edges.keys().filter_map(|edge| Some((*edge, reason(edge)?))).unzip();
        let mut view = Self { edition, cards: Vec::new(), nodes: old, edges, reasons, numbers };
        view.cards = (0..view.nodes.len()).map(|node| view.card(node)).collect();
        view
    }

    fn note(&self, node: usize) -> NoteId {
        self.edition.project.plan.graph.notes[self.nodes[node]]
    }

    fn card(&self, node: usize) -> Card {
        let title = self.edition.dossier().title(self.note(node));
        let rank = self.rank(node);
        let words = match self.note(node) {
            NoteId::Step(step) => {
                format!("{}. {title}", self.numbers.get(&step).copied().unwrap_or_default())
            }
            NoteId::Part(_) => format!("Buy: {title}"),
            _ => title,
        };
        Card { lines: graph::wrapped(&words, LETTERS_A_LINE), rank }
    }

    /// Steps in the order of the work; a part or a question just before the first step that waits for it.
    fn rank(&self, node: usize) -> usize {
        let number = |node: usize| match self.note(node) {
            NoteId::Step(step) => self.numbers.get(&step).map(|number| 2 * number),
            _ => None,
        };
        let waiting = || {
            self.edges.iter().filter(|(before, _)| *before == node).filter_map(|(_, after)| number(*after))
        };
        number(node).or_else(|| waiting().min().map(|first| first - 1)).unwrap_or(usize::MAX)
    }

    fn state(&self, node: usize) -> &'static str {
        match self.note(node) {
            NoteId::Step(step) => self.edition.project.state(step),
            _ => "waiting",
        }
    }

    fn is_done(&self, node: usize) -> bool {
        self.state(node) == "done"
    }

    /// Hours and shop of a step, days of an order.
    fn small_print(&self, node: usize) -> Option<String> {
        let dossier = self.edition.dossier();
        match self.note(node) {
            NoteId::Step(step) => dossier[step].takes.as_ref().map(|takes| hours(takes.likely)),
            NoteId::Part(part) => dossier[part].lead.as_ref().map(|lead| self.edition.estimate(lead)),
            _ => Some("open question".to_owned()),
        }
    }

    fn drawing(&self, piece: &graph::Piece, number: usize, count: usize) -> Drawing {
        let nodes: Vec<NodeShape> =
            piece.boxes.iter().map(|(node, corner)| self.node(*node, *corner)).collect();
        let told: Vec<String> =
            nodes.iter().map(|node| format!("{}, {}", node.lines.join(" "), node.state)).collect();
        let edges = piece.lines.iter().map(|(edge, points)| EdgeShape {
            points: points.clone(),
            reason: reason_word(self.reasons[*edge]),
            done: self.is_done(self.edges[*edge].0) && self.is_done(self.edges[*edge].1),
            at: None,
        });
        Drawing {
            width: piece.width,
            height: piece.height + UNDER_THE_LAST_ROW,
            alt: format!(
                "Graph of the work, piece {number} of {count}, from the top down: {}.",
                told.join("; ")
            ),
            edges: edges.collect(),
            continues: self.continuations(piece),
            nodes,
        }
    }

    fn node(&self, node: usize, [x, y]: [f64; 2]) -> NodeShape {
        let [w, h] = self.cards[node].size();
        let note = self.note(node);
        NodeShape {
            label: self.edition.label(note),
            id: self.edition.dossier().head(note).id.clone(),
            lines: self.cards[node].lines.clone(),
            state: self.state(node),
            irreversible: matches!(note, NoteId::Step(step) if self.edition.dossier()[step].irreversible),
            note: self.small_print(node),
            x,
            y,
            w,
            h,
        }
    }

    fn continuations(&self, piece: &graph::Piece) -> Vec<Continuation> {
        let corners: BTreeMap<usize, [f64; 2]> = piece.boxes.iter().copied().collect();
        let mark = |node: usize, others: &[usize], way: &'static str| {
            let ([x, y], [w, h]) = (corners[&node], self.cards[node].size());
            let names: Vec<String> = others.iter().map(|other| self.short_name(*other)).collect();
            let below = if way == "out" { h + 9.0 } else { -9.0 };
            let label = others.first().and_then(|other| self.edition.label(self.note(*other)));
            Continuation { x: x + w / 2.0, y: y + below, says: names.join(", "), label, way }
        };
        let entering = piece.entering.iter().map(|(node, others)| mark(*node, others, "in"));
        let leaving = piece.leaving.iter().map(|(node, others)| mark(*node, others, "out"));
        entering.chain(leaving).collect()
    }

    /// The number of a step; the name of anything else.
    fn short_name(&self, node: usize) -> String {
        match self.note(node) {
            NoteId::Step(step) => self.numbers.get(&step).map(ToString::to_string).unwrap_or_default(),
            note => self.edition.dossier().title(note),
        }
    }
}

/// Where an arrow is no plain need.
fn reason_word(reason: &Reason) -> Option<&'static str> {
    match reason {
        Reason::Needs | Reason::HangsOn | Reason::Bought { .. } => None,
        Reason::Settles => Some("settles"),
        Reason::Made { .. } => Some("makes a part"),
        Reason::Trapped { .. } => Some("frees"),
        Reason::PutBack { .. } => Some("must be in first"),
        Reason::Refit { .. } => Some("puts back"),
    }
}

// What decides the end

fn path(edition: &Edition, timetable: &Timetable, numbers: &BTreeMap<StepId, usize>) -> Vec<PathLine> {
    let line = |node: usize| {
        let times = &timetable.critical.times[node];
        let note = timetable.notes[node];
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
            start: date_of(edition, times.early_start),
            finish: date_of(edition, times.early_finish),
            float: format!("{:.0} d", times.late_start - times.early_start),
        }
    };
    timetable.in_order().into_iter().map(line).collect()
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
}

#[derive(Serialize)]
struct Ends {
    low: f64,
    likely: f64,
    high: f64,
}

fn chart(edition: &Edition, timetable: &Timetable) -> Option<String> {
    let mut nodes = timetable.in_order();
    nodes.sort_by(|one, two| {
        timetable.forecast.slots[*one].start.total_cmp(&timetable.forecast.slots[*two].start)
    });
    if nodes.is_empty() {
        return None;
    }
    let days = timetable.forecast.days;
    let spread = timetable.forecast.spread;
    let chart = Chart {
        days: days.likely,
        ticks: ticks(edition, spread.p90.max(days.likely)),
        bars: nodes.iter().map(|node| bar(edition, timetable, *node)).collect(),
        ends: Some(Ends { low: spread.p10, likely: days.likely, high: spread.p90 }),
        caption: "The forecast: solid bars can't slip without moving the end; dashes are waiting that costs no hands; the \
                  thin line is how far a step may slip."
            .to_owned(),
        alt: format!("Bar chart of the forecast: {} jobs over {:.0} days.", nodes.len(), days.likely),
    };
    Some(edition.lay_data("chart", &chart))
}

fn bar(edition: &Edition, timetable: &Timetable, node: usize) -> Bar {
    let slot = &timetable.forecast.slots[node];
    let times = &timetable.critical.times[node];
    let note = timetable.notes[node];
    let float = (times.late_start - times.early_start).max(0.0);
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
        critical: float < 0.5,
        start: slot.start,
        hands: slot.hands_off - slot.start,
        waits: slot.finish - slot.hands_off,
        float,
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
    let spread = timetable.forecast.spread;
    let says = format!(
        "With the keeper's {} hours a week the last step is likely done by {}; eight times in ten between {} and {}. \
         Played through {} times with every time drawn between its low and its high; shops work side by side, and \
         waiting costs no hands.",
        edition.dossier().about.hours_per_week,
        date_of(edition, timetable.forecast.days.likely.ceil()),
        date_of(edition, spread.p10),
        date_of(edition, spread.p90.ceil()),
        spread.runs,
    );
    Some(ForecastShape { says })
}

fn trips(edition: &Edition) -> Vec<TripShape> {
    let trip = |trip: &crate::plan::travel::Trip| {
        let shop = trip.shop.or(edition.dossier().home)?;
        Some(TripShape {
            shop: edition.mention(shop.into()),
            steps: edition.mentions(trip.steps.iter().copied()),
            parts: edition.mentions(trip.parts.iter().copied()),
            mass: trip.mass_kg.map(|mass| edition.mass(mass)),
        })
    };
    edition.outlook.itinerary.trips.iter().filter_map(trip).collect()
}
