//! What lies ahead: times, cost, moves between shops and stock to cut, worked out once a command needs them.

mod effort;

use crate::bill::stock::{StockList, stock_list};
use crate::bill::{Bill, roll_up};
use crate::plan::loads::{Loads, runs_of};
use crate::plan::timetable::Timetable;
use crate::plan::travel::{Itinerary, itinerary};
use crate::project::Project;
pub use effort::{Effort, Paid, Payee, paid};

/// The forecast of a project.
#[derive(Debug)]
pub struct Outlook {
    pub timetable: Timetable,
    pub itinerary: Itinerary,
    /// By trip and leg: how the keeper's own transport carries what goes there.
    pub loads: Vec<Vec<Option<Loads>>>,
    pub bill: Bill,
    pub stock: StockList,
}

impl Outlook {
    /// Works out what lies ahead.
    pub fn of(project: &Project) -> Self {
        let dossier = &project.dossier;
        let timetable = project.plan.timetable();
        let bill = roll_up(dossier, |step| project.plan.placement(step).place);
        let makings = project.worked.makings(dossier);
        let blanks = makings.iter().map(|(part, making)| (*part, making.blank)).collect();
        let itinerary = itinerary(dossier, &project.plan, &timetable);
        Self {
            loads: itinerary.trips.iter().map(|trip| runs_of(dossier, trip)).collect(),
            itinerary,
            stock: stock_list(dossier, &bill, &blanks),
            timetable,
            bill,
        }
    }
}
