//! The bounds by which photographs are told lie between measured sets: good pictures of joints, and the same pictures spoilt.

use std::io::Cursor;

use glam::DVec3;
use image::codecs::jpeg::JpegEncoder;
use image::imageops::{FilterType, fast_blur};
use image::{Rgb, RgbImage};
use tackbook::domain::shop::looks::{Bounds, Seen, hash_distance, remarks};
use tackbook::imaging::look;
use tackbook::imaging::plot::{Panel, Scene, photo};
use tackbook::quantity::Length;

/// How many joints are drawn.
const JOINTS: u32 = 6;

/// A joint as a camera sees it, no two numbers alike: bars of other angles, seen from elsewhere.
fn joint(number: u32) -> RgbImage {
    let turn = f64::from(number);
    let at = DVec3::new(-420.0 + 90.0 * turn, 480.0 - 60.0 * turn, 900.0 - 110.0 * turn);
    let radius = Length::from_inches(0.875);
    let slope = (0.4 + 0.5 * turn).sin() * 600.0;
    let scene = Scene {
        tubes: vec![
            (vec![at - DVec3::new(120.0 * (turn - 2.0), 0.0, 700.0), at + DVec3::new(100.0, 0.0, 500.0)], radius),
            (vec![at, at + DVec3::new(700.0, -20.0 * turn, slope)], radius),
            (vec![at, at + DVec3::new(420.0 - 130.0 * turn, -60.0, -520.0)], Length::from_inches(0.75)),
        ],
        panels: vec![Panel {
            corners: [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
                .map(|(x, y)| DVec3::new(x * 3_000.0, y * 3_000.0, 0.0))
                .to_vec(),
            colour: [90, 92, 95],
        }],
        from: at + DVec3::new(330.0 - 140.0 * turn, -420.0, 190.0 + 60.0 * (turn - 2.0)),
        at: at + DVec3::new(40.0, -10.0, 0.0),
        card: format!("J{number}"),
        seed: u64::from(number) + 1,
        ..Scene::default()
    };
    image::load_from_memory(&photo(&scene).unwrap()).unwrap().to_rgb8()
}

fn seen(picture: &RgbImage, quality: u8) -> Seen {
    let mut out = Cursor::new(Vec::new());
    JpegEncoder::new_with_quality(&mut out, quality).encode_image(picture).unwrap();
    look(&out.into_inner()).unwrap()
}

/// Each value through a curve, as a wrong exposure does it.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 0 and 255 first")]
fn exposed(picture: &RgbImage, gain: f64, lift: f64) -> RgbImage {
    let value = |value: u8| (f64::from(value) * gain + lift).clamp(0.0, 255.0) as u8;
    RgbImage::from_fn(picture.width(), picture.height(), |x, y| Rgb(picture.get_pixel(x, y).0.map(value)))
}

/// The same place photographed once more: the hand a little to the side, the lamp a little brighter, another file.
fn once_more(picture: &RgbImage) -> Vec<RgbImage> {
    let (width, height) = picture.dimensions();
    let part = |of: u32| of * 2 / 100;
    let crop =
        image::imageops::crop_imm(picture, part(width), part(height), width - part(width), height - part(height));
    let nearer = image::imageops::resize(&crop.to_image(), width, height, FilterType::Triangle);
    vec![exposed(picture, 1.1, 6.0), exposed(picture, 0.9, 0.0), nearer]
}

fn told(seen: &Seen, words: &str) -> bool {
    remarks(seen, &Bounds::default()).iter().any(|remark| remark.contains(words))
}

#[test]
fn good_pictures_are_called_good_and_spoilt_ones_are_told() {
    for number in 0..JOINTS {
        let good = joint(number);
        let figures = seen(&good, 90);
        assert_eq!(remarks(&figures, &Bounds::default()), Vec::<String>::new(), "J{number}: {figures:?}");
        assert!(figures.sharpness > Bounds::default().blurred * 1.5, "J{number} lies near the bound: {figures:?}");
        assert!(figures.mean > Bounds::default().dark * 1.2, "J{number} lies near the bound: {figures:?}");
        assert!(figures.bright_share < 0.01, "J{number} lies near the bound: {figures:?}");
        let missed = seen(&fast_blur(&good, 5.0), 90);
        assert!(told(&missed, "blurred"), "J{number} out of focus: {missed:?}");
        assert!(missed.sharpness < Bounds::default().blurred * 0.7, "J{number} lies near the bound: {missed:?}");
        let night = seen(&exposed(&good, 0.2, 0.0), 90);
        assert!(told(&night, "Very dark"), "J{number} without a lamp: {night:?}");
        let flash = seen(&exposed(&good, 2.0, 110.0), 90);
        assert!(told(&flash, "Washed out"), "J{number} with the flash in it: {flash:?}");
    }
}

#[test]
fn the_same_place_once_more_is_nearly_the_same_and_another_joint_is_not() {
    let pictures: Vec<RgbImage> = (0..JOINTS).map(joint).collect();
    let hashes: Vec<u64> = pictures.iter().map(|picture| seen(picture, 90).difference_hash).collect();
    let most = Bounds::default().alike;
    for (picture, hash) in pictures.iter().zip(&hashes) {
        for again in once_more(picture) {
            let differ = hash_distance(*hash, seen(&again, 60).difference_hash);
            assert!(differ <= most, "{differ} bits differ, {most} are taken for the same");
        }
    }
    for (at, one) in hashes.iter().enumerate() {
        for (other_at, other) in hashes.iter().enumerate().skip(at + 1) {
            let differ = hash_distance(*one, *other);
            assert!(differ > most + 2, "J{at} and J{other_at}: {differ} bits differ, {most} are taken for the same");
        }
    }
}
