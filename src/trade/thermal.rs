//! Warmth and contact: growth, measurements brought to 20 °C, stress of what is clamped, Hertz pressure.
//!
//! A rise is a difference of temperature, positive when it gets warmer.

use std::f64::consts::PI;

use super::declare::{by_formula, in_work, length, lines, needed, optional, or_number, quantity, stress};
use super::press::{Elastic, judge_strength, property};
use super::say;
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;

/// The functions of this room.
pub const FUNCTIONS: &[&Function] = &[
    &THERMAL_GROWTH,
    &LENGTH_AT_20,
    &CLAMPED_STRESS,
    &BARS_ACROSS_GAP,
    &SLEEVE_ON_BOLT,
    &BALL_CONTACT,
    &LINE_CONTACT,
];

/// A length above zero.
const SIZE: Takes = Takes::Positive(Dimension::LENGTH);
/// A cross-section.
const AREA: Takes = Takes::Positive(Dimension::AREA);

const fn kilonewtons(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::FORCE, ["kN", "lbf"], meaning)
}

const RISE: Parameter =
    needed("rise", Takes::Signed(Dimension::TEMPERATURE), "rise of temperature; negative: cooling");
const GAP: Parameter = or_number(
    "gap",
    Takes::NotNegative(Dimension::LENGTH),
    0.0,
    "free gap that growth must close first; 0 if not given",
);
const LOAD: Parameter = needed("force", Takes::Positive(Dimension::FORCE), "force pressing the two together");

const MEAN_EXPANSION: &str = "mean expansion between 20 and 100 °C, the body at one temperature throughout";

pub(super) static THERMAL_GROWTH: Function = Function {
    name: "thermal_growth",
    does: "how much a length, a diameter or a bore grows with warmth",
    parameters: &[
        needed("length", SIZE, "length at the start"),
        RISE,
        needed("material", Takes::Material, "what it is made of"),
    ],
    outputs: &[length("growth", "growth; negative: shrinkage")],
    formula: lines("growth = material.cte*length*rise"),
    validity: MEAN_EXPANSION,
    source: &[in_work("R. C. Hibbeler, Mechanics of Materials", "", "ch. 4 (thermal stress)")],
    hazard: None,
    example: r#"growth = thermal_growth(2 m, 30 K, material: material("S235JR"))
check growth within 0.65 mm .. 0.79 mm   "2 m x 30 K x 11 to 13e-6""#,
    body: by_formula,
};

pub(super) static LENGTH_AT_20: Function = Function {
    name: "length_at_20",
    does: "length, measured warm or cold, brought to 20 °C",
    parameters: &[
        needed("length", SIZE, "the length as read"),
        needed("temperature", Takes::TemperaturePoint, "temperature of the part when it was measured"),
        needed("material", Takes::Material, "material of the part"),
        optional(
            "gauge",
            Takes::Material,
            "material of the gauge or scale, if it was as warm as the part; left out, it read true",
        ),
    ],
    outputs: &[
        length("length", "the length at 20 °C"),
        length("correction", "what was added to the reading"),
    ],
    formula: lines(
        "warmer = temperature - 20 degC\n\
         correction = length/(1 + material.cte*warmer) - length\n\
         correction = length*(1 + gauge.cte*warmer)/(1 + material.cte*warmer) - length # with gauge\n\
         length = length + correction",
    ),
    validity: MEAN_EXPANSION,
    source: &[
        in_work("ISO 1", "2016", "reference temperature 20 °C"),
        in_work("R. C. Hibbeler, Mechanics of Materials", "", "ch. 4 (expansion)"),
    ],
    hazard: None,
    example: r#"bore = length_at_20(300 mm, temperature: 5 degC, material: material("S235JR"))
check bore.length within 300.04 mm .. 300.06 mm
same = length_at_20(300 mm, temperature: 5 degC, material: material("S235JR"), gauge: material("S235JR"))
check same.correction within -0.02 mm .. 0.02 mm   "part and gauge shrink alike""#,
    body: by_formula,
};

pub(super) static CLAMPED_STRESS: Function = Function {
    name: "clamped_stress",
    does: "stress in a bar that is kept from growing or shrinking",
    parameters: &[
        RISE,
        needed("material", Takes::Material, "what it is made of"),
        GAP,
        optional("length", SIZE, "length of the bar; needed where there is a gap"),
    ],
    outputs: &[stress("stress", "compression when warmed, tension (negative) when cooled")],
    formula: lines(
        "strain = material.cte*rise\n\
         strain = if gap > 0 mm then max(0, strain - gap/length) else strain # with length\n\
         stress = material.E*strain",
    ),
    validity: "elastic, rigid ends, no buckling; with a gap: warming only",
    source: &[in_work("R. C. Hibbeler, Mechanics of Materials", "", "ch. 4 (thermal stress)")],
    hazard: Some(Hazard::HotWork),
    example: r#"rail = clamped_stress(40 K, material: material("S235JR"))
check rail within 85 MPa .. 112 MPa   "200 to 210 GPa x 11 to 13e-6 x 40 K""#,
    body: clamped_stress,
};

