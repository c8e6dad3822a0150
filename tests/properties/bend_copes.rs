//! Copes to tubes as they truly run keep their laws: the cut lies on the carrier and nothing of it outside is left, a bend
//! of a very large radius is a straight, a mirrored cage has mirrored cuts.

use glam::{DQuat, DVec3};
use proptest::prelude::*;
use tackbook::geometry::{Bend, BranchEnd, CentreLine, Cope, Fitted, InTheWay, Meeting, TubeEnd};
use tackbook::quantity::{Angle, Length};

/// A carrier with one bend, a branch that ends on its centre line, and a tube fitted before that ends there as well.
#[derive(Debug, Clone)]
struct Case {
    carrier: CentreLine,
    outside: Length,
    along: Length,
    end: BranchEnd,
    before: CentreLine,
    thin: Length,
}

impl Case {
    fn fitted(&self, round: bool) -> Option<Fitted> {
        let carrier = InTheWay { line: &self.carrier, outside: self.outside, ends: [TubeEnd::Joined; 2] };
        let before = InTheWay { line: &self.before, outside: self.thin, ends: [TubeEnd::Joined; 2] };
        let others = if round { vec![before] } else { Vec::new() };
        self.end.fitted(&carrier, self.along, &others).ok()
    }

    /// How far outside both tubes' walls a point is; below zero it is within one of them.
    fn off(&self, point: DVec3, round: bool) -> f64 {
        let one = self.carrier.nearest(point).2 - self.outside / 2.0;
        let other = self.before.nearest(point).2 - self.thin / 2.0;
        if round { one.mm().min(other.mm()) } else { one.mm() }
    }

    fn mirrored(&self) -> Self {
        let mirror = |point: DVec3| DVec3::new(point.x, -point.y, point.z);
        let line = |line: &CentreLine| {
            CentreLine::new(line.points().iter().copied().map(mirror).collect(), line.radius()).unwrap()
        };
        let end = BranchEnd { node: mirror(self.end.node), into: mirror(self.end.into), ..self.end };
        Self { carrier: line(&self.carrier), before: line(&self.before), end, ..self.clone() }
    }
}

fn on_a_bend(radius: impl Strategy<Value = f64>, angle: impl Strategy<Value = f64>) -> impl Strategy<Value = Case> {
    let way = (40.0..140.0_f64, 0.0..360.0_f64);
    let sizes = (32.0..60.0_f64, 0.4..1.0_f64, 0.3..1.0_f64);
    (radius, angle, -0.3..1.3_f64, way.clone(), way, sizes, (-3.0..3.0_f64, -1.5..1.5_f64)).prop_map(
        |(radius, angle, share, way, way_before, (outside, branch, thin), (yaw, pitch))| {
            let turn = DQuat::from_euler(glam::EulerRot::ZYX, yaw, pitch, 0.4);
            let bend = Bend {
                start: Length::default(),
                rotation: Angle::default(),
                angle: Angle::from_degrees(angle),
                radius: Length::from_mm(radius),
                corner: DVec3::ZERO,
            };
            let straights = [Length::from_mm(600.0); 2];
            let start = DVec3::new(100.0, -300.0, 40.0);
            let carrier = CentreLine::from_bends(start, turn * DVec3::X, turn * DVec3::Z, &straights, &[bend]).unwrap();
            let along = straights[0]
                + bend.arc() * share.clamp(0.0, 1.0)
                + Length::from_mm(300.0) * (share - share.clamp(0.0, 1.0));
            let (node, m) = carrier.point_at(along);
            let leaning = |(lean, round): (f64, f64)| {
                let aside = DQuat::from_axis_angle(m, round.to_radians()) * m.any_orthonormal_vector();
                let lean = lean.to_radians();
                m * lean.cos() + aside * lean.sin()
            };
            let end = BranchEnd {
                node,
                into: leaning(way),
                outside: Length::from_mm(outside * branch),
                length: Length::from_mm(900.0),
                may_miss: Length::from_mm(1e-6),
            };
            let before = CentreLine::new(vec![node, node + leaning(way_before) * 700.0], Length::default()).unwrap();
            Case {
                carrier,
                outside: Length::from_mm(outside),
                along,
                end,
                before,
                thin: Length::from_mm(outside * thin),
            }
        },
    )
}

