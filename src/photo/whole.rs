//! Whether a file goes on to its end: decoders fill up with grey what is missing, or miss what came last.

use super::{Kind, PhotoFault};

/// Refuses a file that was cut short, and a JPEG whose colours would come out wrong.
pub(super) fn check(bytes: &[u8], kind: Kind) -> Result<(), PhotoFault> {
    let is_whole = match kind {
        Kind::Jpeg => return check_jpeg(bytes),
        Kind::Png => is_whole_png(bytes),
        Kind::Webp => is_whole_webp(bytes),
        // A GIF's decoder misses the end itself.
        Kind::Gif | Kind::Svg => true,
    };
    if is_whole { Ok(()) } else { Err(PhotoFault::CutOff) }
}

fn check_jpeg(bytes: &[u8]) -> Result<(), PhotoFault> {
    let (mut sequential, mut scans) = (false, 0);
    for marker in JpegMarkers(bytes.get(2..).unwrap_or_default()) {
        match marker {
            0xc0 | 0xc1 => sequential = true,
            START_OF_SCAN => scans += 1,
            // The decoder takes the first scan of a sequential picture for all of it.
            END_OF_IMAGE if sequential && scans > 1 => {
                return Err(PhotoFault::Undecodable("its colours are stored one after the other".to_owned()));
            }
            END_OF_IMAGE => return Ok(()),
            _ => {}
        }
    }
    Err(PhotoFault::CutOff)
}

/// The JPEG up to its end: a telephone writes previews and films behind it.
pub(super) fn jpeg_to_its_end(bytes: &[u8]) -> &[u8] {
    let mut markers = JpegMarkers(bytes.get(2..).unwrap_or_default());
    let ends = markers.any(|marker| marker == END_OF_IMAGE);
    if ends { &bytes[..bytes.len() - markers.0.len()] } else { bytes }
}

const END_OF_IMAGE: u8 = 0xd9;
const START_OF_SCAN: u8 = 0xda;

/// The markers of a JPEG that begin a segment, and its end (ISO/IEC 10918-1, table B.1); what lies between is passed
/// over.
struct JpegMarkers<'a>(&'a [u8]);

impl Iterator for JpegMarkers<'_> {
    type Item = u8;

    fn next(&mut self) -> Option<u8> {
        let at = self.0.windows(2).position(|pair| pair[0] == 0xff && is_marker(pair[1]))?;
        let (marker, tail) = (self.0[at + 1], &self.0[at + 2..]);
        self.0 = match (marker, tail) {
            (END_OF_IMAGE, _) => tail,
            (_, [high, low, ..]) => {
                tail.get(usize::from(u16::from_be_bytes([*high, *low]))..).unwrap_or_default()
            }
            _ => return None,
        };
        Some(marker)
    }
}

/// No stuffed zero, no fill byte, no mark without a length but the end.
fn is_marker(byte: u8) -> bool {
    !matches!(byte, 0x00 | 0x01 | 0xd0..=0xd8 | 0xff)
}

/// Whether the chunks lead to `IEND` (ISO/IEC 15948, 5.3): length, name, content, check sum.
fn is_whole_png(bytes: &[u8]) -> bool {
    let mut rest = bytes.get(8..).unwrap_or_default();
    while let [a, b, c, d, tail @ ..] = rest {
        if tail.starts_with(b"IEND") {
            return true;
        }
        let length = u32::from_be_bytes([*a, *b, *c, *d]) as usize;
        rest = tail.get(length.saturating_add(8)..).unwrap_or_default();
    }
    false
}

/// Whether as many bytes follow as the header says (RFC 9649, 2.4).
fn is_whole_webp(bytes: &[u8]) -> bool {
    match bytes {
        [_, _, _, _, a, b, c, d, rest @ ..] => rest.len() >= u32::from_le_bytes([*a, *b, *c, *d]) as usize,
        _ => false,
    }
}
