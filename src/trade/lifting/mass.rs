//! The mass of simple shapes.

use std::f64::consts::PI;

use super::GRAVITY;
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Parameter, Refusal, Source, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;
use crate::trade::declare::{
    derived, force, in_work, lines, mass, needed, optional, or_from, or_number, quantity,
};

const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
const OUTPUTS: &[Output] = &[
    mass("mass", "mass of the piece"),
    force("weight", "its weight"),
    quantity("volume", Dimension::VOLUME, ["cm^3", "in^3"], "its volume"),
];
const BAR_OUTPUTS: &[Output] = &[
    mass("mass", "mass of the piece"),
    force("weight", "its weight"),
    quantity("per_length", Dimension::of(-1, 1, 0), ["kg/m", "lb/ft"], "mass for each length"),
];
const VALIDITY: &str = "a solid of even density; fillets, holes and scale left out. Cast iron runs 2 to 5 % \
                        under its table density where it is porous: weigh the piece before the lift if it \
                        can be weighed";
const GEOMETRY: &[Source] = &[derived("geometry; densities in the table of materials")];

const MATERIAL: Parameter = optional("material", Takes::Material, "what it is made of; or give `density`");
const DENSITY: Parameter =
    or_from("density", Takes::Positive(Dimension::DENSITY), "material.density", "mass per volume");
const BAR_LENGTH: Parameter = needed("length", LENGTH, "length of the bar");

pub(super) static BAR: Function = Function {
    name: "mass_bar",
    does: "mass of a round bar, and per length",
    parameters: &[needed("d", LENGTH, "diameter"), BAR_LENGTH, MATERIAL, DENSITY],
    outputs: BAR_OUTPUTS,
    formula: lines(
        "per_length = pi/4*d^2*density\n\
         mass = per_length*length\n\
         weight = mass*g_n",
    ),
    validity: VALIDITY,
    source: &[
        derived("geometry"),
        in_work("EN 10060", "", "tables print 3.85 kg/m for 25 mm and 15.4 kg/m for 50 mm round steel"),
    ],
    hazard: Some(Hazard::Lifting),
    example: "bar = mass_bar(d: 50 mm, length: 1 m, density: 7850 kg/m^3)\n\
              check bar.mass within 15.41 kg .. 15.42 kg",
    body: |call| bar(call, round_area(call.real("d"))),
};

pub(super) static SQUARE_BAR: Function = Function {
    name: "mass_flat",
    does: "mass of a square or flat bar, and per length",
    parameters: &[
        needed("width", LENGTH, "width of the section"),
        needed("thickness", LENGTH, "thickness of the section; the width again for a square"),
        BAR_LENGTH,
        MATERIAL,
        DENSITY,
    ],
    outputs: BAR_OUTPUTS,
    formula: lines(
        "per_length = width*thickness*density\n\
         mass = per_length*length\n\
         weight = mass*g_n",
    ),
    validity: VALIDITY,
    source: GEOMETRY,
    hazard: Some(Hazard::Lifting),
    example: "bar = mass_flat(width: 50 mm, thickness: 10 mm, length: 2 m, density: 7850 kg/m^3)\n\
              check bar.mass within 7.84 kg .. 7.86 kg",
    body: |call| bar(call, call.real("width") * call.real("thickness")),
};

pub(super) static HEXAGON_BAR: Function = Function {
    name: "mass_hexagon",
    does: "mass of a hexagon bar, and per length",
    parameters: &[
        needed("across_flats", LENGTH, "distance between two flats"),
        BAR_LENGTH,
        MATERIAL,
        DENSITY,
    ],
    outputs: BAR_OUTPUTS,
    formula: lines(
        "per_length = sqrt(3)/2*across_flats^2*density\n\
         mass = per_length*length\n\
         weight = mass*g_n",
    ),
    validity: VALIDITY,
    source: GEOMETRY,
    hazard: Some(Hazard::Lifting),
    example: "bar = mass_hexagon(across_flats: 30 mm, length: 1 m, density: 7850 kg/m^3)\n\
              check bar.mass within 6.11 kg .. 6.13 kg",
    body: |call| bar(call, call.real("across_flats").squared() * (0.75_f64.sqrt())),
};