/// Where within a step the cut leaps by more than a millimetre, by halving: what only runs steeply is less with every halving.
fn leap(cope: &Cope, (mut from, mut to): (f64, f64)) -> Option<f64> {
    let cut = |phi: f64| cope.cut_at(Angle::from_radians(phi)).mm();
    let high = |from: f64, to: f64| (cut(from) - cut(to)).abs();
    for _ in 0..40 {
        if high(from, to) <= 1.0 {
            return None;
        }
        let middle = f64::midpoint(from, to);
        if high(from, middle) > high(middle, to) { to = middle } else { from = middle }
    }
    Some(f64::midpoint(from, to))
}

fn bent() -> impl Strategy<Value = Case> {
    on_a_bend(90.0..320.0_f64, 8.0..150.0_f64)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn the_cut_lies_on_the_carriers_and_the_wall_beyond_is_outside(case in bent(), round in any::<bool>()) {
        let Some(Fitted { cope, round: part }) = case.fitted(round) else { return Ok(()) };
        // What would cut by less than a file takes has no part.
        let (asked, round, filed) = (round, !part.is_empty(), if part.len() < usize::from(round) { 0.2 } else { 1e-6 });
        let zero = cope.place_zero();
        let aside = zero.cross(case.end.into);
        for step in 0..90 {
            let phi = Angle::from_degrees(4.0 * f64::from(step) + 0.7);
            let (sine, cosine) = phi.radians().sin_cos();
            let wall = case.end.node + (zero * cosine + aside * sine) * case.end.outside.mm() / 2.0;
            let cut = cope.cut_at(phi).mm();
            let off = case.off(wall + case.end.into * cut, round);
            prop_assert!(off.abs() < 1e-6, "{off} at {phi:?}");
            for beyond in 1..200 {
                let off = case.off(wall + case.end.into * (cut + f64::from(beyond)), asked);
                prop_assert!(off > -filed || cut + f64::from(beyond) > 300.0, "{off} at {phi:?}, {beyond} mm on from {cut}");
            }
            prop_assert!(cope.long_point().mm() <= cut + 1e-5 && cut <= cope.short_point().mm() + 1e-5);
        }
    }

    #[test]
    fn round_a_tube_fitted_before_no_cut_is_shallower(case in bent(), phi in 0.0..360.0_f64) {
        let (Some(alone), Some(round)) = (case.fitted(false), case.fitted(true)) else { return Ok(()) };
        let phi = Angle::from_degrees(phi);
        prop_assert!(round.cope.cut_at(phi) >= alone.cope.cut_at(phi) - Length::from_mm(1e-6));
        prop_assert_eq!(round.round.is_empty(), !round.cope.several());
    }

    /// A bend of 100 km radius falls off by 60²/(2·10⁸) mm over a tube's reach.
    #[test]
    fn a_very_wide_bend_is_a_straight(case in on_a_bend(Just(1e8), Just(0.5)), phi in 0.0..360.0_f64) {
        let Fitted { cope, .. } = case.fitted(false).unwrap();
        let straight = Cope::of(&Meeting {
            carrier_direction: case.carrier.point_at(case.along).1,
            branch_direction: case.end.into,
            offset: Length::default(),
            carrier_outside: case.outside,
            branch_outside: case.end.outside,
        }).unwrap();
        let phi = Angle::from_degrees(phi);
        prop_assert!((cope.cut_at(phi) - straight.cut_at(phi)).mm().abs() < 1e-3);
        prop_assert!((cope.long_point() - straight.long_point()).mm().abs() < 1e-3);
        prop_assert!((cope.short_point() - straight.short_point()).mm().abs() < 1e-3);
        prop_assert!((cope.seam() - straight.seam()).mm().abs() < 1e-2);
        // The straight one is looked at every five degrees, the bent one every one and a half.
        prop_assert!((cope.faces_down() - straight.faces_down()).abs() < 0.02);
        let wall = Length::from_mm(2.4);
        prop_assert!((cope.mean_cut(wall) - straight.mean_cut(wall)).mm().abs() < 1e-2);
    }

    #[test]
    fn a_mirrored_cage_has_the_mirrored_cuts(case in bent(), phi in 0.0..360.0_f64) {
        let (Some(one), Some(other)) = (case.fitted(true), case.mirrored().fitted(true)) else { return Ok(()) };
        let (one, other) = (one.cope, other.cope);
        let (there, back) = (one.cut_at(Angle::from_degrees(phi)), other.cut_at(Angle::from_degrees(-phi)));
        // Where the cut jumps from one tube to the other, rounding may tip it.
        let near = one.crossings().iter().any(|at| (at.degrees() - phi).abs() < 0.01);
        prop_assert!(near || (there - back).mm().abs() < 1e-6);
        let (long, mirrored) = (one.long_point().mm(), other.long_point().mm());
        prop_assert!((long - mirrored).abs() < 1e-5, "{long} {mirrored}");
        prop_assert!((one.short_point() - other.short_point()).mm().abs() < 1e-2);
        prop_assert!((one.seam() - other.seam()).mm().abs() < 0.05);
        prop_assert!((one.faces_down() - other.faces_down()).abs() < 2e-3);
    }

    /// Seam, share that looks down and mean cut once more: by plain summing round the tube, the surfaces' normals taken
    /// from the way to the nearest place of a centre line.
    #[test]
    fn seam_share_and_mean_by_plain_summing(case in bent(), round in any::<bool>()) {
        let Some(Fitted { cope, round: part }) = case.fitted(round) else { return Ok(()) };
        let round = !part.is_empty();
        let (into, reach, wall) = (case.end.into, case.end.outside.mm() / 2.0, 2.4);
        let (zero, steps) = (cope.place_zero(), 1800_u32);
        let aside = zero.cross(into);
        let phi_of = |step: u32| std::f64::consts::TAU * f64::from(step) / f64::from(steps);
        let around = |phi: f64| zero * phi.cos() + aside * phi.sin();
        let at = |phi: f64| case.end.node + around(phi) * reach + into * cope.cut_at(Angle::from_radians(phi)).mm();
        let crossings: Vec<f64> = cope.crossings().into_iter().map(Angle::radians).collect();
        let (mut seam, mut down, mut level) = (0.0, 0.0, 0.0);
        for step in 0..steps {
            let (phi, next) = (phi_of(step), phi_of(step + 1));
            let from = at(phi);
            let lines = [(&case.carrier, case.outside), (&case.before, case.thin)];
            let of = lines.iter().take(1 + usize::from(round)).map(|(line, outside)| {
                let (_, centre, off) = line.nearest(from);
                ((off - *outside / 2.0).mm().abs(), from - centre)
            });
            let (_, out) = of.min_by(|one, other| one.0.total_cmp(&other.0)).unwrap();
            let face = (out.normalize() + around(phi)).normalize_or_zero();
            // Past the edge of a tube, or of one lobe of a bent one, the cut leaps: along that edge of the wall there is nothing to
            // weld to.
            let crossing = crossings.iter().copied().find(|at| (phi..next).contains(at));
            let edge = crossing.or_else(|| leap(&cope, (phi, next)));
            let run = edge.map_or_else(
                || from.distance(at(next)),
                |edge| from.distance(at(edge - 1e-7)) + at(edge + 1e-7).distance(at(next)),
            );
            seam += run;
            down += if face.z < 0.0 { run } else { 0.0 };
            level += if face.z.abs() < 0.04 { run } else { 0.0 };
        }
        prop_assert!((cope.seam().mm() - seam).abs() < 2e-3 * seam, "{} {seam}", cope.seam().mm());
        // A face that is level within some two degrees may be taken either way: between two steps it is on neither side for sure.
        prop_assert!((cope.faces_down() - down / seam).abs() < 0.01 + level / seam, "{} {}", cope.faces_down(), down / seam);
        let (mut sum, mut metal) = (0.0, 0.0);
        for ring in 0..12 {
            let radius = reach - wall * (f64::from(ring) + 0.5) / 12.0;
            let cuts = (0..steps / 5).map(|step| cope.cut_within(Angle::from_radians(phi_of(5 * step)), Length::from_mm(2.0 * radius)).mm());
            sum += radius * cuts.sum::<f64>() / f64::from(steps / 5);
            metal += radius;
        }
        prop_assert!((cope.mean_cut(Length::from_mm(wall)).mm() - sum / metal).abs() < 0.2);
    }
}
