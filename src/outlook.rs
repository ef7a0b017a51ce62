//! What lies ahead: times, cost, moves between shops and stock to cut, worked out once a command needs them.

use crate::bill::mass::weigh;
use crate::bill::stock::{Bars, StockList, stock_list};
use crate::bill::{Bill, roll_up};
use crate::plan::timetable::Timetable;
use crate::plan::travel::{Itinerary, itinerary};
use crate::project::Project;

/// The forecast of a project.
#[derive(Debug)]
pub struct Outlook {
    pub timetable: Timetable,
    pub itinerary: Itinerary,
    pub bill: Bill,
    pub stock: StockList,
}

impl Outlook {
    /// Works out what lies ahead.
    pub fn of(project: &Project) -> Self {
        let dossier = &project.dossier;
        let timetable = project.plan.timetable();
        let weights = weigh(dossier);
        let masses: Vec<Option<f64>> =
            dossier.parts.iter().zip(&weights).map(|(part, weight)| weight.of(part.quantity)).collect();
        let bill = roll_up(dossier, |step| project.plan.placement(step).place);
        Self {
            itinerary: itinerary(dossier, &project.plan.placements, &timetable, &masses),
            stock: stock_list(dossier, &bill, Bars::usual(dossier.about.settings.system)),
            timetable,
            bill,
        }
    }
}
