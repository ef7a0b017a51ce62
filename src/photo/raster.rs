//! Pictures made of pixels: read, never trusted.

use std::io::{self, Cursor};

use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, ImageResult, Limits};

use super::scale::Pixels;
use super::{Kind, MOST_PIXELS, PhotoFault, whole};

/// What a decoder may allocate for itself, and what the decoded picture may take.
const MOST_MEMORY: u64 = 512 * 1024 * 1024;

/// A decoded picture as it lies in the file, and what its metadata say of it.
pub(super) struct Seen {
    pub(super) pixels: Pixels,
    /// How it must be turned to stand upright.
    pub(super) turn: Orientation,
    /// The ICC profile of its colours.
    pub(super) profile: Option<Vec<u8>>,
}

pub(super) fn size(bytes: &[u8], kind: Kind) -> Result<(u32, u32), PhotoFault> {
    let mut decoder = decoder(bytes, kind)?;
    let (width, height) = decoder.dimensions();
    Ok(if lies_on_its_side(turn(&mut decoder)) { (height, width) } else { (width, height) })
}

pub(super) fn decode(bytes: &[u8], kind: Kind) -> Result<Seen, PhotoFault> {
    let mut decoder = decoder(bytes, kind)?;
    let turn = turn(&mut decoder);
    let profile = decoder.icc_profile().ok().flatten();
    let size = decoder.dimensions();
    let image = DynamicImage::from_decoder(decoder).map_err(|error| fault(&error, size))?;
    Ok(Seen { pixels: Pixels::of(image), turn, profile })
}

/// Which side of a whole picture is up, by its metadata.
pub(super) fn orientation(bytes: &[u8], kind: Kind) -> Result<Orientation, PhotoFault> {
    Ok(turn(&mut decoder(bytes, kind)?))
}

/// Whether an orientation makes columns of rows.
pub(super) fn lies_on_its_side(turn: Orientation) -> bool {
    use Orientation::{Rotate90, Rotate90FlipH, Rotate270, Rotate270FlipH};
    matches!(turn, Rotate90 | Rotate270 | Rotate90FlipH | Rotate270FlipH)
}

/// A decoder that has read the header and found nothing wrong with it.
fn decoder(bytes: &[u8], kind: Kind) -> Result<impl ImageDecoder, PhotoFault> {
    whole::check(bytes, kind)?;
    let decoder = open(bytes, kind).map_err(|error| fault(&error, (0, 0)))?;
    let (width, height) = decoder.dimensions();
    let pixels = u64::from(width) * u64::from(height);
    match pixels {
        0 => Err(PhotoFault::Undecodable("it has no pixels".to_owned())),
        _ if pixels > MOST_PIXELS || decoder.total_bytes() > MOST_MEMORY => {
            Err(PhotoFault::TooLarge { width, height })
        }
        _ => Ok(decoder),
    }
}

fn open(bytes: &[u8], kind: Kind) -> ImageResult<impl ImageDecoder> {
    let format = match kind {
        Kind::Jpeg => ImageFormat::Jpeg,
        Kind::Gif => ImageFormat::Gif,
        Kind::Webp => ImageFormat::WebP,
        Kind::Png | Kind::Svg => ImageFormat::Png,
    };
    let mut limits = Limits::no_limits();
    limits.max_alloc = Some(MOST_MEMORY);
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    reader.limits(limits);
    reader.into_decoder()
}

/// Metadata that can't be read turn nothing.
fn turn(decoder: &mut impl ImageDecoder) -> Orientation {
    decoder.orientation().unwrap_or(Orientation::NoTransforms)
}

fn fault(error: &ImageError, (width, height): (u32, u32)) -> PhotoFault {
    if matches!(error, ImageError::Limits(_)) {
        return PhotoFault::TooLarge { width, height };
    }
    let mut cause: &dyn std::error::Error = error;
    while let Some(below) = cause.source() {
        cause = below;
    }
    match cause.downcast_ref::<io::Error>() {
        Some(error) if error.kind() == io::ErrorKind::UnexpectedEof => PhotoFault::CutOff,
        _ => PhotoFault::Undecodable(cause.to_string()),
    }
}
