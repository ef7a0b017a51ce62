//! Pictures made ready for the page.
//!
//! Takes: the bytes of a picture as it lies in the project, and how wide it will be printed. Gives: [`Prepared`],
//! upright, no finer than paper can show, with nothing in it but the picture; or a [`PhotoFault`] that says what to
//! do. Never: draws a picture larger than it is, lets place, camera or any other note through, writes outside the
//! [`Cache`]'s folder.

mod bare;
mod cache;
mod colour;
mod encode;
mod fault;
mod kind;
mod lettering;
mod page;
mod raster;
mod scale;
mod svg;
mod whole;

pub use bare::without_metadata;
pub use cache::Cache;
pub use fault::PhotoFault;
pub use kind::Kind;
pub use lettering::{lettering, smallest_lettering};
pub use page::first_page;

/// Dots to the inch of paper: finer than this a laser print does not show.
pub const DOTS_PER_INCH: f64 = 220.0;

/// A picture of more pixels than this is not read. A telephone's finest photograph today has 108 million.
pub const MOST_PIXELS: u64 = 120_000_000;

/// A prepared picture has no side longer than this many pixels, 945 mm of paper.
pub const LONGEST_SIDE: u32 = 8192;

const MM_PER_INCH: f64 = 25.4;

/// A picture ready to be set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Prepared {
    /// The file, without metadata.
    pub bytes: Vec<u8>,
    /// JPEG for a photograph, PNG for a drawing made of pixels, SVG for one made of lines.
    pub kind: Kind,
    /// In pixels, as the picture is seen.
    pub width: u32,
    /// In pixels, as the picture is seen.
    pub height: u32,
}

/// Makes a picture ready to be printed `printed_width_mm` wide.
///
/// JPEG, PNG, WebP and GIF (its first frame) are turned upright, brought to sRGB, laid on white where they are
/// transparent, scaled down to [`DOTS_PER_INCH`] and encoded anew: what is left is pixels. So are the pictures within
/// an SVG; the rest of it passes untouched once it is known to be whole, to reach for nothing outside itself and to be
/// drawn in reasonable time. The same bytes and width give the same result.
///
/// # Errors
/// When it is no such picture, is damaged or has more than [`MOST_PIXELS`], or an SVG holds scripts or outside
/// references.
pub fn prepare(bytes: &[u8], printed_width_mm: f64) -> Result<Prepared, PhotoFault> {
    prepare_to(bytes, dots(printed_width_mm))
}

/// Width and height of a picture in pixels, as it is seen: turned upright.
///
/// Reads little more than the header, and finds most of what [`prepare`] would refuse. For an SVG, its own units at
/// 96 to the inch.
///
/// # Errors
/// As [`prepare`], but damage inside the picture goes unnoticed.
pub fn size(bytes: &[u8]) -> Result<(u32, u32), PhotoFault> {
    match Kind::recognise(bytes)? {
        Kind::Svg => svg::examine(bytes),
        kind => raster::size(bytes, kind),
    }
}

/// How wide a picture of this size is printed when it may be neither wider nor taller than the limits, in their unit.
pub fn width_within(size: (u32, u32), widest: f64, tallest: f64) -> f64 {
    let (width, height) = size;
    widest.min(tallest * f64::from(width) / f64::from(height.max(1)))
}

/// The pixels that a printed width can show; at least one.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the cast saturates, as it should"
)]
fn dots(printed_width_mm: f64) -> u32 {
    ((printed_width_mm / MM_PER_INCH * DOTS_PER_INCH).ceil() as u32).max(1)
}

fn prepare_to(bytes: &[u8], widest: u32) -> Result<Prepared, PhotoFault> {
    let kind = Kind::recognise(bytes)?;
    if kind == Kind::Svg {
        let (bytes, (width, height)) = svg::clean(bytes)?;
        return Ok(Prepared { bytes, kind, width, height });
    }
    let seen = raster::decode(bytes, kind)?;
    let drawing = kind != Kind::Jpeg && seen.pixels.is_drawing();
    let size = scale::fitted(seen.pixels.size(), seen.turn, widest, LONGEST_SIDE);
    let mut pixels = seen.pixels.scaled(size).turned(seen.turn);
    if let Some(profile) = &seen.profile {
        colour::to_srgb(&mut pixels, profile);
    }
    if drawing { encode::png(&pixels) } else { encode::jpeg(&pixels) }
}
