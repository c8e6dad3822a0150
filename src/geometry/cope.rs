//! The cope of a branch tube: where its wall is cut to sit on a carrier tube, on several, on a plate or in a mitre.

use std::f64::consts::{PI, TAU};

use glam::DVec3;

use crate::geometry::angle::{self, NO_BEND};
use crate::geometry::carrier::{Carrier, Shape};
use crate::geometry::centre_line::SAME_POINT;
use crate::geometry::integral;
use crate::quantity::{Angle, Length};

/// Where extremes are looked for first on one carrier: its cut has few, and 90 and 270 degrees are among the steps.
const SEARCH_STEPS: u32 = 72;
/// The same on several carriers, whose cuts cross where they please: every half degree.
const SEARCH_STEPS_OF_SEVERAL: u32 = 720;
/// Panels of an integral on either side of a kink, as shares of a quarter of the round: they shrink towards the kink,
/// so that tubes of nearly one size keep their digits (found by halving until the tests' outside values stood).
const TOWARDS_A_KINK: [f64; 9] = [0.0, 0.000_976_562_5, 0.003_906_25, 0.015_625, 0.062_5, 0.25, 0.5, 0.75, 1.0];
/// A cosine nearer to level than this is level: rounding must not make a level face look down.
const LEVEL: f64 = 1e-9;

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
    /// Meetings given together are not of one branch.
    #[error("A cope onto several tubes needs one and the same tube to be cut. Check which tube ends here.")]
    NotOneBranch,
}

