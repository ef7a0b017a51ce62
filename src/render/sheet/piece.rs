//! What stands beside a job: the piece and what it is made of first, then when, where and by when.

use std::collections::{BTreeMap, BTreeSet};

use super::scope::Scope;
use crate::dossier::{NoteId, PartId, StepId};
use crate::plan::handling;
use crate::plan::readiness::{Cause, Obstacle, State};
use crate::plan::travel::{Cargo, Leg, Stop};
use crate::record::{Hands, Supply};
use crate::render::bill::without_unknown;
use crate::render::edition::Edition;
use crate::render::machine;
use crate::render::prose::{decapital, said};
use crate::render::sequence;
use crate::render::shapes::Fact;
use crate::shape::Treat;

pub(super) fn facts(scope: &Scope, numbers: &BTreeMap<StepId, usize>) -> Vec<Fact> {
    let edition = scope.edition;
    let keys = &edition.dossier()[scope.step];
    let comes_as = comes_as(scope);
    let comes = |part: &PartId| comes_as.iter().any(|(whole, _)| whole == part);
    let of_parts = scope.parts.iter().flat_map(|part| part_facts(scope, *part, comes(part)));
    let uses = keys.uses.iter().filter(|part| !scope.parts.contains(part) && scope.redaction.is_open(**part));
    let brought = uses.map(|part| Fact::new("we bring", scope.name(*part)));
    let place = place(scope).map(|place| if place == HERE && lies_off(scope) { OFF } else { place });
    let of_step = [
        place.map(|place| Fact::new("where", place.to_owned())),
        edition
            .dossier()
            .about
            .keeper_contact
            .machine_at
            .clone()
            .filter(|_| place == Some(HERE))
            .map(|address| Fact::new("it stands", address)),
        Some(Fact::new("start", when(scope, numbers))),
        waits_for(scope, numbers).map(|first| Fact::new("after", first)),
        wanted_by(scope).map(|day| Fact::new("wanted by", day)),
        said(keys.not_before).map(|day| Fact::new("not before", day)),
        said(keys.not_after).map(|day| Fact::new("due by", day)),
        keys.takes.as_ref().map(|takes| Fact::new("takes, we think", edition.amounts.estimate(takes))),
        keys.waits.as_ref().map(|waits| Fact::new("waits", edition.amounts.estimate(waits))),
    ];
    let comes_as = comes_as.iter().map(|(_, says)| Fact::new("comes as", says.clone()));
    of_parts.chain(brought).chain(comes_as).chain(of_step.into_iter().flatten()).collect()
}

/// What the parts arrive in, and what that weighs as it is brought: more hangs on the hook than the part that is worked on.
fn comes_as(scope: &Scope) -> Vec<(PartId, String)> {
    let dossier = scope.edition.dossier();
    let trips = &scope.edition.outlook.itinerary.trips;
    let own = trips.iter().position(|trip| trip.steps.contains(&scope.step));
    let Some(own) = own.filter(|_| place(scope) != Some(HERE)) else { return Vec::new() };
    let is_here = |leg: &&Leg| match leg.to {
        Stop::Shop(shop) => trips[own].shop == Some(shop),
        Stop::Unfound(step) => trips[own].unplaced && trips[own].steps.contains(&step),
        Stop::Keeper => false,
    };
    let wholes: BTreeSet<PartId> =
        scope.parts.iter().map(|part| handling::comes_in(dossier, scope.step, *part)).collect();
    let holds_ours = |whole: PartId| wholes.contains(&whole) || scope.parts.contains(&whole);
    let says_more = |part: PartId| !scope.parts.contains(&part) || !dossier.children(part).is_empty();
    let cargo =
        trips[..=own].iter().flat_map(|trip| trip.legs.iter().filter(is_here)).flat_map(|leg| &leg.cargo);
    let cargo =
        cargo.filter(|one| holds_ours(one.part) && says_more(one.part) && scope.redaction.is_open(one.part));
    // Of what was brought twice, the last time counts.
    let last: BTreeMap<PartId, &Cargo> = cargo.map(|one| (one.part, one)).collect();
    let says = |one: &Cargo| match one.ends_kg() {
        Some(ends) => format!("{}, {}", scope.name(one.part), scope.edition.amounts.masses(ends)),
        None => format!("{}, mass not known", scope.name(one.part)),
    };
    last.into_values().map(|one| (one.part, says(one))).collect()
}

const HERE: &str = "here, with the machine";
const OFF: &str = "here, off the machine";