pub(super) static TUBE: Function = Function {
    name: "mass_tube",
    does: "mass of a round tube or bush, and per length",
    parameters: &[
        needed("outer", LENGTH, "outside diameter"),
        needed("inner", LENGTH, "inside diameter"),
        BAR_LENGTH,
        MATERIAL,
        DENSITY,
    ],
    outputs: BAR_OUTPUTS,
    formula: lines(
        "per_length = pi/4*(outer^2 - inner^2)*density\n\
         mass = per_length*length\n\
         weight = mass*g_n",
    ),
    validity: VALIDITY,
    source: GEOMETRY,
    hazard: Some(Hazard::Lifting),
    example: "tube = mass_tube(outer: 60 mm, inner: 50 mm, length: 1 m, density: 7850 kg/m^3)\n\
              check tube.mass within 6.77 kg .. 6.79 kg",
    body: tube,
};

pub(super) static BOX_TUBE: Function = Function {
    name: "mass_box_tube",
    does: "mass of a square or rectangular tube, and per length",
    parameters: &[
        needed("width", LENGTH, "outside width"),
        needed("height", LENGTH, "outside height"),
        needed("wall", LENGTH, "thickness of the wall"),
        BAR_LENGTH,
        MATERIAL,
        DENSITY,
    ],
    outputs: BAR_OUTPUTS,
    formula: lines(
        "per_length = (width*height - (width - 2*wall)*(height - 2*wall))*density\n\
         mass = per_length*length\n\
         weight = mass*g_n",
    ),
    validity: "square corners: a rolled tube with round corners is 2 to 5 % lighter",
    source: GEOMETRY,
    hazard: Some(Hazard::Lifting),
    example: "tube = mass_box_tube(width: 100 mm, height: 100 mm, wall: 5 mm, length: 1 m, density: 7850 \
              kg/m^3)\n\
              check tube.mass within 14.9 kg .. 14.93 kg",
    body: box_tube,
};

pub(super) static PLATE: Function = Function {
    name: "mass_plate",
    does: "mass of a plate or block",
    parameters: &[
        needed("length", LENGTH, "length"),
        needed("width", LENGTH, "width"),
        needed("thickness", LENGTH, "thickness"),
        MATERIAL,
        DENSITY,
    ],
    outputs: OUTPUTS,
    formula: lines(
        "volume = length*width*thickness\n\
         mass = volume*density\n\
         weight = mass*g_n",
    ),
    validity: VALIDITY,
    source: &[
        derived("geometry"),
        in_work("I. J. Levinson, Statics and Strength of Materials", "", "Example 1.5"),
    ],
    hazard: Some(Hazard::Lifting),
    example: "plate = mass_plate(length: 3.5 ft, width: 1.75 ft, thickness: 1 in, density: 0.29 lb/in^3)\n\
              check plate.mass within 255 lb .. 257 lb",
    body: |call| solid(call, call.real("length") * call.real("width") * call.real("thickness")),
};

pub(super) static DISC: Function = Function {
    name: "mass_ring",
    does: "mass of a disc, flange or ring",
    parameters: &[
        needed("outer", LENGTH, "outside diameter"),
        or_number("inner", Takes::NotNegative(Dimension::LENGTH), 0.0, "diameter of the hole"),
        needed("thickness", LENGTH, "thickness"),
        MATERIAL,
        DENSITY,
    ],
    outputs: OUTPUTS,
    formula: lines(
        "volume = pi/4*(outer^2 - inner^2)*thickness\n\
         mass = volume*density\n\
         weight = mass*g_n",
    ),
    validity: VALIDITY,
    source: GEOMETRY,
    hazard: Some(Hazard::Lifting),
    example: "disc = mass_ring(outer: 400 mm, inner: 80 mm, thickness: 50 mm, density: 7200 kg/m^3)\n\
              check disc.mass within 43.4 kg .. 43.5 kg",
    body: disc,
};

pub(super) static CONE: Function = Function {
    name: "mass_cone",
    does: "mass of a taper: a cone or what is left of one when its tip is cut off",
    parameters: &[
        needed("large", LENGTH, "diameter at the thick end"),
        or_number("small", Takes::NotNegative(Dimension::LENGTH), 0.0, "diameter at the thin end"),
        needed("length", LENGTH, "length along the axis"),
        MATERIAL,
        DENSITY,
    ],
    outputs: OUTPUTS,
    formula: lines(
        "volume = pi*length/12*(large^2 + large*small + small^2)\n\
         mass = volume*density\n\
         weight = mass*g_n",
    ),
    validity: VALIDITY,
    source: GEOMETRY,
    hazard: Some(Hazard::Lifting),
    example: "taper = mass_cone(large: 300 mm, small: 200 mm, length: 2 m, density: 7200 kg/m^3)\n\
              check taper.mass within 716 kg .. 717 kg",
    body: cone,
};

