//! Copes on the bent part of a carrier: first contact of lines with a torus and two cylinders, found by a scan with a
//! bracketed root and by the roots of quartic and quadratics, which agree. Each entry names its source and tolerance.

use glam::DVec3;
use tackbook::geometry::{Bend, BranchEnd, CentreLine, Cope, InTheWay, Meeting, TubeEnd};
use tackbook::quantity::{Angle, Length};

use crate::geometry::{all_near, number, numbers};
use crate::oracle::{Oracle, oracles};

const DATA: &str = include_str!("data/bend_copes.json");

/// The carrier as the entries lay it: its bend about the origin in the level plane, from the angle 0 on.
fn carrier(oracle: &Oracle) -> CentreLine {
    let of = |key: &str| number(&oracle.inputs[key]);
    let (radius, straight) = (Length::from_mm(of("clr_mm")), Length::from_mm(400.0));
    let bend = Bend {
        start: Length::default(),
        rotation: Angle::default(),
        angle: Angle::from_degrees(of("bend_deg")),
        radius,
        corner: DVec3::ZERO,
    };
    let start = DVec3::new(radius.mm(), -straight.mm(), 0.0);
    CentreLine::from_bends(start, DVec3::Y, DVec3::Z, &[straight, straight], &[bend]).unwrap()
}

fn end(oracle: &Oracle) -> BranchEnd {
    let of = |key: &str| number(&oracle.inputs[key]);
    let (sine, cosine) = of("node_angle_deg").to_radians().sin_cos();
    let (outward, along) = (DVec3::new(cosine, sine, 0.0), DVec3::new(-sine, cosine, 0.0));
    let aside = if oracle.inputs["side"] == "inside" { -outward } else { outward };
    let (lean, out) = (of("lean_deg").to_radians(), of("out_deg").to_radians());
    BranchEnd {
        node: outward * of("clr_mm"),
        into: (aside * lean.cos() + along * lean.sin()) * out.cos() + DVec3::Z * out.sin(),
        outside: Length::from_mm(of("branch_od_mm")),
        length: Length::from_mm(1000.0),
        may_miss: Length::from_mm(0.01),
    }
}

#[test]
fn a_cope_on_a_bend_is_cut_to_the_bend() {
    let all = oracles(DATA, "cope.bend.");
    assert_eq!(all.len(), 8);
    for oracle in all {
        let (line, end) = (carrier(&oracle), end(&oracle));
        let outside = Length::from_mm(number(&oracle.inputs["carrier_od_mm"]));
        let on = InTheWay { line: &line, outside, ends: [TubeEnd::Joined; 2] };
        let along = line.nearest(end.node).0;
        let cope = end.fitted(&on, along, &[]).unwrap().cope;
        assert!(cope.on_bend() && !cope.several(), "{}", oracle.id);
        let (of, within) = (|key: &str| number(&oracle.expected[key]), |key: &str| number(&oracle.tolerance[key]));
        let angle = of("angle_deg");
        all_near(&oracle.id, &[cope.angle().degrees()], &[angle.min(180.0 - angle)], 1e-9);
        let phis: Vec<Angle> = numbers(&oracle.expected["phi_deg"]).into_iter().map(Angle::from_degrees).collect();
        let got: Vec<f64> = phis.iter().map(|phi| cope.cut_at(*phi).mm()).collect();
        all_near(&oracle.id, &got, &numbers(&oracle.expected["s_outer_mm"]), within("abs_s_mm"));
        let got = [cope.long_point().mm(), cope.short_point().mm()];
        all_near(&oracle.id, &got, &[of("s_outer_min_mm"), of("s_outer_max_mm")], within("abs_min_max_mm"));
        let seam = of("seam_length_mm");
        all_near(&oracle.id, &[cope.seam().mm()], &[seam], within("rel_seam") * seam);
        // What was drawn before: the carrier taken for a straight tube.
        let straight = Cope::of(&Meeting {
            carrier_direction: line.point_at(along).1,
            branch_direction: end.into,
            offset: Length::default(),
            carrier_outside: outside,
            branch_outside: end.outside,
        });
        let straight = straight.unwrap();
        let off = (0..7200).map(|step| {
            let phi = Angle::from_degrees(f64::from(step) / 20.0);
            (cope.cut_at(phi) - straight.cut_at(phi)).mm().abs()
        });
        all_near(
            &oracle.id,
            &[off.fold(0.0, f64::max)],
            &[of("straight_profile_off_by_at_most_mm")],
            within("abs_off_mm"),
        );
    }
}