/// The cut end of a branch tube. Places around it are angles: 0 on the side that leans toward the (first) carrier's
/// direction, counting toward carrier direction x branch direction. Distances along it count from the node, the point
/// of its axis nearest to the carrier's axis, away from the carrier.
#[derive(Debug, Clone, PartialEq)]
pub struct Cope {
    first: Carrier,
    others: Vec<Carrier>,
    reach: f64,
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
        let others = others.iter().map(round).collect::<Result<_, _>>()?;
        Self { first: round(first)?, others, reach: first.branch_outside.mm() / 2.0 }.biting()
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
        Ok(Self { first, others: Vec::new(), reach: branch_outside.mm() / 2.0 })
    }

    /// Against another tube of the same outside diameter, end to end; both directions point away from the node.
    pub fn mitre(other_direction: DVec3, branch_direction: DVec3, branch_outside: Length) -> Result<Self, CopeFault> {
        let (other, branch) = (unit(other_direction)?, unit(branch_direction)?);
        let normal = branch - other;
        if angle::between_directions(other, branch) < NO_BEND {
            return Err(CopeFault::Parallel);
        }
        Self::on_plate(normal, branch, branch_outside)
    }

    fn biting(self) -> Result<Self, CopeFault> {
        let worst = steps(self.search_steps())
            .map(|phi| {
                let around = self.around(phi);
                self.carriers().map(|carrier| carrier.overhang(around, self.reach)).fold(f64::INFINITY, f64::min)
            })
            .fold(f64::NEG_INFINITY, f64::max);
        let by = Length::from_mm(worst);
        if by > SAME_POINT { Err(CopeFault::Overhangs { by }) } else { Ok(self) }
    }

    fn carriers(&self) -> impl Iterator<Item = &Carrier> {
        std::iter::once(&self.first).chain(&self.others)
    }

    fn search_steps(&self) -> u32 {
        if self.others.is_empty() { SEARCH_STEPS } else { SEARCH_STEPS_OF_SEVERAL }
    }

    fn around(&self, phi: f64) -> DVec3 {
        self.around_and_onward(phi).0
    }

    /// The unit vector from the axis to a place around the branch, and how it changes with the angle.
    fn around_and_onward(&self, phi: f64) -> (DVec3, DVec3) {
        let (sine, cosine) = phi.sin_cos();
        let Carrier { toward, aside, .. } = self.first;
        (toward * cosine + aside * sine, aside * cosine - toward * sine)
    }

    /// The carrier that cuts deepest at a place, its index, and its cut. One that the wall misses does not count
    /// unless all are missed.
    fn deepest(&self, around: DVec3, reach: f64) -> (usize, &Carrier, f64) {
        let mut best = (0, &self.first, self.first.cut(around, reach));
        if self.others.is_empty() {
            return best;
        }
        let mut best_bites = self.first.overhang(around, reach) <= SAME_POINT.mm();
        for (at, carrier) in self.others.iter().enumerate() {
            let cut = carrier.cut(around, reach);
            let bites = carrier.overhang(around, reach) <= SAME_POINT.mm();
            if (bites && !best_bites) || (bites == best_bites && cut > best.2) {
                best = (at + 1, carrier, cut);
                best_bites = bites;
            }
        }
        best
    }

    /// Which carrier cuts deepest at a place.
    fn leader(&self, phi: f64) -> usize {
        self.deepest(self.around(phi), self.reach).0
    }

    fn cut(&self, phi: f64) -> f64 {
        self.deepest(self.around(phi), self.reach).2
    }

    /// The angle between the branch and the (first) carrier as lines, or the plate: 0 to 90 degrees.
    pub fn angle(&self) -> Angle {
        Angle::from_radians(self.first.sine.atan2(self.first.cosine.abs()))
    }

    /// The distance along the branch from the node to where its outer wall is cut, at a place around it.
    pub fn cut_at(&self, phi: Angle) -> Length {
        Length::from_mm(self.cut(phi.radians()))
    }

    /// The same for the wall at another diameter, such as the bore.
    pub fn cut_within(&self, phi: Angle, diameter: Length) -> Length {
        Length::from_mm(self.deepest(self.around(phi.radians()), diameter.mm() / 2.0).2)
    }

    /// The least distance from the node to the outer wall's cut: there the tube is longest.
    pub fn long_point(&self) -> Length {
        Length::from_mm(self.cut(self.long_point_at().radians()))
    }

    /// The greatest distance from the node to the outer wall's cut: there the tube is shortest.
    pub fn short_point(&self) -> Length {
        Length::from_mm(self.cut(self.short_point_at().radians()))
    }

    /// Where around the tube its long point is; the first one when there are several.
    pub fn long_point_at(&self) -> Angle {
        self.least(|phi| self.cut(phi))
    }

    /// Where around the tube its short point is; the first one when there are several.
    pub fn short_point_at(&self) -> Angle {
        self.least(|phi| -self.cut(phi))
    }

    fn least(&self, of: impl Fn(f64) -> f64) -> Angle {
        let count = self.search_steps();
        let step = TAU / f64::from(count);
        let values: Vec<f64> = steps(count).map(&of).collect();
        let before = values.iter().cycle().skip(values.len().saturating_sub(1));
        let after = values.iter().cycle().skip(1);
        let mut best = (0.0, of(0.0));
        // A tie within rounding stays with the first place, so that the answer does not hop.
        let mut keep = |phi: f64, value: f64| {
            if value < best.1 - LEVEL * self.reach {
                best = (phi, value);
            }
        };
        for (phi, ((here, before), after)) in steps(count).zip(values.iter().zip(before).zip(after)) {
            // Several carriers make several hollows, some between the steps: each is searched.
            if here < before && here <= after {
                keep(phi, *here);
                let refined = integral::least_between(phi - step, phi + step, &of);
                keep(refined, of(refined));
            }
        }
        Angle::from_radians(best.0.rem_euclid(TAU))
    }

    /// The seam's length on the outer wall: the unrolled cut line.
    pub fn seam(&self) -> Length {
        Length::from_mm(integral::over_panels(&self.breaks(1), |phi| self.seam_at(phi)))
    }

    /// The seam's length for each unit of angle around the branch.
    fn seam_at(&self, phi: f64) -> f64 {
        let (around, onward) = self.around_and_onward(phi);
        let slope = self.deepest(around, self.reach).1.slope(around, onward, self.reach);
        (self.reach * self.reach + slope * slope).sqrt()
    }

    /// The mean distance from the node to the cut over the metal of the wall: the tube's metal ends there, for its
    /// mass. The bore is the outside less two walls.
    pub fn mean_cut(&self, wall: Length) -> Length {
        // The cut itself bends less sharply than its slope: every other step toward a kink will do.
        let breaks = self.breaks(2);
        let depth = wall.mm().clamp(0.0, self.reach);
        // Towards the outer wall the integrand may bend sharply (equal tubes): steps shrink that way.
        let ring = |t: f64| {
            let radius = self.reach - depth * t * t;
            let round = integral::over_panels(&breaks, |phi| self.deepest(self.around(phi), radius).2);
            round * radius * 2.0 * depth * t
        };
        let metal = PI * (self.reach.powi(2) - (self.reach - depth).powi(2));
        if metal <= 0.0 {
            return Length::from_mm(integral::over_panels(&breaks, |phi| self.cut(phi)) / TAU);
        }
        Length::from_mm(integral::over_panels(&[0.0, 1.0], ring) / metal)
    }

    /// The share of the seam, 0 to 1, whose weld face looks down, for directions given with z up: the face halfway
    /// between the carrier's and the branch's surface.
    pub fn faces_down(&self) -> f64 {
        self.share(|face| face.z < -LEVEL)
    }

    /// The share of the seam, 0 to 1, whose weld face looks up at more than this angle over level: the torch comes from
    /// above it.
    pub fn faces_up(&self, over: Angle) -> f64 {
        let least = over.radians().sin();
        self.share(|face| face.z > least)
    }

    /// The share of the seam, 0 to 1, whose weld face is such a one.
    fn share(&self, wanted: impl Fn(DVec3) -> bool) -> f64 {
        let is_one = |phi: f64| {
            let around = self.around(phi);
            let carrier = self.deepest(around, self.reach).1;
            usize::from(wanted((carrier.normal(around, self.reach) + around).normalize_or_zero()))
        };
        let mut breaks = self.breaks(1);
        let mut looked_at = breaks.clone();
        looked_at.extend(steps(SEARCH_STEPS));
        looked_at.sort_by(f64::total_cmp);
        breaks.extend(integral::changes(&looked_at, is_one));
        breaks.sort_by(f64::total_cmp);
        let (mut those, mut all) = (0.0, 0.0);
        for (from, to) in breaks.iter().zip(breaks.iter().skip(1)) {
            let piece = integral::over_panels(&[*from, *to], |phi| self.seam_at(phi));
            all += piece;
            if is_one(f64::midpoint(*from, *to)) == 1 {
                those += piece;
            }
        }
        if all > 0.0 { those / all } else { 0.0 }
    }

    /// The unrolled cut of the outer wall for a template: around the tube from the place 0, and along it from the long
    /// point. At least `points` even steps, a multiple of four so that the quarters are among them; the last point
    /// closes the round.
    pub fn outline(&self, points: usize) -> Vec<(Length, Length)> {
        let count = u32::try_from(points).unwrap_or(u32::MAX).clamp(4, 7200).next_multiple_of(4);
        let long = self.long_point();
        (0..=count)
            .map(|at| {
                let phi = TAU * f64::from(at) / f64::from(count);
                (Length::from_mm(self.reach * phi), Length::from_mm(self.cut(phi)) - long)
            })
            .collect()
    }

    /// Where around the tube the cut passes from one carrier to another; none with a single one.
    pub fn crossings(&self) -> Vec<Angle> {
        let places: Vec<f64> = steps(SEARCH_STEPS_OF_SEVERAL).chain([TAU]).collect();
        integral::changes(&places, |phi| self.leader(phi)).into_iter().map(Angle::from_radians).collect()
    }

    /// True when it is cut to more than one carrier.
    pub fn several(&self) -> bool {
        !self.others.is_empty()
    }

    /// The unit direction from the branch's axis to the place 0 around it.
    pub fn place_zero(&self) -> DVec3 {
        self.first.toward
    }

    /// Places around between which the cut line is smooth: where it may have a kink, and steps that shrink towards
    /// each such place, of which each `every`th is taken.
    fn breaks(&self, every: usize) -> Vec<f64> {
        let ears = self
            .carriers()
            .map(|carrier| carrier.aside.dot(self.first.aside).atan2(carrier.aside.dot(self.first.toward)));
        let kinks = ears.flat_map(|ear| [ear, ear + PI]);
        let around = kinks.flat_map(|kink| {
            let either_side = move |share: f64| [kink - share * PI / 2.0, kink + share * PI / 2.0];
            TOWARDS_A_KINK.into_iter().step_by(every).flat_map(either_side).map(|place| place.rem_euclid(TAU))
        });
        let mut breaks: Vec<f64> = around.chain([0.0, TAU]).collect();
        breaks.sort_by(f64::total_cmp);
        if !self.others.is_empty() {
            breaks.extend(steps(SEARCH_STEPS_OF_SEVERAL));
            breaks.sort_by(f64::total_cmp);
            let crossings = integral::changes(&breaks, |phi| self.leader(phi));
            breaks.extend(crossings);
            breaks.sort_by(f64::total_cmp);
        }
        breaks.dedup();
        breaks
    }
}

fn unit(direction: DVec3) -> Result<DVec3, CopeFault> {
    direction.try_normalize().ok_or(CopeFault::NoDirection)
}

fn round(meeting: &Meeting) -> Result<Carrier, CopeFault> {
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

/// Even steps round the tube.
fn steps(count: u32) -> impl Iterator<Item = f64> {
    (0..count).map(move |at| TAU * f64::from(at) / f64::from(count))
}
