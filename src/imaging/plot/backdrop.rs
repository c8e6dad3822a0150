//! The shop behind the joint, out of focus and dark in the corners, and the grain a camera adds.

use tiny_skia::{
    BlendMode, Color, FilterQuality, GradientStop, LinearGradient, Paint, Pattern, Pixmap, Point, RadialGradient, Rect,
    Shader, SpreadMode, Transform,
};

/// Side of the tile of grain, in dots; no multiple fits the picture, so that its edges fall nowhere twice.
const TILE: u32 = 311;

/// How much smaller the shop behind is drawn: nothing in it is sharp.
const SOFT: u32 = 4;

/// Fills the canvas with the shop: a grey wall with a few posts, the darker floor, soft light from the upper left.
pub(super) fn fill(canvas: &mut Pixmap, seed: u64) {
    let Some(mut small) = Pixmap::new(canvas.width() / SOFT, canvas.height() / SOFT) else { return };
    shop(&mut small, seed);
    let side = f32::from(u8::try_from(SOFT).unwrap_or(1));
    let large = Transform::from_scale(side, side);
    let shop = Pattern::new(small.as_ref(), SpreadMode::Pad, FilterQuality::Bilinear, 1.0, large);
    let height = dots(canvas.height());
    lay(canvas, Some(shop), height);
}

fn shop(canvas: &mut Pixmap, seed: u64) {
    let (width, height) = (dots(canvas.width()), dots(canvas.height()));
    let wall = |grey: u8, alpha: u8| Color::from_rgba8(grey, grey, grey.saturating_add(3), alpha);
    let floor_at = 0.68 + 0.12 * share(seed, 20.0);
    let down = |at: f32| Point::from_xy(0.0, at * height);
    let stops = [(0.0, 108), (floor_at - 0.03, 100), (floor_at + 0.03, 72), (1.0, 64)];
    let stops = stops.iter().map(|(at, grey)| GradientStop::new(*at, wall(*grey, 255))).collect();
    lay(canvas, LinearGradient::new(down(0.0), down(1.0), stops, SpreadMode::Pad, Transform::identity()), height);
    for number in [1.0, 2.0, 3.0] {
        let (at, half) = (share(seed, number) * width, (0.05 + 0.09 * share(seed, number + 10.0)) * width);
        let grey = if share(seed, number + 30.0) < 0.5 { 40 } else { 190 };
        let stops = [(0.0, 0), (0.3, 36), (0.7, 36), (1.0, 0)];
        let stops = stops.iter().map(|(at, alpha)| GradientStop::new(*at, wall(grey, *alpha))).collect();
        let (left, right) = (Point::from_xy(at - half, 0.0), Point::from_xy(at + half, 0.0));
        let post = LinearGradient::new(left, right, stops, SpreadMode::Pad, Transform::identity());
        lay(canvas, post, floor_at * height);
    }
    round(canvas, (0.3, 0.2), 0.75, [(0.0, wall(255, 66)), (1.0, wall(255, 0))]);
    let black = |alpha: u8| Color::from_rgba8(0, 0, 0, alpha);
    round(canvas, (0.5, 0.5), 0.68, [(0.55, black(0)), (1.0, black(64))]);
}

/// Lays grain over all, the same for the same seed.
pub(super) fn finish(canvas: &mut Pixmap, seed: u64) {
    let Some(mut tile) = Pixmap::new(TILE, TILE) else { return };
    let mut state = seed ^ 0x9e37_79b9_7f4a_7c15;
    for dot in tile.data_mut().chunks_exact_mut(4) {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        // the sum of two even draws: grain is more often small than large
        let [.., one, other] = (state >> 40).to_be_bytes();
        let drawn = (one & 15) + (other & 15);
        // premultiplied: white that shows a little, or black that shows a little
        let (light, alpha) = if drawn > 15 { (drawn - 15, drawn - 15) } else { (0, 15 - drawn) };
        dot.copy_from_slice(&[light, light, light, alpha]);
    }
    let (place, still) = (Transform::identity(), FilterQuality::Nearest);
    let grain = Pattern::new(tile.as_ref(), SpreadMode::Repeat, still, 1.0, place);
    let height = dots(canvas.height());
    lay(canvas, Some(grain), height);
}

/// A round fall of light over the whole picture: its middle and reach as shares of the picture's sides.
fn round(canvas: &mut Pixmap, middle: (f32, f32), reach: f32, stops: [(f32, Color); 2]) {
    let (width, height) = (dots(canvas.width()), dots(canvas.height()));
    let at = Point::from_xy(middle.0 * width, middle.1 * height);
    let stops = stops.iter().map(|(at, colour)| GradientStop::new(*at, *colour)).collect();
    let light = RadialGradient::new(at, 0.0, at, reach * width, stops, SpreadMode::Pad, Transform::identity());
    lay(canvas, light, height);
}

/// Lays a shading over the picture's full width, down to `height` dots.
fn lay(canvas: &mut Pixmap, shader: Option<Shader<'_>>, height: f32) {
    if let (Some(shader), Some(all)) = (shader, Rect::from_xywh(0.0, 0.0, dots(canvas.width()), height)) {
        let paint = Paint { shader, blend_mode: BlendMode::SourceOver, ..Paint::default() };
        canvas.fill_rect(all, &paint, Transform::identity(), None);
    }
}

#[expect(clippy::cast_precision_loss, reason = "a picture's side")]
fn dots(side: u32) -> f32 {
    side as f32
}

/// The seed's `number`th share, 0 to 1.
#[expect(clippy::cast_possible_truncation, reason = "the drawing library counts in single precision")]
fn share(seed: u64, number: f64) -> f32 {
    f64::midpoint(drawn(seed, number, 0.0), 1.0) as f32
}

fn soft_step(share: f64) -> f64 {
    let held = share.clamp(0.0, 1.0);
    held * held * (3.0 - 2.0 * held)
}

/// Smooth noise between -1 and 1 over a plane, the same for the same seed and place.
pub(super) fn noise(seed: u64, (x, y): (f64, f64)) -> f64 {
    let (left, top) = (x.floor(), y.floor());
    let (across, down) = (soft_step(x - left), soft_step(y - top));
    let at = |dx: f64, dy: f64| drawn(seed, left + dx, top + dy);
    let upper = at(0.0, 0.0) + (at(1.0, 0.0) - at(0.0, 0.0)) * across;
    let lower = at(0.0, 1.0) + (at(1.0, 1.0) - at(0.0, 1.0)) * across;
    upper + (lower - upper) * down
}

/// A number between -1 and 1 for a crossing of the plane.
fn drawn(seed: u64, x: f64, y: f64) -> f64 {
    let mut bits = seed ^ x.to_bits().rotate_left(17) ^ y.to_bits().rotate_left(43);
    for factor in [0xff51_afd7_ed55_8ccd_u64, 0xc4ce_b9fe_1a85_ec53] {
        bits = (bits ^ (bits >> 33)).wrapping_mul(factor);
    }
    let [high, low, ..] = (bits ^ (bits >> 33)).to_be_bytes();
    f64::from(u16::from_be_bytes([high, low])) / 32_767.5 - 1.0
}
