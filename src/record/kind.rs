//! The kinds of notes: one table gives each its words, its folder, its keys and its reading.

use serde::{Deserialize, Serialize};

use super::declare::Declared;
use super::fields::Fields;
use super::{
    AsTyped, Entry, Finding, Linker, Links, Mapping, Measurement, Paper, Part, Question, Resolve, Shop, Step,
};

macro_rules! kinds {
    ($($(#[$doc:meta])* $kind:ident($content:ty) $word:literal $owner:literal $plural:literal $folder:literal;)*) => {
        /// What a note records.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub enum Kind {
            $($(#[$doc])* #[serde(rename = $word)] $kind,)*
        }

        impl Kind {
            /// Every kind, in the order of the chapters.
            pub const ALL: &[Self] = &[$(Self::$kind),*];

            /// The word after `kind:`.
            pub fn word(self) -> &'static str {
                match self {
                    $(Self::$kind => $word,)*
                }
            }

            /// A note of it, as a message says it: "a part".
            pub fn owner(self) -> &'static str {
                match self {
                    $(Self::$kind => $owner,)*
                }
            }

            /// Several notes of it: "parts".
            pub fn plural(self) -> &'static str {
                match self {
                    $(Self::$kind => $plural,)*
                }
            }

            /// The folder in which its notes lie where nobody chose another.
            pub fn folder(self) -> &'static str {
                match self {
                    $(Self::$kind => $folder,)*
                }
            }

            /// What it has beside the keys of every note.
            pub fn own_keys(self) -> Mapping {
                type L = AsTyped;
                match self {
                    $(Self::$kind => <$content as Declared>::mapping(),)*
                }
            }
        }

        /// What a note says in the keys of its kind.
        #[derive(Clone, Debug)]
        #[expect(clippy::large_enum_variant, reason = "one a note; a box would be in the way of every reader")]
        pub enum Content<L: Links> {
            $($(#[$doc])* $kind($content),)*
        }

        impl<L: Links> Content<L> {
            pub fn kind(&self) -> Kind {
                match self {
                    $(Self::$kind(_) => Kind::$kind,)*
                }
            }
        }

        impl Content<AsTyped> {
            pub(super) fn of(kind: Kind, fields: &mut Fields) -> Option<Self> {
                match kind {
                    $(Kind::$kind => Declared::of(fields).map(Self::$kind),)*
                }
            }
        }

        impl<K: Linker> Resolve<K> for Content<AsTyped> {
            type Into = Content<K::To>;
            fn resolve(self, linker: &mut K) -> Option<Self::Into> {
                match self {
                    $(Self::$kind(keys) => keys.resolve(linker).map(Content::$kind),)*
                }
            }
        }
    };
}

kinds! {
    /// A piece or an assembly.
    Part(Part<L>) "part" "a part" "parts" "parts";
    /// Something seen, as found.
    Finding(Finding<L>) "finding" "a finding" "findings" "findings";
    /// Readings of one feature.
    Measurement(Measurement<L>) "measurement" "a measurement" "measurements" "measurements";
    /// What is not known yet.
    Question(Question<L>) "question" "a question" "questions" "questions";
    /// A piece of work.
    Step(Step<L>) "step" "a step" "steps" "steps";
    /// Who has what.
    Shop(Shop) "shop" "a shop" "shops" "shops";
    /// A document that belongs to the machine.
    Paper(Paper<L>) "paper" "a paper" "papers" "papers";
    /// A page of the log.
    Entry(Entry<L>) "entry" "a log entry" "log entries" "log";
}
