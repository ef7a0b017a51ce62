//! What a number of steps and parts takes altogether: hours, places, and what is paid to whom.

use std::collections::{BTreeMap, BTreeSet};

use super::Outlook;
use crate::bill::roll_up::{Basis, Work};
use crate::dossier::{Dossier, PartId, ShopId, StepId};
use crate::estimate::Estimate;
use crate::project::Project;
use crate::record::{Disposition, Hands};

/// What some steps and parts take together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Effort {
    /// Hands-on hours, of the steps that say how long they take.
    pub hours: Estimate,
    /// What each is paid, in the dossier's money; none is paid nothing.
    pub payees: BTreeMap<Payee, Estimate>,
    /// All of that.
    pub cost: Estimate,
    /// A step takes hours that nothing puts a price on.
    pub has_no_rate: bool,
    /// Parts to buy whose price is not known.
    pub without_price: Vec<PartId>,
    /// Where it is done, in the order of the notes.
    pub places: BTreeSet<ShopId>,
    /// No known shop can do some of it.
    pub nobody_can: bool,
}

/// Who is paid.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Payee {
    /// A shop for its work.
    Shop(ShopId),
    /// Who sells a part, as the note names them.
    Seller(String),
    NotNamed,
}

impl Effort {
    /// Adds up these steps, and the parts that are paid for.
    pub fn of(
        project: &Project,
        outlook: &Outlook,
        steps: &BTreeSet<StepId>,
        parts: &BTreeSet<PartId>,
    ) -> Self {
        let (dossier, plan) = (&project.dossier, &project.plan);
        let hours = steps.iter().filter_map(|step| dossier[*step].takes.as_ref());
        let payees = payees(project, outlook, steps, parts);
        let bill = &outlook.bill;
        let is_priced = |step: &StepId| bill.work.iter().any(|work| work.step == *step);
        let unknown = bill.lines.iter().filter(|line| parts.contains(&line.part) && line.cost.is_none());
        let to_buy = unknown.filter(|line| dossier[line.part].disposition == Disposition::Buy);
        Self {
            hours: hours
                .map(|takes| Estimate::new(takes.low, takes.likely, takes.high) * (1.0 / 3600.0))
                .sum(),
            cost: payees.values().copied().sum(),
            payees,
            has_no_rate: steps.iter().any(|step| dossier[*step].takes.is_some() && !is_priced(step)),
            without_price: to_buy.map(|line| line.part).collect(),
            places: steps.iter().filter_map(|step| plan.placement(*step).place).collect(),
            nobody_can: steps.iter().any(|step| plan.placement(*step).nobody_can()),
        }
    }
}

/// What each is paid for these steps and parts.
fn payees(
    project: &Project,
    outlook: &Outlook,
    steps: &BTreeSet<StepId>,
    parts: &BTreeSet<PartId>,
) -> BTreeMap<Payee, Estimate> {
    let (dossier, bill) = (&project.dossier, &outlook.bill);
    let work = bill.work.iter().filter(|work| steps.contains(&work.step));
    let work = work.map(|work| (paid_for(project, work).map_or(Payee::NotNamed, Payee::Shop), work.cost));
    let bought = bill.lines.iter().filter(|line| parts.contains(&line.part)).filter_map(|line| {
        let seller = dossier[line.part].from.as_deref();
        Some((seller.map_or(Payee::NotNamed, |name| seller_of(dossier, name)), line.cost?))
    });
    let mut payees: BTreeMap<Payee, Estimate> = BTreeMap::new();
    for (payee, cost) in work.chain(bought).filter(|(_, cost)| cost.high > 0.0) {
        let sum = payees.entry(payee).or_default();
        *sum = *sum + cost;
    }
    payees
}

/// Who sells under that name: a shop of the notes, or somebody else.
fn seller_of(dossier: &Dossier, name: &str) -> Payee {
    let shop = dossier.shops.ids().find(|shop| dossier[*shop].name.eq_ignore_ascii_case(name));
    shop.map_or_else(|| Payee::Seller(name.to_owned()), Payee::Shop)
}

/// The shop that is paid for a piece of work, if the notes tell.
fn paid_for(project: &Project, work: &Work) -> Option<ShopId> {
    match work.basis {
        Basis::Rate(shop) => Some(shop),
        Basis::Stated => {
            let place = project.plan.placement(work.step).place;
            place.filter(|shop| is_paid(&project.dossier, *shop))
        }
    }
}

/// Whether others work there, who are paid; where the keeper works, a stated cost goes to somebody else.
fn is_paid(dossier: &Dossier, shop: ShopId) -> bool {
    dossier.home != Some(shop) && dossier[shop].hands == Hands::Own
}
