//! A drawing at full size that is larger than a page: cut into tiles that overlap, with marks to join them by.

use glam::{DVec2, dvec2};

use crate::drawing::{Anchor, Ink, Mark, Pen, Weight};
use crate::quantity::Length;

/// Neighbouring tiles share a strip this wide, mm.
pub const OVERLAP: f64 = 12.0;
/// Half of a join cross, mm.
const CROSS: f64 = 4.0;
/// Chords of a circle that is cut.
const CHORDS: u32 = 96;
/// Size of the words at a join, 7.5 pt.
const TYPE: Length = Length::from_mm(2.65);
/// A drawing larger than this many tiles each way is nothing a shop prints.
const MOST: u32 = 12;

/// One page's piece of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Tile {
    /// Its row from above and its column from the left, from 1.
    pub place: (u32, u32),
    /// Rows and columns of the whole.
    pub of: (u32, u32),
    /// The drawing's point that lies at the tile's top left corner, mm.
    pub corner: DVec2,
    /// Its marks, from its own top left corner.
    pub marks: Vec<Mark>,
}

impl Tile {
    /// Its number in the order of printing: row by row.
    pub const fn number(&self) -> u32 {
        (self.place.0 - 1) * self.of.1 + self.place.1
    }

    /// How many tiles there are.
    pub const fn all(&self) -> u32 {
        self.of.0 * self.of.1
    }

    /// The whole in small, this tile filled: marks within this width and height.
    pub fn key(&self, room: DVec2) -> Vec<Mark> {
        let cell = room / dvec2(f64::from(self.of.1), f64::from(self.of.0));
        let cells = (1..=self.of.0).flat_map(|row| (1..=self.of.1).map(move |column| (row, column)));
        cells
            .flat_map(|(row, column)| {
                let own = (row, column) == self.place;
                let at = dvec2(f64::from(column - 1), f64::from(row - 1)) * cell;
                let fill = own.then_some(Ink::Black);
                let words = ((row - 1) * self.of.1 + column).to_string();
                let ink = if own { Ink::White } else { Ink::Black };
                let middle = at + cell / 2.0 + dvec2(0.0, TYPE.mm() * 0.36);
                let text =
                    Mark::Text { at: middle, size: TYPE, words, weight: Weight::Regular, anchor: Anchor::Middle, ink };
                [Mark::rectangle(at, cell, Some(Pen::Narrow), fill), text]
            })
            .collect()
    }
}

/// Cuts a drawing of this size into tiles no larger than the window, both mm: one where it fits.
pub fn tiles(marks: &[Mark], size: DVec2, window: DVec2) -> Vec<Tile> {
    let (columns, rows) = (count(size.x, window.x), count(size.y, window.y));
    let step = window - OVERLAP;
    let place = |row: u32, column: u32| {
        let corner = dvec2(f64::from(column - 1), f64::from(row - 1)) * step;
        let mut tile = Tile { place: (row, column), of: (rows, columns), corner, marks: Vec::new() };
        let last = dvec2(
            if column == columns { size.x } else { corner.x + window.x },
            if row == rows { size.y } else { corner.y + window.y },
        );
        let area = Area { low: corner, high: last.min(corner + window) };
        let mut kept = Vec::new();
        for mark in marks {
            area.keep(mark, &mut kept);
        }
        tile.marks = super::sheet::moved(kept, -corner);
        tile.marks.extend(joins(&tile, area.high - area.low, step));
        tile
    };
    (1..=rows)
        .flat_map(|row| (1..=columns).map(move |column| (row, column)))
        .map(|(row, column)| place(row, column))
        .collect()
}

/// How many windows it takes to cover a length.
fn count(length: f64, window: f64) -> u32 {
    let fits = |many: &u32| f64::from(*many) * (window - OVERLAP) + OVERLAP >= length - 1e-6;
    (1..MOST).find(fits).unwrap_or(MOST)
}

