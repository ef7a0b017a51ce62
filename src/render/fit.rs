//! The fit of a part with another: the limits of hole and shaft, and how the measured bores and journals stand in them.

use serde::Serialize;

use super::edition::{Edition, capital};
use super::shapes::Mention;
use crate::calc::print::rounded;
use crate::calc::real::Real;
use crate::calc::units::{System, Unit};
use crate::calc::value::Value;
use crate::dossier::{MeasurementId, PartId, Resolved};
use crate::record::{Fit as Keys, MeasurementState, Surface};
use crate::trade::limits::fit::{Fit, Limits, Resolved as Limited, Unit as TableUnit, resolve};
use crate::trade::limits::iso286::Member;
use crate::trade::limits::judge::Standing;

/// A measured size this near to the size of the fit, as a part of it, is taken for a member of the fit.
/// A rule of our own: worn and oversize members lie within it, the next feature of a stepped shaft rarely does.
const NEAR: f64 = 0.02;

/// What was measured is drawn beside the zones when it lies no further off than so many times what they span.
const DRAWN_WITHIN: f64 = 5.0;

/// A nanometre: what a verdict takes for nothing.
const HAIR: f64 = 1e-9;

#[derive(Serialize)]
pub(super) struct FitShape {
    /// Why there are no limits.
    refused: Option<String>,
    unit: String,
    members: Vec<MemberShape>,
    measured: Vec<JudgedShape>,
    plot: Option<String>,
}

/// The limits of one member.
#[derive(Serialize)]
struct MemberShape {
    name: String,
    least: String,
    most: String,
}

/// One measured feature against them.
#[derive(Serialize)]
struct JudgedShape {
    of: Mention,
    part: String,
    least: String,
    most: String,
    verdict: &'static str,
    says: String,
}

#[derive(Serialize)]
struct Plot {
    plot: &'static str,
    unit: &'static str,
    size: String,
    hole: Zone,
    shaft: Zone,
    measured: Vec<Bar>,
    caption: String,
    alt: String,
}

#[derive(Serialize)]
struct Zone {
    name: String,
    class: String,
    low: f64,
    high: f64,
    lower: String,
    upper: String,
}

#[derive(Serialize)]
struct Bar {
    name: String,
    member: &'static str,
    low: f64,
    high: f64,
}

/// A measured bore or journal.
struct Judged {
    id: MeasurementId,
    member: Member,
    /// Smallest and largest size, in metres, with their expanded uncertainties.
    extremes: [(f64, f64); 2],
    verdict: &'static str,
    says: String,
}

/// What the part's key `fit:` comes to.
pub(super) fn shape(edition: &Edition, part: PartId) -> Option<FitShape> {
    let keys = edition.dossier()[part].fit.as_ref()?;
    let limited = Fit::parse(&keys.class.text).and_then(|class| resolve(class, keys.at.nominal));
    Some(match limited {
        Ok(limited) => resolved(edition, part, keys, &limited),
        Err(refusal) => FitShape {
            refused: Some(refusal.message),
            unit: String::new(),
            members: Vec::new(),
            measured: Vec::new(),
            plot: None,
        },
    })
}

fn resolved(edition: &Edition, part: PartId, keys: &Keys<Resolved>, limited: &Limited) -> FitShape {
    let unit = length_unit(edition, keys.at.unit);
    let judged: Vec<Judged> =
        near(edition, part, keys).filter_map(|id| judge(edition, id, limited)).collect();
    let members: Vec<(Member, &Limits)> = [Member::Hole, Member::Shaft]
        .into_iter()
        .filter_map(|member| Some((member, limited.member(member)?)))
        .collect();
    let plot = plot(edition, keys, limited, &judged);
    FitShape {
        refused: None,
        unit: unit.shown(),
        members: members.iter().filter_map(|each| member(each, limited, unit)).collect(),
        measured: judged.iter().map(|each| judged_shape(edition, each, limited, unit)).collect(),
        plot: plot.map(|plot| edition.lay_data(&format!("fit-{}", edition.dossier()[part].id()), &plot)),
    }
}

