//! What lies ahead: times, cost, moves between shops and stock to cut, worked out once a command needs them.

use crate::bill::mass::weigh;
use crate::bill::stock::{StockList, stock_list};
use crate::bill::{Bill, roll_up};
use crate::plan::loads::{Loads, loads};
use crate::plan::timetable::Timetable;
use crate::plan::travel::{Itinerary, itinerary};
use crate::project::Project;

/// The forecast of a project.
#[derive(Debug)]
pub struct Outlook {
    pub timetable: Timetable,
    pub itinerary: Itinerary,
    /// By trip: how the keeper's own transport carries what goes there.
    pub loads: Vec<Option<Loads>>,
    pub bill: Bill,
    pub stock: StockList,
}

impl Outlook {
    /// Works out what lies ahead.
    pub fn of(project: &Project) -> Self {
        let dossier = &project.dossier;
        let timetable = project.plan.timetable();
        let weights = weigh(dossier);
        let bill = roll_up(dossier, |step| project.plan.placement(step).place);
        let itinerary = itinerary(dossier, &project.plan.placements, &timetable, &weights);
        Self {
            loads: itinerary.trips.iter().map(|trip| loads(dossier, trip)).collect(),
            itinerary,
            stock: stock_list(dossier, &bill),
            timetable,
            bill,
        }
    }
}
