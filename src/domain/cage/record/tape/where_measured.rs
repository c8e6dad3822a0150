//! Where each measurement lies in the car, so that a screen can draw it while it is asked for.

use glam::DVec3;

use crate::domain::cage::record::cage_record::CageRecord;
use crate::domain::cage::record::measures::{Hand, TapeMeasure};
use crate::quantity::Length;

/// The two points between which a measurement is taken, mm; none while the measurements it stands on are missing.
pub fn drawn(measure: TapeMeasure, record: &CageRecord) -> Option<(DVec3, DVec3)> {
    use TapeMeasure as T;
    let at = |measure: T| record.measure(measure).map(Length::mm);
    let value = at(measure)?;
    let level = |point: DVec3| (DVec3::new(point.x, point.y, 0.0), point);
    match measure {
        T::HoopFeetWidth => Some(across(0.0, value, 0.0)),
        T::HoopShoulderWidth => Some(across(0.0, value, at(T::HoopShoulderHeight)?)),
        T::HoopRoofWidth => Some(across(-at(T::HoopLean)?, value, at(T::HoopRoofHeight)?)),
        T::HoopShoulderHeight => Some(level(DVec3::new(0.0, at(T::HoopShoulderWidth)? / 2.0, value))),
        T::HoopRoofHeight | T::RoofInside | T::HarnessBarHeight => Some(level(DVec3::new(0.0, 0.0, value))),
        T::DashBarHeight => Some(level(DVec3::new(at(T::KneeForward(Hand::Left))?, 0.0, value))),
        T::HoopLean => {
            let top = DVec3::new(0.0, 0.0, at(T::HoopRoofHeight)?);
            Some((top, top - DVec3::X * value))
        }
        _ => on_a_side(measure, value, record),
    }
}

fn across(forward: f64, width: f64, up: f64) -> (DVec3, DVec3) {
    (DVec3::new(forward, width / 2.0, up), DVec3::new(forward, -width / 2.0, up))
}

fn on_a_side(measure: TapeMeasure, value: f64, record: &CageRecord) -> Option<(DVec3, DVec3)> {
    use TapeMeasure as T;
    let hand = measure.hand()?;
    let at = |measure: T| record.measure(measure).map(Length::mm);
    let point = |[forward, out, up]: [T; 3]| Some(DVec3::new(at(forward)?, hand.sign() * at(out)?, at(up)?));
    let front = [T::FrontFootForward(hand), T::FrontFootOut(hand), T::FrontPlateHeight(hand)];
    let knee = [T::KneeForward(hand), T::KneeOut(hand), T::KneeUp(hand)];
    let corner = [T::ScreenCornerForward(hand), T::ScreenCornerOut(hand), T::ScreenCornerUp(hand)];
    let back = [T::BackstayFootBack(hand), T::BackstayFootOut(hand), T::BackstayFootUp(hand)];
    for (number, named) in [front, knee, corner, back].into_iter().enumerate() {
        let Some(place) = named.iter().position(|one| *one == measure) else { continue };
        let mut end = point(named)?;
        if number == 3 {
            end.x = -end.x;
        }
        let start = match place {
            0 => DVec3::new(0.0, end.y, end.z),
            1 => DVec3::new(end.x, 0.0, end.z),
            _ => DVec3::new(end.x, end.y, 0.0),
        };
        return Some((start, end));
    }
    let foot = hand.sign() * at(T::HoopFeetWidth)? / 2.0;
    match measure {
        T::HoopPlateHeight(_) => Some((DVec3::new(0.0, foot, 0.0), DVec3::new(0.0, foot, value))),
        _ => in_the_door(measure, value, record),
    }
}

/// The door's measurements are drawn beside the foot, half way from the hoop to the front foot.
fn in_the_door(measure: TapeMeasure, value: f64, record: &CageRecord) -> Option<(DVec3, DVec3)> {
    use TapeMeasure as T;
    let hand = measure.hand()?;
    let at = |measure: T| record.measure(measure).map(Length::mm);
    let forward = at(T::FrontFootForward(hand))?;
    let out = hand.sign() * at(T::FrontFootOut(hand))?;
    let place = |up: f64| DVec3::new(forward / 2.0, out, up);
    match measure {
        T::SillHeight(_) => Some((place(0.0), place(value))),
        T::SillBarTop(_) | T::DoorOpeningHeight(_) => {
            let sill = at(T::SillHeight(hand))?;
            Some((place(sill), place(sill + value)))
        }
        T::DoorOpeningLength(_) => {
            let middle = place(at(T::SillHeight(hand))?);
            Some((middle + DVec3::X * (value / 2.0), middle - DVec3::X * (value / 2.0)))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::basic_structure::BasicStructure;
    use crate::domain::cage::record::example::{TUBES, example_on, example_record};
    use crate::domain::cage::record::measures::ORDER_OF_MEASURING;
    use crate::domain::cage::solve;

    /// What is drawn is as long as what was measured, whichever way it lies.
    #[test]
    fn each_measurement_is_drawn_as_long_as_it_is() {
        let record = example_record();
        let mut seen = 0;
        for measure in ORDER_OF_MEASURING {
            let Some(value) = record.measure(*measure) else { continue };
            let (from, to) = drawn(*measure, &record).unwrap();
            // Measured along one axis of the car, so the drawing keeps to it.
            let apart = (to - from).abs();
            let length = apart.max_element();
            assert!((length - value.mm().abs()).abs() < 1e-9, "{measure}: {length}");
            assert!((apart.element_sum() - length).abs() < 1e-9, "{measure} is not along an axis");
            seen += 1;
        }
        // All but the height of the dash bar, which stays at the knees.
        assert_eq!(seen, ORDER_OF_MEASURING.len() - 1);
    }

    /// On each structure the tape ends where a hoop bends: the same points are another bar's.
    #[test]
    fn the_tape_ends_at_a_bend_of_each_structure() {
        for structure in BasicStructure::ALL {
            let record = example_on(structure);
            let cage = solve(&record, &TUBES);
            let corners: Vec<DVec3> =
                cage.members.iter().flat_map(|member| member.line.bends()).map(|bend| bend.corner).collect();
            for hand in Hand::BOTH {
                for measure in [TapeMeasure::KneeUp(hand), TapeMeasure::ScreenCornerForward(hand)] {
                    let (_, end) = drawn(measure, &record).unwrap();
                    assert!(corners.iter().any(|corner| corner.distance(end) < 1e-6), "{structure:?} {measure}");
                }
            }
        }
    }
}
