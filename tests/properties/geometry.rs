//! Bends and copes keep their laws: lengths add up, bend lists and points are the same tube, turning the car or looking
//! along a tube the other way changes no cut.

use glam::{DQuat, DVec3};
use proptest::prelude::*;
use tackbook::geometry::{Bend, CentreLine, Cope, Meeting, distance};
use tackbook::quantity::{Angle, Length};

/// A tube of one to four bends that can be bent: straights with room, angles a bender makes.
fn bend_lists() -> impl Strategy<Value = (Vec<Length>, Vec<Bend>)> {
    let bend = (-179.0..180.0_f64, 1.0..130.0_f64, 40.0..200.0_f64).prop_map(|(rotation, angle, radius)| Bend {
        start: Length::default(),
        rotation: Angle::from_degrees(rotation),
        angle: Angle::from_degrees(angle),
        radius: Length::from_mm(radius),
        corner: DVec3::ZERO,
    });
    proptest::collection::vec(bend, 1..5).prop_flat_map(|bends| {
        let straight = (1.0..900.0_f64).prop_map(Length::from_mm);
        (proptest::collection::vec(straight, bends.len() + 1), Just(bends))
    })
}

fn turns() -> impl Strategy<Value = DQuat> {
    (-3.0..3.0_f64, -1.5..1.5_f64, -3.0..3.0_f64)
        .prop_map(|(yaw, pitch, roll)| DQuat::from_euler(glam::EulerRot::ZYX, yaw, pitch, roll))
}

fn meetings() -> impl Strategy<Value = Meeting> {
    (turns(), 15.0..165.0_f64, 32.0..60.0_f64, 0.5..1.0_f64, -0.9..0.9_f64).prop_map(
        |(turn, angle, carrier, share, aside)| {
            let branch = carrier * share;
            Meeting {
                carrier_direction: turn * DVec3::X,
                branch_direction: turn * DQuat::from_rotation_z(angle.to_radians()) * DVec3::X,
                offset: Length::from_mm(aside * (carrier - branch) / 2.0),
                carrier_outside: Length::from_mm(carrier),
                branch_outside: Length::from_mm(branch),
            }
        },
    )
}

fn near(got: f64, wanted: f64, room: f64) -> bool {
    (got - wanted).abs() <= room
}

