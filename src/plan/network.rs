//! The work as a network: activities, and why one comes before another.

use std::fmt;

use super::precedence::Precedence;
use crate::cycles::Cycle;
use crate::estimate::Estimate;

/// What an [`Activity`] stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ActivityKind {
    /// A piece of work.
    Step,
    /// A part that is bought: it only takes its delivery time.
    Order,
    /// Something to be found out: takes no time by itself.
    Question,
}

/// A shop as the sequence sees it: one pair of hands at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Resource {
    /// The id of the shop's note.
    pub id: String,
    /// Hands-on hours a week, above zero.
    pub hours_per_week: f64,
}

/// One node of the network.
#[derive(Clone, Debug, PartialEq)]
pub struct Activity {
    /// The id of the note it comes from.
    pub id: String,
    /// What it stands for.
    pub kind: ActivityKind,
    /// It is under way: the hands finish it before they take up anything else.
    pub begun: bool,
    /// Hands-on hours that are left.
    pub hands_on: Estimate,
    /// Calendar days that pass by themselves after the hands-on part, as far as they are still to come.
    pub passes: Estimate,
    /// It starts no earlier, in days from day 0.
    pub release: f64,
    /// It is to be finished by then, in days from day 0.
    pub due: Option<f64>,
    /// Whose hands do it, as an index into [`Network::places`].
    pub hands: Option<usize>,
    /// Where it is done, as an index into [`Network::places`].
    pub place: Option<usize>,
}

/// Why one activity comes before another; it says so with [`Edge::sentence`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reason {
    /// Written under `needs`.
    Needs,
    /// The later is a question that the earlier settles.
    Settles,
    /// The earlier is a question, written under `hangs_on`.
    HangsOn,
    /// The earlier renews a paper that the later is done under, and that has run out.
    Renewed {
        /// The paper.
        paper: String,
    },
    /// The later makes a part of which a size is on hold, and the earlier gives that size.
    Sizes {
        /// The part.
        part: String,
    },
    /// A part that the later wants there has to be bought.
    Bought {
        /// The part.
        part: String,
    },
    /// A part that the later wants there is made by the earlier.
    Made {
        /// The part.
        part: String,
    },
    /// A part that the later works on is made by the earlier.
    MadeToWorkOn {
        /// The part.
        part: String,
    },
    /// A part that the later takes off is trapped by one that the earlier takes off.
    Trapped {
        /// The part that is trapped.
        part: String,
        /// The part that traps it.
        by: String,
    },
    /// A part that the later puts in would trap one that the earlier puts in.
    PutBack {
        /// The part that must be in first.
        part: String,
        /// The part that would trap it.
        by: String,
    },
    /// The later puts back what the earlier took off.
    Refit {
        /// The part.
        part: String,
    },
    /// The later puts in a part in the place of one that the earlier takes off.
    Replaces {
        /// The part that is put in.
        part: String,
        /// The part that it replaces.
        old: String,
    },
    /// The later works on a part away from the machine, and the earlier takes it off.
    OffToWork {
        /// The part that is worked on.
        part: String,
        /// The assembly that comes off with it, if it does not come off alone.
        with: Option<String>,
    },
    /// The later puts back a part that the earlier works on away from the machine.
    Worked {
        /// The part that is worked on.
        part: String,
        /// The assembly that goes back with it, if it does not go back alone.
        with: Option<String>,
    },
}

