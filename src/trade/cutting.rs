//! Cutting and forming: spindle speeds, times, tap drills, the stock that bends take.
//!
//! Takes: sizes, speeds and feeds. Gives: what to set and how long it lasts. Never: knows what the machine
//! can hold; the limits of an old machine, its guards and its clamps override any computed speed.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use super::declare::{
    by_formula, chosen, derived, in_work, length, lines, moment, needed, optional, or_number, or_words,
    practice, quantity, rate, share,
};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Sign, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;

const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
const NOT_NEGATIVE: Takes = Takes::NotNegative(Dimension::LENGTH);
const SPEED: Parameter =
    needed("cutting_speed", Takes::Positive(Dimension::SPEED), "speed of the metal past the edge");
const SPINDLE: Parameter = needed("speed", Takes::Turning(Sign::Positive), "speed of the spindle");
const FEED: Parameter = needed("feed", Takes::PerTurn, "feed in one turn");
const TIME: Output = quantity("time", Dimension::TIME, ["min", "min"], "time of one pass, without setting");
const SPEED_OUTPUT: Output =
    quantity("cutting_speed", Dimension::SPEED, ["m/min", "ft/min"], "speed of the metal past the edge");
const REMOVAL: Output =
    quantity("removal", Dimension::of(3, 0, -1), ["mm^3/s", "in^3/min"], "metal cut away in a time");
const SPINDLE_OUTPUT: Output = rate("speed", "speed of the spindle");
const IDEAL: &str =
    "one pass, the cutting speed and feed held; entry, run-out, setting and regrinding come on top";

/// A bend takes this times the thickness, besides 1.57 times the inside radius, for every right angle.
const BEND_FACTORS: &[(&str, f64)] = &[("soft brass", 0.55), ("soft steel", 0.64), ("hard", 0.71)];
/// Per cent of thread height by the workshop rule: height = 1.299 P on the diameter.
const FULL_HEIGHT: f64 = 1.299;

/// The functions of this family.
pub const FUNCTIONS: &[&Function] = &[
    &SPINDLE_SPEED,
    &CUTTING_SPEED,
    &TURNING,
    &FACING,
    &DRILLING,
    &DRILL_TORQUE,
    &MILLING,
    &SHAPING,
    &TAP_DRILL,
    &THREAD_SHARE,
    &BEND_STOCK,
    &BEND_ALLOWANCE,
];

static SPINDLE_SPEED: Function = Function {
    name: "spindle_speed",
    does: "spindle speed for a cutting speed",
    parameters: &[SPEED, needed("d", LENGTH, "diameter of the work, or of the drill or cutter")],
    outputs: &[SPINDLE_OUTPUT],
    formula: lines("speed = 2*cutting_speed/d"),
    validity: "the limits of machine, chuck and work override it; an unbalanced casting runs slower",
    source: &[in_work("P. C. Sharma, A Textbook of Production Engineering", "", "chapter 4")],
    hazard: Some(Hazard::MovingMachinery),
    example: "n = spindle_speed(cutting_speed: 27 m/min, d: 175 mm)\ncheck n within 49 rpm .. 49.2 rpm",
    body: by_formula,
};

static CUTTING_SPEED: Function = Function {
    name: "cutting_speed",
    does: "cutting speed at a spindle speed",
    parameters: &[needed("d", LENGTH, "diameter of the work, or of the drill or cutter"), SPINDLE],
    outputs: &[SPEED_OUTPUT],
    formula: lines("cutting_speed = d/2*speed"),
    validity: "at the outside of the cut",
    source: &[in_work(
        "S. Kalpakjian and S. R. Schmid, Manufacturing Engineering and Technology",
        "",
        "chapter 22",
    )],
    hazard: Some(Hazard::MovingMachinery),
    example: "v = cutting_speed(d: 0.5 in, speed: 400 rpm)\ncheck v within 52.3 ft/min .. 52.4 ft/min",
    body: by_formula,
};

