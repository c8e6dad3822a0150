//! One measurement in the car, near: the cage about it, where the tape is held and where it is read.

use glam::{DVec2, DVec3, dvec2};

use super::cage::{bars_of, dimension, within};
use super::fit::Fit;
use super::scene::{Scene, Spot, View};
use super::view::{Scale, draw_bars};
use crate::domain::cage::Cage;
use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::{Anchor, Ink, Mark, Pen, Weight};
use crate::quantity::Length;

/// A measurement is drawn over at least this share of the frame, as far as the cage may be enlarged for it.
const SHARE: f64 = 0.45;
/// No more than so many times the whole cage's size: beyond that nobody sees any more where in the car it is.
const NEAREST: f64 = 1.5;
/// Size of the two remarks, and how far they stand from their points, mm.
const REMARK: Length = Length::from_mm(4.4);
const AWAY: f64 = 6.5;

/// Draws the cage, `guessed` bars pale, about a measurement between two points of the car, its figure as it is read; empty
/// where nobody took it. What lies outside the frame is drawn as well: whoever shows the marks cuts them off.
pub fn draw_taping(
    cage: &Cage,
    guessed: &[Balloon],
    measured: ((DVec3, DVec3), &str),
    view: View,
    frame: (Length, Length),
) -> Vec<Mark> {
    let ((held, read), words) = measured;
    let room = dvec2(frame.0.mm(), frame.1.mm());
    let bars = bars_of(cage);
    let scene = Scene { bars: &bars, spots: &[], darkened: &[], pale: guessed, hidden: false };
    // The tape may end beyond the bars, on the floor or at the roof.
    let spots = [held, read].map(|at| Spot { balloon: Balloon::new(Kind::Car, 1), at });
    let whole = Fit::of(&Scene { spots: &spots, ..scene }, view, room, Scale::Fit, 0.0);
    let ends = [held, read].map(|at| whole.on_page(view, at));
    let span = (ends[1] - ends[0]).abs().max(DVec2::splat(1e-3));
    let times = (room * SHARE / span).min_element().clamp(1.0, NEAREST);
    let fit = whole.nearer((ends[0] + ends[1]) / 2.0, times, room);
    let (held, read) = (fit.on_page(view, held), fit.on_page(view, read));
    let mut marks = draw_bars(&scene, view, &fit);
    marks.extend(dimension(held, read, words, frame));
    let along = (read - held).normalize_or(DVec2::NEG_Y);
    let foot = along.perp() * 3.0;
    marks.push(Mark::Line { from: held - foot, to: held + foot, pen: Pen::Marked });
    marks.push(Mark::Circle { centre: read, radius: Length::from_mm(1.3), pen: None, fill: Some(Ink::Accent) });
    marks.extend(remark("hold here", held, -along, frame));
    marks.extend(remark("read here", read, along, frame));
    marks
}

/// A remark beyond the end of the tape, on paper so that no line runs through it.
fn remark(words: &str, at: DVec2, outward: DVec2, frame: (Length, Length)) -> [Mark; 2] {
    let half = crate::drawing::paper::text::width(words, REMARK, Weight::Bold).mm() / 2.0;
    let beside = outward.x.abs() * (half + 2.0) * outward.x.signum();
    let at = within(at + dvec2(beside, outward.y * AWAY + REMARK.mm() * 0.35), half, REMARK, frame);
    let (low, high) = (at - dvec2(half + 0.6, REMARK.mm() * 0.8), at + dvec2(half + 0.6, REMARK.mm() * 0.25));
    let ground = Mark::rectangle(low, high - low, None, Some(Ink::White));
    let text = Mark::Text {
        at,
        size: REMARK,
        words: words.to_owned(),
        weight: Weight::Bold,
        anchor: Anchor::Middle,
        ink: Ink::Accent,
    };
    [ground, text]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::record::tape::where_measured;
    use crate::domain::cage::{ORDER_OF_MEASURING, solve};

    const FRAME: (Length, Length) = (Length::from_mm(100.0), Length::from_mm(60.0));

    #[test]
    fn both_ends_of_every_measurement_lie_in_the_frame() {
        let record = example_record();
        let cage = solve(&record, &TUBES);
        let all: Vec<_> =
            ORDER_OF_MEASURING.iter().filter_map(|one| Some((one, where_measured::drawn(*one, &record)?))).collect();
        assert!(all.len() > 30, "{}", all.len());
        for (measure, points) in all {
            for view in [View::Isometric, View::Turned(90), View::Turned(180), View::Turned(270)] {
                let marks = draw_taping(&cage, &[], (points, "26 1/8 in"), view, FRAME);
                let read = marks.iter().find_map(|mark| match mark {
                    Mark::Circle { centre, .. } => Some(*centre),
                    _ => None,
                });
                let read = read.unwrap();
                assert!(read.cmpge(DVec2::ZERO).all() && read.cmple(dvec2(100.0, 60.0)).all(), "{measure}: {read}");
                for mark in &marks {
                    let Mark::Text { at, .. } = mark else { continue };
                    assert!(at.cmpge(DVec2::ZERO).all() && at.cmple(dvec2(100.0, 60.0)).all(), "{measure}: {at}");
                }
            }
        }
    }
}
