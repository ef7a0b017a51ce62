//! Undersize repair: a worn journal turned down, its bore opened out, a bush between.
//!
//! Takes: readings of journal and bore, materials, loads. Gives: the sizes to work to, what strength is left, how far
//! a bush closes in, the bar to buy. Never: decides that a shaft is good enough; the check beside the call does.

use std::f64::consts::PI;

use super::declare::{
    chosen, hairs, in_work, length, lines, needed, number, optional, or_number, or_words, practice, recalled,
    size, stress, table,
};
use super::limits::fit::{Fit, resolve};
use super::press::{Elastic, NoWall, Rings, judge_strength};
use super::say;
use super::table::Table;
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Refusal, Takes};
use crate::calc::real::Real;
use crate::calc::units::System;
use crate::hazard::Hazard;

/// The functions of this room.
pub const FUNCTIONS: &[&Function] = &[&UNDERSIZE_REPAIR, &UNDERSIZE_STRENGTH, &BUSH_CLOSING_IN, &STOCK_BAR];

pub(super) static BARS: Table = Table::of(include_str!("data/bar_sizes.csv"));

/// A length above zero.
const SIZE: Takes = Takes::Positive(Dimension::LENGTH);
/// A length, or none.
const SIZE_OR_NONE: Takes = Takes::NotNegative(Dimension::LENGTH);

/// The class of a bronze bush in its housing: common practice.
const BUSH_FIT: &str = "H7/r6";
/// A bush wall under this part of the housing bore is thin: common practice.
const THIN_WALL: f64 = 1.0 / 20.0;

