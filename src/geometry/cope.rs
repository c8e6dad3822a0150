//! The cope of a branch tube: where its wall is cut to sit on a carrier tube, on several, on a plate or in a mitre.

use std::f64::consts::TAU;

use glam::DVec3;

use crate::geometry::angle::{self, NO_BEND};
use crate::geometry::carrier::{Carrier, Shape};
use crate::geometry::centre_line::SAME_POINT;
use crate::geometry::cut_line::{CutLine, Extreme, LEVEL, Seam};
use crate::geometry::true_line::TrueLine;
use crate::quantity::{Angle, Length};

/// Two tubes that meet: the branch ends on the carrier.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meeting {
    /// Along the carrier, either way.
    pub carrier_direction: DVec3,
    /// Along the branch, away from the carrier.
    pub branch_direction: DVec3,
    /// How far the branch's axis passes beside the carrier's, positive along carrier direction x branch direction.
    pub offset: Length,
    /// The carrier's outside diameter.
    pub carrier_outside: Length,
    /// The branch's outside diameter.
    pub branch_outside: Length,
}

/// Why a tube cannot be coped.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum CopeFault {
    /// A direction has no length or is no number.
    #[error("The tubes' directions are not known here. Check the points.")]
    NoDirection,
    /// An outside diameter is not above zero, or the offset is no number.
    #[error("A tube's outside diameter or its offset is missing. Give the tube's size.")]
    NoTube,
    /// The branch runs along the carrier.
    #[error("The tube runs along the one it ends on, so there is nothing to cope. Check the points.")]
    Parallel,
    /// Part of the branch misses the carrier.
    #[error("The tube overhangs the one it ends on by {:.1} mm. Cope the thinner tube, or take out offset.", by.mm())]
    Overhangs {
        /// How far its wall stands outside the carrier.
        by: Length,
    },
    /// The branch lies within a carrier as far as is looked.
    #[error(
        "The tube runs into one that it ends on or is fitted round, and no cut clears it. Turn it, or move its end."
    )]
    RunsAlong,
    /// Meetings given together are not of one branch.
    #[error("A cope onto several tubes needs one and the same tube to be cut. Check which tube ends here.")]
    NotOneBranch,
}

/// The cut end of a branch tube. Places around it are angles: 0 on the side that leans toward the (first) carrier's
/// direction, counting toward carrier direction x branch direction. Distances along it count from the node, the point
/// of its axis nearest to the carrier's axis, away from the carrier. What is asked of it again and again is worked out
/// once, when it is made.
#[derive(Debug, Clone, PartialEq)]
pub struct Cope {
    line: Line,
    /// Where the outer wall is cut least and most.
    extremes: [Extreme; 2],
    /// The seam, and the share of it that looks down.
    seam: Seam,
    angle: Angle,
}

/// How the cut is known: in closed form, on straight carriers without ends and on plates, or line by line.
#[derive(Debug, Clone, PartialEq)]
enum Line {
    /// The point that its distances count from may lie ahead of the node, mm.
    Closed {
        line: CutLine,
        ahead: f64,
    },
    True(TrueLine),
}

impl Line {
    fn cut(&self, phi: f64, reach: f64) -> f64 {
        match self {
            Self::Closed { line, ahead } => ahead + line.cut(phi, reach),
            Self::True(line) => line.cut(phi, reach),
        }
    }

    fn seam(&self, wanted: impl Fn(f64) -> bool) -> Seam {
        match self {
            Self::Closed { line, .. } => line.seam(wanted),
            Self::True(line) => line.seam(wanted),
        }
    }

    /// The outer wall's radius, mm.
    fn reach(&self) -> f64 {
        match self {
            Self::Closed { line, .. } => line.reach,
            Self::True(line) => line.reach,
        }
    }
}

impl Cope {
    /// Onto one carrier.
    pub fn of(meeting: &Meeting) -> Result<Self, CopeFault> {
        Self::of_all(std::slice::from_ref(meeting))
    }

