//! Something seen, as found.

use super::fields::{Fields, Word};
use super::{AsTyped, Dated, Links, Typed};
use crate::note::yaml::{Node, Shape};

/// Something seen, as found.
#[derive(Clone, Debug)]
pub struct Finding<L: Links> {
    pub about: Vec<L::Part>,
    pub seen: Option<Dated>,
    /// In free words: scored, spun, cracked …
    pub condition: Vec<String>,
    pub severity: Option<Severity>,
    pub photos: Vec<Photo>,
}

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    Cosmetic,
    Minor,
    Serious,
    Dangerous,
}

/// A photograph or drawing of a finding.
#[derive(Clone, Debug)]
pub struct Photo {
    /// Relative to the note.
    pub file: Typed,
    /// What it shows: caption and alternative text.
    pub shows: Option<String>,
    pub marks: Vec<PictureMark>,
}

/// A numbered mark on a picture.
#[derive(Clone, Debug)]
pub struct PictureMark {
    /// From the left and from the top, each 0 to 1.
    pub at: [f64; 2],
    pub says: String,
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

pub(super) const KEYS: &[&str] = &["about", "seen", "condition", "severity", "photos"];

pub(super) fn read(fields: &mut Fields) -> Option<Finding<AsTyped>> {
    let about = fields.list("about");
    let condition = fields.texts("condition");
    if fields.node("about").is_none() {
        fields.missing("about", "name the parts it is about");
    }
    if fields.node("condition").is_none() {
        fields.missing("condition", "say in a word what is the matter");
    }
    let finding = Finding {
        seen: fields.date("seen"),
        severity: fields.word("severity"),
        photos: photos(fields),
        about,
        condition,
    };
    (!finding.about.is_empty() && !finding.condition.is_empty()).then_some(finding)
}

fn photos(fields: &mut Fields) -> Vec<Photo> {
    fields.nodes("photos").into_iter().filter_map(|node| photo(fields, node)).collect()
}

fn photo(fields: &mut Fields, node: &Node) -> Option<Photo> {
    if let Shape::Scalar { text, .. } = &node.shape {
        let file = Typed { text: text.clone(), span: node.span };
        return Some(Photo { file, shows: None, marks: Vec::new() });
    }
    let mut photo = Fields::of(node, "a photo", &["file", "shows", "marks"], &mut *fields.reader)?;
    if photo.node("file").is_none() {
        photo.missing("file", "name the picture, relative to this note");
    }
    let marks = photo.nodes("marks").into_iter().filter_map(|node| mark(&mut photo, node)).collect();
    Some(Photo { shows: photo.text("shows"), marks, file: photo.typed("file")? })
}

fn mark(fields: &mut Fields, node: &Node) -> Option<PictureMark> {
    let mut mark = Fields::of(node, "a mark", &["at", "says"], &mut *fields.reader)?;
    let says = mark.required("says", "say what is there");
    let at = mark.fractions("at");
    Some(PictureMark { at: at?, says: says? })
}