static TURNING: Function = Function {
    name: "turning",
    does: "time, cutting speed and metal removed in one turning or boring pass",
    parameters: &[
        needed("before", LENGTH, "diameter before the pass"),
        needed("after", NOT_NEGATIVE, "diameter after the pass; larger than `before` when boring"),
        needed("length", LENGTH, "length of the pass, with approach and run-out"),
        FEED,
        SPINDLE,
    ],
    outputs: &[TIME, SPEED_OUTPUT, REMOVAL],
    formula: lines(
        "turns = speed/(2*pi)\n\
         time = length/(feed*turns)\n\
         cutting_speed = max(before, after)/2*speed\n\
         removal = pi/4*abs(before^2 - after^2)*feed*turns",
    ),
    validity: IDEAL,
    source: &[in_work(
        "S. Kalpakjian and S. R. Schmid, Manufacturing Engineering and Technology",
        "",
        "Example 22.1",
    )],
    hazard: Some(Hazard::MovingMachinery),
    example: "pass = turning(before: 0.5 in, after: 0.480 in, length: 6 in, feed: 0.02 in, speed: 400 rpm)\n\
              check pass.time within 0.749 min .. 0.751 min\n\
              check pass.removal within 0.123 in^3/min .. 0.124 in^3/min",
    body: by_formula,
};

static FACING: Function = Function {
    name: "facing",
    does: "spindle speed and time to face a disc or flange",
    parameters: &[
        needed("outer", LENGTH, "outside diameter of the face"),
        or_number("inner", NOT_NEGATIVE, 0.0, "diameter where the cut ends"),
        FEED,
        SPEED,
    ],
    outputs: &[SPINDLE_OUTPUT, TIME],
    formula: lines(
        "speed = 2*cutting_speed/((outer + inner)/2)\n\
         time = (outer - inner)/2/(feed*speed/(2*pi))",
    ),
    validity: "one spindle speed for the whole face, taken on the mean diameter: at the outside the edge \
               runs up to twice as fast",
    source: &[in_work("P. C. Sharma, A Textbook of Production Engineering", "", "Example 4.13")],
    hazard: Some(Hazard::MovingMachinery),
    example: "face = facing(outer: 250 mm, inner: 100 mm, feed: 0.8 mm, cutting_speed: 27 m/min)\n\
              check face.time within 1.90 min .. 1.92 min",
    body: facing,
};

