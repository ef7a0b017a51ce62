//! What can hurt a person at the work: a closed vocabulary, each hazard with its usual caution and the words that name it.
//!
//! Every caution defers to local codes and licensed practice, for it stands in for neither. Common practice, no source.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use super::table::Table;
use crate::calc::function::Caution;
use crate::calc::suggest;

/// The words by which notes name hazards: `phrase,hazards`.
static WORDS: Table = Table::of(include_str!("data/hazard_words.csv"));

macro_rules! hazards {
    ($($name:ident $word:literal $caution:literal;)*) => {
        /// What can hurt a person at a piece of work.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Hazard {
            $(#[doc = $word] $name),*
        }

        impl Hazard {
            /// Every hazard, in the order in which they are printed.
            pub const ALL: &[Self] = &[$(Self::$name),*];

            /// Its word in a note: small letters, joined by hyphens.
            pub fn word(self) -> &'static str {
                match self {
                    $(Self::$name => $word),*
                }
            }

            /// The usual caution: sentences for whoever does the work.
            pub fn caution(self) -> &'static str {
                match self {
                    $(Self::$name => $caution),*
                }
            }
        }
    };
}

hazards! {
    Lifting "lifting"
        "Nobody under a load or in its way if it falls or swings. Rated, inspected gear only; crib under every jack. \
         A figure on paper approves no lift: the plan of a lift belongs to a competent person under the \
         local rules, and a lifting machine goes back to work only after the examination that those rules ask for.";
    ManualHandling "manual-handling"
        "Weigh a piece before it is carried; what one person cannot hold steady is for two, or for lifting gear. A clear \
         path, gloves, boots, and fingers out from under; local rules on carrying come first.";
    Pressing "pressing"
        "A press or a hot ring stores energy, and parts fly: stand out of the line of force, wear eye protection, \
         shield brittle parts such as cast iron and hardened rings and never strike them. Never go past the rating \
         of the frame, and stop when the force rises without movement; local rules come first.";
    HotWork "hot-work"
        "Paint, grease and linings give off poison when heated: take them off first. Never heat a closed hollow part, \
         which bursts, or a bearing past 120 °C. Fire watch during the work and after it; local rules come first.";
    CryogenicCooling "cryogenic-cooling"
        "Dry ice and liquid nitrogen burn the skin and displace the air: insulated gloves and a face shield, a well \
         ventilated room, never a closed vessel; local rules and the supplier's sheet come first.";
    LoadCarryingWeld "load-carrying-weld"
        "A weld that carries a load is designed, made and examined by qualified people under the code that holds \
         where the machine works. The sums here only help to ask the right question.";
    LoadCarryingPart "load-carrying-part"
        "Old iron has no certificate: strength is taken at its lower bound, and a part whose failure could hurt \
         someone is worked out, tested or replaced by an engineer licensed to do so; local codes come first.";
    StoredEnergy "stored-energy"
        "Chock, lash, let down or release whatever can fall, spin or spring before the part that holds it is touched; \
         isolate what drives it, lock it off and prove it; local rules come first.";
    Asbestos "asbestos"
        "Old friction linings, gaskets and lagging may hold asbestos. Do not scrape, file, brush or blow: leave it, \
         keep it damp and covered, have a sample tested by an accredited laboratory, and leave removal to those \
         licensed for it.";
    LeadPaint "lead-paint"
        "Old paint is taken to hold lead until a test says otherwise: strip it wet, never dry-sand or burn it, wear \
         the right mask, keep dust from home, and dispose of the waste as the local rules say.";
    Grinding "grinding"
        "Eyes, ears and lungs covered; guard in place, disc rated for the speed; sparks away from rags, solvent and paint \
         dust; local rules come first.";
    SilicaDust "silica-dust"
        "Dust of sand, stone and concrete scars the lungs for good: blast with no sand, work wet or with extraction, \
         wear a mask rated for it; local limits come first.";
    SolventsAndCaustics "solvents-and-caustics"
        "Gloves and goggles, fresh air, no flame; caustic eats aluminium and skin alike. Sprayed two-part paint wants \
         supplied air. Keep water at hand; the supplier's sheet and local rules come first.";
    FlammableVapour "flammable-vapour"
        "A tank that held fuel is never empty of vapour: no flame, spark or cutting until it has been cleaned and tested \
         free of gas by someone competent; local rules come first.";
    MovingMachinery "moving-machinery"
        "The limits of an old machine come before any computed speed. Lock it off before a hand goes in; guards on, \
         sleeves up, work clamped; local codes come first.";
    RoadTransport "road-transport"
        "Axle, coupling and brake limits are set by law and by the plates on the vehicle; the load is lashed so that \
         it cannot move. Weigh it when in doubt.";
    Pressure "pressure"
        "Air, steam, gas and hydraulic pressure store energy: vent and isolate before a joint is opened, never point a jet \
         at anyone, never test with air what can be tested with water. A pressure vessel is examined by a competent \
         person under the local rules before it is used.";
    WorkOverWater "work-over-water"
        "Life-jackets on, a line and a way out at hand, a second person on the bank; cold water disables within minutes. \
         The water's authority and local rules come first.";
    ConfinedSpace "confined-space"
        "A pit, tank or hollow casting can lack air or hold gas without a sign: nobody goes in before the air is tested \
         and someone trained stands outside with the means of rescue. Local rules ask for a permit; never follow in to help.";
    Electricity "electricity"
        "Isolate, lock off and prove dead before touching; treat every wire as live, and keep jibs and loads clear of \
         overhead lines. Electrical work is for those licensed for it under the local codes.";
    WorkAtHeight "work-at-height"
        "A platform with rails before a ladder; nothing loose overhead and nobody below; local rules on work at height \
         come first.";
    Excavation "excavation"
        "The sides of a trench, and boards that hold back water, give way without warning: shore or batter them, keep \
         spoil and machines back, find buried services first, and have a competent person look daily; local rules come first.";
    NoiseAndVibration "noise-and-vibration"
        "Ears covered and others warned; tools that shake numb the hands for good, so take turns and keep to the local \
         limits of time.";
    MouldAndDroppings "mould-and-droppings"
        "Damp it, do not sweep it dry; mask, gloves and washed hands. Water that rats have used carries infection: cover \
         cuts and see a doctor if ill after it; local health advice comes first.";
    LoneWorking "lone-working"
        "Nobody lifts, burns, climbs or works over water alone: somebody knows where you are and when you will call, and \
         can reach you; local rules come first.";
}

