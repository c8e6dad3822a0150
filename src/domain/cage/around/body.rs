//! What follows from the places of the body: the gap of each bar to it, and whether a torch gets behind a joint.

use glam::DVec3;

use crate::domain::cage::parts::{Cage, Joint, Member};
use crate::domain::cage::record::body::{BodyPart, BodyPlace, Taken};
use crate::domain::measure::tools::Tool;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::Balloon;
use crate::quantity::Length;

/// A torch's head with the bend of its neck goes through a ball of this radius (*common practice*); a shop can say its own.
pub const TORCH: Length = Length::from_mm(25.0);
/// A place of the body so near a joint, along its bars, tells of the room behind that joint (own choice).
pub const NEAR: Length = Length::from_mm(150.0);

/// A place of the body on the worked out cage.
#[derive(Debug, Clone, PartialEq)]
pub struct BodyAt {
    /// Its number.
    pub number: u32,
    /// What of the body it is.
    pub part: BodyPart,
    /// Where, in millimetres on the car's axes. Of a gap it is laid off square to the bar, upward to what lies overhead and
    /// else outward.
    pub point: DVec3,
    /// The nearest point of the bar's axis, mm.
    pub on_axis: DVec3,
    /// The bar it is beside: the one it was measured on, or the nearest.
    pub bar: Balloon,
    /// So far along that bar.
    pub along: Length,
    /// From the tube's outside to the body; less than nothing where the place lies within the tube.
    pub gap: Length,
    /// What the gap was read with: a tape; none where it follows from a point.
    pub tool: Option<Tool>,
}

/// The room behind a joint.
#[derive(Debug, Clone, PartialEq)]
pub struct OfJoint {
    /// The joint.
    pub joint: Balloon,
    /// The smallest gap to a place of the body that is near it; none where no place is near.
    pub room: Option<(Length, u32)>,
}

impl OfJoint {
    /// Whether a ball of this radius goes between the joint's tubes and the body; none while no place of the body is near.
    pub fn reached_by(&self, torch: Length) -> Option<bool> {
        self.room.map(|(room, _)| room >= torch * 2.0)
    }
}

impl Cage {
    /// A place of the body on this cage.
    ///
    /// # Errors
    /// A sentence, where the cage has no such place.
    pub fn body_at(&self, place: &BodyPlace) -> Result<BodyAt, String> {
        on_cage(self, place)
    }
}

/// The places on the cage, or by key why one is not to be found there.
pub(in crate::domain::cage) fn places(cage: &Cage, places: &[BodyPlace]) -> (Vec<BodyAt>, Vec<Fault>) {
    let mut found = Vec::new();
    let mut faults = Vec::new();
    if cage.members.is_empty() {
        return (found, faults);
    }
    for place in places {
        match on_cage(cage, place) {
            Ok(at) => found.push(at),
            Err(why) => faults.push(Fault::new(place.key(), why)),
        }
    }
    (found, faults)
}

/// Places that lie within a tube, in words: one of the two was measured wrong.
pub(in crate::domain::cage) fn faults(cage: &Cage, found: &[BodyAt]) -> Vec<Fault> {
    let within = found.iter().filter(|at| at.gap < Length::default());
    let description = within.filter_map(|at| {
        let bar = cage.member(at.bar)?;
        let (part, role, by) = (at.part.word(), bar.role.word(), (-at.gap).in_both());
        let why =
            format!("This place of the {part} lies {by} within {} {role}; measure it, or the bar, again.", at.bar);
        Some(Fault::new(format!("body/{}", at.number), why))
    });
    description.collect()
}

fn on_cage(cage: &Cage, place: &BodyPlace) -> Result<BodyAt, String> {
    let (number, part) = (place.number, place.part);
    match &place.taken {
        Taken::Gap { on, at, gap } => {
            let (bar, along) = cage.station(on, at)?;
            let (on_axis, direction) = bar.line.point_at(along);
            let point = on_axis + outward(part, on_axis, direction) * (bar.tube.outside / 2.0 + gap.value).mm();
            let (bar, gap, tool) = (bar.balloon, gap.value, Some(Tool::tape_of(gap)));
            Ok(BodyAt { number, part, point, on_axis, bar, along, gap, tool })
        }
        Taken::Point { forward, left, up } => {
            let point = DVec3::new(forward.value.mm(), left.value.mm(), up.value.mm());
            let beside = |bar: &Member| {
                let (along, on_axis, off) = bar.line.nearest(point);
                let (bar, gap) = (bar.balloon, off - bar.tube.outside / 2.0);
                BodyAt { number, part, point, on_axis, bar, along, gap, tool: None }
            };
            let all = cage.members.iter().map(beside);
            let nearest = all.min_by(|one, next| one.gap.mm().total_cmp(&next.gap.mm()));
            nearest.ok_or_else(|| "No bar is laid out yet.".to_owned())
        }
    }
}

