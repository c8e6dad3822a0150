//! Photographs on a sheet: as large as they fit, each with what it is, when and by whom.

use glam::{DVec2, dvec2};

use super::Packet;
use super::flow::{Flow, SMALL, line};
use crate::domain::judge::shots::Shot;
use crate::domain::recorded::mark_ups::{Drawn, MarkUp};
use crate::domain::recorded::photos::Photo;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Balloon;
use crate::domain::work::walk;
use crate::drawing::mark_up;
use crate::drawing::{Ink, Mark, Pen, Weight};

/// What the caption under a picture takes, mm.
const CAPTION: f64 = 7.4;

/// One picture of a part: the shot it answers, and the photograph, where it is taken.
pub(super) struct Pictured<'a> {
    view: String,
    photo: Option<&'a Photo>,
}

/// Most photographs of one shot that are shown (own choice: a packet is read, and mailed).
const OF_ONE_SHOT: usize = 3;

/// The pictures of a part: each shot's photographs, newest first, the missing ones too; of the shots that are only
/// taken where something stands in for what a rule asks, those that are taken.
pub(super) fn of_part<'a>(packet: &Packet<'a>, part: Balloon) -> Vec<Pictured<'a>> {
    let stand_ins = packet.found.worked.stand_ins.iter().filter(|shot| shot.of == part && shot.taken());
    packet.found.worked.shots_of(part).chain(stand_ins).flat_map(|shot| of_shot(packet, shot)).collect()
}

fn of_shot<'a>(packet: &Packet<'a>, shot: &Shot) -> Vec<Pictured<'a>> {
    let find = |sha256: &Fingerprint| packet.facts.photos.iter().rev().find(|photo| photo.sha256 == *sha256);
    let view = shot.view.clone().unwrap_or_else(|| shot.what.trim_end_matches('.').to_owned());
    if !shot.taken() {
        let since = shot.earlier.as_ref().map(|since| since.describe(packet.units));
        let earlier = since.map(|since| format!("; taken only before {since}")).unwrap_or_default();
        return vec![Pictured { view: view + &earlier, photo: None }];
    }
    let left_out = shot.photos.len().saturating_sub(OF_ONE_SHOT);
    let pictured = shot.photos.iter().take(OF_ONE_SHOT).enumerate().map(|(at, sha256)| {
        let place = match (at + 1 == OF_ONE_SHOT, left_out) {
            (true, 1..) => format!(", {left_out} before it not shown"),
            _ if at > 0 => ", taken before it".to_owned(),
            _ => String::new(),
        };
        Pictured { view: format!("{view}{place}"), photo: find(sha256) }
    });
    pictured.collect()
}

/// The photographs that answer no shot.
pub(super) fn unasked<'a>(packet: &Packet<'a>) -> Vec<Pictured<'a>> {
    let photos = walk::unasked(packet.found.worked.every_shot(), packet.facts);
    let view = |photo: &Photo| match packet.found.worked.pieces.photo(photo) {
        Some(since) => format!("of the earlier piece, before {}", since.describe(packet.units)),
        None => "not asked for".to_owned(),
    };
    photos.into_iter().map(|photo| Pictured { view: view(photo), photo: Some(photo) }).collect()
}

/// How high a picture with its caption is, at a width, mm.
pub(super) const fn height(width: f64) -> f64 {
    width * 0.75 + CAPTION
}

/// A picture in a frame of this width, 4 to 3, with its caption under it.
pub(super) fn framed(packet: &Packet<'_>, pictured: &Pictured<'_>, at: DVec2, width: f64) -> Vec<Mark> {
    let size = dvec2(width, width * 0.75);
    let mut marks = vec![Mark::rectangle(at, size, Some(Pen::Narrow), None)];
    let under = at + dvec2(0.0, size.y);
    if let Some((photo, jpeg)) = pictured.photo.and_then(|photo| Some((photo, packet.picture(&photo.sha256)?))) {
        let dots = dvec2(f64::from(jpeg.width.max(1)), f64::from(jpeg.height.max(1)));
        let factor = (size.x / dots.x).min(size.y / dots.y);
        let shown = dots * factor;
        let caption = format!("{}: {}", photo.shot, pictured.view);
        let corner = at + (size - shown) / 2.0;
        let name = photo.sha256.text().to_owned();
        let mut seen = vec![Mark::Picture { at: corner, size: shown, name, caption: caption.clone() }];
        let over: Vec<Drawn> = drawn_over(packet, photo).map(|mark| mark.drawn).collect();
        seen.extend(mark_up::marks(&over, corner, shown));
        marks.push(Mark::figure(format!("Photograph. {caption}"), seen));
        marks.push(line(under + dvec2(0.0, 3.2), SMALL, Weight::Regular, &pictured.view, width));
        marks.push(grey(under + dvec2(0.0, 6.6), &describe(packet, photo), width));
    } else {
        let word = if pictured.photo.is_some() { "cannot be shown" } else { "NO PHOTO" };
        marks.push(Mark::words(at + dvec2(2.0, 6.0), SMALL, Weight::Bold, word));
        marks.push(line(under + dvec2(0.0, 3.2), SMALL, Weight::Regular, &pictured.view, width));
    }
    marks
}

fn grey(at: DVec2, words: &str, room: f64) -> Mark {
    match line(at, SMALL, Weight::Regular, words, room) {
        Mark::Text { at, size, words, weight, anchor, .. } => {
            Mark::Text { at, size, words, weight, anchor, ink: Ink::Grey }
        }
        other => other,
    }
}

/// What stands drawn over a photograph.
fn drawn_over<'a>(packet: &Packet<'a>, photo: &'a Photo) -> impl Iterator<Item = &'a MarkUp> {
    packet.facts.mark_ups.iter().filter(|mark| mark.is_shown() && mark.sha256 == photo.sha256)
}

/// When the photograph was kept, by whom, and what there is to say about it.
fn describe(packet: &Packet<'_>, photo: &Photo) -> String {
    let Some(received) = &photo.received else { return "not received".to_owned() };
    let day = (packet.day_of)(received.at);
    let remarks =
        if received.remarks.is_empty() { String::new() } else { format!("; {}", received.remarks.join("; ")) };
    let note = if photo.note.is_empty() { String::new() } else { format!("; “{}”", photo.note) };
    let mut by: Vec<&str> = drawn_over(packet, photo).map(|mark| mark.by.as_str()).collect();
    by.sort_unstable();
    by.dedup();
    let drawn = if by.is_empty() { String::new() } else { format!("; drawn over by {}", by.join(", ")) };
    format!("kept {day}, {}{drawn}{note}{remarks}", photo.by)
}

/// All pictures of a part, two beside each other, over as many sheets as they need.
pub(super) fn photographs(flow: &mut Flow, packet: &Packet<'_>, part: Balloon) {
    rows(flow, packet, &of_part(packet, part), 2);
}

/// Pictures in rows of so many.
pub(super) fn rows(flow: &mut Flow, packet: &Packet<'_>, pictured: &[Pictured<'_>], beside: usize) {
    let columns = f64::from(u32::try_from(beside.max(1)).unwrap_or(1));
    let width = (flow.width() - 3.0 * (columns - 1.0)) / columns;
    for row in pictured.chunks(beside.max(1)) {
        let mut marks = Vec::new();
        for (column, pictured) in (0..).zip(row) {
            marks.extend(framed(packet, pictured, dvec2(f64::from(column) * (width + 3.0), 0.0), width));
        }
        flow.put(marks, height(width) + 2.0);
    }
}
