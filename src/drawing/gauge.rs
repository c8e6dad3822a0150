//! A figure against its limit as a bar: hatched where the rule does not allow, a triangle for the figure, a line for its doubt.
//! What is only counted fills it from the left.

use glam::{DVec2, dvec2};

use super::{Ink, Mark, Pen};
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::measure::amounts::Amount;

/// The share of the width, to either side of the middle, that anything drawn may be away from it.
const REACH: f64 = 0.42;
/// The share of that reach at which the two edges of a limit lie.
const BETWEEN: f64 = 0.5;
/// From one stroke of the hatching to the next, mm.
const HATCH: f64 = 1.3;

/// The gauge of a verdict, in a frame of this size; none where its limit has no edge that is an amount. Without a figure it has
/// no triangle, and what is counted is not filled.
pub fn gauge(verdict: &Verdict, size: DVec2) -> Option<Vec<Mark>> {
    let limit = verdict.limit.as_ref()?;
    if let Some(Amount::Count(wanted)) = limit.amount {
        let Some(Amount::Count(found)) = verdict.figure else { return Some(filled(0.0, size)) };
        let over = verdict.state() == Word::OverBy;
        let share = if over { 1.0 } else { f64::from(found) / f64::from(wanted.max(1)) };
        return Some(filled(share, size));
    }
    let axis = Axis::of(verdict, size)?;
    let (top, high) = (size.y * 0.5, size.y * 0.36);
    let mut marks = Vec::new();
    let [least, most] = axis.edges.map(|edge| edge.map(|edge| axis.x(edge)));
    marks.extend(least.into_iter().flat_map(|least| hatched(0.0, least, top, high)));
    marks.extend(most.into_iter().flat_map(|most| hatched(most, size.x, top, high)));
    marks.push(Mark::rectangle(dvec2(0.0, top), dvec2(size.x, high), Some(Pen::Narrow), None));
    for edge in [least, most].into_iter().flatten() {
        marks.push(Mark::Line { from: dvec2(edge, top - 0.6), to: dvec2(edge, top + high + 0.6), pen: Pen::Wide });
    }
    let Some(figure) = axis.figure else { return Some(marks) };
    if axis.doubt > 0.0 {
        let level = top - size.y * 0.46;
        let [from, to] = [-1.0, 1.0].map(|side| dvec2(axis.x(figure + side * axis.doubt), level));
        marks.push(Mark::Line { from, to, pen: Pen::Narrow });
    }
    let (tip, half) = (dvec2(axis.x(figure), top), size.y * 0.2);
    let points = vec![tip, tip + dvec2(-half, -2.0 * half), tip + dvec2(half, -2.0 * half)];
    let stands_out = verdict.state().fails() || verdict.state() == Word::TooClose;
    let fill = if stands_out { Ink::Accent } else { Ink::Black };
    marks.push(Mark::Path { points, closed: true, pen: None, fill: Some(fill) });
    Some(marks)
}

/// How much of what is counted is there, from nothing to all: filled from the left.
pub fn filled(share: f64, size: DVec2) -> Vec<Mark> {
    let (top, high) = (size.y * 0.5, size.y * 0.36);
    let there = dvec2(size.x * share.clamp(0.0, 1.0), high);
    let frame = Mark::rectangle(dvec2(0.0, top), dvec2(size.x, high), Some(Pen::Narrow), None);
    let part = (there.x > 0.0).then(|| Mark::rectangle(dvec2(0.0, top), there, None, Some(Ink::Black)));
    part.into_iter().chain([frame]).collect()
}

/// Slanting strokes between two places of a bar.
pub(in crate::drawing) fn hatched(from: f64, to: f64, top: f64, high: f64) -> Vec<Mark> {
    let mut marks = Vec::new();
    let mut at = from;
    while at + high <= to {
        marks.push(Mark::Line { from: dvec2(at, top + high), to: dvec2(at + high, top), pen: Pen::Faint });
        at += HATCH;
    }
    marks
}

/// What is drawn of a limit on a figure, in its base unit, and where along the bar.
struct Axis {
    edges: [Option<f64>; 2],
    figure: Option<f64>,
    doubt: f64,
    middle: f64,
    /// So much lies between the middle and the end of the reach.
    range: f64,
    wide: f64,
}

