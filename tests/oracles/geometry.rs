//! Bends, copes, distances and plates against figures computed outside the project; each entry names its source.

use glam::DVec3;
use serde_json::Value;
use tackbook::geometry::{Bend, CentreLine, LineFault};
use tackbook::quantity::base::MM_PER_INCH;
use tackbook::quantity::{Angle, Length};

use crate::oracle::{Oracle, oracles};

pub(crate) const DATA: &str = include_str!("data/geometry.json");

pub(crate) fn number(value: &Value) -> f64 {
    value.as_f64().or_else(|| value.as_str().and_then(|text| text.parse().ok())).unwrap()
}

pub(crate) fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(number).collect()
}

pub(crate) fn point(value: &Value) -> DVec3 {
    DVec3::from_slice(&numbers(value))
}

/// The figure under the key with its unit, and the millimetres of that unit.
fn in_unit<'a>(inputs: &'a Value, name: &str) -> (&'a Value, f64) {
    match &inputs[format!("{name}_mm")] {
        Value::Null => (&inputs[format!("{name}_in")], MM_PER_INCH),
        found => (found, 1.0),
    }
}

fn line_of(inputs: &Value) -> Result<CentreLine, LineFault> {
    let (points, unit) = in_unit(inputs, "points");
    let points: Vec<DVec3> = points.as_array().unwrap().iter().map(|corner| point(corner) * unit).collect();
    let radii: Vec<Length> =
        numbers(in_unit(inputs, "clr").0).into_iter().map(|radius| Length::from_mm(radius * unit)).collect();
    CentreLine::with_radii(points, radii[0], &radii)
}

pub(crate) fn all_near(id: &str, got: &[f64], want: &[f64], room: f64) {
    assert_eq!(got.len(), want.len(), "{id}: {got:?} against {want:?}");
    for (got, want) in got.iter().zip(want) {
        assert!((got - want).abs() <= room, "{id}: got {got}, expected {want}");
    }
}

fn room_of(oracle: &Oracle) -> f64 {
    oracle.tolerance["abs"].as_f64().or(oracle.tolerance["abs_length"].as_f64()).unwrap()
}

fn bend(rotation: f64, angle: f64, radius: f64) -> Bend {
    Bend {
        start: Length::default(),
        rotation: Angle::from_degrees(rotation),
        angle: Angle::from_degrees(angle),
        radius: Length::from_mm(radius),
        corner: DVec3::ZERO,
    }
}

#[test]
fn one_bend_has_its_arc_and_tangent() {
    for oracle in oracles(DATA, "bend.arc.") {
        let (radius, unit) = in_unit(&oracle.inputs, "clr");
        let suffix = if unit > 1.0 { "in" } else { "mm" };
        let angle = number(&oracle.inputs["bend_angle_deg"]);
        let bend = bend(0.0, angle, number(radius) * unit);
        oracle.near(&format!("arc_{suffix}"), bend.arc().mm() / unit);
        if angle < 180.0 {
            oracle.near(&format!("tangent_{suffix}"), bend.tangent().mm() / unit);
            let reach = Length::from_mm(1.25 * bend.tangent().mm());
            let line = CentreLine::from_bends(DVec3::ZERO, DVec3::X, DVec3::Z, &[reach, reach], &[bend]).unwrap();
            let (first, last) = (line.point_at(reach).0, line.point_at(reach + bend.arc()).0);
            all_near(
                &oracle.id,
                &[first.distance(last) / unit],
                &[number(&oracle.expected[format!("chord_{suffix}")])],
                1e-9 * bend.radius.mm(),
            );
            let saved = line.points()[0].distance(bend_corner(&line)) * 2.0 - line.developed_length().mm();
            let wanted = number(&oracle.expected[format!("saved_on_corner_{suffix}")]);
            all_near(&oracle.id, &[saved / unit], &[wanted], 1e-9 * bend.radius.mm());
            let off = line.nearest(bend_corner(&line)).2.mm() / unit;
            let wanted = number(&oracle.expected[format!("corner_to_arc_{suffix}")]);
            all_near(&oracle.id, &[off], &[wanted], 1e-9 * bend.radius.mm());
        }
    }
}

fn bend_corner(line: &CentreLine) -> DVec3 {
    line.bends()[0].corner
}

