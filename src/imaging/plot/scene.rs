//! The scene of a demonstration photograph and the order of drawing it.

use glam::DVec3;
use jpeg_encoder::{ColorType, Encoder, SamplingFactor};
use tiny_skia::{FillRule, Paint, PathBuilder, Pixmap, Transform};

use super::backdrop;
use super::camera::Camera;
use super::lettering;
use super::shading::{Light, Material};
use super::surface::{Facet, facets};
use crate::imaging::ImageError;
use crate::quantity::Length;

/// Dots across.
const WIDTH: u16 = 1_600;
/// Dots down.
const HEIGHT: u16 = 1_200;
/// JPEG quality.
const QUALITY: u8 = 85;

/// A tube: its centreline through points in millimetres, and its outer radius.
pub type Tube = (Vec<DVec3>, Length);

/// What stands before the camera; all points in millimetres on the vehicle's axes (x forward, y left, z up).
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// The tubes; one whose end lies inside another is coped onto it.
    pub tubes: Vec<Tube>,
    /// Flat plates, each by its corners in order.
    pub gussets: Vec<Vec<DVec3>>,
    /// Where the camera is.
    pub from: DVec3,
    /// What it looks at; the middle of the frame.
    pub at: DVec3,
    /// What is written on the card in the frame: the joint's balloon, `J7`.
    pub card: String,
    /// Draws the grain and the marks of the mill; the same number gives the same photograph, byte for byte.
    pub seed: u64,
}

/// Draws the scene as a JPEG of 1600 × 1200 dots, with the card and the word DRAWN in it, so that nobody takes it for a
/// photograph of a car.
pub fn photo(scene: &Scene) -> Result<Vec<u8>, ImageError> {
    let mut canvas = Pixmap::new(u32::from(WIDTH), u32::from(HEIGHT)).ok_or(ImageError::NoPreview)?;
    backdrop::fill(&mut canvas, scene.seed);
    let camera = Camera::new(scene.from, scene.at, (u32::from(WIDTH), u32::from(HEIGHT)));
    let light = Light::beside(&camera);
    let mut seen: Vec<(f64, Facet)> =
        facets(scene, &camera).into_iter().map(|facet| (camera.depth(facet.middle), facet)).collect();
    seen.sort_by(|one, other| other.0.total_cmp(&one.0));
    for (_, facet) in &seen {
        draw(&mut canvas, &camera, &light, facet, scene.seed);
    }
    lettering::card(&mut canvas, &scene.card)?;
    lettering::drawn(&mut canvas)?;
    backdrop::finish(&mut canvas, scene.seed);
    let mut out = Vec::new();
    let mut encoder = Encoder::new(&mut out, QUALITY);
    encoder.set_sampling_factor(SamplingFactor::F_2_2);
    encoder.encode(canvas.data(), WIDTH, HEIGHT, ColorType::Rgba).map_err(|_| ImageError::NoPreview)?;
    Ok(out)
}

fn draw(canvas: &mut Pixmap, camera: &Camera, light: &Light, facet: &Facet, seed: u64) {
    let Some(corners) = facet.corners.iter().map(|corner| camera.project(*corner)).collect::<Option<Vec<_>>>() else {
        return;
    };
    let count = corners.iter().fold(0.0_f32, |count, _| count + 1.0);
    let middle = corners.iter().fold((0.0, 0.0), |sum, corner| (sum.0 + corner.0 / count, sum.1 + corner.1 / count));
    let mut path = PathBuilder::new();
    for (at, (across, down)) in corners.iter().enumerate() {
        // a little larger than it is, so that no light shows between neighbours
        let (out_x, out_y) = (across - middle.0, down - middle.1);
        let grown = 1.0 + 0.7 / out_x.hypot(out_y).max(0.7);
        let (x, y) = (middle.0 + out_x * grown, middle.1 + out_y * grown);
        if at == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
    }
    path.close();
    if let Some(path) = path.finish() {
        let (red, green, blue) = Material::colour(facet, camera, light, seed);
        let mut paint = Paint::default();
        paint.set_color_rgba8(red, green, blue, 255);
        canvas.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
    }
}

#[cfg(test)]
mod tests {
    use glam::DVec3;

    use super::{Scene, photo};
    use crate::imaging::{Kind, look};
    use crate::quantity::Length;

    /// Two tubes and a diagonal meeting on a hoop, a gusset between.
    fn joint(seed: u64) -> Scene {
        let at = DVec3::new(-420.0, 480.0, 900.0);
        let radius = Length::from_inches(0.875);
        Scene {
            tubes: vec![
                (vec![at - DVec3::Z * 700.0, at + DVec3::Z * 500.0], radius),
                (vec![at, at + DVec3::new(700.0, -20.0, 60.0)], radius),
                (vec![at, at + DVec3::new(420.0, -60.0, -520.0)], Length::from_inches(0.75)),
            ],
            gussets: vec![vec![
                at + DVec3::new(20.0, 0.0, 22.0),
                at + DVec3::new(120.0, -3.0, 34.0),
                at + DVec3::new(20.0, 0.0, 120.0),
            ]],
            from: at + DVec3::new(330.0, -420.0, 190.0),
            at: at + DVec3::new(40.0, -10.0, 0.0),
            card: "J7".to_owned(),
            seed,
        }
    }

    #[test]
    fn a_drawn_joint_is_a_good_photo_of_fair_size() {
        let bytes = photo(&joint(7)).unwrap();
        assert_eq!(Kind::of(&bytes), Kind::Jpeg);
        let seen = look(&bytes).unwrap();
        assert_eq!((seen.width, seen.height), (1600, 1200));
        assert_eq!(seen.remarks, Vec::<String>::new(), "{seen:?}");
        assert!((100_000..400_000).contains(&bytes.len()), "{} bytes", bytes.len());
    }

    #[test]
    fn the_same_seed_draws_the_same_photo_and_another_seed_another() {
        let first = photo(&joint(7)).unwrap();
        assert!(first == photo(&joint(7)).unwrap());
        assert!(first != photo(&joint(8)).unwrap());
    }

    #[test]
    fn the_card_and_the_tubes_show() {
        let grey = |scene: &Scene| image::load_from_memory(&photo(scene).unwrap()).unwrap().to_luma8();
        let with = grey(&joint(7));
        let mut bare = joint(7);
        bare.tubes.clear();
        bare.gussets.clear();
        let without = grey(&bare);
        // the card's paper is white, the middle of the frame is steel only where a joint stands
        assert!(with.get_pixel(110, 900).0[0] > 190 && without.get_pixel(110, 900).0[0] > 190);
        let differs = |x: &u32| with.get_pixel(*x, 600).0[0].abs_diff(without.get_pixel(*x, 600).0[0]) > 12;
        assert!((500..1100).step_by(10).filter(differs).count() > 10);
    }

    #[test]
    fn odd_scenes_are_drawn_all_the_same() {
        let mut odd = joint(1);
        odd.from = odd.at;
        odd.card = String::new();
        odd.tubes.push((vec![odd.at], Length::from_mm(20.0)));
        odd.tubes.push((vec![odd.at, odd.at], Length::from_mm(0.0)));
        odd.gussets.push(vec![odd.at, odd.at]);
        assert!(photo(&odd).is_ok());
    }
}
