//! Chains: roller chains with their sprockets, and short link chains that lift.
//!
//! Takes: pitches, teeth, distances, powers, bar sizes. Gives: diameters, links, pulls, working loads, wear, and the
//! standard roller chains nearest to a measured one. Never: rates roller chain for lifting, or passes a link chain fit
//! to lift: its mark, its certificate and a competent person do.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use super::declare::{
    count, force, in_work, length, lines, needed, number, or_number, practice, quantity, recalled, share,
    words,
};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Field, Function, Parameter, Refusal, Sign, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;

pub mod identify;
mod link;

const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
const PITCH: Parameter = needed("pitch", LENGTH, "pitch of the chain");
const TEETH: Parameter = needed("teeth", Takes::Count, "teeth of the sprocket");
const POLYGON: &str = "the pitch circle runs through the pins of the chain that lies on the sprocket";
/// Elongation at which a chain is worn out: 3 %, and 2 % on sprockets of many teeth (common practice, no
/// source).
const WORN: [f64; 2] = [0.02, 0.03];
/// Least usual breaking load over pull (common practice, no source).
const LEAST_SAFETY: f64 = 7.0;

/// The functions of this family.
pub const FUNCTIONS: &[&Function] = &[
    &SPROCKET,
    &SPROCKET_ROOT,
    &SPROCKET_PITCH,
    &SPROCKET_TEETH,
    &DRIVEN_TEETH,
    &CHAIN_LENGTH,
    &CHAIN_PULL,
    &CHAIN_SAFETY,
    &CHAIN_WEAR,
    &link::LINK_CHAIN,
    &link::LINK_CHAIN_WEAR,
];

