//! The holes through which the legs go: how long, how wide, which way, and whether the plate covers each.

use glam::{DVec2, DVec3};

use super::goes_through;
use super::heading::{Heading, beside, from_edges};
use crate::domain::cage::{Cage, End, Member, Plate};
use crate::domain::words::ids::Balloon;
use crate::quantity::{Angle, Length, Show as _, Typed, Units};

/// Less sway than this is not told of (own choice: the clearance holds it).
const SWAYS: Length = Length::from_mm(0.5);

/// A leg that leans less than this stands upright (own choice: no level on a leg shows it).
const UPRIGHT: Angle = Angle::from_degrees(0.05);

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
    /// How far it moves across that way, where it is bent.
    pub sway: Length,
    /// The saw: the tube and the clearance.
    pub saw: Length,
    /// Across the lean: the saw, and the sway.
    pub wide: Length,
    /// Along the lean.
    pub long: Length,
    /// Its middle on the floor, mm; x forward, y left.
    pub centre: DVec2,
    /// How far the plate reaches over its edge where it reaches least; less than nothing where it does not cover it.
    pub covered: Length,
}

impl Hole {
    /// How its figures come about, in a sentence.
    pub fn reckoned(&self, over: &Typed<Length>, units: Units) -> String {
        let tape = |length: Length| length.by_tape(units);
        let (tube, aslant) = (self.saw - over.value, self.saw / self.lean.radians().cos());
        let sway = if self.sway > SWAYS { format!(" and {} of sway", tape(self.sway)) } else { String::new() };
        format!(
            "Across: the tube {} and {}{sway}. Along: {} over the cosine of {} is {}, and {} that the leg moves.",
            tape(tube),
            over.text,
            tape(self.saw),
            self.lean.show(units),
            tape(aslant),
            tape(self.travel)
        )
    }

    /// Which way the leg leans; none of one that stands upright.
    pub fn heading(&self) -> Option<Heading> {
        (self.lean >= UPRIGHT || self.travel >= SWAYS).then(|| Heading::of(self.toward)).flatten()
    }

    /// Which way it lies and where its middle is, in sentences.
    pub fn lies(&self, plate: &Plate, units: Units) -> String {
        let lean = match self.heading() {
            Some(way) => {
                format!(
                    "The leg leans {} from upright, {}; the hole is longest that way.",
                    self.lean.show(units),
                    way.describe()
                )
            }
            None => "The leg stands upright: the hole is round.".to_owned(),
        };
        let off = beside(self.centre - self.foot.truncate(), units);
        let edges = from_edges(self.centre, plate, units);
        format!("{lean} Seen from the foot's middle, the hole's middle lies {off}: {edges}.")
    }

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
    let way = way(bar, from_start, foot.z + drop.mm());
    let across = (way.last().copied().unwrap_or(foot) - foot).truncate();
    let at_foot = if from_start { bar.line.direction_at_start() } else { -bar.line.direction_at_end() };
    let toward = across.try_normalize().or(at_foot.truncate().try_normalize()).unwrap_or(DVec2::X);
    let spread = |along: DVec2| {
        let passed = way.iter().map(|at| (at.truncate() - foot.truncate()).dot(along));
        passed.fold((0.0_f64, 0.0_f64), |(low, high), at| (low.min(at), high.max(at)))
    };
    let (forth, beside) = (spread(toward), spread(toward.perp()));
    let legs = way.iter().zip(way.iter().skip(1)).map(|(low, high)| *high - *low).chain([at_foot]);
    let lean = legs.map(|leg| leg.truncate().length().atan2(leg.z.abs())).fold(0.0, f64::max);
    let (lean, travel) = (Angle::from_radians(lean), Length::from_mm(forth.1 - forth.0));
    let (long, saw) = slot(bar.tube.outside, over, lean, travel);
    let sway = Length::from_mm(beside.1 - beside.0);
    let middle = toward * f64::midpoint(forth.0, forth.1) + toward.perp() * f64::midpoint(beside.0, beside.1);
    let mut hole = Hole {
        plate: plate.balloon,
        bar: bar.balloon,
        foot,
        lean,
        toward,
        travel,
        sway,
        saw,
        wide: saw + sway,
        long,
        centre: foot.truncate() + middle,
        covered: Length::default(),
    };
    hole.covered = covered(&hole, plate);
    Some(hole)
}

/// How long a piece of the leg is looked at for its lean, mm.
const STEP: Length = Length::from_mm(2.0);

