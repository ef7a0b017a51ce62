//! The number of a note among those of its kind: an id that has found its note.

use super::table::Table;
use crate::record::Kind;

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

macro_rules! note_ids {
    ($($kind:ident($id:ident))*) => {
        /// A note of any kind.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum NoteId {
            $($kind($id),)*
        }

        impl NoteId {
            pub(super) fn new(kind: Kind, index: usize) -> Self {
                match kind {
                    $(Kind::$kind => Self::$kind($id::new(index)),)*
                }
            }

            pub fn kind(self) -> Kind {
                match self {
                    $(Self::$kind(_) => Kind::$kind,)*
                }
            }
        }

        $(impl From<$id> for NoteId {
            fn from(id: $id) -> Self {
                Self::$kind(id)
            }
        })*
    };
}

note_ids! {
    Part(PartId) Finding(FindingId) Measurement(MeasurementId) Question(QuestionId)
    Step(StepId) Shop(ShopId) Paper(PaperId) Entry(EntryId)
}