impl Reason {
    /// What the earlier one is to the later, as a clause about the earlier; `name` gives the name of a note by its id.
    pub fn clause(&self, name: impl Fn(&str) -> String) -> String {
        match self {
            Self::Needs => "comes first".to_owned(),
            Self::Settles => "settles it".to_owned(),
            Self::HangsOn => "to be settled first".to_owned(),
            Self::Renewed { paper } => format!("renews {}, which has run out", name(paper)),
            Self::Sizes { part } => format!("gives a size of {} that is on hold", name(part)),
            Self::Bought { .. } => "to be bought".to_owned(),
            Self::Made { part } | Self::MadeToWorkOn { part } => format!("makes {}", name(part)),
            Self::Trapped { part, by } => format!("takes off {}, in the way of {}", name(by), name(part)),
            Self::PutBack { part, by } => {
                format!("puts in {}, which must be in before {}", name(part), name(by))
            }
            Self::Refit { part } => format!("takes off {}, to go back here", name(part)),
            Self::Replaces { part, old } => {
                format!("takes off {}, to be replaced by {}", name(old), name(part))
            }
            Self::OffToWork { part, with: None } => {
                format!("takes off {}, to be worked on elsewhere", name(part))
            }
            Self::OffToWork { part, with: Some(with) } => {
                format!("takes off {}, and with it {}, to be worked on elsewhere", name(with), name(part))
            }
            Self::Worked { part, with: None } => {
                format!("works on {} elsewhere, before it goes back", name(part))
            }
            Self::Worked { part, with: Some(with) } => {
                format!("works on {} elsewhere, before {} goes back", name(part), name(with))
            }
        }
    }
}

/// `before` is finished when `after` starts; both index [`Network::activities`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Edge {
    /// The earlier activity.
    pub before: usize,
    /// The later activity.
    pub after: usize,
    /// Why.
    pub reason: Reason,
}

/// Activities and the edges between them, always free of circles: edges that close one are set aside and reported by themselves.
#[derive(Clone, Debug, Default)]
pub struct Network {
    activities: Vec<Activity>,
    places: Vec<Resource>,
    edges: Vec<Edge>,
    precedence: Precedence,
    circles: Vec<Cycle>,
    set_aside: Vec<usize>,
}

impl Network {
    /// Ties activities and edges together in linear time.
    pub fn new(activities: Vec<Activity>, places: Vec<Resource>, edges: Vec<Edge>) -> Self {
        let pairs: Vec<_> = edges.iter().map(|edge| (edge.before, edge.after)).collect();
        let untangled = Precedence::untangle(activities.len(), &pairs);
        Self {
            activities,
            places,
            edges,
            precedence: untangled.precedence,
            circles: untangled.circles,
            set_aside: untangled.set_aside,
        }
    }

    /// All nodes.
    pub fn activities(&self) -> &[Activity] {
        &self.activities
    }

    /// The shops.
    pub fn places(&self) -> &[Resource] {
        &self.places
    }

    /// All edges, also those set aside.
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// The same network without some of its activities, and which of the old activities each of the new ones is.
    #[must_use]
    pub fn only(&self, keep: impl Fn(usize) -> bool) -> (Self, Vec<usize>) {
        let kept: Vec<usize> = (0..self.activities.len()).filter(|&node| keep(node)).collect();
        let mut position = vec![None; self.activities.len()];
        for (new, &old) in kept.iter().enumerate() {
            position[old] = Some(new);
        }
        let moved = |edge: &Edge| {
            let (before, after) = (position[edge.before]?, position[edge.after]?);
            Some(Edge { before, after, reason: edge.reason.clone() })
        };
        let activities = kept.iter().map(|&node| self.activities[node].clone()).collect();
        let edges = self.edges.iter().filter_map(moved).collect();
        (Self::new(activities, self.places.clone(), edges), kept)
    }

    /// For each activity, whether it is an order that decides nothing: no step waits for the part, and how long it takes
    /// to come is not said.
    pub fn idle_orders(&self) -> Vec<bool> {
        let is_idle = |node: usize| {
            self.activities[node].kind == ActivityKind::Order && self.days(node) == Estimate::ZERO
        };
        let mut idle: Vec<bool> = (0..self.activities.len()).map(is_idle).collect();
        for edge in &self.edges {
            (idle[edge.before], idle[edge.after]) = (false, false);
        }
        idle
    }