/// The unit direction from a bar toward a part of the body, square to the bar.
fn outward(part: BodyPart, at: DVec3, bar: DVec3) -> DVec3 {
    let side = if at.y < 0.0 { DVec3::NEG_Y } else { DVec3::Y };
    let wanted = if part.overhead() { [DVec3::Z, side] } else { [side, DVec3::Z] };
    let square = wanted.map(|toward| toward - bar * toward.dot(bar));
    // A bar that runs nearly the way the body lies has it on the other of the two.
    square.into_iter().find(|square| square.length() > 0.3).unwrap_or(DVec3::X).normalize_or(DVec3::X)
}

/// The narrowest and the widest gap of each bar that the body was measured beside, with the places they were taken at.
pub fn gaps(found: &[BodyAt]) -> Vec<(Balloon, [&BodyAt; 2])> {
    let mut bars: Vec<Balloon> = found.iter().map(|at| at.bar).collect();
    bars.sort();
    bars.dedup();
    let both = bars.into_iter().filter_map(|bar| {
        let own = || found.iter().filter(|at| at.bar == bar);
        let order = |one: &&BodyAt, next: &&BodyAt| one.gap.mm().total_cmp(&next.gap.mm());
        Some((bar, [own().min_by(order)?, own().max_by(order)?]))
    });
    both.collect()
}

/// The room behind each joint.
pub(in crate::domain::cage) fn near_joints(cage: &Cage, found: &[BodyAt]) -> Vec<OfJoint> {
    cage.joints.iter().map(|joint| OfJoint { joint: joint.balloon, room: room(cage, joint, found) }).collect()
}

