//! The fit of a part with another: the limits of hole and shaft, and how the measured bores and journals stand in them.

use serde::Serialize;

use super::edition::Edition;
use super::measurement;
use super::prose::{capital, joined};
use super::shapes::Mention;
use super::working::verdict_code;
use crate::calc::evaluate::verdict::{Outcome, Verdict};
use crate::calc::print::{self, Apart, rounded};
use crate::calc::real::Real;
use crate::calc::units::{System, Unit};
use crate::dossier::Dossier;
use crate::dossier::{MeasurementId, PartId, Resolved};
use crate::record::Fit as Keys;
use crate::trade::limits::fit::{Limits, Resolved as Limited, Unit as TableUnit};
use crate::trade::limits::iso286::Member;
use crate::trade::limits::judge::Standing;
use crate::worked::Judged;

/// What was measured is drawn beside the zones when it lies no further off than so many times what they span.
const DRAWN_WITHIN: f64 = 5.0;

/// A nanometre: what is past a limit by less is not reported.
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

/// What the part's key `fit:` comes to.
pub(super) fn shape(edition: &Edition, part: PartId) -> Option<FitShape> {
    let keys = edition.dossier()[part].fit.as_ref()?;
    let fitted = edition.project.worked.fit(part)?;
    Some(match &fitted.limits {
        Ok(limited) => resolved(edition, keys, limited, &fitted.judged),
        Err(refusal) => FitShape {
            refused: Some(refusal.message.clone()),
            unit: String::new(),
            members: Vec::new(),
            measured: Vec::new(),
            plot: None,
        },
    })
}

fn resolved(edition: &Edition, keys: &Keys<Resolved>, limited: &Limited, judged: &[Judged]) -> FitShape {
    let unit = length_unit(edition.dossier(), keys.at.unit);
    let members = [Member::Hole, Member::Shaft];
    let plot = plot(edition, keys, limited, judged);
    FitShape {
        refused: None,
        unit: unit.shown(),
        members: members
            .into_iter()
            .filter_map(|each| member(edition.dossier(), each, limited, unit))
            .collect(),
        measured: judged.iter().map(|each| judged_shape(edition, each, limited, unit)).collect(),
        plot: plot.map(|plot| edition.assets.lay_data(&plot)),
    }
}

/// How it stands, in the unit of the standard's table: `worn 10.0 µm past, known to ± 1.2 µm`.
pub(super) fn standing(dossier: &Dossier, judged: &Judged, limited: &Limited) -> String {
    let Some(limits) = limited.sizes(judged.member) else { return String::new() };
    let real = |(one, other)| (Real::exact(one), Real::exact(other));
    let standing = Standing::of(judged.member, real(limits), real(judged.extremes));
    let apart = |inside: Real| apart(dossier, judged, limited, inside.value());
    let outside = |length: Real| apart(-length).distance;
    let says = match (standing.past_worn > HAIR, standing.to_come_off > HAIR) {
        (false, false) => format!("{} inside", apart(standing.margin).distance),
        (true, false) => format!("worn {} past", outside(standing.past_worn)),
        (false, true) => format!("{} to come off", outside(standing.to_come_off)),
        (true, true) => {
            format!(
                "worn {} past, {} to come off",
                outside(standing.past_worn),
                outside(standing.to_come_off)
            )
        }
    };
    match apart(standing.margin).uncertainty {
        Some(uncertainty) => {
            joined(&format!("{says}, {}", print::known_to(&uncertainty.replace(' ', "\u{a0}"))))
        }
        None => says,
    }
}

/// What measuring has to come to where it is not settled: `knowing it to ± 2.4 µm would settle it`.
pub(super) fn would_settle(dossier: &Dossier, judged: &Judged, limited: &Limited) -> Option<String> {
    let margin = &judged.verdict.margin;
    let is_open = judged.verdict.outcome == Outcome::NotSettled && margin.value.abs() > HAIR;
    is_open.then(|| {
        let settles = apart(dossier, judged, limited, margin.value).settles;
        joined(&print::would_settle(&settles))
    })
}

/// A distance from a limit, positive inside, as part of the verdict.
fn apart(dossier: &Dossier, judged: &Judged, limited: &Limited, distance: f64) -> Apart {
    let Verdict { margin, value, .. } = &judged.verdict;
    print::apart(distance, margin, value, table_unit(dossier, limited.unit))
}

