//! A blank of sheet laid flat: its outline, holes, bend lines and scribed lines; what a bend takes of the sheet.

use std::f64::consts::FRAC_PI_4;

use glam::DVec2;

use crate::geometry::distance::Segment;
use crate::geometry::polygon::{Polygon, PolygonFault};
use crate::quantity::{Angle, Area, Length};

/// A round hole of a blank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Its middle, mm.
    pub centre: DVec2,
    /// Its diameter.
    pub diameter: Length,
}

/// A blank laid flat, in millimetres, y upward.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetBlank {
    /// What is cut out of the sheet.
    pub outline: Polygon,
    /// The holes in it.
    pub holes: Vec<Hole>,
    /// The middle of each bend's allowance, from edge to edge.
    pub bends: Vec<[DVec2; 2]>,
    /// Lines to scribe and not to cut, each a run of points.
    pub scribed: Vec<Vec<DVec2>>,
}

impl SheetBlank {
    /// A rectangle of this width and height about its middle.
    pub fn rectangle(width: Length, height: Length) -> Result<Self, PolygonFault> {
        let half = DVec2::new(width.mm(), height.mm()) / 2.0;
        let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
        let outline = Polygon::new(corners.into_iter().map(|(x, y)| half * DVec2::new(x, y)).collect())?;
        Ok(Self { outline, holes: Vec::new(), bends: Vec::new(), scribed: Vec::new() })
    }

    /// The area inside the outline, holes and all.
    pub fn gross(&self) -> Area {
        self.outline.area()
    }

    /// The metal's area, without the holes.
    pub fn net(&self) -> Area {
        let open: f64 = self.holes.iter().map(|hole| FRAC_PI_4 * hole.diameter.mm().powi(2)).sum();
        Area::from_mm2(self.gross().mm2() - open)
    }

    /// The least metal between a hole's edge and the outline or a bend line; below zero where it breaks out. None
    /// without a hole.
    pub fn round_holes(&self) -> Option<Length> {
        let corners = self.outline.corners();
        let sides = corners.iter().zip(corners.iter().cycle().skip(1)).map(|(from, to)| [*from, *to]);
        let lines: Vec<[DVec2; 2]> = sides.chain(self.bends.iter().copied()).collect();
        let left = |hole: &Hole| {
            let least = lines.iter().map(|line| off(hole.centre, *line)).fold(f64::INFINITY, f64::min);
            least - hole.diameter.mm() / 2.0
        };
        self.holes.iter().map(left).reduce(f64::min).map(Length::from_mm)
    }
}

/// From a point to a line of the blank, mm.
fn off(point: DVec2, [from, to]: [DVec2; 2]) -> f64 {
    Segment { from: from.extend(0.0), to: to.extend(0.0) }.distance_to(point.extend(0.0)).mm()
}

/// Where the fibre that keeps its length lies, as a share of the thickness from the inside of the bend:
/// (0.65 + 0.5 log10(r / t)) / 2, at most one half (DIN 6935, *from memory*; 0.33 to 0.45 is *common practice*).
pub fn neutral_share(inside_radius: Length, thickness: Length) -> f64 {
    f64::midpoint(0.65, 0.5 * (inside_radius / thickness).log10()).clamp(0.0, 0.5)
}

/// The flat length that a bend takes: its angle times the radius of the fibre that keeps its length.
pub fn bend_allowance(angle: Angle, inside_radius: Length, thickness: Length, neutral_share: f64) -> Length {
    (inside_radius + thickness * neutral_share) * angle.radians()
}