/// The measurements of either part that lie near the size of the fit, as found before as left.
fn near(
    edition: &Edition,
    part: PartId,
    keys: &Keys<Resolved>,
) -> impl Iterator<Item = MeasurementId> + use<> {
    let dossier = edition.dossier();
    let (with, size) = (keys.with, keys.at.nominal);
    let is_near = |id: &MeasurementId| {
        let mean = edition.project.worked.measured(*id).statistics.mean;
        let of = dossier[*id].of;
        (of == part || of == with) && (mean - size).abs() <= NEAR * size
    };
    let mut them: Vec<MeasurementId> =
        MeasurementId::all(dossier.measurements.len()).filter(is_near).collect();
    them.sort_by_key(|id| {
        let keys = &dossier[*id];
        (keys.surface == Surface::Outside, keys.feature.clone(), keys.state == MeasurementState::AsLeft)
    });
    them.into_iter()
}

fn judge(edition: &Edition, id: MeasurementId, limited: &Limited) -> Option<Judged> {
    let member = match edition.dossier()[id].surface {
        Surface::Inside => Member::Hole,
        Surface::Outside => Member::Shaft,
    };
    let (lower, upper) = limited.sizes(member)?;
    let extremes = extremes(edition, id)?;
    let [(smallest, below), (largest, above)] = extremes;
    let real = |one, other| (Real::exact(one), Real::exact(other));
    let standing = Standing::of(member, real(lower, upper), real(smallest, largest));
    let margins = [(smallest - lower, below), (upper - largest, above)];
    let verdict = match () {
        () if margins.iter().all(|(margin, doubt)| margin - doubt >= -HAIR) => "holds",
        () if margins.iter().any(|(margin, doubt)| margin + doubt < -HAIR) => "fails",
        () => "unsettled",
    };
    Some(Judged { id, member, extremes, verdict, says: words(&standing, limited.unit) })
}

/// Smallest and largest reading with their expanded uncertainties.
fn extremes(edition: &Edition, id: MeasurementId) -> Option<[(f64, f64); 2]> {
    let fields = &edition.project.worked.measured(id).fields;
    let field = |name: &str| {
        let value = fields.iter().find(|(each, _)| each == name).map(|(_, value)| value);
        value.and_then(Value::quantity).map(|quantity| (quantity.value, quantity.expanded()))
    };
    Some([field("min").or_else(|| field("value"))?, field("max").or_else(|| field("value"))?])
}

/// How it stands, in the unit of the standard's table.
fn words(standing: &Standing, unit: TableUnit) -> String {
    let amount = |length: Real| with_unit(length.value(), unit);
    match (standing.past_worn > HAIR, standing.to_come_off > HAIR) {
        (false, false) => format!("{} inside", amount(standing.margin)),
        (true, false) => format!("worn {} past", amount(standing.past_worn)),
        (false, true) => format!("{} to come off", amount(standing.to_come_off)),
        (true, true) => {
            format!("worn {} past, {} to come off", amount(standing.past_worn), amount(standing.to_come_off))
        }
    }
}

fn with_unit(length: f64, unit: TableUnit) -> String {
    format!("{} {}", table_figure(length / unit.metres(), unit), table_word(unit))
}

/// Thou to a tenth, micrometres whole unless the table has halves.
fn table_figure(value: f64, unit: TableUnit) -> String {
    let is_whole = (value - value.round()).abs() < 0.05;
    let is_round = value == 0.0 || unit == TableUnit::Micrometre && (is_whole || value.abs() > 100.0);
    rounded(value, if is_round { 0 } else { 1 })
}

const fn table_word(unit: TableUnit) -> &'static str {
    match unit {
        TableUnit::Micrometre => "µm",
        TableUnit::Thou => "thou",
    }
}

// The table

fn member((member, limits): &(Member, &Limits), limited: &Limited, unit: Unit) -> Option<MemberShape> {
    let (least, most) = limited.sizes(*member)?;
    let [least, most] = figures([least, most], limited, unit);
    Some(MemberShape { name: format!("{}, {}", capital(member.word()), limits.class), least, most })
}

fn judged_shape(edition: &Edition, judged: &Judged, limited: &Limited, unit: Unit) -> JudgedShape {
    let [least, most] = figures(judged.extremes.map(|(size, _)| size), limited, unit);
    JudgedShape {
        of: edition.mention(judged.id.into()),
        part: edition.dossier()[edition.dossier()[judged.id].of].name.clone(),
        least,
        most,
        verdict: judged.verdict,
        says: judged.says.clone(),
    }
}

fn figures(sizes: [f64; 2], limited: &Limited, unit: Unit) -> [String; 2] {
    let sizes = sizes.map(|size| unit.from_si(size));
    let decimals = decimals_that_hold(sizes, unit.interval_from_si(limited.unit.metres() / 10.0));
    sizes.map(|size| rounded(size, decimals))
}