pub(super) static UNDERSIZE_REPAIR: Function = Function {
    name: "undersize_repair",
    does: "sizes to work to when a worn journal is turned down and its bore bushed",
    parameters: &[
        needed("nominal", SIZE, "size that journal and bore had when new"),
        optional(
            "journal_min",
            SIZE,
            "smallest reading of the journal; not needed where `journal` is chosen",
        ),
        optional("bore_max", SIZE, "largest reading of the bore; not needed where `bore` is chosen"),
        or_number("step", SIZE, 0.25e-3, "steps in which sizes are taken; 0.25 mm if not given"),
        or_number(
            "cleanup",
            SIZE_OR_NONE,
            0.1e-3,
            "metal to come off, on diameter, to clean up the worst place; 0.1 mm",
        ),
        optional("journal", SIZE, "journal size chosen; left out: the largest that cleans up"),
        optional("bore", SIZE, "housing bore chosen; left out: the smallest that cleans up"),
        optional("clearance", SIZE, "running clearance on diameter; left out: a thousandth of the journal"),
        optional("interference", SIZE, "press of the bush on diameter; left out: the middle of H7/r6"),
    ],
    outputs: &[
        size("journal", "clean journal size"),
        length("undersize", "how far that is below the nominal size"),
        size("bore", "clean housing bore"),
        length("wall", "wall of the bush between them"),
        size("bush_outside", "outside of the bush before pressing: bore and interference"),
        size("bush_inside", "inside of the bush when finished: journal and clearance"),
        number("strength_left", "of the solid shaft's strength in bending and torsion"),
        number("stiffness_left", "of the solid shaft's stiffness at that place"),
    ],
    formula: table(
        "journal and bore: as chosen, else the nearest whole number of steps from the nominal size that clears journal_min - cleanup and bore_max + cleanup; press of the bush: as given, else the middle of H7/r6; clearance: as given, else a thousandth of the journal",
        "undersize = nominal - journal\n\
         wall = (bush_outside - bush_inside)/2\n\
         strength_left = (journal/nominal)^3\n\
         stiffness_left = (journal/nominal)^4",
    ),
    validity: "worn evenly round the old centres; a journal worn to one side needs `cleanup` twice the \
               offset larger",
    source: &[
        practice("steps, clean-up, clearance and wall"),
        in_work("ISO 286-1", "2010", "H7/r6 (press of the bush)"),
        in_work(
            "J. M. Gere, Mechanics of Materials",
            "5th ed.",
            "ch. 3 and 5 (strength and stiffness of a solid round shaft)",
        ),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: r#"repair = undersize_repair(nominal: 70 mm, journal_min: 69.62 mm, bore_max: 70.81 mm, bore: 80 mm)
check repair.journal within 69.499 mm .. 69.501 mm   "69.52 or less, in steps of 0.25 mm"
check repair.wall >= 4 mm"#,
    body: undersize_repair,
};

fn undersize_repair(call: &Call) -> Result<Answer, Refusal> {
    let nominal = call.real("nominal");
    let journal = clean_journal(call)?;
    let bore = clean_bore(call)?;
    let clearance = call.optional("clearance").unwrap_or(0.001 * journal);
    let interference = bush_interference(call, bore)?;
    let (outside, inside) = (bore + interference, journal + clearance);
    let wall = (outside - inside) / 2.0;
    if wall <= 0.0 {
        let message = "no wall is left for a bush between that journal and that bore";
        return Err(Refusal::of("bore", message, "Choose a larger `bore`, or build the journal up instead."));
    }
    let left = journal / nominal;
    let answer = Answer::new()
        .number("journal", journal)
        .number("undersize", nominal - journal)
        .number("bore", bore)
        .number("wall", wall)
        .number("bush_outside", outside)
        .number("bush_inside", inside)
        .number("strength_left", left.cubed())
        .number("stiffness_left", left.squared().squared());
    Ok(remark_on_wall(answer, wall, bore)
        .remark("the bush closes in when it is pressed: `bush_closing_in` tells how far"))
}

fn remark_on_wall(answer: Answer, wall: Real, bore: Real) -> Answer {
    if wall >= THIN_WALL * bore {
        return answer;
    }
    answer.warn(format!(
        "a bush wall of {} is thin for its bore (under a twentieth: common practice); choose \
         a larger `bore`",
        say::length(wall)
    ))
}

/// How many steps it takes to go at least `distance`; a nanometre short of a step counts as there.
fn steps(distance: Real, step: Real) -> f64 {
    ((distance.value() - 1e-9) / step.value()).ceil().max(0.0)
}

fn clean_journal(call: &Call) -> Result<Real, Refusal> {
    let (nominal, step) = (call.real("nominal"), call.real("step"));
    let limit = call.optional("journal_min").map(|reading| reading - call.real("cleanup"));
    let size = match (call.optional("journal"), limit) {
        (Some(chosen), Some(limit)) if chosen > limit.value() + 1e-9 => {
            let message = "the journal chosen does not clean up the smallest reading";
            return Err(Refusal::of("journal", message, "Choose a smaller size, or leave `journal` out."));
        }
        (Some(chosen), _) => chosen,
        (None, Some(limit)) => nominal - steps(nominal - limit, step) * step,
        (None, None) => return Err(no_size("journal_min", "journal")),
    };
    if size > 0.0 {
        return Ok(size);
    }
    Err(Refusal::of(
        "journal_min",
        "nothing is left of the journal",
        "Check the readings, `cleanup` and `step`.",
    ))
}

fn clean_bore(call: &Call) -> Result<Real, Refusal> {
    let (nominal, step) = (call.real("nominal"), call.real("step"));
    let limit = call.optional("bore_max").map(|reading| reading + call.real("cleanup"));
    match (call.optional("bore"), limit) {
        (Some(chosen), Some(limit)) if chosen < limit.value() - 1e-9 => {
            let message = "the bore chosen does not clean up the largest reading";
            Err(Refusal::of("bore", message, "Choose a larger size, or leave `bore` out."))
        }
        (Some(chosen), _) => Ok(chosen),
        (None, Some(limit)) => Ok(nominal + steps(limit - nominal, step) * step),
        (None, None) => Err(no_size("bore_max", "bore")),
    }
}

fn no_size(reading: &'static str, size: &str) -> Refusal {
    Refusal::of(
        reading,
        format!("neither `{reading}` nor `{size}` is given"),
        format!("Give the reading as `{reading}`, or the size chosen as `{size}`."),
    )
}

/// As given, or the middle of the usual bush fit at that bore.
fn bush_interference(call: &Call, bore: Real) -> Result<Real, Refusal> {
    if let Some(given) = call.optional("interference") {
        return Ok(given);
    }
    let resolved = resolve(Fit::parse(BUSH_FIT)?, bore.value())?;
    let middle = resolved.clearance().map_or(0.0, |clearance| -(clearance.min + clearance.max) / 2.0);
    Ok(Real::exact(middle * resolved.unit.metres()))
}

pub(super) static UNDERSIZE_STRENGTH: Function = Function {
    name: "undersize_strength",
    does: "whether a shaft still carries its torque and bending at a smaller diameter",
    parameters: &[
        needed("d", SIZE, "diameter after the repair"),
        needed("was", SIZE, "diameter before"),
        or_number("inner", SIZE_OR_NONE, 0.0, "bore of a hollow shaft; 0 if not given"),
        or_number("torque", Takes::NotNegative(Dimension::MOMENT), 0.0, "torque at that place"),
        or_number("moment", Takes::NotNegative(Dimension::MOMENT), 0.0, "bending moment at that place"),
        needed("material", Takes::Material, "material of the shaft"),
        or_number(
            "notch",
            Takes::Positive(Dimension::NONE),
            1.0,
            "stress concentration of a fillet, keyway or hole there; 1 if not given",
        ),
    ],
    outputs: &[
        stress("bending", "bending stress at the surface"),
        stress("shear", "shear stress at the surface"),
        stress("equivalent", "equivalent stress: von Mises, or the largest tension if brittle"),
        number("safety", "yield strength (tensile strength if brittle) over that stress"),
        number("strength_left", "of the strength before"),
    ],
    formula: table(
        "strength: the yield strength of the material; of a brittle one, which states none, its tensile strength, and equivalent is bending/2 + sqrt((bending/2)^2 + shear^2)",
        "Z = pi*(d^4 - inner^4)/(32*d)\n\
         bending = notch*moment/Z\n\
         shear = notch*torque/(2*Z)\n\
         equivalent = sqrt(bending^2 + 3*shear^2)\n\
         safety = material.yield/equivalent\n\
         strength_left = Z/(pi*(was^4 - inner^4)/(32*was))",
    ),
    validity: "static load, elastic; many turns under bending need a fatigue check besides",
    source: &[
        in_work("J. M. Gere, Mechanics of Materials", "5th ed.", "ch. 3 and 5"),
        in_work("R. C. Hibbeler, Mechanics of Materials", "", "ch. 10"),
    ],
    hazard: Some(Hazard::LoadCarryingPart),
    example: r#"post = undersize_strength(d: 69.5 mm, was: 70 mm, moment: 4 kN*m, torque: 1 kN*m, material: material("S235JR"))
check post.strength_left >= 0.97
check post.safety >= 1.5"#,
    body: undersize_strength,
};

/// Section modulus in bending; twice this in torsion.
fn section_modulus(d: Real, inner: Real) -> Real {
    let fourth = |length: Real| length.squared().squared();
    PI * (fourth(d) - fourth(inner)) / (32.0 * d)
}

fn undersize_strength(call: &Call) -> Result<Answer, Refusal> {
    let (d, was, inner) = (call.real("d"), call.real("was"), call.real("inner"));
    if inner >= d {
        let message = "the shaft is thinner than nothing: its bore is no smaller than its diameter";
        return Err(Refusal::of("inner", message, "`inner` must be smaller than `d`."));
    }
    if d > was {
        return Err(Refusal::of(
            "d",
            "the shaft is larger than it was",
            "`d` is the diameter after, `was` before.",
        ));
    }
    let (modulus, before) = (section_modulus(d, inner), section_modulus(was, inner));
    let bending = call.real("notch") * call.real("moment") / modulus;
    let shear = call.real("notch") * call.real("torque") / (2.0 * modulus);
    let (strength, equivalent) = strength_and_stress(call, bending, shear)?;
    let answer = Answer::new()
        .number("bending", bending)
        .number("shear", shear)
        .number("equivalent", equivalent)
        .number("safety", strength / equivalent)
        .number("strength_left", modulus / before);
    if equivalent <= strength {
        return Ok(answer);
    }
    let (stress, strength) = (say::stress(equivalent), say::stress(strength));
    Ok(answer
        .warn(format!("the shaft is overloaded at that size: {stress} against a strength of {strength}")))
}

/// The strength that governs and the stress to hold against it.
fn strength_and_stress(call: &Call, bending: Real, shear: Real) -> Result<(Real, Real), Refusal> {
    if bending == 0.0 && shear == 0.0 {
        return Err(Refusal::whole("the shaft carries nothing", "Give `torque`, `moment` or both."));
    }
    let joined = |bending: Real, shear: Real| super::press::magnitude(bending, shear);
    match (call.field_of("material", "yield"), call.field_of("material", "uts")) {
        (Some(strength), _) => Ok((strength, joined(bending, 3.0_f64.sqrt() * shear))),
        (None, Some(strength)) => Ok((strength, bending / 2.0 + joined(bending / 2.0, shear))),
        (None, None) => {
            let name = call.text_of("material", "name").unwrap_or("this material");
            let help = "Choose a material that gives its yield or tensile strength.";
            Err(Refusal::of("material", format!("no strength is known of `{name}`"), help))
        }
    }
}

pub(super) static BUSH_CLOSING_IN: Function = Function {
    name: "bush_closing_in",
    does: "how far the bore of a bush closes when it is pressed in, and what that does to bush and housing",
    parameters: &[
        needed("outside", SIZE, "outside diameter of the bush, the interface"),
        needed("inside", SIZE, "inside diameter of the bush before pressing"),
        needed("housing_outer", SIZE, "outside diameter of the housing round it"),
        needed("interference", SIZE, "diametral interference"),
        needed("bush", Takes::Material, "material of the bush"),
        needed("housing", Takes::Material, "material of the housing"),
    ],
    outputs: &[
        stress("pressure", "contact pressure"),
        hairs("closing", "how much smaller the bush's bore becomes, on diameter"),
        number("closing_ratio", "that over the interference"),
        size("inside_after", "bore of the bush after pressing"),
        stress("bush_hoop", "hoop stress at the bore of the bush; negative: compression"),
        stress("housing_hoop", "hoop stress at the bore of the housing, tension"),
    ],
    formula: lines(
        "housing_ratio = (housing_outer^2 + outside^2)/(housing_outer^2 - outside^2)\n\
         bush_ratio = (outside^2 + inside^2)/(outside^2 - inside^2)\n\
         pressure = interference/(outside*((housing_ratio + housing.poisson)/housing.E + (bush_ratio - bush.poisson)/bush.E))\n\
         bush_hoop = -2*pressure*outside^2/(outside^2 - inside^2)\n\
         housing_hoop = pressure*housing_ratio\n\
         closing = -bush_hoop*inside/bush.E\n\
         closing_ratio = closing/interference\n\
         inside_after = inside - closing",
    ),
    validity: "elastic, plain ring of a housing; a split or flanged bush closes differently: measure after \
               pressing",
    source: &[
        in_work(
            "A. C. Ugural and S. K. Fenster, Advanced Strength and Applied Elasticity",
            "",
            "ch. 8 (Lamé)",
        ),
        practice("shop rule 0.7 to 1.0 of the interference"),
    ],
    hazard: Some(Hazard::Pressing),
    example: r#"bush = bush_closing_in(outside: 50 mm, inside: 40 mm, housing_outer: 90 mm, interference: 0.04 mm,
                       bush: material("C93200"), housing: material("S235JR"))
check bush.closing_ratio within 0.7 .. 1.0   "shop rule""#,
    body: bush_closing_in,
};

