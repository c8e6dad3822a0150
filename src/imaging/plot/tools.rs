//! What is laid beside a part to judge its size by: a tape measure, a caliper.

use glam::DVec3;
use tiny_skia::{Color, FillRule, Paint, PathBuilder, Pixmap, Stroke, Transform};

use super::camera::Camera;
use super::lettering;
use super::shell::shape;
use crate::imaging::ImageError;
use crate::quantity::Length;

/// A tape's width, in millimetres (*common practice*).
const WIDE: f64 = 16.0;
/// An inch, in millimetres.
const INCH: f64 = 25.4;
/// Most inches drawn of a tape.
const INCHES: u32 = 40;

/// A tape measure laid from a point to another, its zero at the first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tape {
    /// Where its zero lies.
    pub from: DVec3,
    /// Where it ends.
    pub to: DVec3,
    /// The direction its figures face.
    pub face: DVec3,
}

/// A caliper held at a tube.
#[derive(Debug, Clone, PartialEq)]
pub struct Caliper {
    /// Between its jaws.
    pub at: DVec3,
    /// From one jaw to the other.
    pub across: DVec3,
    /// From the jaws' tips to the beam.
    pub down: DVec3,
    /// How far it is open.
    pub gap: Length,
    /// What its display shows.
    pub reading: String,
}

/// A flat drawing board in space: its corner, and the directions across and down it.
struct Board<'a> {
    camera: &'a Camera,
    corner: DVec3,
    across: DVec3,
    down: DVec3,
}

impl Board<'_> {
    fn at(&self, across: f64, down: f64) -> DVec3 {
        self.corner + self.across * across + self.down * down
    }

    /// Fills an outline given in millimetres on the board.
    fn fill(&self, canvas: &mut Pixmap, outline: &[(f64, f64)], colour: [u8; 3]) {
        let corners: Vec<DVec3> = outline.iter().map(|(across, down)| self.at(*across, *down)).collect();
        let mut path = PathBuilder::new();
        let seen = self.camera.in_front(&corners);
        for (number, (x, y)) in seen.iter().filter_map(|corner| self.camera.project(*corner)).enumerate() {
            if number == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
        }
        path.close();
        let Some(path) = shape(path) else { return };
        let [red, green, blue] = colour;
        let mut paint = Paint::default();
        paint.set_color(Color::from_rgba8(red, green, blue, 255));
        canvas.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
        paint.set_color(Color::from_rgba8(15, 15, 15, 90));
        canvas.stroke_path(&path, &paint, &Stroke { width: 1.5, ..Stroke::default() }, Transform::identity(), None);
    }

    fn bar(&self, canvas: &mut Pixmap, across: (f64, f64), down: (f64, f64), colour: [u8; 3]) {
        let outline = [(across.0, down.0), (across.1, down.0), (across.1, down.1), (across.0, down.1)];
        self.fill(canvas, &outline, colour);
    }

    /// Writes a word, its lower left corner at a place, so many millimetres high.
    fn write(&self, canvas: &mut Pixmap, word: &str, (across, down): (f64, f64), high: f64) -> Result<(), ImageError> {
        let seen = |across, down| self.camera.project(self.at(across, down));
        let places = (seen(across, down), seen(across + high, down), seen(across, down + high));
        let (Some(base), Some(right), Some(below)) = places else { return Ok(()) };
        let place =
            Transform::from_row(right.0 - base.0, right.1 - base.1, below.0 - base.0, below.1 - base.1, base.0, base.1);
        lettering::write(canvas, word, place, Color::from_rgba8(18, 18, 18, 255))
    }
}

/// Lays the tape.
pub(super) fn tape(canvas: &mut Pixmap, camera: &Camera, tape: &Tape) -> Result<(), ImageError> {
    let run = tape.to - tape.from;
    let Some(along) = run.try_normalize() else { return Ok(()) };
    let Some(mut down) = along.cross(tape.face).try_normalize() else { return Ok(()) };
    if down.dot(camera.up) > 0.0 {
        down = -down;
    }
    let board = Board { camera, corner: tape.from, across: along, down };
    board.bar(canvas, (0.0, run.length()), (0.0, WIDE), [232, 196, 52]);
    // the figures stand upright only when the tape runs to the right
    let to_right = along.dot(camera.right) > 0.0;
    for inch in 0..INCHES {
        let at = f64::from(inch) * INCH;
        if at > run.length() {
            break;
        }
        for (part, long) in [(0.0, 0.62), (0.25, 0.22), (0.5, 0.4), (0.75, 0.22)] {
            let place = at + part * INCH;
            if place < run.length() {
                board.bar(canvas, (place - 0.4, place + 0.4), (0.0, WIDE * long), [20, 20, 20]);
            }
        }
        if inch > 0 && to_right {
            board.write(canvas, &inch.to_string(), (at + 1.6, WIDE * 0.92), 8.0)?;
        } else if inch > 0 {
            let turned = Board { across: -along, ..Board { camera, corner: tape.from, across: along, down } };
            turned.write(canvas, &inch.to_string(), (-at + 1.6, WIDE * 0.92), 8.0)?;
        }
    }
    board.bar(canvas, (-3.0, 1.5), (-2.0, WIDE + 2.0), [150, 152, 155]);
    Ok(())
}

/// Holds the caliper.
pub(super) fn caliper(canvas: &mut Pixmap, camera: &Camera, caliper: &Caliper) -> Result<(), ImageError> {
    let half = caliper.gap.mm() / 2.0;
    let across = if caliper.across.dot(camera.right) < 0.0 { -caliper.across } else { caliper.across };
    // held so that its display reads the right way round
    let turned = across.cross(caliper.down).dot(camera.forward) < 0.0;
    let down = if turned { -caliper.down } else { caliper.down };
    let board = Board { camera, corner: caliper.at, across, down };
    let (steel, dark) = ([176, 179, 184], [52, 54, 58]);
    let beam = (half + 30.0, half + 46.0);
    board.bar(canvas, (-half - 40.0, half + 150.0), beam, steel);
    for step in 0..30_u32 {
        let at = half + 34.0 + f64::from(step) * 4.0;
        board.bar(canvas, (at, at + 0.5), (beam.0, beam.0 + 5.0), dark);
    }
    let jaw = |side: f64| [(side * half, -18.0), (side * (half + 4.0), -18.0), (side * (half + 16.0), beam.0)];
    for side in [-1.0, 1.0] {
        let mut outline = jaw(side).to_vec();
        outline.extend([(side * (half + 16.0), beam.1), (side * half, beam.1)]);
        board.fill(canvas, &outline, steel);
    }
    board.bar(canvas, (half - 2.0, half + 102.0), (beam.0 - 9.0, beam.1 + 12.0), dark);
    board.bar(canvas, (half + 6.0, half + 92.0), (beam.0 - 4.0, beam.1 + 5.0), [190, 202, 184]);
    board.write(canvas, &caliper.reading, (half + 9.0, beam.1 + 1.0), 17.0)
}
