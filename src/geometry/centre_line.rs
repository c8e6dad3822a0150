//! The centre line of one tube: corner points, the bends between them, and the way back.

use glam::DVec3;

use crate::geometry::angle::{self, NO_BEND};
use crate::geometry::piece::Piece;
use crate::quantity::{Angle, Length};

/// Two points nearer than this are the same point (own choice, 0.01 mm).
pub const SAME_POINT: Length = Length::from_mm(0.01);

/// One bend of a tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    /// Along the centre line, from the first point to where the bend begins.
    pub start: Length,
    /// How far the bend's plane is turned from the plane of the bend before, about the direction of travel between the
    /// two, right-handed positive, over -180 up to and with +180 degrees. The first bend has 0.
    pub rotation: Angle,
    /// The deflection: 0 is straight on, 90 a square corner.
    pub angle: Angle,
    /// Of the centre line.
    pub radius: Length,
    /// Where the two straights would meet.
    pub corner: DVec3,
}

impl Bend {
    /// The centre line's length within the bend.
    pub fn arc(&self) -> Length {
        self.radius * self.angle.radians()
    }

    /// From the corner to where the bend begins, or ends.
    pub fn tangent(&self) -> Length {
        self.radius * (self.angle.radians() / 2.0).tan()
    }
}

/// Why points make no centre line. Points and bends are counted from 1 in the direction of travel.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum LineFault {
    /// A line needs two ends.
    #[error("A tube needs at least two points.")]
    TooFewPoints,
    /// A coordinate is no number.
    #[error("Point {point} is not a number. Type it again.")]
    NotANumber {
        /// Which point.
        point: usize,
    },
    /// Two neighbours stand at one place and give no direction.
    #[error("Points {first} and {second} are at the same place. Take one of them out.")]
    SamePoint {
        /// The earlier point.
        first: usize,
        /// The later point.
        second: usize,
    },
    /// A turn of 180 degrees has no corner point.
    #[error("The tube folds back on itself at point {point}. Give a half turn as two bends of 90 degrees.")]
    FoldsBack {
        /// Which point.
        point: usize,
    },
    /// A bent tube needs a bend radius above zero, one for each corner.
    #[error("The bend at point {point} has no radius. Give the centre-line radius of the die.")]
    NoRadius {
        /// Which point.
        point: usize,
    },
    /// The straight between two bends would be shorter than nothing.
    #[error("Bends {first} and {second} overlap by {}. Move the corners apart or use a tighter die.", missing.in_both())]
    TangentsOverlap {
        /// The earlier bend.
        first: usize,
        /// The later bend.
        second: usize,
        /// How much longer the distance of the corners must be.
        missing: Length,
    },
    /// The first or last straight would be shorter than nothing.
    #[error("Bend {bend} does not fit before the tube's end: {} are missing. Move the corner or use a tighter die.", missing.in_both())]
    NoRoomAtEnd {
        /// Which bend.
        bend: usize,
        /// How much longer the distance to the end must be.
        missing: Length,
    },
    /// A bend list whose counts, directions or angles cannot be marched.
    #[error("The bend list does not make a tube: give one more straight than bends, and bends of 0 up to 180 degrees.")]
    NotABendList,
}

/// The centre line of a tube from one end to the other: straights joined by arcs.
#[derive(Debug, Clone, PartialEq)]
pub struct CentreLine {
    points: Vec<DVec3>,
    radius: Length,
    bends: Vec<Bend>,
    straights: Vec<Length>,
    pub(crate) pieces: Vec<Piece>,
}

impl CentreLine {
    /// Through corner points in millimetres, every bend of one centre-line radius. Corners that bend less than
    /// [`NO_BEND`] are left out. A straight tube needs no radius.
    pub fn new(points: Vec<DVec3>, radius: Length) -> Result<Self, LineFault> {
        let radii = vec![radius; points.len().saturating_sub(2)];
        Self::with_radii(points, radius, &radii)
    }

