//! Figures of photographs against `OpenCV`, Pillow, `ImageHash`, EXIF 2.3 and the inch (sources stand with each value).

use image::{DynamicImage, GrayImage, Luma};
use serde_json::Value;
use tackbook::domain::shop::looks::hash_distance;
use tackbook::imaging::decoding::upright;
use tackbook::imaging::grey::{Grey, difference_hash, luma};

use crate::oracle::{Oracle, oracles};

const DATA: &str = include_str!("data/imaging.json");

/// The grey value at a place, as the check value's text describes it.
fn grey_at(told: &str, x: i32, y: i32) -> i32 {
    match told {
        "128" => 128,
        "255*((x+y) mod 2)" => 255 * ((x + y) % 2),
        "255*((x div 2 + y div 2) mod 2)" => 255 * ((x / 2 + y / 2) % 2),
        "255*((x div 4 + y div 4) mod 2)" => 255 * ((x / 4 + y / 4) % 2),
        "16 x" => 16 * x,
        "8 (x+y)" => 8 * (x + y),
        "255 if x >= 8" => 255 * i32::from(x >= 8),
        "255 at (8,8)" => 255 * i32::from((x, y) == (8, 8)),
        "(37 x + 101 y) mod 256" => (37 * x + 101 * y) % 256,
        "20 + 200*((x div 4) mod 2)" => 20 + 200 * ((x / 4) % 2),
        "30 + 180*((x div 3 + y div 5) mod 2)" => 30 + 180 * ((x / 3 + y / 5) % 2),
        "20 x" => 20 * x,
        "200 - 20 x" => 200 - 20 * x,
        "(53 x + 97 y) mod 256" => (53 * x + 97 * y) % 256,
        "min(255, that + 5)" => (grey_at("(53 x + 97 y) mod 256", x, y) + 5).min(255),
        "30 |x - 4|" => 30 * (x - 4).abs(),
        "(x*x + 7*y*x) mod 251" => (x * x + 7 * y * x) % 251,
        other => panic!("no picture called {other}"),
    }
}

fn picture(oracle: &Oracle) -> GrayImage {
    let size = |at: usize| u32::try_from(oracle.inputs["size"][at].as_u64().unwrap()).unwrap();
    let told = oracle.inputs["grey_at_x_y"].as_str().unwrap();
    GrayImage::from_fn(size(0), size(1), |x, y| {
        let grey = grey_at(told, i32::try_from(x).unwrap(), i32::try_from(y).unwrap());
        Luma([u8::try_from(grey).unwrap()])
    })
}

#[test]
fn sharpness_and_exposure() {
    for oracle in oracles(DATA, "photo.blur.").iter().filter(|oracle| !oracle.id.contains("gauss")) {
        let grey = Grey::of(&DynamicImage::ImageLuma8(picture(oracle)), 1024);
        oracle.near("variance_reflect101", grey.sharpness());
        oracle.near("mean", grey.mean());
        oracle.near("share_le_5", grey.share_at_most(5.0));
        oracle.near("share_ge_250", grey.share_at_least(250.0));
    }
}

/// A Gaussian blur out to four sigmas, edges mirrored without repeating the edge, not rounded.
#[expect(clippy::cast_possible_truncation, reason = "small whole numbers, and grey values")]
fn blurred(picture: &GrayImage, sigma: f64) -> Vec<f32> {
    let (width, height) = (i32::try_from(picture.width()).unwrap(), i32::try_from(picture.height()).unwrap());
    let reach = (4.0 * sigma).ceil() as i32;
    let weights: Vec<f64> = (-reach..=reach)
        .map(|off| if sigma > 0.0 { (-f64::from(off * off) / (2.0 * sigma * sigma)).exp() } else { 1.0 })
        .collect();
    let total: f64 = weights.iter().sum();
    let mirrored = |at: i32, length: i32| if at < 0 { -at } else { (length - 1) - (length - 1 - at).abs() };
    let place = |x: i32, y: i32| usize::try_from(y * width + x).unwrap();
    let blur = |from: &[f64], across: bool| {
        let mut to = vec![0.0; from.len()];
        for y in 0..height {
            for x in 0..width {
                for (off, weight) in (-reach..=reach).zip(&weights) {
                    let at =
                        if across { place(mirrored(x + off, width), y) } else { place(x, mirrored(y + off, height)) };
                    to[place(x, y)] += weight / total * from[at];
                }
            }
        }
        to
    };
    let values: Vec<f64> = picture.as_raw().iter().map(|value| f64::from(*value)).collect();
    blur(&blur(&values, true), false).into_iter().map(|value| value as f32).collect()
}

#[test]
fn sharpness_falls_with_blur() {
    let mut last = f64::INFINITY;
    for oracle in oracles(DATA, "photo.blur.gauss.") {
        let picture = picture(&oracle);
        let values = blurred(&picture, oracle.inputs["gauss_sigma_px"].as_f64().unwrap());
        let sharpness = Grey::from_values(picture.width() as usize, values).sharpness();
        oracle.near("variance", sharpness);
        assert!(sharpness < last, "{}: {sharpness} after {last}", oracle.id);
        last = sharpness;
    }
}

fn hash(text: &Value) -> u64 {
    u64::from_str_radix(text.as_str().unwrap(), 16).unwrap()
}

#[test]
fn difference_hashes() {
    for oracle in oracles(DATA, "photo.dhash.").iter().filter(|oracle| !oracle.id.contains("distance")) {
        let got = difference_hash(&DynamicImage::ImageLuma8(picture(oracle)));
        assert_eq!(got, hash(&oracle.expected["hash_hex"]), "{}: {got:016x}", oracle.id);
        assert_eq!(u64::from(got.count_ones()), oracle.expected["ones"].as_u64().unwrap(), "{}", oracle.id);
    }
    for oracle in oracles(DATA, "photo.dhash.distance.") {
        let got = hash_distance(hash(&oracle.inputs["a"]), hash(&oracle.inputs["b"]));
        assert_eq!(u64::from(got), oracle.expected["distance"].as_u64().unwrap(), "{}", oracle.id);
    }
}

#[test]
fn grey_weights() {
    for oracle in oracles(DATA, "photo.grey.") {
        let part = |at: usize| u8::try_from(oracle.inputs["rgb"][at].as_u64().unwrap()).unwrap();
        oracle.near("bt601", luma(part(0), part(1), part(2)));
    }
}

#[test]
fn every_orientation_is_turned_upright() {
    let rows = |value: &Value| -> Vec<Vec<u8>> { serde_json::from_value(value.clone()).unwrap() };
    for oracle in oracles(DATA, "photo.exif.") {
        let stored = rows(&oracle.inputs["stored_rows"]);
        let picture = GrayImage::from_raw(3, 2, stored.concat()).unwrap();
        let orientation = u8::try_from(oracle.inputs["orientation"].as_u64().unwrap()).unwrap();
        let got = upright(DynamicImage::ImageLuma8(picture), orientation).into_luma8();
        let want = rows(&oracle.expected["upright_rows"]);
        assert_eq!(got.height() as usize, want.len(), "{}", oracle.id);
        assert_eq!(got.into_raw(), want.concat(), "{}", oracle.id);
    }
}
