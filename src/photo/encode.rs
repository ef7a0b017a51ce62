//! Pixels into a file that holds nothing else.

use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{ExtendedColorType, ImageEncoder};
use jpeg_encoder::{ColorType, Encoder, SamplingFactor};

use super::scale::Pixels;
use super::{Kind, PhotoFault, Prepared};

/// The quality a photograph is written in; one that would grow too large takes the next that fits, or the last.
const QUALITIES: [u8; 8] = [82, 76, 70, 64, 58, 52, 46, 40];

/// The most bytes a photograph should take: 113 kB across the main column, so that 200 of them stay under 23 MB;
/// small ones, which weigh little, have more for each pixel.
fn allowed(pixels: &Pixels) -> usize {
    let (width, height) = pixels.size();
    12 * 1024 + width as usize * height as usize / 7
}

/// A photograph.
pub(super) fn jpeg(pixels: &Pixels) -> Result<Prepared, PhotoFault> {
    let (width, height) = pixels.size();
    let mut bytes = Vec::new();
    for quality in QUALITIES {
        bytes = jpeg_of(pixels, quality)?;
        if bytes.len() <= allowed(pixels) {
            break;
        }
    }
    Ok(Prepared { bytes, kind: Kind::Jpeg, width, height })
}

fn jpeg_of(pixels: &Pixels, quality: u8) -> Result<Vec<u8>, PhotoFault> {
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, quality);
    // Colours at half the fineness of light, as cameras write them. Tables fitted to the picture would save 3 % more,
    // but put each colour into a scan of its own, which some readers get wrong.
    encoder.set_sampling_factor(SamplingFactor::R_4_2_0);
    let (width, height) = pixels.size();
    let side = |pixels: u32| u16::try_from(pixels).map_err(|_| PhotoFault::TooLarge { width, height });
    let (across, down) = (side(width)?, side(height)?);
    match pixels {
        Pixels::Grey(grey) => encoder.encode(grey, across, down, ColorType::Luma),
        Pixels::Colour(colour) => encoder.encode(colour, across, down, ColorType::Rgb),
    }
    .map_err(|error| PhotoFault::Undecodable(error.to_string()))?;
    Ok(bytes)
}

/// A drawing, every edge sharp; one that takes more than two photographs is none, and becomes one.
pub(super) fn png(pixels: &Pixels) -> Result<Prepared, PhotoFault> {
    let bytes = png_of(pixels)?;
    if bytes.len() > 2 * allowed(pixels) {
        return jpeg(pixels);
    }
    let (width, height) = pixels.size();
    Ok(Prepared { bytes, kind: Kind::Png, width, height })
}

fn png_of(pixels: &Pixels) -> Result<Vec<u8>, PhotoFault> {
    let mut bytes = Vec::new();
    let encoder = PngEncoder::new_with_quality(&mut bytes, CompressionType::Default, FilterType::Adaptive);
    let (width, height) = pixels.size();
    match pixels {
        Pixels::Grey(grey) => encoder.write_image(grey, width, height, ExtendedColorType::L8),
        Pixels::Colour(colour) => encoder.write_image(colour, width, height, ExtendedColorType::Rgb8),
    }
    .map_err(|error| PhotoFault::Undecodable(error.to_string()))?;
    Ok(bytes)
}
