//! Why a picture can't be printed, and what to do.

use std::fmt;

use super::{MOST_PIXELS, kind};

/// Why a picture can't be printed. Its text goes on from "can't be printed: ".
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PhotoFault {
    /// The file could not be read; why.
    Unreadable(String),
    /// There is nothing in the file.
    Empty,
    /// Something known that can't be printed, with its article: "a film".
    Foreign(&'static str),
    /// Nothing known.
    Unknown,
    /// The file ends too early.
    CutOff,
    /// Damaged, or of a sort that the decoder does not know; why.
    Undecodable(String),
    /// Too many pixels, or too much memory to hold them.
    TooLarge {
        /// In pixels.
        width: u32,
        /// In pixels.
        height: u32,
    },
    /// An SVG that is no well-formed XML; why.
    Malformed(String),
    /// An SVG that holds something that must not be there.
    Reaches {
        /// From 1.
        line: u32,
        /// What is there: "it holds a script".
        what: String,
    },
    /// An SVG that can take any time and memory to draw.
    Costly {
        /// From 1.
        line: u32,
        /// What is there: "it holds a filter".
        what: String,
    },
    /// An SVG with a picture in it that can't be printed.
    Within {
        /// From 1.
        line: u32,
        /// Goes on from "can't be printed: ".
        why: String,
    },
}

impl fmt::Display for PhotoFault {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Self::Unreadable(why) => write!(f, "it can't be read: {why}"),
            Self::Empty => write!(f, "the file is empty"),
            Self::Foreign(what) => write!(f, "it is {what}"),
            Self::Unknown => write!(f, "it is no picture of a kind that is known here"),
            Self::CutOff => write!(f, "the file ends in the middle of the picture"),
            Self::Undecodable(why) => write!(f, "it can't be decoded: {why}"),
            Self::TooLarge { width, height } => {
                let limit = MOST_PIXELS / 1_000_000;
                write!(f, "it claims {width} x {height} pixels, and {limit} million can be read")
            }
            Self::Malformed(why) => write!(f, "it is no well-formed SVG: {why}"),
            Self::Reaches { line, what } | Self::Costly { line, what } => write!(f, "line {line}: {what}"),
            Self::Within { line, why } => write!(f, "line {line}: the picture within it: {why}"),
        }
    }
}

impl std::error::Error for PhotoFault {}

impl PhotoFault {
    /// What to do about it, a sentence.
    pub fn help(&self) -> &'static str {
        match self {
            Self::Unreadable(_) => "Check that you may read it and that it lies inside the project's folder.",
            Self::Empty | Self::CutOff => "Copy it again from the camera or telephone.",
            Self::Foreign(kind::HEIC) => {
                "Export it as JPEG; most telephones can also be set to write JPEG from the start."
            }
            Self::Foreign(_) | Self::Unknown => {
                "Pictures are JPEG, PNG, WebP, GIF or SVG; save it again as one of these."
            }
            Self::Undecodable(_) => {
                "Copy it again from where it came, or open it in a picture program and save it anew."
            }
            Self::TooLarge { .. } => {
                "Save a smaller copy: across a page, 2000 pixels are more than a print can show."
            }
            Self::Malformed(_) => "Open it in a drawing program and save it as plain SVG, in UTF-8.",
            Self::Costly { .. } => {
                "In the drawing program turn the effect into a picture, or take it out, and save it as plain SVG."
            }
            Self::Within { .. } => {
                "Put the picture into the drawing again, as JPEG or PNG, and save it as plain SVG, its pictures embedded."
            }
            Self::Reaches { .. } => {
                "Save it as plain SVG, its pictures embedded, without scripts and links: the file must stand alone."
            }
        }
    }
}