/// Whether all that is worked on has left the machine, and does not go back to it with this job.
fn lies_off(scope: &Scope) -> bool {
    let dossier = scope.edition.dossier();
    let is_off = |part: &PartId| handling::is_off(dossier, scope.step, *part);
    dossier[scope.step].refits.is_empty() && !scope.parts.is_empty() && scope.parts.iter().all(is_off)
}

/// Whether they come for it or we bring it; of a place where the keeper works, nothing.
fn place(scope: &Scope) -> Option<&'static str> {
    let dossier = scope.edition.dossier();
    let placement = scope.edition.project.plan.placement(scope.step);
    match placement.place {
        _ if placement.in_place => Some(HERE),
        Some(shop) if dossier[shop].comes || dossier.site == Some(shop) => Some(HERE),
        Some(shop) if dossier[shop].hands == Hands::Own && dossier.home != Some(shop) => Some("with you"),
        _ => None,
    }
}

/// `comes`: what it weighs as it is brought stands in a line of its own.
fn part_facts(scope: &Scope, part: PartId, comes: bool) -> Vec<Fact> {
    let edition = scope.edition;
    let keys = &edition.dossier()[part];
    let say = |text: &String| scope.redaction.text(part, text);
    let step = &edition.dossier()[scope.step];
    let is_moved = step.removes.contains(&part) || step.refits.contains(&part);
    let is_made = step.makes.contains(&part);
    let count = if keys.quantity > 1 { format!("{} of ", keys.quantity) } else { String::new() };
    let mass = mass(scope, part);
    let shape = keys.shape.as_ref().map(|shaped| &shaped.shape).filter(|_| scope.shapes());
    let treat = shape.and_then(|shape| shape.treat.as_ref()).map(Treat::said);
    let fact = |name, text: Option<&String>| text.map(|text| Fact::new(name, say(text)));
    let facts = [
        Some(Fact::new(if is_made { "to make" } else { "piece" }, format!("{count}{}", scope.name(part)))),
        fact("designation", keys.designation.as_ref()),
        fact("material", keys.material.as_ref()),
        machine::stock(edition, part).filter(|_| is_made),
        keys.stock
            .as_ref()
            .filter(|_| is_made)
            .map(|_| Fact::new("the stock", supplied(keys.supply).to_owned())),
        fact("heat treatment", treat.as_ref()),
        fact("coating", shape.and_then(|shape| shape.coat.as_ref())),
        fact("finish elsewhere", shape.and_then(|shape| shape.finish.as_ref())),
        fact("edges", shape.and_then(|shape| shape.edges.as_ref())),
        mass.as_ref()
            .filter(|_| !comes)
            .map(|(says, _)| Fact::new(if keys.quantity > 1 { "mass, each" } else { "mass" }, says.clone())),
        machine::size(edition, part),
        mass.filter(|_| is_moved || place(scope) != Some(HERE))
            .and_then(|(_, kilograms)| carried(kilograms))
            .map(|help| Fact::new("to move it", help)),
        Some(keys.marks.join("; "))
            .filter(|marks| is_moved && !marks.is_empty())
            .map(|marks| Fact::new("position as found", say(&marks))),
    ];
    facts.into_iter().flatten().collect()
}

/// Who finds the stock of a part that is made.
fn supplied(supply: Supply) -> &'static str {
    match supply {
        Supply::Received | Supply::Fitted => "comes from us: we have it",
        Supply::Ordered => "comes from us: it is ordered",
        Supply::Needed => "is not here: ask whether you or we find it",
    }
}

/// "job 2", "jobs 1, 2 and 4".
fn jobs(numbers: &[String]) -> String {
    match numbers {
        [first @ .., last] if !first.is_empty() => format!("jobs {} and {last}", first.join(", ")),
        _ => format!("job {}", numbers.concat()),
    }
}

/// The mass of one piece as it is at the job: as typed, less what is off it by then and with what is new in it, or as the
/// sum of what is within it; in words and in kilograms at its upper end.
fn mass(scope: &Scope, part: PartId) -> Option<(String, f64)> {
    let edition = scope.edition;
    if let Some(mass) = &edition.dossier()[part].mass {
        let then = handling::mass_at(edition.dossier(), scope.step, part).unwrap_or((mass.low, mass.high));
        let is_typed = is_same(then.0, mass.low) && is_same(then.1, mass.high);
        let says = if is_typed { edition.amounts.typed(mass) } else { said_mass(edition, then, 0) };
        return Some((says, then.1));
    }
    let line = edition.outlook.bill.lines.iter().find(|line| line.part == part)?;
    line.weight.each_ends_kg.map(|ends| (said_mass(edition, ends, line.weight.unknown), ends.1))
}

