//! Which fit for which duty.

use super::fit::{Clearance, Fit, FitKind, resolve};
use super::functions::AT;
use crate::calc::function::{Answer, Call, Function, Refusal, Source, Takes};
use crate::calc::real::Real;
use crate::trade::declare::{hairs, needed, practice, recalled, table, words};

/// A duty that a fit has, the classes that serve it, and why.
pub struct Duty {
    /// As it is asked for: `running slow`.
    pub name: &'static str,
    /// The fit by ISO 286.
    pub metric: &'static str,
    /// The fit by ANSI B4.1 for the same duty.
    pub inch: &'static str,
    /// Why this fit, and where it ends.
    pub reason: &'static str,
    /// Where the advice comes from.
    pub source: &'static [Source],
}

const PREFERRED: &[Source] = &[
    recalled("ANSI B4.2", "1978", "preferred fits"),
    recalled("ANSI B4.1", "1967", "description of the fits"),
];
const TRADE: &[Source] = &[practice("")];

/// From the loosest to the tightest.
pub const DUTIES: &[Duty] = &[
    Duty {
        name: "running loose",
        metric: "H11/c11",
        inch: "RC8",
        reason: "out of doors, grit, paint, unturned shafts, parts that must go together at once: wide \
                 clearance and wide tolerances; too slack for load at speed",
        source: PREFERRED,
    },
    Duty {
        name: "running fast",
        metric: "H9/d9",
        inch: "RC6",
        reason: "high speed, heavy journal pressure or large changes of temperature: room for an oil film \
                 and for growth, at the price of exact location",
        source: PREFERRED,
    },
    Duty {
        name: "running slow",
        metric: "H8/f7",
        inch: "RC4",
        reason: "moderate speed and pressure on a true machine, hand-turned spindles and pivots: turns \
                 freely under oil and still holds its place",
        source: PREFERRED,
    },
    Duty {
        name: "sliding",
        metric: "H7/g6",
        inch: "RC2",
        reason: "parts that turn or slide by hand and must not rock; not meant to run at speed and may \
                 seize if it warms",
        source: PREFERRED,
    },
    Duty {
        name: "locating",
        metric: "H7/h6",
        inch: "LC2",
        reason: "parts that stand still, put together and taken apart by hand with oil: snug location \
                 without force",
        source: PREFERRED,
    },
    Duty {
        name: "locating keyed",
        metric: "H7/k6",
        inch: "LT3",
        reason: "wheels, couplings and rings that a key or a load must not let rock: tapped on with a soft \
                 hammer, comes off with a puller",
        source: PREFERRED,
    },
    Duty {
        name: "locating tight",
        metric: "H7/n6",
        inch: "LT5",
        reason: "more exact location than a tapped fit, a little interference is allowed; needs a press to \
                 take apart",
        source: PREFERRED,
    },
    Duty {
        name: "pressed light",
        metric: "H7/p6",
        inch: "LN2",
        reason: "rigid and true location; thin walls and bushes that must not close in much; not to be \
                 trusted with torque",
        source: PREFERRED,
    },
    Duty {
        name: "bush",
        metric: "H7/r6",
        inch: "LN3",
        reason: "plain bronze bushes in a stout housing: holds without a screw, closes the bore by most of \
                 the interference, so ream or hone after pressing",
        source: TRADE,
    },
    Duty {
        name: "pressed",
        metric: "H7/s6",
        inch: "FN2",
        reason: "ordinary steel parts and shrink fits on light sections; about the tightest that grey iron \
                 will stand",
        source: PREFERRED,
    },
    Duty {
        name: "shrunk",
        metric: "H7/u6",
        inch: "FN4",
        reason: "parts that stand high stress, or where a press is not strong enough: heat the outer \
                 member; work out the stress first",
        source: PREFERRED,
    },
];

pub(super) static ADVISE_FIT: Function = Function {
    name: "advise_fit",
    does: "fit that serves a duty, with the reason, and its clearance at a size",
    parameters: &[
        needed(
            "duty",
            Takes::Text,
            "one of: running loose, running fast, running slow, sliding, locating, locating keyed, \
             locating tight, pressed light, bush, pressed, shrunk",
        ),
        AT,
    ],
    outputs: &[
        words("class", "the fit by ISO 286"),
        words("inch_class", "the fit by ANSI B4.1 for the same duty"),
        words("kind", "clearance, transition or interference"),
        hairs("clearance_min", "least clearance of the ISO fit; negative: interference"),
        hairs("clearance_max", "greatest clearance of the ISO fit"),
        words("reason", "why this fit"),
    ],
    formula: table(
        "the class that serves the duty, hole-basis fits from the loosest to the tightest; its clearances as by `fit`",
        "",
    ),
    validity: "a first choice for ordinary lengths (about 1.5 diameters) and like materials at one \
               temperature",
    source: &[
        recalled("ANSI B4.2", "1978", "preferred fits"),
        recalled("ANSI B4.1", "1967", "description of the fits"),
        practice("the fit of a bush"),
    ],
    hazard: None,
    example: r#"pivot = advise_fit("running slow", at: 70 mm)
check pivot.clearance_min within 0.0299 mm .. 0.0301 mm   "H8/f7"
check pivot.clearance_max within 0.1059 mm .. 0.1061 mm"#,
    body: advise_fit,
};

/// The duty of that name; words in any case and spacing.
pub fn duty(name: &str) -> Option<&'static Duty> {
    let name = name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    DUTIES.iter().find(|duty| duty.name == name)
}

fn advise_fit(call: &Call) -> Result<Answer, Refusal> {
    let duty = duty(call.text("duty")).ok_or_else(|| {
        let names: Vec<_> = DUTIES.iter().map(|duty| duty.name).collect();
        Refusal::of(
            "duty",
            format!("no fit is known for the duty `{}`", call.text("duty")),
            format!("The duties are {}.", names.join(", ")),
        )
    })?;
    let resolved = Fit::parse(duty.metric).and_then(|fit| resolve(fit, call.real("at").value()))?;
    let clearance = resolved.clearance().unwrap_or(Clearance { min: f64::NAN, max: f64::NAN });
    let unit = resolved.unit.metres();
    let answer = Answer::new()
        .in_system(call.system_of("at"))
        .text("class", duty.metric)
        .text("inch_class", duty.inch)
        .text("kind", clearance.kind().word())
        .number("clearance_min", Real::exact(clearance.min * unit))
        .number("clearance_max", Real::exact(clearance.max * unit))
        .text("reason", duty.reason);
    Ok(match clearance.kind() {
        FitKind::Interference => {
            answer.remark("work out pressure, stress and push with `press_fit` before assembling")
        }
        FitKind::Clearance | FitKind::Transition => answer,
    })
}
