//! What is wrong with a shape, in words: each fault at its own place.

use super::Wrong;
use crate::diagnostic::{Code, Problem, codes};
use crate::dossier::Resolved;
use crate::record::{Head, Shaped};
use crate::shape::{Chain, Fault, Key, Lacking, Unit};
use crate::text::Span;

/// Openings this near to each other touch, m.
const TOUCHES: f64 = 1e-9;

/// `12.5 mm`
pub(super) fn length(metres: f64, unit: Unit) -> String {
    let decimals = if unit == Unit::Inch { 4 } else { 3 };
    let text = format!("{:.decimals$}", metres / unit.metres());
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{} {}", if text == "-0" { "0" } else { text }, unit.symbol())
}

/// The typed mass of a part is not that of its shape.
pub(super) fn mass(part: &Head, typed: &str, worked_out: &str) -> Problem {
    let message = format!(
        "the shape comes to {worked_out} by its volume and the material's density, and the mass is {typed}"
    );
    Problem::new(&codes::SHAPE_MASS, part.at("mass"), message)
        .help("Look for a wrong size in the shape, or weigh the part.")
        .about(&part.id)
}

/// A part can't be cut from its stock.
pub(super) fn stock(part: &Head, section: &str, needed: &str) -> Problem {
    let message = format!("the part can't be cut from `{section}`: it needs {needed}");
    Problem::new(&codes::SHAPE_STOCK, part.at("stock"), message)
        .help("Take a larger piece, or look for a wrong size in the shape.")
        .about(&part.id)
}

/// Limits on a shape that are not those of a fit at the same size: where and which, and the fit's class, place and limits.
pub(super) fn fit(
    part: &Head,
    (at, own): (Span, &str),
    (class, of_fit, wanted): (&str, Span, &str),
) -> Problem {
    let message = format!("this is made from {own}, and the fit {class} at the same size asks for {wanted}");
    Problem::new(&codes::SHAPE_FIT, at, message)
        .also(of_fit, "the fit")
        .help("Give the size the limits of the fit, or mend the fit: the drawing prints these, the dossier those.")
        .about(&part.id)
}

/// Whose shape it is, and in which unit its lengths are said.
pub(super) struct Say<'a> {
    pub(super) shaped: &'a Shaped<Resolved>,
    pub(super) id: &'a str,
    pub(super) unit: Unit,
}