static DRILLING: Function = Function {
    name: "drilling",
    does: "travel and time to drill a hole",
    parameters: &[
        needed("d", LENGTH, "diameter of the drill"),
        needed("depth", LENGTH, "depth of the full diameter"),
        FEED,
        SPINDLE,
        or_number("point", Takes::Angle(Sign::Positive), 118.0 * PI / 180.0, "angle of the drill's point"),
    ],
    outputs: &[length("travel", "depth and point together"), TIME],
    formula: lines(
        "travel = depth + d/(2*tan(point/2))\n\
         time = travel/(feed*speed/(2*pi))",
    ),
    validity: IDEAL,
    source: &[
        derived("geometry"),
        in_work(
            "P. C. Sharma, A Textbook of Production Engineering",
            "",
            "chapter 4 (books print 0.29 d or 0.3 d)",
        ),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "hole = drilling(d: 20 mm, depth: 50 mm, feed: 0.25 mm, speed: 320 rpm)\n\
              check hole.travel within 56.0 mm .. 56.1 mm\n\
              check hole.time within 0.70 min .. 0.71 min",
    body: drilling,
};

static DRILL_TORQUE: Function = Function {
    name: "drill_torque",
    does: "metal removed, torque and power of a drill",
    parameters: &[
        needed("d", LENGTH, "diameter of the drill"),
        FEED,
        SPINDLE,
        needed("energy", Takes::Positive(Dimension::STRESS), "work to cut a volume of this metal (W s/mm^3)"),
    ],
    outputs: &[
        REMOVAL,
        moment("torque", "on the drill"),
        quantity("power", Dimension::POWER, ["kW", "hp"], "at the drill"),
    ],
    formula: lines(
        "removal = pi/4*d^2*feed*speed/(2*pi)\n\
         power = energy*removal\n\
         torque = power/speed",
    ),
    validity: "a sharp drill in solid metal; a blunt one takes half as much again (common practice, no \
               source)",
    source: &[in_work(
        "S. Kalpakjian and S. R. Schmid, Manufacturing Engineering and Technology",
        "",
        "Example 22.2",
    )],
    hazard: Some(Hazard::MovingMachinery),
    example: "hole = drill_torque(d: 10 mm, feed: 0.2 mm, speed: 800 rpm, energy: 0.5 GPa)\n\
              check hole.torque within 1.24 N m .. 1.26 N m",
    body: by_formula,
};

static MILLING: Function = Function {
    name: "milling",
    does: "spindle speed, table feed and time of a slab or slot cut",
    parameters: &[
        needed("d", LENGTH, "diameter of the cutter"),
        needed("teeth", Takes::Count, "teeth of the cutter"),
        SPEED,
        needed("feed", LENGTH, "feed for each tooth"),
        needed("length", LENGTH, "length of the cut"),
        needed("depth", LENGTH, "depth of the cut, at right angles to the cutter's axis"),
    ],
    outputs: &[
        SPINDLE_OUTPUT,
        quantity("table_feed", Dimension::SPEED, ["mm/min", "in/min"], "feed of the table"),
        length("travel", "length of the cut with the approach"),
        TIME,
    ],
    formula: lines(
        "speed = 2*cutting_speed/d\n\
         table_feed = feed*teeth*speed/(2*pi)\n\
         travel = length + sqrt(depth*(d - depth))\n\
         time = travel/table_feed",
    ),
    validity: "the cutter's axis lies across the feed (slab, slot); depth at most half the cutter",
    source: &[in_work("P. C. Sharma, A Textbook of Production Engineering", "", "Example 4.17")],
    hazard: Some(Hazard::MovingMachinery),
    example: "slot = milling(d: 150 mm, teeth: 10, cutting_speed: 50 m/min, feed: 0.25 mm, length: 200 mm, \
              depth: 25 mm)\n\
              check slot.time within 0.96 min .. 0.97 min",
    body: milling,
};

static SHAPING: Function = Function {
    name: "shaping",
    does: "strokes and time to shape or plane a face",
    parameters: &[
        needed("stroke", LENGTH, "length of the stroke, with run-out at both ends"),
        needed("width", LENGTH, "width of the face"),
        needed("feed", LENGTH, "feed for each stroke"),
        SPEED,
        or_number(
            "quick_return",
            Takes::NotNegative(Dimension::NONE),
            2.0 / 3.0,
            "time of the return over the cut",
        ),
    ],
    outputs: &[
        quantity("strokes", Dimension::RATE, ["1/min", "1/min"], "double strokes in a time"),
        quantity("time", Dimension::TIME, ["min", "min"], "time of one pass over the face"),
    ],
    formula: lines(
        "strokes = cutting_speed/(stroke*(1 + quick_return))\n\
         time = width/(feed*strokes)",
    ),
    validity: "mean speed of the cutting stroke; in the middle of a crank shaper's stroke it is up to 1.6 \
               times that",
    source: &[
        in_work("P. C. Sharma, A Textbook of Production Engineering", "", "chapter 4"),
        practice("return at 2/3 of the cutting time"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "face = shaping(stroke: 300 mm, width: 120 mm, feed: 0.6 mm, cutting_speed: 15 m/min)\n\
              check face.time within 6.6 min .. 6.7 min",
    body: by_formula,
};

static TAP_DRILL: Function = Function {
    name: "tap_drill_by_pitch",
    does: "hole to drill before a tap by rule, from diameter and pitch",
    parameters: &[
        needed("major", LENGTH, "outside diameter of the thread"),
        needed("pitch", LENGTH, "pitch; for threads per inch n it is 1 in / n"),
        optional("thread", Takes::Positive(Dimension::NONE), "wanted share of the full height: 60 to 80 %"),
    ],
    outputs: &[
        length("drill", "diameter of the hole"),
        share("thread", "share of the full height that it leaves"),
    ],
    formula: lines(
        "drill = major - pitch\n\
         drill = major - thread*1.299*pitch # with thread\n\
         thread = (major - drill)/(1.299*pitch)",
    ),
    validity: "60 deg threads. Major - pitch leaves 77 %; 60 to 65 % do in tough metal and deep holes. Round \
               to the nearest drill there is",
    source: &[
        in_work("ISO 2306", "", "drill = major - pitch"),
        in_work("Machinery's Handbook", "31st ed.", "percentage of full thread, factor 1.299"),
    ],
    hazard: None,
    example: "hole = tap_drill_by_pitch(major: 10 mm, pitch: 1.5 mm)\ncheck hole.drill within 8.49 mm .. 8.51 mm",
    body: tap_drill,
};

static THREAD_SHARE: Function = Function {
    name: "thread_share",
    does: "share of the full thread height that a drilled hole leaves",
    parameters: &[
        needed("major", LENGTH, "outside diameter of the thread"),
        needed("pitch", LENGTH, "pitch"),
        needed("drill", LENGTH, "diameter of the hole"),
    ],
    outputs: &[share("thread", "share of the full height")],
    formula: lines("thread = (major - drill)/(1.299*pitch)"),
    validity: "60 deg threads, the workshop's rule; of the true overlap (1.0825 pitch) it is a fifth more",
    source: &[in_work("Machinery's Handbook", "31st ed.", "percentage of full thread")],
    hazard: None,
    example: "left = thread_share(major: 12 mm, pitch: 1.75 mm, drill: 10.2 mm)\n\
              check left within 79 % .. 80 %",
    body: thread_share,
};

static BEND_STOCK: Function = Function {
    name: "bend_stock",
    does: "length of strip that a bend takes",
    parameters: &[
        needed("radius", NOT_NEGATIVE, "inside radius of the bend"),
        needed("thickness", LENGTH, "thickness of the strip"),
        needed("angle", Takes::Angle(Sign::Positive), "angle bent through"),
        or_words(
            "metal",
            "soft steel",
            "soft brass (and copper), soft steel (and aluminium), or hard (bronze, spring)",
        ),
    ],
    outputs: &[length("stock", "straight length that goes into the bend")],
    formula: lines(
        "c = if metal == \"soft brass\" then 0.55 else if metal == \"hard\" then 0.71 else 0.64\n\
         stock = angle/90 deg*(c*thickness + 1.57*radius)",
    ),
    validity: "cold bends of strip and sheet; try one bend on scrap of the same stock",
    source: &[in_work("Machinery's Handbook", "31st ed.", "Allowances for Bending Sheet Metal")],
    hazard: None,
    example: "strap = bend_stock(radius: 0.375 in, thickness: 0.125 in, angle: 180 deg)\n\
              check strap within 1.337 in .. 1.338 in",
    body: bend_stock,
};

static BEND_ALLOWANCE: Function = Function {
    name: "bend_allowance",
    does: "length of strip that a bend takes, from the place of the neutral line",
    parameters: &[
        needed("radius", NOT_NEGATIVE, "inside radius of the bend"),
        needed("thickness", LENGTH, "thickness of the strip"),
        needed("angle", Takes::Angle(Sign::Positive), "angle bent through"),
        or_number(
            "k",
            Takes::Positive(Dimension::NONE),
            0.44,
            "place of the neutral line from the inside, of the thickness",
        ),
    ],
    outputs: &[length("stock", "straight length that goes into the bend")],
    formula: lines("stock = angle*(radius + k*thickness)"),
    validity: "k 0.33 for sharp to 0.5 for wide bends",
    source: &[derived("geometry"), practice("k")],
    hazard: None,
    example: "strap = bend_allowance(radius: 10 mm, thickness: 4 mm, angle: 90 deg, k: 0.4)\n\
              check strap within 18.2 mm .. 18.3 mm",
    body: bend_allowance,
};

fn spindle(call: &Call, d: Real) -> Real {
    2.0 * call.real("cutting_speed") / d
}

/// Turns per second.
fn turns(speed: Real) -> Real {
    speed / TAU
}

fn facing(call: &Call) -> Result<Answer, Refusal> {
    let (outer, inner) = (call.real("outer"), call.real("inner"));
    if inner >= outer {
        return Err(Refusal::of(
            "inner",
            "the cut ends outside the face",
            "Give an inner diameter below `outer`.",
        ));
    }
    let speed = spindle(call, (outer + inner) / 2.0);
    let time = (outer - inner) / 2.0 / (call.real("feed") * turns(speed));
    Ok(Answer::new().number("speed", speed).number("time", time))
}

fn drilling(call: &Call) -> Result<Answer, Refusal> {
    let half = call.real("point") / 2.0;
    if half > FRAC_PI_2 * (1.0 + 1e-12) {
        return Err(Refusal::of(
            "point",
            "a drill's point is at most flat",
            "Give an angle of 180 deg or less.",
        ));
    }
    let travel = call.real("depth") + call.real("d") / (2.0 * half.tan());
    let time = travel / (call.real("feed") * turns(call.real("speed")));
    Ok(Answer::new().number("travel", travel).number("time", time))
}

fn milling(call: &Call) -> Result<Answer, Refusal> {
    let (d, depth) = (call.real("d"), call.real("depth"));
    if 2.0 * depth > d {
        return Err(Refusal::of(
            "depth",
            "the cut is deeper than half the cutter",
            "Take several passes or a larger cutter.",
        ));
    }
    let speed = spindle(call, d);
    let table_feed = call.real("feed") * f64::from(call.count("teeth")) * turns(speed);
    let travel = call.real("length") + (depth * (d - depth)).sqrt();
    Ok(Answer::new()
        .number("speed", speed)
        .number("table_feed", table_feed)
        .number("travel", travel)
        .number("time", travel / table_feed))
}

fn tap_drill(call: &Call) -> Result<Answer, Refusal> {
    let (major, pitch) = (call.real("major"), call.real("pitch"));
    let full = FULL_HEIGHT * pitch;
    let height = match call.optional("thread") {
        Some(thread) if thread > 1.0 => {
            return Err(Refusal::of("thread", "more than the full thread", "Give a share such as 75 %."));
        }
        Some(thread) => thread * full,
        None => pitch,
    };
    if height >= major {
        return Err(Refusal::of(
            "pitch",
            "the thread is deeper than the bolt is thick",
            "Check `major` and `pitch`.",
        ));
    }
    Ok(Answer::new().number("drill", major - height).number("thread", height / full))
}

fn thread_share(call: &Call) -> Result<Answer, Refusal> {
    let thread = (call.real("major") - call.real("drill")) / (FULL_HEIGHT * call.real("pitch"));
    let answer = Answer::new().number("thread", thread);
    let percent = 100.0 * thread.value();
    Ok(if percent <= 0.0 {
        answer.warn("the hole is as large as the thread: nothing is left to cut")
    } else if percent < 50.0 {
        answer.warn(format!(
            "{percent:.0} % of the thread is left; under 50 % it strips before the bolt breaks"
        ))
    } else if percent > 83.0 {
        answer.warn(format!("{percent:.0} % of the thread is left; over 83 % the tap tends to break"))
    } else {
        answer
    })
}

fn bend_stock(call: &Call) -> Result<Answer, Refusal> {
    let factor = chosen(call, "metal", BEND_FACTORS)?;
    let right_angle = factor * call.real("thickness") + 1.57 * call.real("radius");
    Ok(Answer::new().number("stock", call.real("angle") / FRAC_PI_2 * right_angle))
}

fn bend_allowance(call: &Call) -> Result<Answer, Refusal> {
    let k = call.real("k");
    if k > 1.0 {
        return Err(Refusal::of(
            "k",
            "the neutral line lies outside the strip",
            "Give `k` between 0.33 and 0.5.",
        ));
    }
    let radius = call.real("radius") + k * call.real("thickness");
    Ok(Answer::new().number("stock", call.real("angle") * radius))
}