fn clamped_stress(call: &Call) -> Result<Answer, Refusal> {
    let gap = call.real("gap");
    let open = match call.optional("length") {
        Some(length) => gap / length,
        None if gap == 0.0 => gap,
        None => return Err(Refusal::of("length", "a gap needs the length of the bar", "Give `length`.")),
    };
    let strain = property(call, "material", "cte")? * call.real("rise") - open;
    let strain = if open > 0.0 { strain.max(Real::exact(0.0)) } else { strain };
    let stress = property(call, "material", "E")? * strain;
    let answer = Answer::new().number("stress", stress);
    Ok(judge_strength(answer, call, ("material", "bar"), ((-stress).max(Real::exact(0.0)), stress.abs())))
}

pub(super) static BARS_ACROSS_GAP: Function = Function {
    name: "bars_across_gap",
    does: "force between two bars that warmth drives together between fixed walls, and what each grows",
    parameters: &[
        needed("length_1", SIZE, "length of the first bar"),
        needed("area_1", AREA, "cross-section of the first bar"),
        needed("bar_1", Takes::Material, "material of the first bar"),
        needed("length_2", SIZE, "length of the second bar"),
        needed("area_2", AREA, "cross-section of the second bar"),
        needed("bar_2", Takes::Material, "material of the second bar"),
        RISE,
        GAP,
    ],
    outputs: &[
        kilonewtons("force", "force between the bars; 0 while the gap is open"),
        length("growth_1", "growth of the first bar"),
        length("growth_2", "growth of the second bar"),
        stress("stress_1", "compression in the first bar"),
        stress("stress_2", "compression in the second bar"),
    ],
    formula: lines(
        "give_1 = length_1/(bar_1.E*area_1)\n\
         give_2 = length_2/(bar_2.E*area_2)\n\
         free_growth_1 = bar_1.cte*length_1*rise\n\
         free_growth_2 = bar_2.cte*length_2*rise\n\
         force = max(0 N, (free_growth_1 + free_growth_2 - gap)/(give_1 + give_2))\n\
         growth_1 = free_growth_1 - force*give_1\n\
         growth_2 = free_growth_2 - force*give_2\n\
         stress_1 = force/area_1\n\
         stress_2 = force/area_2",
    ),
    validity: "elastic, rigid walls, no buckling",
    source: &[in_work("U. C. Jindal, Machine Design", "", "Example 3-6")],
    hazard: Some(Hazard::HotWork),
    example: r#"bars = bars_across_gap(length_1: 360 mm, area_1: 1300 mm^2, bar_1: material("S235JR"),
                       length_2: 450 mm, area_2: 1600 mm^2, bar_2: material("S235JR"), rise: 20 K, gap: 0.6 mm)
check bars.force <= 0 N   "810 mm of steel grows 0.2 mm: the gap stays open""#,
    body: bars_across_gap,
};

fn bars_across_gap(call: &Call) -> Result<Answer, Refusal> {
    let bar = |length, area, material| -> Result<(Real, Real, Real), Refusal> {
        let (length, area) = (call.real(length), call.real(area));
        let growth = property(call, material, "cte")? * length * call.real("rise");
        Ok((growth, length / (property(call, material, "E")? * area), area))
    };
    let (growth_1, give_1, area_1) = bar("length_1", "area_1", "bar_1")?;
    let (growth_2, give_2, area_2) = bar("length_2", "area_2", "bar_2")?;
    let force = ((growth_1 + growth_2 - call.real("gap")) / (give_1 + give_2)).max(Real::exact(0.0));
    let (stress_1, stress_2) = (force / area_1, force / area_2);
    let answer = Answer::new()
        .number("force", force)
        .number("growth_1", growth_1 - force * give_1)
        .number("growth_2", growth_2 - force * give_2)
        .number("stress_1", stress_1)
        .number("stress_2", stress_2);
    let none = Real::exact(0.0);
    let answer = judge_strength(answer, call, ("bar_1", "first bar"), (none, stress_1));
    Ok(judge_strength(answer, call, ("bar_2", "second bar"), (none, stress_2)))
}

