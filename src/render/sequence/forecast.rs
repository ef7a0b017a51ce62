//! When the work may be finished: the forecast in words, and the one table of dates with its bars.

use jiff::Span;
use serde::Serialize;

use crate::Project;
use crate::calc::print::counted;
use crate::dossier::Dossier;
use crate::dossier::{NoteId, StepId};
use crate::plan::forecast::Slot;
use crate::plan::left::begun;
use crate::plan::timetable::Timetable;
use crate::plan::window::day_after;
use crate::render::edition::Edition;
use crate::render::log::hours;
use crate::render::prose::day;
use crate::render::shapes::Mention;

#[derive(Serialize)]
pub(super) struct ForecastShape {
    says: String,
    /// While these have none, the end is not known.
    without_shop: Vec<Mention>,
}

/// The whole days that it may slip.
fn float_of(slot: &Slot) -> f64 {
    slot.float.floor()
}

/// What takes time, but for orders that decide nothing.
fn told(timetable: &Timetable) -> Vec<usize> {
    let idle = timetable.network.idle_orders();
    timetable.in_order().into_iter().filter(|&node| !idle[node]).collect()
}

/// The date so many days after day 0; the number of the day when the notes hold no date.
pub(in crate::render) fn date_of(project: &Project, days: f64) -> String {
    let later = project.plan.day_zero.and_then(|zero| day_after(zero, days));
    later.map_or_else(|| format!("day {:.0}", days.floor()), |date| day(date).says)
}

/// The table of dates, each row with its bar.
#[derive(Serialize)]
struct Dates {
    ticks: Vec<Tick>,
    rows: Vec<Row>,
    ends: Option<Ends>,
    /// Whether dates stand in brackets: they hold only if shops are found.
    conditional: bool,
}

/// The first of a month over the bars, at a share of their width.
#[derive(Serialize)]
struct Tick {
    at: f64,
    /// `None` where there is no room for it.
    says: Option<String>,
    /// Whether it stands at the left of its line.
    left: bool,
}

#[derive(Serialize)]
struct Row {
    label: Option<String>,
    number: Option<usize>,
    says: String,
    at: Option<String>,
    state: &'static str,
    critical: bool,
    /// The likely ones, which the dates come from.
    hours: Option<String>,
    early: [String; 2],
    late: [String; 2],
    /// In whole days.
    float: String,
    bar: Bar,
}

/// Shares of the width of the bars, from the left.
#[derive(Serialize)]
struct Bar {
    start: f64,
    hands_off: f64,
    finish: f64,
    latest: f64,
}

/// Shares of the width of the bars, and the dates.
#[derive(Serialize)]
struct Ends {
    low: f64,
    likely: f64,
    high: f64,
    says: [String; 3],
}

/// What dates and bars are made with.
struct Scale<'a> {
    edition: &'a Edition<'a>,
    timetable: &'a Timetable,
    /// Days from day 0 to the right end of the bars.
    last: f64,
}

/// The dates of all that takes time, as a file that the template reads; `None` when nothing does.
pub(super) fn dates(edition: &Edition, timetable: &Timetable) -> Option<String> {
    let nodes = told(timetable);
    if nodes.is_empty() {
        return None;
    }
    let (days, spread) = (timetable.forecast.days, timetable.forecast.spread);
    let known = timetable.end_is_known();
    let last = if known { days.likely.max(spread.p90) } else { days.likely };
    let scale = Scale { edition, timetable, last: last.max(1.0) };
    let dates = Dates {
        ticks: scale.ticks(),
        rows: nodes.iter().map(|node| scale.row(*node)).collect(),
        ends: known.then(|| scale.ends([spread.p10, days.likely, spread.p90])),
        conditional: nodes.iter().any(|node| timetable.conditional[*node]),
    };
    Some(edition.assets.lay_data(&dates))
}

/// When a step begins and ends, by the forecast; when it was done.
pub(in crate::render) fn days_of(edition: &Edition, step: StepId) -> Option<String> {
    if let Some(done) = edition.dossier()[step].done_on {
        return Some(shortened(&day(done.date).says));
    }
    let timetable = &edition.outlook.timetable;
    let node = timetable.notes.iter().position(|note| *note == NoteId::Step(step))?;
    let slot = &timetable.forecast.slots[node];
    let [from, to] = [slot.start, slot.finish].map(|days| shortened(&date_of(edition.project, days)));
    let (first, year) = from.rsplit_once(' ').unwrap_or((&from, ""));
    let days = match to.rsplit_once(' ') {
        _ if from == to => from,
        Some((_, same)) if same == year => format!("{first} to {to}"),
        _ => format!("{from} to {to}"),
    };
    Some(if timetable.conditional[node] { format!("({days})") } else { days })
}

