//! What is drawn of a car, and from where it is looked at.

use glam::{DQuat, DVec2, DVec3, dvec2};

use crate::domain::words::ids::Balloon;
use crate::quantity::Length;

/// Where the cage is looked at from. Points are x forward, y left, z up (ISO 8855).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum View {
    /// At the nose: the car's left is at the right of the page.
    Front,
    /// From the car's left, nose to the left of the page.
    Side,
    /// From above, nose to the left of the page.
    Plan,
    /// From the front left above (ISO 5456-3), nose to the lower right. No scale may be taken from it.
    Isometric,
    /// The same with the car turned by so many degrees, its nose toward its left.
    Turned(i16),
}

impl View {
    /// A point on the page, x to the right and **y up**, in the point's own units.
    pub fn project(self, at: DVec3) -> DVec2 {
        match self {
            Self::Front => dvec2(at.y, at.z),
            Self::Side => dvec2(-at.x, at.z),
            Self::Plan => dvec2(-at.x, -at.y),
            Self::Isometric => dvec2((at.x - at.y) / 2.0_f64.sqrt(), (at.z * 2.0 - at.x - at.y) / 6.0_f64.sqrt()),
            Self::Turned(by) => Self::Isometric.project(turned(at, by)),
        }
    }

    /// How near a point is to who looks: larger is nearer, in the point's own units.
    pub fn nearness(self, at: DVec3) -> f64 {
        match self {
            Self::Front => at.x,
            Self::Side => at.y,
            Self::Plan => at.z,
            Self::Isometric => (at.x + at.y + at.z) / 3.0_f64.sqrt(),
            Self::Turned(by) => Self::Isometric.nearness(turned(at, by)),
        }
    }

    /// Its name under the drawing.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Front => "Front",
            Self::Side => "Left side",
            Self::Plan => "From above",
            Self::Isometric => "From front left, above",
            Self::Turned(_) => "Turned",
        }
    }
}

/// A point of a car that is turned about the upright.
fn turned(at: DVec3, by: i16) -> DVec3 {
    DQuat::from_rotation_z(f64::from(by).to_radians()) * at
}

/// A bar of the cage.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Its number.
    pub balloon: Balloon,
    /// Its axis, in millimetres on the car's axes; bends as short chords.
    pub polyline: Vec<DVec3>,
    /// Its outside diameter.
    pub outside: Length,
}

/// A point that carries a balloon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// The number.
    pub balloon: Balloon,
    /// Where, in millimetres on the car's axes.
    pub at: DVec3,
}

/// What is looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scene<'a> {
    /// The bars.
    pub bars: &'a [Bar],
    /// The points with balloons.
    pub spots: &'a [Spot],
    /// The bars and spots to stand out in the accent.
    pub darkened: &'a [Balloon],
    /// The bars that are drawn pale: guesses.
    pub pale: &'a [Balloon],
    /// Whether covered edges are dashed or left out.
    pub hidden: bool,
}
