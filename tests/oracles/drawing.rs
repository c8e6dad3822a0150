//! Projections, scales and line widths against ISO 5456-3, ISO 8855, ISO 5455 and ISO 128-2.

use glam::{DVec2, DVec3, dvec2};
use serde_json::Value;
use tackbook::drawing::car::view::{View, fitting};
use tackbook::drawing::{Pen, Sheet};

use crate::oracle::oracles;

const DATA: &str = include_str!("data/drawing.json");

fn numbers(list: &Value) -> Vec<f64> {
    list.as_array().unwrap().iter().map(|number| number.as_f64().unwrap()).collect()
}

fn point(list: &Value) -> DVec3 {
    DVec3::from_slice(&numbers(list))
}

fn pair(list: &Value) -> DVec2 {
    DVec2::from_slice(&numbers(list))
}

#[test]
fn isometric_points_fall_where_the_standard_puts_them() {
    for oracle in oracles(DATA, "draw.iso.point") {
        let got = View::Isometric.project(point(&oracle.inputs["point"]));
        assert!((got - pair(&oracle.expected["page"])).length() < 1e-8, "{}: {got}", oracle.id);
    }
}

#[test]
fn a_lopsided_point_is_on_the_right_side_of_every_view() {
    for oracle in oracles(DATA, "draw.ortho") {
        let at = point(&oracle.inputs["point_mm"]);
        for (view, key) in [(View::Front, "front"), (View::Side, "left_side"), (View::Plan, "plan_nose_left")] {
            assert_eq!(view.project(at), pair(&oracle.expected[key]), "{key}");
        }
    }
    // Nearer to who looks: the nose from the front, the left from the left, the roof from above.
    assert!(View::Front.nearness(DVec3::X) > View::Front.nearness(DVec3::NEG_X));
    assert!(View::Side.nearness(DVec3::Y) > View::Side.nearness(DVec3::NEG_Y));
    assert!(View::Plan.nearness(DVec3::Z) > View::Plan.nearness(DVec3::NEG_Z));
    assert!(View::Isometric.nearness(DVec3::ONE) > View::Isometric.nearness(DVec3::NEG_ONE));
}

#[test]
fn the_largest_recommended_scale_that_fits_is_taken() {
    for oracle in oracles(DATA, "draw.fit") {
        let many = fitting(pair(&oracle.inputs["object_mm"]), pair(&oracle.inputs["box_mm"])).unwrap();
        assert_eq!(format!("1:{many}"), oracle.expected["scale"].as_str().unwrap(), "{}", oracle.id);
    }
    assert_eq!(fitting(dvec2(90_000.0, 10.0), dvec2(180.0, 120.0)), None);
}

#[test]
fn pens_are_of_the_standard_widths() {
    for oracle in oracles(DATA, "draw.lines") {
        let usual = &oracle.expected["usual_A4_A3"];
        assert_eq!(Some(Pen::Wide.width().mm()), usual["wide_mm"].as_f64());
        assert_eq!(Some(Pen::Narrow.width().mm()), usual["narrow_mm"].as_f64());
        let series = numbers(&oracle.expected["widths_mm"]);
        for pen in [Pen::HiddenDashed, Pen::CentreChain, Pen::Faint] {
            assert!(series.contains(&pen.width().mm()), "{pen:?}");
        }
    }
}

#[test]
fn the_printable_box_is_common_to_both_papers() {
    for oracle in oracles(DATA, "draw.printsafe") {
        for sheet in [Sheet::a4(), Sheet::letter()] {
            oracle.near("width_mm", sheet.printable().1.x);
            oracle.near("height_mm", sheet.printable().1.y);
        }
    }
}
