//! Which way on the floor something points or lies, in the car's own words, and the diagonals across the feet.

use std::f64::consts::PI;

use glam::DVec2;

use super::goes_through;
use crate::domain::cage::{Cage, Hand, Plate};
use crate::domain::words::ids::Balloon;
use crate::quantity::{Angle, Length, Show as _, Units};

/// A direction within this of one of the four is told as that (own choice: no protractor on a floor shows it).
const STRAIGHT: Angle = Angle::from_degrees(0.05);
/// Diagonals that differ by less than this are told to be alike, with the difference (own choice: no tape shows it).
const ALIKE: Length = Length::from_mm(0.5);

/// A direction on the floor, seen from above: from straight ahead, to the left above nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heading(Angle);

impl Heading {
    /// Of a direction with x forward and y to the left; none of what has no direction.
    pub fn of(toward: DVec2) -> Option<Self> {
        let toward = toward.try_normalize()?;
        Some(Self(Angle::from_radians(toward.y.atan2(toward.x))))
    }

    /// The turn from straight ahead, to the left above nothing.
    pub const fn turn(self) -> Angle {
        self.0
    }

    /// In a plain sentence's part: "forward and to the left, 35.2° round from straight ahead".
    pub fn describe(self) -> String {
        let (turn, around) = (self.0.abs(), Angle::from_radians(PI));
        let side = if self.0 > Angle::default() { "to the left" } else { "to the right" };
        let across = (turn - around / 2.0).abs() < STRAIGHT;
        match () {
            () if turn < STRAIGHT => "straight forward".to_owned(),
            () if around - turn < STRAIGHT => "straight rearward".to_owned(),
            () if across => format!("straight {side}"),
            () => {
                let way = if turn < around / 2.0 { "forward" } else { "rearward" };
                format!("{way} and {side}, {} round {side} from straight ahead", turn.to_the_tenth())
            }
        }
    }
}

/// How far one point lies from another on the floor: "12 mm ahead of it and 3 mm to its left".
pub(super) fn beside(off: DVec2, units: Units) -> String {
    let part = |by: f64, plus: &str, minus: &str| {
        let far = Length::from_mm(by.abs()).by_tape(units);
        // What a tape shows as nothing is left out.
        (far != Length::default().by_tape(units)).then(|| format!("{far} {}", if by > 0.0 { plus } else { minus }))
    };
    let parts = [part(off.x, "ahead of it", "behind it"), part(off.y, "to its left", "to its right")];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    if parts.is_empty() { "right on it".to_owned() } else { parts.join(" and ") }
}

/// A point on the floor by two offsets from a plate's edges: its front edge, and the one toward the car's outside.
pub(super) fn from_edges(at: DVec2, plate: &Plate, units: Units) -> String {
    let off = at - plate.centre.truncate();
    let (edge, outward) = match plate.hand {
        Hand::Left => ("left", off.y),
        Hand::Right => ("right", -off.y),
    };
    let behind = plate.sides.0.value / 2.0 - Length::from_mm(off.x);
    let inside = plate.sides.1.value / 2.0 - Length::from_mm(outward);
    format!(
        "{} behind the plate's front edge and {} in from its {edge} edge",
        behind.by_tape(units),
        inside.by_tape(units)
    )
}

/// From a foot to the one across, foot's middle to foot's middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Diagonal {
    /// The plates under the two feet, the rear one first.
    pub feet: [Balloon; 2],
    /// How far apart the feet are.
    pub is: Length,
}

/// The two diagonals across the feet, the one from the left rear foot first.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagonals(pub [Diagonal; 2]);

impl Diagonals {
    /// Of the feet that go through the floor; none where a side has fewer than two.
    pub(super) fn of(cage: &Cage) -> Option<Self> {
        let ends = |hand: Hand| {
            let own = cage.plates.iter().filter(|plate| plate.hand == hand && goes_through(plate.foot));
            let rear = own.clone().min_by(|one, other| one.centre.x.total_cmp(&other.centre.x))?;
            let front = own.max_by(|one, other| one.centre.x.total_cmp(&other.centre.x))?;
            (rear.balloon != front.balloon).then_some((rear, front))
        };
        let (left, right) = (ends(Hand::Left)?, ends(Hand::Right)?);
        let diagonal = |rear: &Plate, front: &Plate| Diagonal {
            feet: [rear.balloon, front.balloon],
            is: Length::from_mm(rear.centre.distance(front.centre)),
        };
        Some(Self([diagonal(left.0, right.1), diagonal(right.0, left.1)]))
    }

