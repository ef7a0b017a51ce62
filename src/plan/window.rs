//! The days within which a step may be done: its own season, and the validity of the papers that it is done under.

use jiff::Span;
use jiff::civil::Date;

use crate::dossier::{Dossier, NoteId, PaperId, StepId};
use crate::record::{Dated, StepState};

/// A day that bounds a step, and the note that says so: the step itself or one of its papers.
#[derive(Clone, Copy, Debug)]
pub struct Bound {
    /// The day, and where it stands.
    pub day: Dated,
    /// The step or the paper.
    pub says: NoteId,
}

/// The first and the last day of a step; a papers' validity that ended before day 0 is no last day, for it has to be
/// renewed.
#[derive(Clone, Debug, Default)]
pub struct Window {
    /// It does not begin before this day.
    pub first: Option<Bound>,
    /// It is finished by the end of this day, with what passes by itself after it.
    pub last: Option<Bound>,
    /// The papers that have run out.
    pub expired: Vec<PaperId>,
}

/// The window of every step, in the dossier's order; that of a step which is done or dropped is open.
pub fn windows(dossier: &Dossier) -> Vec<Window> {
    let day_zero = dossier.day_zero();
    dossier.steps.ids().map(|step| window(dossier, step, day_zero)).collect()
}

fn window(dossier: &Dossier, id: StepId, day_zero: Option<Date>) -> Window {
    let step = &dossier[id];
    if matches!(step.state, StepState::Done | StepState::Dropped) {
        return Window::default();
    }
    let has_run_out = |paper: &PaperId| {
        let until = dossier[*paper].valid_until;
        until.zip(day_zero).is_some_and(|(until, today)| until.date < today)
    };
    let (expired, valid): (Vec<PaperId>, Vec<PaperId>) = step.under.iter().copied().partition(has_run_out);
    let own = |day: Option<Dated>| day.map(|day| Bound { day, says: id.into() });
    let from = |paper: &PaperId| dossier[*paper].valid_from.map(|day| Bound { day, says: (*paper).into() });
    let until = |paper: &PaperId| dossier[*paper].valid_until.map(|day| Bound { day, says: (*paper).into() });
    let firsts = own(step.not_before).into_iter().chain(valid.iter().filter_map(from));
    let lasts = own(step.not_after).into_iter().chain(valid.iter().filter_map(until));
    Window {
        first: firsts.max_by_key(|bound| bound.day.date),
        last: lasts.min_by_key(|bound| bound.day.date),
        expired,
    }
}

/// Days from one day to another; negative if it is earlier.
pub fn days_between(from: Date, to: Date) -> f64 {
    from.until(to).map_or(0.0, |span| f64::from(span.get_days()))
}

/// The day on which so many days from day 0 fall; `None` past the end of the calendar.
pub fn day_after(day_zero: Date, days: f64) -> Option<Date> {
    #[expect(clippy::cast_possible_truncation, reason = "the calendar refuses what is out of range")]
    let whole = days.floor() as i32;
    day_zero.checked_add(Span::new().try_days(whole).ok()?).ok()
}

/// The shortest time that the schedule knows, in days.
const SECOND: f64 = 1.0 / 86_400.0;

impl Window {
    /// The earliest start, in days from day 0; zero if it may begin at once.
    pub fn release(&self, day_zero: Option<Date>) -> f64 {
        let first = self.first.zip(day_zero);
        first.map_or(0.0, |(first, zero)| days_between(zero, first.day.date).max(0.0))
    }

    /// The latest finish, in days from day 0: the end of its last day.
    pub fn due(&self, day_zero: Option<Date>) -> Option<f64> {
        let (last, zero) = self.last.zip(day_zero)?;
        Some(days_between(zero, last.day.date) + 1.0 - SECOND)
    }

    /// The first day, if it is still ahead.
    pub fn opens(&self, day_zero: Option<Date>) -> Option<Bound> {
        self.first.filter(|first| day_zero.is_none_or(|zero| first.day.date > zero))
    }

    /// The last day, if it is past.
    pub fn closed(&self, day_zero: Option<Date>) -> Option<Bound> {
        self.last.filter(|last| day_zero.is_some_and(|zero| last.day.date < zero))
    }
}
