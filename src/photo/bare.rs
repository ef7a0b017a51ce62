//! Files that are attached as they are, freed of what a camera wrote beside the picture.

use image::metadata::Orientation;
use img_parts::jpeg::{Jpeg, JpegSegment, markers};
use img_parts::png::Png;
use img_parts::webp::WebP;
use img_parts::{Bytes, ImageEXIF};

use super::{Kind, PhotoFault, raster, svg, whole};

/// The file without place, camera, remarks and preview; its pixels are the very same bytes. A photograph keeps the mark
/// that says which side is up. What is no JPEG, PNG, WebP or SVG comes back as it was.
///
/// # Errors
/// When a file that begins as one of these is damaged: nobody can say what is in it.
pub fn without_metadata(bytes: &[u8]) -> Result<Vec<u8>, PhotoFault> {
    match Kind::of(bytes) {
        Some(Kind::Jpeg) => bare_jpeg(bytes),
        Some(Kind::Png) => bare_png(bytes),
        Some(Kind::Webp) => bare_webp(bytes),
        Some(Kind::Svg) => Ok(svg::clean(bytes)?.0),
        Some(Kind::Gif) | None => Ok(bytes.to_vec()),
    }
}

/// JFIF, a colour profile and the mark of how colours were turned are needed to show the picture (ISO/IEC 10918-5;
/// ICC.1:2022, B.4); every other application segment and every comment goes, and what lies behind the end.
fn bare_jpeg(bytes: &[u8]) -> Result<Vec<u8>, PhotoFault> {
    let up = raster::orientation(bytes, Kind::Jpeg)?;
    let mut jpeg = Jpeg::from_bytes(Bytes::copy_from_slice(whole::jpeg_to_its_end(bytes)))
        .map_err(|error| damaged(&error))?;
    jpeg.segments_mut().retain(|segment| match segment.marker() {
        markers::APP2 => segment.contents().starts_with(b"ICC_PROFILE\0"),
        markers::APP0 => segment.contents().starts_with(b"JFIF\0"),
        markers::APP14 => true,
        markers::APP1..=markers::APP15 | markers::COM => false,
        _ => true,
    });
    if up != Orientation::NoTransforms {
        let first =
            usize::from(jpeg.segments().first().is_some_and(|segment| segment.marker() == markers::APP0));
        let says = [b"Exif\0\0".as_slice(), &which_side_is_up(up)].concat();
        jpeg.segments_mut().insert(first, JpegSegment::new_with_contents(markers::APP1, Bytes::from(says)));
    }
    Ok(jpeg.encoder().bytes().to_vec())
}

/// Texts, times and the camera's words go (ISO/IEC 15948, 11.3.4; PNG third edition, 11.3.3.4).
fn bare_png(bytes: &[u8]) -> Result<Vec<u8>, PhotoFault> {
    let up = raster::orientation(bytes, Kind::Png)?;
    let mut png = Png::from_bytes(Bytes::copy_from_slice(bytes)).map_err(|error| damaged(&error))?;
    let beside = [*b"tEXt", *b"zTXt", *b"iTXt", *b"eXIf", *b"tIME"];
    png.chunks_mut().retain(|chunk| !beside.contains(&chunk.kind()));
    if up != Orientation::NoTransforms {
        png.set_exif(Some(Bytes::from(which_side_is_up(up).to_vec())));
    }
    Ok(png.encoder().bytes().to_vec())
}

/// The camera's words are in chunks of their own (RFC 9649, 2.7.1.5).
fn bare_webp(bytes: &[u8]) -> Result<Vec<u8>, PhotoFault> {
    let up = raster::orientation(bytes, Kind::Webp)?;
    let mut webp = WebP::from_bytes(Bytes::copy_from_slice(bytes)).map_err(|error| damaged(&error))?;
    webp.remove_chunks_by_id(*b"XMP ");
    let says = (up != Orientation::NoTransforms).then(|| Bytes::from(which_side_is_up(up).to_vec()));
    webp.set_exif(says);
    Ok(webp.encoder().bytes().to_vec())
}

/// A directory of one entry, tag 0x0112 (TIFF 6.0, sections 2 and 8; Exif 2.32, 4.6.2).
fn which_side_is_up(up: Orientation) -> [u8; 26] {
    let mut tiff = *b"MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\0\0\0\0\0\0\0";
    tiff[19] = up.to_exif();
    tiff
}

fn damaged(error: &img_parts::Error) -> PhotoFault {
    PhotoFault::Undecodable(error.to_string())
}
