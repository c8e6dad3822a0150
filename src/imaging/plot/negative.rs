//! From the canvas to the file: focus, grain, the word DRAWN, JPEG.

use image::imageops::{FilterType, resize};
use image::{ImageBuffer, Rgba};
use jpeg_encoder::{ColorType, Encoder, SamplingFactor};
use tiny_skia::Pixmap;

use super::{backdrop, lettering};
use crate::imaging::ImageError;

/// Dots across.
const WIDTH: u16 = 1_280;
/// Dots down.
const HEIGHT: u16 = 960;
/// JPEG quality.
const QUALITY: u8 = 85;
/// How many dots of a missed focus run into one.
const SMEAR: u32 = 26;

/// An empty canvas of a photograph's size.
pub(super) fn blank() -> Result<Pixmap, ImageError> {
    Pixmap::new(u32::from(WIDTH), u32::from(HEIGHT)).ok_or(ImageError::NoPreview)
}

/// Makes a file of the canvas; the word DRAWN stays sharp, if fainter, when the focus was missed.
pub(super) fn develop(mut canvas: Pixmap, out_of_focus: bool, seed: u64) -> Result<Vec<u8>, ImageError> {
    if out_of_focus {
        smear(&mut canvas);
    } else {
        backdrop::finish(&mut canvas, seed);
    }
    lettering::drawn(&mut canvas, out_of_focus)?;
    let mut out = Vec::new();
    let mut encoder = Encoder::new(&mut out, QUALITY);
    encoder.set_sampling_factor(SamplingFactor::F_2_2);
    encoder.encode(canvas.data(), WIDTH, HEIGHT, ColorType::Rgba).map_err(|_| ImageError::NoPreview)?;
    Ok(out)
}

fn smear(canvas: &mut Pixmap) {
    let (width, height) = (canvas.width(), canvas.height());
    let Some(sharp) = ImageBuffer::<Rgba<u8>, _>::from_raw(width, height, canvas.data().to_vec()) else { return };
    let small = resize(&sharp, width / SMEAR, height / SMEAR, FilterType::Triangle);
    let soft = resize(&small, width, height, FilterType::CatmullRom);
    canvas.data_mut().copy_from_slice(soft.as_raw());
}
