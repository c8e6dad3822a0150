//! The lowering plan: a cage let down through its floor so that a torch reaches the far side of the roof's joints, and
//! brought up again. Worked out from the model and a few figures; the tool approves nothing.

mod bars;
mod heading;
mod holes;
mod roof;
mod shots;
mod reckoned;

use crate::domain::cage::{Cage, CageRecord, End, Foot, Hand, TapeMeasure};
use crate::domain::recorded::lowering::Settings;
use crate::domain::words::ids::Balloon;
use crate::quantity::Length;

pub use bars::{LeftOut, Placed, Why};
pub use heading::{Diagonal, Diagonals, Heading};
pub use holes::{Hole, slot};
pub use reckoned::{GUSSETS, TAKEN};
pub use roof::{LOOKS_UP, RoofJoint};
pub use shots::shot_under;

/// What may lie under a hole; each is ticked when none of it is there, or it was moved out of the way (*common
/// practice*).
pub const UNDER: [(&str, &str); 6] = [
    ("lines", "Brake, fuel and clutch lines"),
    ("tank", "Fuel tank, filler and pump"),
    ("harness", "Wiring harness and battery cable"),
    ("frame", "Frame rail, cross member, jacking point"),
    ("exhaust", "Exhaust, shafts, cables"),
    ("other", "Whatever else may not be cut or burnt"),
];

/// What is done on the way back up, in order.
pub const UP: [(&str, &str); 4] = [
    ("plates", "Plates lie under all feet"),
    ("feet", "Every foot stands on its plate"),
    ("heights", "All heights below are as measured"),
    ("square", "Both diagonals across the feet are as the figures say"),
];

/// The place of the way back up among the looks; the others are the plates over which the holes are.
pub const WAY_UP: &str = "up";

/// A joint whose weld is laid while the cage is down.
#[derive(Debug, Clone, PartialEq)]
pub struct Weld {
    /// The joint.
    pub joint: Balloon,
    /// What they stand on.
    pub carrier: Balloon,
    /// The bars whose ends are welded now.
    pub now: Vec<Balloon>,
    /// The bars that come to this joint when the cage is up again.
    pub later: Vec<Balloon>,
}

impl Weld {
    /// What is welded, as it is asked and frozen: "M2 onto M1".
    pub fn describe(&self) -> String {
        let bars: Vec<String> = self.now.iter().map(ToString::to_string).collect();
        format!("{} onto {}", bars.join(" and "), self.carrier)
    }
}

/// A height that is checked when the cage is up again.
#[derive(Debug, Clone, PartialEq)]
pub struct Height {
    /// What is measured.
    pub what: String,
    /// What it must be: over the floor's level.
    pub is: Length,
    /// As it was typed when the car was measured.
    pub typed: String,
}

/// How a cage is lowered, worked out from the model.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The figures it is made with.
    pub settings: Settings,
    /// The roof inside at the hoop; none while nobody measured it.
    pub roof: Option<Length>,
    /// Every joint of the roof with a seam that looks up.
    pub joints: Vec<RoofJoint>,
    /// How far the cage comes down.
    pub drop: Length,
    /// How far the car's floor must stand over the shop's, so that the legs have room.
    pub under: Length,
    /// The holes.
    pub holes: Vec<Hole>,
    /// The bars tacked before, each after those it stands on.
    pub first: Vec<Placed>,
    /// The bars fitted afterwards, each after those it stands on.
    pub after: Vec<Placed>,
    /// Why each of those is left out.
    pub left_out: Vec<LeftOut>,
    /// The joints welded while the cage is down.
    pub welds: Vec<Weld>,
    /// Ends that look up, have no room in place, and are of bars left out: joint and bar.
    pub out_of_reach: Vec<(Balloon, Balloon)>,
    /// What is checked on the way up.
    pub heights: Vec<Height>,
    /// The diagonals across the feet, checked then; none where a side has fewer than two feet through the floor.
    pub diagonals: Option<Diagonals>,
}