/// The joins of a tile, on its own axes: at each inner edge a line with two crosses, the same place of the drawing on both
/// tiles, and the numbers of the two.
fn joins(tile: &Tile, size: DVec2, step: DVec2) -> Vec<Mark> {
    let (row, column) = tile.place;
    let number = tile.number();
    let mut marks = Vec::new();
    let middle = OVERLAP / 2.0;
    let mut join = |along_x: bool, at: f64, other: u32| {
        let length = if along_x { size.x } else { size.y };
        let on = |share: f64| if along_x { dvec2(length * share, at) } else { dvec2(at, length * share) };
        marks.push(Mark::Line { from: on(0.0), to: on(1.0), pen: Pen::Faint });
        for share in [0.25, 0.75] {
            for way in [DVec2::X, DVec2::Y].map(|way| way * CROSS) {
                marks.push(Mark::Line { from: on(share) - way, to: on(share) + way, pen: Pen::Narrow });
            }
        }
        let words = format!("{}|{}", number.min(other), number.max(other));
        // Beside the middle, where a drawing's own words often stand.
        let at = on(0.62) + dvec2(1.0, -1.0);
        marks.push(Mark::words(at, TYPE, Weight::Bold, words));
    };
    if column > 1 {
        join(false, middle, number - 1);
    }
    if column < tile.of.1 {
        join(false, step.x + middle, number + 1);
    }
    if row > 1 {
        join(true, middle, number - tile.of.1);
    }
    if row < tile.of.0 {
        join(true, step.y + middle, number + tile.of.1);
    }
    marks
}

/// What of the drawing stands on a tile.
#[derive(Debug, Clone, Copy)]
struct Area {
    low: DVec2,
    high: DVec2,
}

impl Area {
    fn holds(&self, at: DVec2) -> bool {
        at.cmpge(self.low).all() && at.cmple(self.high).all()
    }

    /// The part of a segment that lies inside.
    fn part(&self, from: DVec2, to: DVec2) -> Option<(DVec2, DVec2)> {
        let way = to - from;
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        for (start, by, low, high) in
            [(from.x, way.x, self.low.x, self.high.x), (from.y, way.y, self.low.y, self.high.y)]
        {
            if by == 0.0 {
                if start < low || start > high {
                    return None;
                }
                continue;
            }
            let (one, other) = ((low - start) / by, (high - start) / by);
            enter = enter.max(one.min(other));
            leave = leave.min(one.max(other));
        }
        (enter <= leave).then(|| (from + way * enter, from + way * leave))
    }

    /// A run of lines, cut into the runs that lie inside.
    fn runs(&self, points: &[DVec2], closed: bool, pen: Pen, kept: &mut Vec<Mark>) {
        let first = closed.then(|| points.first().copied()).flatten();
        let nexts = points.iter().copied().skip(1).chain(first);
        let mut run: Vec<DVec2> = Vec::new();
        let mut finish = |run: &mut Vec<DVec2>| {
            if run.len() > 1 {
                kept.push(Mark::Path { points: std::mem::take(run), closed: false, pen: Some(pen), fill: None });
            }
            run.clear();
        };
        for (from, to) in points.iter().copied().zip(nexts) {
            let Some((enter, leave)) = self.part(from, to) else {
                finish(&mut run);
                continue;
            };
            if run.last().is_none_or(|last| last.distance_squared(enter) > 1e-18) {
                finish(&mut run);
                run.push(enter);
            }
            run.push(leave);
        }
        finish(&mut run);
    }

