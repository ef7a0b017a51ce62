//! How a measured journal or bore stands against its limits.

use super::functions::{AT, CLASS, Pair, SIZE, SOURCE, doubting, named, pair, sizes};
use super::iso286::Member;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal};
use crate::calc::real::Real;
use crate::trade::declare::{hairs, needed, size, table, words};

/// A nanometre: what a verdict takes for nothing, so that a reading typed exactly at a limit is within it.
const HAIR: f64 = 1e-9;

/// The extremes of one feature against its limits of size; lengths in metres, none below zero.
#[derive(Clone, Copy, Debug)]
pub struct Standing {
    /// How far the most worn reading is past the worn side: below the least journal, above the greatest bore.
    pub past_worn: Real,
    /// How much may still wear away at the most worn reading before that side is reached.
    pub left: Real,
    /// How much metal is still to come off at the fullest reading: above the greatest journal, below the least bore.
    pub to_come_off: Real,
    /// How far the worst reading is inside the nearer limit; negative outside.
    pub margin: Real,
}

impl Standing {
    /// `lower` and `upper` are the limits of size, `smallest` and `largest` the measured extremes.
    pub fn of(member: Member, (lower, upper): (Real, Real), (smallest, largest): (Real, Real)) -> Self {
        let (room, excess) = match member {
            Member::Shaft => (smallest - lower, largest - upper),
            Member::Hole => (upper - largest, lower - smallest),
        };
        Self {
            past_worn: above_zero(-room),
            left: above_zero(room),
            to_come_off: above_zero(excess),
            margin: room.min(-excess),
        }
    }

    /// In words, by the values alone: whether the uncertainty leaves it open, a check on the margin tells.
    pub fn words(&self) -> &'static str {
        match (self.past_worn > HAIR, self.to_come_off > HAIR) {
            (false, false) => "within its limits by its value",
            (true, false) => "worn past its limit by its value",
            (false, true) => "metal still to come off by its value",
            (true, true) => {
                "by its values worn past its limit in one place, metal still to come off in another"
            }
        }
    }
}

fn above_zero(length: Real) -> Real {
    length.max(Real::exact(0.0))
}

const SMALLEST: Parameter = needed("smallest", SIZE, "smallest diameter measured");
const LARGEST: Parameter = needed("largest", SIZE, "largest diameter measured");
const LIMITS_OF_CLASS: &str = "least and greatest: the limits of the class in the tables of the standard";
const AT_20_DEGREES: &str = "readings at 20 °C, or corrected to it";

const ONE_MEMBER: &[Output] = &[
    size("least", "smallest size that the class allows"),
    size("greatest", "largest size that the class allows"),
    hairs("past_worn", "how far the worst reading is past the worn limit; 0 if it is not"),
    hairs("left", "what may still wear away before that limit; 0 if it is passed"),
    hairs("to_come_off", "metal still to come off at the fullest reading; 0 if none"),
    hairs("margin", "how far the worst reading is inside the nearer limit; negative: outside"),
    words("standing", "where the readings stand, by their values alone; `check … .margin >= 0 mm` judges"),
];

pub(super) static JUDGE_JOURNAL: Function = Function {
    name: "judge_journal",
    does: "how a measured journal stands against its class: worn past it, and what is left",
    parameters: &[
        Parameter { meaning: "the journal's class `f7`, or the whole fit `H8/f7`, `RC4`", ..CLASS },
        AT,
        SMALLEST,
        LARGEST,
    ],
    outputs: ONE_MEMBER,
    formula: table(
        LIMITS_OF_CLASS,
        "past_worn = max(0 mm, least - smallest)\n\
         left = max(0 mm, smallest - least)\n\
         to_come_off = max(0 mm, largest - greatest)\n\
         margin = min(smallest - least, greatest - largest)",
    ),
    validity: AT_20_DEGREES,
    source: SOURCE,
    hazard: None,
    example: r#"worn = judge_journal("H8/f7", at: 70 mm, smallest: 69.912 mm, largest: 69.955 mm)
check worn.past_worn within 0.0279 mm .. 0.0281 mm   "least size 69.940 mm"
check worn.to_come_off <= 0.0001 mm
check worn.margin within -0.0281 mm .. -0.0279 mm   "the same, with its sign""#,
    body: |call| judge_one(call, Member::Shaft),
};

pub(super) static JUDGE_BORE: Function = Function {
    name: "judge_bore",
    does: "how a measured bore stands against its class: worn past it, and what is left",
    parameters: &[
        Parameter { meaning: "the bore's class `H8`, or the whole fit `H8/f7`, `RC4`", ..CLASS },
        AT,
        SMALLEST,
        LARGEST,
    ],
    outputs: ONE_MEMBER,
    formula: table(
        LIMITS_OF_CLASS,
        "past_worn = max(0 mm, largest - greatest)\n\
         left = max(0 mm, greatest - largest)\n\
         to_come_off = max(0 mm, least - smallest)\n\
         margin = min(greatest - largest, smallest - least)",
    ),
    validity: AT_20_DEGREES,
    source: SOURCE,
    hazard: None,
    example: r#"bore = judge_bore("H8", at: 70 mm, smallest: 70.004 mm, largest: 70.030 mm)
check bore.left within 0.0159 mm .. 0.0161 mm   "greatest size 70.046 mm"
check bore.past_worn <= 0.0001 mm"#,
    body: |call| judge_one(call, Member::Hole),
};

