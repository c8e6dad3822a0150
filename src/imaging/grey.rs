//! Figures of a grey picture: how sharp, how dark, and a short print to find pictures that look alike.

use std::cmp::Ordering;

use image::{DynamicImage, GrayImage};

use super::decoding::{resized, shrunk};

/// A grey picture, 0 black to 255 white.
#[derive(Debug, Clone, PartialEq)]
pub struct Grey {
    width: usize,
    values: Vec<f32>,
}

/// How bright red, green and blue light is to the eye (weights of ITU-R BT.601).
pub fn luma(red: u8, green: u8, blue: u8) -> f64 {
    0.299 * f64::from(red) + 0.587 * f64::from(green) + 0.114 * f64::from(blue)
}

impl Grey {
    /// From rows of `width` values, top to bottom; a last row that is not whole is left out.
    pub fn from_values(width: usize, mut values: Vec<f32>) -> Self {
        let width = width.max(1);
        values.truncate(values.len() / width * width);
        Self { width, values }
    }

    /// From a picture, its long side brought down to `long_side` dots first.
    pub fn of(pixels: &DynamicImage, long_side: u32) -> Self {
        let small = shrunk(pixels.clone(), long_side);
        let width = usize::try_from(small.width()).unwrap_or(1);
        let values = match &small {
            DynamicImage::ImageLuma8(grey) => grey.as_raw().iter().map(|value| f32::from(*value)).collect(),
            other => other.to_rgb8().as_raw().chunks_exact(3).filter_map(rounded_luma).collect(),
        };
        Self::from_values(width, values)
    }

    /// The middle of the frame, half as wide and half as high: bare metal and lamps at the edges say nothing of a joint.
    pub fn middle(&self) -> Self {
        let height = self.values.len() / self.width;
        let (across, down) = ((self.width / 2).max(1), (height / 2).max(1));
        let rows = self.values.chunks_exact(self.width).skip((height - down) / 2).take(down);
        let values = rows.flat_map(|row| row.iter().skip((self.width - across) / 2).take(across)).copied().collect();
        Self { width: across, values }
    }

    /// Variance of the Laplacian (kernel 0 1 0 / 1 -4 1 / 0 1 0, edges mirrored without repeating the edge): the more,
    /// the sharper.
    pub fn sharpness(&self) -> f64 {
        let rows: Vec<&[f32]> = self.values.chunks_exact(self.width).collect();
        let mut sum = Sums::default();
        for (y, row) in rows.iter().enumerate() {
            let (above, below) = mirrored(y, rows.len());
            if let (Some(above), Some(below)) = (rows.get(above), rows.get(below)) {
                laplacian_row(row, above, below, &mut sum);
            }
        }
        sum.variance()
    }

    /// Mean of the values, 0 to 255.
    pub fn mean(&self) -> f64 {
        let mut sum = Sums::default();
        self.values.iter().for_each(|value| sum.add(f64::from(*value)));
        sum.mean()
    }

    /// Share of the values that are at most `bound`.
    pub fn share_at_most(&self, bound: f32) -> f64 {
        self.share(|value| value.partial_cmp(&bound) != Some(Ordering::Greater))
    }

    /// Share of the values that are at least `bound`.
    pub fn share_at_least(&self, bound: f32) -> f64 {
        self.share(|value| value.partial_cmp(&bound) != Some(Ordering::Less))
    }

    fn share(&self, counts: impl Fn(f32) -> bool) -> f64 {
        let mut sum = Sums::default();
        self.values.iter().for_each(|value| sum.add(if counts(*value) { 1.0 } else { 0.0 }));
        sum.mean()
    }
}

/// A picture's 64-bit difference hash: brought to 9 × 8 grey dots, a bit is set where the right neighbour is brighter;
/// row by row, the first bit the highest.
pub fn difference_hash(pixels: &DynamicImage) -> u64 {
    let grey = if (pixels.width(), pixels.height()) == (9, 8) { pixels.clone() } else { resized(pixels, 9, 8) };
    let grey: GrayImage = match grey {
        DynamicImage::ImageLuma8(grey) => grey,
        other => {
            let small = Grey::of(&other, 9);
            let mut bytes = other.to_luma8();
            bytes.pixels_mut().zip(&small.values).for_each(|(pixel, value)| pixel.0 = [whole(*value)]);
            bytes
        }
    };
    let rows = grey.as_raw().chunks_exact(9);
    let pairs = rows.flat_map(|row| row.iter().zip(row.iter().skip(1)));
    pairs.fold(0, |hash, (left, right)| (hash << 1) | u64::from(right > left))
}

fn rounded_luma(dot: &[u8]) -> Option<f32> {
    match dot {
        [red, green, blue] => Some(f32::from(whole(luma(*red, *green, *blue)))),
        _ => None,
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 0 and 255 first")]
fn whole(value: impl Into<f64>) -> u8 {
    value.into().round().clamp(0.0, 255.0) as u8
}

/// The neighbours of place `at` of `length`, mirrored at the ends.
fn mirrored(at: usize, length: usize) -> (usize, usize) {
    let last = length.saturating_sub(1);
    let before = if at == 0 { 1.min(last) } else { at - 1 };
    let after = if at == last { last.saturating_sub(1) } else { at + 1 };
    (before, after)
}

fn laplacian_row(row: &[f32], above: &[f32], below: &[f32], sum: &mut Sums) {
    let edge = |at: usize| row.get(at).copied().unwrap_or_default();
    let before_first = edge(mirrored(0, row.len()).0);
    let after_last = edge(mirrored(row.len().saturating_sub(1), row.len()).1);
    let left = std::iter::once(&before_first).chain(row);
    let right = row.iter().skip(1).chain(std::iter::once(&after_last));
    for ((((here, left), right), above), below) in row.iter().zip(left).zip(right).zip(above).zip(below) {
        let around = f64::from(*left) + f64::from(*right) + f64::from(*above) + f64::from(*below);
        sum.add(around - 4.0 * f64::from(*here));
    }
}

/// Sums from which mean and population variance follow.
#[derive(Default)]
struct Sums {
    count: f64,
    sum: f64,
    squares: f64,
}

impl Sums {
    fn add(&mut self, value: f64) {
        self.count += 1.0;
        self.sum += value;
        self.squares += value * value;
    }
    fn mean(&self) -> f64 {
        if self.count > 0.0 { self.sum / self.count } else { 0.0 }
    }
    fn variance(&self) -> f64 {
        if self.count > 0.0 { (self.squares / self.count - self.mean().powi(2)).max(0.0) } else { 0.0 }
    }
}
