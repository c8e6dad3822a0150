//! A blank at full size: what to cut of sheet or short tube, with its lines to bend and to scribe.

use glam::{DVec2, dvec2};

use super::car::hiding::bounds;
use super::paper::sheet::moved;
use super::paper::svg::Svg;
use super::wrap::{Wall, Wrap};
use super::{Anchor, Ink, Mark, Pen, Weight};
use crate::domain::cage::GussetCut;
use crate::domain::work::fabrication::Blank;
use crate::geometry::SheetBlank;
use crate::quantity::Length;

/// Size of the words on it, 9 pt.
const TYPE: Length = Length::from_mm(3.18);
/// Room round the outline, mm.
const ROUND: f64 = 2.0;
/// Half of the cross in the middle of a hole, mm.
const CROSS: f64 = 3.0;
/// Room between two templates of one tube, mm.
const BETWEEN: f64 = 8.0;

/// The marks of a blank from its own top left corner, and its size, mm. A tube's are its two cope templates, the first
/// end over the second.
pub fn at_full_size(blank: &Blank, wall: Wall) -> (Vec<Mark>, DVec2) {
    match &blank.cut {
        GussetCut::Sheet(sheet) => of_sheet(blank, sheet),
        GussetCut::Tube(piece, tube) => {
            let (mut marks, mut size) = (Vec::new(), DVec2::ZERO);
            for ((cope, letter), onto) in piece.copes.iter().zip(["A", "B"]).zip(&blank.edges) {
                let wrap = Wrap { cope, outside: tube.outside, bore: tube.inside(), wall };
                let (wrapped, room) = wrap.marks();
                let at = dvec2(0.0, size.y + TYPE.mm() + 1.0);
                let words = format!("{} end {letter} {onto}, {:.1}°", blank.balloon, cope.angle().degrees());
                marks.push(Mark::words(dvec2(0.0, at.y - 1.0), TYPE, Weight::Bold, words));
                marks.extend(moved(wrapped, at));
                size = dvec2(size.x.max(room.x), at.y + room.y + BETWEEN);
            }
            (marks, size)
        }
    }
}

/// The same as an SVG file of its own.
pub fn as_file(blank: &Blank, wall: Wall) -> Svg {
    let (marks, size) = at_full_size(blank, wall);
    Svg::file(&marks, (Length::from_mm(size.x), Length::from_mm(size.y)))
}

fn of_sheet(blank: &Blank, sheet: &SheetBlank) -> (Vec<Mark>, DVec2) {
    let corners = sheet.outline.corners();
    let (low, high) = bounds(corners);
    let on = |at: DVec2| dvec2(at.x - low.x + ROUND, high.y - at.y + ROUND);
    let run = |points: &[DVec2]| points.iter().copied().map(on).collect::<Vec<_>>();
    let mut marks = Vec::new();
    for scribed in &sheet.scribed {
        let pen = if scribed.len() > 2 { Pen::Narrow } else { Pen::CentreChain };
        marks.push(Mark::Path { points: run(scribed), closed: false, pen: Some(pen), fill: None });
    }
    for [from, to] in &sheet.bends {
        marks.push(Mark::Line { from: on(*from), to: on(*to), pen: Pen::HiddenDashed });
        let at = on(f64::midpoint(from.x, to.x) * DVec2::X + from.y * DVec2::Y) - dvec2(0.0, 1.0);
        marks.push(words(at, Anchor::Middle, "bend 90°"));
    }
    for hole in &sheet.holes {
        let (centre, radius) = (on(hole.centre), hole.diameter / 2.0);
        marks.push(Mark::Circle { centre, radius, pen: Some(Pen::Wide), fill: None });
        for way in [DVec2::X * CROSS, DVec2::Y * CROSS] {
            marks.push(Mark::Line { from: centre - way, to: centre + way, pen: Pen::Narrow });
        }
    }
    marks.push(Mark::Path { points: run(corners), closed: true, pen: Some(Pen::Wide), fill: None });
    marks.extend(named(blank, sheet, on));
    (marks, high - low + 2.0 * ROUND)
}

/// Its number, and which edge belongs where.
fn named(blank: &Blank, sheet: &SheetBlank, on: impl Fn(DVec2) -> DVec2) -> Vec<Mark> {
    let corners = sheet.outline.corners();
    let (low, high) = bounds(corners);
    // A bent one carries its words on the band; a flat one along its longest edge; a plate over its middle line.
    let level = if blank.bend.is_some() || blank.leg.is_none() { 4.0 } else { high.y - 10.0 };
    let across = widths(corners, level).unwrap_or((low.x, high.x));
    let [left, right, upper] = &blank.edges;
    let mut marks = vec![
        words(on(dvec2(across.0 + 2.0, level)), Anchor::Start, left),
        words(on(dvec2(across.1 - 2.0, level)), Anchor::End, right),
    ];
    let mut number = words(on(dvec2(0.0, level)), Anchor::Middle, &blank.balloon.to_string());
    if blank.leg.is_none() {
        number = words(on(low + 3.0), Anchor::Start, &blank.balloon.to_string());
        marks.push(words(on(dvec2(2.0, high.y - 5.0)), Anchor::Start, upper));
    } else if blank.bend.is_none() {
        number = words(on(dvec2(0.0, high.y - 4.0)), Anchor::Middle, &blank.balloon.to_string());
    }
    if let Mark::Text { weight, .. } = &mut number {
        *weight = Weight::Bold;
    }
    marks.push(number);
    marks
}

/// From where to where an outline reaches at a height.
fn widths(corners: &[DVec2], level: f64) -> Option<(f64, f64)> {
    let sides = corners.iter().zip(corners.iter().cycle().skip(1));
    let met = sides.filter(|(from, to)| (from.y - level) * (to.y - level) < 0.0);
    let places = met.map(|(from, to)| from.x + (to.x - from.x) * (level - from.y) / (to.y - from.y));
    places.fold(None, |found, x| {
        let (least, most) = found.unwrap_or((x, x));
        Some((x.min(least), x.max(most)))
    })
}

fn words(at: DVec2, anchor: Anchor, words: &str) -> Mark {
    Mark::Text { at, size: TYPE, words: words.to_owned(), weight: Weight::Regular, anchor, ink: Ink::Black }
}
