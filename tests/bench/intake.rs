//! Taking in a 12 megapixel JPEG: looked at and made small; beside it the plain way of a general library.

use std::io::Cursor;

use divan::Bencher;
use image::imageops::FilterType;

use crate::picture::jpeg;

#[divan::bench(sample_count = 10, sample_size = 1)]
fn ours_look_and_three_views(bencher: Bencher) {
    let photo = jpeg(4000, 3000, 7, 90);
    bencher.bench_local(|| {
        let seen = tackbook::imaging::look(&photo).unwrap();
        let views = tackbook::imaging::views(&photo).unwrap();
        (seen, views)
    });
}

/// The peer: decoded whole, made small three times, written three times; it looks at nothing.
#[divan::bench(sample_count = 10, sample_size = 1)]
fn peer_decode_and_three_views(bencher: Bencher) {
    let photo = jpeg(4000, 3000, 7, 90);
    bencher.bench_local(|| {
        let whole = image::load_from_memory(&photo).unwrap();
        [1600, 320, 1200].map(|side| {
            let small = whole.resize(side, side, FilterType::Triangle);
            let mut out = Cursor::new(Vec::new());
            small.write_to(&mut out, image::ImageFormat::Jpeg).unwrap();
            out.into_inner()
        })
    });
}