/// Inches for what was typed in inches or feet, millimetres for the rest.
pub(super) fn length_unit(edition: &Edition, typed: Unit) -> Unit {
    let name = if typed.system() == Some(System::Inch) { "in" } else { "mm" };
    edition.dossier().units.named(name).unwrap_or(typed)
}

/// The fewest decimals, from 3 to 5, that lose less than a tenth of the table's last figure.
pub(super) fn decimals_that_hold(sizes: [f64; 2], finest: f64) -> i32 {
    let lost = |size: f64, decimals: i32| {
        let scale = libm::pow(10.0, f64::from(decimals));
        (size - (size * scale).round() / scale).abs()
    };
    (3..5).find(|decimals| sizes.iter().all(|size| lost(*size, *decimals) < finest)).unwrap_or(5)
}

// The drawing

fn plot(edition: &Edition, keys: &Keys<Resolved>, limited: &Limited, judged: &[Judged]) -> Option<Plot> {
    let (hole, shaft) = (limited.hole.as_ref()?, limited.shaft.as_ref()?);
    let bounds = [hole.lower, hole.upper, shaft.lower, shaft.upper, 0.0];
    let (least, most) = bounds.iter().fold((0.0, 0.0), |(low, high), each| (each.min(low), each.max(high)));
    let reach = DRAWN_WITHIN * (most - least);
    let off = |size: f64| (size - limited.size) / limited.unit.metres();
    let bar = |judged: &Judged| Bar {
        name: name(edition, judged.id),
        member: judged.member.word(),
        low: off(judged.extremes[0].0 - judged.extremes[0].1),
        high: off(judged.extremes[1].0 + judged.extremes[1].1),
    };
    let caption = caption(edition, keys, limited, judged)?;
    Some(Plot {
        plot: "fit",
        unit: table_word(limited.unit),
        size: edition.typed(&keys.at),
        hole: zone("hole", hole, limited.unit),
        shaft: zone("shaft", shaft, limited.unit),
        measured: judged
            .iter()
            .map(bar)
            .filter(|bar| bar.low.abs() <= reach && bar.high.abs() <= reach)
            .collect(),
        alt: format!("Tolerance zones of {} about {}. {caption}", keys.class.text, edition.typed(&keys.at)),
        caption,
    })
}

fn zone(name: &str, limits: &Limits, unit: TableUnit) -> Zone {
    let figure = |deviation: f64| {
        let sign = match deviation {
            above if above > 0.0 => "+",
            below if below < 0.0 => "−",
            _ => "",
        };
        format!("{sign}{}", table_figure(deviation.abs(), unit))
    };
    Zone {
        name: name.to_owned(),
        class: limits.class.clone(),
        low: limits.lower,
        high: limits.upper,
        lower: figure(limits.lower),
        upper: figure(limits.upper),
    }
}

fn name(edition: &Edition, id: MeasurementId) -> String {
    let keys = &edition.dossier()[id];
    format!("{}, {}", keys.feature, keys.state.word().replace('-', " "))
}

/// First how the measured members stand, then what the fit gives.
fn caption(edition: &Edition, keys: &Keys<Resolved>, limited: &Limited, judged: &[Judged]) -> Option<String> {
    let clearance = limited.clearance()?;
    let amount = |value: f64| table_figure(value.abs(), limited.unit);
    let word = table_word(limited.unit);
    let gives = match (clearance.min >= 0.0, clearance.max <= 0.0) {
        (true, _) => format!("{} to {} {word} of clearance", amount(clearance.min), amount(clearance.max)),
        (_, true) => format!("{} to {} {word} of interference", amount(clearance.max), amount(clearance.min)),
        _ => format!(
            "anything from {} {word} of interference to {} {word} of clearance",
            amount(clearance.min),
            amount(clearance.max)
        ),
    };
    let fit = format!("{} at {} gives {gives}", keys.class.text, edition.typed(&keys.at));
    let of = |verdict: &str| {
        let them = judged.iter().filter(|each| each.verdict == verdict);
        let said: Vec<String> =
            them.map(|each| format!("{} ({})", name(edition, each.id), each.says)).collect();
        said.join("; ")
    };
    let (fails, unsettled) = (of("fails"), of("unsettled"));
    Some(match judged {
        [] => format!("{fit}, once both are within their zones."),
        _ if !fails.is_empty() => format!("Outside its zone: {fails}. {fit}."),
        _ if !unsettled.is_empty() => format!("Not settled: {unsettled}. {fit}."),
        _ => format!("Within its zone: {}. {fit}.", of("holds")),
    })
}
