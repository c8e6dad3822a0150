//! Blanks of sheet: flat gussets, plates less their holes, what a bend takes (triangle and closed formulas, mpmath).

use glam::dvec2;
use tackbook::geometry::GussetSeat;
use tackbook::geometry::gusset::ROOT;
use tackbook::geometry::sheet_blank::{Hole, SheetBlank, bend_allowance};
use tackbook::quantity::{Angle, Length};

use crate::oracle::{Oracle, oracles};

const DATA: &str = include_str!("data/blanks.json");

fn figure(oracle: &Oracle, key: &str) -> f64 {
    oracle.inputs[key].as_f64().unwrap()
}

fn length(oracle: &Oracle, key: &str) -> Length {
    Length::from_mm(figure(oracle, key))
}

#[test]
fn flat_gussets() {
    for oracle in oracles(DATA, "area.gusset.") {
        let between = Angle::from_degrees(figure(&oracle, "angle_deg"));
        let seat = GussetSeat { between, outside: [Length::from_mm(40.0); 2], leg: length(&oracle, "leg1_mm") };
        let blank = seat.flat(None).unwrap();
        // Ours is cut back at the corner: that triangle is added again.
        let whole = blank.gross().mm2() + ROOT.mm().powi(2) * between.radians().sin() / 2.0;
        oracle.near("area_mm2", whole);
        oracle.near("mass_g", whole * figure(&oracle, "thickness_mm") * 7.85e-3);
        let corners = blank.outline.corners();
        oracle.near("free_edge_mm", corners[1].distance(corners[2]));
    }
}

#[test]
fn plates_less_their_holes() {
    for oracle in oracles(DATA, "area.holes.") {
        let (width, height) = (length(&oracle, "w_mm"), length(&oracle, "h_mm"));
        let mut plate = SheetBlank::rectangle(width, height).unwrap();
        let middle = dvec2(width.mm(), height.mm()) / 2.0;
        plate.holes = oracle.inputs["holes"]
            .as_array()
            .unwrap()
            .iter()
            .map(|hole| Hole {
                centre: dvec2(hole["x_mm"].as_f64().unwrap(), hole["y_mm"].as_f64().unwrap()) - middle,
                diameter: Length::from_mm(hole["diameter_mm"].as_f64().unwrap()),
            })
            .collect();
        oracle.near("gross_mm2", plate.gross().mm2());
        oracle.near("net_mm2", plate.net().mm2());
        assert!(plate.round_holes().unwrap() > Length::default());
    }
}

#[test]
fn what_a_bend_takes() {
    for oracle in oracles(DATA, "area.fold.") {
        let (inside, thickness) = (length(&oracle, "inside_r_mm"), length(&oracle, "thickness_mm"));
        let angle = Angle::from_degrees(figure(&oracle, "angle_deg"));
        let allowance = bend_allowance(angle, inside, thickness, figure(&oracle, "k"));
        oracle.near("allowance_mm", allowance.mm());
        let outside = (inside + thickness) * (2.0 * (angle.radians() / 2.0).tan());
        oracle.near("deduction_mm", (outside - allowance).mm());
    }
}
