//! What can be wrong with a shape. The words are the caller's.

use super::chain::Chain;
use super::size::Key;

/// What is missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lacking {
    /// A segment's length, which nothing closes.
    Length,
    /// The nominal of a size that is not on hold.
    Nominal,
    /// The diameter of an undercut that is no thread's.
    UndercutDiameter,
    /// Any segment at all.
    Outside,
    /// At least three corners.
    Corners,
    /// How far a treatment reaches from a corner.
    TreatedReach,
}

/// One fault. Lengths in metres.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// A length is zero, negative, above 100 km or no number.
    NotPositive {
        /// The size.
        size: Key,
        /// What it is.
        value: f64,
    },
    /// The lower limit is above the upper.
    LimitsReversed {
        /// The size.
        size: Key,
    },
    /// A size is missing.
    Missing {
        /// The feature that lacks it.
        feature: Key,
        /// What.
        what: Lacking,
    },
    /// The whole length is typed without limits although the lengths add up to something else.
    GivenTwice {
        /// The whole length.
        size: Key,
        /// As typed.
        typed: f64,
        /// What the lengths add up to.
        sum: f64,
    },
    /// The lengths leave nothing for the one that closes.
    NothingLeft {
        /// The segment that closes.
        feature: Key,
        /// What is left.
        left: f64,
    },
    /// The lengths can add up to something outside the limits of the whole.
    ChainTooWide {
        /// The whole length.
        size: Key,
        /// The chain.
        chain: Chain,
    },
    /// A chamfer, radius, undercut or corner does not fit.
    TooLarge {
        /// The size.
        size: Key,
        /// As typed.
        value: f64,
        /// The room for it.
        room: f64,
    },
    /// An undercut or groove that takes nothing away.
    NothingCut {
        /// The size.
        size: Key,
        /// Its diameter or size across flats.
        value: f64,
        /// What is there.
        there: f64,
    },
    /// A thread whose pitch leaves no core.
    ThreadWithoutCore {
        /// The thread.
        thread: Key,
    },
    /// A bore is as wide as its outside, or wider.
    BoreOutside {
        /// The bore.
        bore: Key,
        /// Where, from the left face.
        at: f64,
        /// Its diameter there.
        bore_d: f64,
        /// The outside there.
        outside_d: f64,
    },
    /// A blind bore is deeper than the part is long.
    BoreTooDeep {
        /// The bore.
        bore: Key,
        /// Its depth.
        deep: f64,
        /// The part's length.
        length: f64,
    },
    /// A drilling less deep than its thread.
    DrillTooShort {
        /// The drilling's depth.
        size: Key,
        /// As typed.
        drill: f64,
        /// The thread's depth.
        thread: f64,
    },
    /// A groove in the hollow where nothing is hollow.
    NoBore {
        /// The groove.
        cut: Key,
    },
    /// A bore that lies wholly within another.
    BoreHidden {
        /// The bore.
        bore: Key,
        /// The one that hides it.
        behind: Key,
    },
    /// Two bores from the same face are equally deep: which is meant?
    SameDepth {
        /// One.
        one: Key,
        /// The other.
        other: Key,
    },
    /// A cut reaches past an end of the part.
    CutOutside {
        /// The cut.
        cut: Key,
        /// Its left end.
        from: f64,
        /// Its right end.
        to: f64,
        /// The part's length.
        length: f64,
    },
    /// A cut is too deep, or too wide for the diameter.
    CutTooLarge {
        /// The cut.
        cut: Key,
        /// Its size.
        value: f64,
        /// What there is.
        room: f64,
    },
    /// Two cuts of one kind overlap.
    CutsMeet {
        /// One.
        one: Key,
        /// The other.
        other: Key,
    },
    /// A number of flats or holes that nobody can make.
    Count {
        /// The feature.
        feature: Key,
        /// The number.
        count: u32,
    },
    /// A name that no feature has.
    NameUnknown {
        /// Where it is used.
        control: Key,
        /// The name.
        name: String,
    },
    /// A name that two features have.
    NameTwice {
        /// One.
        one: Key,
        /// The other.
        other: Key,
    },
    /// The outline crosses or touches itself.
    OutlineCrosses {
        /// The corner at which one side begins.
        one: Key,
        /// The corner at which the other begins.
        other: Key,
    },
    /// A hole or slot that leaves no metal to the outline.
    HoleOutside {
        /// The hole.
        hole: Key,
        /// What is left; negative if it breaks out.
        wall: f64,
    },
    /// Two holes or slots that leave no metal between them.
    HolesMeet {
        /// One.
        one: Key,
        /// The other.
        other: Key,
        /// What is left between them.
        wall: f64,
    },
}

impl Fault {
    /// The size or feature at which it is shown.
    pub const fn key(&self) -> Key {
        match self {
            Self::NotPositive { size, .. }
            | Self::LimitsReversed { size }
            | Self::GivenTwice { size, .. }
            | Self::ChainTooWide { size, .. }
            | Self::TooLarge { size, .. }
            | Self::NothingCut { size, .. }
            | Self::DrillTooShort { size, .. } => *size,
            Self::Missing { feature, .. }
            | Self::NothingLeft { feature, .. }
            | Self::Count { feature, .. } => *feature,
            Self::ThreadWithoutCore { thread } => *thread,
            Self::BoreOutside { bore, .. }
            | Self::BoreTooDeep { bore, .. }
            | Self::BoreHidden { bore, .. } => *bore,
            Self::CutOutside { cut, .. } | Self::CutTooLarge { cut, .. } | Self::NoBore { cut } => *cut,
            Self::NameUnknown { control, .. } => *control,
            Self::HoleOutside { hole, .. } => *hole,
            Self::SameDepth { other, .. }
            | Self::CutsMeet { other, .. }
            | Self::NameTwice { other, .. }
            | Self::OutlineCrosses { other, .. }
            | Self::HolesMeet { other, .. } => *other,
        }
    }

    /// Whether it is the same fault at the same place, whatever the figures.
    pub fn is_alike(&self, other: &Self) -> bool {
        std::mem::discriminant(self) == std::mem::discriminant(other) && self.key() == other.key()
    }
}
