//! The orientation that a camera wrote, applied.

use asfound::photo::{self, Kind};
use image::RgbImage;

use super::pictures::{
    app1, exif, is_near, jpeg, jpeg_with, mm_for, png_with, quarters, seen, webp_with_exif,
};

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Top,
    Bottom,
    Left,
    Right,
}
use Side::{Bottom, Left, Right, Top};

/// Where the 0th row and the 0th column of the stored picture are seen: JEITA CP-3451 (Exif 2.2), tag 274, page 18.
const SIDES: [(u16, Side, Side); 8] = [
    (1, Top, Left),
    (2, Top, Right),
    (3, Bottom, Right),
    (4, Bottom, Left),
    (5, Left, Top),
    (6, Right, Top),
    (7, Right, Bottom),
    (8, Left, Bottom),
];

fn opposite(side: Side) -> Side {
    match side {
        Top => Bottom,
        Bottom => Top,
        Left => Right,
        Right => Left,
    }
}

/// The colour near the corner between two sides.
fn at_corner(picture: &RgbImage, one: Side, other: Side) -> [u8; 3] {
    let (width, height) = picture.dimensions();
    let is = |side| one == side || other == side;
    let x = if is(Left) { width / 8 } else { width * 7 / 8 };
    let y = if is(Top) { height / 8 } else { height * 7 / 8 };
    picture.get_pixel(x, y).0
}

fn assert_upright(stored: &RgbImage, file: &[u8], orientation: (u16, Side, Side), width: u32) {
    let (value, row, column) = orientation;
    let prepared = photo::prepare(file, mm_for(width)).unwrap();
    let picture = seen(&prepared.bytes);
    assert_eq!(picture.dimensions(), (prepared.width, prepared.height));
    for (stored_row, seen_row) in [(Top, row), (Bottom, opposite(row))] {
        for (stored_column, seen_column) in [(Left, column), (Right, opposite(column))] {
            let expected = at_corner(stored, stored_row, stored_column);
            let found = at_corner(&picture, seen_row, seen_column);
            assert!(is_near(found, expected), "orientation {value}: {found:?} is not {expected:?}");
        }
    }
}

#[test]
fn every_orientation_is_seen_as_the_standard_says() {
    let stored = quarters(96, 64);
    for orientation in SIDES {
        let on_its_side = matches!(orientation.1, Left | Right);
        for little in [true, false] {
            let tags = exif(orientation.0, little);
            let files = [
                jpeg_with(&jpeg(&stored), &[(0xe1, app1(&tags))]),
                webp_with_exif(&stored, tags.clone()),
                png_with(&stored, tags, None),
            ];
            for file in files {
                let upright = if on_its_side { (64, 96) } else { (96, 64) };
                assert_eq!(photo::size(&file), Ok(upright));
                assert_upright(&stored, &file, orientation, 1000);
                assert_upright(&stored, &file, orientation, 32);
            }
        }
    }
}

/// The width that counts is the one that is seen.
#[test]
fn a_picture_on_its_side_is_scaled_by_the_width_that_is_seen() {
    let file = jpeg_with(&jpeg(&quarters(400, 200)), &[(0xe1, app1(&exif(6, true)))]);
    let prepared = photo::prepare(&file, mm_for(50)).unwrap();
    assert_eq!((prepared.kind, prepared.width, prepared.height), (Kind::Jpeg, 50, 100));
}

#[test]
fn an_orientation_that_the_standard_does_not_know_turns_nothing() {
    for value in [0, 9, 255, u16::MAX] {
        let file = jpeg_with(&jpeg(&quarters(96, 64)), &[(0xe1, app1(&exif(value, true)))]);
        assert_upright(&quarters(96, 64), &file, (value, Top, Left), 1000);
    }
}
