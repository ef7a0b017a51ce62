//! What a file is, by its first bytes; its name may say anything.

use super::PhotoFault;

/// A kind of picture that can be printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Photographs: ISO/IEC 10918-1.
    Jpeg,
    /// ISO/IEC 15948.
    Png,
    /// Its first frame.
    Gif,
    /// RFC 9649; its first frame.
    Webp,
    /// Drawings made of lines.
    Svg,
}

impl Kind {
    /// So many bytes of a file are enough to know it by: an SVG may begin with a long remark.
    pub const BEGINNING: u64 = 64 * 1024;

    /// The kind of a file that begins with these bytes; `None` when it is none that can be printed. An SVG is known
    /// by its first element, so enough of it must be there.
    pub fn of(bytes: &[u8]) -> Option<Self> {
        match bytes {
            [0xff, 0xd8, 0xff, ..] => Some(Self::Jpeg),
            [0x89, b'P', b'N', b'G', ..] => Some(Self::Png),
            [b'G', b'I', b'F', b'8', ..] => Some(Self::Gif),
            [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => Some(Self::Webp),
            _ if is_svg(bytes) => Some(Self::Svg),
            _ => None,
        }
    }

    /// The ending of a file name.
    pub fn ending(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
            Self::Gif => "gif",
            Self::Webp => "webp",
            Self::Svg => "svg",
        }
    }

    /// As registered with IANA.
    pub(super) fn media_type(self) -> &'static str {
        match self {
            Self::Jpeg => "image/jpeg",
            Self::Png => "image/png",
            Self::Gif => "image/gif",
            Self::Webp => "image/webp",
            Self::Svg => "image/svg+xml",
        }
    }

    /// The kind whose files have this ending.
    pub(super) fn with_ending(ending: &str) -> Option<Self> {
        [Self::Jpeg, Self::Png, Self::Gif, Self::Webp, Self::Svg]
            .into_iter()
            .find(|kind| kind.ending() == ending)
    }

    /// As [`Self::of`], with the reason when it is none.
    ///
    /// # Errors
    /// When the file is empty, is something else, or can't be identified.
    pub fn recognise(bytes: &[u8]) -> Result<Self, PhotoFault> {
        Self::of(bytes).ok_or_else(|| match bytes {
            [] => PhotoFault::Empty,
            bytes => foreign(bytes).map_or(PhotoFault::Unknown, PhotoFault::Foreign),
        })
    }
}

fn is_svg(bytes: &[u8]) -> bool {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes).trim_ascii_start();
    bytes.starts_with(b"<") && bytes.windows(4).any(|four| four == b"<svg" || four == b":svg")
}

/// Kinds that people have, with the words for them. Signatures from each format's own specification.
const FOREIGN: &[(&[u8], &str)] = &[
    (b"II*\0", "a TIFF picture or a camera's raw file"),
    (b"MM\0*", "a TIFF picture or a camera's raw file"),
    (b"BM", "a BMP picture"),
    (b"%PDF", "a PDF"),
    (b"\xff\x0a", "a JPEG XL picture"),
    (b"\0\0\0\x0cJXL ", "a JPEG XL picture"),
    (b"\0\0\0\x0cjP  ", "a JPEG 2000 picture"),
    (b"\x1f\x8b", "a compressed file, perhaps an SVG"),
    (b"PK\x03\x04", "a zip archive"),
];

/// What a file that can't be printed is, with its article.
fn foreign(bytes: &[u8]) -> Option<&'static str> {
    if bytes.get(4..8) == Some(b"ftyp") {
        return Some(match bytes.get(8..12).unwrap_or_default() {
            b"heic" | b"heix" | b"hevc" | b"hevx" | b"heim" | b"heis" | b"mif1" | b"msf1" => HEIC,
            b"avif" | b"avis" => "an AVIF picture",
            _ => "a film",
        });
    }
    FOREIGN.iter().find(|(start, _)| bytes.starts_with(start)).map(|(_, words)| *words)
}

/// ISO/IEC 23008-12.
pub(super) const HEIC: &str = "a HEIC picture, as some telephones write them";
