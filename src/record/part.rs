//! A piece or an assembly.

use super::fields::{Fields, Word};
use super::shape::{self, Shaped};
use super::upkeep::{self, Upkeep};
use super::{AsTyped, Dated, Estimate, Links, Typed};
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::record::problems as problem;
use crate::text::Span;

/// A piece or an assembly of the machine. Mass and cost are for one piece.
#[derive(Clone, Debug)]
pub struct Part<L: Links> {
    pub name: String,
    /// The assembly it belongs to.
    pub within: Option<L::Part>,
    pub quantity: u32,
    pub material: Option<String>,
    /// Of one piece; of an assembly, as weighed whole.
    pub mass: Option<Literal>,
    pub envelope: Option<Envelope>,
    pub disposition: Disposition,
    /// The parts in whose place this one goes.
    pub replaces: Vec<L::Part>,
    /// It sits where they sat: within the same assembly, trapped by the same parts, and trapping the same.
    pub sits_as_before: bool,
    /// A standard one: `51110`, `M12 x 1.75`.
    pub designation: Option<String>,
    /// Of one piece.
    pub cost: Option<Estimate>,
    /// Delivery time.
    pub lead: Option<Estimate>,
    /// Who sells or makes it.
    pub from: Option<String>,
    pub stock: Option<Stock>,
    pub supply: Supply,
    pub ordered_on: Option<Dated>,
    pub fit: Option<Fit<L>>,
    /// The parts that must come off before this one can.
    pub trapped_by: Vec<L::Part>,
    /// Witness marks, shims, which way round it sat: shown again at the step that refits it.
    pub marks: Vec<String>,
    /// Inspection, grease: what comes round again once the machine is at work.
    pub upkeep: Vec<Upkeep>,
    /// What it looks like, to be drawn and made.
    pub shape: Option<Shaped>,
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

/// What a part is cut from.
#[derive(Clone, Debug)]
pub struct Stock {
    /// In words: `round 2 1/2 in, C93200`.
    pub section: String,
    /// Of one piece, in metres.
    pub length: Option<Literal>,
    pub pieces: Pieces,
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

/// What a part runs or sits in, and how.
#[derive(Clone, Debug)]
pub struct Fit<L: Links> {
    pub with: L::Part,
    /// The size both share, in metres.
    pub at: Literal,
    /// Where the size stands.
    pub at_place: Span,
    /// `H7/f7`, `RC4`.
    pub class: Typed,
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

pub(super) const KEYS: &[&str] = &[
    "name",
    "within",
    "quantity",
    "material",
    "mass",
    "envelope",
    "disposition",
    "replaces",
    "sits_as_before",
    "designation",
    "cost",
    "lead",
    "from",
    "stock",
    "supply",
    "ordered_on",
    "fit",
    "trapped_by",
    "marks",
    "upkeep",
    "shape",
];

pub(super) fn read(fields: &mut Fields) -> Option<Part<AsTyped>> {
    Some(Part {
        within: fields.typed("within"),
        quantity: fields.count("quantity").unwrap_or(1),
        material: fields.text("material"),
        mass: fields.positive("mass", Dimension::MASS),
        envelope: envelope(fields),
        disposition: fields.word("disposition").unwrap_or(Disposition::Undecided),
        replaces: fields.list("replaces"),
        sits_as_before: fields.truth("sits_as_before").unwrap_or(true),
        designation: fields.text("designation"),
        cost: fields.estimate("cost", Dimension::MONEY),
        lead: fields.estimate("lead", Dimension::TIME),
        from: fields.text("from"),
        stock: stock(fields),
        supply: fields.word("supply").unwrap_or(Supply::Needed),
        ordered_on: fields.date("ordered_on"),
        fit: fit(fields),
        trapped_by: fields.list("trapped_by"),
        marks: fields.texts("marks"),
        upkeep: upkeep::read(fields),
        shape: shape::read(fields),
        name: fields.required("name", "say in a word or two what it is")?,
    })
}

fn envelope(fields: &mut Fields) -> Option<Envelope> {
    let [length, width, height] = fields.sides("envelope", "three lengths, `11 ft x 9 in x 9 in`")?;
    Some(Envelope { length, width, height })
}

fn stock(fields: &mut Fields) -> Option<Stock> {
    let mut stock =
        fields.child("stock", "the stock of a part", &["section", "length", "quantity", "in_all"])?;
    Some(Stock {
        length: stock.positive("length", Dimension::LENGTH),
        pieces: pieces(&mut stock),
        section: stock.required("section", "say what bar, plate or tube it is cut from")?,
    })
}

fn pieces(stock: &mut Fields) -> Pieces {
    let (each, in_all) = (stock.count("quantity"), stock.count("in_all"));
    if let Some(node) = stock.node("in_all").filter(|_| each.is_some()) {
        stock.reader.problems.push(problem::pieces_twice(node.span));
    }
    in_all.map_or(Pieces::Each(each.unwrap_or(1)), Pieces::InAll)
}

fn fit(fields: &mut Fields) -> Option<Fit<AsTyped>> {
    let mut fit = fields.child("fit", "a fit", &["with", "at", "class"])?;
    for (key, why) in
        [("with", "name the part it fits"), ("at", "give the size both share"), ("class", "give its class")]
    {
        if fit.node(key).is_none() {
            fit.missing(key, why);
        }
    }
    let at_place = fit.typed("at").map(|at| at.span);
    let (with, at, class) = (fit.typed("with"), fit.positive("at", Dimension::LENGTH), fit.typed("class"));
    Some(Fit { with: with?, at: at?, at_place: at_place?, class: class? })
}
