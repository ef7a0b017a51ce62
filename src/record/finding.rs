//! Something seen, as found.

use super::declare::record;
use super::fields::Word;
use super::form::{date, fractions, items, items_or, links, text, texts, typed, word};
use super::key::Form;
use super::links::{TypedPart, without_links};
use super::{Dated, Typed};

record! {
    /// Something seen, as found.
    pub struct Finding<L> of "a finding" {
        /// The parts it is about.
        about: Vec<L::Part> = links::<TypedPart>().some_needed("name the parts it is about");
        /// The day it was seen.
        seen: Option<Dated> = date();
        /// In free words: scored, spun, cracked …
        condition: Vec<String> = texts().some_needed("say in a word what is the matter");
        /// How bad it is.
        severity: Option<Severity> = word::<Severity>();
        /// Photographs or drawings of it.
        photos: Vec<Photo> = items_or::<Photo>(&Form::File, Photo::of_file);
    }
}

record! {
    /// A photograph or drawing of a finding.
    pub struct Photo of "a photo" {
        /// The picture.
        file: Typed = typed(Form::File).needed("name the picture, relative to this note");
        /// What it shows: caption and alternative text.
        shows: Option<String> = text();
        /// The numbered marks on it.
        marks: Vec<PictureMark> = items::<PictureMark>();
    }
}

record! {
    /// A numbered mark on a picture.
    pub struct PictureMark of "a mark" {
        /// From the left and from the top, each 0 to 1.
        at: [f64; 2] = fractions().needed("say where it is: `[0.4, 0.2]`");
        /// What is there.
        says: String = text().needed("say what is there");
    }
}

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    Cosmetic,
    Minor,
    Serious,
    Dangerous,
}

impl Word for Severity {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("cosmetic", Self::Cosmetic),
        ("minor", Self::Minor),
        ("serious", Self::Serious),
        ("dangerous", Self::Dangerous),
    ];
}

impl Severity {
    /// The word as a person types it.
    pub fn word(self) -> &'static str {
        super::fields::word_of(self)
    }
}

impl Photo {
    /// A picture that nothing is said of.
    fn of_file(file: Typed) -> Self {
        Self { file, shows: None, marks: Vec::new() }
    }
}

without_links!(Severity);