    /// The bare graph without the edges set aside.
    pub fn precedence(&self) -> &Precedence {
        &self.precedence
    }

    /// The circles, each as indices into [`Network::edges`]: one for each cycle of activities that wait on each other.
    pub fn circles(&self) -> &[Cycle] {
        &self.circles
    }

    /// The edges that close a circle and are left out of [`Network::precedence`].
    pub fn set_aside(&self) -> &[usize] {
        &self.set_aside
    }

    /// Calendar days of the hands-on part of an activity, at the pace of those who do it.
    pub fn hands_on_days(&self, node: usize) -> Estimate {
        let activity = &self.activities[node];
        let Some(hands) = activity.hands else { return Estimate::ZERO };
        let hours_per_week = self.places[hands].hours_per_week;
        activity.hands_on.map(|hours| hours * 7.0 / hours_per_week)
    }

    /// Calendar days of a whole activity: hands-on part, then what passes by itself.
    pub fn days(&self, node: usize) -> Estimate {
        self.hands_on_days(node) + self.activities[node].passes
    }

    /// The sentence that says why an edge is there.
    pub fn sentence(&self, edge: usize) -> String {
        let edge = &self.edges[edge];
        edge.sentence(&self.activities[edge.before].id, &self.activities[edge.after].id).to_string()
    }

    /// A circle as the ids along it and the reason of each edge, ready to print.
    pub fn circle_in_words(&self, circle: &Cycle) -> Vec<(String, String)> {
        circle
            .iter()
            .map(|&edge| (self.activities[self.edges[edge].before].id.clone(), self.sentence(edge)))
            .collect()
    }
}

impl Edge {
    /// Says why `before` comes before `after`, given their ids.
    pub fn sentence<'a>(&'a self, before: &'a str, after: &'a str) -> impl fmt::Display + 'a {
        Sentence { reason: &self.reason, before, after }
    }
}

struct Sentence<'a> {
    reason: &'a Reason,
    before: &'a str,
    after: &'a str,
}

impl fmt::Display for Sentence<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { reason, before, after } = self;
        match reason {
            Reason::Needs => write!(f, "{after} needs {before}"),
            Reason::Settles => write!(f, "{before} settles {after}"),
            Reason::HangsOn => write!(f, "{after} hangs on {before}"),
            Reason::Renewed { paper } => {
                write!(f, "{after} is done under {paper}, which has run out and {before} renews")
            }
            Reason::Sizes { part } => write!(f, "{after} makes {part}, and {before} gives a size of it"),
            Reason::Bought { part } => write!(f, "{after} uses {part}, which has to be bought"),
            Reason::Made { part } => write!(f, "{after} uses {part}, which {before} makes"),
            Reason::MadeToWorkOn { part } => write!(f, "{after} works on {part}, which {before} makes"),
            Reason::Trapped { part, by } => {
                write!(f, "{after} comes after {before}, which takes off {by}: it traps {part}")
            }
            Reason::PutBack { part, by } => {
                write!(f, "{after} comes after {before}, which puts in {part}: {by} would trap it")
            }
            Reason::Refit { part } => write!(f, "{after} puts back {part}, which {before} takes off"),
            Reason::Replaces { part, old } => {
                write!(f, "{after} puts in {part} in place of {old}, which {before} takes off")
            }
            Reason::OffToWork { part, with: None } => {
                write!(f, "{after} works on {part} away from the machine, and {before} takes it off")
            }
            Reason::OffToWork { part, with: Some(with) } => {
                write!(
                    f,
                    "{after} works on {part} away from the machine, and {before} takes off {with} with it"
                )
            }
            Reason::Worked { part, with: None } => {
                write!(f, "{after} puts back {part}, which {before} works on away from the machine")
            }
            Reason::Worked { part, with: Some(with) } => {
                write!(
                    f,
                    "{after} puts back {with} with {part}, which {before} works on away from the machine"
                )
            }
        }
    }
}
