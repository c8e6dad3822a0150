//! The tube: sticks with size, grade and heat, which bar comes from which, certificates photographed.

use super::Packet;
use super::files::certificates;
use super::flow::{SMALL, TYPE};
use super::pictures::{Pictured, SMALL_PICTURE, of_part};
use crate::documents::teller::Teller;
use crate::domain::shop::stock::Stick;
use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::paper::table::{Column, Table};
use crate::drawing::{Ink, Weight};
use crate::quantity::Length;

/// The tube's pages.
pub(in crate::documents) fn add(flow: &mut impl Teller, packet: &Packet<'_>) {
    flow.chapter("Tube and certificates", "tube");
    let facts = packet.facts;
    if facts.sticks.is_empty() {
        return flow.words("No stick of tube is recorded for this build.", TYPE, Weight::Bold, Ink::Black);
    }
    let rest = flow.width() - 115.0;
    let table = Table {
        columns: vec![
            Column::of("Stick", Length::from_mm(14.0)),
            Column::of("Size", Length::from_mm(26.0)),
            Column::of("Grade", Length::from_mm(28.0)),
            Column::of("Heat", Length::from_mm(26.0)),
            Column::of_figures("Length", Length::from_mm(21.0)),
            Column::of("Bars cut from it", Length::from_mm(rest)),
        ],
        rows: facts.sticks.iter().map(|stick| row(packet, stick)).collect(),
        size: TYPE,
    };
    flow.table(&table);
    let cut = |bar: &Balloon| facts.cuts.iter().any(|cut| cut.member == *bar);
    let bars = packet.found.worked.cage.members.iter().map(|bar| bar.balloon);
    let without: Vec<String> = bars.filter(|bar| !cut(bar)).map(|bar| bar.to_string()).collect();
    if !without.is_empty() {
        let description = format!("No stick is given for: {}.", without.join(", "));
        flow.words(&description, TYPE, Weight::Bold, Ink::Black);
    }
    let description = "A bar's heat is that of the stick it was cut from.";
    flow.words(description, SMALL, Weight::Regular, Ink::Grey);
    let names: Vec<String> = certificates(packet).into_iter().map(|one| one.name).collect();
    if !packet.draft && !names.is_empty() {
        let description = format!("Inside this PDF as files: {}.", names.join(", "));
        flow.words(&description, SMALL, Weight::Regular, Ink::Grey);
    }
    flow.space();
    let numbers = facts.sticks.iter().map(|stick| Balloon::new(Kind::Stick, stick.number));
    let each = |stick| of_part(packet, stick).into_iter().map(move |one| one.of(stick));
    let pictured: Vec<Pictured<'_>> = numbers.flat_map(each).collect();
    flow.pictures(packet, &pictured, SMALL_PICTURE);
}

fn row(packet: &Packet<'_>, stick: &Stick) -> Vec<String> {
    let of_stick = packet.facts.newest_cuts().filter(|cut| cut.stick == stick.id);
    let mut bars: Vec<Balloon> = of_stick.map(|cut| cut.member).collect();
    bars.sort();
    let bars: Vec<String> = bars.iter().map(ToString::to_string).collect();
    let heat = if stick.heat.is_empty() { "none marked".to_owned() } else { stick.heat.clone() };
    let size = stick.size.value.to_string();
    vec![format!("S{}", stick.number), size, stick.grade.clone(), heat, stick.length.text.clone(), bars.join(", ")]
}
