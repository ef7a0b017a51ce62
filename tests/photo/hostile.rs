//! Files that are no picture, or no whole one, or far too much of one.

use asfound::photo::{self, PhotoFault, Prepared};
use image::{DynamicImage, RgbImage};
use proptest::prelude::*;

use super::pictures::{
    AFTER_HEADER, app1, chunk, exif, gif, jpeg, jpeg_with, mm_for, png, png_with, quarters, scene, webp,
    webp_with_exif,
};

fn every_kind(picture: &RgbImage) -> Vec<(&'static str, Vec<u8>)> {
    vec![
        ("JPEG", jpeg_with(&jpeg(picture), &[(0xe1, app1(&exif(6, true)))])),
        ("PNG", png_with(picture, exif(6, true), None)),
        ("WebP", webp_with_exif(picture, exif(6, true))),
        ("plain WebP", webp(picture)),
        ("GIF", gif(picture)),
        ("SVG", super::drawing::GOOD.trim_end().as_bytes().to_vec()),
    ]
}

/// The part of a file either is refused, or holds the whole picture: none is printed half.
#[test]
fn a_file_cut_short_is_refused_or_whole() {
    for picture in [scene(150, 110), quarters(150, 110)] {
        for (kind, file) in every_kind(&picture) {
            let whole = photo::prepare(&file, mm_for(100)).unwrap();
            let cuts = (0..16).map(|part| file.len() * part / 16).chain(file.len() - 8..file.len());
            for cut in cuts {
                match photo::prepare(&file[..cut], mm_for(100)) {
                    Ok(found) => assert!(found == whole, "{kind} cut at {cut} of {}", file.len()),
                    Err(fault) => assert_tells(&fault),
                }
                let _ = photo::size(&file[..cut]);
            }
        }
    }
}

#[test]
fn a_jpeg_without_its_end_is_said_to_be_cut_off() {
    let file = jpeg(&scene(150, 110));
    for cut in [3, 200, file.len() / 2, file.len() - 2, file.len() - 1] {
        assert_eq!(photo::prepare(&file[..cut], 50.0), Err(PhotoFault::CutOff));
        assert_eq!(photo::size(&file[..cut]), Err(PhotoFault::CutOff));
    }
}

/// Allowed by ISO/IEC 10918-1, A.2.2, written by no camera, and read wrongly by many a decoder.
#[test]
fn colours_in_scans_of_their_own_are_refused_not_garbled() {
    let (picture, mut file) = (quarters(96, 64), Vec::new());
    let mut encoder = jpeg_encoder::Encoder::new(&mut file, 90);
    encoder.set_optimized_huffman_tables(true);
    encoder.encode(&picture, 96, 64, jpeg_encoder::ColorType::Rgb).unwrap();
    let fault = photo::prepare(&file, 50.0).unwrap_err();
    assert_eq!(fault.to_string(), "it can't be decoded: its colours are stored one after the other");
    assert_tells(&fault);
}

/// The thumbnail in the Exif segment is a JPEG with an end of its own.
#[test]
fn the_end_of_a_thumbnail_is_not_the_end_of_the_picture() {
    let mut tags = exif(1, true);
    tags.extend(jpeg(&quarters(16, 16)));
    let file = jpeg_with(&jpeg(&scene(150, 110)), &[(0xe1, app1(&tags))]);
    assert_eq!(photo::prepare(&file[..file.len() / 2], 50.0), Err(PhotoFault::CutOff));
    assert!(photo::prepare(&file, 50.0).is_ok());
}

fn assert_tells(fault: &PhotoFault) {
    let (says, help) = (fault.to_string(), fault.help());
    assert!(!says.is_empty() && !says.ends_with('.') && says.lines().count() == 1, "{says}");
    assert!(help.ends_with('.'), "{help}");
}

/// ISO/IEC 15948, 11.2.2: width, height, depth 8, colour 2; nothing behind that could fill them.
fn claims(width: u32, height: u32) -> Vec<u8> {
    let header = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 2, 0, 0, 0]].concat();
    let small = png(&DynamicImage::ImageRgb8(quarters(8, 8)));
    [&small[..8], &chunk(b"IHDR", &header), &small[AFTER_HEADER..]].concat()
}

