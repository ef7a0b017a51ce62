//! What axles and couplings carry on the way to and from the shop.

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Parameter, Refusal, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{
    derived, force, in_work, length, lines, mass, needed, or_number, practice, share,
};

use super::balance::moment;
use super::{GRAVITY, pairs};

const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
/// Usual share of a trailer's mass on the coupling (common practice, no source; the local law decides).
const NOSE_SHARE: [f64; 2] = [0.05, 0.15];

const MASSES: Parameter =
    needed("masses", Takes::List(Dimension::MASS), "the empty trailer and each piece of its load");
const PLACES: Parameter =
    needed("at", Takes::List(Dimension::LENGTH), "place of each one's centre of gravity behind the coupling");
const AXLE: Parameter =
    needed("axle", LENGTH, "place of the axle, or middle of a close pair, behind the coupling");
const G: Parameter = or_number("g", Takes::Positive(Dimension::ACCELERATION), GRAVITY, "gravity");
const LAW: &str = "one axle or a close pair, level road, at rest. The ratings of axle, tyres, coupling, ball \
                   and towing vehicle, the brakes and the lashings are set by local law and by their plates";

pub(super) static TRAILER: Function = Function {
    name: "trailer",
    does: "load on the coupling and on the axle of a trailer",
    parameters: &[MASSES, PLACES, AXLE, G],
    outputs: &[
        force("coupling", "down load on the coupling; negative lifts the towing vehicle's tail"),
        force("axle", "load on the axle"),
        mass("mass", "trailer and load"),
        share("nose", "coupling load over the whole weight"),
    ],
    formula: lines(
        "mass = sum(masses)\n\
         coupling = g*sum(masses*(1 - at/axle))\n\
         axle = g*mass - coupling\n\
         nose = coupling/(g*mass)",
    ),
    validity: LAW,
    source: &[
        in_work(
            "F. P. Beer, E. R. Johnston and others, Vector Mechanics for Engineers: Statics",
            "",
            "chapter 4 (moments about the axle)",
        ),
        practice("nose load of 5 to 15 %"),
    ],
    hazard: Some(Hazard::RoadTransport),
    example: "load = trailer(masses: [220 kg, 540 kg], at: [1.85 m, 2.0 m], axle: 2.15 m)\n\
              check load.coupling within 670 N .. 671 N\n\
              check load.nose within 8 % .. 10 %",
    body: trailer,
};

pub(super) static TRAILER_LOAD_PLACE: Function = Function {
    name: "trailer_load_place",
    does: "where a load must sit on a trailer for a wanted coupling load",
    parameters: &[
        MASSES,
        PLACES,
        AXLE,
        needed("load", Takes::Positive(Dimension::MASS), "the piece still to be placed"),
        or_number(
            "nose",
            Takes::NotNegative(Dimension::NONE),
            0.0,
            "wanted share of the whole mass on the coupling",
        ),
    ],
    outputs: &[length("at", "place of the load's centre of gravity behind the coupling")],
    formula: lines("at = axle*(1 + (sum(masses*(1 - at/axle)) - nose*(sum(masses) + load))/load)"),
    validity: LAW,
    source: &[derived("statics, moments about the coupling, as for `trailer`")],
    hazard: Some(Hazard::RoadTransport),
    example: "place = trailer_load_place(masses: [220 kg], at: [1.85 m], axle: 2.15 m, load: 540 kg)\n\
              check place within 2272 mm .. 2273 mm",
    body: load_place,
};

pub(super) static AXLES: Function = Function {
    name: "axle_loads",
    does: "loads on the two axles of a vehicle or wagon",
    parameters: &[
        needed("masses", Takes::List(Dimension::MASS), "the empty vehicle and each piece of its load"),
        needed(
            "at",
            Takes::List(Dimension::LENGTH),
            "place of each one's centre of gravity behind the front axle",
        ),
        needed("wheelbase", LENGTH, "distance between the axles"),
        G,
    ],
    outputs: &[force("front", "load on the front axle"), force("rear", "load on the rear axle")],
    formula: lines(
        "rear = g*sum(masses*at)/wheelbase\n\
         front = g*sum(masses) - rear",
    ),
    validity: LAW,
    source: &[in_work(
        "F. P. Beer, E. R. Johnston and others, Vector Mechanics for Engineers: Statics",
        "",
        "Sample Problem 4.2",
    )],
    hazard: Some(Hazard::RoadTransport),
    example: "truck = axle_loads(masses: [1370 kg, 198 kg], at: [1.14 m, 3.35 m], wheelbase: 2.84 m)\n\
              check truck.rear within 7683 N .. 7684 N",
    body: axles,
};

