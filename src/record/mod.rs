//! What the notes say, as plain typed data: the eight kinds and the project's own page.
//!
//! Takes: a [`crate::note::Note`]. Gives: a [`Record`] whose links are still ids as typed, each with its place, and problems.
//! Never: looks at another note; what it reads stands in this one.

mod about;
mod chapter;
mod comma;
mod declare;
mod fields;
mod finding;
mod form;
mod head;
mod heads;
mod key;
mod kind;
mod links;
mod measurement;
mod part;
pub mod problems;
mod question;
mod read;
mod rest;
mod shape;
mod step;
mod upkeep;

use jiff::civil::Date;

use crate::calc::units::Unit;
use crate::text::Span;

pub use about::{
    About, Allowed, FitForUse, Instrument, KeeperContact, Paper as PaperSize, StockLength, Transport,
};
pub use chapter::Chapter;
pub use fields::{Word, word_of};
pub use finding::{Finding, Photo, PictureMark, Severity};
pub use head::{ForHelpers, Head, Keys};
pub use key::{Form, Key, Link, Mapping, Target};
pub use kind::{Content, Kind};
pub use links::{AsTyped, Linker, Links, Resolve};
pub use measurement::{Measurement, Reading, Readings, State as MeasurementState, Station, Surface};
pub use part::{Disposition, Envelope, Fit, Part, Pieces, Stock, Supply};
pub use question::{Question, QuestionState, Theory};
pub use read::{Read, common_keys, kinds, read};
pub use rest::{Entry, Hands, MILE, Pace, Paper, Shop};
pub use shape::{Formula, Hold, Shaped};
pub use step::{HazardItem, Step, StepState, Want};
pub use upkeep::{Every, Upkeep};

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
    pub content: Content<AsTyped>,
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