    /// Onto several carriers at once: at each place around, the deepest cut counts. The carriers' axes are taken to
    /// pass one node on the branch's axis.
    pub fn of_all(meetings: &[Meeting]) -> Result<Self, CopeFault> {
        let (first, others) = meetings.split_first().ok_or(CopeFault::NoDirection)?;
        let one_branch = others.iter().all(|other| {
            other.branch_outside == first.branch_outside
                && angle::between_directions(other.branch_direction, first.branch_direction) < NO_BEND
        });
        if !one_branch {
            return Err(CopeFault::NotOneBranch);
        }
        let branch_direction = first.branch_direction;
        let others = others.iter().map(|other| round(&Meeting { branch_direction, ..*other }));
        let others = others.collect::<Result<_, _>>()?;
        let line = CutLine::new(round(first)?, others, first.branch_outside.mm() / 2.0);
        let by = Length::from_mm(line.overhang());
        if by > SAME_POINT { Err(CopeFault::Overhangs { by }) } else { Ok(Self::closed(line, 0.0)) }
    }

    /// Onto a flat plate with this normal, either way.
    pub fn on_plate(normal: DVec3, branch_direction: DVec3, branch_outside: Length) -> Result<Self, CopeFault> {
        let branch = unit(branch_direction)?;
        let mut normal = unit(normal)?;
        if !(branch_outside.is_finite() && branch_outside > Length::default()) {
            return Err(CopeFault::NoTube);
        }
        if normal.dot(branch) < 0.0 {
            normal = -normal;
        }
        let lean = branch * normal.dot(branch) - normal;
        let (sine, cosine) = (normal.dot(branch), lean.length());
        if sine <= NO_BEND.radians().sin() {
            return Err(CopeFault::Parallel);
        }
        let square = cosine <= LEVEL;
        let toward = if square { branch.any_orthonormal_vector() } else { lean / cosine };
        let aside = toward.cross(branch);
        let first = Carrier { branch, toward, aside, sine, cosine, shape: Shape::Flat };
        Ok(Self::closed(CutLine::new(first, Vec::new(), branch_outside.mm() / 2.0), 0.0))
    }

    /// In closed form; its distances count from a point so far ahead of the node, mm.
    pub(crate) fn closed(line: CutLine, ahead: f64) -> Self {
        let extremes = line.extremes().map(|extreme| Extreme { cut: extreme.cut + ahead, ..extreme });
        let angle = line.first.sine.atan2(line.first.cosine.abs());
        Self::with(Line::Closed { line, ahead }, extremes, angle)
    }

    /// Onto tubes as they run; the branch meets the first of them at this angle.
    pub(crate) fn true_to(line: TrueLine, angle: Angle) -> Self {
        let extremes = line.extremes();
        Self::with(Line::True(line), extremes, angle.radians())
    }

    fn with(line: Line, extremes: [Extreme; 2], angle: f64) -> Self {
        let seam = line.seam(|up| up < -LEVEL);
        Self { line, extremes, seam, angle: Angle::from_radians(angle) }
    }

    /// The angle between the branch and the (first) carrier as lines, where they meet, or the plate: 0 to 90 degrees.
    pub fn angle(&self) -> Angle {
        self.angle
    }

    /// The distance along the branch from the node to where its outer wall is cut, at a place around it.
    pub fn cut_at(&self, phi: Angle) -> Length {
        Length::from_mm(self.line.cut(phi.radians(), self.line.reach()))
    }

    /// The same for the wall at another diameter, such as the bore.
    pub fn cut_within(&self, phi: Angle, diameter: Length) -> Length {
        Length::from_mm(self.line.cut(phi.radians(), diameter.mm() / 2.0))
    }

    /// The least distance from the node to the outer wall's cut: there the tube is longest.
    pub fn long_point(&self) -> Length {
        Length::from_mm(self.extremes[0].cut)
    }

    /// The greatest distance from the node to the outer wall's cut: there the tube is shortest.
    pub fn short_point(&self) -> Length {
        Length::from_mm(self.extremes[1].cut)
    }

    /// Where around the tube its long point is; the first one when there are several.
    pub fn long_point_at(&self) -> Angle {
        Angle::from_radians(self.extremes[0].phi)
    }

