//! A feature against its limits, and as left beside as found, in words.

use serde::Serialize;

use super::edition::Edition;
use super::measurement::lies_along;
use super::prose::{capital, decapital, joined};
use super::working::verdict_code;
use crate::Project;
use crate::calc::evaluate::verdict::{Outcome, Verdict};
use crate::calc::print;
use crate::calc::value::Quantity;
use crate::dossier::Dossier;
use crate::dossier::MeasurementId;
use crate::record::MeasurementState;

/// Whether the limits are held.
#[derive(Serialize)]
pub(super) struct Against {
    pub(super) verdict: &'static str,
    /// A sentence without its stop: `Within the limits 1.7190 in to 1.7200 in, by 0.0003 in, known to ± 0.0002 in`.
    pub(super) says: String,
}

/// A measurement held against its limits; `None` without limits.
pub(super) fn against(edition: &Edition, id: MeasurementId) -> Option<Against> {
    let verdict = edition.project.worked.measured(id).within_limits.as_ref()?;
    let limits = edition.amounts.typed(edition.limits(id)?);
    let (word, then) = match verdict.outcome {
        Outcome::Holds => ("Within the limits", ","),
        Outcome::Fails => ("Outside the limits", ","),
        Outcome::NotSettled => ("Not settled against the limits", ":"),
    };
    let reason = verdict.reason(&edition.dossier().units);
    Some(Against {
        verdict: verdict_code(verdict.outcome),
        says: joined(&format!(
            "{word} {limits}{then} {reason}{}",
            of_fit(edition, id, verdict).unwrap_or_default()
        )),
    })
}

/// ". The fit of the shaft, RC5 at 1.235 in, asks for 1.2320 in to 1.2330 in: no size is well inside both", where its limits
/// are not those of the measurement.
fn of_fit(edition: &Edition, id: MeasurementId, own: &Verdict) -> Option<String> {
    let (dossier, worked) = (edition.dossier(), &edition.project.worked);
    let judged =
        worked.fits.iter().flat_map(|fitted| fitted.judged.iter().map(move |judged| (fitted.part, judged)));
    let (part, of_fit) = judged
        .filter(|(_, judged)| judged.measurement == id && judged.is_latest(dossier))
        .map(|(part, judged)| (part, &judged.verdict))
        .next()?;
    let (low, high) = (own.low.as_ref()?, own.high.as_ref()?);
    let (fit_low, fit_high) = (of_fit.low.as_ref()?, of_fit.high.as_ref()?);
    if low.is_same_as(fit_low) && high.is_same_as(fit_high) {
        return None;
    }
    let keys = dossier[part].fit.as_ref()?;
    let is_apart = low.value >= fit_high.value
        || low.is_same_as(fit_high)
        || high.value <= fit_low.value
        || high.is_same_as(fit_low);
    Some(format!(
        ". The fit of {}, {} at {}, asks for {} to {}{}",
        decapital(&dossier[part].name),
        keys.class.text,
        edition.amounts.typed(&keys.at),
        plainly(dossier, fit_low),
        plainly(dossier, fit_high),
        if is_apart { ": no size is inside both" } else { "" }
    ))
}

/// What is different as left, in sentences; `None` for what has no as-found beside it.
pub(super) fn change(edition: &Edition, id: MeasurementId) -> Option<String> {
    let dossier = edition.dossier();
    let found = dossier.other_state(id).filter(|_| dossier[id].state == MeasurementState::AsLeft)?;
    let sentences = [
        Some(of_size(edition.project, found, id)?),
        Some(of_instruments(dossier, found, id).to_owned()),
        of_shape(edition.project, found, id),
        of_limits(edition, found, id),
    ];
    Some(joined(&sentences.into_iter().flatten().collect::<Vec<_>>().join(" ")))
}

