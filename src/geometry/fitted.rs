//! A branch's end cut to the tubes it meets as they truly run: their bends, their ends, their places beside each other.

use glam::DVec3;

use crate::geometry::angle::{self, NO_BEND};
use crate::geometry::centre_line::CentreLine;
use crate::geometry::cope::{Cope, CopeFault, Meeting, round, unit};
use crate::geometry::cut_line::CutLine;
use crate::geometry::distance::{Segment, segments};
use crate::geometry::piece::Piece;
use crate::geometry::seen::{Frame, Seen, TubeEnd};
use crate::geometry::true_line::{FILED, TrueLine};
use crate::quantity::Length;

/// Touches are looked for so far up the branch, in radii of both tubes together: at 15 degrees they reach to four (own
/// choice).
const UP: f64 = 10.0;
/// And so far down beyond the node.
const DOWN: f64 = 6.0;
/// Of a short branch, no further up than this share of its length: beyond, it is the other end's.
const SHARE: f64 = 0.7;
/// A carrier is looked at so far to both sides of the node, in radii of both tubes together.
const ASIDE: f64 = 8.0;
/// Axes that pass each other nearer than this meet: equal tubes lose no digits to rounding. A nanometre.
const MEET: f64 = 1e-6;
/// Bends are taken as chords no further than this from the arc where it is only asked whether they are near.
const NEAR: Length = Length::from_mm(1.0);

/// A branch's end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BranchEnd {
    /// Where its centre line ends, mm: distances of the cope count from here.
    pub node: DVec3,
    /// From there into the branch.
    pub into: DVec3,
    /// Its outside diameter.
    pub outside: Length,
    /// The branch's whole length.
    pub length: Length,
    /// By how much its wall may stand off the carriers where it misses them.
    pub may_miss: Length,
}

/// A tube that a branch's end is cut to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InTheWay<'a> {
    /// Its centre line.
    pub line: &'a CentreLine,
    /// Its outside diameter.
    pub outside: Length,
    /// How it ends at its first and its last point.
    pub ends: [TubeEnd; 2],
}

/// A branch's end as it is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The cut.
    pub cope: Cope,
    /// Which of the other tubes in the way have a part in it.
    pub round: Vec<usize>,
}

