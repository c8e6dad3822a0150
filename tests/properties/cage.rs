//! The cage: whatever is measured it is worked out or refused in words; a mirrored car has a mirrored cage.

use glam::{DVec2, DVec3};
use proptest::prelude::*;
use tackbook::domain::cage::End;
use tackbook::domain::cage::record::example::{TUBES, example_record};
use tackbook::domain::cage::solve;
use tackbook::domain::cage::{
    BasicStructure, Cage, CageRecord, Diagonal, DoorBars, DoorThrough, Hand, Member, ORDER_OF_MEASURING, Options,
    RoofDiagonal, TubeRole, Tubes,
};
use tackbook::domain::steel::tube::TubeSize;
use tackbook::domain::words::ids::{Balloon, Kind};
use tackbook::drawing::Mark;
use tackbook::drawing::car::cage::{Numbers, Shown, draw_cage};
use tackbook::drawing::car::view::View;
use tackbook::quantity::{Length, Typed};

fn typed(value: Length) -> Typed<Length> {
    Typed::of(value, format!("{} mm", value.mm()))
}

fn any_options() -> impl Strategy<Value = Options> {
    let diagonal = || prop_oneof![Just(Diagonal::None), Just(Diagonal::One), Just(Diagonal::Cross)];
    let roof = prop_oneof![
        Just(RoofDiagonal::None),
        Just(RoofDiagonal::One),
        Just(RoofDiagonal::Cross),
        Just(RoofDiagonal::VForward),
        Just(RoofDiagonal::VRearward)
    ];
    let door = || prop_oneof![Just(DoorBars::None), Just(DoorBars::One), Just(DoorBars::Two), Just(DoorBars::Cross)];
    let through = prop_oneof![Just(Hand::Left), Just(Hand::Right)];
    let door_through = prop_oneof![Just(DoorThrough::HighAtHoop), Just(DoorThrough::LowAtHoop)];
    let flags = proptest::array::uniform5(any::<bool>());
    let bars = (diagonal(), roof, diagonal(), door(), door());
    (bars, through, door_through, flags, 0_u8..=4).prop_map(|(bars, through, door_through, flags, seats)| {
        let [sill_bars, harness_bar, dash_bar, hoop_cross_bar, pillar_struts] = flags;
        let (hoop_diagonal, roof_diagonal, backstay_diagonal, door_left, door_right) = bars;
        Options {
            hoop_diagonal,
            roof_diagonal,
            backstay_diagonal,
            through,
            door_left,
            door_right,
            door_through,
            sill_bars,
            harness_bar,
            dash_bar,
            hoop_cross_bar,
            pillar_struts,
            seat_cross_bars: seats,
        }
    })
}

fn any_structure() -> impl Strategy<Value = BasicStructure> {
    proptest::sample::select(BasicStructure::ALL.to_vec())
}

/// Every measurement anywhere within its bounds.
fn any_car() -> impl Strategy<Value = CageRecord> {
    let shares = proptest::collection::vec(0.0..=1.0, ORDER_OF_MEASURING.len());
    (shares, any_structure(), any_options(), 20.0..400.0).prop_map(|(shares, structure, options, radius)| {
        let measures = ORDER_OF_MEASURING.iter().zip(shares).map(|(measure, share)| {
            let (least, most) = measure.bounds();
            (*measure, typed(least + (most - least) * share))
        });
        let bend_radius = TubeRole::BOTH.map(|role| (role, typed(Length::from_mm(radius))));
        let measures = measures.collect();
        CageRecord { structure, measures, options, bend_radius: bend_radius.into(), ..example_record() }
    })
}

/// The example with each measurement a little off, both sides typed.
fn near_the_example() -> impl Strategy<Value = CageRecord> {
    let shifts = proptest::collection::vec(-8.0..8.0, ORDER_OF_MEASURING.len());
    (shifts, any_structure(), any_options()).prop_map(|(shifts, structure, options)| {
        let example = example_record();
        let measures = ORDER_OF_MEASURING.iter().zip(shifts).filter_map(|(measure, shift)| {
            example.measure(*measure).map(|value| (*measure, typed(value + Length::from_mm(shift))))
        });
        CageRecord { structure, measures: measures.collect(), options, gussets: Vec::new(), ..example.clone() }
    })
}

fn mirrored(record: &CageRecord) -> CageRecord {
    let options = &record.options;
    CageRecord {
        measures: record.measures.iter().map(|(measure, value)| (measure.mirrored(), value.clone())).collect(),
        options: Options {
            through: options.through.other(),
            door_left: options.door_right,
            door_right: options.door_left,
            ..options.clone()
        },
        ..record.clone()
    }
}

/// Every end stands on the plate or the bar that it names, and no number is given twice.
fn sound(cage: &Cage) -> Result<(), TestCaseError> {
    let bars = cage.members.iter().map(|member| member.balloon);
    let joints = cage.joints.iter().map(|joint| joint.balloon);
    let plates = cage.plates.iter().map(|plate| plate.balloon);
    let mut given: Vec<Balloon> = bars.chain(joints).chain(plates).collect();
    let all = given.len();
    given.sort();
    given.dedup();
    prop_assert_eq!(given.len(), all);
    for member in &cage.members {
        for (end, point) in member.ends.iter().zip(ends(member)) {
            prop_assert!(point.is_finite(), "{}", member.key);
            let stands = match end {
                End::OnPlate(plate) => cage.plate(*plate).map(|plate| plate.centre),
                End::Onto { carrier, along, .. } => {
                    cage.member(*carrier).map(|carrier| carrier.line.point_at(*along).0)
                }
                End::Free => None,
            };
            prop_assert!(stands.is_some_and(|stands| stands.distance(point) < 0.01), "{} {end:?}", member.key);
        }
        prop_assert!(member.developed > Length::default(), "{}", member.key);
        prop_assert!(member.mass.kg() >= 0.0 && member.mass.is_finite(), "{}", member.key);
        prop_assert!(member.cut_length.is_finite(), "{}", member.key);
    }
    for joint in &cage.joints {
        prop_assert!(joint.at.is_finite() && (0.0..=1.0).contains(&joint.overhead), "{}", joint.key);
        prop_assert!(!joint.incoming.is_empty(), "{}", joint.key);
    }
    for fault in &cage.faults {
        prop_assert!(fault.why.ends_with('.') && !fault.at.is_empty(), "{fault}");
    }
    Ok(())
}

