//! Photographs of what is printed or shown: papers, labels, a stick's stencil, a scale's read-out.

use tiny_skia::{
    Color, FillRule, GradientStop, LinearGradient, Paint, Path, PathBuilder, Pixmap, Point, Rect, Shader, SpreadMode,
    Stroke, Transform,
};

use super::backdrop;
use super::{lettering, negative};
use crate::imaging::ImageError;

/// What the words are on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// A sheet of paper on the bench.
    Paper,
    /// A cloth label sewn to webbing.
    Webbing,
    /// A metal label on a moulded surface.
    Label,
    /// Paint on a tube.
    Tube,
    /// The displays of a scale, one line each.
    Displays,
}

/// A photograph of something printed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Print {
    /// What the words are on.
    pub ground: Ground,
    /// The words, line by line; the first is the largest.
    pub lines: Vec<String>,
    /// What is written on the card in the frame; empty when there is none.
    pub card: String,
    /// True when the camera missed the focus.
    pub out_of_focus: bool,
    /// Draws the grain and how crooked it is held.
    pub seed: u64,
}

/// Draws it as a JPEG of 1280 × 960 dots with the word DRAWN in it.
pub fn print(print: &Print) -> Result<Vec<u8>, ImageError> {
    let mut canvas = negative::blank()?;
    backdrop::fill(&mut canvas, print.seed);
    // held by hand: a few degrees out of true
    let turn = f32::from(u8::try_from(print.seed % 7).unwrap_or(0)) - 3.0;
    let place = Transform::from_rotate(turn * 0.7).post_translate(690.0, 440.0);
    match print.ground {
        Ground::Paper => paper(&mut canvas, place, &print.lines)?,
        Ground::Webbing => webbing(&mut canvas, place, &print.lines)?,
        Ground::Label => label(&mut canvas, place, &print.lines)?,
        Ground::Tube => tube(&mut canvas, place, &print.lines)?,
        Ground::Displays => displays(&mut canvas, place, &print.lines)?,
    }
    if !print.card.is_empty() {
        lettering::card(&mut canvas, &print.card)?;
    }
    negative::develop(canvas, print.out_of_focus, print.seed)
}

fn grey(shade: u8) -> Color {
    rgb(shade, shade, shade)
}

fn rgb(red: u8, green: u8, blue: u8) -> Color {
    Color::from_rgba8(red, green, blue, 255)
}

/// A rectangle around the middle.
fn sheet(middle: (f32, f32), size: (f32, f32)) -> Option<Path> {
    let rect = Rect::from_xywh(middle.0 - size.0 / 2.0, middle.1 - size.1 / 2.0, size.0, size.1)?;
    Some(PathBuilder::from_rect(rect))
}

fn fill(canvas: &mut Pixmap, path: Option<Path>, shader: Shader<'_>, place: Transform) {
    if let Some(path) = path {
        canvas.fill_path(&path, &Paint { shader, ..Paint::default() }, FillRule::Winding, place, None);
    }
}

fn plain(canvas: &mut Pixmap, middle: (f32, f32), size: (f32, f32), colour: Color, place: Transform) {
    fill(canvas, sheet(middle, size), Shader::SolidColor(colour), place);
}

/// A soft shadow under a sheet.
fn shadow(canvas: &mut Pixmap, middle: (f32, f32), size: (f32, f32), place: Transform) {
    let dark = Color::from_rgba8(0, 0, 0, 18);
    for step in 0..8_u8 {
        let grown = 22.0 - 3.0 * f32::from(step);
        plain(canvas, middle, (size.0 + grown, size.1 + grown), dark, place.post_translate(7.0, 10.0));
    }
}

