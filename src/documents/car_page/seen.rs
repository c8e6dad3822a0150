//! What was weighed, read off and photographed: every weighing, every figure, every photograph, those withdrawn among them.

use std::collections::BTreeSet;

use super::second_of;
use crate::documents::chapters::{Chapters, Kept, Leads, Picture, picture};
use crate::documents::packet::pictures::{Pictured, SMALL_PICTURE, of_part, unasked};
use crate::documents::packet::{Packet, weighing};
use crate::documents::teller::Teller as _;
use crate::domain::recorded::photos::Photo;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, Kind};
use crate::quantity::Show as _;

/// The newest weighing in full, those before it in a row each.
pub(super) fn weighings(chapters: &mut Chapters<'_>, packet: &Packet<'_>) {
    weighing::add(chapters, packet);
    let earlier = packet.facts.weigh_ins.iter().skip(1);
    let rows: Vec<Vec<String>> = earlier
        .map(|weigh_in| {
            let (reading, units) = (&weigh_in.reading, packet.units);
            let total = format!("{} ± {}", reading.total().show(units), (reading.doubt() * 2.0).show(units));
            let name = format!("W{}", weigh_in.number);
            vec![name, weigh_in.day.to_string(), weigh_in.by.clone(), total, reading.note.clone()]
        })
        .collect();
    if !rows.is_empty() {
        chapters.heading("Weighings before it", "");
        chapters.grid(&["No.", "Day", "By", "Total", "Note"], rows);
    }
    for weigh_in in packet.facts.weigh_ins.iter().skip(1) {
        let pictured = of_part(packet, Balloon::new(Kind::WeighIn, weigh_in.number));
        chapters.pictures(packet, &pictured, SMALL_PICTURE);
    }
    let listed = &packet.facts.foreseen;
    if !listed.is_empty() {
        chapters.heading("What still goes in and comes out", "");
        for one in listed {
            chapters.said(&one.thing.describe());
        }
    }
}

/// The figures that were read off the car.
pub(super) fn measured(chapters: &mut Chapters<'_>, packet: &Packet<'_>) {
    chapters.chapter("Read off the car", "measured");
    if packet.facts.measured.is_empty() {
        return chapters.said("No figure was read off the car.");
    }
    let rows = packet.facts.measured.iter().map(|read| {
        let tool = read.tool.map_or_else(|| "not said".to_owned(), |tool| tool.word().to_owned());
        let (figure, at) = (read.amount.show(packet.units), second_of(read.at));
        vec![read.of.to_string(), read.measure.word().to_owned(), figure, read.text.clone(), tool, at, read.by.clone()]
    });
    let rows = rows.collect();
    chapters.grid(&["At", "What", "How much", "As typed", "Read with", "When, UTC", "By"], rows);
}

/// The photographs that stand in no chapter before: those of the car as a whole, those nobody asked for, and all the rest. Then
/// those that were withdrawn, and what was drawn over any.
pub(super) fn photographs(chapters: &mut Chapters<'_>, packet: &Packet<'_>, kept: Kept<'_>, leads: Leads<'_>) {
    chapters.chapter("Other photographs", "photographs");
    if packet.facts.photos.is_empty() {
        return chapters.said("No photograph was taken.");
    }
    let car: BTreeSet<Balloon> =
        packet.found.worked.every_shot().map(|shot| shot.of).filter(|of| of.kind == Kind::Car).collect();
    for part in car {
        chapters.pictures(packet, &of_part(packet, part), SMALL_PICTURE);
    }
    chapters.pictures(packet, &unasked(packet), SMALL_PICTURE);
    let shown: BTreeSet<Fingerprint> = chapters.shown().filter_map(|picture| picture.sha256.clone()).collect();
    let left = packet.facts.photos.iter().filter(|photo| photo.withdrawn.is_none() && !shown.contains(&photo.sha256));
    let left: Vec<Picture> = left.map(|photo| picture(packet, &of_shot(photo), kept, leads)).collect();
    chapters.show(left);
    withdrawn(chapters, packet, kept, leads);
    drawn_over(chapters, packet);
}

fn of_shot(photo: &Photo) -> Pictured<'_> {
    let view = if photo.shot.is_empty() { "not asked for".to_owned() } else { photo.shot.clone() };
    Pictured { view, photo: Some(photo) }
}

fn withdrawn(chapters: &mut Chapters<'_>, packet: &Packet<'_>, kept: Kept<'_>, leads: Leads<'_>) {
    let all = packet.facts.photos.iter().filter_map(|photo| {
        let done = photo.withdrawn.as_ref()?;
        let shot = if photo.shot.is_empty() { "" } else { ", " };
        let (at, by, why) = (second_of(done.at), &done.by, &done.why);
        let view = format!("WITHDRAWN by {by}, {at} UTC: {why}{shot}{}", photo.shot);
        Some(picture(packet, &Pictured { view, photo: Some(photo) }, kept, leads))
    });
    let all: Vec<Picture> = all.collect();
    if !all.is_empty() {
        chapters.heading("Withdrawn", "withdrawn");
        chapters.said("These count for nothing any more. Nothing that was kept is thrown away.");
        chapters.show(all);
    }
}

/// Every mark over a photograph, what was rubbed out among it.
fn drawn_over(chapters: &mut Chapters<'_>, packet: &Packet<'_>) {
    if packet.facts.mark_ups.is_empty() {
        return;
    }
    chapters.heading("Drawn over photographs", "drawn-over");
    let rows = packet.facts.mark_ups.iter().map(|mark| {
        let out = mark.rubbed_out.as_ref();
        let out = out.map(|(at, by)| format!("rubbed out by {by}, {}", second_of(*at))).unwrap_or_default();
        vec![mark.sha256.text().to_owned(), mark.drawn.words(), mark.by.clone(), second_of(mark.at), out]
    });
    let rows = rows.collect();
    chapters.grid(&["Photograph, SHA-256", "What", "By", "When, UTC", "Now"], rows);
}
