//! Photographs on a sheet: as large as they fit, each with what it is, when and by whom.

pub(super) mod marked;

use glam::{DVec2, dvec2};

use super::Packet;
use super::flow::{Flow, SMALL, TYPE, ends_at, paragraph};
use crate::domain::judge::shots::Shot;
use crate::domain::recorded::mark_ups::{Drawn, MarkUp};
use crate::domain::recorded::photos::Photo;
use crate::domain::recorded::welds::is_of_a_line;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Balloon;
use crate::domain::work::walk;
use crate::drawing::mark_up;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::text;
use crate::drawing::{Ink, Mark, Pen, Tag, Weight};

/// The width of a joint's photographs, mm.
pub(super) const LARGE: f64 = 88.0;
/// The width of photographs of small parts, labels and read-outs, mm.
pub(in crate::documents) const SMALL_PICTURE: f64 = 58.0;

/// One picture of a part: the shot it answers, and the photograph, where it is taken.
pub(in crate::documents) struct Pictured<'a> {
    pub(in crate::documents) view: String,
    pub(in crate::documents) photo: Option<&'a Photo>,
}

impl Pictured<'_> {
    /// The same named after its part, where it stands away from it.
    pub(super) fn of(self, part: Balloon) -> Self {
        Self { view: format!("{part}: {}", self.view), ..self }
    }
}

/// Most photographs of one shot that are shown (own choice: a packet is read, and mailed).
const OF_ONE_SHOT: usize = 3;

/// The pictures of a part, shot by shot: each shot's photographs, newest first, the missing ones too; of the shots that are
/// only taken where something stands in for what a rule asks, those that are taken.
pub(super) fn by_shot<'a>(packet: &Packet<'a>, part: Balloon) -> Vec<Vec<Pictured<'a>>> {
    let stand_ins = packet.found.worked.stand_ins.iter().filter(|shot| shot.of == part && shot.taken());
    packet.found.worked.shots_of(part).chain(stand_ins).map(|shot| of_shot(packet, shot)).collect()
}

/// All of them, one shot's after another's.
pub(in crate::documents) fn of_part<'a>(packet: &Packet<'a>, part: Balloon) -> Vec<Pictured<'a>> {
    by_shot(packet, part).into_iter().flatten().collect()
}

/// The first of as many shots as this, and what does not stand beside them.
pub(super) fn first_of_each<'a>(
    packet: &Packet<'a>,
    part: Balloon,
    many: usize,
) -> (Vec<Pictured<'a>>, Vec<Pictured<'a>>) {
    let (mut first, mut rest) = (Vec::new(), Vec::new());
    for shot in by_shot(packet, part) {
        for (place, pictured) in shot.into_iter().enumerate() {
            if place == 0 && first.len() < many { first.push(pictured) } else { rest.push(pictured) }
        }
    }
    (first, rest)
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
pub(in crate::documents) fn unasked<'a>(packet: &Packet<'a>) -> Vec<Pictured<'a>> {
    let photos = walk::unasked(packet.found.worked.every_shot(), packet.facts);
    let view = |photo: &Photo| match packet.found.worked.pieces.photo(photo) {
        Some(since) => format!("of the earlier piece, before {}", since.describe(packet.units)),
        None => "not asked for".to_owned(),
    };
    // those of the weld log stand in its chapter
    let standing = || packet.facts.welds.iter().filter(|weld| weld.stands());
    let photos = photos.into_iter().filter(|photo| !is_of_a_line(photo, standing()));
    photos.map(|photo| Pictured { view: view(photo), photo: Some(photo) }).collect()
}

/// A picture in a frame of this width, 4 to 3 and never cropped, with its caption under it, and how high both are, mm. A
/// caption takes the lines it needs.
pub(super) fn framed(packet: &Packet<'_>, pictured: &Pictured<'_>, at: DVec2, width: f64) -> (Vec<Mark>, f64) {
    let size = dvec2(width, width * 0.75);
    let mut marks = vec![Mark::rectangle(at, size, Some(Pen::Narrow), None)];
    let mut below = String::new();
    if let Some((photo, (corner, shown))) = pictured.photo.zip(seen_at(packet, pictured, at, width)) {
        let caption = format!("{}: {}", photo.shot, pictured.view);
        let name = photo.sha256.text().to_owned();
        let mut seen = vec![Mark::Picture { at: corner, size: shown, name, caption: caption.clone() }];
        let over: Vec<Drawn> = drawn_over(packet, photo).map(|mark| mark.drawn).collect();
        seen.extend(mark_up::marks(&over, corner, shown));
        marks.push(Mark::figure(format!("Photograph. {caption}"), seen));
        below = describe(packet, photo);
    } else {
        let word = if pictured.photo.is_some() { "cannot be shown" } else { "NO PHOTO" };
        marks.push(Mark::words(at + dvec2(2.0, 6.0), TYPE, Weight::Bold, word));
    }
    let (caption, high) = captioned(&pictured.view, &below, width);
    marks.extend(moved(caption, at + dvec2(0.0, size.y + 0.5)));
    (marks, size.y + high + 0.5)
}

