//! The number of a note among those of its kind: an id that has found its note.

use super::table::Table;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(u32);

        impl $name {
            pub(super) fn new(index: usize) -> Self {
                Self(u32::try_from(index).expect("a project holds fewer than four thousand million notes"))
            }

            /// Its place in the dossier's list of its kind.
            pub fn index(self) -> usize {
                self.0 as usize
            }

            /// The first `count` of them.
            pub(super) fn all(count: usize) -> impl DoubleEndedIterator<Item = Self> {
                (0..count).map(Self::new)
            }
        }

        impl<Row> Table<$name, Row> {
            /// The ids of all rows.
            pub fn ids(&self) -> impl DoubleEndedIterator<Item = $name> + use<Row> {
                $name::all(self.len())
            }
        }
    )*};
}

ids! {
    /// A part of the dossier.
    PartId
    /// A finding of the dossier.
    FindingId
    /// A measurement of the dossier.
    MeasurementId
    /// A question of the dossier.
    QuestionId
    /// A step of the dossier.
    StepId
    /// A shop of the dossier.
    ShopId
    /// A paper of the dossier.
    PaperId
    /// A page of the log.
    EntryId
    /// An instrument of dossier.yaml.
    InstrumentId
}

/// A note of any kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NoteId {
    Part(PartId),
    Finding(FindingId),
    Measurement(MeasurementId),
    Question(QuestionId),
    Step(StepId),
    Shop(ShopId),
    Paper(PaperId),
    Entry(EntryId),
}

impl NoteId {
    /// The word after `kind:`.
    pub fn kind(self) -> &'static str {
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

macro_rules! into_note {
    ($($id:ident $variant:ident)*) => {$(
        impl From<$id> for NoteId {
            fn from(id: $id) -> Self {
                Self::$variant(id)
            }
        }
    )*};
}

into_note! {
    PartId Part FindingId Finding MeasurementId Measurement QuestionId Question StepId Step ShopId Shop
    PaperId Paper EntryId Entry
}