/// "The mean went from 1.7419 in to 1.7196 in: 0.0223 in smaller, known to ± 0.0003 in."
fn of_size(project: &Project, found: MeasurementId, left: MeasurementId) -> Option<String> {
    let [was, is] = [found, left].map(|id| project.worked.measured(id));
    let change = is.change("mean", was)?;
    let size = Quantity { value: change.value.abs(), ..change.clone() };
    let by = print::quantity(&size, &project.dossier.units);
    let name = if was.figure("value").is_some() && is.figure("value").is_some() { "size" } else { "mean" };
    let from_to = from_to(&project.dossier, was.figure("mean")?, is.figure("mean")?);
    Some(if size.value <= size.expanded() {
        format!(
            "The {name} is as it was, as far as it was measured: {from_to}; the change is {}.",
            by.known_to()?
        )
    } else {
        let way = if change.value < 0.0 { "smaller" } else { "larger" };
        let known = by.known_to().map(|known| format!(", {known}")).unwrap_or_default();
        format!("The {name} went {from_to}: {} {way}{known}.", by.plain().value())
    })
}

/// What the error of the instruments does to the change: it cancels where one instrument was used both times.
fn of_instruments(dossier: &Dossier, found: MeasurementId, left: MeasurementId) -> &'static str {
    let instrument =
        |id: MeasurementId| dossier[id].instrument.filter(|instrument| dossier[*instrument].within.is_some());
    match (instrument(found), instrument(left)) {
        (Some(was), Some(is)) if was == is => {
            "Read with one instrument both times, so its own error cancels."
        }
        (Some(_), Some(_)) => "Read with two instruments, so the error of each counts.",
        _ => {
            "How far off an instrument reads is not known for both readings, and not counted where it is not."
        }
    }
}

/// "Out of round went from 0.0014 in to 0.0001 in, taper stayed at 0.0028 in."
fn of_shape(project: &Project, found: MeasurementId, left: MeasurementId) -> Option<String> {
    let [was, is] = [found, left].map(|id| project.worked.measured(id));
    let one = |(name, says): (&str, &str)| {
        let (was, is) =
            (plainly(&project.dossier, was.figure(name)?), plainly(&project.dossier, is.figure(name)?));
        Some(if was == is {
            format!("{says} stayed at {is}")
        } else {
            format!("{says} went from {was} to {is}")
        })
    };
    let taper = Some(("taper", "taper")).filter(|_| lies_along(&project.dossier[found]));
    let told: Vec<String> =
        [("out_of_round", "out of round")].into_iter().chain(taper).filter_map(one).collect();
    (!told.is_empty()).then(|| format!("{}.", capital(&told.join(", "))))
}

fn from_to(dossier: &Dossier, was: &Quantity, is: &Quantity) -> String {
    format!("from {} to {}", plainly(dossier, was), plainly(dossier, is))
}

fn plainly(dossier: &Dossier, quantity: &Quantity) -> String {
    print::quantity(quantity, &dossier.units).plain().value()
}

/// "It was found outside its limits and is left within them."
fn of_limits(edition: &Edition, found: MeasurementId, left: MeasurementId) -> Option<String> {
    let outcome =
        |id: MeasurementId| Some(edition.project.worked.measured(id).within_limits.as_ref()?.outcome);
    let (was, is) = (outcome(found)?, outcome(left)?);
    let same = |one: f64, other: f64| (one - other).abs() <= 1e-9 * one.abs().max(other.abs());
    let (before, now) = (edition.limits(found)?, edition.limits(left)?);
    let is_same = same(before.low, now.low) && same(before.high, now.high);
    let then = if is_same { String::new() } else { format!(", then {},", edition.amounts.typed(before)) };
    let them = if is_same { "them" } else { "its new ones" };
    Some(format!("It was found {}{then} and is left {}.", found_words(was), left_words(is, them)))
}

fn found_words(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Holds => "within its limits",
        Outcome::Fails => "outside its limits",
        Outcome::NotSettled => "neither within nor outside its limits for certain",
    }
}

fn left_words(outcome: Outcome, them: &str) -> String {
    match outcome {
        Outcome::Holds => format!("within {them}"),
        Outcome::Fails => format!("outside {them}"),
        Outcome::NotSettled => format!("neither within nor outside {them} for certain"),
    }
}
