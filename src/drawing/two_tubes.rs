//! Two tube sections side by side at one scale, as cut across.

use glam::dvec2;

use super::{Anchor, Ink, Mark, Pen, Weight};
use crate::domain::steel::tube::TubeSize;
use crate::quantity::Length;

/// Between the two sections, and round them, mm.
const FREE: f64 = 8.0;
/// Room for a line of words under a section, in heights of its type.
const LINES: f64 = 1.8;

/// The sections in a frame, the wall filled, axes as chain lines, the size of each under it.
pub fn sections(tubes: [&TubeSize; 2], frame: (Length, Length), size: Length) -> Vec<Mark> {
    let (wide, high) = (frame.0.mm(), frame.1.mm());
    let [one, other] = tubes.map(|tube| tube.outside.mm());
    let under = size.mm() * LINES;
    let scale = ((wide - 3.0 * FREE) / (one + other)).min((high - 2.0 * FREE - under) / one.max(other));
    let middle = FREE + (high - 2.0 * FREE - under) / 2.0;
    let spare = (wide - (one + other) * scale) / 3.0;
    let centres = [spare + one * scale / 2.0, wide - spare - other * scale / 2.0];
    let mut marks = Vec::new();
    for (tube, x) in tubes.into_iter().zip(centres) {
        let centre = dvec2(x, middle);
        let circle = |length: Length, fill| Mark::Circle {
            centre,
            radius: length * (scale / 2.0),
            pen: Some(Pen::Wide),
            fill: Some(fill),
        };
        marks.push(circle(tube.outside, Ink::Grey));
        marks.push(circle(tube.inside(), Ink::White));
        let arm = tube.outside.mm() * scale / 2.0 + 3.0;
        for reach in [dvec2(arm, 0.0), dvec2(0.0, arm)] {
            marks.push(Mark::Line { from: centre - reach, to: centre + reach, pen: Pen::CentreChain });
        }
        marks.push(Mark::Text {
            at: dvec2(x, high - FREE / 2.0),
            size,
            words: tube.to_string(),
            weight: Weight::Bold,
            anchor: Anchor::Middle,
            ink: Ink::Black,
        });
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_sections_have_one_scale_and_stay_in_the_frame() {
        let (one, other) = (TubeSize::inch(1.5, 0.095), TubeSize::metric(50.0, 2.0));
        let frame = (Length::from_mm(150.0), Length::from_mm(80.0));
        let marks = sections([&one, &other], frame, Length::from_mm(5.0));
        let circles: Vec<(f64, f64)> = marks
            .iter()
            .filter_map(|mark| match mark {
                Mark::Circle { centre, radius, .. } => Some((centre.x, radius.mm())),
                _ => None,
            })
            .collect();
        let [(left, first), (_, bore), (right, second), _] = circles.as_slice() else { panic!("{circles:?}") };
        assert!((first / second - 38.1 / 50.0).abs() < 1e-9 && (bore / first - 1.31 / 1.5).abs() < 1e-9);
        assert!(left - first > 0.0 && left + first < right - second && right + second < 150.0);
    }
}