impl From<Caution> for Hazard {
    /// What can hurt someone who uses the result of a workshop function.
    fn from(caution: Caution) -> Self {
        match caution {
            Caution::Lifting => Self::Lifting,
            Caution::Pressing => Self::Pressing,
            Caution::HeatingAndCooling => Self::HotWork,
            Caution::LoadCarryingWeld => Self::LoadCarryingWeld,
            Caution::LoadCarryingPart => Self::LoadCarryingPart,
            Caution::RotatingMachine => Self::MovingMachinery,
            Caution::OldPaint => Self::LeadPaint,
            Caution::RoadTransport => Self::RoadTransport,
        }
    }
}

/// What a text says of hazards.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Named {
    pub hazards: BTreeSet<Hazard>,
    /// Every word of the text belongs to the name of a hazard.
    pub is_whole: bool,
}

/// Words that may stand between the names of hazards.
const LINKS: [&str; 3] = ["and", "or", "with"];

/// The hazards that a text names by whole words, in capitals or not, with hyphens or spaces between them.
pub fn named(text: &str) -> Named {
    let text = text.to_lowercase();
    let words: Vec<&str> =
        text.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let (mut named, mut only_names) = (Named::default(), true);
    let mut rest = words.as_slice();
    while let [first, tail @ ..] = rest {
        rest = if let Some(phrase) = longest(rest) {
            named.hazards.extend(&phrase.hazards);
            only_names &= !phrase.hazards.is_empty();
            &rest[phrase.words.len()..]
        } else {
            only_names &= LINKS.contains(first);
            tail
        };
    }
    named.is_whole = only_names && !named.hazards.is_empty();
    named
}

/// The word or phrase for a hazard that a text nearly is.
pub fn nearest(text: &str) -> Option<&'static str> {
    let text = text.to_lowercase();
    let spaced = text.replace(['-', '_'], " ");
    let own = Hazard::ALL.iter().map(|hazard| hazard.word());
    let naming = WORDS.rows().iter().filter(|row| !of_words(row.text("hazards")).is_empty());
    let others = naming.map(|row| row.text("phrase"));
    suggest::nearest(&text, own).or_else(|| suggest::nearest(&spaced, others))
}

/// Words in a row that name hazards, or none.
struct Phrase {
    words: Vec<&'static str>,
    hazards: Vec<Hazard>,
}

/// The longest phrase that these words begin with.
fn longest(words: &[&str]) -> Option<&'static Phrase> {
    phrases().iter().filter(|phrase| words.starts_with(&phrase.words)).max_by_key(|phrase| phrase.words.len())
}

/// The table of words, and the hazards' own.
fn phrases() -> &'static [Phrase] {
    static PHRASES: OnceLock<Vec<Phrase>> = OnceLock::new();
    PHRASES.get_or_init(|| {
        let own = Hazard::ALL.iter().map(|hazard| (hazard.word(), vec![*hazard]));
        let others = WORDS.rows().iter().map(|row| (row.text("phrase"), of_words(row.text("hazards"))));
        let phrase = |(text, hazards): (&'static str, Vec<Hazard>)| Phrase {
            words: text.split([' ', '-']).collect(),
            hazards,
        };
        own.chain(others).map(phrase).collect()
    })
}

fn of_words(words: &str) -> Vec<Hazard> {
    let of_word = |word| Hazard::ALL.iter().copied().find(|hazard| hazard.word() == word);
    words.split(' ').filter_map(of_word).collect()
}
