//! What the notes say, as plain typed data: the eight kinds and the project's own page.
//!
//! Takes: a [`crate::note::Note`]. Gives: a [`Record`] whose links are still ids as typed, each with its place, and problems.
//! Never: looks at another note; what it reads stands in this one.

mod about;
mod comma;
mod fields;
mod finding;
mod head;
mod heads;
mod measurement;
mod part;
pub mod problems;
mod question;
mod read;
mod rest;
mod shape;
mod step;
mod upkeep;

use std::fmt::Debug;

use jiff::civil::Date;

use crate::calc::units::Unit;
use crate::text::Span;

pub use about::{About, Allowed, Instrument, KeeperContact, Paper as PaperSize, StockLength, Transport};
pub use finding::{Finding, Photo, PictureMark, Severity};
pub use head::{ForHelpers, Head, Keys};
pub use measurement::{Measurement, Reading, Readings, State as MeasurementState, Station, Surface};
pub use part::{Disposition, Envelope, Fit, Part, Pieces, Stock, Supply};
pub use question::{Question, QuestionState, Theory};
pub use read::{Read, kinds, read};
pub use rest::{Entry, Hands, MILE, Pace, Paper, Shop};
pub use shape::{Formula, Shaped};
pub use step::{HazardItem, Step, StepState, Want};
pub use upkeep::{Every, Upkeep};

/// What a link between notes is: an id as typed in a record, the note itself in a dossier.
pub trait Links: Clone + Debug {
    type Part: Clone + Debug;
    type Finding: Clone + Debug;
    type Step: Clone + Debug;
    type Question: Clone + Debug;
    type Shop: Clone + Debug;
    type Paper: Clone + Debug;
    /// A key of `instruments` in dossier.yaml.
    type Instrument: Clone + Debug;
    /// A note of any kind.
    type Any: Clone + Debug;
}

/// Links as a person typed them.
#[derive(Clone, Debug)]
pub struct AsTyped;

impl Links for AsTyped {
    type Part = Typed;
    type Finding = Typed;
    type Step = Typed;
    type Question = Typed;
    type Shop = Typed;
    type Paper = Typed;
    type Instrument = Typed;
    type Any = Typed;
}

/// A word or text as typed, and where it stands.
#[derive(Clone, Debug)]
pub struct Typed {
    pub text: String,
    pub span: Span,
}

/// A note of a known kind.
#[derive(Clone, Debug)]
pub struct Record {
    pub head: Head,
    pub kind: Kind<AsTyped>,
}

/// The eight kinds.
#[derive(Clone, Debug)]
#[expect(clippy::large_enum_variant, reason = "one a note; a box would be in the way of every reader")]
pub enum Kind<L: Links> {
    Part(Part<L>),
    Finding(Finding<L>),
    Measurement(Measurement<L>),
    Question(Question<L>),
    Step(Step<L>),
    Shop(Shop),
    Paper(Paper<L>),
    Entry(Entry<L>),
}

impl<L: Links> Kind<L> {
    /// The word after `kind:`.
    pub fn word(&self) -> &'static str {
        match self {
            Self::Part(_) => "part",
            Self::Finding(_) => "finding",
            Self::Measurement(_) => "measurement",
            Self::Question(_) => "question",
            Self::Step(_) => "step",
            Self::Shop(_) => "shop",
            Self::Paper(_) => "paper",
            Self::Entry(_) => "entry",
        }
    }
}

/// A time, cost or other figure that is only estimated: three points, in SI units or the dossier's money.
/// A single value has all three alike; a range has its middle as the likely one.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate {
    pub low: f64,
    pub likely: f64,
    pub high: f64,
    /// As typed, for printing.
    pub unit: Unit,
}

/// A date of a note, with its place.
#[derive(Clone, Copy, Debug)]
pub struct Dated {
    pub date: Date,
    pub span: Span,
}