/// The unit of the standard's table, for small lengths.
fn table_unit(dossier: &Dossier, unit: TableUnit) -> Unit {
    let name = match unit {
        TableUnit::Micrometre => "um",
        TableUnit::Thou => "thou",
    };
    dossier.units.named(name).unwrap_or(Unit::NONE)
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

fn member(dossier: &Dossier, member: Member, limited: &Limited, unit: Unit) -> Option<MemberShape> {
    let (least, most) = limited.sizes(member)?;
    let [least, most] = sizes(dossier, limited, [least, most], unit);
    let class = &limited.member(member)?.class;
    Some(MemberShape { name: format!("{}, {class}", capital(member.word())), least, most })
}

fn judged_shape(edition: &Edition, judged: &Judged, limited: &Limited, unit: Unit) -> JudgedShape {
    let (least, most) = judged.extremes;
    let [least, most] =
        [least, most].map(|size| measurement::figure(edition.dossier(), judged.measurement, size, unit));
    JudgedShape {
        of: edition.names.mention(judged.measurement.into()),
        part: edition.dossier()[edition.dossier()[judged.measurement].of].name.clone(),
        least,
        most,
        verdict: verdict_code(judged.verdict.outcome),
        says: standing(edition.dossier(), judged, limited),
    }
}

/// Limits of size to the last figure of their table: a thousandth of a millimetre, a tenth of a thou.
pub(super) fn sizes(dossier: &Dossier, limited: &Limited, sizes: [f64; 2], unit: Unit) -> [String; 2] {
    let (table, decimals) = table_of(dossier, limited, unit);
    print::of_table(sizes, table, decimals, unit)
}

/// The decimals with which [`sizes`] prints them.
pub(super) fn places(dossier: &Dossier, limited: &Limited, sizes: [f64; 2], unit: Unit) -> i32 {
    let (table, decimals) = table_of(dossier, limited, unit);
    print::places_of_table(sizes, table, decimals, unit)
}

/// The unit of the table that the limits come from, and its decimals.
fn table_of(dossier: &Dossier, limited: &Limited, unit: Unit) -> (Unit, u8) {
    let (name, decimals) = match limited.unit {
        TableUnit::Micrometre => ("mm", 3),
        TableUnit::Thou => ("in", 4),
    };
    (dossier.units.named(name).unwrap_or(unit), decimals)
}

/// Inches for what was typed in inches or feet, millimetres for the rest.
pub(super) fn length_unit(dossier: &Dossier, typed: Unit) -> Unit {
    let name = if typed.system() == Some(System::Inch) { "in" } else { "mm" };
    dossier.units.named(name).unwrap_or(typed)
}

// The drawing

fn plot(edition: &Edition, keys: &Keys<Resolved>, limited: &Limited, judged: &[Judged]) -> Option<Plot> {
    let (hole, shaft) = (limited.hole.as_ref()?, limited.shaft.as_ref()?);
    let bounds = [hole.lower, hole.upper, shaft.lower, shaft.upper, 0.0];
    let (least, most) = bounds.iter().fold((0.0, 0.0), |(low, high), each| (each.min(low), each.max(high)));
    let reach = DRAWN_WITHIN * (most - least);
    let off = |size: f64| (size - limited.size) / limited.unit.metres();
    let bar = |judged: &Judged| {
        let ((least, most), uncertainty) = (judged.extremes, judged.verdict.value.expanded());
        Bar {
            name: name(edition.dossier(), judged.measurement),
            member: judged.member.word(),
            low: off(least - uncertainty),
            high: off(most + uncertainty),
        }
    };
    let caption = caption(edition, keys, limited, judged)?;
    Some(Plot {
        plot: "fit",
        unit: table_word(limited.unit),
        size: edition.amounts.typed_size(&keys.at),
        hole: zone("hole", hole, limited.unit),
        shaft: zone("shaft", shaft, limited.unit),
        measured: judged
            .iter()
            .map(bar)
            .filter(|bar| bar.low.abs() <= reach && bar.high.abs() <= reach)
            .collect(),
        alt: format!(
            "Tolerance zones of {} about {}. {caption}",
            keys.class.text,
            edition.amounts.typed_size(&keys.at)
        ),
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

fn name(dossier: &Dossier, id: MeasurementId) -> String {
    let keys = &dossier[id];
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
    let fit = format!("{} at {} gives {gives}", keys.class.text, edition.amounts.typed_size(&keys.at));
    // What has been worked on since is as it was left.
    let judged: Vec<&Judged> =
        judged.iter().filter(|each| edition.dossier().is_latest(each.measurement)).collect();
    let of = |outcome: Outcome| {
        let them = judged.iter().filter(|each| each.verdict.outcome == outcome);
        let said: Vec<String> = them
            .map(|each| {
                format!(
                    "{} ({})",
                    name(edition.dossier(), each.measurement),
                    standing(edition.dossier(), each, limited)
                )
            })
            .collect();
        said.join("; ")
    };
    let (fails, unsettled) = (of(Outcome::Fails), of(Outcome::NotSettled));
    Some(match judged[..] {
        [] => format!("{fit}, once both are within their zones."),
        _ if !fails.is_empty() => format!("Outside its zone: {fails}. {fit}."),
        _ if !unsettled.is_empty() => format!("Not settled: {unsettled}. {fit}."),
        _ => format!("Within its zone: {}. {fit}.", of(Outcome::Holds)),
    })
}
