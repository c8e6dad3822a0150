//! Gaps to the body and to a helmet against the tubes' surfaces, sampled point by point.

use std::sync::LazyLock;

use glam::DVec3;
use proptest::prelude::*;
use tackbook::domain::cage::record::body::{BodyPart, BodyPlace, Taken};
use tackbook::domain::cage::record::example::{TUBES, example_record};
use tackbook::domain::cage::record::seats::SeatRecord;
use tackbook::domain::cage::solve;
use tackbook::domain::cage::{Cage, Member};
use tackbook::quantity::{Length, Typed};

/// Rings so far apart along a tube, mm, and so many points on each.
const APART: f64 = 5.0;
const AROUND: u32 = 60;

/// The example's cage, and the surface of each of its tubes as points.
static CAGE: LazyLock<(Cage, Vec<Vec<DVec3>>)> = LazyLock::new(|| {
    let cage = solve(&example_record(), &TUBES);
    let surfaces = cage.members.iter().map(|bar| {
        let whole = bar.line.developed_length().mm();
        let rings = std::iter::successors(Some(0.0), |along| Some(along + APART)).take_while(|along| *along <= whole);
        let ring = |along: f64| {
            let (middle, way) = bar.line.point_at(Length::from_mm(along));
            let (one, other) = way.normalize().any_orthonormal_pair();
            let at = move |step: u32| {
                let turn = f64::from(step) * std::f64::consts::TAU / f64::from(AROUND);
                middle + (one * turn.cos() + other * turn.sin()) * (bar.tube.outside.mm() / 2.0)
            };
            (0..AROUND).map(at).collect::<Vec<_>>()
        };
        rings.flat_map(ring).collect()
    });
    let surfaces = surfaces.collect();
    (cage, surfaces)
});

fn mm(value: f64) -> Typed<Length> {
    Typed::of(Length::from_mm(value), format!("{value} mm"))
}

fn to_surface(point: DVec3, surface: &[DVec3]) -> f64 {
    surface.iter().map(|at| at.distance(point)).fold(f64::INFINITY, f64::min)
}

/// The true distance is never over the one to a sample, and under it by what lies between samples: half a ring's way
/// along and half a step around, h, seen from d away, √(d² + h²) − d.
fn agrees(gap: f64, sampled: f64) -> bool {
    let beside = (APART / 2.0).hypot(4.0);
    sampled >= gap - 1e-6 && sampled <= (gap.hypot(beside)) + 0.05
}

/// Whether the nearest place on a bar's axis is no end of it: beyond one the tube has a face, no side.
fn along_it(bar: &Member, point: DVec3) -> bool {
    let along = bar.line.nearest(point).0.mm();
    along > APART && along < bar.line.developed_length().mm() - APART
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_points_gap_is_the_way_to_the_nearest_tubes_surface(
        x in -1300.0..1100.0_f64, y in -750.0..750.0_f64, z in -50.0..1350.0_f64,
    ) {
        let (cage, surfaces) = &*CAGE;
        let [forward, left, up] = [x, y, z].map(mm);
        let place = BodyPlace { number: 1, part: BodyPart::Other, taken: Taken::Point { forward, left, up } };
        let found = cage.body_at(&place).unwrap();
        let point = DVec3::new(x, y, z);
        prop_assume!(found.gap > Length::default() && along_it(cage.member(found.bar).unwrap(), point));
        let sampled = surfaces.iter().map(|surface| to_surface(point, surface)).fold(f64::INFINITY, f64::min);
        prop_assert!(agrees(found.gap.mm(), sampled), "{} {sampled}", found.gap.mm());
    }

    #[test]
    fn what_is_left_to_a_helmet_is_the_way_from_its_ball_to_each_tubes_surface(
        left in -500.0..500.0_f64, forward in -300.0..600.0_f64, up in 500.0..1000.0_f64, radius in 100.0..200.0_f64,
    ) {
        let (cage, surfaces) = &*CAGE;
        let seat = SeatRecord {
            number: 1,
            name: "driver".to_owned(),
            left: mm(left),
            hips_forward: mm(300.0),
            hips_up: mm(100.0),
            shoulder_forward: mm(100.0),
            shoulder_up: mm(450.0),
            helmet_forward: mm(forward),
            helmet_up: mm(up),
            helmet_radius: Some(mm(radius)),
            reach: None,
        };
        let found = cage.seat_at(&seat);
        prop_assert_eq!(found.bars.len(), cage.members.len());
        let helmet = DVec3::new(forward, left, up);
        for (bar, surface) in cage.members.iter().zip(surfaces).filter(|(bar, _)| along_it(bar, helmet)) {
            let (bar, gap) = found.bars.iter().find(|(of, _)| *of == bar.balloon).unwrap();
            let away = gap.mm() + radius;
            prop_assume!(away > 0.0);
            let sampled = to_surface(helmet, surface);
            prop_assert!(agrees(away, sampled), "{bar}: {away} {sampled}");
        }
    }
}
