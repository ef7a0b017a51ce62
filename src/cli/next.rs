//! `next`: what can be done now, and what is blocked and by what.

use std::fmt::Write;

use super::table::{Side, Table};
use super::{AnswerForm, Ended, Outcome, Project, open, output};
use crate::calc::print::counted;
use crate::dossier::{Dossier, NoteId};
use crate::plan::report::{HeldStep, Job, Next, Order, Unplaced};
use crate::record::Supply;

/// Say what can be done now, where and for how long; then what is blocked, and by what
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    project: Project,
    #[command(flatten)]
    form: AnswerForm,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let project = open::project(&arguments.project.dir)?;
    let next = Next::of(&project.dossier, &project.plan);
    if arguments.form.json() {
        output::print_json(&next)?;
    } else {
        output::print(&text(&project.dossier, &next))?;
    }
    output::mention_errors(&project);
    Ok(Outcome::Clean)
}

fn text(dossier: &Dossier, next: &Next) -> String {
    let mut text = String::new();
    let mut section = |title: &str, body: String| {
        if !body.is_empty() {
            let _ = write!(text, "{title}\n{body}\n");
        }
    };
    section("Under way", jobs(dossier, &next.doing));
    section("Ready now", jobs(dossier, &next.ready));
    section("To order", orders(dossier, &next.orders, Supply::Needed));
    section("On order", orders(dossier, &next.orders, Supply::Ordered));
    section("No shop found", unplaced(dossier, &next.unplaced));
    section("Blocked", held(next));
    if text.is_empty() {
        text.push_str("Nothing is left to do.\n");
    }
    text
}

fn jobs(dossier: &Dossier, jobs: &[Job]) -> String {
    let mut table = Table::new(&[
        ("step", Side::Left),
        ("what", Side::Left),
        ("where", Side::Left),
        ("hours", Side::Right),
        ("then", Side::Left),
    ]);
    for job in jobs {
        let hours = job.left_h.map_or_else(|| "?".to_owned(), |hours| format!("{hours:.1}"));
        let at = job.at.clone().unwrap_or_default();
        let then = waiting(job.then_days).unwrap_or_default();
        table.row([job.id.clone(), title(dossier, &job.id), at, hours, then]);
    }
    table.to_string()
}

/// "21 days of waiting", in whole days; nothing where none are left.
pub(super) fn waiting(days: f64) -> Option<String> {
    (days > 0.0).then(|| format!("{} of waiting", counted(format!("{days:.0}"), "day")))
}

fn orders(dossier: &Dossier, orders: &[Order], supply: Supply) -> String {
    let days = if supply == Supply::Ordered { "days left" } else { "days" };
    let mut table = Table::new(&[("part", Side::Left), ("what", Side::Left), (days, Side::Right)]);
    for order in orders.iter().filter(|order| order.supply == supply.word()) {
        let days = order.left_days.map_or_else(|| "?".to_owned(), |days| format!("{days:.0}"));
        table.row([order.id.clone(), title(dossier, &order.id), days]);
    }
    table.to_string()
}

fn unplaced(dossier: &Dossier, unplaced: &[Unplaced]) -> String {
    let mut table = Table::new(&[("step", Side::Left), ("what", Side::Left), ("nearest", Side::Left)]);
    for step in unplaced {
        let nearest = step.nearest.clone().unwrap_or_else(|| format!("none known: {}", step.needs));
        table.row([step.id.clone(), title(dossier, &step.id), nearest]);
    }
    table.to_string()
}

/// Each with its nearest cause; the others are counted.
fn held(next: &Next) -> String {
    let mut table = Table::new(&[("step", Side::Left), ("state", Side::Left), ("because", Side::Left)]);
    let is_told = |step: &&HeldStep| !next.unplaced.iter().any(|other| other.id == step.id);
    for step in next.held.iter().filter(is_told) {
        let because = step.causes.first().map(|cause| cause.why.clone()).unwrap_or_default();
        let more = step.causes.len().saturating_sub(1);
        let because = if more > 0 { format!("{because} (and {more} more)") } else { because };
        table.row([step.id.clone(), state(step.state).to_owned(), because]);
    }
    table.to_string()
}

fn state(word: &str) -> &str {
    match word {
        "held" => "no return",
        other => other,
    }
}

fn title(dossier: &Dossier, id: &str) -> String {
    dossier.find(id).map(|note: NoteId| dossier.title(note)).unwrap_or_default()
}