/// Six times the volume of the tetrahedron of the first points: a mirror image has the other sign.
fn handedness(points: &[DVec3]) -> Vec<f64> {
    points
        .windows(4)
        .map(|four| {
            let [a, b, c, d] = four.first_chunk().copied().unwrap();
            (b - a).cross(c - a).dot(d - a)
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn developed_length_is_straights_and_arcs((straights, bends) in bend_lists()) {
        let line = CentreLine::from_bends(DVec3::ZERO, DVec3::X, DVec3::Z, &straights, &bends).unwrap();
        let arcs: f64 = bends.iter().map(|bend| bend.radius.mm() * bend.angle.radians()).sum();
        let sum = straights.iter().map(|straight| straight.mm()).sum::<f64>() + arcs;
        prop_assert!(near(line.developed_length().mm(), sum, 1e-6));
        // The chords are shorter than the line, and by little when they are fine.
        let chords = line.chords(Length::from_mm(0.01));
        let along: f64 = chords.windows(2).map(|two| two.first().unwrap().distance(*two.last().unwrap())).sum();
        prop_assert!(along <= sum + 1e-6 && along > sum * 0.999);
    }

    #[test]
    fn bends_to_points_and_back_is_the_same_tube(
        (straights, bends) in bend_lists(), turn in turns(), x in -2000.0..2000.0_f64,
    ) {
        let start = DVec3::new(x, 300.0, -40.0);
        let line = CentreLine::from_bends(start, turn * DVec3::X, turn * DVec3::Z, &straights, &bends).unwrap();
        prop_assert_eq!(line.bends().len(), bends.len());
        for (got, wanted) in line.straights().iter().zip(&straights) {
            prop_assert!(near(got.mm(), wanted.mm(), 1e-6));
        }
        for (at, (got, wanted)) in line.bends().iter().zip(&bends).enumerate() {
            prop_assert!(near(got.angle.degrees(), wanted.angle.degrees(), 1e-7));
            if at > 0 {
                prop_assert!(near(got.rotation.degrees(), wanted.rotation.degrees(), 1e-6));
            }
        }
        // From its own bend list elsewhere it is congruent and not mirrored.
        let again = CentreLine::from_bends(DVec3::ZERO, DVec3::Y, DVec3::X, line.straights(), line.bends()).unwrap();
        let (first, second) = (line.points(), again.points());
        for (a, b) in first.iter().zip(second) {
            for (c, d) in first.iter().zip(second) {
                prop_assert!(near(a.distance(*c), b.distance(*d), 1e-6));
            }
        }
        for (one, other) in handedness(first).into_iter().zip(handedness(second)) {
            prop_assert!(near(one, other, 1e-3 * (1.0 + one.abs() * 1e-6)));
        }
    }

    #[test]
    fn a_place_on_the_line_is_its_own_nearest((straights, bends) in bend_lists(), share in 0.0..1.0_f64) {
        let line = CentreLine::from_bends(DVec3::ZERO, DVec3::X, DVec3::Z, &straights, &bends).unwrap();
        let along = line.developed_length() * share;
        let (place, direction) = line.point_at(along);
        prop_assert!(near(direction.length(), 1.0, 1e-9));
        let (_, found, distance) = line.nearest(place);
        prop_assert!(distance.mm() < 1e-6 && found.distance(place) < 1e-6);
        let ahead = line.point_at(along + Length::from_mm(0.001)).0;
        prop_assert!(ahead.distance(place) < 0.001_001);
    }

    #[test]
    fn chords_stay_within_their_sagitta(
        (straights, bends) in bend_lists(), sagitta in 0.05..5.0_f64, share in 0.0..1.0_f64,
    ) {
        let line = CentreLine::from_bends(DVec3::ZERO, DVec3::X, DVec3::Z, &straights, &bends).unwrap();
        let chords = line.chords(Length::from_mm(sagitta));
        let (place, _) = line.point_at(line.developed_length() * share);
        let off = distance::segments(&chords).map(|chord| chord.distance_to(place).mm()).fold(f64::INFINITY, f64::min);
        prop_assert!(off <= sagitta + 1e-6);
    }

    #[test]
    fn on_two_carriers_no_cut_is_shallower_than_on_either(
        one in meetings(), angle in 30.0..150.0_f64, turn in 0.0..360.0_f64, phi in 0.0..360.0_f64,
    ) {
        let branch = one.branch_direction;
        let tilt = DQuat::from_axis_angle(branch.any_orthonormal_vector(), angle.to_radians());
        let carrier_direction = DQuat::from_axis_angle(branch, turn.to_radians()) * (tilt * branch);
        let other = Meeting { carrier_direction, offset: Length::default(), ..one };
        let both = Cope::of_all(&[one, other]).unwrap();
        let phi = Angle::from_degrees(phi);
        prop_assert!(both.cut_at(phi).mm() >= Cope::of(&one).unwrap().cut_at(phi).mm() - 1e-6);
        let swapped = Cope::of_all(&[other, one]).unwrap();
        prop_assert!(near(both.seam().mm(), swapped.seam().mm(), 1e-3));
        prop_assert!(near(both.short_point().mm(), swapped.short_point().mm(), 1e-5));
        prop_assert!(near(both.long_point().mm(), swapped.long_point().mm(), 1e-4));
    }

    #[test]
    fn a_carrier_seen_the_other_way_gives_the_same_cut(meeting in meetings(), phi in 0.0..360.0_f64) {
        let cope = Cope::of(&meeting).unwrap();
        let back = Meeting { carrier_direction: -meeting.carrier_direction, offset: -meeting.offset, ..meeting };
        let back = Cope::of(&back).unwrap();
        let there = cope.cut_at(Angle::from_degrees(phi)).mm();
        prop_assert!(near(there, back.cut_at(Angle::from_degrees(phi + 180.0)).mm(), 1e-6 * there.abs().max(1.0)));
        prop_assert!(near(cope.seam().mm(), back.seam().mm(), 1e-6));
        prop_assert!(near(cope.faces_down(), back.faces_down(), 1e-3));
        prop_assert_eq!(cope.angle(), back.angle());
    }

    #[test]
    fn a_mirrored_meeting_gives_the_mirrored_cut(meeting in meetings(), phi in 0.0..360.0_f64) {
        let mirror = |direction: DVec3| DVec3::new(direction.x, -direction.y, direction.z);
        let mirrored = Meeting {
            carrier_direction: mirror(meeting.carrier_direction),
            branch_direction: mirror(meeting.branch_direction),
            offset: -meeting.offset,
            ..meeting
        };
        let (one, other) = (Cope::of(&meeting).unwrap(), Cope::of(&mirrored).unwrap());
        let there = one.cut_at(Angle::from_degrees(phi)).mm();
        prop_assert!(near(there, other.cut_at(Angle::from_degrees(-phi)).mm(), 1e-6 * there.abs().max(1.0)));
        prop_assert!(near(one.long_point().mm(), other.long_point().mm(), 1e-6));
        prop_assert!(near(one.short_point().mm(), other.short_point().mm(), 1e-6));
        prop_assert!(near(one.seam().mm(), other.seam().mm(), 1e-6));
        prop_assert!(near(one.faces_down(), other.faces_down(), 1e-3));
    }

    #[test]
    fn turning_the_car_changes_no_cut(meeting in meetings(), turn in turns(), phi in 0.0..360.0_f64) {
        let turned = Meeting {
            carrier_direction: turn * meeting.carrier_direction,
            branch_direction: turn * meeting.branch_direction,
            ..meeting
        };
        let (one, other) = (Cope::of(&meeting).unwrap(), Cope::of(&turned).unwrap());
        let there = one.cut_at(Angle::from_degrees(phi)).mm();
        prop_assert!(near(there, other.cut_at(Angle::from_degrees(phi)).mm(), 1e-6 * there.abs().max(1.0)));
        prop_assert!(near(one.seam().mm(), other.seam().mm(), 1e-6));
        // About the upright axis the faces that look down stay the same.
        let spun = DQuat::from_rotation_z(1.1);
        let spun = Meeting {
            carrier_direction: spun * meeting.carrier_direction,
            branch_direction: spun * meeting.branch_direction,
            ..meeting
        };
        prop_assert!(near(one.faces_down(), Cope::of(&spun).unwrap().faces_down(), 2e-3));
    }

    #[test]
    fn the_cut_lies_on_the_carrier(meeting in meetings(), phi in 0.0..360.0_f64) {
        let cope = Cope::of(&meeting).unwrap();
        let (line, branch) = (meeting.carrier_direction, meeting.branch_direction);
        let aside = line.cross(branch).normalize();
        let around = DQuat::from_axis_angle(branch, -phi.to_radians()) * cope.place_zero();
        let place = aside * meeting.offset.mm()
            + around * meeting.branch_outside.mm() / 2.0
            + branch * cope.cut_at(Angle::from_degrees(phi)).mm();
        prop_assert!(near(place.cross(line).length(), meeting.carrier_outside.mm() / 2.0, 1e-6));
        let cut = cope.cut_at(Angle::from_degrees(phi)).mm();
        prop_assert!(cope.long_point().mm() <= cut + 1e-6 && cut <= cope.short_point().mm() + 1e-6);
    }
}
