//! The cut plan for other programs: one JSON text, or a table with a line for each piece. Lengths in mm.

use serde_json::{Value, json};

use super::{CutPlan, CutStick, Piece, SizePlan};
use crate::domain::steel::tube::TubeSize;
use crate::quantity::Length;

/// What plans are compared by.
const MEASURE: &str =
    "fewest pieces without a stick; of those, least length to buy; of those, least length of the sticks cut into";

fn of_tube(tube: &TubeSize) -> Value {
    json!({ "outside": tube.outside.mm(), "wall": tube.wall.mm() })
}

fn of_stick(tube: &TubeSize, stick: &CutStick) -> Value {
    let piece = |piece: &Piece| {
        let [before, after] = piece.more.map(Length::mm);
        json!({ "name": piece.name, "length": piece.length.mm(), "before": before, "after": after, "final": !piece.loose })
    };
    json!({
        "stick": stick.name,
        "bought": stick.stick.is_none(),
        "grade": stick.stick.as_ref().map(|stick| &stick.grade).filter(|grade| !grade.is_empty()),
        "heat": stick.stick.as_ref().map(|stick| &stick.heat).filter(|heat| !heat.is_empty()),
        "tube": of_tube(tube),
        "length": stick.length.mm(),
        "pieces": stick.pieces.iter().map(piece).collect::<Vec<_>>(),
        "trims": stick.trims.mm(),
        "kerf": stick.kerf.mm(),
        "offcut": stick.offcut.mm(),
        "keep": stick.keep,
    })
}

/// The plan as JSON.
pub fn as_json(plan: &CutPlan) -> Value {
    let all = |of: &dyn Fn(&SizePlan) -> Vec<Value>| plan.sizes.iter().flat_map(of).collect::<Vec<Value>>();
    let sum = |of: &dyn Fn(&SizePlan) -> Length| plan.sizes.iter().map(of).sum::<Length>().mm();
    let sticks = |size: &SizePlan| size.sticks.iter().map(|stick| of_stick(&size.tube, stick)).collect();
    let whole = |size: &SizePlan| {
        let of =
            |free: &super::Free| json!({ "stick": free.name, "tube": of_tube(&size.tube), "length": free.length.mm() });
        size.whole.iter().map(of).collect()
    };
    let no_stick = |size: &SizePlan| {
        let of =
            |piece: &Piece| json!({ "name": piece.name, "tube": of_tube(&size.tube), "length": piece.length.mm() });
        size.too_long.iter().chain(&size.no_stick).map(of).collect()
    };
    let to_buy = |size: &SizePlan| {
        let line = json!({ "tube": of_tube(&size.tube), "length": plan.saw.buy.value.mm(), "count": size.to_buy() });
        if size.to_buy() > 0 { vec![line] } else { Vec::new() }
    };
    json!({
        "tackbook_cuts": 1,
        "units": { "length": "mm" },
        "measure": MEASURE,
        "saw": {
            "kerf": plan.saw.kerf.value.mm(),
            "trim": plan.saw.trim.value.mm(),
            "cope": plan.saw.cope.value.mm(),
            "grip": plan.saw.grip.value.mm(),
            "buy": plan.saw.buy.value.mm(),
            "keep": plan.saw.keep.value.mm(),
        },
        "sticks": all(&sticks),
        "whole": all(&whole),
        "no_stick": all(&no_stick),
        "to_buy": all(&to_buy),
        "used": sum(&SizePlan::used),
        "cut": sum(&SizePlan::cut),
        "waste": sum(&SizePlan::waste),
        "kept": sum(&SizePlan::kept),
        "bound": sum(&|size| size.standing.least_cut_into()),
        "bound_to_buy": sum(&|size| size.standing.least_to_buy()),
        "proven": plan.is_proven(),
    })
}

/// The head of the table, and a line for each piece: where on its stick it begins, from the stick's first end.
pub fn rows(plan: &CutPlan) -> Vec<[String; 8]> {
    let head = ["stick", "bought", "heat", "tube", "stick_mm", "piece", "from_mm", "length_mm"].map(str::to_owned);
    let mut rows = vec![head];
    for size in &plan.sizes {
        for stick in &size.sticks {
            let mut from = stick.trim;
            for piece in &stick.pieces {
                rows.push([
                    stick.name.clone(),
                    if stick.stick.is_none() { "yes" } else { "no" }.to_owned(),
                    stick.stick.as_ref().map(|stick| stick.heat.clone()).unwrap_or_default(),
                    size.tube.to_string(),
                    format!("{:.1}", stick.length.mm()),
                    piece.name.clone(),
                    format!("{:.1}", from.mm()),
                    piece.length.saw_mm(),
                ]);
                from = from + piece.length + plan.saw.kerf.value;
            }
        }
    }
    rows
}

/// The numbers of a cage with the plan beside them.
pub fn beside(mut numbers: Value, plan: &CutPlan) -> Value {
    if let Some(all) = numbers.as_object_mut() {
        all.insert("cuts".to_owned(), as_json(plan));
    }
    numbers
}
