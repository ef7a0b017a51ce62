//! `fit` and `tolerance_limits`, as calculation blocks call them.

use super::fit::{Clearance, Fit, Limits, Resolved, resolve};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Parameter, Refusal, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{length, needed, words};

/// A length above zero.
pub(super) const SIZE: Takes = Takes::Positive(Dimension::LENGTH);

pub(super) const CLASS: Parameter =
    needed("class", Takes::Text, "the fit: `H7/k6` by ISO 286, `RC4` by ANSI B4.1");

pub(super) const AT: Parameter = needed("at", SIZE, "nominal size, the diameter that hole and shaft share");

pub(super) const SOURCE: &str = "ISO 286-1:2010, Tables 1 to 5; ANSI B4.1-1967, tables of preferred fits";

pub(super) static FIT: Function = Function {
    name: "fit",
    does: "limits of hole and shaft, and the clearance between them, for a class of fit",
    parameters: &[CLASS, AT],
    outputs: &[
        length("hole_min", "smallest hole"),
        length("hole_max", "largest hole"),
        length("shaft_min", "smallest shaft"),
        length("shaft_max", "largest shaft"),
        length("clearance_min", "least clearance on diameter; negative: interference"),
        length("clearance_max", "greatest clearance on diameter; negative: interference"),
        words("kind", "clearance, transition or interference"),
    ],
    formula: "clearance_min = hole_min - shaft_max; clearance_max = hole_max - shaft_min",
    validity: "ISO 286: over 0 up to 3150 mm, where the standard gives the class; ANSI B4.1: over 0 up to \
               19.69 in; at 20 °C",
    source: SOURCE,
    caution: None,
    example: r#"seat = fit("H7/k6", at: 50 mm)
check seat.hole_max within 50.0249 mm .. 50.0251 mm   "+25 micrometres"
check seat.clearance_min within -0.0181 mm .. -0.0179 mm
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
    ],
    outputs: &[
        length("min", "smallest size allowed"),
        length("max", "largest size allowed"),
        length("lower", "lower limit deviation: EI or ei"),
        length("upper", "upper limit deviation: ES or es"),
    ],
    formula: "min = at + lower; max = at + upper",
    validity: "over 0 up to 3150 mm, where the standard gives the class; at 20 °C",
    source: "ISO 286-1:2010, Tables 1 to 5",
    caution: None,
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

/// An answer that already says what is doubtful about the table.
pub(super) fn doubting(resolved: &Resolved) -> Answer {
    let answer = Answer::new();
    match resolved.doubt {
        Some(doubt) => answer.remark(doubt),
        None => answer,
    }
}

fn fit(call: &Call) -> Result<Answer, Refusal> {
    let Pair { resolved, hole, shaft, clearance } = pair(call)?;
    let (hole_min, hole_max) = sizes(call, &resolved, &hole);
    let (shaft_min, shaft_max) = sizes(call, &resolved, &shaft);
    let unit = resolved.unit.metres();
    Ok(doubting(&resolved)
        .number("hole_min", hole_min)
        .number("hole_max", hole_max)
        .number("shaft_min", shaft_min)
        .number("shaft_max", shaft_max)
        .number("clearance_min", Real::exact(clearance.min * unit))
        .number("clearance_max", Real::exact(clearance.max * unit))
        .text("kind", clearance.kind().word()))
}

fn tolerance_limits(call: &Call) -> Result<Answer, Refusal> {
    let resolved = named(call)?;
    let ((Some(limits), None) | (None, Some(limits))) = (&resolved.hole, &resolved.shaft) else {
        let message = format!("`{}` names two members", call.text("class"));
        let help = "Give one class, as H7; `fit` gives the limits of both members.";
        return Err(Refusal::of("class", message, help));
    };
    let (min, max) = sizes(call, &resolved, limits);
    let unit = resolved.unit.metres();
    Ok(doubting(&resolved)
        .number("min", min)
        .number("max", max)
        .number("lower", Real::exact(limits.lower * unit))
        .number("upper", Real::exact(limits.upper * unit)))
}
