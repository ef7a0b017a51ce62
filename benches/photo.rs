//! A telephone's photograph of 12 megapixels made ready for the main column: 112 mm at 220 dots to the inch.

use asfound::photo::{self, Cache};
use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};

fn main() {
    divan::main();
}

/// Slopes, edges and grain, 4000 x 3000, about as large a file as a telephone makes.
fn photograph() -> Vec<u8> {
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    let picture = RgbImage::from_fn(4000, 3000, |x, y| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        let grain = (state >> 60) as u32;
        let edge = if (x / 137 + y / 153) % 3 == 0 { 60 } else { 0 };
        let slope = 120 * x / 4000 + 60 * y / 3000;
        Rgb([slope + edge + grain, slope / 2 + edge + grain, 90 + grain].map(|value| value as u8))
    });
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 92)
        .encode_image(&picture)
        .expect("a picture that can be encoded");
    bytes
}

#[divan::bench]
fn prepared(bencher: divan::Bencher) {
    let file = photograph();
    bencher.bench(|| photo::prepare(divan::black_box(&file), 112.0));
}

#[divan::bench]
fn size(bencher: divan::Bencher) {
    let file = photograph();
    bencher.bench(|| photo::size(divan::black_box(&file)));
}

#[divan::bench]
fn found_in_the_cache(bencher: divan::Bencher) {
    let (file, root) = (photograph(), tempfile::tempdir().expect("a folder for the cache"));
    let cache = Cache::of_project(root.path());
    let first = cache.prepare(&file, 112.0);
    bencher.bench(|| assert_eq!(cache.prepare(divan::black_box(&file), 112.0), first));
}

/// Eight at a time through the threads; the time is for all eight.
#[divan::bench]
fn eight_side_by_side(bencher: divan::Bencher) {
    let file = photograph();
    let wanted = [((), 112.0); 8];
    bencher.bench(|| Cache::none().prepare_all(&wanted, |()| Ok(file.clone())));
}
