//! The shape that stands beside a verdict's word: it tells the words apart in grey, too.

use glam::{DVec2, dvec2};

use crate::domain::judge::verdicts::Word;
use crate::drawing::{Ink, Mark, Pen};
use crate::quantity::Length;

/// The shape of a verdict's word, `size` mm wide and high; `at` is its top left corner.
pub fn sign(word: Word, at: DVec2, size: f64) -> Vec<Mark> {
    let to = |x: f64, y: f64| at + dvec2(x, y) * size;
    let middle = to(0.5, 0.5);
    let radius = Length::from_mm(size * 0.45);
    let closed = |points: Vec<DVec2>, fill| Mark::Path { points, closed: true, pen: Some(Pen::Narrow), fill };
    match word {
        Word::Meets => vec![closed(vec![to(0.1, 0.1), to(0.9, 0.1), to(0.9, 0.9), to(0.1, 0.9)], Some(Ink::Black))],
        Word::ShortBy | Word::OverBy => {
            vec![closed(vec![to(0.5, 0.05), to(0.98, 0.92), to(0.02, 0.92)], Some(Ink::Black))]
        }
        Word::NotMeasured => vec![Mark::Circle { centre: middle, radius, pen: Some(Pen::Narrow), fill: None }],
        Word::NoPhoto => {
            vec![
                closed(vec![to(0.05, 0.15), to(0.95, 0.15), to(0.95, 0.85), to(0.05, 0.85)], None),
                Mark::Circle {
                    centre: middle,
                    radius: Length::from_mm(size * 0.18),
                    pen: Some(Pen::Narrow),
                    fill: None,
                },
            ]
        }
        Word::TooClose => arrows(&to),
        Word::ScrutineerDecides => {
            vec![closed(vec![to(0.5, 0.02), to(0.98, 0.5), to(0.5, 0.98), to(0.02, 0.5)], None)]
        }
        Word::NotAsked => vec![Mark::Line { from: to(0.1, 0.5), to: to(0.9, 0.5), pen: Pen::Narrow }],
    }
}

fn arrows(to: &dyn Fn(f64, f64) -> DVec2) -> Vec<Mark> {
    let mut marks = vec![Mark::Line { from: to(0.0, 0.5), to: to(1.0, 0.5), pen: Pen::Narrow }];
    for (tip, back) in [(0.0, 0.3), (1.0, 0.7)] {
        let points = vec![to(back, 0.25), to(tip, 0.5), to(back, 0.75)];
        marks.push(Mark::Path { points, closed: false, pen: Some(Pen::Narrow), fill: None });
    }
    marks
}

/// The shape that stands beside a question, of the same size: a frame that speaks.
pub fn speech(at: DVec2, size: f64) -> Vec<Mark> {
    let corners = [(0.06, 0.1), (0.94, 0.1), (0.94, 0.7), (0.55, 0.7), (0.3, 0.96), (0.3, 0.7), (0.06, 0.7)];
    let points = corners.into_iter().map(|(x, y)| at + dvec2(x, y) * size).collect();
    vec![Mark::Path { points, closed: true, pen: Some(Pen::Narrow), fill: None }]
}
