//! As fine as paper shows, and no finer; as what.

use asfound::photo::{self, Kind};
use image::{DynamicImage, GrayImage, ImageBuffer, Luma, Rgb, RgbImage};
use proptest::prelude::*;

use super::pictures::{gif, jpeg, mm_for, png, quarters, scene, seen, webp};

/// 220 dots to the inch of 25.4 mm: 112 mm show 970.08 of them.
#[test]
fn a_photograph_is_scaled_to_the_printed_width() {
    let prepared = photo::prepare(&jpeg(&scene(2000, 1500)), 112.0).unwrap();
    assert_eq!((prepared.kind, prepared.width, prepared.height), (Kind::Jpeg, 971, 728));
}

#[test]
fn nothing_is_drawn_larger_than_it_is() {
    for width in [112.0, 1e9, f64::INFINITY] {
        let prepared = photo::prepare(&jpeg(&scene(300, 200)), width).unwrap();
        assert_eq!((prepared.width, prepared.height), (300, 200));
    }
}

#[test]
fn a_width_that_is_none_leaves_one_pixel() {
    for width in [0.0, -3.0, f64::NAN] {
        let prepared = photo::prepare(&jpeg(&scene(300, 200)), width).unwrap();
        assert_eq!((prepared.width, prepared.height), (1, 1));
    }
}

#[test]
fn no_side_grows_past_every_paper() {
    let tall = png(&DynamicImage::ImageLuma8(GrayImage::new(2, 20_000)));
    let prepared = photo::prepare(&tall, 112.0).unwrap();
    assert_eq!((prepared.width, prepared.height), (1, photo::LONGEST_SIDE));
}

#[test]
fn one_pixel_is_a_picture() {
    let dot = RgbImage::from_pixel(1, 1, Rgb([40, 40, 200]));
    for file in [jpeg(&dot), png(&DynamicImage::ImageRgb8(dot.clone())), webp(&dot), gif(&dot)] {
        let prepared = photo::prepare(&file, 112.0).unwrap();
        assert_eq!((prepared.width, prepared.height), (1, 1));
        assert_eq!(photo::size(&file), Ok((1, 1)));
    }
}

#[test]
fn a_photograph_becomes_jpeg_and_a_drawing_png_whatever_they_were() {
    let (photograph, drawing) = (scene(120, 80), quarters(120, 80));
    let cases = [
        (jpeg(&photograph), Kind::Jpeg),
        (png(&DynamicImage::ImageRgb8(photograph.clone())), Kind::Jpeg),
        (webp(&photograph), Kind::Jpeg),
        (png(&DynamicImage::ImageRgb8(drawing.clone())), Kind::Png),
        (webp(&drawing), Kind::Png),
        (gif(&drawing), Kind::Png),
    ];
    for (file, kind) in cases {
        let prepared = photo::prepare(&file, 112.0).unwrap();
        assert_eq!((prepared.kind, prepared.width, prepared.height), (kind, 120, 80));
    }
}

#[test]
fn a_drawing_keeps_every_pixel_when_nothing_is_scaled() {
    let drawing = quarters(120, 80);
    for file in [png(&DynamicImage::ImageRgb8(drawing.clone())), webp(&drawing), gif(&drawing)] {
        assert_eq!(seen(&photo::prepare(&file, 112.0).unwrap().bytes), drawing);
    }
}

#[test]
fn grey_and_deep_pictures_are_read() {
    let ramp = |x: u32, y: u32| u16::try_from(257 * ((x / 4 * 8 + y / 16) % 256)).unwrap();
    let deep: ImageBuffer<Luma<u16>, _> = ImageBuffer::from_fn(128, 64, |x, y| Luma([ramp(x, y)]));
    let grey = GrayImage::from_fn(128, 64, |x, y| Luma([u8::try_from(ramp(x, y) / 257).unwrap()]));
    let coloured = DynamicImage::ImageRgb16(DynamicImage::ImageLuma16(deep.clone()).into_rgb16());
    for image in [DynamicImage::ImageLuma16(deep), DynamicImage::ImageLuma8(grey.clone()), coloured] {
        let prepared = photo::prepare(&png(&image), 112.0).unwrap();
        let found = image::load_from_memory(&prepared.bytes).unwrap();
        assert_eq!(found, DynamicImage::ImageLuma8(grey.clone()), "eight bits, one channel");
    }
}