pub(super) static JUDGE_FIT: Function = Function {
    name: "judge_fit",
    does: "clearance that a measured journal and bore have, against the fit they should have",
    parameters: &[
        CLASS,
        AT,
        needed("journal_min", SIZE, "smallest journal diameter measured"),
        needed("journal_max", SIZE, "largest journal diameter measured"),
        needed("bore_min", SIZE, "smallest bore diameter measured"),
        needed("bore_max", SIZE, "largest bore diameter measured"),
    ],
    outputs: &[
        hairs("clearance_min", "least clearance as measured; negative: interference"),
        hairs("clearance_max", "greatest clearance as measured"),
        hairs("allowed_min", "least clearance of the fit; negative: interference"),
        hairs("allowed_max", "greatest clearance of the fit"),
        hairs("too_slack", "by how much the greatest clearance passes the fit's; 0 if not"),
        hairs("too_tight", "by how much the least clearance falls short of the fit's"),
        hairs("margin", "how far the clearance is inside the nearer end of the fit's; negative: outside"),
        words("standing", "where the pair stands, by the values alone; `check … .margin >= 0 mm` judges"),
    ],
    formula: table(
        "allowed_min and allowed_max: the clearances of the class in the tables of the standard",
        "clearance_min = bore_min - journal_max\n\
         clearance_max = bore_max - journal_min\n\
         too_slack = max(0 mm, clearance_max - allowed_max)\n\
         too_tight = max(0 mm, allowed_min - clearance_min)\n\
         margin = min(allowed_max - clearance_max, clearance_min - allowed_min)",
    ),
    validity: "readings at one temperature",
    source: SOURCE,
    hazard: None,
    example: r#"pivot = judge_fit("H8/f7", at: 70 mm, journal_min: 69.912 mm, journal_max: 69.955 mm,
                  bore_min: 70.004 mm, bore_max: 70.030 mm)
check pivot.clearance_max within 0.1179 mm .. 0.1181 mm
check pivot.too_slack within 0.0119 mm .. 0.0121 mm   "H8/f7 allows 0.106 mm""#,
    body: judge_fit,
};

fn judge_one(call: &Call, member: Member) -> Result<Answer, Refusal> {
    let resolved = named(call)?;
    let limits = resolved.member(member).ok_or_else(|| wrong_member(call, member))?;
    let extremes = ordered(call, "smallest", "largest")?;
    let allowed = sizes(call, &resolved, limits);
    let standing = Standing::of(member, allowed, extremes);
    Ok(doubting(call, &resolved)
        .number("least", allowed.0)
        .number("greatest", allowed.1)
        .number("past_worn", standing.past_worn)
        .number("left", standing.left)
        .number("to_come_off", standing.to_come_off)
        .number("margin", standing.margin)
        .text("standing", standing.words()))
}

fn wrong_member(call: &Call, member: Member) -> Refusal {
    let class = call.text("class");
    let message = format!("`{class}` says nothing of the {}", member.word());
    Refusal::of("class", message, "Holes have capitals, shafts small letters; a whole fit serves for both.")
}

/// The two readings of those names, refused if they are the wrong way round.
fn ordered(call: &Call, smallest: &'static str, largest: &'static str) -> Result<(Real, Real), Refusal> {
    let (low, high) = (call.real(smallest), call.real(largest));
    if low > high {
        let message = format!("`{smallest}` is larger than `{largest}`");
        return Err(Refusal::of(smallest, message, "Give the extremes the other way round."));
    }
    Ok((low, high))
}

fn judge_fit(call: &Call) -> Result<Answer, Refusal> {
    let Pair { resolved, clearance, .. } = pair(call)?;
    let (journal_min, journal_max) = ordered(call, "journal_min", "journal_max")?;
    let (bore_min, bore_max) = ordered(call, "bore_min", "bore_max")?;
    let (least, greatest) = (bore_min - journal_max, bore_max - journal_min);
    let unit = resolved.unit.metres();
    let (allowed_min, allowed_max) = (Real::exact(clearance.min * unit), Real::exact(clearance.max * unit));
    let (room, slack) = (allowed_max - greatest, least - allowed_min);
    let (too_slack, too_tight) = (above_zero(-room), above_zero(-slack));
    let standing = match (too_slack > HAIR, too_tight > HAIR) {
        (false, false) => "within the fit by the values",
        (true, false) => "slacker than the fit by the values",
        (false, true) => "tighter than the fit by the values",
        (true, true) => "by the values slacker than the fit in one place, tighter in another",
    };
    Ok(doubting(call, &resolved)
        .number("clearance_min", least)
        .number("clearance_max", greatest)
        .number("allowed_min", allowed_min)
        .number("allowed_max", allowed_max)
        .number("too_slack", too_slack)
        .number("too_tight", too_tight)
        .number("margin", room.min(slack))
        .text("standing", standing))
}
