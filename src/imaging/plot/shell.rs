//! What stands behind the tubes: the floor and the shell, as flat panels of one colour.

use glam::DVec3;
use tiny_skia::{
    Color, FillRule, GradientStop, LinearGradient, Paint, Path, PathBuilder, Pixmap, Point, Shader, SpreadMode, Stroke,
    Transform,
};

use super::camera::Camera;

/// A flat panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// Its corners in order, in millimetres.
    pub corners: Vec<DVec3>,
    /// Its paint: red, green, blue.
    pub colour: [u8; 3],
}

/// Draws the panels, the farthest first.
pub(super) fn draw(canvas: &mut Pixmap, camera: &Camera, panels: &[Panel]) {
    let farthest = |panel: &Panel| panel.corners.iter().map(|corner| camera.depth(*corner)).fold(0.0, f64::max);
    let mut sorted: Vec<(f64, &Panel)> = panels.iter().map(|panel| (farthest(panel), panel)).collect();
    sorted.sort_by(|one, other| other.0.total_cmp(&one.0));
    for (_, panel) in sorted {
        one(canvas, camera, panel);
    }
}

fn one(canvas: &mut Pixmap, camera: &Camera, panel: &Panel) {
    let corners = camera.in_front(&panel.corners);
    let normal = normal(&panel.corners);
    let seen: Vec<((f32, f32), f64)> = corners
        .iter()
        .filter_map(|corner| camera.project(*corner).map(|place| (place, lit(camera, *corner, normal))))
        .collect();
    let mut path = PathBuilder::new();
    for (at, ((x, y), _)) in seen.iter().enumerate() {
        if at == 0 { path.move_to(*x, *y) } else { path.line_to(*x, *y) }
    }
    path.close();
    let (Some(path), Some(shader)) = (shape(path), shading(&seen, panel.colour)) else { return };
    let paint = Paint { shader, ..Paint::default() };
    canvas.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
    // its edge: a folded flange catches a little shade
    let mut edge = Paint::default();
    edge.set_color(Color::from_rgba8(20, 20, 22, 70));
    canvas.stroke_path(&path, &edge, &Stroke { width: 3.0, ..Stroke::default() }, Transform::identity(), None);
}

/// A closed outline with something in it; a panel seen edge on has nothing to fill.
pub(super) fn shape(path: PathBuilder) -> Option<Path> {
    path.finish().filter(|path| path.bounds().width() > 0.01 && path.bounds().height() > 0.01)
}

fn normal(corners: &[DVec3]) -> DVec3 {
    let mut sum = DVec3::ZERO;
    for (one, next) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        sum += one.cross(*next);
    }
    sum.normalize_or(DVec3::Z)
}

/// How bright a place of a panel is: less from a slanting side, less far away.
fn lit(camera: &Camera, place: DVec3, normal: DVec3) -> f64 {
    let to_eye = (camera.eye - place).normalize_or(DVec3::Z);
    let away = 1.0 / (1.0 + camera.eye.distance(place) / 5_000.0);
    (0.55 + 0.45 * normal.dot(to_eye).abs().sqrt()) * (0.35 + 0.75 * away)
}

/// From the darkest corner to the brightest.
fn shading(seen: &[((f32, f32), f64)], colour: [u8; 3]) -> Option<Shader<'static>> {
    let dark = seen.iter().min_by(|one, other| one.1.total_cmp(&other.1))?;
    let bright = seen.iter().max_by(|one, other| one.1.total_cmp(&other.1))?;
    let stop = |at: f32, lit: f64| GradientStop::new(at, toned(colour, lit));
    let stops = vec![stop(0.0, dark.1), stop(1.0, bright.1)];
    let (from, to) = (Point::from_xy(dark.0.0, dark.0.1), Point::from_xy(bright.0.0, bright.0.1));
    LinearGradient::new(from, to, stops, SpreadMode::Pad, Transform::identity())
        .or_else(|| Some(Shader::SolidColor(toned(colour, bright.1))))
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 0 and 255 first")]
fn toned(colour: [u8; 3], lit: f64) -> Color {
    let [red, green, blue] = colour.map(|part| (f64::from(part) * lit).clamp(0.0, 255.0) as u8);
    Color::from_rgba8(red, green, blue, 255)
}