fn bush_closing_in(call: &Call) -> Result<Answer, Refusal> {
    let (outside, inside, outer) = (call.real("outside"), call.real("inside"), call.real("housing_outer"));
    let (bush, housing) = (Elastic::of(call, "bush")?, Elastic::of(call, "housing")?);
    let rings = Rings::new((outside, outer, inside), housing, bush).map_err(no_ring)?;
    let pressure = rings.pressure(call.real("interference"));
    let hoop = pressure * rings.shaft_bore_ratio();
    let closing = hoop * inside / bush.modulus;
    let housing_hoop = pressure * rings.hub_ratio();
    let answer = Answer::new()
        .number("pressure", pressure)
        .number("closing", closing)
        .number("closing_ratio", closing / call.real("interference"))
        .number("inside_after", inside - closing)
        .number("bush_hoop", -hoop)
        .number("housing_hoop", housing_hoop)
        .remark("bore the bush that much over beforehand, or leave it under and finish it in place");
    let answer = judge_strength(answer, call, ("bush", "bush"), (Real::exact(0.0), hoop));
    Ok(judge_strength(answer, call, ("housing", "housing"), (housing_hoop, rings.hub_equivalent(pressure))))
}

fn no_ring(fault: NoWall) -> Refusal {
    let parameter = match fault {
        NoWall::Hub => "housing_outer",
        NoWall::Shaft => "inside",
    };
    let help = "From the inside out: `inside`, `outside`, `housing_outer`, each larger than the one before.";
    Refusal::of(parameter, fault.says("housing", "bush"), help)
}