    /// The seam's length on the outer wall: the unrolled cut line.
    pub fn seam(&self) -> Length {
        Length::from_mm(self.seam.length)
    }

    /// The mean distance from the node to the cut over the metal of the wall: the tube's metal ends there, for its
    /// mass. The bore is the outside less two walls.
    pub fn mean_cut(&self, wall: Length) -> Length {
        let depth = wall.mm().clamp(0.0, self.line.reach());
        Length::from_mm(match &self.line {
            Line::Closed { line, ahead } => ahead + line.mean(line.reach - depth),
            Line::True(line) => line.mean(line.reach - depth),
        })
    }

    /// The share of the seam, 0 to 1, whose weld face looks down, for directions given with z up: the face halfway
    /// between the carrier's and the branch's surface.
    pub fn faces_down(&self) -> f64 {
        self.seam.share
    }

    /// The share of the seam, 0 to 1, whose weld face looks up at more than this angle over level: the torch comes from
    /// above it.
    pub fn faces_up(&self, over: Angle) -> f64 {
        let least = over.radians().sin();
        self.line.seam(|up| up > least).share
    }

    /// The unrolled cut of the outer wall for a template: around the tube from the place 0, and along it from the long
    /// point. At least `points` even steps, a multiple of four so that the quarters are among them, and where the cut
    /// passes from one carrier to the next; the last point closes the round.
    pub fn outline(&self, points: usize) -> Vec<(Length, Length)> {
        let count = u32::try_from(points).unwrap_or(u32::MAX).clamp(4, 7200).next_multiple_of(4);
        let long = self.long_point();
        let mut phis: Vec<f64> = (0..=count).map(|at| TAU * f64::from(at) / f64::from(count)).collect();
        phis.extend(self.crossings().into_iter().map(Angle::radians));
        phis.sort_by(f64::total_cmp);
        let at = |phi: f64| (Length::from_mm(self.line.reach() * phi), self.cut_at(Angle::from_radians(phi)) - long);
        phis.into_iter().map(at).collect()
    }

    /// Where around the tube the cut passes from one carrier to another; none with a single one.
    pub fn crossings(&self) -> Vec<Angle> {
        let crossings = match &self.line {
            Line::Closed { line, .. } => line.crossings(),
            Line::True(line) => line.crossings(),
        };
        crossings.into_iter().map(Angle::from_radians).collect()
    }

    /// True when it is cut to more than one carrier.
    pub fn several(&self) -> bool {
        match &self.line {
            Line::Closed { line, .. } => line.several(),
            Line::True(line) => line.several(),
        }
    }

    /// True when part of its seam lies on a carrier's bend.
    pub fn on_bend(&self) -> bool {
        matches!(&self.line, Line::True(line) if line.on_bend())
    }

    /// The unit direction from the branch's axis to the place 0 around it.
    pub fn place_zero(&self) -> DVec3 {
        match &self.line {
            Line::Closed { line, .. } => line.first.toward,
            Line::True(line) => line.frame.toward,
        }
    }
}

pub(crate) fn unit(direction: DVec3) -> Result<DVec3, CopeFault> {
    direction.try_normalize().ok_or(CopeFault::NoDirection)
}

pub(crate) fn round(meeting: &Meeting) -> Result<Carrier, CopeFault> {
    let (line, branch) = (unit(meeting.carrier_direction)?, unit(meeting.branch_direction)?);
    let sizes = [meeting.carrier_outside, meeting.branch_outside];
    if !sizes.iter().all(|size| size.is_finite() && *size > Length::default()) || !meeting.offset.is_finite() {
        return Err(CopeFault::NoTube);
    }
    if angle::between_lines(line, branch) < NO_BEND {
        return Err(CopeFault::Parallel);
    }
    let across = line.cross(branch);
    let (sine, cosine) = (across.length(), line.dot(branch));
    let aside = across / sine;
    let shape = Shape::Round { radius: meeting.carrier_outside.mm() / 2.0, offset: meeting.offset.mm() };
    Ok(Carrier { branch, toward: branch.cross(aside), aside, sine, cosine, shape })
}
