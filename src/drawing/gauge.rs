//! A figure against its limit as a bar: hatched where the rule does not allow, a triangle for the figure, a line for its doubt.

use glam::{DVec2, dvec2};

use super::{Ink, Mark, Pen};
use crate::domain::judge::verdicts::{Verdict, Word};

/// The share of the width, to either side of the limit, that the figure may be away from it.
const REACH: f64 = 0.42;
/// From one stroke of the hatching to the next, mm.
const HATCH: f64 = 1.3;

/// The gauge of a verdict, in a frame of this size; none without a figure and a limit of one kind.
pub fn gauge(verdict: &Verdict, size: DVec2) -> Option<Vec<Mark>> {
    let (figure, limit) = (verdict.figure?, verdict.limit.as_ref()?.amount?);
    figure.compare(limit)?;
    let (figure, limit) = (figure.in_base_unit(), limit.in_base_unit());
    let off = figure - limit;
    // Which side is not allowed: the figure's own where it fails, else the other one; on the limit itself the words tell.
    let more_is_wrong = match (verdict.state(), off > 0.0) {
        (Word::OverBy, _) => true,
        (Word::ShortBy, _) => false,
        (Word::Meets, more) if off.abs() > 0.0 => !more,
        _ => !verdict.limit.as_ref()?.text.starts_with("at least"),
    };
    let doubt = verdict.doubt.map_or(0.0, |doubt| doubt.in_base_unit() * 2.0);
    let range = limit.abs().max(off.abs() + doubt).max(f64::MIN_POSITIVE);
    let x = |value: f64| size.x * (0.5 + REACH * ((value - limit) / range).clamp(-1.0, 1.0));
    let (top, high) = (size.y * 0.5, size.y * 0.36);
    let wrong = if more_is_wrong { (size.x / 2.0, size.x) } else { (0.0, size.x / 2.0) };
    let mut marks = hatched(wrong.0, wrong.1, top, high);
    marks.push(Mark::rectangle(dvec2(0.0, top), dvec2(size.x, high), Some(Pen::Narrow), None));
    let middle = size.x / 2.0;
    marks.push(Mark::Line { from: dvec2(middle, top - 0.6), to: dvec2(middle, top + high + 0.6), pen: Pen::Wide });
    if doubt > 0.0 {
        let level = top - size.y * 0.46;
        marks.push(Mark::Line {
            from: dvec2(x(figure - doubt), level),
            to: dvec2(x(figure + doubt), level),
            pen: Pen::Narrow,
        });
    }
    let (tip, half) = (dvec2(x(figure), top), size.y * 0.2);
    let points = vec![tip, tip + dvec2(-half, -2.0 * half), tip + dvec2(half, -2.0 * half)];
    marks.push(Mark::Path { points, closed: true, pen: None, fill: Some(Ink::Black) });
    Some(marks)
}

/// Slanting strokes between two places of the bar.
fn hatched(from: f64, to: f64, top: f64, high: f64) -> Vec<Mark> {
    let mut marks = Vec::new();
    let mut at = from;
    while at + high <= to {
        marks.push(Mark::Line { from: dvec2(at, top + high), to: dvec2(at + high, top), pen: Pen::Faint });
        at += HATCH;
    }
    marks
}
