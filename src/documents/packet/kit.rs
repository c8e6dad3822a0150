//! The kit: each item with its label's words, its last good day, and its label photographed.

use super::Packet;
use super::flow::{SMALL, TYPE};
use super::pictures::{Pictured, SMALL_PICTURE, of_part};
use crate::documents::teller::Teller;
use crate::domain::recorded::kit::KitItem;
use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::paper::table::{Column, Table};
use crate::drawing::{Ink, Weight};
use crate::quantity::Length;

/// The kit's pages.
pub(in crate::documents) fn add(flow: &mut impl Teller, packet: &Packet<'_>) {
    flow.chapter("Kit", "kit");
    let facts = packet.facts;
    if facts.kit.is_empty() {
        return flow.words("No item of kit is recorded.", TYPE, Weight::Bold, Ink::Black);
    }
    let day = match facts.build.event_day {
        Some(day) => format!("Judged for the event's last day, {day}."),
        None => format!("No event day is set: judged for {}.", packet.day),
    };
    flow.words(&day, TYPE, Weight::Regular, Ink::Black);
    let rest = flow.width() - 130.0;
    let table = Table {
        columns: vec![
            Column::of("No.", Length::from_mm(11.0)),
            Column::of("Item", Length::from_mm(27.0)),
            Column::of("Standard", Length::from_mm(34.0)),
            Column::of("Serial", Length::from_mm(28.0)),
            Column::of("Dates", Length::from_mm(30.0)),
            Column::of("By the book", Length::from_mm(rest)),
        ],
        rows: facts.kit.iter().map(|item| row(packet, item)).collect(),
        size: TYPE,
    };
    flow.table(&table);
    for out in &packet.found.worked.runs_out {
        flow.words(&format!("K{}, {}: {}.", out.number, out.item, out.describe()), TYPE, Weight::Bold, Ink::Black);
    }
    moved(flow, packet);
    flow.words(
        "A label is judged by what is recorded of it; its photograph shows it.",
        SMALL,
        Weight::Regular,
        Ink::Grey,
    );
    flow.space();
    let numbers = facts.kit.iter().map(|item| Balloon::new(Kind::Kit, item.number));
    let each = |item| of_part(packet, item).into_iter().map(move |one| one.of(item));
    let pictured: Vec<Pictured<'_>> = numbers.flat_map(each).collect();
    flow.pictures(packet, &pictured, SMALL_PICTURE);
}

/// Where items were before: under which number, when, and how often photographed there.
fn moved(flow: &mut impl Teller, packet: &Packet<'_>) {
    for way in &packet.facts.kit_ways {
        let (Some(here), before) = (way.here(), way.before()) else { continue };
        if before.is_empty() || here.went.is_some() {
            continue;
        }
        let day_of = |moment| (packet.day_of)(moment);
        let description = before.iter().map(|stay| {
            let count = stay.photos.len();
            let photographs = if count == 1 { "photograph" } else { "photographs" };
            format!("{}, {count} {photographs}", stay.describe(&day_of))
        });
        let description = description.collect::<Vec<_>>().join("; ");
        let words = format!("K{}, {}: was {description}.", here.item.number, here.item.item);
        flow.words(&words, TYPE, Weight::Regular, Ink::Black);
    }
}

fn row(packet: &Packet<'_>, item: &KitItem) -> Vec<String> {
    let label = &item.label;
    let description = packet.found.worked.verdicts_of(Balloon::new(Kind::Kit, item.number)).map(|verdict| {
        let limit = verdict.limit.as_ref().map(|limit| format!(", {}", limit.text)).unwrap_or_default();
        format!("{}{limit}", verdict.describe(packet.units))
    });
    let description = description.collect::<Vec<_>>().join("; ");
    vec![
        format!("K{}", item.number),
        item.item.clone(),
        label.standard.clone(),
        label.serial.clone(),
        label.dates().join(", "),
        description,
    ]
}
