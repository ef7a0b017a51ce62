//! What a careful person would mend in the sequence.

use std::collections::BTreeSet;

use super::Plan;
use super::capability::Lack;
use super::graph::Graph;
use super::handling::Called;
use super::network::{Edge, Reason};
use super::placement::is_away;
use super::readiness::State;
use super::window::{Bound, day_after};
use crate::diagnostic::Problem;
use crate::dossier::problems as problem;
use crate::dossier::{Dossier, NoteId, PartId, StepId};
use crate::record::{Disposition, StepState};
use crate::text::Span;

/// Circles, traps that nothing frees, work elsewhere on what never comes off, and steps meant for a shop that can't do
/// them.
pub(super) fn problems(dossier: &Dossier, plan: &Plan) -> Vec<Problem> {
    let mut problems: Vec<Problem> = circles(dossier, plan).collect();
    problems.extend(traps(dossier, plan));
    problems.extend(never_off(dossier, plan));
    problems.extend(misplaced(dossier, plan));
    problems.extend(late(dossier, plan));
    problems.extend(too_little(dossier, plan));
    for step in dossier.steps.ids().filter(|step| dossier[*step].state == StepState::Done) {
        problems.extend(without_its_parts(dossier, step));
        problems.extend(out_of_turn(dossier, step));
        problems.extend(still_on_then(dossier, plan, step));
    }
    problems
}

/// What a step that is done uses, though by its note it never came or nothing has made it.
fn without_its_parts(dossier: &Dossier, step: StepId) -> impl Iterator<Item = Problem> {
    let missing = dossier[step].uses.iter().copied().filter(|part| !dossier[*part].supply.is_here());
    missing.filter_map(move |part| {
        let (head, id) = (&dossier[step].head, dossier[part].id());
        match dossier[part].disposition {
            Disposition::Buy => Some(problem::used_too_early(head, id, dossier[part].supply.word())),
            Disposition::Make => {
                let makes = |maker: StepId| dossier[maker].makes.contains(&part);
                let why = head.at_id("uses", id);
                still_open(dossier, makes).map(|maker| done_before(dossier, step, maker, why))
            }
            _ => None,
        }
    })
}

/// The steps that should have freed what a step that is done has taken off.
fn out_of_turn(dossier: &Dossier, step: StepId) -> impl Iterator<Item = Problem> {
    let removes = &dossier[step].removes;
    let pairs =
        removes.iter().flat_map(|&part| dossier[part].trapped_by.iter().map(move |&trap| (trap, part)));
    let mut seen = BTreeSet::new();
    pairs.filter(move |(trap, _)| seen.insert(*trap)).filter_map(move |(trap, part)| {
        let carriers = carriers(dossier, trap, part);
        if carriers.iter().any(|carrier| removes.contains(carrier)) {
            return None;
        }
        let frees = |other: StepId| dossier[other].removes.iter().any(|part| carriers.contains(part));
        let why = dossier[part].head.at_id("trapped_by", dossier[trap].id());
        still_open(dossier, frees).map(|other| done_before(dossier, step, other, why))
    })
}

/// The steps that should have taken off what a step that is done has worked on somewhere else.
fn still_on_then(dossier: &Dossier, plan: &Plan, step: StepId) -> impl Iterator<Item = Problem> {
    let keys = &dossier[step];
    let is_away = keys.at.is_some() && is_away(dossier, plan.placement(step));
    let mut seen = BTreeSet::new();
    let parts = keys.parts.iter().copied().filter(move |_| is_away);
    let pairs = parts.filter_map(move |part| Some((part, takes_off_later(dossier, step, part)?)));
    pairs.filter(move |(_, remover)| seen.insert(*remover)).map(move |(part, remover)| {
        done_before(dossier, step, remover, keys.head.at_id("parts", dossier[part].id()))
    })
}