pub(super) static SLEEVE_ON_BOLT: Function = Function {
    name: "sleeve_on_bolt",
    does: "force that warmth puts into a bolt through a sleeve or a stack of plates of another material",
    parameters: &[
        needed("sleeve_area", AREA, "cross-section of the sleeve"),
        needed("bolt_area", AREA, "cross-section of the bolt"),
        needed("sleeve", Takes::Material, "material of the sleeve"),
        needed("bolt", Takes::Material, "material of the bolt"),
        RISE,
    ],
    outputs: &[
        kilonewtons("force", "force added: tension in the bolt; negative: the joint slackens"),
        stress("sleeve_stress", "compression added in the sleeve"),
        stress("bolt_stress", "tension added in the bolt"),
    ],
    formula: lines(
        "force = (sleeve.cte - bolt.cte)*rise/(1/(bolt_area*bolt.E) + 1/(sleeve_area*sleeve.E))\n\
         sleeve_stress = force/sleeve_area\n\
         bolt_stress = force/bolt_area",
    ),
    validity: "elastic, sleeve and bolt of one length, rigid head and nut, seated without play at the start",
    source: &[in_work("R. C. Hibbeler, Mechanics of Materials", "", "Example 4.12")],
    hazard: Some(Hazard::LoadCarryingPart),
    example: r#"joint = sleeve_on_bolt(sleeve_area: 600 mm^2, bolt_area: 400 mm^2,
                       sleeve: material("S235JR"), bolt: material("S235JR"), rise: 65 K)
check joint.force within -10 kN .. 10 kN   "like materials: only their spread is left""#,
    body: sleeve_on_bolt,
};

fn sleeve_on_bolt(call: &Call) -> Result<Answer, Refusal> {
    let (sleeve_area, bolt_area) = (call.real("sleeve_area"), call.real("bolt_area"));
    let strain = (property(call, "sleeve", "cte")? - property(call, "bolt", "cte")?) * call.real("rise");
    let give = 1.0 / (bolt_area * property(call, "bolt", "E")?)
        + 1.0 / (sleeve_area * property(call, "sleeve", "E")?);
    let force = strain / give;
    let (sleeve, bolt) = (force / sleeve_area, force / bolt_area);
    let answer =
        Answer::new().number("force", force).number("sleeve_stress", sleeve).number("bolt_stress", bolt);
    let answer =
        judge_strength(answer, call, ("sleeve", "sleeve"), ((-sleeve).max(Real::exact(0.0)), sleeve.abs()));
    Ok(judge_strength(answer, call, ("bolt", "bolt"), (bolt.max(Real::exact(0.0)), bolt.abs())))
}

const HERTZ: &str = "elastic, smooth, dry, contact small against the radii, no edge load; first yield \
                     below the surface at about 1.6 (ball) or 1.67 (line) times the yield strength";
const AGAINST: Parameter = optional(
    "against",
    Takes::Signed(Dimension::LENGTH),
    "diameter of the other body; negative for a hollow one that goes round the first; left out: flat",
);

pub(super) static BALL_CONTACT: Function = Function {
    name: "ball_contact",
    does: "Hertz pressure of a ball on a flat, on another ball or in a hollow",
    parameters: &[
        LOAD,
        needed("d", SIZE, "diameter of the ball"),
        needed("ball", Takes::Material, "material of the ball"),
        needed("other", Takes::Material, "material of what it presses on"),
        AGAINST,
    ],
    outputs: &[
        stress("pressure", "greatest contact pressure, at the middle"),
        length("radius", "radius of the contact"),
        length("approach", "how far the two bodies come nearer"),
        stress("shear", "greatest shear stress, below the surface"),
        length("depth", "how deep that shear stress lies"),
    ],
    formula: lines(
        "curvature = 2/d\n\
         curvature = 2/d + 2/against # with against\n\
         give = (1 - ball.poisson^2)/ball.E + (1 - other.poisson^2)/other.E\n\
         radius = cbrt(3/4*force*give/curvature)\n\
         pressure = 3*force/(2*pi*radius^2)\n\
         approach = radius^2*curvature\n\
         shear = 0.31*pressure\n\
         depth = 0.48*radius",
    ),
    validity: HERTZ,
    source: &[in_work(
        "A. P. Boresi and R. J. Schmidt, Advanced Mechanics of Materials",
        "6th ed.",
        "ch. 17",
    )],
    hazard: Some(Hazard::LoadCarryingPart),
    example: r#"ball = ball_contact(40 N, d: 10 mm, ball: material("EN 24"), other: material("EN 24"))
check ball.radius within 0.10 mm .. 0.12 mm
check ball.pressure within 1500 MPa .. 1700 MPa"#,
    body: ball_contact,
};