/// A band lit from above: dark edges, a bright streak.
fn round(canvas: &mut Pixmap, size: (f32, f32), [edge, body, shine]: [Color; 3], place: Transform) {
    let stops = [(0.0, edge), (0.16, body), (0.3, shine), (0.42, body), (1.0, edge)];
    let stops = stops.iter().map(|(at, colour)| GradientStop::new(*at, *colour)).collect();
    let (top, foot) = (Point::from_xy(0.0, -size.1 / 2.0), Point::from_xy(0.0, size.1 / 2.0));
    if let Some(shader) = LinearGradient::new(top, foot, stops, SpreadMode::Pad, Transform::identity()) {
        fill(canvas, sheet((0.0, 0.0), size), shader, place);
    }
}

/// Writes lines one under the other, each as large as its height allows and its width leaves room for.
fn lines(
    canvas: &mut Pixmap,
    (words, colour): (&[String], Color),
    (left, top): (f32, f32),
    (room, first): (f32, f32),
    place: Transform,
) -> Result<(), ImageError> {
    let mut down = top;
    for (number, line) in words.iter().enumerate() {
        let high = if number == 0 { first } else { first * 0.66 };
        let size = high.min(room / lettering::width(line)?.max(0.1));
        down += high * 1.25;
        let at = place.pre_translate(left, down - high * 0.25).pre_scale(size, size);
        lettering::write(canvas, line, at, colour)?;
    }
    Ok(())
}

fn paper(canvas: &mut Pixmap, place: Transform, words: &[String]) -> Result<(), ImageError> {
    plain(canvas, (0.0, 0.0), (1_700.0, 1_400.0), rgb(104, 88, 70), place);
    for plank in 0..7_u8 {
        let at = f32::from(plank) * 190.0 - 600.0;
        plain(canvas, (0.0, at), (1_700.0, 5.0), rgb(70, 58, 46), place);
    }
    let (middle, size) = ((80.0, 40.0), (820.0, 1_000.0));
    shadow(canvas, middle, size, place);
    plain(canvas, middle, size, rgb(236, 235, 229), place);
    for row in 0..6_u8 {
        plain(canvas, (60.0, 130.0 + f32::from(row) * 56.0), (700.0, 2.5), grey(150), place);
    }
    lines(canvas, (words, grey(28)), (-290.0, -420.0), (690.0, 58.0), place)?;
    if let Some(ring) = PathBuilder::from_circle(310.0, 330.0, 84.0) {
        let mut ink = Paint::default();
        ink.set_color_rgba8(52, 70, 140, 190);
        canvas.stroke_path(&ring, &ink, &Stroke { width: 8.0, ..Stroke::default() }, place, None);
    }
    Ok(())
}

fn webbing(canvas: &mut Pixmap, place: Transform, words: &[String]) -> Result<(), ImageError> {
    plain(canvas, (0.0, 0.0), (1_700.0, 560.0), rgb(30, 38, 66), place);
    for thread in 0..70_u8 {
        let at = f32::from(thread) * 24.0 - 840.0;
        let shade = if thread % 2 == 0 { rgb(38, 48, 82) } else { rgb(25, 31, 55) };
        plain(canvas, (at, 0.0), (9.0, 560.0), shade, place);
    }
    for edge in [-262.0, 262.0] {
        plain(canvas, (0.0, edge), (1_700.0, 10.0), rgb(58, 68, 104), place);
    }
    let (middle, size) = ((20.0, 0.0), (780.0, 420.0));
    shadow(canvas, middle, size, place);
    plain(canvas, middle, size, rgb(222, 221, 214), place);
    for stitch in 0..38_u8 {
        let at = f32::from(stitch) * 20.0 - 350.0;
        for row in [-192.0, 192.0] {
            plain(canvas, (at, row), (11.0, 4.0), rgb(150, 40, 40), place);
        }
    }
    lines(canvas, (words, grey(24)), (-330.0, -180.0), (700.0, 76.0), place)
}