/// But for what the machine rounds.
fn is_same(one: f64, two: f64) -> bool {
    libm::fabs(one - two) <= 1e-6 * libm::fabs(one)
}

fn said_mass(edition: &Edition, ends: (f64, f64), unknown: usize) -> String {
    format!("about {}{}", edition.amounts.masses(ends), without_unknown(unknown))
}

/// What a piece wants that one person does not carry. Common practice, no source; the lifting itself is for whoever does it
/// to judge.
fn carried(kilograms: f64) -> Option<&'static str> {
    const ONE_PERSON: f64 = 20.0;
    const TWO_PEOPLE: f64 = 40.0;
    match kilograms {
        light if light <= ONE_PERSON => None,
        middling if middling <= TWO_PEOPLE => Some("two people"),
        _ => Some("lifting gear at both ends"),
    }
}

/// The latest finish that does not move the end, by the forecast; `None` where a date is missing, or where the days hold
/// only if a shop is found for what comes before.
fn wanted_by(scope: &Scope) -> Option<String> {
    let timetable = &scope.edition.outlook.timetable;
    let at = timetable.notes.iter().position(|note| *note == NoteId::Step(scope.step))?;
    let slot = timetable.forecast.slots.get(at).filter(|_| !timetable.conditional[at])?;
    scope.edition.project.plan.day_zero?;
    Some(sequence::date_of(scope.edition.project, slot.finish + slot.float))
}

/// Whether it can begin, judged without what goes on elsewhere.
fn when(scope: &Scope, numbers: &BTreeMap<StepId, usize>) -> String {
    let standing = scope.edition.project.plan.standing(scope.step);
    let step = &scope.edition.dossier()[scope.step];
    let here: BTreeSet<usize> = causes(scope).filter_map(|cause| job_of(scope, numbers, cause)).collect();
    let elsewhere = causes(scope).any(|cause| job_of(scope, numbers, cause).is_none());
    let after: Vec<String> = here.iter().map(ToString::to_string).collect();
    let jobs = || jobs(&after);
    match (standing.state, after.is_empty(), elsewhere) {
        (State::Doing, ..) => "in hand".to_owned(),
        (_, true, false) if step.not_before.or(step.not_after).is_some() => "on the days below".to_owned(),
        (_, true, false) => "at any time".to_owned(),
        (_, true, true) => "when we confirm".to_owned(),
        (_, false, false) => format!("after {}", jobs()),
        (_, false, true) => format!("after {}, when we confirm", jobs()),
    }
}

/// What keeps it back, but a day that is still to come, which stands beside it.
fn causes<'a>(scope: &'a Scope) -> impl Iterator<Item = &'a Cause> {
    let is_told = |cause: &&Cause| !matches!(cause.obstacle, Obstacle::Capability | Obstacle::Day);
    scope.edition.project.plan.standing(scope.step).causes.iter().filter(is_told)
}

/// The number of the job on this sheet that comes first.
fn job_of(scope: &Scope, numbers: &BTreeMap<StepId, usize>, cause: &Cause) -> Option<usize> {
    match cause.note {
        NoteId::Step(step) if step != scope.step => numbers.get(&step).copied(),
        _ => None,
    }
}

/// What is done or found out elsewhere before we confirm, as far as it may be said; `None` where the job can begin.
fn waits_for(scope: &Scope, numbers: &BTreeMap<StepId, usize>) -> Option<String> {
    let elsewhere = causes(scope).filter(|cause| job_of(scope, numbers, cause).is_none());
    let mut says: Vec<String> = elsewhere.filter_map(|cause| awaited(scope, cause)).collect();
    says.dedup();
    let is_waiting = scope.edition.project.plan.standing(scope.step).state != State::Doing;
    (is_waiting && !says.is_empty()).then(|| says.join("; "))
}

fn awaited(scope: &Scope, cause: &Cause) -> Option<String> {
    let dossier = scope.edition.dossier();
    let says = match cause.note {
        NoteId::Step(step) if step != scope.step => decapital(&dossier[step].does),
        NoteId::Question(question) if scope.redaction.goes(question) => {
            "the answer to the question above".to_owned()
        }
        NoteId::Question(_) => "the answer to a question of ours".to_owned(),
        NoteId::Part(part) if cause.obstacle == Obstacle::Part => {
            format!("delivery of {}", dossier[part].name)
        }
        NoteId::Paper(paper) => format!("{} is valid", dossier[paper].title),
        _ => return None,
    };
    scope.redaction.may_say(cause.note, &says).then_some(says)
}