    /// The same with a radius for each inner point, when a tube is bent over more than one die.
    pub fn with_radii(points: Vec<DVec3>, radius: Length, radii: &[Length]) -> Result<Self, LineFault> {
        check_points(&points)?;
        let (corners, radii): (Vec<usize>, Vec<Length>) = true_corners(&points, radii)?.into_iter().unzip();
        let last = points.len() - 1;
        let kept: Vec<DVec3> = points
            .into_iter()
            .enumerate()
            .filter(|(at, _)| *at == 0 || *at == last || corners.contains(at))
            .map(|(_, point)| point)
            .collect();
        let directions: Vec<DVec3> = legs(&kept).map(|(from, to)| (to - from).normalize_or_zero()).collect();
        let mut bends = bends_of(&kept, &radii, &directions);
        let straights = straights_of(&kept, &bends)?;
        let mut along = Length::default();
        for (bend, straight) in bends.iter_mut().zip(&straights) {
            along = along + *straight;
            bend.start = along;
            along = along + bend.arc();
        }
        let pieces = pieces_of(&kept, &directions, &straights, &bends);
        Ok(Self { points: kept, radius, bends, straights, pieces })
    }

    /// From a bend list: `start`, the first direction of travel, the normal of the first bend's plane, the straights
    /// (one more than bends) and, of each bend, its rotation, angle and radius; its start and corner are not read.
    pub fn from_bends(
        start: DVec3,
        direction: DVec3,
        normal: DVec3,
        straights: &[Length],
        bends: &[Bend],
    ) -> Result<Self, LineFault> {
        let mut travel = direction.normalize_or_zero();
        let mut across = (normal - travel * normal.dot(travel)).normalize_or_zero();
        let bendable = |bend: &Bend| (0.0..std::f64::consts::PI).contains(&bend.angle.radians());
        if straights.len() != bends.len() + 1
            || travel == DVec3::ZERO
            || (across == DVec3::ZERO && !bends.is_empty())
            || !bends.iter().all(bendable)
        {
            return Err(LineFault::NotABendList);
        }
        let mut points = vec![start];
        let (mut here, mut tangent) = (start, Length::default());
        for (bend, straight) in bends.iter().zip(straights) {
            across = angle::turned(across, travel, bend.rotation);
            here += travel * (tangent + *straight + bend.tangent()).mm();
            points.push(here);
            travel = angle::turned(travel, across, bend.angle).normalize_or_zero();
            across = (across - travel * across.dot(travel)).normalize_or_zero();
            tangent = bend.tangent();
        }
        let last = straights.last().copied().unwrap_or_default();
        points.push(here + travel * (tangent + last).mm());
        let radii: Vec<Length> = bends.iter().map(|bend| bend.radius).collect();
        Self::with_radii(points, radii.first().copied().unwrap_or_default(), &radii)
    }

    /// The two ends and the corners between them, in millimetres.
    pub fn points(&self) -> &[DVec3] {
        &self.points
    }

    /// The centre-line radius given for the bends.
    pub fn radius(&self) -> Length {
        self.radius
    }

    /// True when there is no bend.
    pub fn straight(&self) -> bool {
        self.bends.is_empty()
    }

    /// The centre line's length, round the bends.
    pub fn developed_length(&self) -> Length {
        self.straights.iter().copied().sum::<Length>() + self.bends.iter().map(Bend::arc).sum()
    }

    /// The bends in the direction of travel.
    pub fn bends(&self) -> &[Bend] {
        &self.bends
    }

    /// The straights before, between and after the bends: one more than bends.
    pub fn straights(&self) -> &[Length] {
        &self.straights
    }

    /// The unit direction of travel at the first point.
    pub fn direction_at_start(&self) -> DVec3 {
        self.pieces.first().map_or(DVec3::ZERO, |piece| piece.at(0.0).1)
    }

    /// The unit direction of travel at the last point.
    pub fn direction_at_end(&self) -> DVec3 {
        self.pieces.last().map_or(DVec3::ZERO, |piece| piece.at(piece.length()).1)
    }

    /// The unit direction from an end into the bar: from the first point when `end` is 0, else from the last.
    pub fn into_bar(&self, end: usize) -> DVec3 {
        if end == 0 { self.direction_at_start() } else { -self.direction_at_end() }
    }

    /// The line as chords, none further from its arc than `sagitta` (up to 1024 chords for a bend).
    pub fn chords(&self, sagitta: Length) -> Vec<DVec3> {
        let first = self.points.first().copied();
        first.into_iter().chain(self.pieces.iter().flat_map(|piece| piece.chords(sagitta))).collect()
    }

