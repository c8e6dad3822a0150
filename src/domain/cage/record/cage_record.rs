//! The cage as it is stored: measurements, choices, plates, gussets and the numbers given out.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::basic_structure::BasicStructure;
use super::body;
use super::body::BodyPlace;
use super::by_hand;
use super::by_hand::HandBar;
use super::fittings::{Foot, GussetRecord, PlateRecord, TubeOverride, TubeRole};
use super::measures::{Hand, ORDER_OF_MEASURING, TapeMeasure};
use super::options::{Options, SEAT_CROSS_BARS};
use super::seats;
use super::seats::SeatRecord;
use crate::domain::cage::hole::GussetHole;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::Balloon;
use crate::domain::words::limits;
use crate::quantity::{Length, Typed};

/// Most gussets of one cage (own choice).
const GUSSETS: usize = 200;

/// Everything stored of a cage. What follows from it is worked out by [`crate::domain::cage::solve()`].
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct CageRecord {
    /// The tape measurements, as typed.
    pub measures: BTreeMap<TapeMeasure, Typed<Length>>,
    /// What the bars chosen brace; of records from before there was a choice, main hoop and half hoops.
    pub structure: BasicStructure,
    /// The bars chosen beside it.
    pub options: Options,
    /// The bars added by hand, in the order they were added.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub hand_bars: Vec<HandBar>,
    /// Where the body is, near the bars.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub body: Vec<BodyPlace>,
    /// The ball that a torch's head goes through; where none is said, the usual one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub torch_radius: Option<Typed<Length>>,
    /// Who sits in it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub seats: Vec<SeatRecord>,
    /// The plates, by kind of foot.
    pub plates: BTreeMap<Foot, PlateRecord>,
    /// The gussets.
    pub gussets: Vec<GussetRecord>,
    /// The dies' centre-line radius, by tube.
    pub bend_radius: BTreeMap<TubeRole, Typed<Length>>,
    /// Bars with a tube of their own, by key.
    pub tubes: BTreeMap<String, TubeOverride>,
    /// The numbers given out, by key: it only grows.
    pub numbers: BTreeMap<String, Balloon>,
}

impl CageRecord {
    /// A measurement's value: a right one that is not typed follows the left.
    pub fn measure(&self, measure: TapeMeasure) -> Option<Length> {
        self.taped(measure).map(|typed| typed.value).filter(|value| value.is_finite())
    }

    /// The same as it was typed.
    pub fn taped(&self, measure: TapeMeasure) -> Option<&Typed<Length>> {
        let own = self.measures.get(&measure);
        match measure.hand() {
            Some(Hand::Right) => own.or_else(|| self.measures.get(&measure.mirrored())),
            _ => own,
        }
    }

    /// The measurements still to take for the bars chosen, in the order of measuring.
    pub fn missing(&self) -> Vec<TapeMeasure> {
        let needed = ORDER_OF_MEASURING.iter().copied().filter(|measure| self.options.needs(*measure));
        needed.filter(|measure| self.measure(*measure).is_none()).collect()
    }

    /// The key of a balloon, if it was given out.
    pub fn key_of(&self, balloon: Balloon) -> Option<&str> {
        self.numbers.iter().find(|entry| *entry.1 == balloon).map(|entry| entry.0.as_str())
    }

