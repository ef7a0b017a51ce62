//! What can hurt a person at the work: a closed vocabulary, each hazard with its usual caution.
//!
//! Takes: nothing. Gives: the word of a hazard, and what is said of it. Never: knows where a hazard was named.
//!
//! Every caution defers to local codes and licensed practice, for it stands in for neither. Common practice, no source.

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
