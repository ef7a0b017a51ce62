//! The graph of the work as it is drawn: boxes with their words, arrows with their reasons, marks where it goes on.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::edition::Edition;
use super::graph::words::{Words, free_place};
use super::graph::{self, Card, Layout, Room};
use super::log::hours;
use super::sequence::days_of;
use crate::dossier::{NoteId, StepId};
use crate::plan::network::Reason;
use crate::plan::precedence::Precedence;
use crate::plan::readiness::State;
use crate::record::PaperSize;

#[derive(Default, Serialize)]
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
    /// Of the dossier, on a sheet of its own.
    pub(super) page: Option<usize>,
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

/// The rank of what nothing waits for.
const LAST: usize = usize::MAX / 2;
const LETTERS_A_LINE: usize = 26;
/// The boxes of a page, three beside each other; and of the sheet for the wall, each with its days.
const OF_A_PAGE: Boxes = Boxes { letters: LETTERS_A_LINE, width: 26.0, has_days: false };
const OF_THE_WALL: Boxes = Boxes { letters: 32, width: 31.0, has_days: true };
/// Room over the first and under the last row for the marks where the graph goes on.
const MARK_ROOM: f64 = 15.0;
/// How far the second edge of a box stands out, with half its line.
const DOUBLE_EDGE: f64 = 3.8;
/// At most so many boxes are named by one mark.
const MOST_NAMED: usize = 5;

/// The graph in pieces, each for one page.
pub(super) fn drawings(edition: &Edition) -> Vec<Drawing> {
    let view = View::of(edition, edition.names.numbers(), OF_A_PAGE);
    let room = match edition.dossier().about.paper {
        PaperSize::A4 => Room { width: 447.0, height: 640.0 },
        PaperSize::Letter => Room { width: 447.0, height: 580.0 },
    };
    let pieces = Layout::of(&view.cards, &view.edges).pieces(room);
    let count = pieces.len();
    let part = |number: usize| if count > 1 { format!(", piece {number} of {count}") } else { String::new() };
    pieces.iter().enumerate().map(|(index, piece)| view.drawing(piece, &part(index + 1))).collect()
}

/// The graph in one piece, in the first of these rooms that holds it, with the place of the room; in the last one,
/// which must be of any height, if none does. No box is a link, since the notes are not there: it has the page of its note,
/// by `pages`, those of the labels in the dossier.
pub(super) fn whole(edition: &Edition, rooms: &[Room], pages: &BTreeMap<String, usize>) -> (usize, Drawing) {
    let view = View::of(edition, edition.names.numbers(), OF_THE_WALL);
    let layout = Layout::of(&view.cards, &view.edges);
    let fits = |(at, room): (usize, &Room)| {
        let mut drawing = view.drawing(&layout.whole_in(*room)?, "");
        for node in &mut drawing.nodes {
            node.page = node.label.take().and_then(|label| pages.get(&label).copied());
        }
        (drawing.width <= room.width || at + 1 == rooms.len()).then_some((at, drawing))
    };
    rooms.iter().enumerate().find_map(fits).unwrap_or_default()
}

/// How wide the boxes are, in letters, and whether they say when a step begins and ends.
#[derive(Clone, Copy)]
struct Boxes {
    letters: usize,
    width: f64,
    has_days: bool,
}

/// The nodes of the plan that are drawn, numbered anew.
struct View<'a> {
    boxes: Boxes,
    edition: &'a Edition<'a>,
    nodes: Vec<usize>,
    cards: Vec<Card>,
    edges: Vec<(usize, usize)>,
    reasons: Vec<&'a Reason>,
    numbers: &'a BTreeMap<StepId, usize>,
}