fn label(canvas: &mut Pixmap, place: Transform, words: &[String]) -> Result<(), ImageError> {
    round(canvas, (1_800.0, 1_300.0), [grey(34), grey(62), grey(92)], place);
    for rib in 0..24_u8 {
        let at = f32::from(rib) * 74.0 - 860.0;
        plain(canvas, (at, 0.0), (4.0, 1_300.0), Color::from_rgba8(0, 0, 0, 50), place);
    }
    let (middle, size) = ((0.0, 0.0), (820.0, 470.0));
    shadow(canvas, middle, size, place);
    plain(canvas, middle, size, rgb(196, 199, 204), place);
    plain(canvas, (0.0, -190.0), (780.0, 6.0), rgb(150, 40, 40), place);
    plain(canvas, (0.0, 190.0), (780.0, 6.0), rgb(150, 40, 40), place);
    lines(canvas, (words, grey(20)), (-370.0, -180.0), (740.0, 78.0), place)
}

fn tube(canvas: &mut Pixmap, place: Transform, words: &[String]) -> Result<(), ImageError> {
    // its neighbours on the rack above and below
    for at in [-470.0, 0.0, 470.0] {
        let place = place.pre_translate(0.0, at);
        round(canvas, (1_900.0, 430.0), [rgb(52, 54, 58), rgb(132, 136, 142), rgb(205, 209, 214)], place);
        for streak in 0..22_u8 {
            let down = f32::from(streak) * 19.0 - 200.0;
            plain(canvas, (0.0, down), (1_900.0, 2.0), Color::from_rgba8(30, 30, 34, 26), place);
        }
    }
    lines(canvas, (words, rgb(238, 240, 236)), (-520.0, -130.0), (1_060.0, 84.0), place)
}

fn displays(canvas: &mut Pixmap, place: Transform, words: &[String]) -> Result<(), ImageError> {
    shadow(canvas, (-30.0, 0.0), (1_080.0, 760.0), place);
    plain(canvas, (-30.0, 0.0), (1_080.0, 760.0), rgb(58, 60, 64), place);
    for corner in [(-540.0, -350.0), (480.0, -350.0), (-540.0, 350.0), (480.0, 350.0)] {
        plain(canvas, corner, (26.0, 26.0), grey(120), place);
    }
    let places = [(-290.0, -180.0), (230.0, -180.0), (-290.0, 150.0), (230.0, 150.0)];
    for (line, (x, y)) in words.iter().zip(places) {
        plain(canvas, (x, y), (470.0, 270.0), grey(22), place);
        plain(canvas, (x, y), (440.0, 240.0), rgb(172, 190, 150), place);
        let (wheel, reading) = line.split_once(' ').unwrap_or(("", line));
        let ink = rgb(24, 34, 26);
        lines(canvas, (&[wheel.to_owned()], ink), (x - 200.0, y - 118.0), (400.0, 52.0), place)?;
        lines(canvas, (&[reading.to_owned()], ink), (x - 200.0, y - 60.0), (400.0, 130.0), place)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{Ground, Print, print};
    use crate::domain::shop::looks::{Bounds, remarks};
    use crate::imaging::look;

    #[test]
    fn each_ground_gives_a_photo_that_nothing_need_be_said_of() {
        for ground in [Ground::Paper, Ground::Webbing, Ground::Label, Ground::Tube, Ground::Displays] {
            let lines = ["LF 661 lb", "RF 650 lb", "LR 640 lb", "RR 645 lb"].map(str::to_owned).to_vec();
            let one = Print { ground, lines, card: "W1".to_owned(), out_of_focus: false, seed: 3 };
            let seen = look(&print(&one).unwrap()).unwrap();
            assert_eq!(remarks(&seen, &Bounds::default()), Vec::<String>::new(), "{ground:?} {seen:?}");
            let missed = look(&print(&Print { out_of_focus: true, ..one }).unwrap()).unwrap();
            assert!(
                remarks(&missed, &Bounds::default()).iter().any(|remark| remark.contains("blurred")),
                "{ground:?} {missed:?}"
            );
        }
    }
}
