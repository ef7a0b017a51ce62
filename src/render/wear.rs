//! The features that are past their limits, the worst first, and those that are not.

use serde::Serialize;

use super::edition::Edition;
use crate::calc::evaluate::verdict::{Outcome, Verdict};
use crate::calc::print;
use crate::calc::value::Quantity;
use crate::record::Surface;
use crate::worked::Wear;

#[derive(Serialize)]
struct WearChart {
    plot: &'static str,
    lines: Vec<WearLine>,
    caption: String,
    alt: String,
}

#[derive(Serialize)]
struct WearLine {
    label: Option<String>,
    name: String,
    /// In widths of its tolerance zone.
    beyond: f64,
    says: String,
    verdict: &'static str,
}

/// At most so many features are ranked.
const MOST_RANKED: usize = 20;

/// Every feature with limits; the page has a bar for each that is past a limit on its worn side, and names the others in the
/// caption.
pub(super) fn chart(edition: &Edition) -> Option<String> {
    let ranked = edition.project.worked.wear(edition.dossier());
    let lines: Vec<WearLine> =
        ranked.iter().filter_map(|wear| line(edition, wear)).take(MOST_RANKED).collect();
    let told: Vec<String> = lines.iter().map(|line| format!("{}: {}", line.name, line.says)).collect();
    let chart = WearChart {
        plot: "wear",
        caption: format!(
            "How far each feature is past its limit, in widths of its own tolerance zone and in lengths. {}What has no \
             limits is not in it.",
            others(&lines)
        ),
        alt: format!("Features ranked by wear past the limit: {}.", told.join("; ")),
        lines,
    };
    (!chart.lines.is_empty()).then(|| edition.assets.lay_data(&chart))
}

fn verdict<'a>(edition: &'a Edition, wear: &Wear) -> Option<&'a Verdict> {
    edition.project.worked.measured(wear.measurement).within_limits.as_ref()
}

fn name(edition: &Edition, wear: &Wear) -> String {
    let keys = &edition.dossier()[wear.measurement];
    format!("{}: {}", edition.dossier()[keys.of].name, keys.feature)
}

fn line(edition: &Edition, wear: &Wear) -> Option<WearLine> {
    let verdict = verdict(edition, wear)?;
    Some(WearLine {
        label: edition.names.label(wear.measurement.into()),
        name: name(edition, wear),
        beyond: wear.widths,
        says: says(edition, wear, verdict),
        verdict: super::working::verdict_code(verdict.outcome),
    })
}

/// "2.8 tolerances, 0.0043 in", "0.0004 in too large", "not settled", "within".
fn says(edition: &Edition, wear: &Wear, verdict: &Verdict) -> String {
    match (verdict.outcome, edition.dossier()[wear.measurement].surface) {
        (Outcome::Holds, _) => "within".to_owned(),
        _ if wear.past > 0.0 => {
            format!("{} tolerances, {}", widths(wear.widths), amount(edition, verdict, wear.past))
        }
        (Outcome::NotSettled, _) => "not settled".to_owned(),
        (Outcome::Fails, Surface::Outside) => {
            format!("{} too large", amount(edition, verdict, -verdict.margin.value))
        }
        (Outcome::Fails, Surface::Inside) => {
            format!("{} too small", amount(edition, verdict, -verdict.margin.value))
        }
    }
}

/// Two figures are enough: `0.12`, `2.8`, `25`.
fn widths(widths: f64) -> String {
    let places = if widths >= 10.0 {
        0
    } else if widths >= 1.0 {
        1
    } else {
        2
    };
    print::rounded(widths, places)
}

fn amount(edition: &Edition, verdict: &Verdict, value: f64) -> String {
    let amount = Quantity { value, ..verdict.margin.clone() };
    print::quantity(&amount, &edition.dossier().units).plain().value()
}

/// The features without a bar, by what is known of them.
fn others(lines: &[WearLine]) -> String {
    let of = |is: &dyn Fn(&WearLine) -> bool, named: &dyn Fn(&WearLine) -> String| -> Vec<String> {
        lines.iter().filter(|line| line.beyond <= 0.0 && is(line)).map(named).collect()
    };
    let name = |line: &WearLine| line.name.clone();
    let with_size = |line: &WearLine| format!("{}, {}", line.name, line.says);
    let groups = [
        ("Outside, though not by wear", of(&|line| line.verdict == "fails", &with_size)),
        ("Not settled", of(&|line| line.verdict == "unsettled", &name)),
        ("Within the limits", of(&|line| line.verdict == "holds", &name)),
    ];
    let said = groups.iter().filter(|(_, them)| !them.is_empty());
    said.map(|(head, them)| format!("{head}: {}. ", them.join("; "))).collect()
}