static SPROCKET: Function = Function {
    name: "sprocket",
    does: "pitch diameter and outside diameter of a sprocket",
    parameters: &[PITCH, TEETH],
    outputs: &[
        length("pitch_diameter", "through the pins of the chain"),
        length("outside", "over the tips, about"),
    ],
    formula: lines(
        "pitch_diameter = pitch/sin(180 deg/teeth)\n\
         outside = pitch*(0.6 + 1/tan(180 deg/teeth))",
    ),
    validity: "the outside diameter differs with the tooth form: a guide, not a drawing figure",
    source: &[
        in_work("V. B. Bhandari, Design of Machine Elements", "3rd ed.", "Example 14.4"),
        recalled("ANSI B29.1", "", "outside diameter"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "wheel = sprocket(pitch: 19.05 mm, teeth: 17)\n\
              check wheel.pitch_diameter within 103.67 mm .. 103.68 mm",
    body: sprocket,
};

static SPROCKET_ROOT: Function = Function {
    name: "sprocket_root",
    does: "diameter at the bottom of the teeth, and what a calliper reads there",
    parameters: &[PITCH, TEETH, needed("roller", LENGTH, "roller diameter of the chain")],
    outputs: &[
        length("root", "diameter at the bottom of the teeth"),
        length("calliper", "what a calliper reads"),
    ],
    formula: lines(
        "pitch_diameter = pitch/sin(180 deg/teeth)\n\
         is_even = teeth/2 == floor(teeth/2)\n\
         root = pitch_diameter - roller\n\
         calliper = if is_even then root else pitch_diameter*cos(90 deg/teeth) - roller",
    ),
    validity: POLYGON,
    source: &[
        recalled("ISO 606", "", "measuring the root"),
        recalled("ANSI B29.1", "", "measuring the root"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "wheel = sprocket_root(pitch: 19.05 mm, teeth: 17, roller: 12.07 mm)\n\
              check wheel.root within 91.60 mm .. 91.61 mm\n\
              check wheel.calliper within 91.15 mm .. 91.17 mm",
    body: sprocket_root,
};

static SPROCKET_PITCH: Function = Function {
    name: "sprocket_pitch",
    does: "chain pitch that a sprocket was made for",
    parameters: &[needed("pitch_diameter", LENGTH, "root diameter and one roller"), TEETH],
    outputs: &[length("pitch", "pitch of its chain")],
    formula: lines("pitch = pitch_diameter*sin(180 deg/teeth)"),
    validity: POLYGON,
    source: &[in_work("R. S. Khurmi and J. K. Gupta, Theory of Machines", "", "Example 11.23")],
    hazard: None,
    example: "pitch = sprocket_pitch(pitch_diameter: 600 mm, teeth: 40)\n\
              check pitch within 47.0 mm .. 47.1 mm",
    body: sprocket_pitch,
};

static SPROCKET_TEETH: Function = Function {
    name: "sprocket_teeth",
    does: "teeth of a sprocket from its pitch diameter",
    parameters: &[PITCH, needed("pitch_diameter", LENGTH, "root diameter and one roller")],
    outputs: &[
        number("exact", "teeth as the diameter gives them"),
        count("teeth", "the nearest whole number"),
        length("residual", "measured less true pitch diameter for that number"),
    ],
    formula: lines(
        "exact = 180 deg/asin(pitch/pitch_diameter)\n\
         teeth = round(exact)\n\
         residual = pitch_diameter - pitch/sin(180 deg/teeth)",
    ),
    validity: "a residual beyond wear and reading means another pitch: count the teeth that are left",
    source: &[in_work(
        "V. B. Bhandari, Design of Machine Elements",
        "3rd ed.",
        "chapter 14 (pitch diameter)",
    )],
    hazard: None,
    example: "found = sprocket_teeth(pitch: 19.05 mm, pitch_diameter: 103.5 mm)\n\
              check found.exact within 16.9 .. 17",
    body: sprocket_teeth,
};

static DRIVEN_TEETH: Function = Function {
    name: "driven_teeth",
    does: "teeth of the driven sprocket for a wanted speed",
    parameters: &[
        TEETH,
        needed("speed", Takes::Turning(Sign::Positive), "speed of the driving sprocket"),
        needed("wanted", Takes::Turning(Sign::Positive), "speed of the driven one"),
    ],
    outputs: &[
        number("exact", "teeth that give just that speed"),
        count("teeth", "the nearest whole number"),
    ],
    formula: lines(
        "exact = teeth*speed/wanted\n\
         teeth = round(exact)",
    ),
    validity: "an uneven number of teeth wears evenly with an even number of links",
    source: &[in_work("T. H. Wentzell, Machine Design", "", "Example 14.4")],
    hazard: Some(Hazard::MovingMachinery),
    example: "wheel = driven_teeth(teeth: 12, speed: 1800 rpm, wanted: 900 rpm)\n\
              check wheel.exact within 23.99 .. 24.01",
    body: driven_teeth,
};

static CHAIN_LENGTH: Function = Function {
    name: "chain_length",
    does: "links of a chain over two sprockets, and the centre distance that an even number of links wants",
    parameters: &[
        PITCH,
        needed("teeth_1", Takes::Count, "teeth of one sprocket"),
        needed("teeth_2", Takes::Count, "teeth of the other"),
        needed("centre", LENGTH, "centre distance wanted"),
        or_number(
            "slack",
            Takes::NotNegative(Dimension::NONE),
            0.0,
            "shortening of the centre distance for sag: 0.2 to 0.4 %",
        ),
    ],
    outputs: &[
        number("links", "links that the centre distance wants"),
        count("even_links", "rounded up to an even number"),
        length("length", "length of the chain before rounding"),
        length("centre", "centre distance for the even number, with the slack"),
    ],
    formula: lines(
        "spread = ((teeth_2 - teeth_1)/(2*pi))^2\n\
         links = 2*centre/pitch + (teeth_1 + teeth_2)/2 + spread*pitch/centre\n\
         even_links = 2*ceil(links/2)\n\
         length = links*pitch\n\
         straight = even_links - (teeth_1 + teeth_2)/2\n\
         centre = pitch/4*(straight + sqrt(max(0, straight^2 - 8*spread)))*(1 - slack)",
    ),
    validity: "two sprockets, no idler; centre distance 30 to 50 pitches. Books that use cosecants in the \
               last term differ by thousandths of a link",
    source: &[in_work("V. B. Bhandari, Design of Machine Elements", "3rd ed.", "Example 14.4")],
    hazard: Some(Hazard::MovingMachinery),
    example: "drive = chain_length(pitch: 19.05 mm, teeth_1: 17, teeth_2: 34, centre: 762 mm, slack: 0.2 \
              %)\n\
              check drive.links within 105.6 .. 105.7\n\
              check drive.centre within 763.4 mm .. 763.6 mm",
    body: chain_length,
};

static CHAIN_PULL: Function = Function {
    name: "chain_pull",
    does: "speed and pull of a chain",
    parameters: &[
        PITCH,
        TEETH,
        needed("speed", Takes::Turning(Sign::Positive), "speed of that sprocket"),
        needed(
            "power",
            Takes::Positive(Dimension::POWER),
            "power, times the service factor for shock (1 to 1.75)",
        ),
    ],
    outputs: &[
        quantity("velocity", Dimension::SPEED, ["m/s", "ft/min"], "mean speed of the chain"),
        force("pull", "mean pull in the tight side"),
    ],
    formula: lines(
        "velocity = teeth*pitch*speed/(2*pi)\n\
         pull = power/velocity",
    ),
    validity: "mean values: with few teeth speed and pull swing (12 teeth: 3.4 %); slack-side and \
               centrifugal pull left out",
    source: &[
        in_work("U. C. Jindal, Machine Design", "", "Example 30-3"),
        in_work("T. H. Wentzell, Machine Design", "", "Example 14.4"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "drive = chain_pull(pitch: 0.5 in, teeth: 12, speed: 1800 rpm, power: 5.31 hp)\n\
              check drive.velocity within 899 ft/min .. 901 ft/min\n\
              check drive.pull within 194 lbf .. 195 lbf",
    body: chain_pull,
};

static CHAIN_SAFETY: Function = Function {
    name: "chain_safety",
    does: "breaking load of a driving chain over its pull",
    parameters: &[
        needed(
            "breaking",
            Takes::Positive(Dimension::FORCE),
            "least breaking load, from the maker or ISO 606",
        ),
        needed("pull", Takes::Positive(Dimension::FORCE), "pull in the tight side"),
    ],
    outputs: &[number("safety", "breaking load over pull")],
    formula: lines("safety = breaking/pull"),
    validity: "power drives: 7 to 15. No figure for lifting: `link_chain` gives the working load of a hoist \
               chain",
    source: &[in_work("U. C. Jindal, Machine Design", "", "Example 30-3")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "safety = chain_safety(breaking: 10700 N, pull: 767.6 N)\ncheck safety within 13.9 .. 14.0",
    body: chain_safety,
};

static CHAIN_WEAR: Function = Function {
    name: "chain_wear",
    does: "how far a worn roller chain has grown",
    parameters: &[
        PITCH,
        needed("links", Takes::Count, "links measured over, pin to pin"),
        needed("length", LENGTH, "their length, pulled straight"),
    ],
    outputs: &[
        share("elongation", "growth over the new length"),
        words(
            "verdict",
            "whether it still serves, by its value; a check on `elongation` judges with the uncertainty",
        ),
    ],
    formula: lines("elongation = length/(links*pitch) - 1"),
    validity: "roller chain (`link_chain_wear` is for chains that lift): measure over 12 links or more, under \
               a light pull; a worn chain spoils a new sprocket, and the reverse",
    source: &[practice("limit of 3 %, or 2 % on large sprockets")],
    hazard: Some(Hazard::MovingMachinery),
    example: "old = chain_wear(pitch: 19.05 mm, links: 24, length: 464 mm)\n\
              check old.elongation within 1.4 % .. 1.6 %",
    body: chain_wear,
};

fn teeth(call: &Call, name: &'static str) -> Result<f64, Refusal> {
    let teeth = call.count(name);
    if teeth < 3 {
        return Err(Refusal::of(
            name,
            "a sprocket has at least three teeth",
            "Count the teeth of the whole sprocket.",
        ));
    }
    Ok(f64::from(teeth))
}

fn pitch_diameter(pitch: Real, teeth: f64) -> Real {
    pitch / libm::sin(PI / teeth)
}

fn sprocket(call: &Call) -> Result<Answer, Refusal> {
    let (pitch, teeth) = (call.real("pitch"), teeth(call, "teeth")?);
    Ok(Answer::new()
        .number("pitch_diameter", pitch_diameter(pitch, teeth))
        .number("outside", pitch * (0.6 + 1.0 / libm::tan(PI / teeth))))
}

fn sprocket_root(call: &Call) -> Result<Answer, Refusal> {
    let (roller, teeth) = (call.real("roller"), teeth(call, "teeth")?);
    let pitch_diameter = pitch_diameter(call.real("pitch"), teeth);
    if roller >= pitch_diameter {
        return Err(Refusal::of(
            "roller",
            "the roller is larger than the sprocket",
            "Check `roller` and `pitch`.",
        ));
    }
    let odd = teeth % 2.0 != 0.0;
    let across = if odd { pitch_diameter * libm::cos(FRAC_PI_2 / teeth) } else { pitch_diameter };
    Ok(Answer::new().number("root", pitch_diameter - roller).number("calliper", across - roller))
}

fn sprocket_pitch(call: &Call) -> Result<Answer, Refusal> {
    let teeth = teeth(call, "teeth")?;
    Ok(Answer::new().number("pitch", call.real("pitch_diameter") * libm::sin(PI / teeth)))
}

fn sprocket_teeth(call: &Call) -> Result<Answer, Refusal> {
    let (pitch, measured) = (call.real("pitch"), call.real("pitch_diameter"));
    let exact = PI / (pitch / measured).asin();
    // A triangle is the smallest wheel; below it the ratio has no arc sine, or no whole number of teeth.
    if pitch >= measured || exact < 2.5 {
        return Err(Refusal::of(
            "pitch_diameter",
            "no sprocket of this pitch is so small",
            "Add one roller diameter to the root diameter, and check the pitch.",
        ));
    }
    let teeth = whole(exact.value());
    let residual = measured - pitch_diameter(pitch, f64::from(teeth));
    Ok(Answer::new().number("exact", exact).field("teeth", Field::Count(teeth)).number("residual", residual))
}

fn driven_teeth(call: &Call) -> Result<Answer, Refusal> {
    let exact = teeth(call, "teeth")? * call.real("speed") / call.real("wanted");
    if exact < 2.5 {
        return Err(Refusal::of(
            "wanted",
            "the driven sprocket would have hardly any teeth",
            "Check both speeds.",
        ));
    }
    let answer = Answer::new().number("exact", exact).field("teeth", Field::Count(whole(exact.value())));
    Ok(if exact > 120.0 {
        answer.warn(format!(
            "{exact:.0} teeth: over 120 a slightly worn chain already climbs the teeth",
            exact = exact.value()
        ))
    } else {
        answer
    })
}

/// The nearest whole number, from zero to the largest count.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded, and clamped to the range"
)]
fn whole(number: f64) -> u32 {
    number.round().clamp(0.0, f64::from(u32::MAX)) as u32
}

fn chain_length(call: &Call) -> Result<Answer, Refusal> {
    let (pitch, centre, slack) = (call.real("pitch"), call.real("centre"), call.real("slack"));
    let (teeth_1, teeth_2) = (teeth(call, "teeth_1")?, teeth(call, "teeth_2")?);
    if centre <= (pitch_diameter(pitch, teeth_1) + pitch_diameter(pitch, teeth_2)) / 2.0 {
        return Err(Refusal::of(
            "centre",
            "the sprockets would touch",
            "Give the distance between the shafts.",
        ));
    }
    if slack >= 1.0 {
        return Err(Refusal::of(
            "slack",
            "the slack takes up the whole distance",
            "Give a share such as 0.2 %.",
        ));
    }
    let mean = f64::midpoint(teeth_1, teeth_2);
    let spread = ((teeth_2 - teeth_1) / TAU) * ((teeth_2 - teeth_1) / TAU);
    let links = 2.0 * centre / pitch + mean + spread * pitch / centre;
    let even = 2.0 * (links.value() / 2.0 - 1e-9).ceil();
    let rest = even - mean;
    let even_centre = pitch * ((rest + (rest * rest - 8.0 * spread).max(0.0).sqrt()) / 4.0) * (1.0 - slack);
    Ok(Answer::new()
        .number("links", links)
        .field("even_links", Field::Count(whole(even)))
        .number("length", links * pitch)
        .number("centre", even_centre))
}

fn chain_pull(call: &Call) -> Result<Answer, Refusal> {
    let velocity = teeth(call, "teeth")? * call.real("pitch") * call.real("speed") / TAU;
    Ok(Answer::new().number("velocity", velocity).number("pull", call.real("power") / velocity))
}

fn chain_safety(call: &Call) -> Result<Answer, Refusal> {
    let safety = call.real("breaking") / call.real("pull");
    let answer = Answer::new().number("safety", safety);
    Ok(if safety < LEAST_SAFETY {
        answer.warn(format!("the safety is {:.1}; chain drives are laid out for 7 to 15", safety.value()))
    } else {
        answer
    })
}

fn chain_wear(call: &Call) -> Result<Answer, Refusal> {
    let links = call.count("links");
    let elongation = call.real("length") / (f64::from(links) * call.real("pitch")) - 1.0;
    let [careful, most] = WORN;
    let verdict = match elongation.value() {
        grown if grown > most => "worn out: replace it, and look at the sprockets",
        grown if grown > careful => "worn out on sprockets of many teeth; replace it soon",
        grown if grown < -0.005 => "shorter than new: check the pitch and the links counted",
        _ => "serves",
    };
    let answer = Answer::new().number("elongation", elongation).text("verdict", verdict);
    Ok(if links < 12 {
        answer.remark("measured over fewer than 12 links: the reading counts too much")
    } else {
        answer
    })
}
