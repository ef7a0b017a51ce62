//! Life and static safety of rolling bearings.

use std::f64::consts::TAU;

use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Parameter, Refusal, Sign, Source, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{
    chosen, force, in_work, lines, needed, number, open_table, optional, or_number, or_words, quantity, rate,
    recalled,
};

const FORCE: Takes = Takes::Positive(Dimension::FORCE);
const RATIO: Takes = Takes::NotNegative(Dimension::NONE);
const KIND: Parameter = or_words("kind", "ball", "ball or roller");
const RATING: Parameter =
    needed("rating", FORCE, "dynamic load rating C, from the catalogue of the bearing's own time");
const LOAD: Parameter = needed("load", FORCE, "equivalent load P");
const SPEED: Parameter =
    needed("speed", Takes::Turning(Sign::Positive), "speed of one ring against the other");
const ISO_281: Source = open_table(
    "ISO 281",
    "2007",
    "basic rating life and equivalent load, as public engineering pages print them",
);
const LIFE_VALIDITY: &str = "steady speed above a few turns a minute, load at most half the rating, clean \
                             oil, firm seats; nine of ten bearings reach it. A bearing that stands or swings \
                             is judged by its static safety. Ratings rose over the decades: a modern \
                             catalogue flatters an old bearing";
/// Exponents of the life formula: ISO 281, point and line contact.
const EXPONENTS: &[(&str, f64)] = &[("ball", 3.0), ("roller", 10.0 / 3.0)];
/// Load over rating beyond which ISO 281 does not hold.
const HEAVIEST: f64 = 0.5;

/// Thrust factors of deep groove ball bearings, normal clearance: Fa/C0, e, Y (X = 0.56); the older form of
/// ISO 281 table 3, from memory, its rows 0.11 and 0.17 confirmed by T. H. Wentzell, Machine Design, Example
/// 20.4.
const THRUST_FACTORS: &[(f64, f64, f64)] = &[
    (0.014, 0.19, 2.30),
    (0.028, 0.22, 1.99),
    (0.056, 0.26, 1.71),
    (0.084, 0.28, 1.55),
    (0.11, 0.30, 1.45),
    (0.17, 0.34, 1.31),
    (0.28, 0.38, 1.15),
    (0.42, 0.42, 1.04),
    (0.56, 0.44, 1.00),
];

pub(super) static EQUIVALENT_LOAD: Function = Function {
    name: "bearing_load",
    does: "equivalent load of a rolling bearing under radial and axial load",
    parameters: &[
        needed("radial", Takes::NotNegative(Dimension::FORCE), "radial load"),
        needed("axial", Takes::NotNegative(Dimension::FORCE), "axial load"),
        needed("x", RATIO, "radial factor X, from the catalogue (0.56 for deep groove)"),
        needed("y", RATIO, "axial factor Y, from the catalogue or `thrust_factor`"),
        optional("e", RATIO, "limit e: up to axial / radial = e the axial load does not count"),
        or_number(
            "rotation",
            Takes::Positive(Dimension::NONE),
            1.0,
            "1.2 for a turning outer ring in older books",
        ),
    ],
    outputs: &[force("load", "equivalent load P")],
    formula: lines(
        "load = x*rotation*radial + y*axial\n\
         load = if axial <= e*rotation*radial then rotation*radial else x*rotation*radial + y*axial # with e",
    ),
    validity: "without `e` the factors are used as they stand; the rotation factor is not in ISO 281",
    source: &[ISO_281, in_work("U. C. Jindal, Machine Design", "", "Example 18-2")],
    hazard: Some(Hazard::MovingMachinery),
    example: "p = bearing_load(radial: 1250 N, axial: 625 N, x: 0.56, y: 1.2)\n\
              check p within 1449 N .. 1451 N",
    body: equivalent_load,
};

