//! Links between notes: an id as typed in a record, the note itself in a dossier.

use std::fmt::Debug;
use std::ops::Deref;

use super::key::Target;
use super::{Dated, Estimate, Kind, Typed};
use crate::calc::literal::Literal;
use crate::text::Span;

/// What becomes of a value once every id in it has found its note; `None`: it can't stand without an id that has not.
pub trait Resolve<K: Linker> {
    type Into;
    fn resolve(self, linker: &mut K) -> Option<Self::Into>;
}

/// An id as typed, of a kind of its own for each thing that it may name.
pub(super) trait LinkText: From<Typed> {
    const TO: Target;
}

macro_rules! links {
    ($($(#[doc = $doc:literal])* $link:ident $typed:ident $find:ident $to:expr;)*) => {
        /// What a link between notes is: an id as typed in a record, the note itself in a dossier.
        pub trait Links: Clone + Debug {
            $($(#[doc = $doc])* type $link: Clone + Debug;)*
        }

        /// Links as a person typed them.
        #[derive(Clone, Debug)]
        pub struct AsTyped;

        impl Links for AsTyped {
            $(type $link = $typed;)*
        }

        /// Finds what an id stands for. An id that names nothing of the kind is reported by it, and is `None`.
        pub trait Linker: Sized {
            type To: Links;
            $(fn $find(&mut self, typed: &Typed) -> Option<<Self::To as Links>::$link>;)*
        }

        $(
            #[doc = concat!("As typed:", $($doc),*)]
            #[derive(Clone, Debug)]
            pub struct $typed(Typed);

            impl From<Typed> for $typed {
                fn from(typed: Typed) -> Self {
                    Self(typed)
                }
            }

            impl Deref for $typed {
                type Target = Typed;
                fn deref(&self) -> &Typed {
                    &self.0
                }
            }

            impl LinkText for $typed {
                const TO: Target = $to;
            }

            impl<K: Linker> Resolve<K> for $typed {
                type Into = <K::To as Links>::$link;
                fn resolve(self, linker: &mut K) -> Option<Self::Into> {
                    linker.$find(&self)
                }
            }
        )*
    };
}

links! {
    /// a part.
    Part TypedPart part Target::Note(Kind::Part);
    /// a finding.
    Finding TypedFinding finding Target::Note(Kind::Finding);
    /// a step.
    Step TypedStep step Target::Note(Kind::Step);
    /// a question.
    Question TypedQuestion question Target::Note(Kind::Question);
    /// a shop.
    Shop TypedShop shop Target::Note(Kind::Shop);
    /// a paper.
    Paper TypedPaper paper Target::Note(Kind::Paper);
    /// a key of `instruments` in dossier.yaml.
    Instrument TypedInstrument instrument Target::Instrument;
    /// a note of any kind.
    Any TypedAny any Target::AnyNote;
}

/// A link that leads nowhere leaves the key empty.
impl<K: Linker, T: Resolve<K>> Resolve<K> for Option<T> {
    type Into = Option<T::Into>;
    fn resolve(self, linker: &mut K) -> Option<Self::Into> {
        Some(self.and_then(|value| value.resolve(linker)))
    }
}

/// A link that leads nowhere is left out of the list.
impl<K: Linker, T: Resolve<K>> Resolve<K> for Vec<T> {
    type Into = Vec<T::Into>;
    fn resolve(self, linker: &mut K) -> Option<Self::Into> {
        Some(self.into_iter().filter_map(|value| value.resolve(linker)).collect())
    }
}

impl<K: Linker, T: Resolve<K>> Resolve<K> for (T, Literal) {
    type Into = (T::Into, Literal);
    fn resolve(self, linker: &mut K) -> Option<Self::Into> {
        Some((self.0.resolve(linker)?, self.1))
    }
}

/// Values in which no id stands.
macro_rules! without_links {
    ($($value:ty),* $(,)?) => {$(
        impl<K: $crate::record::Linker> $crate::record::Resolve<K> for $value {
            type Into = Self;
            fn resolve(self, _: &mut K) -> Option<Self> {
                Some(self)
            }
        }
    )*};
}

pub(super) use without_links;

without_links!(String, bool, u32, f64, Span, Typed, Literal, Dated, Estimate);
