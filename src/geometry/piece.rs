//! One piece of a centre line: a straight or the arc of one bend.

use glam::DVec3;

use crate::quantity::Length;

/// Arcs are never cut into more chords than this, however small the sagitta asked for.
const MOST_CHORDS: u32 = 1024;

/// A straight or an arc, travelled from its start.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Piece {
    Straight {
        from: DVec3,
        direction: DVec3,
        length: f64,
    },
    /// `outward` points from the centre to the arc's start, `forward` is the direction of travel there.
    Arc {
        centre: DVec3,
        outward: DVec3,
        forward: DVec3,
        radius: f64,
        angle: f64,
    },
}

impl Piece {
    pub(crate) fn length(&self) -> f64 {
        match *self {
            Self::Straight { length, .. } => length,
            Self::Arc { radius, angle, .. } => radius * angle,
        }
    }

    /// The point and the direction of travel at a distance from the piece's start.
    pub(crate) fn at(&self, along: f64) -> (DVec3, DVec3) {
        match *self {
            Self::Straight { from, direction, .. } => (from + direction * along, direction),
            Self::Arc { centre, outward, forward, radius, .. } => {
                let (sine, cosine) = (along / radius).sin_cos();
                (centre + (outward * cosine + forward * sine) * radius, forward * cosine - outward * sine)
            }
        }
    }

    /// The distance from the piece's start to its point nearest to `point`.
    pub(crate) fn nearest(&self, point: DVec3) -> f64 {
        match *self {
            Self::Straight { from, direction, length } => (point - from).dot(direction).clamp(0.0, length),
            Self::Arc { centre, outward, forward, radius, angle } => {
                let across = point - centre;
                let turn = across.dot(forward).atan2(across.dot(outward));
                if (0.0..=angle).contains(&turn) {
                    return turn * radius;
                }
                let ends = [0.0, angle * radius];
                let [first, last] = ends.map(|along| self.at(along).0.distance_squared(point));
                if first <= last { 0.0 } else { angle * radius }
            }
        }
    }

    /// The points after the start that stand for the piece, no chord further from the arc than `sagitta`.
    pub(crate) fn chords(&self, sagitta: Length) -> Vec<DVec3> {
        let mut parts = 1_u32;
        if let Self::Arc { radius, angle, .. } = *self {
            let bulge = |parts: u32| radius * (1.0 - (angle / (2.0 * f64::from(parts))).cos());
            while parts < MOST_CHORDS && bulge(parts) > sagitta.mm().max(0.0) {
                parts += 1;
            }
        }
        let step = self.length() / f64::from(parts);
        (1..=parts).map(|part| self.at(step * f64::from(part)).0).collect()
    }
}