#[test]
fn a_picture_that_claims_too_many_pixels_is_never_decoded() {
    let fault = PhotoFault::TooLarge { width: 100_000, height: 100_000 };
    assert_eq!(photo::prepare(&claims(100_000, 100_000), 112.0), Err(fault.clone()));
    assert_eq!(photo::size(&claims(100_000, 100_000)), Err(fault.clone()));
    assert_eq!(fault.to_string(), "it claims 100000 x 100000 pixels, and 120 million can be read");
    assert_tells(&fault);
    for (width, height) in [(0, 0), (0, 50), (u32::MAX, u32::MAX), (0x7fff_ffff, 0x7fff_ffff)] {
        assert_tells(&photo::prepare(&claims(width, height), 112.0).unwrap_err());
    }
}

/// They can claim as much as sixteen bits allow.
#[test]
fn so_are_a_gif_and_a_jpeg() {
    let mut huge = gif(&quarters(8, 8));
    huge[6..10].copy_from_slice(&[0xff; 4]);
    assert_eq!(photo::size(&huge), Err(PhotoFault::TooLarge { width: 65535, height: 65535 }));
    assert_tells(&photo::prepare(&huge, 112.0).unwrap_err());
    let mut huge = jpeg(&quarters(8, 8));
    let frame = huge.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
    huge[frame + 5..frame + 9].copy_from_slice(&[0xff; 4]);
    assert_eq!(photo::prepare(&huge, 112.0), Err(PhotoFault::TooLarge { width: 65535, height: 65535 }));
}

#[test]
fn other_files_are_named() {
    let cases: [(&[u8], &str); 9] = [
        (b"", "the file is empty"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "it is a HEIC picture, as some telephones write them"),
        (b"\0\0\0\x1cftypavif\0\0\0\0", "it is an AVIF picture"),
        (b"\0\0\0\x14ftypqt  \0\0\0\0", "it is a film"),
        (b"II*\0\x08\0\0\0", "it is a TIFF picture or a camera's raw file"),
        (b"BM\x36\0\0\0", "it is a BMP picture"),
        (b"%PDF-1.7", "it is a PDF"),
        (b"just words", "it is no picture of a kind that is known here"),
        (b"\xff\xd8\xff", "the file ends in the middle of the picture"),
    ];
    for (file, says) in cases {
        let fault = photo::prepare(file, 112.0).unwrap_err();
        assert_eq!(fault.to_string(), says);
        assert_eq!(photo::size(file), Err(fault.clone()));
        assert_tells(&fault);
    }
    let heic = photo::prepare(b"\0\0\0\x18ftypheic\0\0\0\0", 112.0).unwrap_err();
    assert!(heic.help().contains("JPEG"), "{}", heic.help());
}

fn survives(file: &[u8]) -> Result<(), TestCaseError> {
    let _ = photo::size(file);
    if let Ok(Prepared { bytes, width, height, .. }) = photo::prepare(file, mm_for(40)) {
        prop_assert!(!bytes.is_empty() && width <= 40 && height >= 1);
    }
    Ok(())
}

proptest! {
    #[test]
    fn damaged_files_never_panic(
        which in 0usize..6,
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12),
        drawing in any::<bool>(),
    ) {
        let picture = if drawing { quarters(40, 30) } else { scene(40, 30) };
        let (kind, mut file) = every_kind(&picture).swap_remove(which);
        for (at, byte) in &changes {
            let at = at.index(file.len());
            file[at] = *byte;
        }
        // A damaged SVG states any size that it likes.
        if kind == "SVG" {
            let _ = photo::prepare(&file, 40.0);
        } else {
            survives(&file)?;
        }
    }

    #[test]
    fn noise_behind_a_good_beginning_never_panics(
        which in 0usize..6, keep in 4usize..80, noise in prop::collection::vec(any::<u8>(), 0..400),
    ) {
        let (kind, mut file) = every_kind(&quarters(40, 30)).swap_remove(which);
        file.truncate(keep);
        file.extend(noise);
        if kind == "SVG" {
            let _ = photo::prepare(&file, 40.0);
        } else {
            survives(&file)?;
        }
    }
}
