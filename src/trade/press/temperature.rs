//! Shrinking on: how warm, how cold.

use super::{D, HUB, INTERFERENCE, SHAFT, SIZE_OR_NONE, property};
use crate::calc::dimension::Dimension;
use crate::calc::function::{Answer, Call, Function, Output, Refusal, Takes};
use crate::hazard::Hazard;
use crate::trade::declare::{in_work, lines, needed, or_number, practice, quantity};
use crate::trade::say;

/// A difference of temperature; in kelvin everywhere, as the temperatures are in degrees Celsius.
const fn warmer(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::TEMPERATURE, ["K", "K"], meaning)
}

/// A temperature on its scale.
const fn temperature(name: &'static str, meaning: &'static str) -> Output {
    quantity(name, Dimension::TEMPERATURE, ["degC", "degC"], meaning)
}

/// Boiling point of liquid nitrogen, in kelvin: below it nothing in a shop cools.
const LIQUID_NITROGEN: f64 = 77.0;
/// Above this, tempered steel begins to lose its temper (120 °C for a rolling bearing).
const TEMPER: f64 = 473.15;

pub(super) static SHRINK_TEMPERATURES: Function = Function {
    name: "shrink_temperatures",
    does: "how warm the hub or how cold the shaft must be to go together without force",
    parameters: &[
        D,
        INTERFERENCE,
        needed(
            "clearance",
            SIZE_OR_NONE,
            "diametral clearance wanted while assembling; a thousandth of d is common practice",
        ),
        HUB,
        SHAFT,
        or_number("room", Takes::TemperaturePoint, 293.15, "temperature of both before; 20 °C if not given"),
    ],
    outputs: &[
        warmer("rise", "how much warmer the hub must be, the shaft at room temperature"),
        temperature("heat_to", "temperature of the hub"),
        warmer("drop", "how much colder the shaft must be, the hub at room temperature"),
        temperature("cool_to", "temperature of the shaft"),
    ],
    formula: lines(
        "rise = (interference + clearance)/(hub.cte*d)\n\
         heat_to = room + rise\n\
         drop = (interference + clearance)/(shaft.cte*d)\n\
         cool_to = room - drop",
    ),
    validity: "mean expansion from 20 to 100 °C; in deep cold metals shrink less than this, by a third at \
               liquid nitrogen",
    source: &[
        in_work("A. C. Ugural and S. K. Fenster, Advanced Strength and Applied Elasticity", "", "ch. 8"),
        practice("the clearance"),
    ],
    hazard: Some(Hazard::HotWork),
    example: r#"warm = shrink_temperatures(d: 400 mm, interference: 0.2 mm, clearance: 0.1 mm,
                           hub: material("S235JR"), shaft: material("S235JR"))
check warm.rise within 57 K .. 69 K   "0.3/(400 x 11 to 13e-6)""#,
    body: shrink_temperatures,
};

fn shrink_temperatures(call: &Call) -> Result<Answer, Refusal> {
    let strain = (call.real("interference") + call.real("clearance")) / call.real("d");
    let rise = strain / property(call, "hub", "cte")?;
    let drop = strain / property(call, "shaft", "cte")?;
    let (hot, cold) = (call.real("room") + rise, call.real("room") - drop);
    let mut answer = Answer::new()
        .number("rise", rise)
        .number("heat_to", hot)
        .number("drop", drop)
        .number("cool_to", cold);
    if hot > TEMPER {
        let celsius = say::figures(hot.value() - 273.15);
        answer = answer.warn(format!(
            "heating to {celsius} °C draws the temper of hardened parts (rolling bearings: 120 °C)"
        ));
    }
    if cold < LIQUID_NITROGEN {
        answer = answer
            .warn("cooling alone will not do: that is colder than liquid nitrogen; heat the hub as well");
    }
    Ok(answer)
}