/// Four pixels in the place of three: each new one is 4/3 of an old one wide.
#[test]
fn a_smaller_picture_is_made_of_means() {
    let row = |pixels: &[u8]| {
        let grey = GrayImage::from_raw(u32::try_from(pixels.len()).unwrap(), 1, pixels.to_vec()).unwrap();
        png(&DynamicImage::ImageLuma8(grey))
    };
    let scaled = |pixels: &[u8], width| {
        let prepared = photo::prepare(&row(pixels), mm_for(width)).unwrap();
        seen(&prepared.bytes).pixels().map(|pixel| pixel[0]).collect::<Vec<u8>>()
    };
    assert_eq!(scaled(&[0, 0, 240, 240], 3), [0, 120, 240]);
    assert_eq!(scaled(&[30, 30, 30, 90, 90, 90], 2), [30, 90]);
    assert_eq!(scaled(&[0, 0, 0, 0, 200], 2), [0, 80], "two and a half old ones each: 200 / 2.5");
}

proptest! {
    /// Scaling keeps the mean of the whole, and a plain picture stays plain.
    #[test]
    fn light_is_neither_made_nor_lost(
        (width, height) in (3u32..60, 1u32..60), wanted in 1u32..60, dark in any::<u8>(), light in any::<u8>(),
    ) {
        let halves = GrayImage::from_fn(width, height, |x, _| Luma([if x < width / 2 { dark } else { light }]));
        let mean = |grey: &GrayImage| {
            grey.iter().map(|value| f64::from(*value)).sum::<f64>() / grey.len() as f64
        };
        let file = png(&DynamicImage::ImageLuma8(halves.clone()));
        let prepared = photo::prepare(&file, mm_for(wanted)).unwrap();
        prop_assert_eq!((prepared.kind, prepared.width), (Kind::Png, width.min(wanted)), "nothing lost to JPEG");
        let scaled = image::load_from_memory(&prepared.bytes).unwrap().into_luma8();
        prop_assert!((mean(&scaled) - mean(&halves)).abs() <= 0.5);
        if dark == light {
            prop_assert!(scaled.iter().all(|value| *value == dark));
        }
    }

    #[test]
    fn sides_keep_their_ratio_to_half_a_pixel((width, height) in (1u32..300, 1u32..300), wanted in 1u32..300) {
        let file = png(&DynamicImage::ImageLuma8(GrayImage::new(width, height)));
        let prepared = photo::prepare(&file, mm_for(wanted)).unwrap();
        prop_assert_eq!(prepared.width, width.min(wanted));
        let exact = f64::from(height) * f64::from(prepared.width) / f64::from(width);
        prop_assert!((f64::from(prepared.height) - exact.max(1.0)).abs() <= 0.5);
    }
}

/// 200 photographs across the main column must fit into 30 MB with all else in the dossier.
#[test]
fn a_grainy_photograph_does_not_swell_the_dossier() {
    let prepared = photo::prepare(&jpeg(&scene(1400, 1050)), 112.0).unwrap();
    assert!(prepared.bytes.len() <= 115_000, "{} bytes", prepared.bytes.len());
}

/// Few colours, long runs of each, and yet no drawing: as PNG it would take more than two photographs.
#[test]
fn a_photograph_in_few_colours_is_written_as_a_photograph() {
    let bands = |value: u8| value / 32 * 32;
    let coarse = RgbImage::from_fn(971, 728, |x, y| {
        let ripple = (x * x / 97 + y * y / 61 + x * y / 83) % 256;
        Rgb([bands(u8::try_from(ripple).unwrap()), bands(u8::try_from((ripple + x / 4) % 256).unwrap()), 96])
    });
    let prepared = photo::prepare(&png(&DynamicImage::ImageRgb8(coarse)), 112.0).unwrap();
    assert_eq!(prepared.kind, Kind::Jpeg);
}

#[test]
fn a_tall_picture_is_as_wide_as_its_height_allows() {
    assert_eq!(photo::width_within((3000, 4000), 112.0, 100.0), 75.0);
    assert_eq!(photo::width_within((4000, 3000), 112.0, 100.0), 112.0);
}
