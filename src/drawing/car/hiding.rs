//! Which parts of a bar's edges are seen and which a nearer bar covers.

use glam::{DVec2, DVec3, dvec2};

/// A straight piece of a bar as it lies on paper: its axis, its half width, and how near its ends are.
pub(in crate::drawing) struct Strip {
    /// Which bar it belongs to.
    pub(in crate::drawing) bar: usize,
    /// The corners: left and right of the start, left and right of the end.
    pub(in crate::drawing) corners: [DVec2; 4],
    /// The axis: page x, page y and nearness (larger is nearer), all on one scale.
    pub(in crate::drawing) axis: (DVec3, DVec3),
    /// Half the bar's width.
    pub(in crate::drawing) half: f64,
}

/// A stretch of an edge and whether it is covered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::drawing) struct Stretch {
    /// Where it begins.
    pub(in crate::drawing) from: DVec2,
    /// Where it ends.
    pub(in crate::drawing) to: DVec2,
    /// Whether a nearer bar covers it.
    pub(in crate::drawing) hidden: bool,
}

impl Strip {
    /// How near its axis is beside a point of the page.
    fn nearness(&self, at: DVec2) -> f64 {
        let (from, to) = (self.axis.0.truncate(), self.axis.1.truncate());
        let run = to - from;
        let share = if run.length_squared() < 1e-9 { 0.5 } else { (at - from).dot(run) / run.length_squared() };
        self.axis.0.z + (self.axis.1.z - self.axis.0.z) * share.clamp(0.0, 1.0)
    }

    /// Nearness of its middle.
    pub(in crate::drawing) fn middle(&self) -> f64 {
        f64::midpoint(self.axis.0.z, self.axis.1.z)
    }

    /// Its outline in turn.
    pub(in crate::drawing) fn outline(&self) -> [DVec2; 4] {
        let [left, right, far_left, far_right] = self.corners;
        [left, far_left, far_right, right]
    }

    /// The part of the line between two points that lies inside the outline, as shares of its length.
    fn inside(&self, from: DVec2, to: DVec2) -> Option<(f64, f64)> {
        let outline = self.outline();
        let (low, high) = bounds(&outline);
        if from.max(to).cmplt(low).any() || from.min(to).cmpgt(high).any() {
            return None;
        }
        let winding: f64 = ring(&outline).map(|(a, b)| a.perp_dot(b)).sum();
        if winding.abs() < 1e-12 {
            return None;
        }
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        for (a, b) in ring(&outline) {
            let inward = (b - a).perp() * winding.signum();
            let (start, change) = (inward.dot(from - a), inward.dot(to - from));
            if change.abs() < 1e-12 {
                if start < 0.0 {
                    return None;
                }
            } else if change > 0.0 {
                enter = enter.max(-start / change);
            } else {
                leave = leave.min(-start / change);
            }
        }
        (leave - enter > 1e-6).then_some((enter, leave))
    }
}

fn ring(outline: &[DVec2; 4]) -> impl Iterator<Item = (DVec2, DVec2)> + '_ {
    outline.iter().copied().zip(outline.iter().copied().cycle().skip(1))
}

/// The upright box round some points: its least and its greatest corner.
pub(in crate::drawing) fn bounds(points: &[DVec2]) -> (DVec2, DVec2) {
    let low = points.iter().copied().reduce(DVec2::min).unwrap_or_default();
    let high = points.iter().copied().reduce(DVec2::max).unwrap_or_default();
    (low, high)
}

/// Cuts the edge of `own` between two points into stretches seen and stretches covered. Where two bars meet at the same
/// depth, one of them is coped onto the other and its lines inside the other do not exist: they are left out.
pub(in crate::drawing) fn stretches(from: DVec2, to: DVec2, own: &Strip, strips: &[Strip]) -> Vec<Stretch> {
    let mut covers: Vec<(f64, f64, bool)> = Vec::new();
    for other in strips.iter().filter(|other| other.bar != own.bar) {
        let Some((enter, leave)) = other.inside(from, to) else { continue };
        let at = from.lerp(to, f64::midpoint(enter, leave));
        let nearer = other.nearness(at) - own.nearness(at);
        if nearer.abs() < f64::midpoint(own.half, other.half) * 1.2 {
            let ends = [own.axis.0, own.axis.1];
            if ends.iter().any(|end| end.truncate().distance(at) < (own.half + other.half) * 1.6) {
                covers.push((enter, leave, false));
            }
        } else if nearer > 0.0 {
            covers.push((enter, leave, true));
        }
    }
    cut(from, to, &covers)
}

