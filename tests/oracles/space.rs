//! Angles, distances and plate outlines against figures computed outside the project.

use glam::DVec2;
use serde_json::Value;
use tackbook::domain::work::lowering::slot;
use tackbook::geometry::{Polygon, PolygonFault, Segment, angle, distance};
use tackbook::quantity::{Angle, Length};

use crate::geometry::{DATA, all_near, number, numbers, point};
use crate::oracle::oracles;

#[test]
fn angles_between_directions_and_lines() {
    for oracle in oracles(DATA, "geom.angle.") {
        let (first, second) = (point(&oracle.inputs["u"]), point(&oracle.inputs["v"]));
        let (of_directions, of_lines) =
            (angle::between_directions(first, second).degrees(), angle::between_lines(first, second).degrees());
        oracle.near("deg", of_directions);
        oracle.near("between_lines_deg", of_lines);
        // The common room of a billionth is too wide for the smallest angle.
        let wanted = number(&oracle.expected["deg"]);
        all_near(&oracle.id, &[of_directions], &[wanted], 1e-9 * wanted);
    }
}

#[test]
fn how_near_two_straight_tubes_come() {
    for oracle in oracles(DATA, "geom.segments.") {
        let at = |key: &str| point(&oracle.inputs[key]);
        let first = Segment { from: at("p1"), to: at("q1") };
        let second = Segment { from: at("p2"), to: at("q2") };
        let outside = Length::from_mm(38.1);
        for nearest in [first.nearest_of(&second), second.nearest_of(&first)] {
            oracle.near("segment_distance_mm", nearest.distance.mm());
            oracle.near("gap_of_38.1_tubes_mm", nearest.gap(outside, outside).mm());
        }
        let chords = distance::nearest_of_chords(&[first.from, first.to], &[second.from, second.to]).unwrap();
        oracle.near("segment_distance_mm", chords.distance.mm());
    }
}

#[test]
fn how_near_the_body_comes_to_a_tube() {
    for oracle in oracles(DATA, "geom.body_gap.") {
        let at = |key: &str| point(&oracle.inputs[key]);
        let away = Segment { from: at("a"), to: at("b") }.distance_to(at("point")).mm();
        oracle.near("distance_mm", away);
        oracle.near("gap_mm", away - number(&oracle.inputs["od_mm"]) / 2.0);
    }
}

fn corners(list: &Value) -> Vec<DVec2> {
    list.as_array().unwrap().iter().map(|corner| DVec2::from_slice(&numbers(corner))).collect()
}

#[test]
fn a_plates_area_and_length_around() {
    for oracle in oracles(DATA, "area.polygon.") {
        let unit = if oracle.inputs["corners_mm"].is_null() { "in" } else { "mm" };
        let polygon = Polygon::new(corners(&oracle.inputs[format!("corners_{unit}")])).unwrap();
        oracle.near(&format!("area_{unit}2"), polygon.area().mm2());
        oracle.near(&format!("perimeter_{unit}"), polygon.perimeter().mm());
    }
}

#[test]
fn an_outline_that_crosses_itself_is_refused() {
    for oracle in oracles(DATA, "area.selfcrossing") {
        let got = Polygon::new(corners(&oracle.inputs["corners_mm"]));
        assert_eq!(got, Err(PolygonFault::Crosses { first: 1, second: 3 }));
    }
}

#[test]
fn a_hole_is_the_tube_aslant_and_as_far_as_the_leg_moves() {
    for case in oracles(DATA, "geom.slot.") {
        let number = |name: &str| case.inputs[name].as_f64().unwrap();
        let (lean, drop) = (Angle::from_degrees(number("lean_deg")), number("drop_mm"));
        let travel = drop * lean.radians().tan();
        case.near("travel_mm", travel);
        let mm = Length::from_mm;
        let over = mm(2.0 * number("clearance_per_side_mm"));
        let (long, wide) = slot(mm(number("tube_od_mm")), over, lean, mm(travel));
        case.near("slot_long_mm", long.mm());
        case.near("slot_wide_mm", wide.mm());
    }
}
