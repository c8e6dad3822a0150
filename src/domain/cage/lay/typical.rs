//! Typical measures in place of those that nobody took yet, so that a cage is drawn from the first figure on. What is
//! drawn by them is a picture: nothing is judged, cut or sent by it.

use std::collections::BTreeSet;

use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::fittings::{TubeRole, Tubes};
use crate::domain::cage::record::measures::{Hand, TapeMeasure};
use crate::domain::cage::record::options::{Diagonal, DoorBars, Options, RoofDiagonal};
use crate::quantity::{Length, Typed};

/// Which way a measure is taken: a long car is long all along.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Along,
    Across,
    Up,
    /// The same on a large car as on a small one.
    Fixed,
}

/// A middling two-door saloon (own choice; no car was measured for it), mm.
const fn middling(measure: TapeMeasure) -> (Way, f64) {
    use TapeMeasure as T;
    match measure {
        T::HoopFeetWidth => (Way::Across, 1235.0),
        T::HoopShoulderWidth => (Way::Across, 1295.0),
        T::HoopShoulderHeight => (Way::Up, 505.0),
        T::HoopRoofWidth => (Way::Across, 1005.0),
        T::HoopRoofHeight => (Way::Up, 1125.0),
        T::HoopLean => (Way::Fixed, 40.0),
        T::RoofInside => (Way::Up, 1160.0),
        T::HarnessBarHeight => (Way::Up, 715.0),
        T::DashBarHeight => (Way::Up, 640.0),
        T::HoopPlateHeight(_) => (Way::Fixed, 6.0),
        T::FrontFootForward(_) => (Way::Along, 1180.0),
        T::FrontFootOut(_) => (Way::Across, 640.0),
        T::FrontPlateHeight(_) => (Way::Fixed, 10.0),
        T::KneeForward(_) => (Way::Along, 1090.0),
        T::KneeOut(_) => (Way::Across, 655.0),
        T::KneeUp(_) => (Way::Up, 665.0),
        T::ScreenCornerForward(_) => (Way::Along, 695.0),
        T::ScreenCornerOut(_) => (Way::Across, 485.0),
        T::ScreenCornerUp(_) => (Way::Up, 1070.0),
        T::SillHeight(_) => (Way::Fixed, 165.0),
        T::SillBarTop(_) => (Way::Fixed, 80.0),
        T::DoorOpeningLength(_) => (Way::Along, 1060.0),
        T::DoorOpeningHeight(_) => (Way::Up, 840.0),
        T::BackstayFootBack(_) => (Way::Along, 860.0),
        T::BackstayFootOut(_) => (Way::Across, 460.0),
        T::BackstayFootUp(_) => (Way::Fixed, 365.0),
    }
}

/// Of two that one car has, the first is no more than the second.
fn no_more_than() -> Vec<(TapeMeasure, TapeMeasure)> {
    use TapeMeasure as T;
    let mut pairs = vec![
        (T::HoopRoofWidth, T::HoopShoulderWidth),
        (T::HoopShoulderHeight, T::HoopRoofHeight),
        (T::HoopRoofHeight, T::RoofInside),
    ];
    for hand in Hand::BOTH {
        pairs.extend([
            (T::KneeUp(hand), T::ScreenCornerUp(hand)),
            (T::ScreenCornerOut(hand), T::KneeOut(hand)),
            (T::ScreenCornerForward(hand), T::FrontFootForward(hand)),
        ]);
    }
    pairs
}

/// How much larger than the middling one a car is in one way, by what was measured of it; as large where nothing was.
fn larger(record: &CageRecord, way: Way) -> f64 {
    let taken = record.measures.iter().filter(|(measure, _)| way != Way::Fixed && middling(**measure).0 == way);
    let shares = taken.map(|(measure, typed)| typed.value.mm() / middling(*measure).1);
    let (sum, count) = shares.fold((0.0, 0.0), |(sum, count), share| (sum + share, count + 1.0));
    if count > 0.0 { sum / count } else { 1.0 }
}

/// A record without a gap, and what of it was guessed.
#[derive(Debug, Clone, PartialEq)]
pub struct Guessed {
    /// The record, its measures and radii all there.
    pub record: CageRecord,
    /// The measures that nobody took.
    pub measures: BTreeSet<TapeMeasure>,
}

/// The record with the pattern's measures where one is still to take, and typical ones where no pattern has it, as large as
/// what is known of the car says; and bends of three times the tube where no die was named (*common practice*).
pub fn guessed(record: &CageRecord, pattern: Option<&CageRecord>, tubes: &Tubes) -> Guessed {
    let mut known = record.clone();
    let missing = record.missing();
    for measure in &missing {
        let there = pattern.and_then(|pattern| pattern.taped(*measure)).filter(|typed| typed.value.is_finite());
        known.measures.extend(there.map(|typed| (*measure, typed.clone())));
    }
    let mut whole = known.clone();
    for measure in missing.iter().filter(|measure| !known.measures.contains_key(measure)) {
        let (way, typical) = middling(*measure);
        set(&mut whole, *measure, Length::from_mm(typical * larger(&known, way)));
    }
    for (less, more) in no_more_than() {
        let (Some(low), Some(high)) = (whole.measure(less), whole.measure(more)) else { continue };
        let share = middling(less).1 / middling(more).1;
        if low <= high {
            continue;
        }
        if missing.contains(&less) {
            set(&mut whole, less, high * share);
        } else if missing.contains(&more) {
            set(&mut whole, more, low / share);
        }
    }
    for role in TubeRole::BOTH {
        if let Some(radius) = pattern.and_then(|pattern| pattern.bend_radius.get(&role)) {
            whole.bend_radius.entry(role).or_insert_with(|| radius.clone());
        }
        whole.bend_radius.entry(role).or_insert_with(|| Typed::written(tubes.size(role).outside * 3.0));
    }
    Guessed { record: whole, measures: missing.into_iter().collect() }
}

