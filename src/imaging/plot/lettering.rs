//! Letters in the picture: the card with the joint's balloon, and the word DRAWN.

use ab_glyph::{Font, FontRef, OutlineCurve, Point};
use tiny_skia::{Color, FillRule, Paint, Path, PathBuilder, Pixmap, Rect, Stroke, Transform};

use crate::imaging::ImageError;

const FONT: &[u8] = include_bytes!("../../../static/fonts/DejaVuSansCondensed-Bold.ttf");
/// The card's size in dots.
const CARD: (f32, f32) = (240.0, 200.0);
/// Where the card's middle lies in the picture.
const CARD_AT: (f32, f32) = (180.0, 788.0);
/// How far the card lies out of true, in degrees.
const CARD_TURN: f32 = -4.0;
/// Radius of the balloon on the card, in dots.
const BALLOON: f32 = 78.0;

/// Lays the white card with the balloon into the lower left of the picture.
pub(super) fn card(canvas: &mut Pixmap, balloon: &str) -> Result<(), ImageError> {
    let place = Transform::from_translate(CARD_AT.0, CARD_AT.1).pre_concat(Transform::from_rotate(CARD_TURN));
    let sheet = |grown: f32| {
        let (width, height) = (CARD.0 + grown, CARD.1 + grown);
        Rect::from_xywh(-width / 2.0, -height / 2.0, width, height).map(PathBuilder::from_rect)
    };
    for step in 0..8_u8 {
        // the shadow: one faint sheet on the other, each a little smaller
        let shadow = sheet(20.0 - 3.0 * f32::from(step)).ok_or(ImageError::NoPreview)?;
        fill(canvas, &shadow, Color::from_rgba8(0, 0, 0, 16), place.post_translate(7.0, 10.0));
    }
    let white = sheet(0.0).ok_or(ImageError::NoPreview)?;
    fill(canvas, &white, Color::from_rgba8(238, 237, 232, 255), place);
    let ring = PathBuilder::from_circle(0.0, 0.0, BALLOON).ok_or(ImageError::NoPreview)?;
    let mut paint = Paint::default();
    paint.set_color_rgba8(28, 28, 30, 255);
    canvas.stroke_path(&ring, &paint, &Stroke { width: 7.0, ..Stroke::default() }, place, None);
    let Some(word) = outline(balloon)? else { return Ok(()) };
    let bounds = word.bounds();
    // the word's corners lie within the ring
    let size = BALLOON * 1.62 / bounds.width().hypot(bounds.height()).max(0.01);
    let (middle_x, middle_y) = (bounds.left() + bounds.width() / 2.0, bounds.top() + bounds.height() / 2.0);
    let centred = place.pre_scale(size, size).pre_translate(-middle_x, -middle_y);
    fill(canvas, &word, Color::from_rgba8(28, 28, 30, 255), centred);
    Ok(())
}

/// Writes DRAWN into the lower right corner, readable on light and dark.
/// Fainter, where it would be the one sharp thing in the picture.
pub(super) fn drawn(canvas: &mut Pixmap, faint: bool) -> Result<(), ImageError> {
    let word = outline("DRAWN")?.ok_or(ImageError::NoPreview)?;
    let bounds = word.bounds();
    let size = 44.0 / bounds.height().max(0.01);
    let (width, height) = (bounds.width() * size, bounds.height() * size);
    let (left, top) = (dots(canvas.width()) - 34.0 - width, dots(canvas.height()) - 34.0 - height);
    let back = Rect::from_xywh(left - 16.0, top - 16.0, width + 32.0, height + 32.0).ok_or(ImageError::NoPreview)?;
    if !faint {
        fill(canvas, &PathBuilder::from_rect(back), Color::from_rgba8(20, 22, 26, 170), Transform::identity());
    }
    let place = Transform::from_translate(left, top).pre_scale(size, size).pre_translate(-bounds.left(), -bounds.top());
    fill(canvas, &word, Color::from_rgba8(245, 245, 245, if faint { 120 } else { 255 }), place);
    Ok(())
}

/// Writes a word on its base line; `place` brings its em to dots.
pub(super) fn write(canvas: &mut Pixmap, word: &str, place: Transform, colour: Color) -> Result<(), ImageError> {
    if let Some(word) = outline(word)? {
        fill(canvas, &word, colour, place);
    }
    Ok(())
}

/// A word's width on its base line, in em.
pub(super) fn width(word: &str) -> Result<f32, ImageError> {
    Ok(outline(word)?.map_or(0.0, |word| word.bounds().right()))
}

fn fill(canvas: &mut Pixmap, path: &Path, colour: Color, place: Transform) {
    let mut paint = Paint::default();
    paint.set_color(colour);
    canvas.fill_path(path, &paint, FillRule::Winding, place, None);
}

#[expect(clippy::cast_precision_loss, reason = "a picture's side")]
fn dots(side: u32) -> f32 {
    side as f32
}

/// The outline of a word on its base line, one unit to the em and y downward; none when nothing in it can be drawn.
fn outline(word: &str) -> Result<Option<Path>, ImageError> {
    let font = FontRef::try_from_slice(FONT).map_err(|_| ImageError::NoPreview)?;
    let em = font.units_per_em().unwrap_or(2048.0);
    let mut path = PathBuilder::new();
    let mut pen = 0.0;
    for letter in word.chars() {
        let glyph = font.glyph_id(letter);
        if let Some(outline) = font.outline(glyph) {
            letter_outline(&mut path, &outline.curves, |point| (pen + point.x / em, -point.y / em));
        }
        pen += font.h_advance_unscaled(glyph) / em;
    }
    Ok(path.finish())
}

/// Adds a letter; a curve that does not begin where the last one ended begins a new line around.
fn letter_outline(path: &mut PathBuilder, curves: &[OutlineCurve], place: impl Fn(&Point) -> (f32, f32)) {
    let mut last: Option<Point> = None;
    for curve in curves {
        let (from, to) = match curve {
            OutlineCurve::Line(from, to) | OutlineCurve::Quad(from, _, to) | OutlineCurve::Cubic(from, _, _, to) => {
                (from, to)
            }
        };
        if last != Some(*from) {
            if last.is_some() {
                path.close();
            }
            let (x, y) = place(from);
            path.move_to(x, y);
        }
        let (x, y) = place(to);
        match curve {
            OutlineCurve::Line(..) => path.line_to(x, y),
            OutlineCurve::Quad(_, by, _) => {
                let (by_x, by_y) = place(by);
                path.quad_to(by_x, by_y, x, y);
            }
            OutlineCurve::Cubic(_, by, near, _) => {
                let ((by_x, by_y), (near_x, near_y)) = (place(by), place(near));
                path.cubic_to(by_x, by_y, near_x, near_y, x, y);
            }
        }
        last = Some(*to);
    }
    if last.is_some() {
        path.close();
    }
}