/// The open step that takes off a part, or the assembly it is in, where nothing that is done has moved either.
fn takes_off_later(dossier: &Dossier, step: StepId, part: PartId) -> Option<StepId> {
    let up: Vec<PartId> = std::iter::successors(Some(part), |part| dossier[*part].within).collect();
    let holds = |parts: &[PartId]| parts.iter().any(|part| up.contains(part));
    let was_moved = |other: &StepId| {
        let other = &dossier[*other];
        other.state == StepState::Done && (holds(&other.removes) || holds(&other.refits))
    };
    let is_new = matches!(dossier[part].disposition, Disposition::Buy | Disposition::Make);
    if is_new || dossier.steps.ids().any(|other| was_moved(&other)) {
        return None;
    }
    still_open(dossier, |other| other != step && holds(&dossier[other].removes))
}

/// A trap and the assemblies around it that are not around the trapped part too.
fn carriers(dossier: &Dossier, trap: PartId, trapped: PartId) -> Vec<PartId> {
    let up = |part: PartId| std::iter::successors(Some(part), |part| dossier[*part].within);
    let around: BTreeSet<PartId> = up(trapped).collect();
    up(trap).take_while(|part| !around.contains(part)).collect()
}

/// The first open step of those that do something, if none of them is done.
fn still_open(dossier: &Dossier, does_it: impl Fn(StepId) -> bool) -> Option<StepId> {
    let all = || dossier.steps.ids().filter(|step| does_it(*step));
    let is_done = all().any(|step| dossier[step].state == StepState::Done);
    all().find(|step| !is_done && dossier[*step].state != StepState::Dropped)
}

fn done_before(dossier: &Dossier, step: StepId, other: StepId, why: Span) -> Problem {
    let other = &dossier[other];
    problem::done_too_early(&dossier[step].head, &other.head, other.state.word(), why)
}

fn circles(dossier: &Dossier, plan: &Plan) -> impl Iterator<Item = Problem> {
    plan.graph.network.circles().iter().filter_map(|circle| {
        let (graph, lines) = (&plan.graph, plan.graph.network.circle_in_words(circle));
        let edges = graph.network.edges();
        let first = edges[*circle.first()?].before;
        let ids: Vec<String> = lines.iter().chain(lines.first()).map(|(id, _)| format!("`{id}`")).collect();
        let reason =
            |(&edge, (_, why)): (&usize, (String, String))| (origin(dossier, graph, &edges[edge]), why);
        let reasons: Vec<(Span, String)> = circle.iter().zip(lines).map(reason).collect();
        Some(problem::step_circle(dossier.head(graph.notes[first]), &ids.join(" before "), &reasons))
    })
}

/// The place in the notes that an edge follows from.
fn origin(dossier: &Dossier, graph: &Graph, edge: &Edge) -> Span {
    let (before, after) = (dossier.head(graph.notes[edge.before]), dossier.head(graph.notes[edge.after]));
    let of_part = |id: &str, key: &str, other: &str| {
        let head = dossier.find(id).map_or(after, |note| dossier.head(note));
        if head.has(key) { head.at_id(key, other) } else { after.at("removes") }
    };
    match &edge.reason {
        Reason::Needs => after.at_id("needs", &before.id),
        Reason::HangsOn => after.at_id("hangs_on", &before.id),
        Reason::Renewed { paper } => before.at_id("renews", paper),
        Reason::Settles => after.at_id("settled_by", &before.id),
        Reason::Bought { part } | Reason::Made { part } if after.names("uses", part) => {
            after.at_id("uses", part)
        }
        Reason::Bought { part } | Reason::Made { part } | Reason::Refit { part } => {
            after.at_id("refits", part)
        }
        Reason::Trapped { part, by } | Reason::PutBack { part, by } => of_part(part, "trapped_by", by),
        Reason::Replaces { part, old } => of_part(part, "replaces", old),
        Reason::OffToWork { part, .. } | Reason::MadeToWorkOn { part } => after.at_id("parts", part),
        Reason::Worked { part, .. } => before.at_id("parts", part),
        Reason::Sizes { part } => dossier.find(part).map_or(after, |note| dossier.head(note)).at("shape"),
    }
}

