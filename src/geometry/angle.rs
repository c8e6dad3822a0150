//! Angles between directions and between lines.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use glam::DVec3;

use crate::quantity::Angle;

/// Below this a corner counts as straight on, and two lines as parallel (own choice, 0.05 degrees).
pub const NO_BEND: Angle = Angle::from_degrees(0.05);

/// The angle between two directions, 0 to 180 degrees. Taken from sine and cosine together: the cosine alone loses
/// small angles. A direction without length gives 0.
pub fn between_directions(first: DVec3, second: DVec3) -> Angle {
    Angle::from_radians(first.cross(second).length().atan2(first.dot(second)))
}

/// The angle between two lines, whichever way they are travelled, 0 to 90 degrees.
pub fn between_lines(first: DVec3, second: DVec3) -> Angle {
    let angle = between_directions(first, second).radians();
    Angle::from_radians(if angle > FRAC_PI_2 { PI - angle } else { angle })
}

/// How far a line leans from upright, 0 to 90 degrees (z is up).
pub fn from_vertical(direction: DVec3) -> Angle {
    between_lines(direction, DVec3::Z)
}

/// The turn about `axis` that takes `from` to `to`, right-handed, over -180 up to and with +180 degrees. Both are
/// square to the axis.
pub fn turn_about(axis: DVec3, from: DVec3, to: DVec3) -> Angle {
    let turn = from.cross(to).dot(axis.normalize_or_zero()).atan2(from.dot(to));
    // Half a turn either way is the same turn: it is written +180.
    if Angle::from_radians(turn) <= Angle::from_radians(-PI) {
        return Angle::from_radians(turn + TAU);
    }
    Angle::from_radians(turn)
}

/// A vector turned about a unit axis, right-handed.
pub fn turned(vector: DVec3, axis: DVec3, angle: Angle) -> DVec3 {
    let (sine, cosine) = angle.radians().sin_cos();
    vector * cosine + axis.cross(vector) * sine + axis * (axis.dot(vector) * (1.0 - cosine))
}
