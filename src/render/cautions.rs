//! The usual cautions: where the work can hurt someone, and whom to ask. They defer to local codes and licensed practice.

use serde::Serialize;

use super::edition::{Edition, capital};
use crate::calc::function::Caution;
use crate::record::StepState;

/// A hazard of a step, or a caution of the reading chapter.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Warning {
    pub(super) topic: String,
    /// Empty in a dossier's step: it points at the chapter that says it.
    pub(super) says: String,
}

struct Usual {
    topic: &'static str,
    /// Words that a note uses for it.
    words: &'static [&'static str],
    caution: Option<Caution>,
    says: &'static str,
}

const USUAL: &[Usual] = &[
    Usual {
        topic: "lifting",
        words: &["lift", "sling", "hoist", "jack", "crane"],
        caution: Some(Caution::Lifting),
        says: "Nobody under a load or in its way if it falls or swings. Rated, inspected gear only; crib under every jack. \
               A figure on paper approves no lift: the plan of a lift belongs to a competent person under the \
               local rules, and a lifting machine goes back to work only after the examination that those rules ask for.",
    },
    Usual {
        topic: "pressing",
        words: &["press", "drive out", "pull"],
        caution: Some(Caution::Pressing),
        says: "A press or a hot ring stores energy, and parts fly: stand out of the line of force, wear eye protection, \
               shield brittle parts such as cast iron and hardened rings and never strike them. Never go past the rating \
               of the frame, and stop when the force rises without movement; local rules come first.",
    },
    Usual {
        topic: "hot work",
        words: &["hot work", "torch", "flame", "weld", "heat", "forge", "burn", "solder", "braz"],
        caution: Some(Caution::HeatingAndCooling),
        says: "Paint, grease and linings give off poison when heated: take them off first. Never heat a closed hollow part, \
               which bursts, or a bearing past 120 °C. Fire watch during the work and after it; local rules come first.",
    },
    Usual {
        topic: "load-carrying welds",
        words: &["load path", "structural weld"],
        caution: Some(Caution::LoadCarryingWeld),
        says: "A weld that carries a load is designed, made and examined by qualified people under the code that holds \
               where the machine works. The sums here only help to ask the right question.",
    },
    Usual {
        topic: "load-carrying parts",
        words: &["proof load", "overload", "test load"],
        caution: Some(Caution::LoadCarryingPart),
        says: "Old iron has no certificate: strength is taken at its lower bound, and a part whose failure could hurt \
               someone is worked out, tested or replaced by an engineer licensed to do so; local codes come first.",
    },
    Usual {
        topic: "stored energy",
        words: &["stored energy", "spring", "counterweight", "under load", "part under"],
        caution: None,
        says: "Chock, lash or let down whatever can fall, spin or spring before the part that holds it is touched.",
    },
    Usual {
        topic: "asbestos",
        words: &["asbestos", "lining"],
        caution: None,
        says: "Old friction linings, gaskets and lagging may hold asbestos. Do not scrape, file, brush or blow: leave it, \
               keep it damp and covered, have a sample tested by an accredited laboratory, and leave removal to those \
               licensed for it.",
    },
    Usual {
        topic: "old paint",
        words: &["paint", "lead"],
        caution: Some(Caution::OldPaint),
        says: "Old paint is taken to hold lead until a test says otherwise: strip it wet, never dry-sand or burn it, wear \
               the right mask, keep dust from home, and dispose of the waste as the local rules say.",
    },
    Usual {
        topic: "grinding",
        words: &["grind", "needle gun", "blast"],
        caution: None,
        says: "Eyes, ears and lungs covered; guard in place; sparks away from rags, solvent and paint dust.",
    },
    Usual {
        topic: "solvents and caustics",
        words: &["solvent", "caustic", "acid", "isocyanate"],
        caution: None,
        says: "Gloves and goggles, fresh air, no flame; caustic eats aluminium and skin alike. Keep water at hand.",
    },
    Usual {
        topic: "moving machinery",
        words: &["rotating", "lathe", "entangle"],
        caution: Some(Caution::RotatingMachine),
        says: "The limits of an old machine come before any computed speed. Lock it off before a hand goes in; guards on, \
               sleeves up, work clamped; local codes come first.",
    },
    Usual {
        topic: "road transport",
        words: &["road", "trailer", "transport", "lorry"],
        caution: Some(Caution::RoadTransport),
        says: "Axle, coupling and brake limits are set by law and by the plates on the vehicle; the load is lashed so that \
               it cannot move. Weigh it when in doubt.",
    },
];