pub(super) static BALL: Function = Function {
    name: "mass_ball",
    does: "mass of a ball",
    parameters: &[needed("d", LENGTH, "diameter"), MATERIAL, DENSITY],
    outputs: OUTPUTS,
    formula: lines(
        "volume = pi/6*d^3\n\
         mass = volume*density\n\
         weight = mass*g_n",
    ),
    validity: VALIDITY,
    source: GEOMETRY,
    hazard: Some(Hazard::Lifting),
    example: "ball = mass_ball(d: 100 mm, density: 7850 kg/m^3)\ncheck ball.mass within 4.10 kg .. 4.12 kg",
    body: |call| solid(call, call.real("d").cubed() * (PI / 6.0)),
};

pub(super) static VOLUME: Function = Function {
    name: "mass_of",
    does: "mass of a piece whose volume is known",
    parameters: &[needed("volume", Takes::Positive(Dimension::VOLUME), "volume of metal"), MATERIAL, DENSITY],
    outputs: OUTPUTS,
    formula: lines(
        "mass = volume*density\n\
         weight = mass*g_n",
    ),
    validity: VALIDITY,
    source: GEOMETRY,
    hazard: Some(Hazard::Lifting),
    example: "casting = mass_of(volume: 20 litre, density: 7200 kg/m^3)\n\
              check casting.mass within 143.9 kg .. 144.1 kg",
    body: |call| solid(call, call.real("volume")),
};

fn round_area(d: Real) -> Real {
    d.squared() * (PI / 4.0)
}

fn tube(call: &Call) -> Result<Answer, Refusal> {
    let inner = hole(call)?;
    bar(call, round_area(call.real("outer")) - round_area(inner))
}

fn box_tube(call: &Call) -> Result<Answer, Refusal> {
    let (width, height, wall) = (call.real("width"), call.real("height"), call.real("wall"));
    if 2.0 * wall >= width.min(height) {
        return Err(Refusal::of(
            "wall",
            "two walls are thicker than the tube",
            "Give the thickness of one wall; for a solid bar use `mass_flat`.",
        ));
    }
    bar(call, width * height - (width - 2.0 * wall) * (height - 2.0 * wall))
}

fn disc(call: &Call) -> Result<Answer, Refusal> {
    let inner = hole(call)?;
    solid(call, (round_area(call.real("outer")) - round_area(inner)) * call.real("thickness"))
}

fn cone(call: &Call) -> Result<Answer, Refusal> {
    let (large, small) = (call.real("large"), call.real("small"));
    let squares = large.squared() + large * small + small.squared();
    solid(call, squares * call.real("length") * (PI / 12.0))
}

/// The `inner` diameter, which must leave a wall inside `outer`.
fn hole(call: &Call) -> Result<Real, Refusal> {
    let (outer, inner) = (call.real("outer"), call.real("inner"));
    if inner >= outer {
        return Err(Refusal::of(
            "inner",
            "the hole is as large as the outside",
            "Give the inside diameter, smaller than `outer`.",
        ));
    }
    Ok(inner)
}

fn bar(call: &Call, area: Real) -> Result<Answer, Refusal> {
    let per_length = area * density(call)?;
    let mass = per_length * call.real("length");
    Ok(Answer::new().number("mass", mass).number("weight", mass * GRAVITY).number("per_length", per_length))
}

fn solid(call: &Call, volume: Real) -> Result<Answer, Refusal> {
    let mass = volume * density(call)?;
    Ok(Answer::new().number("mass", mass).number("weight", mass * GRAVITY).number("volume", volume))
}

fn density(call: &Call) -> Result<Real, Refusal> {
    if call.is_given("density") && call.field_of("material", "density").is_some() {
        return Err(Refusal::of(
            "density",
            "`material` and `density` are both given",
            "Leave one of them out.",
        ));
    }
    call.optional("density").ok_or_else(|| {
        Refusal::whole(
            "neither a material with a known density nor a density is given",
            "Add `material: material(\"S235JR\")` or `density: 7850 kg/m^3`.",
        )
    })
}