    /// The point and the unit direction of travel at a distance along the line; beyond an end, that end.
    pub fn point_at(&self, along: Length) -> (DVec3, DVec3) {
        let mut rest = along.mm().max(0.0);
        for piece in &self.pieces {
            if rest <= piece.length() {
                return piece.at(rest);
            }
            rest -= piece.length();
        }
        (self.points.last().copied().unwrap_or_default(), self.direction_at_end())
    }

    /// The place on the line nearest to a point: how far along, where, and how far off.
    pub fn nearest(&self, point: DVec3) -> (Length, DVec3, Length) {
        let mut before = 0.0;
        let mut best = (Length::default(), DVec3::ZERO, Length::from_mm(f64::INFINITY));
        for piece in &self.pieces {
            let along = piece.nearest(point);
            let (place, _) = piece.at(along);
            let distance = place.distance(point);
            if distance < best.2.mm() {
                best = (Length::from_mm(before + along), place, Length::from_mm(distance));
            }
            before += piece.length();
        }
        best
    }
}

fn legs(points: &[DVec3]) -> impl Iterator<Item = (DVec3, DVec3)> {
    points.iter().copied().zip(points.iter().copied().skip(1))
}

fn check_points(points: &[DVec3]) -> Result<(), LineFault> {
    if points.len() < 2 {
        return Err(LineFault::TooFewPoints);
    }
    if let Some(at) = points.iter().position(|point| !point.is_finite()) {
        return Err(LineFault::NotANumber { point: at + 1 });
    }
    match legs(points).position(|(from, to)| Length::from_mm(from.distance(to)) <= SAME_POINT) {
        Some(at) => Err(LineFault::SamePoint { first: at + 1, second: at + 2 }),
        None => Ok(()),
    }
}

/// Which points, counted from 0, are corners where the line really bends, each with its radius.
fn true_corners(points: &[DVec3], radii: &[Length]) -> Result<Vec<(usize, Length)>, LineFault> {
    let mut corners = Vec::new();
    let mut last = points.first().copied().unwrap_or_default();
    for (at, (point, next)) in legs(points).skip(1).enumerate() {
        let deflection = angle::between_directions(point - last, next - point);
        if deflection < NO_BEND {
            continue;
        }
        if deflection > Angle::from_degrees(180.0) - NO_BEND {
            return Err(LineFault::FoldsBack { point: at + 2 });
        }
        let radius = radii.get(at).copied().filter(|radius| radius.is_finite() && *radius > Length::default());
        corners.push((at + 1, radius.ok_or(LineFault::NoRadius { point: at + 2 })?));
        last = point;
    }
    Ok(corners)
}

/// The bends without their place along the line.
fn bends_of(kept: &[DVec3], radii: &[Length], directions: &[DVec3]) -> Vec<Bend> {
    let mut bends = Vec::new();
    let mut before: Option<DVec3> = None;
    for ((corner, radius), (into, out)) in kept.iter().skip(1).zip(radii).zip(legs(directions)) {
        let normal = into.cross(out).normalize_or_zero();
        let rotation = before.map_or(Angle::default(), |last| angle::turn_about(into, last, normal));
        let deflection = angle::between_directions(into, out);
        let start = Length::default();
        bends.push(Bend { start, rotation, angle: deflection, radius: *radius, corner: *corner });
        before = Some(normal);
    }
    bends
}

fn straights_of(kept: &[DVec3], bends: &[Bend]) -> Result<Vec<Length>, LineFault> {
    let zero = Length::default();
    let before = std::iter::once(zero).chain(bends.iter().map(Bend::tangent));
    let after = bends.iter().map(Bend::tangent).chain(std::iter::once(zero));
    let mut straights = Vec::new();
    for (at, ((from, to), (back, ahead))) in legs(kept).zip(before.zip(after)).enumerate() {
        let straight = Length::from_mm(from.distance(to)) - back - ahead;
        if straight < zero {
            let missing = -straight;
            return Err(match at {
                0 => LineFault::NoRoomAtEnd { bend: 1, missing },
                last if last == bends.len() => LineFault::NoRoomAtEnd { bend: last, missing },
                between => LineFault::TangentsOverlap { first: between, second: between + 1, missing },
            });
        }
        straights.push(Length::from_mm(straight.mm().max(0.0)));
    }
    Ok(straights)
}