impl<'a> View<'a> {
    fn of(edition: &'a Edition<'a>, numbers: &'a BTreeMap<StepId, usize>, boxes: Boxes) -> Self {
        let graph = &edition.project.plan.graph;
        let idle = graph.network.idle_orders();
        let (network, old) = graph.network.only(|node| match graph.notes[node] {
            NoteId::Step(step) => edition.project.plan.standing(step).state != State::Dropped,
            _ => !idle[node],
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
        let mut view = Self { boxes, edition, cards: Vec::new(), nodes: old, edges, reasons, numbers };
        view.cards = (0..view.nodes.len()).map(|node| view.card(node)).collect();
        view.lower(network.precedence());
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
        Card { lines: graph::wrapped(&words, self.boxes.letters), letters: self.boxes.width, rank }
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
        number(node).or_else(|| waiting().min().map(|first| first - 1)).unwrap_or(LAST)
    }

    /// No box ranks before one that comes before it, whatever the numbers of their steps.
    fn lower(&mut self, precedence: &Precedence) {
        for &node in precedence.order() {
            let over = precedence.before(node).iter().map(|&before| self.cards[before].rank).max();
            let least = over.map_or(0, |rank| rank + 1);
            self.cards[node].rank = self.cards[node].rank.max(least);
        }
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
            NoteId::Step(step) => {
                let takes = dossier[step].takes.as_ref().map(|takes| hours(takes.likely));
                let days = self.boxes.has_days.then(|| days_of(self.edition, step)).flatten();
                let said: Vec<String> = takes.into_iter().chain(days).collect();
                (!said.is_empty()).then(|| said.join(", "))
            }
            NoteId::Part(part) => dossier[part].lead.as_ref().map(|lead| self.edition.amounts.estimate(lead)),
            _ => Some("open question".to_owned()),
        }
    }

    /// `part` says which piece of how many it is.
    fn drawing(&self, piece: &graph::Piece, part: &str) -> Drawing {
        let edges: Vec<EdgeShape> =
            piece.lines.iter().map(|(edge, points)| self.edge(*edge, points)).collect();
        let continues = self.continuations(piece, &edges);
        let over = if continues.iter().any(|mark| mark.y < 0.0) { MARK_ROOM } else { 0.0 };
        let drawing = Drawing {
            width: piece.width,
            height: piece.height + over + if continues.is_empty() { 0.0 } else { MARK_ROOM },
            alt: self.alt(piece, part),
            edges,
            continues,
            nodes: piece.boxes.iter().map(|(node, corner)| self.node(*node, *corner)).collect(),
        };
        drawing.lowered(over)
    }

    /// The boxes in their order, each with what it comes after.
    fn alt(&self, piece: &graph::Piece, part: &str) -> String {
        let mut nodes: Vec<usize> = piece.boxes.iter().map(|(node, _)| *node).collect();
        nodes.sort_by_key(|node| self.cards[*node].rank);
        let drawn: BTreeSet<usize> = piece.lines.iter().map(|(edge, _)| *edge).collect();
        let says = |node: &usize| {
            let inner = drawn.iter().map(|edge| self.edges[*edge]).filter(|(_, after)| after == node);
            let entering = piece.entering.get(node).into_iter().flatten().copied();
            let before: Vec<String> =
                inner.map(|(before, _)| before).chain(entering).map(|other| self.short_name(other)).collect();
            let after =
                if before.is_empty() { String::new() } else { format!(", after {}", before.join(", ")) };
            format!("{}, {}{after}", self.cards[*node].lines.join(" "), state_words(self.state(*node)))
        };
        let told: Vec<String> = nodes.iter().map(says).collect();
        format!("Graph of the work{part}, from the top down: {}.", told.join("; "))
    }

    fn edge(&self, edge: usize, points: &[[f64; 2]]) -> EdgeShape {
        let (before, after) = self.edges[edge];
        let reason = reason_word(self.reasons[edge]);
        EdgeShape {
            points: self.clear_of_double_edges(before, after, points),
            at: reason.map(|_| middle_of(points)),
            reason,
            done: self.is_done(before) && self.is_done(after),
        }
    }

    /// A line ends at the outer edge of a box that has two.
    fn clear_of_double_edges(&self, before: usize, after: usize, points: &[[f64; 2]]) -> Vec<[f64; 2]> {
        let mut points = points.to_vec();
        if let Some(first) = points.first_mut().filter(|_| self.is_irreversible(before)) {
            first[1] += DOUBLE_EDGE;
        }
        if let Some(last) = points.last_mut().filter(|_| self.is_irreversible(after)) {
            last[1] -= DOUBLE_EDGE;
        }
        points
    }

    fn is_irreversible(&self, node: usize) -> bool {
        matches!(self.note(node), NoteId::Step(step) if self.edition.dossier()[step].irreversible)
    }

    fn node(&self, node: usize, [x, y]: [f64; 2]) -> NodeShape {
        let [w, h] = self.cards[node].size();
        let note = self.note(node);
        NodeShape {
            label: self.edition.names.label(note),
            id: self.edition.dossier().head(note).id.clone(),
            lines: self.cards[node].lines.clone(),
            state: self.state(node),
            irreversible: self.is_irreversible(node),
            note: self.small_print(node),
            page: None,
            x,
            y,
            w,
            h,
        }
    }

    /// The marks where the graph goes on: beside the corner of their box, where nothing runs through them.
    fn continuations(&self, piece: &graph::Piece, edges: &[EdgeShape]) -> Vec<Continuation> {
        let corners: BTreeMap<usize, [f64; 2]> = piece.boxes.iter().copied().collect();
        let lines: Vec<&[[f64; 2]]> = edges.iter().map(|edge| edge.points.as_slice()).collect();
        let mut taken: Vec<Words> =
            edges.iter().filter_map(|edge| Some(Words::new(edge.reason?, edge.at?))).collect();
        let entering = piece.entering.iter().map(|(node, others)| (*node, others, "in"));
        let leaving = piece.leaving.iter().map(|(node, others)| (*node, others, "out"));
        let mut marks = Vec::new();
        for (node, others, way) in entering.chain(leaving) {
            let says = self.short_names(others);
            let words = Words::new(&format!("from {says}"), [0.0, 0.0]);
            let places = places_at(corners[&node], self.cards[node].size(), way, words.width());
            let places = places.map(|middle| Words::new(&format!("from {says}"), middle));
            let Some(words) = free_place(&places, &lines, &taken) else { continue };
            taken.push(words);
            let label = others.first().and_then(|other| self.edition.names.label(self.note(*other)));
            marks.push(Continuation { x: words.middle[0], y: words.middle[1], says, label, way });
        }
        marks
    }

    fn short_names(&self, nodes: &[usize]) -> String {
        let mut names: Vec<String> = nodes.iter().map(|node| self.short_name(*node)).collect();
        if names.len() > MOST_NAMED {
            let more = names.len() - MOST_NAMED + 1;
            names.truncate(MOST_NAMED - 1);
            names.push(format!("{more} more"));
        }
        names.join(", ")
    }

    /// The number of a step; the name of anything else.
    fn short_name(&self, node: usize) -> String {
        match self.note(node) {
            NoteId::Step(step) => self.numbers.get(&step).map(ToString::to_string).unwrap_or_default(),
            note => cut(&self.edition.dossier().title(note)),
        }
    }
}

impl Drawing {
    /// The same drawing further down.
    fn lowered(mut self, by: f64) -> Self {
        self.nodes.iter_mut().for_each(|node| node.y += by);
        self.continues.iter_mut().for_each(|mark| mark.y += by);
        for edge in &mut self.edges {
            edge.points.iter_mut().chain(&mut edge.at).for_each(|point| point[1] += by);
        }
        self
    }
}

/// The word of a state, as the pages print it beside its mark.
pub(super) fn state_words(code: &str) -> &str {
    match code {
        "held" => "held at a point of no return",
        "unplaced" => "no shop found",
        "doing" => "in hand",
        word => word,
    }
}

/// The middle of a line's middle part.
fn middle_of(points: &[[f64; 2]]) -> [f64; 2] {
    let half = points.len() / 2;
    let (from, to) = (points[half.saturating_sub(1)], points[half]);
    [f64::midpoint(from[0], to[0]), f64::midpoint(from[1], to[1])]
}

/// Where a mark may stand over or under its box, from corner to corner and a little beyond, in the nearer row first.
fn places_at([x, y]: [f64; 2], [w, h]: [f64; 2], way: &str, width: f64) -> [[f64; 2]; 14] {
    let rows = if way == "in" { [y - 8.5, y - 16.5] } else { [y + h + 8.5, y + h + 16.5] };
    let shares = if way == "in" {
        [0.0, 1.0, 0.5, 0.25, 0.75, -0.5, 1.5]
    } else {
        [1.0, 0.0, 0.5, 0.75, 0.25, 1.5, -0.5]
    };
    std::array::from_fn(|index| {
        let share = shares[index % shares.len()];
        [x + width / 2.0 + share * (w - width), rows[index / shares.len()]]
    })
}

/// A name of no more than a line.
fn cut(name: &str) -> String {
    if name.chars().count() <= LETTERS_A_LINE {
        return name.to_owned();
    }
    let kept: String = name.chars().take(LETTERS_A_LINE - 1).collect();
    format!("{}…", kept.trim_end())
}

/// Where an arrow is no plain need.
fn reason_word(reason: &Reason) -> Option<&'static str> {
    match reason {
        Reason::Needs | Reason::HangsOn | Reason::Bought { .. } => None,
        Reason::Settles => Some("settles"),
        Reason::Renewed { .. } => Some("renews a paper"),
        Reason::Sizes { .. } => Some("gives a size"),
        Reason::Made { .. } | Reason::MadeToWorkOn { .. } => Some("makes a part"),
        Reason::Trapped { .. } => Some("frees"),
        Reason::PutBack { .. } => Some("must be in first"),
        Reason::Refit { .. } => Some("puts back"),
        Reason::Replaces { .. } => Some("makes room"),
        Reason::OffToWork { .. } => Some("takes off"),
        Reason::Worked { .. } => Some("ready to go back"),
    }
}
