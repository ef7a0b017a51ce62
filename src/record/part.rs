//! A piece or an assembly.

use super::declare::record;
use super::fields::{Fields, Word};
use super::form::{
    Field, Reads, by, child, count, date, estimate, items, link, links, one, place_of, positive, sides, text,
    texts, truth, typed, word,
};
use super::key::Form;
use super::links::{TypedPart, without_links};
use super::shape::{self, Hold, Shaped};
use super::upkeep::Upkeep;
use super::{AsTyped, Dated, Estimate, Links, Typed};
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::record::problems as problem;
use crate::text::Span;

record! {
    /// A piece or an assembly of the machine. Mass and cost are for one piece.
    pub struct Part<L> of "a part" {
        /// What it is called.
        name: String = text().needed("say in a word or two what it is");
        /// The assembly it belongs to.
        within: Option<L::Part> = link::<TypedPart>();
        /// How many there are; 1 where nothing is said.
        quantity: u32 = count().or(1);
        /// What it is made of; of a name of the table its density and strength are known.
        material: Option<String> = text();
        /// The mass of one piece; of an assembly, as weighed whole.
        mass: Option<Literal> = positive(Dimension::MASS);
        /// The box it fits in: length, width, height.
        envelope: Option<Envelope> = envelope();
        /// What is to become of it; left out, it is undecided.
        disposition: Disposition = word().or(Disposition::Undecided);
        /// The parts in whose place this one goes.
        replaces: Vec<L::Part> = links::<TypedPart>();
        /// It sits where the replaced ones sat: within the same assembly, trapped by the same parts, and trapping the same.
        sits_as_before: bool = truth().or(true);
        /// A standard one: `51110`, `M12 x 1.75`.
        designation: Option<String> = text();
        /// What one piece costs.
        cost: Option<Estimate> = estimate(Dimension::MONEY);
        /// The time of delivery.
        lead: Option<Estimate> = estimate(Dimension::TIME);
        /// Who sells or makes it.
        from: Option<String> = text();
        /// What it is cut from.
        stock: Option<Stock> = child::<Stock>();
        /// How far a part that is bought has come.
        supply: Supply = word().or(Supply::Needed);
        /// The day of the order.
        ordered_on: Option<Dated> = date();
        /// What it runs or sits in, and how.
        fit: Option<Fit<L>> = child::<Fit<AsTyped>>();
        /// The parts that must come off before this one can.
        trapped_by: Vec<L::Part> = links::<TypedPart>();
        /// Witness marks, shims, which way round it sat: shown again at the step that refits it.
        marks: Vec<String> = texts();
        /// Inspection, grease: what comes round again once the machine is at work.
        upkeep: Vec<Upkeep> = items::<Upkeep>();
        /// What it looks like, to be drawn and made.
        shape: Option<Shaped<L>> = one(Form::Keys(shape::mapping), shape::read);
    }
}

record! {
    /// What a part is cut from.
    pub struct Stock of "the stock of a part" {
        /// What bar, plate or tube, in words: `round 2 1/2 in, C93200`.
        section: String = text().needed("say what bar, plate or tube it is cut from");
        /// The length of one piece.
        length: Option<Literal> = positive(Dimension::LENGTH);
        /// How many pieces are cut.
        pieces ("quantity", "in_all"): Pieces = pieces();
    }
}

record! {
    /// What a part runs or sits in, and how.
    pub struct Fit<L> of "a fit" {
        /// The part it fits.
        with: L::Part = link::<TypedPart>().needed("name the part it fits");
        /// The size both share.
        at: Literal = positive(Dimension::LENGTH).needed("give the size both share");
        /// Where the size stands.
        at_place (): Span = place_of("at");
        /// The class of ISO 286 (`H7/f7`) or of ANSI B4.1 (`RC4`).
        class: Typed = typed(Form::Text).needed("give its class");
    }
}

without_links!(Envelope, Disposition, Supply);

impl<L: Links> Part<L> {
    /// What is on hold in its shape.
    pub fn holds(&self) -> &[Hold<L>] {
        self.shape.as_ref().map_or(&[], |shaped| &shaped.holds)
    }
}

/// The box a part fits in: length, width, height, in metres.
#[derive(Clone, Debug)]
pub struct Envelope {
    pub length: Literal,
    pub width: Literal,
    pub height: Literal,
}

/// What is to become of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Disposition {
    Reuse,
    Rework,
    Make,
    Buy,
    Scrap,
    Undecided,
}

/// How many pieces of stock are cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pieces {
    /// So many for one part.
    Each(u32),
    /// So many for all parts of the whole machine.
    InAll(u32),
}

impl Pieces {
    /// The pieces for so many parts.
    pub fn of(self, parts: u32) -> u32 {
        match self {
            Self::Each(pieces) => pieces.saturating_mul(parts),
            Self::InAll(pieces) => pieces,
        }
    }
}

/// How far a bought part has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Supply {
    Needed,
    Ordered,
    Received,
    Fitted,
}

impl Word for Disposition {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("reuse", Self::Reuse),
        ("rework", Self::Rework),
        ("make", Self::Make),
        ("buy", Self::Buy),
        ("scrap", Self::Scrap),
        ("undecided", Self::Undecided),
    ];
}

impl Word for Supply {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("needed", Self::Needed),
        ("ordered", Self::Ordered),
        ("received", Self::Received),
        ("fitted", Self::Fitted),
    ];
}

impl Disposition {
    /// The word as a person types it.
    pub fn word(self) -> &'static str {
        super::fields::word_of(self)
    }
}

impl Supply {
    /// Whether the part is there, in the shop or on the machine.
    pub fn is_here(self) -> bool {
        matches!(self, Self::Received | Self::Fitted)
    }

    /// The word as a person types it.
    pub fn word(self) -> &'static str {
        super::fields::word_of(self)
    }
}

fn envelope() -> Field<1, impl Reads<1, Option<Envelope>>> {
    sides("three lengths, `11 ft x 9 in x 9 in`").map(|[length, width, height]| Envelope {
        length,
        width,
        height,
    })
}

fn pieces() -> Field<2, impl Reads<2, Pieces>> {
    let read = |fields: &mut Fields, [each, in_all]: [&'static str; 2]| {
        let (for_each, for_all) = (fields.count(each), fields.count(in_all));
        if let Some(node) = fields.node(in_all).filter(|_| for_each.is_some()) {
            fields.reader.problems.push(problem::pieces_twice(node.span));
        }
        Some(for_all.map_or(Pieces::Each(for_each.unwrap_or(1)), Pieces::InAll))
    };
    by([Form::Count; 2], read)
        .each_says(["How many, for each part; 1 where nothing is said.", "How many, for all parts together."])
}