pub(super) static LINE_CONTACT: Function = Function {
    name: "line_contact",
    does: "Hertz pressure of a roller or pin on a flat, on another roller or in a bore",
    parameters: &[
        LOAD,
        needed("length", SIZE, "length of the line of contact"),
        needed("d", SIZE, "diameter of the roller"),
        needed("roller", Takes::Material, "material of the roller"),
        needed("other", Takes::Material, "material of what it presses on"),
        AGAINST,
    ],
    outputs: &[
        stress("pressure", "greatest contact pressure, along the middle"),
        length("half_width", "half the width of the contact"),
        stress("shear", "greatest shear stress, below the surface"),
        length("depth", "how deep that shear stress lies"),
    ],
    formula: lines(
        "curvature = 2/d\n\
         curvature = 2/d + 2/against # with against\n\
         give = (1 - roller.poisson^2)/roller.E + (1 - other.poisson^2)/other.E\n\
         half_width = sqrt(4*force/length*give/(pi*curvature))\n\
         pressure = 2*force/(length*pi*half_width)\n\
         shear = 0.30*pressure\n\
         depth = 0.786*half_width",
    ),
    validity: HERTZ,
    source: &[in_work(
        "A. P. Boresi and R. J. Schmidt, Advanced Mechanics of Materials",
        "6th ed.",
        "ch. 17",
    )],
    hazard: Some(Hazard::LoadCarryingPart),
    example: r#"wheel = line_contact(24.1 kN, length: 20 mm, d: 80 mm, roller: material("EN 24"),
                     other: material("EN 24"), against: 80 mm)
check wheel.pressure within 1400 MPa .. 1560 MPa"#,
    body: line_contact,
};

/// The plane-strain modulus of the pair and the radius that stands for both.
struct Hertz {
    modulus: Real,
    radius: Real,
}

impl Hertz {
    fn of(call: &Call, first: &'static str) -> Result<Self, Refusal> {
        let give = |name| -> Result<Real, Refusal> {
            let elastic = Elastic::of(call, name)?;
            Ok((1.0 - elastic.poisson.squared()) / elastic.modulus)
        };
        let curvature = 2.0 / call.real("d") + against(call)?;
        if curvature > 0.0 {
            return Ok(Self { modulus: 1.0 / (give(first)? + give("other")?), radius: 1.0 / curvature });
        }
        Err(Refusal::of(
            "against",
            "the hollow is no larger than what lies in it: they touch all over, not in a point or line",
            "Its diameter must be larger than `d`; use the projected pressure instead.",
        ))
    }
}

/// The curvature of the other body; none if it is flat.
fn against(call: &Call) -> Result<Real, Refusal> {
    match call.optional("against") {
        None => Ok(Real::exact(0.0)),
        Some(diameter) if diameter == 0.0 => {
            Err(Refusal::of("against", "the other body has no diameter", "Leave `against` out for a flat."))
        }
        Some(diameter) => Ok(2.0 / diameter),
    }
}

fn ball_contact(call: &Call) -> Result<Answer, Refusal> {
    let hertz = Hertz::of(call, "ball")?;
    let force = call.real("force");
    let radius = (0.75 * force * hertz.radius / hertz.modulus).cbrt();
    let pressure = 1.5 * force / (PI * radius.squared());
    let answer = Answer::new()
        .number("pressure", pressure)
        .number("radius", radius)
        .number("approach", radius.squared() / hertz.radius)
        .number("shear", 0.31 * pressure)
        .number("depth", 0.48 * radius);
    Ok(judge_contact(judge_contact(answer, call, "ball", pressure / 1.6), call, "other", pressure / 1.6))
}

fn line_contact(call: &Call) -> Result<Answer, Refusal> {
    let hertz = Hertz::of(call, "roller")?;
    let load = call.real("force") / call.real("length");
    let half_width = (4.0 * load * hertz.radius / (PI * hertz.modulus)).sqrt();
    let pressure = 2.0 * load / (PI * half_width);
    let answer = Answer::new()
        .number("pressure", pressure)
        .number("half_width", half_width)
        .number("shear", 0.30 * pressure)
        .number("depth", 0.786 * half_width);
    Ok(judge_contact(judge_contact(answer, call, "roller", pressure / 1.67), call, "other", pressure / 1.67))
}

/// `like_yield` is the pressure over the factor at which yield begins below the surface.
fn judge_contact(answer: Answer, call: &Call, parameter: &'static str, like_yield: Real) -> Answer {
    let name = call.text_of(parameter, "name").unwrap_or("the material");
    match call.field_of(parameter, "yield") {
        Some(strength) if like_yield > strength.value() => {
            let (needed, strength) = (say::stress(like_yield), say::stress(strength));
            let warning = format!(
                "`{name}` begins to yield below the surface: a yield strength of {needed} is wanted, it \
                 has {strength}"
            );
            // Said once where both bodies are of one material.
            if answer.warnings.contains(&warning) { answer } else { answer.warn(warning) }
        }
        Some(_) => answer,
        None => answer.remark(format!("no yield strength is known of `{name}`: the contact is not judged")),
    }
}
