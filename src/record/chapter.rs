//! The chapters of the dossier by name, and which of them an edition has.

use super::fields::{Fields, Word};
use super::form::{Field, Reads, one};
use super::key::Form;
use super::kind::Kind;
use crate::record::problems as problem;

macro_rules! chapters {
    ($($name:ident $word:literal)*) => {
        /// A chapter that dossier.yaml may leave out or move; the cover is always there, and first.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Chapter {
            $(#[doc = $word] $name),*
        }

        impl Word for Chapter {
            const WORDS: &'static [(&'static str, Self)] = &[$(($word, Self::$name)),*];
        }

        impl Chapter {
            /// Every chapter, in the usual order.
            pub const USUAL: &[Self] = &[$(Self::$name),*];
        }
    };
}

chapters! {
    Next "next"
    Inspector "inspector"
    Reading "reading"
    Machine "machine"
    Questions "questions"
    Checks "checks"
    Bill "bill"
    Sequence "sequence"
    Jobs "jobs"
    Papers "papers"
    Log "log"
    AsLeft "as-left"
    Sources "sources"
    Index "index"
}

impl Chapter {
    /// The chapter that prints the notes of a kind.
    pub fn of(kind: Kind) -> Self {
        match kind {
            Kind::Part | Kind::Finding | Kind::Measurement => Self::Machine,
            Kind::Question => Self::Questions,
            Kind::Step => Self::Sequence,
            Kind::Shop => Self::Jobs,
            Kind::Paper => Self::Papers,
            Kind::Entry => Self::Log,
        }
    }
}

/// The chapters that are printed, in their order. How to read the dossier, with its cautions, may be moved and is never
/// left out.
pub(super) fn chapters() -> Field<1, impl Reads<1, Vec<Chapter>>> {
    one(Form::Words(Chapter::words), |fields, key| {
        let named = named(fields, key);
        match named {
            named if named.is_empty() => Chapter::USUAL.to_vec(),
            named if named.contains(&Chapter::Reading) => named,
            named => std::iter::once(Chapter::Reading).chain(named).collect(),
        }
    })
}

/// Those that can be read, each once; what is wrong with another is reported.
fn named(fields: &mut Fields, key: &str) -> Vec<Chapter> {
    let mut named = Vec::new();
    for typed in fields.list(key) {
        match Chapter::of_word(&typed.text) {
            None => {
                let words = Chapter::words();
                fields.reader.problems.push(problem::word_unknown(typed.span, key, &typed.text, &words));
            }
            Some(chapter) if named.contains(&chapter) => {
                fields.reader.problems.push(problem::chapter_twice(typed.span, &typed.text));
            }
            Some(chapter) => named.push(chapter),
        }
    }
    named
}