impl Say<'_> {
    fn at(&self, key: Key, code: &'static Code, message: String, help: &str) -> Problem {
        Problem::new(code, self.shaped.place(key), message).help(help).about(self.id)
    }

    fn length(&self, metres: f64) -> String {
        length(metres, self.unit)
    }

    /// A size without limits or without a figure.
    pub(super) fn wrong(&self, key: Key, wrong: &Wrong) -> Problem {
        match wrong {
            Wrong::Class(refusal) => {
                self.at(key, &codes::SHAPE_CLASS, refusal.message.clone(), &refusal.help)
            }
            Wrong::NoLength(dimension) => {
                let name = dimension.and_then(|dimension| dimension.name());
                let found = name.map_or_else(String::new, |name| format!(" of the kind {name}"));
                let message =
                    format!("a size is a length, and this expression gives another quantity{found}");
                self.at(key, &codes::SHAPE_SIZE, message, "Mend the expression, or give it a unit of length.")
            }
        }
    }

    pub(super) fn fault(&self, fault: &Fault) -> Problem {
        match fault {
            Fault::NotPositive { .. }
            | Fault::LimitsReversed { .. }
            | Fault::Count { .. }
            | Fault::TooLarge { .. }
            | Fault::NothingCut { .. } => self.of_size(fault),
            Fault::Missing { .. }
            | Fault::GivenTwice { .. }
            | Fault::NothingLeft { .. }
            | Fault::ChainTooWide { .. } => self.of_lengths(fault),
            Fault::BoreOutside { .. }
            | Fault::BoreTooDeep { .. }
            | Fault::DrillTooShort { .. }
            | Fault::BoreHidden { .. }
            | Fault::SameDepth { .. } => self.of_bore(fault),
            _ => self.of_place(fault),
        }
    }

    fn of_size(&self, fault: &Fault) -> Problem {
        let code = &codes::SHAPE_SIZE;
        let (message, help) = match fault {
            Fault::NotPositive { value, .. } => (
                format!("this size is {}, and no part can have it", self.length(*value)),
                "Give a length above zero.",
            ),
            Fault::LimitsReversed { .. } => (
                "the lower limit is above the upper".to_owned(),
                "Write the upper limit first: `40 mm +0.2/-0`; of two sizes the smaller first: `40 mm .. 40.2 mm`.",
            ),
            Fault::Count { count, .. } => (
                format!("nobody can make {count} of them here"),
                "Flats are 2, 4 or 6; holes on a circle at least 1.",
            ),
            Fault::TooLarge { value, room, .. } => (
                format!("this is {}, and there is room for {}", self.length(*value), self.length(*room)),
                "Make it smaller, or what it is on larger.",
            ),
            Fault::NothingCut { value, there, .. } => (
                format!(
                    "a cut to {} takes nothing away: the part measures {} here",
                    self.length(*value),
                    self.length(*there)
                ),
                "Give a size that takes metal away, or check where it is.",
            ),
            _ => (String::new(), ""),
        };
        self.at(fault.key(), code, message, help)
    }

    fn of_lengths(&self, fault: &Fault) -> Problem {
        let code = &codes::SHAPE_LENGTHS;
        let (message, help) = match fault {
            Fault::Missing { what, .. } => lacking(*what),
            Fault::GivenTwice { typed, sum, .. } => (
                format!(
                    "the lengths add up to {}, and the whole is {}",
                    self.length(*sum),
                    self.length(*typed)
                ),
                "Leave out `overall` or one `long`, or mend the wrong figure.",
            ),
            Fault::NothingLeft { left, .. } => (
                format!("the other lengths leave {} for this one", self.length(*left)),
                "Mend `overall` or one of the other lengths.",
            ),
            Fault::ChainTooWide { chain, .. } => (
                self.chain(chain),
                "Leave out `long` of the length that matters least, or give the lengths closer limits.",
            ),
            _ => (String::new(), ""),
        };
        self.at(fault.key(), code, message, help)
    }

    fn chain(&self, chain: &Chain) -> String {
        let ends = |(low, high): (f64, f64)| format!("{} to {}", self.length(low), self.length(high));
        let likely = if chain.holds_likely() { "within" } else { "also outside" };
        format!(
            "the lengths within their limits can come to {}, and the whole may be {}; by the root of squares they come to \
             {}, {likely} the limits",
            ends(chain.worst),
            ends(chain.permitted),
            ends(chain.likely)
        )
    }

    fn of_bore(&self, fault: &Fault) -> Problem {
        let code = &codes::SHAPE_BORE;
        let (message, help) = match fault {
            Fault::BoreOutside { at, bore_d, outside_d, .. } => (
                format!(
                    "the bore of {} leaves no wall: the outside is {} at {} from the left face",
                    self.length(*bore_d),
                    self.length(*outside_d),
                    self.length(*at)
                ),
                "Make the bore smaller or less deep, or the outside larger.",
            ),
            Fault::BoreTooDeep { deep, length, .. } => (
                format!(
                    "the bore is {} deep, and the part {} long",
                    self.length(*deep),
                    self.length(*length)
                ),
                "Write `deep: through`, or a smaller depth.",
            ),
            Fault::DrillTooShort { drill, thread, .. } => (
                format!(
                    "the drilling is {} deep, and the thread {}",
                    self.length(*drill),
                    self.length(*thread)
                ),
                "Drill deeper than the thread: a tap has a lead.",
            ),
            Fault::BoreHidden { .. } => (
                "another bore is wider and deeper, so that nothing is left of this one".to_owned(),
                "Mend its diameter or its depth, or leave it out.",
            ),
            _ => (
                "two bores from one face are equally deep".to_owned(),
                "Mend one depth: the narrower bore goes deeper.",
            ),
        };
        let problem = self.at(fault.key(), code, message, help);
        match fault {
            Fault::BoreHidden { behind: other, .. } | Fault::SameDepth { one: other, .. } => {
                problem.also(self.shaped.place(*other), "the other bore")
            }
            _ => problem,
        }
    }

    fn of_place(&self, fault: &Fault) -> Problem {
        let code = if matches!(fault, Fault::NameUnknown { .. } | Fault::NameTwice { .. }) {
            &codes::SHAPE_NAME
        } else {
            &codes::SHAPE_PLACE
        };
        let (message, help) = self.placed(fault);
        let problem = self.at(fault.key(), code, message, help);
        match fault {
            Fault::CutsMeet { one, .. }
            | Fault::NameTwice { one, .. }
            | Fault::OutlineCrosses { one, .. }
            | Fault::HolesMeet { one, .. } => problem.also(self.shaped.place(*one), "the other one"),
            _ => problem,
        }
    }

    fn placed(&self, fault: &Fault) -> (String, &'static str) {
        match fault {
            Fault::CutOutside { from, to, length, .. } => (
                format!(
                    "the cut reaches from {} to {}, and the part from 0 to {}",
                    self.length(*from),
                    self.length(*to),
                    self.length(*length)
                ),
                "`at` counts from the left face: to the middle of a hole, to the left end of everything else.",
            ),
            Fault::CutTooLarge { value, room, .. } => (
                format!(
                    "a cut of {} does not leave metal: there is {}",
                    self.length(*value),
                    self.length(*room)
                ),
                "Make it smaller, or put it where the part is thicker.",
            ),
            Fault::CutsMeet { .. } => {
                ("two cuts overlap".to_owned(), "Move one of them, or make them one cut.")
            }
            Fault::ThreadWithoutCore { .. } => {
                ("the pitch of this thread leaves no core".to_owned(), "Check the diameter and the pitch.")
            }
            Fault::NoBore { .. } => (
                "there is no bore all along this groove to cut it in".to_owned(),
                "Give the bore under `bored`, or move the groove.",
            ),
            Fault::NameUnknown { name, .. } => {
                (format!("no feature of this part is called `{name}`"), "Name features with `as:`.")
            }
            Fault::NameTwice { .. } => {
                ("two features have one name".to_owned(), "Give one of them another name.")
            }
            Fault::OutlineCrosses { .. } => (
                "the outline crosses or touches itself".to_owned(),
                "List the corners in the order in which one goes round the part.",
            ),
            Fault::HoleOutside { wall, .. } => {
                (self.wall(*wall, "the outline"), "Move it inwards or make it smaller.")
            }
            Fault::HolesMeet { wall, .. } => {
                (self.wall(*wall, "the other opening"), "Move one, or make it smaller.")
            }
            _ => (String::new(), ""),
        }
    }

    fn wall(&self, wall: f64, other: &str) -> String {
        if wall < -TOUCHES {
            format!("this opening cuts into {other} by {}", self.length(-wall))
        } else {
            format!("this opening leaves no metal to {other}")
        }
    }
}

fn lacking(what: Lacking) -> (String, &'static str) {
    let (message, help) = match what {
        Lacking::Length => (
            "this has no length, and nothing says what the whole comes to",
            "Give `long`; of one length it may be left out where `overall` is given.",
        ),
        Lacking::Nominal => {
            ("this size has no figure", "Give a length, or `{hold: why}` until it is measured.")
        }
        Lacking::UndercutDiameter => (
            "this undercut has no diameter",
            "Write `undercut: {wide: 3 mm, d: 20 mm}`; only a thread's follows from its pitch.",
        ),
        Lacking::Outside => ("the part has no outside", "List the lengths of the outside under `turned`."),
        Lacking::TreatedReach => (
            "nothing says how far from this corner the treatment reaches",
            "Add `within: 25 mm`: what lies so near to the corner is treated.",
        ),
        Lacking::Corners => ("an outline has at least three corners", "List them in order round the part."),
    };
    (message.to_owned(), help)
}
