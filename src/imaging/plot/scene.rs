//! The scene of a drawn photograph and the order of drawing it.

use glam::DVec3;
use tiny_skia::{FillRule, Paint, PathBuilder, Pixmap, Transform};

use super::backdrop;
use super::camera::Camera;
use super::lettering;
use super::negative;
use super::shading::{Light, Material};
use super::shell::{self, Panel};
use super::surface::{Facet, facets};
use super::tools::{self, Caliper, Tape};
use crate::imaging::ImageError;
use crate::quantity::Length;

/// A tube: its centreline through points in millimetres, and its outer radius.
pub type Tube = (Vec<DVec3>, Length);

/// What stands before the camera; all points in millimetres on the vehicle's axes (x forward, y left, z up).
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Scene {
    /// The tubes; one whose end lies inside another is coped onto it.
    pub tubes: Vec<Tube>,
    /// Flat plates, each by its corners in order.
    pub gussets: Vec<Vec<DVec3>>,
    /// What stands behind all that: the floor, the shell.
    pub panels: Vec<Panel>,
    /// Tape measures laid along something.
    pub tapes: Vec<Tape>,
    /// A caliper held at something.
    pub caliper: Option<Caliper>,
    /// Where the camera is.
    pub from: DVec3,
    /// What it looks at; the middle of the frame.
    pub at: DVec3,
    /// What is written on the card in the frame: the joint's balloon, `J7`.
    pub card: String,
    /// True when the camera missed the focus.
    pub out_of_focus: bool,
    /// Draws the grain and the marks of the mill; the same number gives the same photograph, byte for byte.
    pub seed: u64,
}

/// Draws the scene as a JPEG of 1280 × 960 dots, with the card and the word DRAWN in it, so that nobody takes it for a
/// photograph of a car.
pub fn photo(scene: &Scene) -> Result<Vec<u8>, ImageError> {
    let mut canvas = negative::blank()?;
    backdrop::fill(&mut canvas, scene.seed);
    let camera = Camera::new(scene.from, scene.at, (canvas.width(), canvas.height()));
    let light = Light::beside(&camera);
    shell::draw(&mut canvas, &camera, &scene.panels);
    let mut seen: Vec<(f64, Facet)> =
        facets(scene, &camera).into_iter().map(|facet| (camera.depth(facet.middle), facet)).collect();
    seen.sort_by(|one, other| other.0.total_cmp(&one.0));
    for (_, facet) in &seen {
        draw(&mut canvas, &camera, &light, facet, scene.seed);
    }
    for tape in &scene.tapes {
        tools::tape(&mut canvas, &camera, tape)?;
    }
    if let Some(caliper) = &scene.caliper {
        tools::caliper(&mut canvas, &camera, caliper)?;
    }
    if !scene.card.is_empty() {
        lettering::card(&mut canvas, &scene.card)?;
    }
    negative::develop(canvas, scene.out_of_focus, scene.seed)
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
    if let Some(path) = shell::shape(path) {
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
    use crate::domain::shop::looks::{Bounds, remarks};
    use crate::imaging::plot::{Panel, Tape};
    use crate::imaging::{Kind, look};
    use crate::quantity::Length;

    /// Two tubes and a diagonal meeting on a hoop, a gusset between, a tape along it, the floor below.
    fn joint(seed: u64) -> Scene {
        let at = DVec3::new(-420.0, 480.0, 900.0);
        let radius = Length::from_inches(0.875);
        let floor = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
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
            panels: vec![Panel {
                corners: floor.map(|(x, y)| DVec3::new(x * 3_000.0, y * 3_000.0, 0.0)).to_vec(),
                colour: [90, 92, 95],
            }],
            tapes: vec![Tape { from: at, to: at + DVec3::Z * 120.0, face: -DVec3::Y }],
            from: at + DVec3::new(330.0, -420.0, 190.0),
            at: at + DVec3::new(40.0, -10.0, 0.0),
            card: "J7".to_owned(),
            seed,
            ..Scene::default()
        }
    }

    #[test]
    fn a_drawn_joint_is_a_good_photo_of_fair_size() {
        let bytes = photo(&joint(7)).unwrap();
        assert_eq!(Kind::of(&bytes), Kind::Jpeg);
        let seen = look(&bytes).unwrap();
        assert_eq!((seen.width, seen.height), (1280, 960));
        assert_eq!(remarks(&seen, &Bounds::default()), Vec::<String>::new(), "{seen:?}");
        assert!((60_000..400_000).contains(&bytes.len()), "{} bytes", bytes.len());
    }

    #[test]
    fn out_of_focus_it_is_told_to_be_blurred() {
        let seen = look(&photo(&Scene { out_of_focus: true, ..joint(7) }).unwrap()).unwrap();
        assert!(remarks(&seen, &Bounds::default()).iter().any(|remark| remark.contains("blurred")), "{seen:?}");
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
        let bare = grey(&Scene { tubes: Vec::new(), gussets: Vec::new(), tapes: Vec::new(), ..joint(7) });
        // the card's paper is white, the middle of the frame is steel only where a joint stands
        assert!(with.get_pixel(88, 720).0[0] > 190 && bare.get_pixel(88, 720).0[0] > 190);
        let differs = |x: &u32| with.get_pixel(*x, 480).0[0].abs_diff(bare.get_pixel(*x, 480).0[0]) > 12;
        assert!((400..880).step_by(8).filter(differs).count() > 10);
    }

    #[test]
    fn odd_scenes_are_drawn_all_the_same() {
        let mut odd = joint(1);
        odd.from = odd.at;
        odd.card = String::new();
        odd.tubes.push((vec![odd.at], Length::from_mm(20.0)));
        odd.tubes.push((vec![odd.at, odd.at], Length::from_mm(0.0)));
        odd.gussets.push(vec![odd.at, odd.at]);
        odd.tapes.push(Tape { from: odd.at, to: odd.at, face: DVec3::ZERO });
        assert!(photo(&odd).is_ok());
    }
}