#[test]
fn corner_points_give_straights_rotations_and_angles() {
    for oracle in oracles(DATA, "bend.lra.") {
        let line = line_of(&oracle.inputs).unwrap();
        let (straights, unit) = in_unit(&oracle.expected, "straights");
        let suffix = if unit > 1.0 { "in" } else { "mm" };
        let room = room_of(&oracle);
        let room_for_angles = oracle.tolerance["abs_angle_deg"].as_f64().unwrap();
        let got: Vec<f64> = line.straights().iter().map(|straight| straight.mm() / unit).collect();
        all_near(&oracle.id, &got, &numbers(straights), room);
        let got: Vec<f64> = line.bends().iter().map(|bend| bend.rotation.degrees()).collect();
        all_near(&oracle.id, &got, &numbers(&oracle.expected["rotations_deg"]), room_for_angles);
        let got: Vec<f64> = line.bends().iter().map(|bend| bend.angle.degrees()).collect();
        all_near(&oracle.id, &got, &numbers(&oracle.expected["bends_deg"]), room_for_angles);
        let wanted = number(&oracle.expected[format!("developed_{suffix}")]);
        all_near(&oracle.id, &[line.developed_length().mm() / unit], &[wanted], room);
        for (bend, ends) in
            line.bends().iter().zip(oracle.expected[format!("bend_start_end_{suffix}")].as_array().unwrap())
        {
            let got = [bend.start.mm() / unit, (bend.start + bend.arc()).mm() / unit];
            all_near(&oracle.id, &got, &numbers(ends), room);
        }
    }
}

#[test]
fn a_bend_list_gives_the_corner_points() {
    for oracle in oracles(DATA, "bend.xyz.") {
        let of = |key: &str| numbers(&oracle.inputs[key]);
        let straights: Vec<Length> = of("straights_mm").into_iter().map(Length::from_mm).collect();
        let bends: Vec<Bend> = of("rotations_deg")
            .into_iter()
            .zip(of("bends_deg").into_iter().zip(of("clr_mm")))
            .map(|(rotation, (angle, radius))| bend(rotation, angle, radius))
            .collect();
        let line = CentreLine::from_bends(DVec3::ZERO, DVec3::X, DVec3::Z, &straights, &bends).unwrap();
        let wanted: Vec<DVec3> = oracle.expected["points_mm"].as_array().unwrap().iter().map(point).collect();
        assert_eq!(line.points().len(), wanted.len());
        for (got, wanted) in line.points().iter().zip(wanted) {
            assert!(got.distance(wanted) <= room_of(&oracle), "{}: {got} against {wanted}", oracle.id);
        }
    }
}

#[test]
fn marks_on_the_straight_tube_are_where_the_bends_start_and_end() {
    for oracle in oracles(DATA, "bend.marks.") {
        let of = |key: &str| numbers(&oracle.inputs[key]);
        let straights: Vec<Length> = of("straights").into_iter().map(Length::from_mm).collect();
        let bends: Vec<Bend> =
            of("bends_deg").into_iter().zip(of("clr")).map(|(angle, radius)| bend(0.0, angle, radius)).collect();
        let line = CentreLine::from_bends(DVec3::ZERO, DVec3::X, DVec3::Z, &straights, &bends).unwrap();
        for (bend, mark) in line.bends().iter().zip(oracle.expected["marks"].as_array().unwrap()) {
            let got = [bend.start.mm(), (bend.start + bend.arc() / 2.0).mm(), (bend.start + bend.arc()).mm()];
            all_near(&oracle.id, &got, &["start", "middle", "end"].map(|key| number(&mark[key])), 1e-8);
        }
        oracle.near("length", line.developed_length().mm());
    }
}

#[test]
fn points_that_make_no_tube_are_refused_by_name() {
    for oracle in oracles(DATA, "bend.degenerate.") {
        let got = line_of(&oracle.inputs);
        match oracle.expected["error"].as_str() {
            None => {
                assert!(got.as_ref().unwrap().straight());
                oracle.near("developed_mm", got.unwrap().developed_length().mm());
            }
            Some("coincident_points") => assert_eq!(got, Err(LineFault::SamePoint { first: 1, second: 2 })),
            Some("bend_180_needs_two_points") => assert_eq!(got, Err(LineFault::FoldsBack { point: 2 })),
            Some("tangents_overlap") => {
                let missing = -Length::from_mm(number(&oracle.expected["straight_between_mm"]));
                assert_eq!(got, Err(LineFault::TangentsOverlap { first: 1, second: 2, missing }));
            }
            Some("end_straight_negative") => {
                let missing = -Length::from_mm(number(&oracle.expected["first_straight_mm"]));
                assert_eq!(got, Err(LineFault::NoRoomAtEnd { bend: 1, missing }));
            }
            Some(other) => panic!("{}: no such fault here: {other}", oracle.id),
        }
    }
}
