//! Papers that are photographs are attached without what the camera wrote, with the very same pixels.

use asfound::photo::without_metadata;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageReader};

use super::pictures::{app1, exif, jpeg, jpeg_with, png_with, scene, webp_with_exif};

/// The decoded picture as it lies in the file, and which side of it is up.
fn seen(bytes: &[u8]) -> (DynamicImage, Orientation) {
    let reader = ImageReader::new(std::io::Cursor::new(bytes)).with_guessed_format().unwrap();
    let mut decoder = reader.into_decoder().unwrap();
    let up = decoder.orientation().unwrap();
    (DynamicImage::from_decoder(decoder).unwrap(), up)
}

fn holds(bytes: &[u8], word: &str) -> bool {
    bytes.windows(word.len()).any(|window| window == word.as_bytes())
}

#[test]
fn place_and_camera_go_and_the_picture_stays() {
    let picture = scene(60, 40);
    let remark = (0xfe, b"SECRET".to_vec());
    let preview = (0xe2, b"MPF\0SECRET".to_vec());
    let mut photograph = jpeg_with(&jpeg(&picture), &[(0xe1, app1(&exif(6, true))), remark, preview]);
    photograph.extend(b"SECRET behind the end");
    let files =
        [photograph, png_with(&picture, exif(6, true), None), webp_with_exif(&picture, exif(6, true))];
    for file in files {
        let place = exif(6, true);
        let bare = without_metadata(&file).unwrap();
        assert_eq!(seen(&bare), seen(&file), "the same pixels, the same side up");
        assert!(!holds(&bare, "SECRET"));
        assert!(!bare.windows(place.len()).any(|window| window == place), "the place went");
        assert!(bare.len() < file.len());
        assert_eq!(without_metadata(&bare).unwrap(), bare, "nothing more to take away");
    }
}

#[test]
fn a_damaged_photograph_is_refused_and_what_is_none_stays() {
    let file = jpeg(&scene(60, 40));
    assert!(without_metadata(&file[..file.len() / 2]).is_err());
    assert_eq!(without_metadata(b"%PDF-1.7").unwrap(), b"%PDF-1.7");
}