    /// Keeps what of a mark stands here: lines are cut; words and all else stand where they begin; fillings only where
    /// they lie wholly inside.
    fn keep(&self, mark: &Mark, kept: &mut Vec<Mark>) {
        match mark {
            Mark::Line { from, to, pen } => {
                let part = self.part(*from, *to);
                kept.extend(part.map(|(from, to)| Mark::Line { from, to, pen: *pen }));
            }
            Mark::Path { points, .. } if points.iter().all(|point| self.holds(*point)) => kept.push(mark.clone()),
            Mark::Path { points, closed, pen: Some(pen), .. } => self.runs(points, *closed, *pen, kept),
            Mark::Circle { centre, radius, pen: Some(pen), .. } => {
                let reach = DVec2::splat(radius.mm());
                if self.holds(*centre - reach) && self.holds(*centre + reach) {
                    kept.push(mark.clone());
                    return;
                }
                let chord = |step: u32| {
                    *centre + DVec2::from_angle(f64::from(step) / f64::from(CHORDS) * std::f64::consts::TAU) * reach
                };
                let points: Vec<DVec2> = (0..CHORDS).map(chord).collect();
                self.runs(&points, true, *pen, kept);
            }
            Mark::Group { marks, .. } | Mark::Tagged { marks, .. } => {
                for mark in marks {
                    self.keep(mark, kept);
                }
            }
            Mark::Text { at, .. } | Mark::Picture { at, .. } | Mark::Link { at, .. } if self.holds(*at) => {
                kept.push(mark.clone());
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn length(marks: &[Mark]) -> f64 {
        let of = |mark: &Mark| match mark {
            Mark::Line { from, to, .. } => from.distance(*to),
            Mark::Path { points, closed, .. } => {
                let ring = if *closed { points.first().copied() } else { None };
                points.iter().zip(points.iter().skip(1).copied().chain(ring)).map(|(from, to)| from.distance(to)).sum()
            }
            _ => 0.0,
        };
        marks.iter().map(of).sum()
    }

    /// What of a tile is its own: up to the middle of the strip it shares.
    fn own(tile: &Tile, marks: &[Mark], window: DVec2) -> Vec<Mark> {
        let mut kept = Vec::new();
        let edge = |first: bool, at: f64| if first { at - 1.0 } else { at + OVERLAP / 2.0 };
        let low = dvec2(edge(tile.place.1 == 1, tile.corner.x), edge(tile.place.0 == 1, tile.corner.y));
        let end = |last: bool, at: f64| if last { at + 1.0 } else { at - OVERLAP / 2.0 };
        let far = tile.corner + window;
        let high = dvec2(end(tile.place.1 == tile.of.1, far.x), end(tile.place.0 == tile.of.0, far.y));
        for mark in marks {
            Area { low, high }.keep(mark, &mut kept);
        }
        kept
    }

    fn crosses(tile: &Tile) -> Vec<DVec2> {
        // Level strokes of the crosses.
        let stroke = |mark: &Mark| match mark {
            Mark::Line { from, to, pen: Pen::Narrow } if (from.y - to.y).abs() < 1e-12 => {
                Some((*from + *to) / 2.0 + tile.corner)
            }
            _ => None,
        };
        tile.marks.iter().filter_map(stroke).collect()
    }

    proptest! {
        /// Joined at the middle of the strips they share, the tiles are the whole again: not a millimetre of its lines is
        /// missing, none is there twice, and each join's crosses lie at one place of the drawing on both tiles.
        #[test]
        fn tiles_cover_the_whole_and_meet_at_their_marks(
            size in (40.0..700.0_f64, 40.0..700.0_f64),
            window in (90.0..200.0_f64, 90.0..200.0_f64),
            shape in prop::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 3..8),
        ) {
            let (size, window) = (dvec2(size.0, size.1), dvec2(window.0, window.1));
            let points: Vec<DVec2> = shape.iter().map(|(x, y)| dvec2(*x, *y) * size).collect();
            let drawing = [Mark::Path { points, closed: true, pen: Some(Pen::Wide), fill: None }];
            let found = tiles(&drawing, size, window);
            let mut joined = 0.0;
            for tile in &found {
                let lines: Vec<Mark> = tile
                    .marks
                    .iter()
                    .filter(|mark| matches!(mark, Mark::Path { pen: Some(Pen::Wide), .. }))
                    .cloned()
                    .collect();
                joined += length(&own(tile, &crate::drawing::paper::sheet::moved(lines, tile.corner), window));
            }
            prop_assert!((joined - length(&drawing)).abs() < 1e-6, "{joined}");
            for tile in &found {
                for beside in &found {
                    let apart = (beside.place.0 - tile.place.0.min(beside.place.0), beside.place.1.abs_diff(tile.place.1));
                    if beside.number() > tile.number() && (apart == (0, 1) || apart == (1, 0)) {
                        let here = crosses(tile);
                        let met = crosses(beside).into_iter().filter(|at| here.iter().any(|own| own.distance(*at) < 1e-9));
                        prop_assert!(met.count() >= 2, "{:?} {:?}", tile.place, beside.place);
                    }
                }
            }
        }
    }

    #[test]
    fn what_fits_is_one_tile_without_joins() {
        let drawing = [Mark::Circle {
            centre: DVec2::splat(50.0),
            radius: Length::from_mm(40.0),
            pen: Some(Pen::Wide),
            fill: None,
        }];
        let found = tiles(&drawing, DVec2::splat(100.0), DVec2::splat(100.0));
        assert_eq!((found.len(), found[0].marks.as_slice()), (1, drawing.as_slice()));
    }
}
