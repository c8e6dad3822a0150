//! The weld log: what was welded, inspected and repaired at each joint, where anything was.

use super::Packet;
use super::flow::{SMALL, TYPE};
use super::pictures::{Pictured, SMALL_PICTURE};
use crate::documents::teller::Teller;
use crate::domain::recorded::welds::Weld;
use crate::domain::recorded::welds::stage::Stage;
use crate::domain::words::ids::Balloon;
use crate::domain::work::weld_order::{in_order, stages};
use crate::drawing::paper::table::{Column, Table};
use crate::drawing::{Ink, Weight};
use crate::quantity::Length;

/// The place that links lead to.
pub(in crate::documents) const PLACE: &str = "welds";

/// The log's pages; none before anything is logged.
pub(in crate::documents) fn add(flow: &mut impl Teller, packet: &Packet<'_>) {
    let standing: Vec<&Weld> = packet.facts.welds.iter().filter(|weld| weld.stands()).collect();
    if packet.facts.welds.is_empty() {
        return;
    }
    flow.chapter("Weld log", PLACE);
    flow.words(&summed(packet), TYPE, Weight::Bold, Ink::Black);
    let rest = flow.width() - 121.0;
    let table = Table {
        columns: vec![
            Column::of("At", Length::from_mm(11.0)),
            Column::of("Day", Length::from_mm(19.0)),
            Column::of("What", Length::from_mm(33.0)),
            Column::of("By", Length::from_mm(27.0)),
            Column::of("Process, position", Length::from_mm(31.0)),
            Column::of("Filler, gas, figures, heat input", Length::from_mm(rest)),
        ],
        rows: standing.iter().map(|weld| row(packet, weld)).collect(),
        size: SMALL,
    };
    flow.table(&table);
    pictured(flow, packet, &standing);
    ordered(flow, packet);
    let struck = packet.facts.welds.len() - standing.len();
    let struck = if struck > 0 {
        format!(" Lines struck through, and kept in the shop's log: {struck}.")
    } else {
        String::new()
    };
    let words = format!(
        "As the shop wrote it down; a figure that nobody read off is not there. Heat input is k·U·I / v (EN 1011-1; k quoted \
         second-hand). Levels are those of ISO 5817, positions those of ISO 6947, processes by their numbers in ISO 4063.{struck}"
    );
    flow.words(&words, SMALL, Weight::Regular, Ink::Grey);
}

/// The photographs of the lines, each said to be of its line.
fn pictured(flow: &mut impl Teller, packet: &Packet<'_>, standing: &[&Weld]) {
    let of = |weld: &&Weld| {
        let view = format!("{}, line {}: {}, {}", weld.joint, weld.line, weld.did.word(), weld.day);
        let photos = weld.photos(&packet.facts.photos).into_iter();
        photos.map(|photo| Pictured { view: view.clone(), photo: Some(photo) }).collect::<Vec<_>>()
    };
    let all: Vec<Pictured<'_>> = standing.iter().flat_map(of).collect();
    if !all.is_empty() {
        flow.space();
        flow.pictures(packet, &all, SMALL_PICTURE);
    }
}

/// The order of what is left, where the office set one.
fn ordered(flow: &mut impl Teller, packet: &Packet<'_>) {
    let (facts, worked) = (packet.facts, &packet.found.worked);
    let Some(set) = facts.weld_order.as_ref().filter(|order| order.joints.is_some()) else { return };
    let plan = worked.lowering.iter().flat_map(|plan| &plan.welds);
    let lowered: Vec<Balloon> = plan.map(|weld| weld.joint).collect();
    let order = in_order(&worked.cage, &facts.welds, &lowered, Some(set));
    if order.seams.is_empty() {
        return;
    }
    let names = |joints: &mut dyn Iterator<Item = Balloon>| {
        joints.map(|joint| joint.to_string()).collect::<Vec<_>>().join(", ")
    };
    let placed = match order.placed.len() {
        0 => String::new(),
        _ => format!(" Not in it, and at the suggested place: {}.", names(&mut order.placed.iter().copied())),
    };
    let left = names(&mut order.seams.iter().map(|seam| seam.at));
    let words = format!("Left to weld, in the order set by {}, {}: {left}.{placed}", set.by, (packet.day_of)(set.at));
    flow.words(&words, TYPE, Weight::Regular, Ink::Black);
}

/// How far the welding has come, by what is logged.
pub(in crate::documents) fn summed(packet: &Packet<'_>) -> String {
    let stages = stages(&packet.found.worked.cage, &packet.facts.welds);
    let count = |of: fn(Stage) -> bool| stages.iter().filter(|(_, stage)| of(*stage)).count();
    format!(
        "Of {} joints and feet {} have a weld logged, {} are inspected and accepted, {} wait for an inspection, {} for a repair.",
        stages.len(),
        count(|stage| stage != Stage::NotWelded),
        count(|stage| stage == Stage::Accepted),
        count(Stage::to_inspect),
        count(|stage| stage == Stage::RepairWanted)
    )
}

/// A line's cells.
pub(in crate::documents) fn row(packet: &Packet<'_>, weld: &Weld) -> Vec<String> {
    let held = weld.held.as_ref().map(|why| format!(", WHILE HELD: {why}")).unwrap_or_default();
    let run = weld.did.run();
    let by = run.map_or_else(String::new, |run| {
        let through = run.welder.expires.map(|last| format!(", good through {last}")).unwrap_or_default();
        let qualified = &run.welder.qualification;
        if qualified.is_empty() { through } else { format!(", {qualified}{through}") }
    });
    let how = run.map_or_else(String::new, |run| format!("{}, {}", run.process.word(), run.describe_positions()));
    let mut rest: Vec<String> = run.map_or_else(Vec::new, |run| {
        let heat = format!("heat input {}", run.describe_heat(packet.units));
        vec![run.describe_filler(), run.describe_figures(packet.units), heat]
    });
    rest.push(weld.note.clone());
    let rest: Vec<String> = rest.into_iter().filter(|words| !words.is_empty()).collect();
    vec![
        weld.joint.to_string(),
        weld.day.to_string(),
        format!("{}{held}", weld.did.word()),
        format!("{}{by}", weld.did.who()),
        how,
        rest.join("; "),
    ]
}