fn pieces_of(kept: &[DVec3], directions: &[DVec3], straights: &[Length], bends: &[Bend]) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut from = kept.first().copied().unwrap_or_default();
    for (at, (direction, straight)) in directions.iter().copied().zip(straights).enumerate() {
        pieces.push(Piece::Straight { from, direction, length: straight.mm() });
        let Some((bend, out)) = bends.get(at).zip(directions.get(at + 1).copied()) else { break };
        let begins = bend.corner - direction * bend.tangent().mm();
        let outward = (direction * direction.dot(out) - out).normalize_or_zero();
        let centre = begins - outward * bend.radius.mm();
        let (radius, angle) = (bend.radius.mm(), bend.angle.radians());
        pieces.push(Piece::Arc { centre, outward, forward: direction, radius, angle });
        from = bend.corner + out * bend.tangent().mm();
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64) -> DVec3 {
        DVec3::new(x, y, 0.0)
    }

    #[test]
    fn faults_name_the_point() {
        let radius = Length::from_mm(100.0);
        let fault = |points: &[DVec3]| CentreLine::new(points.to_vec(), radius).err();
        assert_eq!(fault(&[at(0.0, 0.0)]), Some(LineFault::TooFewPoints));
        let no_number = [at(0.0, 0.0), at(f64::NAN, 0.0)];
        assert_eq!(fault(&no_number), Some(LineFault::NotANumber { point: 2 }));
        let same = [at(0.0, 0.0), at(500.0, 0.0), at(500.0, 0.009)];
        assert_eq!(fault(&same), Some(LineFault::SamePoint { first: 2, second: 3 }));
        let corner = vec![at(0.0, 0.0), at(500.0, 0.0), at(500.0, 500.0)];
        let flat = CentreLine::new(corner, Length::default());
        assert_eq!(flat, Err(LineFault::NoRadius { point: 2 }));
        let last = [at(0.0, 0.0), at(500.0, 0.0), at(500.0, 60.0)];
        let missing = Length::from_mm(40.0);
        assert_eq!(fault(&last), Some(LineFault::NoRoomAtEnd { bend: 1, missing }));
    }

    #[test]
    fn a_bend_list_needs_one_more_straight_than_bends() {
        let straights = [Length::from_mm(300.0)];
        let straight = CentreLine::from_bends(DVec3::ZERO, DVec3::Y, DVec3::Z, &straights, &[]);
        assert_eq!(straight.map(|line| line.points().to_vec()), Ok(vec![DVec3::ZERO, at(0.0, 300.0)]));
        let none = CentreLine::from_bends(DVec3::ZERO, DVec3::Y, DVec3::Z, &[], &[]);
        assert_eq!(none, Err(LineFault::NotABendList));
        let nowhere = CentreLine::from_bends(DVec3::ZERO, DVec3::ZERO, DVec3::Z, &straights, &[]);
        assert_eq!(nowhere, Err(LineFault::NotABendList));
    }

    #[test]
    fn many_slight_corners_do_not_hide_a_curve() {
        // Forty corners of 0.04 degrees turn 1.6 degrees in all: some of them must be kept as bends.
        let mut points = vec![DVec3::ZERO];
        let (mut here, mut heading) = (DVec3::ZERO, 0.0_f64);
        for _ in 0..40 {
            here += DVec3::new(heading.cos(), heading.sin(), 0.0) * 100.0;
            points.push(here);
            heading += 0.04_f64.to_radians();
        }
        let line = CentreLine::new(points, Length::from_mm(150.0));
        let turned: f64 = line.iter().flat_map(CentreLine::bends).map(|bend| bend.angle.degrees()).sum();
        assert!(turned > 1.4, "only {turned} degrees of 1.56 are kept");
    }

    #[test]
    fn places_beyond_the_ends_are_the_ends() {
        let points = vec![at(0.0, 0.0), at(500.0, 0.0), at(500.0, 400.0)];
        let line = CentreLine::new(points, Length::from_mm(100.0));
        let found = line.map(|line| (line.point_at(Length::from_mm(-5.0)), line.point_at(Length::from_mm(9000.0))));
        assert_eq!(found, Ok(((at(0.0, 0.0), DVec3::X), (at(500.0, 400.0), DVec3::Y))));
    }
}