/// The leg's axis from its foot up to a height; to its far end where it never gets so high.
fn way(bar: &Member, from_start: bool, height: f64) -> Vec<DVec3> {
    let at = |up: Length| bar.line.point_at(if from_start { up } else { bar.developed - up }).0;
    let (mut low, mut way) = (Length::default(), vec![at(Length::default())]);
    loop {
        let high = low + STEP;
        if high >= bar.developed {
            way.push(at(bar.developed));
            return way;
        }
        if at(high).z >= height {
            way.push(at(between(&at, (low, high), height)));
            return way;
        }
        way.push(at(high));
        low = high;
    }
}

/// Where along the leg, between two places, it passes a height.
fn between(at: &dyn Fn(Length) -> DVec3, (mut low, mut high): (Length, Length), height: f64) -> Length {
    for _ in 0..30 {
        let middle = (low + high) / 2.0;
        if at(middle).z < height { low = middle } else { high = middle }
    }
    high
}

/// How far the plate, its sides along and across the car, reaches over the hole's edge where it reaches least.
fn covered(hole: &Hole, plate: &Plate) -> Length {
    let half = DVec2::new(plate.sides.0.value.mm(), plate.sides.1.value.mm()) / 2.0;
    let reach = hole.outline(360).into_iter().map(|point| (point - plate.centre.truncate()).abs());
    let most = reach.fold(DVec2::ZERO, DVec2::max);
    Length::from_mm((half - most).min_element())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::Hand;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;

    /// A front leg that leans rearward and inward at once, by vectors: its direction is from its foot to the next corner of
    /// its centre line; the turn is the arc cosine of what it has of straight ahead, on the side to which it points; going
    /// down by the drop it moves the drop times the tangent of its lean, and the hole's middle is half of that off the foot.
    #[test]
    fn a_leg_that_leans_both_ways_says_so_in_degrees_and_offsets() {
        let mut record = example_record();
        record.measures.retain(|measure, _| !measure.key().ends_with("_right"));
        let cage = solve(&record, &TUBES);
        let (drop, over) = (Length::from_mm(150.0), Length::from_mm(6.0));
        let mut description = Vec::new();
        for hole in holes(&cage, drop, over) {
            let plate = cage.plate(hole.plate).unwrap();
            let bar = cage.member(plate.under).unwrap();
            let corners = bar.line.points();
            let from_start = bar.ends[0] == End::OnPlate(plate.balloon);
            let (foot, next) = if from_start {
                (corners[0], corners[1])
            } else {
                (corners[corners.len() - 1], corners[corners.len() - 2])
            };
            let leg = next - foot;
            let flat = (leg.x * leg.x + leg.y * leg.y).sqrt();
            let says = hole.lies(plate, Units::Metric);
            description.push((plate.hand, plate.foot, says.clone()));
            if flat / leg.z.abs() < 1e-3 || hole.sway > SWAYS {
                continue;
            }
            let turn = (leg.x / flat).acos().to_degrees();
            let side = if leg.y > 0.0 { "left" } else { "right" };
            if leg.x.abs() > 1.0 && leg.y.abs() > 1.0 {
                assert!(says.contains(&format!("{turn:.1}° round to the {side} from straight ahead")), "{turn} {says}");
            }
            let lean = flat.atan2(leg.z.abs());
            assert!(
                says.contains(&format!("leans {:.1}° from upright", lean.to_degrees()).replace(".0°", "°")),
                "{says}"
            );
            let moved = drop.mm() * lean.tan();
            assert!((hole.travel.mm() - moved).abs() < 2.0 * lean.tan() + 1e-6, "{} {moved}", hole.travel.mm());
            let middle = foot.truncate() + leg.truncate() / flat * hole.travel.mm() / 2.0;
            assert!(hole.centre.distance(middle) < 1e-6, "{} {middle}", hole.centre);
            let off = middle - plate.centre.truncate();
            let outward = if plate.hand == Hand::Left { off.y } else { -off.y };
            let edges = [plate.sides.0.value.mm() / 2.0 - off.x, plate.sides.1.value.mm() / 2.0 - outward];
            for mm in edges {
                assert!(says.contains(&Length::from_mm(mm).by_tape(Units::Metric)), "{mm} {says}");
            }
        }
        let both = description.iter().filter(|(_, _, says)| says.contains(" and to the "));
        assert!(both.count() >= 2, "{description:?}");
        // The mirror picture says the same with left for right.
        for (hand, foot, says) in &description {
            let there = description.iter().find(|(other, kind, _)| other != hand && kind == foot).unwrap();
            let swapped = says.replace(" left", " LEFT").replace(" right", " left").replace(" LEFT", " right");
            assert_eq!(there.2, swapped);
        }
    }
}