impl Scale<'_> {
    fn row(&self, node: usize) -> Row {
        let (note, slot) = (self.timetable.notes[node], &self.timetable.forecast.slots[node]);
        let float = float_of(slot);
        let title = self.edition.dossier().title(note);
        let step = match note {
            NoteId::Step(step) => Some(step),
            _ => None,
        };
        let begun = begun(self.edition.dossier(), note).map(|begun| shortened(&day(begun).says));
        let [starts, ends] = [slot.start, slot.finish].map(|days| self.date(node, days));
        let [starts_late, ends_late] = [slot.start, slot.finish].map(|days| self.date(node, days + float));
        Row {
            label: self.edition.names.label(note),
            number: step.and_then(|step| self.edition.names.numbers().get(&step).copied()),
            says: if step.is_some() { title } else { format!("Delivery: {title}") },
            at: step.map(|step| self.place(step)),
            state: step.map_or("waiting", |step| self.edition.project.state(step)),
            critical: slot.moves_the_end(),
            hours: step.and_then(|step| self.hours(step)),
            early: [begun.clone().unwrap_or(starts), ends],
            late: [begun.unwrap_or(starts_late), ends_late],
            float: format!("{float:.0}"),
            bar: self.bar(slot),
        }
    }

    fn place(&self, step: StepId) -> String {
        let placement = self.edition.project.plan.placement(step);
        match placement.place.filter(|_| !placement.nobody_can()) {
            Some(shop) => self.edition.dossier()[shop].name.clone(),
            None => "no shop found".to_owned(),
        }
    }

    fn hours(&self, step: StepId) -> Option<String> {
        let likely = self.edition.dossier()[step].takes.as_ref()?.likely;
        Some(hours(likely).trim_end_matches(" h").to_owned())
    }

    /// In brackets if it holds only once shops are found.
    fn date(&self, node: usize, days: f64) -> String {
        let date = shortened(&date_of(self.edition.project, days));
        if self.timetable.conditional[node] { format!("({date})") } else { date }
    }

    fn bar(&self, slot: &Slot) -> Bar {
        Bar {
            start: self.share(slot.start),
            hands_off: self.share(slot.hands_off),
            finish: self.share(slot.finish),
            latest: self.share(slot.finish + slot.float),
        }
    }

    fn ends(&self, days: [f64; 3]) -> Ends {
        let [low, likely, high] = days.map(|days| self.share(days));
        Ends { low, likely, high, says: days.map(|days| shortened(&date_of(self.edition.project, days))) }
    }

    fn share(&self, days: f64) -> f64 {
        (days / self.last).clamp(0.0, 1.0)
    }

    /// The first of every month, or of every second or third when there are many.
    fn ticks(&self) -> Vec<Tick> {
        let Some(zero) = self.edition.project.plan.day_zero else { return Vec::new() };
        let every = (self.last / 30.0 / MOST_TICKS).ceil().max(1.0);
        let mut ticks = Vec::new();
        let (mut month, mut taken) = (zero.first_of_month(), 0.0);
        loop {
            #[expect(clippy::cast_possible_truncation, reason = "a handful of months")]
            let step = Span::new().try_months(every as i32);
            let Ok(next) = step.and_then(|step| month.checked_add(step)) else { break };
            let days = f64::from((next - zero).get_days());
            if days > self.last || ticks.len() > 24 {
                break;
            }
            ticks.push(tick(self.share(days), &day(next).says, &mut taken));
            month = next;
        }
        ticks
    }
}

/// As many names of months find room over the bars.
const MOST_TICKS: f64 = 3.0;
/// What a name takes of the width.
const NAME: f64 = 0.36;

/// The name at the right of its line, or else at the left, if it finds room after what is `taken`.
fn tick(at: f64, first: &str, taken: &mut f64) -> Tick {
    let (fits_left, fits_right) = (at - NAME >= *taken, at + NAME <= 1.0);
    let name = shortened(first).split_once(' ').map(|(_, month)| month.to_owned());
    let left = fits_left && !fits_right;
    let says = name.filter(|_| at >= *taken && (fits_left || fits_right));
    if says.is_some() {
        *taken = if left { at } else { at + NAME };
    }
    Tick { at, says, left }
}

/// "3 Mar 2027" for "3 March 2027".
fn shortened(date: &str) -> String {
    let words: Vec<&str> = date.split(' ').collect();
    match words.as_slice() {
        [day, month, year] => format!("{day} {} {year}", month.get(..3).unwrap_or(month)),
        _ => date.to_owned(),
    }
}

pub(super) fn forecast(edition: &Edition, timetable: &Timetable) -> Option<ForecastShape> {
    if timetable.notes.is_empty() {
        return None;
    }
    if timetable.work_list().is_empty() {
        let says = "No step is open: there is no end to forecast.".to_owned();
        return Some(ForecastShape { says, without_shop: Vec::new() });
    }
    let spread = timetable.forecast.spread;
    let says = format!(
        "{} the last step is done by {} if every time is the likely one; eight times in ten {}. \
         From {} trial schedules with every time drawn between its low and its high; shops work side by side, and \
         waiting takes no working hours. Assumed: questions are settled and papers renewed when the work comes to \
          them, what is not on order is ordered on day 0, a shop without hours of its own keeps the keeper's pace and works on \
          any day of the week, and carriage takes no time. Not checked: whether two steps have the same part at two places at \
          once.{}",
        opening(edition.dossier(), timetable),
        date_of(edition.project, timetable.forecast.days.likely),
        within(&date_of(edition.project, spread.p10), &date_of(edition.project, spread.p90)),
        spread.runs,
        too_late(edition.project, timetable),
    );
    Some(ForecastShape { says, without_shop: edition.names.mentions(timetable.without_shop.iter().copied()) })
}

/// "between 3 May 2027 and 9 May 2027", "on 3 May 2027".
fn within(first: &str, last: &str) -> String {
    if first == last { format!("on {last}") } else { format!("between {first} and {last}") }
}

/// The pace; and that there is no end while somebody has still to be found.
fn opening(dossier: &Dossier, timetable: &Timetable) -> String {
    let pace = format!("the keeper's {} a week", counted(dossier.about.hours_per_week, "hour"));
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
fn too_late(project: &Project, timetable: &Timetable) -> String {
    let late = timetable.late().filter_map(|(step, finish)| {
        let last = project.plan.window(step).last?;
        let (name, finish) = (project.dossier.title(step.into()), date_of(project, finish));
        Some(format!(
            " Too late by this: {name}, to be done by {}, likely finished {finish}.",
            day(last.day.date).says
        ))
    });
    late.collect()
}