/// Where the picture itself stands in that frame, and its size, mm; none where it is not shown.
pub(super) fn seen_at(packet: &Packet<'_>, pictured: &Pictured<'_>, at: DVec2, width: f64) -> Option<(DVec2, DVec2)> {
    let jpeg = packet.picture(&pictured.photo?.sha256)?;
    let size = dvec2(width, width * 0.75);
    let dots = dvec2(f64::from(jpeg.width.max(1)), f64::from(jpeg.height.max(1)));
    let shown = dots * (size.x / dots.x).min(size.y / dots.y);
    Some((at + (size - shown) / 2.0, shown))
}

/// What is seen and when it was kept: beside each other where they fit, else under each other, never cut.
fn captioned(view: &str, below: &str, width: f64) -> (Vec<Mark>, f64) {
    let long = |words: &str, weight: Weight| text::width(words, SMALL, weight).mm();
    if long(view, Weight::Bold) + long(below, Weight::Regular) + 3.0 <= width {
        let line = SMALL.mm() * 1.3;
        let right = ends_at(dvec2(width, SMALL.mm()), SMALL, Weight::Regular, below, Ink::Grey);
        let mut read = vec![Mark::words(dvec2(0.0, SMALL.mm()), SMALL, Weight::Bold, view)];
        if !below.is_empty() {
            read.push(right);
        }
        return (vec![Mark::Tagged { tag: Tag::Paragraph, marks: read }], line);
    }
    let (mut marks, high) = paragraph(view, SMALL, Weight::Bold, Ink::Black, width);
    let (more, down) = paragraph(below, SMALL, Weight::Regular, Ink::Grey, width);
    marks.extend(moved(more, dvec2(0.0, high)));
    (marks, high + down)
}

/// What stands drawn over a photograph.
pub(in crate::documents) fn drawn_over<'a>(packet: &Packet<'a>, photo: &'a Photo) -> impl Iterator<Item = &'a MarkUp> {
    packet.facts.mark_ups.iter().filter(|mark| mark.is_shown() && mark.sha256 == photo.sha256)
}

/// When the photograph was kept, by whom, and what there is to say about it.
pub(in crate::documents) fn describe(packet: &Packet<'_>, photo: &Photo) -> String {
    let Some(received) = &photo.received else { return "not received".to_owned() };
    let day = (packet.day_of)(received.at);
    let remarks =
        if received.remarks.is_empty() { String::new() } else { format!("; {}", received.remarks.join("; ")) };
    let note = if photo.note.is_empty() { String::new() } else { format!("; “{}”", photo.note) };
    let mut by: Vec<&str> = drawn_over(packet, photo).map(|mark| mark.by.as_str()).collect();
    by.sort_unstable();
    by.dedup();
    let drawn = if by.is_empty() { String::new() } else { format!("; drawn over by {}", by.join(", ")) };
    let said = packet.facts.photos_said.iter().filter(|one| one.is_of(photo));
    let said: Vec<String> =
        said.map(|one| format!("; {}", one.describe(&(packet.day_of)(one.at).to_string()))).collect();
    let said = said.concat();
    format!("{day}, {}{drawn}{note}{remarks}{said}", photo.by)
}

/// Pictures in rows, as many beside each other as this width allows; a row is as high as its longest caption.
pub(super) fn rows(flow: &mut Flow, packet: &Packet<'_>, pictured: &[Pictured<'_>], width: f64) {
    let beside = beside(flow.width(), width);
    let gap = if beside > 1 { (flow.width() - width * count(beside)) / count(beside - 1) } else { 0.0 };
    for row in pictured.chunks(beside) {
        let (mut marks, mut tall) = (Vec::new(), 0.0_f64);
        for (column, pictured) in row.iter().enumerate() {
            let (drawn, high) = framed(packet, pictured, dvec2(count(column) * (width + gap), 0.0), width);
            marks.extend(drawn);
            tall = tall.max(high);
        }
        flow.put(marks, tall + 2.0);
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few pictures, held above zero")]
fn beside(room: f64, width: f64) -> usize {
    (room / width).floor().max(1.0) as usize
}

#[expect(clippy::cast_precision_loss, reason = "a few pictures across")]
fn count(of: usize) -> f64 {
    of as f64
}
