//! All numbers of a cage as one JSON text for other programs: millimetres, degrees, kilograms.

use serde_json::{Value, json};

use super::bar_sheet::{BarSheet, Bench, EndCut};
use crate::domain::cage::{Cage, End, Joint, Masses, Member};
use crate::domain::work::seams::{Estimate, Rates, seams};
use crate::quantity::Length;

/// The numbers of a cage, bent with what the shop has and welded at these rates.
pub fn numbers(cage: &Cage, bench: &Bench<'_>, rates: &Rates) -> Value {
    let members: Vec<Value> = cage.members.iter().map(|member| of_member(cage, member, bench)).collect();
    let joints: Vec<Value> = cage.joints.iter().map(of_joint).collect();
    let middle = cage.centre_of_mass().map(|at| at.to_array());
    json!({
        "units": { "length": "mm", "angle": "degree", "mass": "kg", "time": "minute" },
        "members": members,
        "joints": joints,
        "totals": {
            "length": cage.tube_length().mm(),
            "mass": cage.tube_mass().kg(),
            "seam": cage.seam().mm(),
            "centre_of_mass": middle,
        },
        "masses": of_masses(&Masses::of(cage)),
        "welding": of_welding(cage, rates),
        "faults": cage.faults.iter().map(|fault| json!({ "at": fault.at, "why": fault.why })).collect::<Vec<_>>(),
    })
}

fn of_member(cage: &Cage, member: &Member, bench: &Bench<'_>) -> Value {
    let sheet = BarSheet::of(cage, member, bench);
    let bends: Vec<Value> = sheet
        .bends
        .iter()
        .map(|bend| {
            json!({
                "start": bend.start.mm(),
                "mark": bend.mark.mm(),
                "rotation": bend.rotation.degrees(),
                // How far the tube is turned in the bender, as its dial counts.
                "turn": bend.turn.degrees(),
                "angle": bend.angle.degrees(),
                // Not known where no test bend of a fitting die is recorded.
                "set_angle": bend.made.setting().map(|set| set.angle.degrees()),
                "radius": bend.radius.mm(),
            })
        })
        .collect();
    let ends: Vec<Value> = sheet.ends.iter().map(|end| end.as_ref().map_or(Value::Null, of_end)).collect();
    json!({
        "balloon": member.balloon,
        "role": member.role.word(),
        "centre_line": member.developed.mm(),
        "cut_length": member.cut_length.mm(),
        "mass": member.mass.kg(),
        "bends": bends,
        "ends": ends,
    })
}

fn of_end(end: &EndCut) -> Value {
    let offset = match end.end {
        End::Onto { offset, .. } => offset.mm(),
        End::OnPlate(_) | End::Free => 0.0,
    };
    json!({
        "onto": end.onto,
        // Fitted before it, and cut to as well.
        "round": end.round,
        "angle": end.cope.angle().degrees(),
        "offset": offset,
        // None where no hole saw makes the cut.
        "hole_saw": end.tool.hole_saw().map(Length::mm),
        "long_point": end.cope.long_point().mm(),
        "short_point": end.cope.short_point().mm(),
        "seam": end.cope.seam().mm(),
    })
}

fn of_joint(joint: &Joint) -> Value {
    let members: Vec<String> = joint.incoming.iter().map(|end| end.0.to_string()).collect();
    json!({
        "balloon": joint.balloon,
        "carrier": joint.carrier,
        "members": members,
        "seam": joint.seam.mm(),
        "overhead": joint.overhead,
    })
}

/// The whole cage, gussets and plates too; `totals` has the tube alone.
fn of_masses(masses: &Masses) -> Value {
    let size = |size: &crate::domain::cage::OfSize| {
        json!({
            "tube": { "outside": size.tube.outside.mm(), "wall": size.tube.wall.mm() },
            "bars": size.bars,
            "length": size.length.mm(),
            "mass": size.mass.kg(),
        })
    };
    json!({
        "tubes": masses.tubes.iter().map(size).collect::<Vec<_>>(),
        "plates": masses.plates.1.kg(),
        "gussets": masses.gussets.1.kg(),
        "whole": masses.whole.kg(),
        "centre": masses.centre.map(|at| at.to_array()),
    })
}

/// Wire and time of each joint and foot, and the rates they are reckoned with: an estimate, no procedure.
fn of_welding(cage: &Cage, rates: &Rates) -> Value {
    let all = seams(cage, rates);
    let minutes = |hours: crate::quantity::Hours| hours.hours() * 60.0;
    let figures = |at: Option<crate::domain::words::ids::Balloon>, estimate: &Estimate| {
        json!({
            "at": at,
            "seam": estimate.seam.mm(),
            "overhead": estimate.overhead(),
            "wire": estimate.wire.kg(),
            "arc": minutes(estimate.arc),
            "time": minutes(estimate.time),
        })
    };
    let whole: Estimate = all.iter().map(|at| at.estimate).sum();
    json!({
        "rates": {
            "leg": rates.leg.value.mm(),
            "wire": rates.wire.value.mm(),
            "efficiency": rates.efficiency.value.ratio(),
            "laid_in_a_minute": rates.laid.value.mm(),
            "arc": rates.arc.value.ratio(),
        },
        "seams": all.iter().map(|at| figures(Some(at.at), &at.estimate)).collect::<Vec<_>>(),
        "whole": figures(None, &whole),
    })
}