    /// What cannot be stored: figures out of bounds or against each other. What is only missing is no fault.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = self.measure_faults();
        faults.extend(self.shape_faults());
        faults.extend(self.part_faults());
        if self.options.seat_cross_bars > SEAT_CROSS_BARS {
            faults.push(Fault::new("seat_cross_bars", format!("At most {SEAT_CROSS_BARS} seat cross bars.")));
        }
        let mut given: Vec<Balloon> = self.numbers.values().copied().collect();
        given.sort_unstable();
        for (one, next) in given.iter().zip(given.iter().skip(1)) {
            if one == next {
                faults.push(Fault::new(one.to_string(), "This number was given to two parts; a number is given once."));
            }
        }
        faults
    }

    fn measure_faults(&self) -> Vec<Fault> {
        let out = |(measure, typed): (&TapeMeasure, &Typed<Length>)| {
            let (least, most) = measure.bounds();
            let within = typed.value.is_finite() && typed.value >= least && typed.value <= most;
            let why = format!(
                "“{}” is out of bounds: {} fits. Measure again, or check the unit.",
                typed.text,
                Length::between(least, most)
            );
            (!within).then(|| Fault::new(measure.key(), why))
        };
        self.measures.iter().filter_map(out).collect()
    }

    /// Measurements that cannot all be right.
    fn shape_faults(&self) -> Vec<Fault> {
        use TapeMeasure as T;
        let mut faults = Vec::new();
        let mut under = |low: T, high: T, why: &str| {
            if let (Some(less), Some(more)) = (self.measure(low), self.measure(high))
                && less > more
            {
                faults.push(Fault::new(low.key(), why));
            }
        };
        let wider = if self.structure.has_main_hoop() {
            "The hoop would be wider at the roof than at its shoulder; measure both again."
        } else {
            "The hoops would stand wider apart at the roof than at the shoulders; measure both again."
        };
        under(T::HoopRoofWidth, T::HoopShoulderWidth, wider);
        under(T::HoopShoulderHeight, T::HoopRoofHeight, "The shoulder would be over the roof; measure both again.");
        under(T::HoopRoofHeight, T::RoofInside, "The hoop would stand higher than the roof inside; lower it.");
        for hand in Hand::BOTH {
            under(
                T::HoopPlateHeight(hand),
                T::HoopShoulderHeight,
                "The plate would be over the hoop's shoulder; measure both again.",
            );
            under(
                T::FrontPlateHeight(hand),
                T::KneeUp(hand),
                "The front foot's plate would be over the pillar's knee; measure both again.",
            );
            under(
                T::KneeUp(hand),
                T::ScreenCornerUp(hand),
                "The pillar's knee would be over the screen's upper corner; measure both again.",
            );
            under(
                T::ScreenCornerOut(hand),
                T::KneeOut(hand),
                match self.structure {
                    BasicStructure::FrontHoop => {
                        "The front hoop would be wider at its top than the body at the dash; measure both again."
                    }
                    _ => "The tube down the pillar would lean outward to its top; measure both again.",
                },
            );
            under(
                T::ScreenCornerForward(hand),
                T::FrontFootForward(hand),
                "The screen's upper corner would be in front of the front foot; measure both again.",
            );
        }
        faults.extend(self.folded_roof());
        faults
    }

    /// The tube along the roof runs forward from the hoop's top; with the screen behind that it would turn back.
    fn folded_roof(&self) -> Vec<Fault> {
        let top = self.measure(TapeMeasure::HoopLean).map(|lean| -lean);
        let corners = Hand::BOTH.map(TapeMeasure::ScreenCornerForward);
        let behind =
            corners.into_iter().filter(|corner| top.zip(self.measure(*corner)).is_some_and(|(top, at)| at <= top));
        let why = "The screen's upper corner would be behind the hoop's top, and the tube along the roof would bend back \
                   on itself; measure both again.";
        behind.map(|corner| Fault::new(corner.key(), why)).collect()
    }

    fn part_faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let mut within = |at: String, typed: &Typed<Length>, most: f64| {
            let value = typed.value;
            if !(value.is_finite() && value > Length::default() && value <= Length::from_mm(most)) {
                let why = format!(
                    "“{}”: more than nothing and at most {} fits.",
                    typed.text,
                    Length::at_most(Length::from_mm(most))
                );
                faults.push(Fault::new(at, why));
            }
        };
        for (foot, plate) in &self.plates {
            within(format!("plate_{}_side_a", foot.key()), &plate.side_a, 600.0);
            within(format!("plate_{}_side_b", foot.key()), &plate.side_b, 600.0);
            within(format!("plate_{}_thickness", foot.key()), &plate.thickness, 25.0);
        }
        for (role, radius) in &self.bend_radius {
            within(format!("bend_radius_{}", role.key()), radius, 1_000.0);
        }
        for (number, gusset) in (1..).zip(self.gussets.iter().take(GUSSETS)) {
            within(format!("gusset_{number}_leg"), &gusset.leg, 600.0);
            within(format!("gusset_{number}_thickness"), &gusset.thickness, 10.0);
            if let GussetHole::Across(hole) = &gusset.hole {
                within(format!("gusset_{number}_hole"), hole, 300.0);
            }
        }
        if self.gussets.len() > GUSSETS {
            faults.push(Fault::new("gussets", format!("At most {GUSSETS} gussets.")));
        }
        faults.extend(by_hand::faults(&self.hand_bars));
        faults.extend(body::faults(&self.body, self.torch_radius.as_ref()));
        faults.extend(seats::faults(&self.seats));
        for (key, tube) in &self.tubes {
            let at = format!("tube/{key}");
            faults.extend(tube.tube.faults_at(&at));
            faults.extend(limits::title_faults(&format!("{at}/reason"), &tube.reason));
            if let Some(grade) = &tube.grade {
                faults.extend(limits::title_faults(&format!("{at}/grade"), grade));
            }
        }
        faults
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::example_record;

    fn faulty(change: impl Fn(&mut CageRecord)) -> Vec<String> {
        let mut record = example_record();
        change(&mut record);
        record.faults().into_iter().map(|fault| fault.at).collect()
    }

    fn typed(inches: f64) -> Typed<Length> {
        Typed::of(Length::from_inches(inches), format!("{inches} in"))
    }

    #[test]
    fn what_cannot_be_is_named_at_its_field() {
        assert_eq!(faulty(|_| {}), Vec::<String>::new());
        let set = |measure, inches| faulty(move |record| drop(record.measures.insert(measure, typed(inches))));
        assert_eq!(set(TapeMeasure::HoopRoofWidth, 60.0), ["hoop_roof_width"]);
        assert_eq!(set(TapeMeasure::HoopRoofHeight, 45.0), ["hoop_roof_height"]);
        assert_eq!(set(TapeMeasure::HoopFeetWidth, 4.8), ["hoop_feet_width"]);
        let plate = faulty(|record| {
            for plate in record.plates.values_mut() {
                plate.thickness = typed(0.0);
            }
        });
        assert_eq!(plate, ["plate_main_hoop_thickness", "plate_front_thickness", "plate_backstay_thickness"]);
    }

    /// Hoops that no car has room for, and tubes that would turn back, are refused in words on each structure.
    #[test]
    fn shapes_that_cannot_be_are_refused_on_each_structure() {
        let left = Hand::Left;
        for structure in BasicStructure::ALL {
            let why = |changes: &[(TapeMeasure, f64)]| -> Vec<String> {
                let mut record = CageRecord { structure, ..example_record() };
                for (measure, inches) in changes {
                    record.measures.insert(*measure, typed(*inches));
                }
                record.faults().into_iter().map(|fault| format!("{}: {}", fault.at, fault.why)).collect()
            };
            let has = |changes: &[(TapeMeasure, f64)], at: &str, words: &str| {
                let description = why(changes);
                assert!(
                    description.iter().any(|line| line.starts_with(at) && line.contains(words)),
                    "{structure:?}: {description:?}"
                );
            };
            assert_eq!(why(&[]), Vec::<String>::new(), "{structure:?}");
            has(&[(TapeMeasure::HoopRoofWidth, 60.0)], "hoop_roof_width", "at the roof than at");
            has(&[(TapeMeasure::ScreenCornerOut(left), 26.0)], "screen_corner_out_left", "; measure both again.");
            has(&[(TapeMeasure::KneeUp(left), 43.0)], "knee_up_left", "over the screen's upper corner");
            let forward = [(TapeMeasure::ScreenCornerForward(left), 8.0), (TapeMeasure::HoopLean, -9.0)];
            has(&forward, "screen_corner_forward_left", "bend back on itself");
            has(&[(TapeMeasure::KneeUp(left), 6.0), (TapeMeasure::FrontPlateHeight(left), 7.0)], "front_plate", "knee");
        }
    }

    /// A record from before there was a choice has main hoop and half hoops.
    #[test]
    fn a_record_without_a_structure_has_half_hoops() {
        let mut older = serde_json::to_value(example_record()).unwrap();
        assert!(older.as_object_mut().unwrap().remove("structure").is_some());
        assert_eq!(serde_json::from_value::<CageRecord>(older).unwrap(), example_record());
        for structure in BasicStructure::ALL {
            let text = serde_json::to_string(&CageRecord { structure, ..CageRecord::default() }).unwrap();
            assert!(text.contains(&format!("\"structure\":\"{}\"", structure.key())), "{text}");
            assert_eq!(structure.key().parse(), Ok(structure));
        }
    }

    #[test]
    fn the_right_follows_the_left_until_it_is_typed() {
        let mut record = example_record();
        let (left, right) = (TapeMeasure::KneeUp(Hand::Left), TapeMeasure::KneeUp(Hand::Right));
        assert_eq!(record.measure(right), record.measure(left));
        record.measures.insert(right, typed(25.0));
        assert_eq!(record.measure(right), Some(Length::from_inches(25.0)));
        record.measures.remove(&left);
        assert_eq!(record.missing(), [left]);
    }

    #[test]
    fn unknown_fields_are_refused() {
        let wrong = serde_json::from_str::<CageRecord>(r#"{"measures": {}, "colour": "red"}"#);
        assert!(wrong.unwrap_err().to_string().contains("colour"));
        let measure = serde_json::from_str::<CageRecord>(r#"{"measures": {"elbow": {"value": 1.0, "text": "1"}}}"#);
        assert!(measure.unwrap_err().to_string().contains("elbow"));
    }
}