fn set(record: &mut CageRecord, measure: TapeMeasure, value: Length) {
    let (least, most) = measure.bounds();
    let value = Length::from_mm(value.mm().clamp(least.mm(), most.mm()));
    record.measures.insert(measure, Typed::written(value));
}

/// What most cages have beside their structure, for a start (*common practice*; the book says what it asks): crosses
/// behind the seats and in the doors, a V in the roof, a bar for the harness.
pub fn usual_bars() -> Options {
    Options {
        hoop_diagonal: Diagonal::Cross,
        roof_diagonal: RoofDiagonal::VForward,
        door_left: DoorBars::Cross,
        door_right: DoorBars::Cross,
        harness_bar: true,
        ..Options::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::basic_structure::BasicStructure;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::record::measures::ORDER_OF_MEASURING;
    use crate::domain::cage::solve;
    use proptest::prelude::*;

    #[test]
    fn a_cage_stands_before_anything_is_measured() {
        for structure in BasicStructure::ALL {
            let record = CageRecord { structure, options: usual_bars(), ..CageRecord::default() };
            let Guessed { record, measures } = guessed(&record, None, &TUBES);
            let cage = solve(&record, &TUBES);
            // Plates are no measure of the car: nobody guesses them.
            let others = cage.faults.iter().filter(|fault| !fault.at.starts_with("plate_"));
            assert!(cage.whole && others.count() == 0, "{structure:?}: {:?}", cage.faults);
            assert!(measures.contains(&TapeMeasure::HoopRoofHeight));
        }
    }

    #[test]
    fn what_was_measured_stays_and_moves_the_rest() {
        let one = TapeMeasure::HoopShoulderWidth;
        let mut record = CageRecord { options: usual_bars(), ..CageRecord::default() };
        record.measures.insert(one, Typed::written(Length::from_mm(1295.0 * 1.1)));
        let wide = guessed(&record, None, &TUBES);
        assert_eq!(wide.record.measures.get(&one), record.measures.get(&one));
        assert!(!wide.measures.contains(&one));
        let roof = wide.record.measure(TapeMeasure::HoopRoofWidth).unwrap();
        assert!((roof.mm() - 1005.0 * 1.1).abs() < 1e-9);
        assert_eq!(wide.record.measure(TapeMeasure::HoopRoofHeight), Some(Length::from_mm(1125.0)));
    }

    /// The pattern goes before what is typical, and what was measured before the pattern.
    #[test]
    fn a_pattern_is_drawn_where_nothing_was_measured() {
        let pattern = example_record();
        let mut record = CageRecord { options: pattern.options.clone(), ..CageRecord::default() };
        let own = Typed::written(Length::from_mm(1201.0));
        record.measures.insert(TapeMeasure::HoopFeetWidth, own.clone());
        let Guessed { record: whole, measures } = guessed(&record, Some(&pattern), &TUBES);
        assert_eq!(whole.measures.get(&TapeMeasure::HoopFeetWidth), Some(&own));
        let knee = TapeMeasure::KneeUp(Hand::Left);
        assert_eq!(whole.measure(knee), pattern.measure(knee));
        assert!(measures.contains(&knee) && !measures.contains(&TapeMeasure::HoopFeetWidth));
        assert_eq!(whole.bend_radius, pattern.bend_radius);
    }

    #[test]
    fn nothing_of_a_whole_record_is_guessed() {
        let example = example_record();
        let Guessed { record, measures } = guessed(&example, None, &TUBES);
        assert!(measures.is_empty());
        assert_eq!(record, example);
    }

    proptest! {
        /// Whichever of the example's measures were taken, and however the car differs: the rest is guessed without a fault.
        #[test]
        fn whatever_was_measured_the_rest_goes_with_it(taken in prop::collection::vec(any::<bool>(), 41), by in 0.85..1.15_f64) {
            let mut record = example_record();
            record.numbers.clear();
            record.gussets.clear();
            for (measure, taken) in ORDER_OF_MEASURING.iter().zip(taken) {
                if !taken {
                    record.measures.remove(measure);
                } else if let Some(typed) = record.measures.get_mut(measure) {
                    *typed = Typed::written(typed.value * by);
                }
            }
            let whole = guessed(&record, None, &TUBES).record;
            prop_assert_eq!(whole.missing(), Vec::<TapeMeasure>::new());
            prop_assert_eq!(whole.faults(), Vec::new());
        }
    }
}