pub(super) static AXLE_BALANCE: Function = Function {
    name: "axle_balance",
    does: "mass behind the rear axle that makes both axle loads equal",
    parameters: &[
        needed("mass", Takes::Positive(Dimension::MASS), "mass of the empty vehicle"),
        needed("front", LENGTH, "from the front axle back to its centre of gravity"),
        needed("rear", LENGTH, "from its centre of gravity back to the rear axle"),
        or_number(
            "behind",
            Takes::NotNegative(Dimension::LENGTH),
            0.0,
            "of the load's centre, behind the rear axle",
        ),
    ],
    outputs: &[mass("load", "the load that makes both axles carry the same")],
    formula: lines("load = mass*(rear - front)/(front + rear + 2*behind)"),
    validity: LAW,
    source: &[
        derived("moments about the rear axle"),
        in_work("a publicly posted statics solution", "", "3020 lbf, 45 in, 67 in, 20 in: 437.1 lbf"),
    ],
    hazard: Some(Hazard::RoadTransport),
    example: "load = axle_balance(mass: 3020 lb, front: 45 in, rear: 67 in, behind: 20 in)\n\
              check load within 437 lb .. 438 lb",
    body: axle_balance,
};

fn trailer(call: &Call) -> Result<Answer, Refusal> {
    let parts = pairs(call, "masses", "at")?;
    let (g, mass) = (call.real("g"), total(&parts)?);
    let axle = g * moment(&parts) / call.real("axle");
    let coupling = g * mass - axle;
    let nose = coupling / (g * mass);
    let answer = Answer::new()
        .number("coupling", coupling)
        .number("axle", axle)
        .number("mass", mass)
        .number("nose", nose);
    Ok(nose_warning(answer, nose.value()))
}

fn nose_warning(answer: Answer, nose: f64) -> Answer {
    let [least, most] = NOSE_SHARE;
    if nose < 0.0 {
        answer.warn("the trailer lifts the coupling: it is tail-heavy and will sway; move the load forward")
    } else if nose < least || nose > most {
        answer.warn(format!("{:.1} % of the mass is on the coupling; usual are 5 to 15 %", 100.0 * nose))
    } else {
        answer
    }
}

fn load_place(call: &Call) -> Result<Answer, Refusal> {
    let parts = pairs(call, "masses", "at")?;
    let (mass, axle, load, nose) = (total(&parts)?, call.real("axle"), call.real("load"), call.real("nose"));
    if nose >= 1.0 {
        return Err(Refusal::of(
            "nose",
            "the coupling cannot carry the whole trailer",
            "Give a share such as 10 %.",
        ));
    }
    let nose_of_parts = mass - moment(&parts) / axle;
    let at = axle * (1.0 + (nose_of_parts - nose * (mass + load)) / load);
    let answer = Answer::new().number("at", at);
    Ok(if at < 0.0 { answer.warn("the load would have to sit in front of the coupling") } else { answer })
}

fn axles(call: &Call) -> Result<Answer, Refusal> {
    let parts = pairs(call, "masses", "at")?;
    let g = call.real("g");
    let rear = g * moment(&parts) / call.real("wheelbase");
    let front = g * total(&parts)? - rear;
    let mut answer = Answer::new().number("front", front).number("rear", rear);
    for (name, carried) in [("front", front), ("rear", rear)] {
        if carried < 0.0 {
            answer = answer.warn(format!("the {name} axle lifts off: the vehicle tips"));
        }
    }
    Ok(answer)
}

fn axle_balance(call: &Call) -> Result<Answer, Refusal> {
    let (front, rear) = (call.real("front"), call.real("rear"));
    if rear <= front {
        return Err(Refusal::of(
            "rear",
            "the rear axle already carries as much as the front one",
            "A load behind the rear axle only adds to it; check `front` and `rear`.",
        ));
    }
    let load = call.real("mass") * (rear - front) / (front + rear + 2.0 * call.real("behind"));
    Ok(Answer::new().number("load", load))
}

fn total(parts: &[(Real, Real)]) -> Result<Real, Refusal> {
    let mass: Real = parts.iter().map(|(mass, _)| *mass).sum();
    if mass <= 0.0 {
        return Err(Refusal::of("masses", "the masses add up to nothing", "Give the mass of each part."));
    }
    Ok(mass)
}