impl Axis {
    fn of(verdict: &Verdict, size: DVec2) -> Option<Self> {
        let limit = verdict.limit.as_ref()?;
        let edges = [limit.least, limit.most];
        let first = edges.into_iter().flatten().next()?;
        // A figure that is of no kind with its limit has no place on it.
        let figure = verdict.figure.filter(|figure| figure.compare(first).is_some()).map(Amount::in_base_unit);
        let edges = edges.map(|edge| edge.map(Amount::in_base_unit));
        let doubt = verdict.doubt.map_or(0.0, |doubt| doubt.in_base_unit() * 2.0);
        let (middle, least) = match edges {
            [Some(least), Some(most)] => (f64::midpoint(least, most), (most - least).abs() / 2.0 / BETWEEN),
            [one, other] => one.or(other).map(|edge| (edge, edge.abs()))?,
        };
        let off = figure.map_or(0.0, |figure| (figure - middle).abs() + doubt);
        Some(Self { edges, figure, doubt, middle, range: least.max(off).max(f64::MIN_POSITIVE), wide: size.x })
    }

    fn x(&self, value: f64) -> f64 {
        self.wide * (0.5 + REACH * ((value - self.middle) / self.range).clamp(-1.0, 1.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::measure::amounts::LimitText;
    use crate::quantity::Length;

    const SIZE: DVec2 = DVec2::new(40.0, 6.5);

    fn length(mm: f64) -> Amount {
        Amount::Length(Length::from_mm(mm))
    }

    fn between(least: Option<f64>, most: Option<f64>) -> LimitText {
        LimitText { text: "a limit".to_owned(), amount: None, least: least.map(length), most: most.map(length) }
    }

    fn of(limit: LimitText, figure: Option<f64>, word: Word) -> Vec<Mark> {
        let mut verdict = Verdict::unfound();
        (verdict.limit, verdict.figure, verdict.word) = (Some(limit), figure.map(length), word);
        gauge(&verdict, SIZE).unwrap()
    }

    fn tip(marks: &[Mark]) -> Option<f64> {
        marks.iter().find_map(|mark| match mark {
            Mark::Path { points, fill: Some(_), .. } if points.len() == 3 => Some(points[0].x),
            _ => None,
        })
    }

    fn edges(marks: &[Mark]) -> Vec<f64> {
        let wide = |mark: &Mark| match mark {
            Mark::Line { from, pen: Pen::Wide, .. } => Some(from.x),
            _ => None,
        };
        marks.iter().filter_map(wide).collect()
    }

    fn strokes(marks: &[Mark]) -> Vec<(f64, f64)> {
        let faint = |mark: &Mark| match mark {
            Mark::Line { from, to, pen: Pen::Faint } => Some((from.x, to.x)),
            _ => None,
        };
        marks.iter().filter_map(faint).collect()
    }

    #[test]
    fn a_figure_that_is_not_there_has_no_triangle_and_its_limit_stands() {
        let known = of(between(Some(50.0), None), Some(60.0), Word::Meets);
        let unknown = of(between(Some(50.0), None), None, Word::NotMeasured);
        assert!(tip(&known).unwrap() > edges(&known)[0]);
        assert_eq!((tip(&unknown), edges(&unknown).len()), (None, 1));
        assert!(!strokes(&unknown).is_empty());
    }

    #[test]
    fn what_is_not_allowed_is_hatched_on_its_own_side_alone() {
        for (limit, figure, word) in [
            (between(Some(50.0), None), 20.0, Word::ShortBy),
            (between(None, Some(50.0)), 80.0, Word::OverBy),
            (between(Some(50.0), Some(90.0)), 70.0, Word::Meets),
            (between(Some(50.0), Some(90.0)), 300.0, Word::OverBy),
        ] {
            let marks = of(limit.clone(), Some(figure), word);
            let (edges, tip) = (edges(&marks), tip(&marks).unwrap());
            assert!((0.0..=SIZE.x).contains(&tip));
            let least = limit.least.map(|_| edges[0]);
            let most = limit.most.map(|_| *edges.last().unwrap());
            for (from, to) in strokes(&marks) {
                let before = least.is_some_and(|least| to <= least + 1e-9);
                let beyond = most.is_some_and(|most| from >= most - 1e-9);
                assert!(before || beyond, "{word}: {from} to {to}");
            }
            let outside = least.is_some_and(|least| tip < least) || most.is_some_and(|most| tip > most);
            assert_eq!(outside, word.fails(), "{word}");
        }
    }

    #[test]
    fn what_is_counted_fills_from_the_left_and_never_beyond() {
        for (share, wide) in [(0.0, None), (0.5, Some(20.0)), (3.0, Some(40.0))] {
            let part = filled(share, SIZE).into_iter().find_map(|mark| match mark {
                Mark::Path { points, fill: Some(_), .. } => Some(points.iter().map(|at| at.x).fold(0.0, f64::max)),
                _ => None,
            });
            assert_eq!(part, wide, "{share}");
        }
    }
}
