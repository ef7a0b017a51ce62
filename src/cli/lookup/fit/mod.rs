//! `lookup fit`: the limits of hole and shaft and the clearance between them, or the fits that serve at a size.

mod duties;
mod listed;
mod question;

use crate::calc::literal::Literal;
use crate::calc::provenance::source_words;
use crate::cli::workshop::{self, Column, Page, Said, in_millimetres, signed};
use crate::cli::{AnswerForm, Ended};
use crate::hazard::Hazard;
use crate::trade::limits::advice::Duty;
use crate::trade::limits::fit::{Clearance, Fit, FitKind, Limits, Resolved, Unit, resolve};
use crate::trade::limits::iso286::Member;
use listed::Listed;
use question::{Asked, Question};

const ISO: &str = "ISO 286-1:2010, Tables 1 to 5";
const ANSI: &str = "ANSI B4.1-1967, tables of preferred fits";

/// Look up the limits and the clearance of a fit at a nominal size
///
/// Classes are those of ISO 286 (H7/k6, or H7 or k6 alone) and ANSI B4.1 (RC1 to RC9, LC, LT, LN, FN). A duty in words
/// serves as well: "50 mm running slow". With the size alone, the fits for every duty are listed.
#[derive(Debug, clap::Args)]
pub(in crate::cli) struct Arguments {
    /// The nominal size with its unit, then the class: "50 mm H7/k6", "2 in RC4", "50 mm H7"
    // A sign in front is read with the size, to be refused in words.
    #[arg(value_name = "SIZE AND CLASS", allow_hyphen_values = true)]
    first: String,
    /// The rest of them, if they stand without quotes
    #[arg(hide = true)]
    rest: Vec<String>,
    #[command(flatten)]
    form: AnswerForm,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let words = [std::slice::from_ref(&arguments.first), &arguments.rest].concat();
    let Question { size, asked } = Question::read(&workshop::together(&words)?)?;
    let (fit, duty) = match asked {
        Asked::EveryDuty => return duties::run(&size, &arguments.form),
        Asked::Fit(fit) => (fit, None),
        Asked::Duty(duty) => (duties::class(duty, &size)?, Some(duty)),
    };
    let resolved = resolve(fit, size.nominal)?;
    let said = said(&resolved, duty);
    let page = Page::headed(&title(&size, fit, &resolved)).table(&columns(&resolved)).said(&said);
    workshop::give(&arguments.form, &page, &Listed::of(fit, &resolved, said))
}

fn title(size: &Literal, fit: Fit, resolved: &Resolved) -> String {
    let kind = match (resolved.clearance(), fit) {
        (Some(clearance), Fit::Inch(fit)) => format!("{} fit ({})", clearance.kind().word(), fit.family()),
        (Some(clearance), _) => format!("{} fit", clearance.kind().word()),
        (None, _) if resolved.hole.is_some() => "limits of a hole".to_owned(),
        (None, _) => "limits of a shaft".to_owned(),
    };
    format!("{} {fit}: {kind}", in_millimetres(size))
}

/// A row a member: deviations as the table of the standard has them, and the limits of size.
fn columns(resolved: &Resolved) -> [Column; 5] {
    let members: Vec<(Member, &Limits)> = [Member::Hole, Member::Shaft]
        .into_iter()
        .filter_map(|member| Some((member, resolved.member(member)?)))
        .collect();
    let (deviation, size, decimals) = match resolved.unit {
        Unit::Micrometre => ("µm", "mm", 3),
        Unit::Thou => ("thou", "in", 4),
    };
    let name = |(member, limits): &(Member, &Limits)| match resolved.unit {
        Unit::Micrometre => format!("{} {}", member.word(), limits.class),
        Unit::Thou => member.word().to_owned(),
    };
    let sizes = |limit: fn(&Limits) -> f64| {
        fixed(members.iter().map(|(_, limits)| size_of(resolved, limit(limits))).collect(), decimals)
    };
    let deviations =
        |limit: fn(&Limits) -> f64| members.iter().map(move |(_, limits)| signed(limit(limits), 3));
    [
        Column::words("member", members.iter().map(name)),
        Column::figures(&format!("lower {deviation}"), deviations(|limits| limits.lower)),
        Column::figures(&format!("upper {deviation}"), deviations(|limits| limits.upper)),
        Column::figures(&format!("smallest {size}"), sizes(|limits| limits.lower)),
        Column::figures(&format!("largest {size}"), sizes(|limits| limits.upper)),
    ]
}

/// The limit of size in millimetres or inches, from the deviation in the table's unit.
fn size_of(resolved: &Resolved, deviation: f64) -> f64 {
    let unit = match resolved.unit {
        Unit::Micrometre => 1e-3,
        Unit::Thou => 0.0254,
    };
    workshop::tidy((resolved.size + deviation * resolved.unit.metres()) / unit)
}

/// All to so many decimals, or to more if one of them needs it.
fn fixed(sizes: Vec<f64>, decimals: usize) -> Vec<String> {
    let needed =
        |size: &f64| workshop::figure(*size, 7).split_once('.').map_or(0, |(_, behind)| behind.len());
    let decimals = sizes.iter().map(needed).fold(decimals, usize::max);
    sizes.into_iter().map(|size| format!("{size:.decimals$}")).collect()
}

fn said(resolved: &Resolved, duty: Option<&Duty>) -> Said {
    let clearance = resolved.clearance();
    let mut remarks: Vec<String> =
        clearance.map(|clearance| clearance_told(clearance, resolved.unit)).into_iter().collect();
    remarks.extend(duty.map(|duty| format!("{}: {}", duty.name, duty.reason)));
    remarks.extend(resolved.uncertainty.map(str::to_owned));
    remarks.push("the limits of size hold at 20 °C".to_owned());
    let may_press = clearance.is_some_and(|clearance| clearance.kind() != FitKind::Clearance);
    let source = if resolved.unit == Unit::Micrometre { ISO } else { ANSI };
    let source = duty.map_or_else(
        || source.to_owned(),
        |duty| format!("{source}; choice of the fit: {}", source_words(duty.source)),
    );
    Said { remarks, source, caution: may_press.then_some(Hazard::Pressing) }
}

fn clearance_told(clearance: Clearance, unit: Unit) -> String {
    let (unit, meaning) = match unit {
        Unit::Micrometre => ("µm", ""),
        Unit::Thou => ("thou", "; 1 thou is 0.001 in"),
    };
    let [min, max] = [clearance.min, clearance.max].map(|end| workshop::figure(end.abs(), 3));
    let told = match clearance.kind() {
        FitKind::Clearance => format!("{min} to {max} {unit} clearance"),
        FitKind::Interference => format!("{max} to {min} {unit} interference"),
        FitKind::Transition => {
            format!("from {min} {unit} interference to {max} {unit} clearance, as the parts turn out")
        }
    };
    format!("on the diameter {told}{meaning}")
}
