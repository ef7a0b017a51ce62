//! `fit` and `tolerance_limits`, as calculation blocks call them.

use super::fit::{Clearance, Fit, Limits, Resolved, Unit, resolve};
use super::iso286::Member;
use crate::calc::cause::{Cause, Origin};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Field, Function, Parameter, Refusal, Source, Takes};
use crate::calc::real::Real;
use crate::calc::units::System;
use crate::trade::declare::{clean_mm, hairs, in_work, needed, or_words, size, table, words};

/// A length above zero.
pub(super) const SIZE: Takes = Takes::Positive(Dimension::LENGTH);

pub(super) const CLASS: Parameter =
    needed("class", Takes::Text, "the fit: `H7/k6` by ISO 286, `RC4` by ANSI B4.1");

pub(super) const AT: Parameter = needed("at", SIZE, "nominal size, the diameter that hole and shaft share");

/// Two parts of one class and size vary on their own: their names keep them apart.
const PART: Parameter = or_words(
    "part",
    "",
    "which part it is, where several of one class and size stand in one sum: each varies on its own",
);

pub(super) const SOURCE: &[Source] = &[
    in_work("ISO 286-1", "2010", "Tables 1 to 5"),
    in_work("ANSI B4.1", "1967", "tables of preferred fits"),
];

pub(super) static FIT: Function = Function {
    name: "fit",
    does: "limits of hole and shaft, and the clearance between them, for a class of fit",
    parameters: &[CLASS, AT, PART],
    outputs: &[
        size("hole", "the hole: the middle of its limits, with them as bounds"),
        size("shaft", "the shaft: the middle of its limits, with them as bounds"),
        size("hole_min", "smallest hole"),
        size("hole_max", "largest hole"),
        size("shaft_min", "smallest shaft"),
        size("shaft_max", "largest shaft"),
        hairs("clearance_min", "least clearance on diameter; negative: interference"),
        hairs("clearance_max", "greatest clearance on diameter; negative: interference"),
        words("kind", "clearance, transition or interference"),
    ],
    formula: table(
        "limits of hole and shaft: the deviations of the class in the tables of the standard, added to `at`",
        "hole = (hole_min + hole_max)/2\n\
         shaft = (shaft_min + shaft_max)/2\n\
         clearance_min = hole_min - shaft_max\n\
         clearance_max = hole_max - shaft_min",
    ),
    validity: "ISO 286: over 0 up to 3150 mm, where the standard gives the class; ANSI B4.1: over 0 up to \
               19.69 in; at 20 °C",
    source: SOURCE,
    hazard: None,
    example: r#"seat = fit("H7/k6", at: 50 mm)
check seat.hole_max within 50.0249 mm .. 50.0251 mm   "+25 micrometres"
check seat.clearance_min within -0.0181 mm .. -0.0179 mm
check seat.hole - seat.shaft within -0.019 mm .. 0.024 mm   "as it may turn out"
pivot = fit("RC4", at: 2 3/4 in)
check pivot.clearance_min within 0.00119 in .. 0.00121 in"#,
    body: fit,
};

pub(super) static TOLERANCE_LIMITS: Function = Function {
    name: "tolerance_limits",
    does: "largest and smallest size that a tolerance class allows",
    parameters: &[
        Parameter { meaning: "the class: `H7` for a hole, `f7` for a shaft", ..CLASS },
        Parameter { meaning: "nominal size", ..AT },
        PART,
    ],
    outputs: &[
        size("size", "the middle of the limits, with them as bounds"),
        size("min", "smallest size allowed"),
        size("max", "largest size allowed"),
        hairs("lower", "lower limit deviation: EI or ei"),
        hairs("upper", "upper limit deviation: ES or es"),
    ],
    formula: table(
        "deviations: those of the class in the tables of the standard",
        "min = at + lower\n\
         max = at + upper\n\
         size = (min + max)/2",
    ),
    validity: "over 0 up to 3150 mm, where the standard gives the class; at 20 °C",
    source: &[in_work("ISO 286-1", "2010", "Tables 1 to 5")],
    hazard: None,
    example: r#"journal = tolerance_limits("f7", at: 80 mm)
check journal.max within 79.9699 mm .. 79.9701 mm
check journal.min within 79.9399 mm .. 79.9401 mm"#,
    body: tolerance_limits,
};

/// A fit whose both members are known.
pub(super) struct Pair {
    pub resolved: Resolved,
    pub hole: Limits,
    pub shaft: Limits,
    pub clearance: Clearance,
}

/// The fit that a call's `class` and `at` name; one member alone is refused.
pub(super) fn pair(call: &Call) -> Result<Pair, Refusal> {
    let resolved = named(call)?;
    match (resolved.hole.clone(), resolved.shaft.clone(), resolved.clearance()) {
        (Some(hole), Some(shaft), Some(clearance)) => Ok(Pair { resolved, hole, shaft, clearance }),
        _ => Err(Refusal::of(
            "class",
            format!("`{}` is one member; a fit has a hole and a shaft", call.text("class")),
            "Write both, as H7/k6, or call `tolerance_limits` for one member.",
        )),
    }
}

