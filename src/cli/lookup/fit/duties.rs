//! The fits for every duty at one size.

use serde::Serialize;

use super::listed::Ends;
use super::{ANSI, ISO};
use crate::calc::function::Refusal;
use crate::calc::literal::Literal;
use crate::calc::provenance::source_words;
use crate::calc::units::System;
use crate::cli::workshop::{self, Column, Page, Said, in_millimetres, signed, tidy};
use crate::cli::{AnswerForm, Ended, Trouble};
use crate::hazard::Hazard;
use crate::trade::limits::advice::{DUTIES, Duty};
use crate::trade::limits::fit::{Clearance, Fit, resolve};

/// The fit that serves the duty, inch or metric as the size was typed.
pub(super) fn class(duty: &Duty, size: &Literal) -> Result<Fit, Trouble> {
    Ok(Fit::parse(class_name(duty, size))?)
}

fn class_name(duty: &Duty, size: &Literal) -> &'static str {
    if is_inch(size) { duty.inch } else { duty.metric }
}

fn is_inch(size: &Literal) -> bool {
    size.unit.system() == Some(System::Inch)
}

/// A duty and the clearance that its fit has at the size.
struct Served {
    duty: &'static Duty,
    class: &'static str,
    clearance: Clearance,
}

pub(super) fn run(size: &Literal, form: &AnswerForm) -> Ended {
    let all: Vec<Result<Served, Refusal>> = DUTIES.iter().map(|duty| Served::at(duty, size)).collect();
    let served: Vec<&Served> = all.iter().flatten().collect();
    if let (true, Some(Err(refusal))) = (served.is_empty(), all.first()) {
        return Err(refusal.clone().into());
    }
    let said = said(size, &served);
    let page =
        Page::headed(&format!("{}: fits by duty, from the loosest to the tightest", in_millimetres(size)))
            .table(&columns(size, &served))
            .said(&said);
    let fits = served.iter().map(|served| served.listed(size)).collect();
    workshop::give(form, &page, &Listed { size_mm: tidy(size.nominal * 1e3), fits, said })
}

impl Served {
    fn at(duty: &'static Duty, size: &Literal) -> Result<Self, Refusal> {
        let class = class_name(duty, size);
        let resolved = resolve(Fit::parse(class)?, size.nominal)?;
        let help = "Write both members, as in H7/k6.";
        let clearance =
            resolved.clearance().ok_or_else(|| Refusal::whole("one member has no clearance", help))?;
        Ok(Self { duty, class, clearance })
    }

    fn listed(&self, size: &Literal) -> ListedFit {
        let is_inch = is_inch(size);
        ListedFit {
            duty: self.duty.name,
            fit: self.class,
            clearance_um: (!is_inch).then(|| Ends::of(self.clearance)),
            clearance_thou: is_inch.then(|| Ends::of(self.clearance)),
            kind: self.clearance.kind().word(),
            reason: self.duty.reason,
            source: source_words(self.duty.source),
        }
    }
}

fn columns(size: &Literal, served: &[&Served]) -> [Column; 5] {
    let unit = if is_inch(size) { "thou" } else { "µm" };
    let figures =
        |end: fn(&Clearance) -> f64| served.iter().map(move |served| signed(end(&served.clearance), 3));
    [
        Column::words("duty", served.iter().map(|served| served.duty.name)),
        Column::words("fit", served.iter().map(|served| served.class)),
        Column::figures(&format!("least clearance {unit}"), figures(|clearance| clearance.min)),
        Column::figures(&format!("greatest {unit}"), figures(|clearance| clearance.max)),
        Column::words("kind", served.iter().map(|served| served.clearance.kind().word())),
    ]
}

fn said(size: &Literal, served: &[&Served]) -> Said {
    let mut remarks = vec![
        "a negative clearance is interference".to_owned(),
        format!("the reason for one is printed by its name: `asfound lookup fit {size} running slow`"),
    ];
    let is_served = |duty: &&Duty| served.iter().any(|served| served.duty.name == duty.name);
    let missing: Vec<&str> = DUTIES.iter().filter(|duty| !is_served(duty)).map(|duty| duty.name).collect();
    if !missing.is_empty() {
        remarks.push(format!("the standard gives no limits at this size for: {}", missing.join(", ")));
    }
    let source = if is_inch(size) { ANSI } else { ISO };
    let advice = served.first().map(|served| source_words(served.duty.source)).unwrap_or_default();
    Said { remarks, source: format!("{source}; choice of fits: {advice}"), caution: Some(Hazard::Pressing) }
}

#[derive(Serialize)]
struct Listed {
    size_mm: f64,
    fits: Vec<ListedFit>,
    #[serde(flatten)]
    said: Said,
}

/// The clearance is in the unit of the standard's table.
#[derive(Serialize)]
struct ListedFit {
    duty: &'static str,
    fit: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    clearance_um: Option<Ends>,
    #[serde(skip_serializing_if = "Option::is_none")]
    clearance_thou: Option<Ends>,
    kind: &'static str,
    reason: &'static str,
    source: String,
}
