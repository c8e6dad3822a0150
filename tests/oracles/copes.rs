//! Copes, seams and how much of a seam looks down, against figures computed outside the project.

use glam::{DQuat, DVec3};
use serde_json::Value;
use tackbook::geometry::{Cope, CopeFault, Meeting};
use tackbook::quantity::{Angle, Length};

use crate::geometry::{DATA, all_near, number, numbers, point};
use crate::oracle::oracles;

/// A meeting in the level plane: the branch along x, the carrier at the angle, its `aside` pointing down (-z).
fn meeting(main: &Value, branch_outside: f64) -> Meeting {
    let angle = number(&main["angle_deg"]).to_radians();
    let turned = main["turned_about_branch_deg"].as_f64().unwrap_or(0.0);
    // Places around the branch count toward carrier x branch: that is against the right hand about the branch.
    let turn = DQuat::from_axis_angle(DVec3::X, -turned.to_radians());
    Meeting {
        carrier_direction: turn * DVec3::new(angle.cos(), angle.sin(), 0.0),
        branch_direction: DVec3::X,
        offset: Length::from_mm(main["offset_mm"].as_f64().unwrap_or(0.0)),
        carrier_outside: Length::from_mm(main["main_od_mm"].as_f64().or(main["od_mm"].as_f64()).unwrap()),
        branch_outside: Length::from_mm(branch_outside),
    }
}

fn degrees(phis: &Value) -> impl Iterator<Item = Angle> {
    numbers(phis).into_iter().map(Angle::from_degrees)
}

#[test]
fn the_cut_of_both_walls_the_seam_and_the_metal() {
    for oracle in oracles(DATA, "cope.profile.") {
        let outside = number(&oracle.inputs["branch_od_mm"]);
        let wall = number(&oracle.inputs["branch_wall_mm"]);
        let cope = Cope::of(&meeting(&oracle.inputs, outside)).unwrap();
        let expected = &oracle.expected;
        let outer: Vec<f64> = degrees(&expected["phi_deg"]).map(|phi| cope.cut_at(phi).mm()).collect();
        all_near(&oracle.id, &outer, &numbers(&expected["s_outer_mm"]), 2e-8);
        let bore = Length::from_mm(outside - 2.0 * wall);
        let inner: Vec<f64> = degrees(&expected["phi_deg"]).map(|phi| cope.cut_within(phi, bore).mm()).collect();
        all_near(&oracle.id, &inner, &numbers(&expected["s_inner_mm"]), 2e-8);
        let of = |key: &str| number(&expected[key]);
        let got = [cope.long_point().mm(), cope.short_point().mm()];
        all_near(&oracle.id, &got, &[of("s_outer_min_mm"), of("s_outer_max_mm")], 1e-7);
        all_near(&oracle.id, &[cope.seam().mm()], &[of("seam_length_mm")], 1e-8 * of("seam_length_mm"));
        let mean = cope.mean_cut(Length::from_mm(wall)).mm();
        all_near(&oracle.id, &[mean], &[of("mean_s_mm")], 1e-7 * of("mean_s_mm"));
        let outline = cope.outline(360);
        let width = outline.last().unwrap().0.mm();
        let height = outline.iter().map(|place| place.1.mm()).fold(0.0, f64::max);
        all_near(&oracle.id, &[width], &[of("template_width_mm")], 1e-7);
        all_near(&oracle.id, &[height], &[of("template_height_mm")], 0.01);
        // The tilt of the saw has a sign there; between lines it has none.
        all_near(&oracle.id, &[90.0 - cope.angle().degrees()], &[of("saw_tilt_from_square_deg").abs()], 1e-9);
    }
}

#[test]
fn the_seam_of_equal_tubes_is_two_half_ellipses() {
    for oracle in oracles(DATA, "cope.seam.") {
        let mut main = oracle.inputs.clone();
        if main["angle_deg"].is_null() {
            main["angle_deg"] = 90.into();
        }
        let seam = Cope::of(&meeting(&main, number(&main["od_mm"]))).unwrap().seam().mm();
        oracle.near("seam_mm", seam);
    }
}

#[test]
fn a_tube_on_a_plate_is_cut_to_an_ellipse() {
    for oracle in oracles(DATA, "cope.plate.") {
        let angle = number(&oracle.inputs["angle_to_plate_deg"]).to_radians();
        let branch = DVec3::new(angle.cos(), 0.0, angle.sin());
        let outside = Length::from_mm(number(&oracle.inputs["od_mm"]));
        let cope = Cope::on_plate(DVec3::NEG_Z, branch, outside).unwrap();
        oracle.near("seam_mm", cope.seam().mm());
        oracle.near("template_height_mm", (cope.short_point() - cope.long_point()).mm());
        // The long half of the cut ellipse: from its centre, the node, to the short point on the plate.
        let long_half = (outside.mm() / 2.0).hypot(cope.short_point().mm());
        oracle.near("semi_major_mm", long_half);
    }
}

