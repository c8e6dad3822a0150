//! The holes through which the legs go: how long, how wide, which way, and whether the plate covers each.

use glam::{DVec2, DVec3};

use super::goes_through;
use crate::domain::cage::{Cage, End, Member, Plate};
use crate::domain::ids::Balloon;
use crate::quantity::{Angle, Length};

/// A hole in the floor.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// The plate that will cover it.
    pub plate: Balloon,
    /// The bar that goes through.
    pub bar: Balloon,
    /// The foot, mm.
    pub foot: DVec3,
    /// The leg's lean from the vertical, over the piece that passes the floor.
    pub lean: Angle,
    /// The unit direction on the floor in which the leg leans, up the leg; x forward, y left.
    pub toward: DVec2,
    /// How far the leg moves that way while it goes down.
    pub travel: Length,
    /// The saw: across the lean.
    pub wide: Length,
    /// Along the lean.
    pub long: Length,
    /// Its middle on the floor, mm; x forward, y left.
    pub centre: DVec2,
    /// How far the plate reaches over its edge where it reaches least; less than nothing where it does not cover it.
    pub covered: Length,
}

impl Hole {
    /// Where and how large it is: forward, left, long, wide, mm; what a person looked at is compared with it.
    pub fn mark(&self) -> Vec<f64> {
        vec![self.centre.x, self.centre.y, self.long.mm(), self.wide.mm()]
    }

    /// Its outline on the floor, so many points, mm; x forward, y left.
    pub fn outline(&self, points: u32) -> Vec<DVec2> {
        let (long, wide) = ((self.long - self.travel).mm() / 2.0, self.wide.mm() / 2.0);
        let side = self.toward.perp();
        let point = |step: u32| {
            let angle = std::f64::consts::TAU * f64::from(step) / f64::from(points.max(1));
            let (sine, cosine) = angle.sin_cos();
            let moved = self.travel.mm() / 2.0 * if cosine < 0.0 { -1.0 } else { 1.0 };
            self.centre + self.toward * (long * cosine + moved) + side * (wide * sine)
        };
        (0..points).map(point).collect()
    }
}

/// How long and how wide a hole is for a tube that leans and goes straight down: across the lean the tube and the
/// clearance, along it the same cut aslant, and how far the leg moves (the sheet's thickness lies within the clearance).
pub fn slot(outside: Length, over: Length, lean: Angle, travel: Length) -> (Length, Length) {
    let wide = outside + over;
    (wide / lean.radians().cos() + travel, wide)
}

/// One hole for each foot that goes through the floor.
pub(super) fn holes(cage: &Cage, drop: Length, over: Length) -> Vec<Hole> {
    let through = cage.plates.iter().filter(|plate| goes_through(plate.foot));
    through.filter_map(|plate| hole(cage, plate, drop, over)).collect()
}

fn hole(cage: &Cage, plate: &Plate, drop: Length, over: Length) -> Option<Hole> {
    let bar = cage.member(plate.under)?;
    let from_start = bar.ends.first() == Some(&End::OnPlate(plate.balloon));
    let foot = plate.centre;
    let upper = passing(bar, from_start, foot.z + drop.mm());
    let across = (upper - foot).truncate();
    // With nothing to go down, the leg's own direction at the foot tells the lean.
    let leg = if drop > Length::default() { upper - foot } else { leg_at_foot(bar, from_start) };
    let lean = Angle::from_radians(leg.truncate().length().atan2(leg.z.abs()));
    let toward = leg.truncate().try_normalize().unwrap_or(DVec2::X);
    let travel = Length::from_mm(across.length());
    let (long, wide) = slot(bar.tube.outside, over, lean, travel);
    let centre = foot.truncate() + across / 2.0;
    let mut hole = Hole {
        plate: plate.balloon,
        bar: bar.balloon,
        foot,
        lean,
        toward,
        travel,
        wide,
        long,
        centre,
        covered: Length::default(),
    };
    hole.covered = covered(&hole, plate);
    Some(hole)
}

fn leg_at_foot(bar: &Member, from_start: bool) -> DVec3 {
    if from_start { bar.line.direction_at_start() } else { -bar.line.direction_at_end() }
}

/// Where a leg, followed up from its foot, passes a height; its far end where it never does.
fn passing(bar: &Member, from_start: bool, height: f64) -> DVec3 {
    let at = |up: Length| bar.line.point_at(if from_start { up } else { bar.developed - up }).0;
    let step = Length::from_mm(2.0);
    let (mut low, mut high) = (Length::default(), step);
    while at(high).z < height {
        if high >= bar.developed {
            return at(bar.developed);
        }
        low = high;
        high = high + step;
    }
    for _ in 0..30 {
        let middle = (low + high) / 2.0;
        if at(middle).z < height { low = middle } else { high = middle }
    }
    at(high)
}

/// How far the plate, its sides along and across the car, reaches over the hole's edge where it reaches least.
fn covered(hole: &Hole, plate: &Plate) -> Length {
    let half = DVec2::new(plate.sides.0.value.mm(), plate.sides.1.value.mm()) / 2.0;
    let reach = hole.outline(360).into_iter().map(|point| (point - plate.centre.truncate()).abs());
    let most = reach.fold(DVec2::ZERO, DVec2::max);
    Length::from_mm((half - most).min_element())
}