pub(super) static THRUST_FACTOR: Function = Function {
    name: "thrust_factor",
    does: "axial factor Y and limit e of a deep groove ball bearing",
    parameters: &[
        needed("axial", FORCE, "axial load"),
        needed("static_rating", FORCE, "static load rating C0"),
    ],
    outputs: &[number("x", "radial factor X"), number("y", "axial factor Y"), number("e", "limit e")],
    formula: lines(
        "x = 0.56\n\
         y = interpolate(axial/static_rating, [0.014, 0.028, 0.056, 0.084, 0.11, 0.17, 0.28, 0.42, 0.56], [2.30, 1.99, 1.71, 1.55, 1.45, 1.31, 1.15, 1.04, 1.00])\n\
         e = interpolate(axial/static_rating, [0.014, 0.028, 0.056, 0.084, 0.11, 0.17, 0.28, 0.42, 0.56], [0.19, 0.22, 0.26, 0.28, 0.30, 0.34, 0.38, 0.42, 0.44])",
    ),
    validity: "axial / C0 from 0.014 to 0.56, normal clearance; the newer table goes by f0 axial / C0",
    source: &[
        recalled("ISO 281", "", "table 3 in its older form"),
        in_work("T. H. Wentzell, Machine Design", "", "Example 20.4"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "f = thrust_factor(axial: 300 lbf, static_rating: 2320 lbf)\ncheck f.y within 1.40 .. 1.41",
    body: thrust_factor,
};

pub(super) static LIFE: Function = Function {
    name: "bearing_life",
    does: "rating life of a rolling bearing in millions of turns",
    parameters: &[RATING, LOAD, KIND],
    outputs: &[number("million_turns", "L10, in millions of turns")],
    formula: lines(
        "q = if kind == \"roller\" then 10/3 else 3\n\
         million_turns = (rating/load)^q",
    ),
    validity: LIFE_VALIDITY,
    source: &[ISO_281, in_work("U. C. Jindal, Machine Design", "", "Example 18-2")],
    hazard: Some(Hazard::MovingMachinery),
    example: "life = bearing_life(rating: 5590 N, load: 1450 N)\ncheck life within 57.2 .. 57.4",
    body: |call| heavy(call, Answer::new().number("million_turns", million_turns(call)?)),
};

pub(super) static LIFE_TIME: Function = Function {
    name: "bearing_life_time",
    does: "rating life of a rolling bearing in running time",
    parameters: &[
        RATING,
        LOAD,
        SPEED,
        KIND,
        or_number(
            "a1",
            Takes::Positive(Dimension::NONE),
            1.0,
            "life factor for reliability, from `bearing_reliability`",
        ),
        or_number(
            "a_iso",
            Takes::Positive(Dimension::NONE),
            1.0,
            "life factor for oil and dirt; below 1 when dirty",
        ),
    ],
    outputs: &[
        number("million_turns", "life in millions of turns"),
        quantity("time", Dimension::TIME, ["h", "h"], "running time"),
    ],
    formula: lines(
        "q = if kind == \"roller\" then 10/3 else 3\n\
         million_turns = a1*a_iso*(rating/load)^q\n\
         time = million_turns*1e6*2*pi/speed",
    ),
    validity: LIFE_VALIDITY,
    source: &[
        ISO_281,
        in_work("U. C. Jindal, Machine Design", "", "Example 18-4"),
        in_work("T. H. Wentzell, Machine Design", "", "Example 20.1"),
    ],
    hazard: Some(Hazard::MovingMachinery),
    example: "life = bearing_life_time(rating: 41 kN, load: 20 kN, speed: 720 rpm)\n\
              check life.time within 199 h .. 200 h",
    body: life_time,
};

pub(super) static RATING_NEEDED: Function = Function {
    name: "bearing_rating",
    does: "dynamic rating that a bearing needs for a wanted running time",
    parameters: &[LOAD, SPEED, needed("time", Takes::Positive(Dimension::TIME), "wanted running time"), KIND],
    outputs: &[force("rating", "dynamic load rating C")],
    formula: lines(
        "q = if kind == \"roller\" then 10/3 else 3\n\
         rating = load*(speed*time/(2*pi*1e6))^(1/q)",
    ),
    validity: LIFE_VALIDITY,
    source: &[ISO_281, in_work("U. C. Jindal, Machine Design", "", "Example 18-9")],
    hazard: Some(Hazard::MovingMachinery),
    example: "c = bearing_rating(load: 3975 N, speed: 1080 rpm, time: 10000 h)\n\
              check c within 34 kN .. 35 kN",
    body: rating_needed,
};

pub(super) static VARYING_LOAD: Function = Function {
    name: "bearing_varying_load",
    does: "one load and one speed that wear a bearing as a varying service does",
    parameters: &[
        needed("loads", Takes::List(Dimension::FORCE), "equivalent load of each spell"),
        needed("speeds", Takes::Turnings, "speed of each spell"),
        needed("shares", Takes::List(Dimension::NONE), "share of the time of each spell"),
        KIND,
    ],
    outputs: &[force("load", "equivalent load"), rate("speed", "mean speed")],
    formula: lines(
        "q = if kind == \"roller\" then 10/3 else 3\n\
         turns = speeds*shares\n\
         load = max(loads)*(sum(turns*(loads/max(loads))^q)/sum(turns))^(1/q)\n\
         speed = sum(turns)/sum(shares)",
    ),
    validity: "at most eight spells; shares may be any numbers in the right proportion",
    source: &[in_work("U. C. Jindal, Machine Design", "", "Example 18-9")],
    hazard: Some(Hazard::MovingMachinery),
    example: "mean = bearing_varying_load(loads: [3 kN, 4 kN, 5 kN], speeds: [1440 rpm, 1080 rpm, 720 rpm], \
              shares: [25 %, 50 %, 25 %])\n\
              check mean.speed within 1079 rpm .. 1081 rpm",
    body: varying_load,
};

pub(super) static RELIABILITY: Function = Function {
    name: "bearing_reliability",
    does: "life factor a1 when more than nine of ten bearings shall reach the life",
    parameters: &[
        needed("reliability", Takes::Positive(Dimension::NONE), "wanted share of survivors (95 %)"),
        or_number("slope", Takes::Positive(Dimension::NONE), 1.5, "slope of the Weibull line, 1.17 to 1.5"),
    ],
    outputs: &[number("a1", "life factor")],
    formula: lines("a1 = (ln(1/reliability)/ln(1/0.9))^(1/slope)"),
    validity: "90 to 99 %. ISO 281:2007 prints 0.64, 0.37, 0.25 for 95, 98, 99 %; older books 0.62, 0.33, \
               0.21",
    source: &[in_work("U. C. Jindal, Machine Design", "", "chapter 18 (two-parameter Weibull line)")],
    hazard: Some(Hazard::MovingMachinery),
    example: "a1 = bearing_reliability(reliability: 95 %)\ncheck a1 within 0.61 .. 0.63",
    body: reliability,
};

pub(super) static STATIC_SAFETY: Function = Function {
    name: "bearing_static",
    does: "static safety of a rolling bearing that stands, swings or takes shocks",
    parameters: &[
        needed("static_rating", FORCE, "static load rating C0"),
        needed("radial", Takes::NotNegative(Dimension::FORCE), "radial load"),
        or_number("axial", Takes::NotNegative(Dimension::FORCE), 0.0, "axial load"),
        or_number("x0", RATIO, 0.6, "static radial factor; 0.6 for deep groove; 0 for a pure thrust bearing"),
        or_number("y0", RATIO, 0.5, "static axial factor; 0.5 for deep groove; 1 for a pure thrust bearing"),
    ],
    outputs: &[force("load", "equivalent static load P0"), number("safety", "static safety s0")],
    formula: lines(
        "load = max(radial, x0*radial + y0*axial)\n\
         safety = static_rating/load",
    ),
    validity: "0.5 does for smooth slow running, 1 for normal service, 1.5 to 2 and more with shocks; \
               rollers want half as much again",
    source: &[open_table(
        "ISO 76",
        "2006",
        "equivalent load and its factors for deep groove balls, as public engineering pages print them",
    )],
    hazard: Some(Hazard::LoadCarryingPart),
    example: "s = bearing_static(static_rating: 15 kN, radial: 4 kN, axial: 6 kN)\n\
              check s.load within 5399 N .. 5401 N\n\
              check s.safety within 2.77 .. 2.78",
    body: static_safety,
};

fn exponent(call: &Call) -> Result<f64, Refusal> {
    chosen(call, "kind", EXPONENTS)
}

fn million_turns(call: &Call) -> Result<Real, Refusal> {
    Ok((call.real("rating") / call.real("load")).powf(exponent(call)?))
}

/// Warns of a load that is beyond the formula.
fn heavy(call: &Call, answer: Answer) -> Result<Answer, Refusal> {
    let share = call.real("load").value() / call.real("rating").value();
    Ok(if share > HEAVIEST {
        answer.warn(format!(
            "the load is {share:.2} of the rating; over {HEAVIEST} the life formula flatters, check the \
             static safety"
        ))
    } else {
        answer
    })
}

fn equivalent_load(call: &Call) -> Result<Answer, Refusal> {
    let (radial, axial) = (call.real("rotation") * call.real("radial"), call.real("axial"));
    let joint = call.real("x") * radial + call.real("y") * axial;
    match call.optional("e") {
        Some(e) if axial <= e * radial => Ok(Answer::new()
            .number("load", radial)
            .remark("axial over radial load is below e: the axial load does not count")),
        None if joint < radial => Ok(Answer::new()
            .number("load", joint)
            .warn("the result is below the radial load: ISO 281 then takes the radial load alone; give `e`")),
        _ => Ok(Answer::new().number("load", joint)),
    }
}

fn thrust_factor(call: &Call) -> Result<Answer, Refusal> {
    let share = call.real("axial") / call.real("static_rating");
    let pair = THRUST_FACTORS.windows(2).find(|pair| share >= pair[0].0 && share <= pair[1].0);
    let Some([(low, e_low, y_low), (high, e_high, y_high)]) = pair else {
        return Err(Refusal::of(
            "axial",
            format!("axial over static rating is {:.3}; the table runs from 0.014 to 0.56", share.value()),
            "Below it take the first row (e 0.19, Y 2.30); above it the bearing is overloaded.",
        ));
    };
    let part = (share - *low) / (high - low);
    Ok(Answer::new()
        .number("x", Real::exact(0.56))
        .number("y", *y_low + part * (y_high - y_low))
        .number("e", *e_low + part * (e_high - e_low)))
}

fn life_time(call: &Call) -> Result<Answer, Refusal> {
    let million_turns = call.real("a1") * call.real("a_iso") * million_turns(call)?;
    let time = million_turns * 1e6 * TAU / call.real("speed");
    heavy(call, Answer::new().number("million_turns", million_turns).number("time", time))
}

fn rating_needed(call: &Call) -> Result<Answer, Refusal> {
    let million_turns = call.real("speed") / TAU * call.real("time") / 1e6;
    Ok(Answer::new().number("rating", call.real("load") * million_turns.powf(1.0 / exponent(call)?)))
}

fn varying_load(call: &Call) -> Result<Answer, Refusal> {
    let (loads, speeds, shares) = (call.list("loads"), call.list("speeds"), call.list("shares"));
    if loads.is_empty() || loads.len() != speeds.len() || loads.len() != shares.len() {
        let message =
            format!("{} loads, {} speeds and {} shares are given", loads.len(), speeds.len(), shares.len());
        return Err(Refusal::of("loads", message, "Give one load, one speed and one share for each spell."));
    }
    if [loads, speeds, shares].iter().any(|list| list.iter().any(|each| *each <= 0.0)) {
        return Err(Refusal::of(
            "loads",
            "loads, speeds and shares must be above zero",
            "Leave out a spell at rest.",
        ));
    }
    let exponent = exponent(call)?;
    let turns: Vec<Real> = speeds.iter().zip(shares).map(|(speed, share)| *speed * *share).collect();
    let all_turns: Real = turns.iter().copied().sum();
    let damage: Real = turns.iter().zip(loads).map(|(turns, load)| *turns * load.powf(exponent)).sum();
    let all_shares: Real = shares.iter().copied().sum();
    Ok(Answer::new()
        .number("load", (damage / all_turns).powf(1.0 / exponent))
        .number("speed", all_turns / all_shares))
}

fn reliability(call: &Call) -> Result<Answer, Refusal> {
    let reliability = call.real("reliability");
    if reliability >= 1.0 {
        return Err(Refusal::of(
            "reliability",
            "no life is reached with certainty",
            "Give a share such as 95 %.",
        ));
    }
    let odds = (1.0 / reliability).ln() / -libm::log(0.9);
    let a1 = ((1.0 / call.real("slope")) * odds.ln()).exp();
    let answer = Answer::new().number("a1", a1);
    let known = (0.9..=0.99).contains(&reliability.value());
    Ok(if known { answer } else { answer.warn("the Weibull line is known between 90 and 99 % only") })
}

fn static_safety(call: &Call) -> Result<Answer, Refusal> {
    let radial = call.real("radial");
    let load = radial.max(call.real("x0") * radial + call.real("y0") * call.real("axial"));
    if load <= 0.0 {
        return Err(Refusal::of("radial", "the bearing carries nothing", "Give a radial or an axial load."));
    }
    let safety = call.real("static_rating") / load;
    let answer = Answer::new().number("load", load).number("safety", safety);
    Ok(if safety < 1.0 {
        answer.warn(format!("the static safety is {:.2}: the races will be dented", safety.value()))
    } else {
        answer
    })
}