    /// Both figures and by how much they differ.
    pub fn describe(&self, units: Units) -> String {
        let Self([one, other]) = self;
        let each = |of: &Diagonal| format!("{} to {} {}", of.feet[0], of.feet[1], of.is.by_tape_exactly(units));
        let off = (one.is - other.is).abs();
        let differ = if off < ALIKE {
            format!("alike, their difference is {}", off.show(units))
        } else {
            format!("not alike in the model, their difference is {}", off.show(units))
        };
        format!("{}, {}: {differ}", each(one), each(other))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::TapeMeasure;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;
    use crate::quantity::Typed;
    use glam::dvec2;

    /// By hand: the arc tangent of the two parts. 3 ahead and 4 to the left: 53.13°; the mirror picture is to the right.
    #[test]
    fn a_heading_is_told_round_from_straight_ahead() {
        for (toward, wanted) in [
            (dvec2(3.0, 4.0), "forward and to the left, 53.1° round to the left from straight ahead"),
            (dvec2(3.0, -4.0), "forward and to the right, 53.1° round to the right from straight ahead"),
            (dvec2(-4.0, 3.0), "rearward and to the left, 143.1° round to the left from straight ahead"),
            (dvec2(-4.0, -3.0), "rearward and to the right, 143.1° round to the right from straight ahead"),
            (dvec2(1.0, 0.0), "straight forward"),
            (dvec2(-2.0, 0.0), "straight rearward"),
            (dvec2(0.0, 2.0), "straight to the left"),
            (dvec2(0.0, -2.0), "straight to the right"),
        ] {
            assert_eq!(Heading::of(toward).unwrap().describe(), wanted);
        }
        assert_eq!(Heading::of(DVec2::ZERO), None);
    }

    #[test]
    fn an_offset_is_told_in_the_cars_words() {
        assert_eq!(beside(dvec2(12.0, -3.0), Units::Metric), "12 mm ahead of it and 3 mm to its right");
        assert_eq!(beside(dvec2(-25.4, 0.0), Units::Inch), "1 in behind it");
        assert_eq!(beside(dvec2(-9.5, 0.6), Units::Inch), "3/8 in behind it");
        assert_eq!(beside(DVec2::ZERO, Units::Inch), "right on it");
    }

    /// Both diagonals by the theorem of Pythagoras from the plates' middles; a car measured alike on both sides has them
    /// alike, one whose left front plate is 20 mm higher does not.
    #[test]
    fn the_diagonals_are_told_with_their_difference() {
        let mut alike = example_record();
        alike.measures.retain(|measure, _| !measure.key().ends_with("_right"));
        let cage = solve(&alike, &TUBES);
        let feet = Diagonals::of(&cage).unwrap();
        for diagonal in feet.0 {
            let [from, to] = diagonal.feet.map(|foot| cage.plate(foot).unwrap().centre.to_array());
            let by_hand = from.iter().zip(to).map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt();
            assert!((diagonal.is.mm() - by_hand).abs() < 1e-9);
        }
        assert!(
            feet.describe(Units::Metric).ends_with("mm: alike, their difference is 0 mm"),
            "{}",
            feet.describe(Units::Metric)
        );
        let mut record = example_record();
        let higher = record.measure(TapeMeasure::FrontPlateHeight(Hand::Left)).unwrap() + Length::from_mm(120.0);
        record.measures.insert(TapeMeasure::FrontPlateHeight(Hand::Left), Typed::written(higher));
        let cage = solve(&record, &TUBES);
        let feet = Diagonals::of(&cage).unwrap();
        let [one, other] = feet.0.map(|diagonal| diagonal.is);
        assert!((one - other).abs() > Length::from_mm(1.0), "{one:?} {other:?}");
        let description = feet.describe(Units::Metric);
        let words = format!("not alike in the model, their difference is {}", (one - other).abs().show(Units::Metric));
        assert!(description.ends_with(&words) && description.contains(&one.show(Units::Metric)), "{description}");
    }
}
