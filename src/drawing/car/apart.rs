//! What is photographed and is no part of the cage: the car on its scale, a stick of tube.

use glam::{DVec2, dvec2};

use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::{Anchor, Ink, Mark, Pen, Weight};
use crate::quantity::Length;

const TYPE: Length = Length::from_mm(4.4);

/// A plain picture of it in a frame, what is to be seen in the accent; none for what is drawn elsewhere or looks like nothing
/// in particular.
pub fn apart(of: Balloon, frame: (Length, Length)) -> Option<Vec<Mark>> {
    let room = dvec2(frame.0.mm(), frame.1.mm());
    match of.kind {
        Kind::WeighIn => Some(on_the_scale(room)),
        Kind::Stick => Some(stick(of, room)),
        _ => None,
    }
}

/// The car from above on four pads, the display beside it.
fn on_the_scale(room: DVec2) -> Vec<Mark> {
    let car = dvec2(room.x * 0.56, room.y * 0.42);
    let low = dvec2(room.x * 0.06, (room.y - car.y) / 2.0);
    let mut marks = vec![Mark::rectangle(low, car, Some(Pen::Narrow), None)];
    marks.push(Mark::rectangle(low + car * dvec2(0.32, 0.12), car * dvec2(0.38, 0.76), Some(Pen::Faint), None));
    let pad = dvec2(car.x * 0.2, room.y * 0.2);
    for (along, across) in [(0.2, 0.0), (0.2, 1.0), (0.82, 0.0), (0.82, 1.0)] {
        let at = low + car * dvec2(along, across) - pad / 2.0;
        marks.push(Mark::rectangle(at, pad, Some(Pen::Marked), Some(Ink::White)));
    }
    let display = dvec2(room.x * 0.7, room.y * 0.3);
    marks.push(Mark::rectangle(display, dvec2(room.x * 0.25, room.y * 0.4), Some(Pen::Marked), None));
    marks.extend(
        [("display", 0.46), ("and tape", 0.62)]
            .map(|(words, down)| words_at(words, dvec2(room.x * 0.825, room.y * down))),
    );
    marks
}

/// A stick with what is printed along it.
fn stick(of: Balloon, room: DVec2) -> Vec<Mark> {
    let (half, middle) = (room.y * 0.11, room.y * 0.5);
    let (left, right) = (room.x * 0.08, room.x * 0.92);
    let line =
        |down: f64| Mark::Line { from: dvec2(left, middle + down), to: dvec2(right, middle + down), pen: Pen::Narrow };
    let end = |x: f64| Mark::Circle {
        centre: dvec2(x, middle),
        radius: Length::from_mm(half),
        pen: Some(Pen::Narrow),
        fill: Some(Ink::White),
    };
    let print = dvec2(room.x * 0.5, half * 1.1);
    vec![
        line(-half),
        line(half),
        end(right),
        end(left),
        Mark::rectangle(dvec2(room.x * 0.25, middle - print.y / 2.0), print, Some(Pen::Marked), Some(Ink::White)),
        words_at("size, heat, maker", dvec2(room.x * 0.5, middle + TYPE.mm() * 0.35)),
        words_at(&of.to_string(), dvec2(room.x * 0.5, middle + half + TYPE.mm() * 2.0)),
    ]
}

fn words_at(words: &str, at: DVec2) -> Mark {
    Mark::Text {
        at,
        size: TYPE,
        words: words.to_owned(),
        weight: Weight::Bold,
        anchor: Anchor::Middle,
        ink: Ink::Accent,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scale_and_stick_have_a_picture_and_others_none() {
        let frame = (Length::from_mm(100.0), Length::from_mm(64.0));
        for (part, has) in [("W1", true), ("S3", true), ("K1", false), ("J1", false)] {
            let Ok(part) = part.parse::<Balloon>() else { continue };
            assert_eq!(apart(part, frame).is_some(), has, "{part}");
        }
    }
}