impl Plan {
    /// The plan of a cage with these figures; none without a foot that could go through the floor.
    pub fn of(record: &CageRecord, cage: &Cage, settings: &Settings) -> Option<Self> {
        let joints = roof::joints(record, cage, settings);
        let drop = joints.iter().map(|joint| joint.short).reduce(|one, two| if two > one { two } else { one });
        let drop = drop.unwrap_or_default();
        let holes = holes::holes(cage, drop, settings.over.value);
        if holes.is_empty() {
            return None;
        }
        let left_out = bars::left_out(record, cage, drop);
        let is_out = |bar: Balloon| left_out.iter().any(|out| out.bar == bar);
        let (mut welds, mut out_of_reach) = (Vec::new(), Vec::new());
        for joint in joints.iter().filter(|joint| joint.short > Length::default()) {
            let (later, now): (Vec<Balloon>, Vec<Balloon>) = joint.ends.iter().partition(|bar| is_out(**bar));
            out_of_reach.extend(later.iter().map(|bar| (joint.joint, *bar)));
            if !now.is_empty() {
                welds.push(Weld { joint: joint.joint, carrier: joint.carrier, now, later });
            }
        }
        let order = bars::order(cage);
        let (after, first) = order.into_iter().partition(|placed| is_out(placed.bar));
        let deepest = holes.iter().map(|hole| drop.mm() - hole.foot.z).fold(0.0, f64::max);
        Some(Self {
            settings: settings.clone(),
            roof: record.measure(TapeMeasure::RoofInside),
            joints,
            drop,
            under: Length::from_mm(deepest),
            holes,
            first,
            after,
            left_out,
            welds,
            out_of_reach,
            heights: heights(record),
            diagonals: Diagonals::of(cage),
        })
    }

    /// What is asked of the scrutineer: each joint and the ends welded there.
    pub fn asks(&self) -> crate::domain::recorded::rounds::Early {
        self.welds.iter().map(|weld| (weld.joint, weld.describe())).collect()
    }

    /// By how much the stated room under the car is too little; none where it is enough, or not stated.
    pub fn short_under(&self) -> Option<Length> {
        let there = self.settings.under.as_ref()?.value;
        (there < self.under).then(|| self.under - there)
    }
}

/// The measurements that tell whether the cage stands where it was measured to stand.
fn heights(record: &CageRecord) -> Vec<Height> {
    use TapeMeasure as T;
    let [left, right] = Hand::BOTH;
    let wanted = [
        T::HoopPlateHeight(left),
        T::HoopPlateHeight(right),
        T::FrontPlateHeight(left),
        T::FrontPlateHeight(right),
        T::HoopRoofHeight,
        T::ScreenCornerUp(left),
        T::ScreenCornerUp(right),
    ];
    let height = |measure: T| {
        let is = record.measure(measure)?;
        let own = record.measures.get(&measure).or_else(|| record.measures.get(&measure.mirrored()));
        Some(Height { what: measure.word(), is, typed: own.map(|typed| typed.text.clone()).unwrap_or_default() })
    };
    wanted.into_iter().filter_map(height).collect()
}

/// Whether a foot goes through the floor: all but the backstays', which stand on the rear of the body.
const fn goes_through(foot: Foot) -> bool {
    !matches!(foot, Foot::Backstay)
}

