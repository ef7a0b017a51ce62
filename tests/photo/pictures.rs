//! Pictures made for the tests, and the metadata that cameras write, byte by byte.

use image::codecs::gif::GifEncoder;
use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::codecs::webp::WebPEncoder;
use image::{DynamicImage, ExtendedColorType, ImageEncoder, Rgb, RgbImage};

pub(crate) const RED: [u8; 3] = [220, 30, 30];
pub(crate) const GREEN: [u8; 3] = [30, 200, 30];
pub(crate) const BLUE: [u8; 3] = [30, 30, 220];
pub(crate) const YELLOW: [u8; 3] = [230, 220, 30];

/// Dots to the inch that a picture is printed with at the most: the requirement, not the code's constant.
const DOTS: f64 = 220.0;

/// A printed width that shows this many pixels and not one more.
pub(crate) fn mm_for(pixels: u32) -> f64 {
    (f64::from(pixels) - 0.5) / DOTS * 25.4
}

/// Each quarter in its colour: red, green; blue, yellow.
pub(crate) fn quarters(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| {
        Rgb(match (x < width / 2, y < height / 2) {
            (true, true) => RED,
            (false, true) => GREEN,
            (true, false) => BLUE,
            (false, false) => YELLOW,
        })
    })
}

/// Slopes of light with edges and grain in them, as in a photograph.
pub(crate) fn scene(width: u32, height: u32) -> RgbImage {
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    RgbImage::from_fn(width, height, |x, y| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        let grain = (state >> 60) as u32;
        let edge = if (x / 37 + y / 53) % 3 == 0 { 60 } else { 0 };
        let slope = 120 * x / width + 60 * y / height;
        Rgb([slope + edge + grain, slope / 2 + edge + grain, 90 + grain]
            .map(|value| u8::try_from(value).unwrap()))
    })
}

pub(crate) fn jpeg(image: &RgbImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 95).encode_image(image).unwrap();
    bytes
}

pub(crate) fn png(image: &DynamicImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    image.write_with_encoder(PngEncoder::new(&mut bytes)).unwrap();
    bytes
}

pub(crate) fn webp(image: &RgbImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    image.write_with_encoder(WebPEncoder::new_lossless(&mut bytes)).unwrap();
    bytes
}

pub(crate) fn gif(image: &RgbImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = GifEncoder::new(&mut bytes);
    encoder.encode(image, image.width(), image.height(), ExtendedColorType::Rgb8).unwrap();
    drop(encoder);
    bytes
}

pub(crate) fn webp_with_exif(image: &RgbImage, exif: Vec<u8>) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = WebPEncoder::new_lossless(&mut bytes);
    encoder.set_exif_metadata(exif).unwrap();
    encoder.write_image(image, image.width(), image.height(), ExtendedColorType::Rgb8).unwrap();
    bytes
}

pub(crate) fn png_with(image: &RgbImage, exif: Vec<u8>, profile: Option<Vec<u8>>) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = PngEncoder::new(&mut bytes);
    encoder.set_exif_metadata(exif).unwrap();
    if let Some(profile) = profile {
        encoder.set_icc_profile(profile).unwrap();
    }
    encoder.write_image(image, image.width(), image.height(), ExtendedColorType::Rgb8).unwrap();
    bytes
}

/// A JPEG with these segments after its first marker.
pub(crate) fn jpeg_with(jpeg: &[u8], segments: &[(u8, Vec<u8>)]) -> Vec<u8> {
    let mut bytes = jpeg[..2].to_vec();
    for (marker, content) in segments {
        bytes.extend([0xff, *marker]);
        bytes.extend(u16::try_from(content.len() + 2).unwrap().to_be_bytes());
        bytes.extend(content);
    }
    bytes.extend(&jpeg[2..]);
    bytes
}

/// The content of a JPEG's Exif segment.
pub(crate) fn app1(exif: &[u8]) -> Vec<u8> {
    [b"Exif\0\0", exif].concat()
}

pub(crate) const MAKE: &[u8] = b"Lantern Works\0";
pub(crate) const PLACE: [u32; 6] = [51, 1, 28, 1, 3881, 100];

/// Exif: the camera's make, an orientation, and a latitude of 51 deg 28 min 38.81 s (JEITA CP-3451: TIFF header,
/// directory, tags 010F, 0112 and 8825, GPS tags 0001 and 0002), in either order of bytes.
pub(crate) fn exif(orientation: u16, little: bool) -> Vec<u8> {
    let short = |value: u16| if little { value.to_le_bytes() } else { value.to_be_bytes() };
    let long = |value: u32| if little { value.to_le_bytes() } else { value.to_be_bytes() };
    let entry = |tag: u16, kind: u16, count: u32, value: [u8; 4]| {
        [&short(tag)[..], &short(kind), &long(count), &value].concat()
    };
    let [high, low] = short(orientation);
    let (make_at, gps_at, place_at) = (50, 64, 94);
    let mut bytes = if little { b"II*\0".to_vec() } else { b"MM\0*".to_vec() };
    bytes.extend(long(8));
    bytes.extend(short(3));
    bytes.extend(entry(0x010f, 2, u32::try_from(MAKE.len()).unwrap(), long(make_at)));
    bytes.extend(entry(0x0112, 3, 1, [high, low, 0, 0]));
    bytes.extend(entry(0x8825, 4, 1, long(gps_at)));
    bytes.extend(long(0));
    bytes.extend(MAKE);
    bytes.extend(short(2));
    bytes.extend(entry(0x0001, 2, 2, *b"N\0\0\0"));
    bytes.extend(entry(0x0002, 5, 3, long(place_at)));
    bytes.extend(long(0));
    bytes.extend(PLACE.iter().flat_map(|value| long(*value)));
    bytes
}

/// A chunk of a PNG (ISO/IEC 15948, 5.3), with its check sum.
pub(crate) fn chunk(name: &[u8; 4], content: &[u8]) -> Vec<u8> {
    let mut sum = u32::MAX;
    for byte in name.iter().chain(content) {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            sum = if sum & 1 == 1 { sum >> 1 ^ 0xedb8_8320 } else { sum >> 1 };
        }
    }
    let length = u32::try_from(content.len()).unwrap().to_be_bytes();
    [&length[..], name, content, &(!sum).to_be_bytes()].concat()
}

/// Where the first chunk of a PNG ends: signature and `IHDR`.
pub(crate) const AFTER_HEADER: usize = 8 + 25;

/// The decoded picture.
pub(crate) fn seen(bytes: &[u8]) -> RgbImage {
    image::load_from_memory(bytes).unwrap().into_rgb8()
}

/// Whether a colour is the one expected, give or take what JPEG does to it.
pub(crate) fn is_near(found: [u8; 3], expected: [u8; 3]) -> bool {
    found.iter().zip(expected).all(|(a, b)| a.abs_diff(b) < 24)
}
