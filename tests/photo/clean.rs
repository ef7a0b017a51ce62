//! Nothing is left in a prepared picture but the picture; its colours are those that were meant.

use asfound::photo::{self, Kind};
use image::{DynamicImage, Rgb, RgbImage};
use moxcms::ColorProfile;

use super::pictures::{
    AFTER_HEADER, MAKE, PLACE, app1, chunk, exif, gif, jpeg, jpeg_with, mm_for, png_with, quarters, scene,
    seen, webp_with_exif,
};

const COMMENT: &[u8] = b"taken behind the boat shed";

fn holds(bytes: &[u8], what: &[u8]) -> bool {
    bytes.windows(what.len()).any(|window| window == what)
}

/// What a file must not tell: each found in the source first, so that the test could fail.
fn assert_tells_nothing(file: &[u8], secrets: &[&[u8]]) -> photo::Prepared {
    let prepared = photo::prepare(file, mm_for(64)).unwrap();
    for secret in secrets {
        assert!(holds(file, secret), "the source does not hold {secret:?}");
        assert!(!holds(&prepared.bytes, secret), "the picture still holds {secret:?}");
    }
    match prepared.kind {
        Kind::Jpeg => assert_bare_jpeg(&prepared.bytes),
        _ => assert_bare_png(&prepared.bytes),
    }
    prepared
}

/// Only what a decoder needs, and JFIF's own header: ISO/IEC 10918-1, table B.1; ISO/IEC 10918-5.
fn assert_bare_jpeg(bytes: &[u8]) {
    const NEEDED: [u8; 5] = [0xe0, 0xdb, 0xc0, 0xc4, 0xda];
    let mut at = 2;
    while bytes[at + 1] != 0xda {
        assert!(bytes[at] == 0xff && NEEDED.contains(&bytes[at + 1]), "segment {:x}", bytes[at + 1]);
        let length = usize::from(u16::from_be_bytes([bytes[at + 2], bytes[at + 3]]));
        assert!(bytes[at + 1] != 0xe0 || length == 16, "a JFIF header without a thumbnail");
        at += 2 + length;
    }
    let end = bytes.windows(2).position(|pair| pair == [0xff, 0xd9]).unwrap();
    assert_eq!(end + 2, bytes.len(), "nothing after the end");
}

/// Only the critical chunks: ISO/IEC 15948, 5.6.
fn assert_bare_png(bytes: &[u8]) {
    let mut rest = &bytes[8..];
    while !rest.is_empty() {
        let length = u32::from_be_bytes(rest[..4].try_into().unwrap()) as usize;
        let name = &rest[4..8];
        assert!([b"IHDR", b"IDAT", b"IEND"].iter().any(|needed| *needed == name), "chunk {name:?}");
        rest = &rest[length + 12..];
    }
}

fn place(little: bool) -> Vec<u8> {
    PLACE.iter().flat_map(|value| if little { value.to_le_bytes() } else { value.to_be_bytes() }).collect()
}

#[test]
fn a_jpeg_tells_neither_place_nor_camera_nor_anything_else() {
    let xmp = b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>saltmarsh</x:xmpmeta>".to_vec();
    let iptc = b"Photoshop 3.0\08BIM\x04\x04\0\0\0\0\0\x0a\x1c\x02\x5a\0\x05basin".to_vec();
    let profile = ColorProfile::new_display_p3().encode().unwrap();
    let segments = [
        (0xe1, app1(&exif(1, false))),
        (0xe1, xmp),
        (0xe2, [b"ICC_PROFILE\0\x01\x01", &profile[..]].concat()),
        (0xed, iptc),
        (0xfe, COMMENT.to_vec()),
    ];
    let mut file = jpeg_with(&jpeg(&scene(96, 64)), &segments);
    file.extend(b"a film behind the picture");
    let place = place(false);
    let secrets: [&[u8]; 8] =
        [b"Exif", MAKE, &place, b"saltmarsh", b"basin", COMMENT, b"ICC_PROFILE", b"a film behind"];
    assert_eq!(assert_tells_nothing(&file, &secrets).kind, Kind::Jpeg);
}

#[test]
fn a_png_tells_nothing_either() {
    let mut file =
        png_with(&quarters(96, 64), exif(3, true), Some(ColorProfile::new_srgb().encode().unwrap()));
    let text = chunk(b"tEXt", &[b"Comment\0", COMMENT].concat());
    file.splice(AFTER_HEADER..AFTER_HEADER, text);
    let prepared = assert_tells_nothing(&file, &[MAKE, &place(true), COMMENT, b"iCCP", b"tEXt"]);
    assert_eq!(prepared.kind, Kind::Png);
}

#[test]
fn webp_and_gif_tell_nothing_either() {
    let file = webp_with_exif(&scene(96, 64), exif(8, true));
    assert_tells_nothing(&file, &[MAKE, &place(true), b"EXIF"]);
    let mut file = gif(&quarters(96, 64));
    let end = file.len() - 1;
    let length = u8::try_from(COMMENT.len()).unwrap();
    file.splice(end..end, [&[0x21, 0xfe, length], COMMENT, &[0]].concat());
    assert_tells_nothing(&file, &[COMMENT]);
}

/// sRGB's own red told in Display P3 is (0.91749, 0.20029, 0.13856): W3C, CSS Color Module Level 4, by the sample
/// matrices of its section 18. From memory; at eight bits (234, 51, 35).
#[test]
fn colours_are_brought_to_srgb() {
    let red = RgbImage::from_pixel(8, 8, Rgb([234, 51, 35]));
    let profile = ColorProfile::new_display_p3().encode().unwrap();
    let told = photo::prepare(&png_with(&red, exif(1, true), Some(profile)), 20.0).unwrap();
    let [r, g, b] = seen(&told.bytes).get_pixel(3, 3).0;
    assert!(r >= 253 && g <= 6 && b <= 6, "{r} {g} {b}");
    let untold = photo::prepare(&png_with(&red, exif(1, true), None), 20.0).unwrap();
    assert_eq!(seen(&untold.bytes).get_pixel(3, 3).0, [234, 51, 35]);
}

#[test]
fn a_profile_that_is_nonsense_changes_nothing() {
    let picture = quarters(16, 16);
    for profile in
        [vec![7; 3], vec![0; 200], ColorProfile::new_display_p3().encode().unwrap()[..150].to_vec()]
    {
        let prepared = photo::prepare(&png_with(&picture, exif(1, true), Some(profile)), 20.0).unwrap();
        assert_eq!(seen(&prepared.bytes), picture);
    }
}

#[test]
fn what_is_transparent_shows_white_paper() {
    let rgba = image::RgbaImage::from_fn(40, 10, |x, _| {
        image::Rgba([100, 50, 0, [0, 51, 255, 255][x as usize / 10]])
    });
    let file = super::pictures::png(&DynamicImage::ImageRgba8(rgba));
    let picture = seen(&photo::prepare(&file, 20.0).unwrap().bytes);
    let found = [5, 15, 25].map(|x| picture.get_pixel(x, 5).0);
    assert_eq!(found, [[255, 255, 255], [224, 214, 204], [100, 50, 0]], "51 of 255 is one part in five");
}
