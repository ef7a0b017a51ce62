//! What a number of steps and parts takes altogether: hours, places, and what is paid to whom.

use std::collections::{BTreeMap, BTreeSet};

use super::Outlook;
use crate::bill::report::{BillReport, PayeeLine};
use crate::bill::roll_up::{Basis, Work};
use crate::calc::rounding::to_a_millionth;
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
    /// For work that no shop of the notes can do.
    ToBeFound,
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
        let shares = shares(project, outlook, steps, parts).into_iter();
        let payees: BTreeMap<Payee, Estimate> = shares.map(|(payee, paid)| (payee, paid.together)).collect();
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

/// What somebody is paid over the whole of the work.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Paid {
    /// For the parts that they sell.
    pub parts: Estimate,
    /// For their work.
    pub work: Estimate,
    /// For both.
    pub together: Estimate,
}

/// What each is paid for all that the bill has a price of: together that comes to the bill's own sum.
pub fn paid(project: &Project, outlook: &Outlook) -> BTreeMap<Payee, Paid> {
    let bill = &outlook.bill;
    let steps = bill.work.iter().map(|work| work.step).collect();
    shares(project, outlook, &steps, &bill.lines.iter().map(|line| line.part).collect())
}

impl Outlook {
    /// The bill for other programs, with who is paid.
    pub fn bill_report(&self, project: &Project) -> BillReport {
        let payees = paid(project, self).into_iter();
        BillReport {
            payees: payees.map(|(payee, paid)| payee_line(&project.dossier, payee, &paid)).collect(),
            ..BillReport::of(&project.dossier, &self.bill)
        }
    }
}

fn payee_line(dossier: &Dossier, payee: Payee, paid: &Paid) -> PayeeLine {
    let (kind, id, name) = match payee {
        Payee::Shop(shop) => ("shop", Some(dossier[shop].id().to_owned()), Some(dossier[shop].name.clone())),
        Payee::Seller(name) => ("seller", None, Some(name)),
        Payee::ToBeFound => ("to be found", None, None),
        Payee::NotNamed => ("not named", None, None),
    };
    let [parts, work, together] = [paid.parts, paid.work, paid.together].map(|cost| cost.map(to_a_millionth));
    PayeeLine { kind, id, name, parts, work, together }
}

/// What each is paid for these steps and parts; who is paid nothing is left out.
fn shares(
    project: &Project,
    outlook: &Outlook,
    steps: &BTreeSet<StepId>,
    parts: &BTreeSet<PartId>,
) -> BTreeMap<Payee, Paid> {
    let (dossier, bill) = (&project.dossier, &outlook.bill);
    let work = bill
        .work
        .iter()
        .filter(|work| steps.contains(&work.step))
        .map(|work| (paid_for(project, work), Paid { work: work.cost, ..Paid::default() }));
    let bought = bill.lines.iter().filter(|line| parts.contains(&line.part)).filter_map(|line| {
        let seller = dossier[line.part].from.as_deref();
        let payee = seller.map_or(Payee::NotNamed, |name| seller_of(dossier, name));
        Some((payee, Paid { parts: line.cost?, ..Paid::default() }))
    });
    let mut payees: BTreeMap<Payee, Paid> = BTreeMap::new();
    for (payee, cost) in work.chain(bought) {
        let sum = payees.entry(payee).or_default();
        sum.parts = sum.parts + cost.parts;
        sum.work = sum.work + cost.work;
        sum.together = sum.parts + sum.work;
    }
    payees.retain(|_, paid| paid.together.high > 0.0);
    payees
}

/// Who sells under that name: a shop of the notes, or somebody else.
fn seller_of(dossier: &Dossier, name: &str) -> Payee {
    let shop = dossier.shops.ids().find(|shop| dossier[*shop].name.eq_ignore_ascii_case(name));
    shop.map_or_else(|| Payee::Seller(name.to_owned()), Payee::Shop)
}

/// Who is paid for a piece of work, if the notes tell.
fn paid_for(project: &Project, work: &Work) -> Payee {
    let placement = project.plan.placement(work.step);
    let own = placement.place.filter(|shop| is_paid(&project.dossier, *shop));
    match (work.basis, own) {
        (Basis::Rate(shop), _) | (Basis::Stated, Some(shop)) => Payee::Shop(shop),
        (Basis::Stated, None) if placement.nobody_can() => Payee::ToBeFound,
        (Basis::Stated, None) => Payee::NotNamed,
    }
}

/// Whether others work there, who are paid; where the keeper works, a stated cost goes to somebody else.
fn is_paid(dossier: &Dossier, shop: ShopId) -> bool {
    dossier.home != Some(shop) && dossier[shop].hands == Hands::Own
}
