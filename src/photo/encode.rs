//! Pixels into a file that holds nothing else.

use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{ExtendedColorType, ImageEncoder};
use jpeg_encoder::{ColorType, Encoder, SamplingFactor};

use super::scale::Pixels;
use super::{Kind, PhotoFault, Prepared};

/// The quality a photograph is written in; one that would grow too large takes the next that fits, or the last.
const QUALITIES: [u8; 5] = [82, 74, 66, 56, 46];

/// Six pixels to the byte: 120 kB for a photograph across the main column.
const PIXELS_PER_BYTE: usize = 6;

/// What any JPEG takes for its tables.
const TABLES: usize = 1024;

/// A photograph.
pub(super) fn jpeg(pixels: &Pixels) -> Result<Prepared, PhotoFault> {
    let (width, height) = pixels.size();
    let most = width as usize * height as usize / PIXELS_PER_BYTE + TABLES;
    let mut bytes = Vec::new();
    for quality in QUALITIES {
        bytes = jpeg_of(pixels, quality)?;
        if bytes.len() <= most {
            break;
        }
    }
    Ok(Prepared { bytes, kind: Kind::Jpeg, width, height })
}

fn jpeg_of(pixels: &Pixels, quality: u8) -> Result<Vec<u8>, PhotoFault> {
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, quality);
    // Colours at half the fineness of light, as cameras write them. Tables fitted to the picture would save 3 % more, but put
    // each colour into a scan of its own, which some readers get wrong.
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

/// A drawing: every edge stays sharp.
pub(super) fn png(pixels: &Pixels) -> Result<Prepared, PhotoFault> {
    let (width, height) = pixels.size();
    let mut bytes = Vec::new();
    let encoder = PngEncoder::new_with_quality(&mut bytes, CompressionType::Default, FilterType::Adaptive);
    match pixels {
        Pixels::Grey(grey) => encoder.write_image(grey, width, height, ExtendedColorType::L8),
        Pixels::Colour(colour) => encoder.write_image(colour, width, height, ExtendedColorType::Rgb8),
    }
    .map_err(|error| PhotoFault::Undecodable(error.to_string()))?;
    Ok(Prepared { bytes, kind: Kind::Png, width, height })
}