/// Parts that are worked on elsewhere, though nothing takes them off.
fn never_off(dossier: &Dossier, plan: &Plan) -> impl Iterator<Item = Problem> {
    plan.graph.still_on.iter().filter_map(|still| {
        let shop = dossier[plan.placement(still.step).place?].id();
        let site = dossier.site.map(|site| dossier[site].id());
        let (step, part) = (&dossier[still.step].head, dossier[still.part].id());
        Some(problem::not_taken_off(step, part, shop, site, dossier.about.site.is_some()))
    })
}

fn traps(dossier: &Dossier, plan: &Plan) -> impl Iterator<Item = Problem> {
    let pairs: BTreeSet<(PartId, PartId)> =
        plan.graph.loose_traps.iter().map(|loose| (loose.trapped, loose.trap)).collect();
    pairs.into_iter().map(|(trapped, trap)| {
        let head = &dossier[trapped].head;
        problem::trap_not_freed(head, dossier[trap].id())
    })
}

/// Steps that miss their last day by the forecast; steps with a season where no day 0 tells how far off it is.
fn late(dossier: &Dossier, plan: &Plan) -> Vec<Problem> {
    let bounded = |step: &StepId| plan.window(*step).first.or(plan.window(*step).last);
    let bounded: Vec<(StepId, Bound)> =
        dossier.steps.ids().filter_map(|step| Some((step, bounded(&step)?))).collect();
    let Some(day_zero) = plan.day_zero else {
        let uncounted = bounded.iter();
        return uncounted
            .map(|(step, bound)| problem::no_day_zero(&dossier[*step].head, bound.day.span))
            .collect();
    };
    if !bounded.iter().any(|(step, _)| plan.window(*step).last.is_some()) {
        return Vec::new();
    }
    let timetable = plan.timetable();
    let missed = timetable.late().filter_map(|(step, finish)| {
        let last = plan.window(step).last?;
        let finish = day_after(day_zero, finish)?;
        let paper = (last.says != NoteId::Step(step)).then(|| dossier.head(last.says).id.as_str());
        Some(problem::last_day_missed(&dossier[step].head, last.day, paper, finish))
    });
    missed.collect()
}

/// Open steps that call for less than their parts weigh or measure, or lift what no hand lifts without calling for a lift.
fn too_little(dossier: &Dossier, plan: &Plan) -> impl Iterator<Item = Problem> {
    let open = dossier.steps.ids().filter(|step| plan.standing(*step).state.is_open());
    open.flat_map(move |step| plan.placement(step).loads.iter().map(move |load| (step, load))).filter_map(
        |(step, load)| {
            let (head, part) = (&dossier[step].head, dossier[load.part].id());
            match &load.called {
                Called::TooLittle { want } => {
                    Some(problem::calls_for_less(head, &dossier[step].calls_for[*want], part, &load.told()))
                }
                Called::Unsaid if load.needs_a_lift() => Some(problem::lift_unsaid(head, part, &load.shown)),
                _ => None,
            }
        },
    )
}

fn misplaced(dossier: &Dossier, plan: &Plan) -> impl Iterator<Item = Problem> {
    dossier.steps.ids().filter_map(|step| {
        let (placement, at) = (plan.placement(step), dossier[step].at?);
        let is_open = plan.standing(step).state.is_open() && plan.standing(step).state != State::Doing;
        if !is_open || placement.can(at) {
            return None;
        }
        let lacks: Vec<String> = placement.lacks(dossier, at).iter().map(Lack::of_one_shop).collect();
        let others = dossier.shops.ids().filter(|&shop| placement.can(shop));
        let others: Vec<&str> = others.map(|shop| dossier[shop].id()).collect();
        Some(problem::place_cannot(&dossier[step].head, dossier[at].id(), &lacks.join("; "), &others))
    })
}