/// What is said with the results of a workshop function, here and on the terminal alike.
pub fn caution_words(caution: Caution) -> &'static str {
    USUAL.iter().find(|usual| usual.caution == Some(caution)).map_or("", |usual| usual.says)
}

/// `hot-work` as `hot work`.
fn unhyphened(hazard: &str) -> String {
    hazard.replace(['-', '_'], " ")
}

fn usual(hazard: &str) -> Option<&'static Usual> {
    let hazard = unhyphened(hazard).to_lowercase();
    USUAL.iter().find(|usual| usual.words.iter().any(|word| hazard.contains(word)))
}

/// A word or two name a usual hazard; more are a sentence of the keeper's own, which is printed as it is.
const WORDS_OF_A_NAME: usize = 3;

fn is_name(hazard: &str) -> bool {
    unhyphened(hazard).split_whitespace().count() <= WORDS_OF_A_NAME
}

fn in_own_words(topic: &str, hazard: &str) -> Warning {
    let says = capital(hazard.trim());
    let says = if says.ends_with(['.', '!', '?']) { says } else { format!("{says}.") };
    Warning { topic: topic.to_owned(), says }
}

/// The hazards of a step as the dossier prints them: a usual one only by its topic.
pub(super) fn of_step(hazards: &[String]) -> Vec<Warning> {
    let one = |hazard: &String| Warning { topic: unhyphened(hazard), says: String::new() };
    let (known, own): (Vec<&String>, Vec<&String>) =
        hazards.iter().partition(|hazard| usual(hazard).is_some() && is_name(hazard));
    let own = own.into_iter().map(|hazard| in_own_words("at this step", hazard));
    known.into_iter().map(one).chain(own).collect()
}

/// The hazards of a step as its note words them, and those of the workshop functions that its working uses, each with
/// what is to be done in full.
pub(super) fn in_full(hazards: &[String], functions: &[Caution]) -> Vec<Warning> {
    let one = |usual_one: &Usual| {
        let is_named = |hazard: &&String| usual(hazard).is_some_and(|named| named.topic == usual_one.topic);
        let named: Vec<String> = hazards.iter().filter(is_named).map(|hazard| unhyphened(hazard)).collect();
        let is_called_for = usual_one.caution.is_some_and(|caution| functions.contains(&caution));
        let topic = if named.is_empty() { usual_one.topic.to_owned() } else { named.join(", ") };
        let warning = Warning { topic, says: usual_one.says.to_owned() };
        (is_called_for || !named.is_empty()).then_some(warning)
    };
    let own = hazards.iter().filter(|hazard| usual(hazard).is_none() || !is_name(hazard));
    let own = own.map(|hazard| in_own_words("at this job", hazard));
    USUAL.iter().filter_map(one).chain(own).collect()
}

/// The cautions that the notes of this machine call for, in a fixed order.
pub(super) fn of_machine(edition: &Edition) -> Vec<Warning> {
    let open = edition.dossier().steps.iter().filter(|step| step.state != StepState::Dropped);
    let hazards: Vec<&'static str> = open
        .flat_map(|step| &step.hazards)
        .filter_map(|hazard| usual(hazard))
        .map(|usual| usual.topic)
        .collect();
    let of_functions: Vec<Caution> =
        edition.project.worked.evaluation.used.iter().filter_map(|function| function.caution).collect();
    USUAL
        .iter()
        .filter(|usual| {
            hazards.contains(&usual.topic)
                || usual.caution.is_some_and(|caution| of_functions.contains(&caution))
        })
        .map(|usual| Warning { topic: usual.topic.to_owned(), says: usual.says.to_owned() })
        .collect()
}