fn ends(member: &Member) -> [DVec3; 2] {
    let points = member.line.points();
    [*points.first().unwrap(), *points.last().unwrap()]
}

/// True when `other` is the bar seen in a mirror on the centre plane.
fn is_mirror_of(member: &Member, other: &Member) -> bool {
    let flip = |point: DVec3| DVec3::new(point.x, -point.y, point.z);
    let near = |one: [DVec3; 2], two: [DVec3; 2]| one.iter().zip(two).all(|(one, two)| one.distance(two) < 0.01);
    let ([first, last], there) = (ends(member).map(flip), ends(other));
    member.role == other.role
        && (member.developed - other.developed).abs() < Length::from_mm(0.01)
        && (member.cut_length - other.cut_length).abs() < Length::from_mm(0.01)
        && (near([first, last], there) || near([last, first], there))
}

/// A balloon's number, centre and radius on the page.
fn balloons(marks: &[Mark]) -> Vec<(Balloon, DVec2, f64)> {
    let mut found = Vec::new();
    for mark in marks {
        let Mark::Group { balloon: Some(balloon), marks } = mark else { continue };
        found.extend(marks.iter().filter_map(|mark| match mark {
            Mark::Circle { centre, radius, .. } => Some((*balloon, *centre, radius.mm())),
            _ => None,
        }));
    }
    found
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    // ISO 6433: item references stand apart. On the cage's sheet all of them, whatever bars there are.
    #[test]
    fn balloons_of_all_views_stand_apart_on_the_sheet(record in near_the_example()) {
        let cage = solve(&record, &TUBES);
        let frame = (Length::from_mm(230.0), Length::from_mm(180.0));
        for view in [View::Isometric, View::Front, View::Side, View::Plan] {
            let drawn = draw_cage(&cage, &[], Shown { view, numbers: Numbers::Of(Kind::Joint), hidden: false }, frame);
            prop_assert_eq!(&drawn.left_out, &Vec::<Balloon>::new());
            let placed = balloons(&drawn.marks);
            prop_assert_eq!(placed.len(), cage.joints.len());
            for (index, (balloon, at, radius)) in placed.iter().enumerate() {
                let inside = at.cmpge(DVec2::splat(*radius - 1e-9)).all()
                    && at.cmple(DVec2::new(230.0, 180.0) - *radius + 1e-9).all();
                prop_assert!(inside, "{balloon} leaves the sheet");
                for (other, there, _) in placed.iter().skip(index + 1) {
                    prop_assert!(at.distance(*there) >= 2.0 * radius, "{balloon} covers {other}");
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_measured_is_worked_out_or_refused(record in any_car(), outside in 20.0..80.0) {
        let tube = TubeSize::metric(outside, 2.5);
        let cage = solve(&record, &Tubes::new(tube, tube));
        sound(&cage)?;
    }

    #[test]
    fn a_mirrored_car_has_a_mirrored_cage(record in near_the_example()) {
        let (cage, other) = (solve(&record, &TUBES), solve(&mirrored(&record), &TUBES));
        sound(&cage)?;
        prop_assert_eq!(cage.members.len(), other.members.len());
        prop_assert_eq!(cage.joints.len(), other.joints.len());
        prop_assert_eq!(cage.faults.len(), other.faults.len());
        for member in &cage.members {
            let there = other.members.iter().filter(|there| there.role == member.role);
            let lengths: Vec<_> = there.map(|there| (there.developed, there.cut_length)).collect();
            let of_it = (member.developed, member.cut_length);
            let mirrored = other.members.iter().any(|there| is_mirror_of(member, there));
            prop_assert!(mirrored, "{}: {of_it:?}, {lengths:?}", member.key);
        }
        prop_assert!((cage.mass() - other.mass()).abs().kg() < 1e-4);
        prop_assert!((cage.seam() - other.seam()).abs() < Length::from_mm(0.1));
    }

    #[test]
    fn numbers_given_out_are_kept(first in near_the_example(), on in any_structure(), then in any_options()) {
        let first = CageRecord { numbers: std::collections::BTreeMap::new(), ..first }.numbered();
        let later = CageRecord { structure: on, options: then, ..first.clone() }.numbered();
        for (key, balloon) in &first.numbers {
            prop_assert_eq!(later.numbers.get(key), Some(balloon));
        }
        let mut given: Vec<_> = later.numbers.values().collect();
        given.sort();
        given.dedup();
        prop_assert_eq!(given.len(), later.numbers.len());
    }

    #[test]
    fn a_record_reads_as_it_was_written(record in any_car()) {
        let text = serde_json::to_string(&record).unwrap();
        prop_assert_eq!(serde_json::from_str::<CageRecord>(&text).unwrap(), record);
    }
}
