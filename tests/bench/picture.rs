//! Pictures with the detail of a photograph: broad light and shade, and the grain of a sensor.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};

/// A number that looks like chance and is the same each time (xorshift, Marsaglia 2003).
fn chance(state: &mut u32) -> u32 {
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    *state
}

/// A JPEG of this size; no two seeds alike.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 0 and 255 first")]
pub(crate) fn jpeg(width: u32, height: u32, seed: u32, quality: u8) -> Vec<u8> {
    let mut state = seed.wrapping_mul(2_654_435_761) | 1;
    let pixels = RgbImage::from_fn(width, height, |x, y| {
        let wave = ((f64::from(x) / 37.0).sin() + (f64::from(y) / 53.0 + f64::from(seed)).cos()) * 40.0 + 120.0;
        let edge = if (x / 90 + y / 70) % 2 == 0 { 18.0 } else { -18.0 };
        let grain = f64::from(chance(&mut state) % 13) - 6.0;
        let shade = (wave + edge + grain).clamp(0.0, 255.0) as u8;
        Rgb([shade, shade.saturating_sub(8), shade.saturating_sub(20)])
    });
    let mut out = Cursor::new(Vec::new());
    JpegEncoder::new_with_quality(&mut out, quality).encode_image(&pixels).unwrap();
    out.into_inner()
}
