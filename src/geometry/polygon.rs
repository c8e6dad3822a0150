//! Flat outlines of plates: area and the length around.

use glam::DVec2;

use crate::quantity::{Area, Length};

/// A corner that turns less than this, as a sine, is straight on.
const STRAIGHT_ON: f64 = 1e-12;

/// A closed outline without crossings; corners in millimetres, the last joins the first.
#[derive(Debug, Clone, PartialEq)]
pub struct Polygon {
    corners: Vec<DVec2>,
}

/// Why corners make no outline. Corners are counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum PolygonFault {
    /// Fewer than three corners, or no area between them.
    #[error("The outline encloses nothing. Give three corners or more that do not stand in one line.")]
    Nothing,
    /// A corner is no number.
    #[error("Corner {corner} of the outline is not a number. Type it again.")]
    NotANumber {
        /// Which corner.
        corner: usize,
    },
    /// Two sides cross or touch.
    #[error("The sides after corners {first} and {second} cross or touch. Give the corners in order around the plate.")]
    Crosses {
        /// The corner at which the earlier side begins.
        first: usize,
        /// The corner at which the later side begins.
        second: usize,
    },
}

impl Polygon {
    /// Through corners in order around the outline, either way round.
    pub fn new(corners: Vec<DVec2>) -> Result<Self, PolygonFault> {
        if let Some(at) = corners.iter().position(|corner| !corner.is_finite()) {
            return Err(PolygonFault::NotANumber { corner: at + 1 });
        }
        if corners.len() < 3 {
            return Err(PolygonFault::Nothing);
        }
        let polygon = Self { corners };
        polygon.check_crossings()?;
        let perimeter = polygon.perimeter().mm();
        if polygon.doubled().abs() <= 1e-12 * perimeter * perimeter {
            return Err(PolygonFault::Nothing);
        }
        Ok(polygon)
    }

    /// The corners as given, in millimetres.
    pub fn corners(&self) -> &[DVec2] {
        &self.corners
    }

    fn sides(&self) -> impl Iterator<Item = (DVec2, DVec2)> + Clone {
        self.corners.iter().copied().zip(self.corners.iter().copied().cycle().skip(1))
    }

    fn check_crossings(&self) -> Result<(), PolygonFault> {
        let sides: Vec<Side> = self.sides().map(|(from, to)| Side::new(from, to)).collect();
        let last = sides.len().saturating_sub(1);
        for (first, one) in sides.iter().enumerate() {
            for (second, other) in sides.iter().enumerate().skip(first + 1) {
                let faulty = if second == first + 1 {
                    folds(one.to, one.from, other.to)
                } else if first == 0 && second == last {
                    folds(one.from, one.to, other.from)
                } else {
                    !one.clear_of(other) && touch(one.from, one.to, other.from, other.to)
                };
                if faulty {
                    return Err(PolygonFault::Crosses { first: first + 1, second: second + 1 });
                }
            }
        }
        Ok(())
    }

    /// Twice the area, positive anticlockwise.
    fn doubled(&self) -> f64 {
        self.sides().map(|(from, to)| from.perp_dot(to)).sum()
    }

    /// The area inside.
    pub fn area(&self) -> Area {
        Area::from_mm2(self.doubled().abs() / 2.0)
    }

    /// The length around: the weld when the plate is welded all round.
    pub fn perimeter(&self) -> Length {
        Length::from_mm(self.sides().map(|(from, to)| from.distance(to)).sum())
    }
}

/// A side, and the box round it, wider by what still counts as touching.
struct Side {
    from: DVec2,
    to: DVec2,
    least: DVec2,
    most: DVec2,
}

impl Side {
    fn new(from: DVec2, to: DVec2) -> Self {
        let room = DVec2::splat(2.0 * STRAIGHT_ON * from.distance(to));
        Self { from, to, least: from.min(to) - room, most: from.max(to) + room }
    }

    /// True when the boxes alone show that the sides have no point in common.
    fn clear_of(&self, other: &Self) -> bool {
        self.least.cmpgt(other.most).any() || other.least.cmpgt(self.most).any()
    }
}

/// True when two sides that share a corner run back over each other, or one has no length.
fn folds(shared: DVec2, one: DVec2, other: DVec2) -> bool {
    let (first, second) = (one - shared, other - shared);
    let size = first.length() * second.length();
    size <= 0.0 || (first.perp_dot(second).abs() <= STRAIGHT_ON * size && first.dot(second) > 0.0)
}

/// True when two segments have a point in common.
fn touch(a: DVec2, b: DVec2, c: DVec2, d: DVec2) -> bool {
    let side = |from: DVec2, to: DVec2, point: DVec2| {
        let turn = (to - from).perp_dot(point - from);
        let room = STRAIGHT_ON * (to - from).length() * (point - from).length();
        if turn.abs() <= room { 0.0 } else { turn.signum() }
    };
    let within =
        |from: DVec2, to: DVec2, point: DVec2| side(from, to, point) == 0.0 && (point - from).dot(point - to) <= 0.0;
    if within(a, b, c) || within(a, b, d) || within(c, d, a) || within(c, d, b) {
        return true;
    }
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}