impl BranchEnd {
    /// Cuts it to a carrier, which it meets so far along, and to the other tubes in the way.
    pub fn fitted(&self, carrier: &InTheWay<'_>, along: Length, others: &[InTheWay<'_>]) -> Result<Fitted, CopeFault> {
        let frame = self.frame(carrier, along)?;
        let closed = self.closed(&frame, carrier, along);
        let least = closed.as_ref().and_then(|closed| closed.as_ref().ok()).map(|closed| closed.long_point().mm());
        // Most that end at the same place come from the carrier's other side.
        let in_the_way = |other: &InTheWay<'_>| {
            self.near(&frame, other) && least.is_none_or(|least| self.rises(&frame, other) > least + FILED)
        };
        let near: Vec<usize> = (0..).zip(others).filter(|(_, other)| in_the_way(other)).map(|(at, _)| at).collect();
        if near.is_empty()
            && let Some(closed) = &closed
        {
            return Ok(Fitted { cope: closed.clone()?, round: Vec::new() });
        }
        let reach = self.outside.mm() / 2.0;
        let mut tubes = vec![self.pieces(&frame, carrier, along)];
        for at in &near {
            let Some(other) = others.get(*at) else { continue };
            tubes.push(self.pieces(&frame, other, other.line.nearest(self.node).0));
        }
        let line = TrueLine::new(frame, tubes, reach, self.within(carrier));
        let by = Length::from_mm(line.overhang());
        if by > self.may_miss {
            return Err(CopeFault::Overhangs { by });
        }
        let leaders = line.leaders();
        if leaders == [0]
            && let Some(closed) = closed
        {
            return Ok(Fitted { cope: closed?, round: Vec::new() });
        }
        // Looked at without those that have no part in it: a line that only just misses the carrier may touch, far beyond it, the
        // bar that comes to it from its other side.
        let line = line.of(&leaders);
        // Where another tube keeps it off its carrier all round, it is within that other.
        if !leaders.contains(&0) || line.runs_along(self.both(carrier)) {
            return Err(CopeFault::RunsAlong);
        }
        let round = near.into_iter().enumerate().filter(|(at, _)| leaders.contains(&(at + 1))).map(|(_, other)| other);
        let angle = angle::between_lines(carrier.line.point_at(along).1, frame.branch);
        Ok(Fitted { round: round.collect(), cope: Cope::true_to(line, angle) })
    }

    fn frame(&self, carrier: &InTheWay<'_>, along: Length) -> Result<Frame, CopeFault> {
        let (direction, branch) = (unit(carrier.line.point_at(along).1)?, unit(self.into)?);
        let sizes = [carrier.outside, self.outside];
        if !sizes.iter().all(|size| size.is_finite() && *size > Length::default()) || !self.node.is_finite() {
            return Err(CopeFault::NoTube);
        }
        if angle::between_lines(direction, branch) < NO_BEND {
            return Err(CopeFault::Parallel);
        }
        let aside = direction.cross(branch).normalize_or_zero();
        Ok(Frame { node: self.node, branch, toward: branch.cross(aside), aside })
    }

    /// The radii of both tubes together, mm.
    fn both(&self, other: &InTheWay<'_>) -> f64 {
        (self.outside + other.outside).mm() / 2.0
    }

    /// From where to where along the branch touches are looked for, mm.
    fn within(&self, carrier: &InTheWay<'_>) -> (f64, f64) {
        let both = self.both(carrier);
        (-DOWN * both, (UP * both).min(SHARE * self.length.mm()))
    }

    /// The stretch of the branch's axis in which it is cut.
    fn axis(&self, frame: &Frame, carrier: &InTheWay<'_>) -> Segment {
        let (_, up) = self.within(carrier);
        Segment { from: self.node, to: self.node + frame.branch * up }
    }

    fn near(&self, frame: &Frame, other: &InTheWay<'_>) -> bool {
        let axis = self.axis(frame, other);
        let chords = other.line.chords(NEAR);
        segments(&chords).any(|chord| axis.nearest_of(&chord).distance < (self.outside + other.outside) / 2.0 + NEAR)
    }

    /// How far up the branch a tube that is straight rises at most, its flat ends' rims counted, mm; a bent one without
    /// bound.
    fn rises(&self, frame: &Frame, other: &InTheWay<'_>) -> f64 {
        let (Some(first), Some(last)) = (other.line.points().first(), other.line.points().last()) else { return 0.0 };
        if !other.line.straight() || other.ends.contains(&TubeEnd::RunsOn) {
            return f64::INFINITY;
        }
        let up = |point: &DVec3| (*point - self.node).dot(frame.branch);
        let rim = other.line.direction_at_start().cross(frame.branch).length() * other.outside.mm() / 2.0;
        up(first).max(up(last)) + rim
    }

    /// The pieces of a tube that may be met, near a place on it.
    fn pieces(&self, frame: &Frame, other: &InTheWay<'_>, along: Length) -> Vec<Seen> {
        let aside = ASIDE * self.both(other);
        let [begins, ends] = other.ends;
        let mut before = 0.0;
        let starts = other.line.pieces.iter().map(|piece| {
            before += piece.length();
            before - piece.length()
        });
        let looked_at =
            |start: f64, piece: &Piece| start <= along.mm() + aside && start + piece.length() >= along.mm() - aside;
        let all: Vec<(bool, &Piece)> =
            starts.zip(&other.line.pieces).map(|(start, piece)| (looked_at(start, piece), piece)).collect();
        // A piece is joined to its neighbours where they are looked at as well.
        let joint = |neighbour: Option<&(bool, &Piece)>, end: TubeEnd| match neighbour {
            None => end,
            Some((true, _)) => TubeEnd::Joined,
            Some((false, _)) => TubeEnd::Unseen,
        };
        let seen = |(at, (_, piece)): (usize, &(bool, &Piece))| {
            let before = at.checked_sub(1).and_then(|before| all.get(before));
            let ends = [joint(before, begins), joint(all.get(at + 1), ends)];
            Seen::new(frame, **piece, other.outside.mm() / 2.0, ends)
        };
        all.iter().enumerate().filter(|(_, (looked_at, _))| *looked_at).map(seen).collect()
    }

    /// The cut in closed form; none where the carrier is not straight as far as the branch's wall reaches along it, or
    /// where another of its pieces comes near the branch.
    fn closed(&self, frame: &Frame, carrier: &InTheWay<'_>, along: Length) -> Option<Result<Cope, CopeFault>> {
        let direction = carrier.line.point_at(along).1;
        let (sine, cosine) = (direction.cross(frame.branch).length(), direction.dot(frame.branch));
        let reach = f64::midpoint(carrier.outside.mm() * cosine.abs(), self.outside.mm()) / sine;
        let (axis, clear) = (self.axis(frame, carrier), Length::from_mm(self.both(carrier)) + NEAR);
        let ends = carrier.line.pieces.len().saturating_sub(1);
        let (mut before, mut straight) = (0.0, false);
        for (at, piece) in carrier.line.pieces.iter().enumerate() {
            let after = before + piece.length();
            let [runs_on, runs_over] = carrier.ends.map(|end| end == TubeEnd::RunsOn);
            let starts = before + reach <= along.mm() || (runs_on && at == 0);
            let ends = after - reach >= along.mm() || (runs_over && at == ends);
            if matches!(piece, Piece::Straight { .. }) && starts && ends && (before..=after).contains(&along.mm()) {
                straight = true;
            } else {
                let (start, _) = piece.at(0.0);
                let chords: Vec<DVec3> = std::iter::once(start).chain(piece.chords(NEAR)).collect();
                if segments(&chords).any(|chord| axis.nearest_of(&chord).distance < clear) {
                    return None;
                }
            }
            before = after;
        }
        straight.then(|| self.on_straight(frame, carrier, along))
    }

    fn on_straight(&self, frame: &Frame, carrier: &InTheWay<'_>, along: Length) -> Result<Cope, CopeFault> {
        let (at, direction) = carrier.line.point_at(along);
        let from = self.node - at;
        let cosine = direction.dot(frame.branch);
        // The point of the branch's axis nearest to the carrier's.
        let ahead = (from.dot(direction) * cosine - from.dot(frame.branch)) / ((1.0 - cosine) * (1.0 + cosine));
        let offset = from.dot(frame.aside);
        let exact = |length: f64| if length.abs() < MEET { 0.0 } else { length };
        let first = round(&Meeting {
            carrier_direction: direction,
            branch_direction: frame.branch,
            offset: Length::from_mm(exact(offset)),
            carrier_outside: carrier.outside,
            branch_outside: self.outside,
        })?;
        let line = CutLine::new(first, Vec::new(), self.outside.mm() / 2.0);
        let by = Length::from_mm(line.overhang());
        if by > self.may_miss { Err(CopeFault::Overhangs { by }) } else { Ok(Cope::closed(line, exact(ahead))) }
    }
}