#[test]
fn a_mitre_is_cut_at_half_the_angle() {
    for oracle in oracles(DATA, "cope.mitre.") {
        let angle = number(&oracle.inputs["angle_between_axes_deg"]).to_radians();
        let outside = Length::from_mm(number(&oracle.inputs["od_mm"]));
        // two tubes of one size end to end are each cut on the plane halfway between them
        let (other, branch) = (DVec3::X, DVec3::new(angle.cos(), angle.sin(), 0.0));
        let cope = Cope::on_plate(branch - other, branch, outside).unwrap();
        oracle.near("seam_mm", cope.seam().mm());
        oracle.near("s_max_mm", cope.short_point().mm());
        oracle.near("saw_tilt_from_square_deg", 90.0 - cope.angle().degrees());
    }
}

#[test]
fn on_two_carriers_the_deeper_cut_counts() {
    for oracle in oracles(DATA, "cope.two.") {
        let outside = number(&oracle.inputs["branch_od_mm"]);
        let meetings: Vec<Meeting> =
            oracle.inputs["mains"].as_array().unwrap().iter().map(|main| meeting(main, outside)).collect();
        let cope = Cope::of_all(&meetings).unwrap();
        let got: Vec<f64> = degrees(&oracle.expected["phi_deg"]).map(|phi| cope.cut_at(phi).mm()).collect();
        all_near(&oracle.id, &got, &numbers(&oracle.expected["s_outer_mm"]), 1e-7);
        let seam = number(&oracle.expected["seam_mm"]);
        all_near(&oracle.id, &[cope.seam().mm()], &[seam], 1e-6 * seam);
    }
}

#[test]
fn a_tube_that_cannot_be_coped_is_refused() {
    for oracle in oracles(DATA, "cope.impossible.") {
        let got = Cope::of(&meeting(&oracle.inputs, number(&oracle.inputs["branch_od_mm"]))).unwrap_err();
        let by = Length::from_mm(number(&oracle.expected["overhang_mm"]));
        let wanted = if by > Length::default() { CopeFault::Overhangs { by } } else { CopeFault::Parallel };
        assert_eq!(got, wanted, "{}", oracle.id);
    }
}

#[test]
fn a_blank_runs_from_long_point_to_long_point() {
    for oracle in oracles(DATA, "cope.cutlength.") {
        let ends = oracle.inputs["ends"].as_array().unwrap();
        let mut blank = number(&oracle.inputs["node_to_node_mm"]);
        for (end, wanted) in ends.iter().zip(oracle.expected["s_min_max_mm"].as_array().unwrap()) {
            let cope = Cope::of(&meeting(end, number(&end["branch_od_mm"]))).unwrap();
            let got = [cope.long_point().mm(), cope.short_point().mm()];
            all_near(&oracle.id, &got, &numbers(wanted), 1e-7);
            blank -= cope.long_point().mm();
        }
        all_near(&oracle.id, &[blank], &[number(&oracle.expected["blank_mm"])], 1e-6);
    }
}

#[test]
fn a_stub_has_the_metal_from_its_mean_cut_on() {
    for oracle in oracles(DATA, "cope.mesh.") {
        let (outside, wall) = (number(&oracle.inputs["branch_od_mm"]), number(&oracle.inputs["wall_mm"]));
        let cope = Cope::of(&meeting(&oracle.inputs, outside)).unwrap();
        let metal = std::f64::consts::PI * wall * (outside - wall);
        let length = number(&oracle.inputs["stub_mm"]) - cope.mean_cut(Length::from_mm(wall)).mm();
        oracle.near("volume_mm3", metal * length);
    }
}

#[test]
fn the_share_of_the_seam_that_faces_down() {
    for oracle in oracles(DATA, "weld.position.") {
        let branch = point(&oracle.inputs["branch_axis_from_node"]);
        let branch_outside = Length::from_mm(number(&oracle.inputs["branch_od_mm"]));
        let cope = match &oracle.inputs["plate_free_side_normal"] {
            Value::Null => Cope::of(&Meeting {
                carrier_direction: point(&oracle.inputs["main_axis"]),
                branch_direction: branch,
                offset: Length::default(),
                carrier_outside: Length::from_mm(number(&oracle.inputs["main_od_mm"])),
                branch_outside,
            }),
            normal => Cope::on_plate(point(normal), branch, branch_outside),
        }
        .unwrap();
        let wanted = number(&oracle.expected["down_facing_share"]);
        all_near(&oracle.id, &[cope.faces_down()], &[wanted], oracle.tolerance["abs_share"].as_f64().unwrap());
        let seam = number(&oracle.expected["seam_mm"]);
        all_near(&oracle.id, &[cope.seam().mm()], &[seam], 1e-5 * seam);
    }
}