fn room(cage: &Cage, joint: &Joint, found: &[BodyAt]) -> Option<(Length, u32)> {
    let bars = || joint.incoming.iter().map(|end| end.0).chain([joint.carrier]).filter_map(|bar| cage.member(bar));
    let gap = |at: &BodyAt| {
        let beside = bars().map(|bar| {
            let (_, on_axis, off) = bar.line.nearest(at.point);
            (off - bar.tube.outside / 2.0, Length::from_mm(on_axis.distance(joint.at)))
        });
        let (gap, away) = beside.min_by(|one, next| one.0.mm().total_cmp(&next.0.mm()))?;
        (away <= NEAR).then_some((gap, at.number))
    };
    found.iter().filter_map(gap).min_by(|one, next| one.0.mm().total_cmp(&next.0.mm()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::figures::gap_figures;
    use crate::domain::cage::files::solved;
    use crate::domain::cage::record::body::next_number;
    use crate::domain::cage::record::by_hand::At;
    use crate::domain::cage::record::fittings::Toward;
    use crate::domain::cage::{Around, CageRecord};
    use crate::quantity::Typed;
    use proptest::prelude::*;

    /// M1 across the car at 1000 mm up, 40 mm wide; M2 lands on its middle from the front; M3 stands 600 mm before M1.
    fn three_bars() -> Cage {
        let text = r#"{"tackbook_cage": 1, "unit": "mm", "members": [
            {"balloon": "M1", "role": "main hoop", "tube": {"outside": 40, "wall": 3},
             "points": [[0, -500, 1000], [0, 500, 1000]], "ends": [{"free": true}, {"free": true}]},
            {"balloon": "M2", "role": "other bar", "tube": {"outside": 30, "wall": 3},
             "points": [[0, 0, 1000], [400, 0, 1000]], "ends": [{"onto": "M1"}, {"free": true}]},
            {"balloon": "M3", "role": "other bar", "tube": {"outside": 30, "wall": 3},
             "points": [[600, 300, 0], [600, 300, 900]], "ends": [{"free": true}, {"free": true}]}]}"#;
        solved(text).unwrap()
    }

    fn mm(value: f64) -> Typed<Length> {
        Typed::of(Length::from_mm(value), format!("{value} mm"))
    }

    fn bar(number: u32) -> Balloon {
        format!("M{number}").parse().unwrap()
    }

    fn point(at: [f64; 3]) -> BodyPlace {
        let [forward, left, up] = at.map(mm);
        BodyPlace { number: 1, part: BodyPart::RoofRail, taken: Taken::Point { forward, left, up } }
    }

    fn gap(cage: &Cage, on: u32, from_start: f64, gap: f64) -> BodyPlace {
        let on = cage.member(bar(on)).unwrap().key.clone();
        let at = At::FromEnd { end: Toward::Start, by: mm(from_start) };
        BodyPlace { number: 1, part: BodyPart::Roof, taken: Taken::Gap { on, at, gap: mm(gap) } }
    }

    fn near(got: Length, wanted: f64) {
        assert!((got.mm() - wanted).abs() < 1e-6, "{} mm, not {wanted}", got.mm());
    }

    /// By hand: 80 mm over the axis of a 40 mm tube are 60 over the tube; 50 beside and 120 over it the axis is
    /// √(50² + 120²) = 130 away, so 110; beside M3 the way is 80 − 15.
    #[test]
    fn a_point_gives_the_gap_to_the_bar_that_is_nearest() {
        let cage = three_bars();
        for (at, on, along, left) in [
            ([0.0, 300.0, 1080.0], 1, 800.0, 60.0),
            ([-50.0, -200.0, 1120.0], 1, 300.0, 110.0),
            ([600.0, 380.0, 400.0], 3, 400.0, 65.0),
            ([0.0, 540.0, 1030.0], 1, 1000.0, 30.0),
        ] {
            let found = cage.body_at(&point(at)).unwrap();
            assert_eq!(found.bar, bar(on), "{at:?}");
            near(found.along, along);
            near(found.gap, left);
            assert_eq!(found.tool, None);
        }
    }

    /// A gap is laid off square to its bar: over what lies overhead, outward beside the rest.
    #[test]
    fn a_gap_is_laid_off_square_to_its_bar() {
        let cage = three_bars();
        let over = cage.body_at(&gap(&cage, 1, 250.0, 30.0)).unwrap();
        assert!(over.point.distance(DVec3::new(0.0, -250.0, 1050.0)) < 1e-6, "{}", over.point);
        near(over.gap, 30.0);
        let beside = BodyPlace { part: BodyPart::CentrePillar, ..gap(&cage, 3, 400.0, 25.0) };
        let beside = cage.body_at(&beside).unwrap();
        assert!(beside.point.distance(DVec3::new(600.0, 340.0, 400.0)) < 1e-6, "{}", beside.point);
        // What the gap is read with decides how near a limit is too near.
        assert_eq!(beside.tool, Some(Tool::Tape));
        let why = cage.body_at(&gap(&cage, 1, 1200.0, 30.0)).unwrap_err();
        assert!(why.contains("off the end"), "{why}");
    }

    /// A ball of 25 mm wants 50 mm; 100 mm beside the joint counts, 160 mm does not.
    #[test]
    fn a_torch_gets_behind_a_joint_where_its_ball_goes_through() {
        let cage = three_bars();
        let behind = |place: BodyPlace, torch: f64| {
            let (found, faults) = places(&cage, &[place]);
            assert!(faults.is_empty(), "{faults:?}");
            let joints = near_joints(&cage, &found);
            assert_eq!(joints.len(), 1);
            joints[0].reached_by(Length::from_mm(torch))
        };
        assert_eq!(behind(gap(&cage, 1, 600.0, 50.0), 25.0), Some(true));
        assert_eq!(behind(gap(&cage, 1, 600.0, 50.0), 25.1), Some(false));
        assert_eq!(behind(gap(&cage, 1, 660.0, 50.0), 25.0), None);
        // Over the bar that ends there: 15 mm of tube and 40 of room at 55 over its axis.
        assert_eq!(behind(point([120.0, 0.0, 1055.0]), 20.0), Some(true));
        assert_eq!(behind(point([120.0, 0.0, 1055.0]), 20.1), Some(false));
    }

    #[test]
    fn a_place_within_a_tube_is_told() {
        let cage = three_bars();
        let (found, _) = places(&cage, &[point([0.0, 200.0, 1010.0])]);
        near(found[0].gap, -10.0);
        let description = faults(&cage, &found);
        assert_eq!(description[0].at, "body/1");
        let wrong = CageRecord { body: vec![point([0.0, 200.0, 1010.0])], ..CageRecord::default() };
        assert_eq!(
            gap_figures(&cage, &Around::of(&wrong, &cage)),
            [],
            "no gap of nothing where one of the two was measured wrong"
        );
        assert!(description[0].why.contains("lies 10 mm (0.394 in) within M1 main hoop"), "{}", description[0].why);
        assert_eq!(next_number(&[]), 1);
        assert_eq!(places(&Cage::default(), &[point([0.0; 3])]), (Vec::new(), Vec::new()));
    }

    #[test]
    fn of_several_places_the_narrowest_and_the_widest_count() {
        let cage = three_bars();
        let numbered = (1..)
            .zip([30.0, 12.0, 45.0])
            .map(|(number, by)| BodyPlace { number, ..gap(&cage, 1, 100.0 * f64::from(number), by) });
        let (found, _) = places(&cage, &numbered.collect::<Vec<_>>());
        let of_bars = gaps(&found);
        let description: Vec<_> =
            of_bars.iter().map(|(on, [narrow, wide])| (*on, narrow.number, wide.number)).collect();
        assert_eq!(description, [(bar(1), 2, 3)]);
    }

    proptest! {
        /// The same distance, by looking along every bar in steps of a tenth of a millimetre's error.
        #[test]
        fn the_gap_is_the_least_distance_to_any_tube(x in -300.0..900.0_f64, y in -700.0..700.0_f64, z in -200.0..1300.0_f64) {
            let cage = three_bars();
            let found = cage.body_at(&point([x, y, z])).unwrap();
            let mut least = f64::MAX;
            for member in &cage.members {
                let [from, to] = [member.line.points()[0], member.line.points()[1]];
                for step in 0..=2000 {
                    let at = from + (to - from) * (f64::from(step) / 2000.0);
                    let away = ((at.x - x).powi(2) + (at.y - y).powi(2) + (at.z - z).powi(2)).sqrt();
                    least = least.min(away - member.tube.outside.mm() / 2.0);
                }
            }
            // Between two steps of half a millimetre the distance is shorter by a quarter of a millimetre at most.
            prop_assert!(found.gap.mm() <= least + 1e-9 && found.gap.mm() > least - 0.26, "{} {least}", found.gap.mm());
        }
    }
}