pub(super) static STOCK_BAR: Function = Function {
    name: "stock_bar",
    does: "next standard round bar to buy for a turned part, and the length to cut",
    parameters: &[
        needed("d", SIZE, "largest finished diameter"),
        needed("length", SIZE, "finished length"),
        or_number("allowance", SIZE_OR_NONE, 3e-3, "to turn off, on diameter; 3 mm if not given"),
        or_number("facing", SIZE_OR_NONE, 6e-3, "to face off, both ends together; 6 mm if not given"),
        or_words("series", "metric", "`metric` or `inch` bar"),
    ],
    outputs: &[
        length("bar", "diameter of the bar"),
        length("cut", "length to cut"),
        length("to_turn_off", "metal to turn off, on diameter"),
    ],
    formula: table(
        "bar: the next size of the series at or above d + allowance",
        "cut = length + facing\n\
         to_turn_off = bar - d",
    ),
    validity: "round bar; bronze is sold in other steps and cored: ask",
    source: &[recalled("EN 10060", "2003", "metric sizes"), practice("inch sizes and allowances")],
    hazard: None,
    example: r"bar = stock_bar(d: 80.05 mm, length: 90 mm)
check bar.bar within 84.9 mm .. 85.1 mm
check bar.cut within 95.9 mm .. 96.1 mm",
    body: stock_bar,
};

fn stock_bar(call: &Call) -> Result<Answer, Refusal> {
    let (unit, system) =
        chosen(call, "series", &[("metric", (1e-3, System::Metric)), ("inch", (25.4e-3, System::Inch))])?;
    let series = call.text("series");
    let (d, needed) = (call.real("d"), call.real("d") + call.real("allowance"));
    let sizes =
        || BARS.rows().iter().filter(|row| row.text("series") == series).filter_map(|row| row.number("size"));
    let Some(size) = sizes().find(|size| size * unit >= needed.value() - 1e-9) else {
        let largest = sizes().next_back().unwrap_or(0.0);
        let printed = if series == "inch" { "in" } else { "mm" };
        let message = format!("no bar of the list is that thick; the largest is {largest} {printed}");
        return Err(Refusal::of("d", message, "Think of a forging, a casting, or a ring cut from plate."));
    };
    let bar = Real::exact(size * unit);
    Ok(Answer::new()
        .number("bar", bar)
        .number("cut", call.real("length") + call.real("facing"))
        .number("to_turn_off", bar - d)
        .in_system(Some(system)))
}
