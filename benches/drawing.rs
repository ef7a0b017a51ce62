//! Drawings: a shaft of twelve features laid out on a sheet.

#[path = "../tests/parts/mod.rs"]
mod parts;

use asfound::drafting::{Sheet, Title, draw};

fn main() {
    divan::main();
}

/// What a drawing costs once its shape is known: placing every dimension, scale by scale.
#[divan::bench]
fn shaft_of_twelve_features(bencher: divan::Bencher) {
    let (shape, title) = (parts::cases::twelve_features(), Title::default());
    bencher.bench_local(|| draw(&shape, &title, &Sheet::A4_LANDSCAPE));
}
