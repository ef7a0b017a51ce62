//! What is different since the dossier was last issued.

use serde::Serialize;

use super::amounts::money;
use super::edition::Edition;
use super::names::Names;
use super::prose::day;
use super::shapes::Mention;
use crate::dossier::NoteId;
use crate::issued::{Gone, Since, Snapshot, likely_end};

#[derive(Serialize)]
pub(super) struct SinceShape {
    says: String,
    figures: String,
    lists: Vec<List>,
}

#[derive(Serialize)]
struct List {
    head: String,
    notes: Vec<Mention>,
}

/// What is different; `None` if it was never issued.
pub(super) fn shape(edition: &Edition) -> Option<SinceShape> {
    let since = edition.project.since_issued()?;
    let same = if since.is_nothing() { " No note has changed since." } else { "" };
    Some(SinceShape {
        says: format!("{}{same}", issued(since.told)),
        figures: figures(edition, since.told),
        lists: lists(&edition.names, &since),
    })
}

/// It was issued on 7 November 2026, for the boatyard.
fn issued(told: &Snapshot) -> String {
    let date = told.date.as_deref().and_then(in_words).map(|date| format!(" on {date}")).unwrap_or_default();
    format!("It was issued{date}, {}.", told.words.trim_end_matches('.'))
}

fn in_words(date: &str) -> Option<String> {
    date.parse().ok().map(|date| day(date).says)
}

/// The end and the cost, where they are others.
fn figures(edition: &Edition, told: &Snapshot) -> String {
    let outlook = edition.outlook;
    let end = likely_end(&edition.project.plan, &outlook.timetable);
    let was = told.likely_end.as_deref().and_then(in_words);
    let lost = was.as_ref().filter(|_| !outlook.timetable.end_is_known());
    let lost = lost.map(|was| format!("When the work ends is not known now; it was {was}."));
    let end = end.map(|date| day(date).says).zip(was.clone()).filter(|(now, was)| now != was);
    let currency = &edition.dossier().about.settings.currency;
    let cost = (money(outlook.bill.totals.together.likely), money(told.cost.likely));
    let cost = (told.money == *currency && cost.0 != cost.1).then_some(cost);
    let end = end.map(|(now, was)| format!("The work is likely to end by {now}; it was {was}."));
    let cost = cost.map(|(now, was)| format!("The whole is likely to cost {now} {currency}; it was {was}."));
    end.into_iter().chain(lost).chain(cost).collect::<Vec<_>>().join(" ")
}

fn lists(names: &Names, since: &Since) -> Vec<List> {
    let list = |head: &str, notes: &[NoteId]| List {
        head: head.to_owned(),
        notes: names.mentions(notes.iter().copied()),
    };
    let moved = since
        .moved
        .iter()
        .map(|moved| list(&format!("Was {}; is {}", moved.was_in_words(), moved.now), &moved.notes));
    let gone = List { head: "No longer there".to_owned(), notes: since.gone.iter().map(gone).collect() };
    let first = [
        list("Done", &since.done),
        list("Settled", &since.settled),
        list("Can be done now", &since.ready),
        list("New", &since.new),
    ];
    let all = first.into_iter().chain(moved).chain([list("Changed", &since.changed), gone]);
    all.filter(|list| !list.notes.is_empty()).collect()
}

/// A bare name: there is nothing to link to.
fn gone(gone: &Gone) -> Mention {
    let kind = gone.note.kind.word();
    Mention {
        label: None,
        place: None,
        left_out: false,
        id: gone.id.to_owned(),
        name: gone.note.name.clone(),
        kind,
        state: None,
        number: None,
    }
}