/// The plates that a bar stands on.
fn plates_of(ends: &[End; 2]) -> impl Iterator<Item = Balloon> + '_ {
    ends.iter().filter_map(|end| if let End::OnPlate(plate) = end { Some(*plate) } else { None })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::BasicStructure;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;
    use crate::quantity::Typed;

    fn plan(change: impl Fn(&mut CageRecord, &mut Settings)) -> (Cage, Plan) {
        let (mut record, mut settings) = (example_record(), Settings::default());
        change(&mut record, &mut settings);
        let cage = solve(&record, &TUBES);
        let plan = Plan::of(&record, &cage, &settings).unwrap();
        (cage, plan)
    }

    fn named<'c>(cage: &'c Cage, bars: impl Iterator<Item = Balloon> + 'c) -> Vec<&'c str> {
        bars.map(|bar| cage.member(bar).unwrap().key.as_str()).collect()
    }

    /// By hand: the hoop's top is 43 5/8 in to its middle, 44 3/8 in to its upper side; the roof there is 44 7/8 in, so
    /// 1/2 in is free and 5 1/2 in of the torch's 6 are missing. At the header nobody measured the roof: nothing is
    /// taken to be free, and 6 in it is. The lowest foot's plate is 1/4 in over the floor: 5 3/4 in stick out below.
    #[test]
    fn the_example_comes_down_by_what_the_torch_lacks() {
        let (cage, with) = plan(|_, _| {});
        assert_eq!(with.drop, Length::from_inches(6.0));
        assert_eq!(with.under, Length::from_inches(5.75));
        let corner = cage.joints.iter().find(|joint| joint.key.contains("half-hoop/left/start")).unwrap();
        let at_hoop = with.joints.iter().find(|joint| joint.joint == corner.balloon).unwrap();
        assert!(at_hoop.roof.is_some() && at_hoop.ends.len() >= 2, "{at_hoop:?}");
        // With the roof measured over the header too, each joint lacks only what it lacks.
        let front = Typed::of(Length::from_inches(43.25), "43 1/4");
        let (_, measured) = plan(|_, settings| settings.roof_front = Some(front.clone()));
        assert!(measured.drop < with.drop && measured.drop > Length::from_inches(4.5), "{}", measured.drop.inches());
        let (_, roofless) = plan(|record, _| drop(record.measures.remove(&TapeMeasure::RoofInside)));
        assert_eq!((roofless.roof, roofless.drop), (None, Length::from_inches(6.0)));
        // Room enough over every joint: nothing to lower for.
        let high = Typed::of(Length::from_inches(60.0), "60");
        let (_, roomy) = plan(|record, settings| {
            record.measures.insert(TapeMeasure::RoofInside, high.clone());
            settings.roof_front = Some(high.clone());
        });
        assert_eq!((roomy.drop, roomy.welds.len(), roomy.left_out.len()), (Length::default(), 0, 2));
    }

    #[test]
    fn what_would_hit_floor_or_sill_or_tie_the_feet_is_fitted_afterwards() {
        let (cage, plan) = plan(|_, _| {});
        let first = named(&cage, plan.first.iter().map(|placed| placed.bar));
        for key in ["main-hoop", "half-hoop/left", "half-hoop/right", "header", "roof-diagonal/left", "dash-bar"] {
            assert!(first.contains(&key), "{key}: {first:?}");
        }
        let after = named(&cage, plan.after.iter().map(|placed| placed.bar));
        for key in ["backstay/left", "hoop-diagonal/left", "door-bar/left/high", "sill-bar/right", "pillar-strut/left"]
        {
            assert!(after.contains(&key), "{key}: {after:?}");
        }
        assert_eq!(first.len() + after.len(), cage.members.len());
        assert_eq!(plan.after.len(), plan.left_out.len());
        // Whatever a bar stands on comes before it, in its half of the work or in the earlier one.
        let order: Vec<Balloon> = plan.first.iter().chain(&plan.after).map(|placed| placed.bar).collect();
        for placed in plan.first.iter().chain(&plan.after) {
            let own = order.iter().position(|bar| *bar == placed.bar).unwrap();
            for needed in &placed.needs {
                assert!(order.iter().position(|bar| bar == needed).unwrap() < own, "{} before {needed}", placed.bar);
            }
        }
    }

    #[test]
    fn only_joints_of_bars_that_are_there_are_welded_while_it_is_down() {
        let (_, plan) = plan(|_, _| {});
        assert!(!plan.welds.is_empty());
        let out = |bar: &Balloon| plan.left_out.iter().any(|left| left.bar == *bar);
        for weld in &plan.welds {
            assert!(!weld.now.iter().any(out) && weld.later.iter().all(out) && !out(&weld.carrier), "{weld:?}");
            assert_eq!(plan.asks().get(&weld.joint), Some(&weld.describe()));
        }
        assert!(plan.out_of_reach.iter().all(|(_, bar)| out(bar)));
    }

    /// Whichever way the cage is built: four legs go through, the backstays stay out, the roof's joints are found.
    #[test]
    fn each_basic_structure_has_its_plan() {
        for structure in BasicStructure::ALL {
            let (cage, plan) = plan(|record, _| {
                record.structure = structure;
                *record = record.numbered_for(&TUBES);
            });
            assert_eq!((plan.holes.len(), plan.drop), (4, Length::from_inches(6.0)), "{structure:?}");
            assert!(!plan.welds.is_empty(), "{structure:?}");
            let out = named(&cage, plan.left_out.iter().map(|left| left.bar));
            assert!(out.contains(&"backstay/left") && out.contains(&"backstay/right"), "{structure:?}: {out:?}");
        }
    }

    #[test]
    fn figures_out_of_bounds_are_named() {
        let mm = |value: f64| Typed::of(Length::from_mm(value), format!("{value} mm"));
        let settings = Settings { room: mm(5.0), over: mm(80.0), roof_front: Some(mm(100.0)), under: Some(mm(9e9)) };
        let at: Vec<String> = settings.faults().into_iter().map(|fault| fault.at).collect();
        assert_eq!(at, ["room", "over", "roof_front", "under"]);
        assert_eq!(Settings::default().faults(), []);
    }
}
