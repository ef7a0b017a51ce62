//! Coating: the area of a piece, the paint it takes, how thick the wet film must go on.
//!
//! Takes: sizes, film thicknesses and the solids that the data sheet states. Gives: areas, volumes, film
//! thicknesses. Never: says what may be stripped or sprayed; old paint may hold lead or worse, and its own
//! rules apply.

use super::declare::{by_formula, derived, lines, needed, or_number, practice, quantity};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Absent, Answer, Call, Function, Output, Parameter, Refusal, Source, Takes};
use crate::calc::real::Real;
use crate::hazard::Hazard;

const LENGTH: Takes = Takes::Positive(Dimension::LENGTH);
const SOLIDS: Parameter =
    needed("solids", Takes::Positive(Dimension::NONE), "solids by volume, from the data sheet (65 %)");
const DRY_FILM: Parameter = needed("dry_film", LENGTH, "thickness of one coat when dry");
const THINNER: Parameter =
    or_number("thinner", Takes::NotNegative(Dimension::NONE), 0.0, "thinner added, over the paint's volume");
const AREA: Output = quantity("area", Dimension::AREA, ["m^2", "ft^2"], "surface to coat");
const SHEET: &str = "solids by volume, not by weight; smooth steel. A blasted profile takes more: the \
                     maker's sheet says how much";
const SPREADING: &[Source] = &[derived(
    "definition of the spreading rate, coating data sheets, general information (65 %, 5 mil: 208.52 ft2/gal; 125 um: 5.2 m2/litre)",
)];

/// The functions of this family.
pub const FUNCTIONS: &[&Function] = &[&PAINT, &SPREADING_RATE, &WET_FILM, &SURFACE_ROUND, &SURFACE_BLOCK];

static PAINT: Function = Function {
    name: "paint",
    does: "paint to buy for an area, and the wet film to gauge",
    parameters: &[
        needed("area", Takes::Positive(Dimension::AREA), "surface to coat"),
        DRY_FILM,
        SOLIDS,
        or_number("coats", Takes::Count, 1.0, "coats of that thickness; one if it is left out"),
        or_number(
            "loss",
            Takes::NotNegative(Dimension::NONE),
            0.3,
            "share lost: brush 10 %, spray 20 to 50 %",
        ),
        THINNER,
    ],
    outputs: &[
        quantity("volume", Dimension::VOLUME, ["L", "L"], "paint to buy, thinner not counted"),
        quantity("wet_film", Dimension::LENGTH, ["um", "thou"], "thickness of each coat while wet"),
    ],
    formula: lines(
        "volume = area*dry_film*coats/(solids*(1 - loss))\n\
         wet_film = dry_film*(1 + thinner)/solids",
    ),
    validity: SHEET,
    source: &[
        derived("definition of the spreading rate, coating data sheets, general information"),
        practice("losses"),
    ],
    hazard: Some(Hazard::LeadPaint),
    example: "primer = paint(area: 12 m^2, dry_film: 75 um, solids: 60 %, coats: 2, loss: 30 %)\n\
              check primer.volume within 4.28 litre .. 4.29 litre\n\
              check primer.wet_film within 124 um .. 126 um",
    body: paint,
};

static SPREADING_RATE: Function = Function {
    name: "spreading_rate",
    does: "area that a volume of paint covers in one coat",
    parameters: &[
        SOLIDS,
        DRY_FILM,
        or_number("loss", Takes::NotNegative(Dimension::NONE), 0.0, "share lost on the way"),
    ],
    outputs: &[quantity("rate", Dimension::of(-1, 0, 0), ["m^2/L", "m^2/L"], "area for a volume")],
    formula: lines("rate = solids*(1 - loss)/dry_film"),
    validity: SHEET,
    source: SPREADING,
    hazard: Some(Hazard::LeadPaint),
    example: "rate = spreading_rate(solids: 65 %, dry_film: 125 um)\n\
              check rate within 5.19 m^2/litre .. 5.21 m^2/litre",
    body: spreading_rate,
};

static WET_FILM: Function = Function {
    name: "wet_film",
    does: "wet film thickness that dries to the wanted one",
    parameters: &[DRY_FILM, SOLIDS, THINNER],
    outputs: &[quantity("wet_film", Dimension::LENGTH, ["um", "thou"], "thickness while wet")],
    formula: lines("wet_film = dry_film*(1 + thinner)/solids"),
    validity: "gauged at once, before the thinner flies off",
    source: &[derived("definition of solids by volume, coating data sheets, general information")],
    hazard: Some(Hazard::LeadPaint),
    example: "wet = wet_film(dry_film: 75 um, solids: 50 %, thinner: 10 %)\n\
              check wet within 164 um .. 166 um",
    body: |call| Ok(Answer::new().number("wet_film", wet(call)?)),
};

static SURFACE_ROUND: Function = Function {
    name: "surface_round",
    does: "surface of a round bar, drum or tank",
    parameters: &[
        needed("d", LENGTH, "outside diameter"),
        needed("length", LENGTH, "length"),
        Parameter {
            name: "ends",
            takes: Takes::Truth,
            absent: Absent::Truth(false),
            meaning: "whether both flat ends are coated",
        },
    ],
    outputs: &[AREA],
    formula: lines("area = pi*d*length + (if ends then pi/2*d^2 else 0 m^2)"),
    validity: "smooth outside only",
    source: &[derived("geometry")],
    hazard: None,
    example: "post = surface_round(d: 300 mm, length: 4 m, ends: true)\n\
              check post within 3.90 m^2 .. 3.92 m^2",
    body: by_formula,
};

static SURFACE_BLOCK: Function = Function {
    name: "surface_block",
    does: "surface of a plate or block, all six faces",
    parameters: &[
        needed("length", LENGTH, "length"),
        needed("width", LENGTH, "width"),
        needed("thickness", LENGTH, "thickness"),
    ],
    outputs: &[AREA],
    formula: lines("area = 2*(length*width + length*thickness + width*thickness)"),
    validity: "smooth faces",
    source: &[derived("geometry")],
    hazard: None,
    example: "plate = surface_block(length: 2 m, width: 1 m, thickness: 10 mm)\n\
              check plate within 4.05 m^2 .. 4.07 m^2",
    body: by_formula,
};

fn paint(call: &Call) -> Result<Answer, Refusal> {
    let coats = call.count("coats");
    let one_coat = call.real("area") * call.real("dry_film") / (solids(call)? * kept(call)?);
    Ok(Answer::new().number("volume", one_coat * f64::from(coats)).number("wet_film", wet(call)?))
}

fn spreading_rate(call: &Call) -> Result<Answer, Refusal> {
    Ok(Answer::new().number("rate", solids(call)? * kept(call)? / call.real("dry_film")))
}

fn wet(call: &Call) -> Result<Real, Refusal> {
    Ok(call.real("dry_film") * (1.0 + call.real("thinner")) / solids(call)?)
}

fn solids(call: &Call) -> Result<Real, Refusal> {
    let solids = call.real("solids");
    if solids > 1.0 {
        return Err(Refusal::of(
            "solids",
            "more than 100 % solids",
            "Give the solids by volume, such as 65 %.",
        ));
    }
    Ok(solids)
}

/// The share of the paint that stays on the piece.
fn kept(call: &Call) -> Result<Real, Refusal> {
    let loss = call.real("loss");
    if loss >= 1.0 {
        return Err(Refusal::of("loss", "all the paint is lost", "Give a share below 100 %, such as 30 %."));
    }
    Ok(1.0 - loss)
}