fn cut(from: DVec2, to: DVec2, covers: &[(f64, f64, bool)]) -> Vec<Stretch> {
    let mut cuts: Vec<f64> = covers.iter().flat_map(|cover| [cover.0, cover.1]).chain([0.0, 1.0]).collect();
    cuts.retain(|share| (0.0..=1.0).contains(share));
    cuts.sort_by(f64::total_cmp);
    let mut found: Vec<Stretch> = Vec::new();
    for (start, end) in cuts.iter().zip(cuts.iter().skip(1)) {
        if end - start < 1e-9 {
            continue;
        }
        let middle = f64::midpoint(*start, *end);
        let over: Vec<bool> =
            covers.iter().filter(|cover| cover.0 < middle && middle < cover.1).map(|cover| cover.2).collect();
        if over.contains(&false) {
            continue;
        }
        let piece = Stretch { from: from.lerp(to, *start), to: from.lerp(to, *end), hidden: !over.is_empty() };
        match found.last_mut() {
            Some(last) if last.hidden == piece.hidden && last.to.distance(piece.from) < 1e-6 => last.to = piece.to,
            _ => found.push(piece),
        }
    }
    found
}

/// The two edges of a run of axis points: the points left and right of each, mitred where the run turns.
pub(in crate::drawing) fn edges(axis: &[DVec2], half: f64) -> Vec<(DVec2, DVec2)> {
    let directions: Vec<DVec2> =
        axis.iter().zip(axis.iter().skip(1)).map(|(from, to)| (*to - *from).normalize_or_zero()).collect();
    let mut sides = Vec::new();
    for (index, point) in axis.iter().enumerate() {
        let before = index.checked_sub(1).and_then(|before| directions.get(before)).copied();
        let after = directions.get(index).copied();
        let (before, after) = (before.or(after).unwrap_or_default(), after.or(before).unwrap_or_default());
        let turn = (before + after).normalize_or_zero();
        let turn = if turn == DVec2::ZERO { after } else { turn };
        // A sharp turn would throw the mitre far out: no longer than twice the half width.
        let reach = half / turn.dot(after).clamp(0.5, 1.0);
        let across = dvec2(-turn.y, turn.x) * reach;
        sides.push((*point + across, *point - across));
    }
    sides
}

#[cfg(test)]
mod tests {
    use super::*;

    fn strip(bar: usize, from: DVec3, to: DVec3) -> Strip {
        let sides = edges(&[from.truncate(), to.truncate()], 1.0);
        Strip { bar, corners: [sides[0].0, sides[0].1, sides[1].0, sides[1].1], axis: (from, to), half: 1.0 }
    }

    #[test]
    fn the_nearer_of_two_crossing_bars_covers_the_farther() {
        let far = strip(0, DVec3::new(-10.0, 0.0, 0.0), DVec3::new(10.0, 0.0, 0.0));
        let near = strip(1, DVec3::new(0.0, -10.0, 5.0), DVec3::new(0.0, 10.0, 5.0));
        let strips = [far, near];
        let across = stretches(dvec2(-10.0, 1.0), dvec2(10.0, 1.0), &strips[0], &strips);
        let shape: Vec<(f64, f64, bool)> = across.iter().map(|part| (part.from.x, part.to.x, part.hidden)).collect();
        assert_eq!(shape, [(-10.0, -1.0, false), (-1.0, 1.0, true), (1.0, 10.0, false)]);
        let along = stretches(dvec2(1.0, -10.0), dvec2(1.0, 10.0), &strips[1], &strips);
        assert_eq!(along.len(), 1);
        assert!(!along[0].hidden);
    }

    #[test]
    fn a_coped_end_has_no_lines_inside_the_bar_it_stands_on() {
        let through = strip(0, DVec3::new(-10.0, 0.0, 0.0), DVec3::new(10.0, 0.0, 0.0));
        let coped = strip(1, DVec3::new(0.0, 0.0, 0.0), DVec3::new(0.0, 10.0, 0.0));
        let strips = [through, coped];
        let edge = stretches(dvec2(1.0, 0.0), dvec2(1.0, 10.0), &strips[1], &strips);
        assert_eq!(edge, [Stretch { from: dvec2(1.0, 1.0), to: dvec2(1.0, 10.0), hidden: false }]);
        let kept = stretches(dvec2(-10.0, 1.0), dvec2(10.0, 1.0), &strips[0], &strips);
        assert_eq!(kept.len(), 1, "the bar that runs through keeps its edge: {kept:?}");
    }
}