/// What a call's `class` and `at` name.
pub(super) fn named(call: &Call) -> Result<Resolved, Refusal> {
    let blame = |refusal: Refusal, parameter| Refusal { parameter: Some(parameter), ..refusal };
    let fit = Fit::parse(call.text("class")).map_err(|refusal| blame(refusal, "class"))?;
    resolve(fit, call.real("at").value()).map_err(|refusal| blame(refusal, "at"))
}

/// The limits of size of one member, with the slope by the nominal size.
pub(super) fn sizes(call: &Call, resolved: &Resolved, limits: &Limits) -> (Real, Real) {
    let (at, unit) = (call.real("at"), resolved.unit.metres());
    (at + limits.lower * unit, at + limits.upper * unit)
}

/// One member as the middle of its limits with them as bounds; a source of its own, named after class, size and part.
fn bounded(call: &Call, resolved: &Resolved, member: Member, limits: &Limits) -> Field {
    let unit = resolved.unit.metres();
    let size = size_words(resolved, call.system_of("at"));
    let part = call.text("part").trim();
    let comma = if part.is_empty() { "" } else { ", " };
    Field::Bounded {
        middle: resolved.size + f64::midpoint(limits.lower, limits.upper) * unit,
        half_width: (limits.upper - limits.lower) / 2.0 * unit,
        source: Cause::of(
            Origin::Tolerance,
            format!("{} {} of {size}{comma}{part}", member.word(), limits.class),
        ),
    }
}

/// The nominal size as it was typed, or in the unit of the table.
fn size_words(resolved: &Resolved, typed: Option<System>) -> String {
    let of_table = if resolved.unit == Unit::Thou { System::Inch } else { System::Metric };
    match typed.unwrap_or(of_table) {
        System::Metric => format!("{} mm", clean_mm(resolved.size * 1e3)),
        System::Inch => format!("{} in", clean_mm(resolved.size / 0.0254)),
    }
}

/// Warns where the nominal size has an uncertainty of its own, which a bounded size can't carry.
fn mind_doubtful_size(answer: Answer, call: &Call, sizes: &str) -> Answer {
    if call.real("at").slopes().iter().all(|slope| *slope == 0.0) {
        return answer;
    }
    answer.warn(format!(
        "`at` has an uncertainty of its own, which {sizes} leaves out: give the plain nominal size and add the \
         difference"
    ))
}

/// An answer in the system of `at` that already says what is uncertain about the table.
pub(super) fn doubting(call: &Call, resolved: &Resolved) -> Answer {
    let answer = Answer::new().in_system(call.system_of("at"));
    match resolved.uncertainty {
        Some(uncertainty) => answer.remark(uncertainty),
        None => answer,
    }
}

fn fit(call: &Call) -> Result<Answer, Refusal> {
    let Pair { resolved, hole, shaft, clearance } = pair(call)?;
    let (hole_min, hole_max) = sizes(call, &resolved, &hole);
    let (shaft_min, shaft_max) = sizes(call, &resolved, &shaft);
    let unit = resolved.unit.metres();
    let answer = doubting(call, &resolved)
        .field("hole", bounded(call, &resolved, Member::Hole, &hole))
        .field("shaft", bounded(call, &resolved, Member::Shaft, &shaft))
        .number("hole_min", hole_min)
        .number("hole_max", hole_max)
        .number("shaft_min", shaft_min)
        .number("shaft_max", shaft_max)
        .number("clearance_min", Real::exact(clearance.min * unit))
        .number("clearance_max", Real::exact(clearance.max * unit))
        .text("kind", clearance.kind().word());
    Ok(mind_doubtful_size(answer, call, "each of `hole` and `shaft`"))
}

fn tolerance_limits(call: &Call) -> Result<Answer, Refusal> {
    let resolved = named(call)?;
    let (member, limits) = match (&resolved.hole, &resolved.shaft) {
        (Some(hole), None) => (Member::Hole, hole),
        (None, Some(shaft)) => (Member::Shaft, shaft),
        _ => {
            let message = format!("`{}` names two members", call.text("class"));
            let help = "Give one class, as H7; `fit` gives the limits of both members.";
            return Err(Refusal::of("class", message, help));
        }
    };
    let (min, max) = sizes(call, &resolved, limits);
    let unit = resolved.unit.metres();
    let answer = doubting(call, &resolved)
        .field("size", bounded(call, &resolved, member, limits))
        .number("min", min)
        .number("max", max)
        .number("lower", Real::exact(limits.lower * unit))
        .number("upper", Real::exact(limits.upper * unit));
    Ok(mind_doubtful_size(answer, call, "`size`"))
}
