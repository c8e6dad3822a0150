//! The contact sheet: every photograph small, with its number, its name and its time, to print and to talk over.

use std::collections::BTreeMap;

use glam::{DVec2, dvec2};
use jiff::civil::Date;

use super::error::DocumentError;
use super::paper::{Page, SMALL, finished, room};
use super::pdf::{About, Jpeg, write};
use crate::domain::recorded::mark_ups::Drawn;
use crate::domain::words::fingerprint::Fingerprint;
use crate::drawing::mark_up;
use crate::drawing::paper::text::shortened;
use crate::drawing::paper::title_block::TitleBlock;
use crate::drawing::{Ink, Mark, Paper, Pen, Weight};
use crate::quantity::Length;

/// Pictures across a sheet.
const ACROSS: usize = 4;
/// From one picture to the next, mm.
const GAP: f64 = 3.0;
/// What the three lines under a picture take, mm.
const LINES: f64 = 12.5;
/// From the body's top to the first row, mm.
const TOP: f64 = 9.0;

/// One photograph of the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Small {
    /// The photograph.
    pub sha256: Fingerprint,
    /// Its place among the build's photographs, from 1.
    pub number: usize,
    /// What it is of: part and view, or that nobody asked for it.
    pub name: String,
    /// The stage of the work that it shows; empty where nobody asked for it.
    pub stage: String,
    /// When it was received, and by whom.
    pub description: String,
    /// What is drawn over it.
    pub drawn: Vec<Drawn>,
}

/// What the sheets are made of.
pub struct ContactSheet<'a> {
    /// The build.
    pub build: &'a str,
    /// The rule book and edition; empty for none.
    pub book: &'a str,
    /// How the weld hold stands, in a sentence.
    pub hold: &'a str,
    /// The photographs, in their order.
    pub photos: &'a [Small],
    /// Their small copies.
    pub pictures: &'a BTreeMap<Fingerprint, Jpeg>,
    /// Who makes it.
    pub made_by: &'a str,
    /// The day it is made.
    pub day: Date,
}

/// The contact sheet as a PDF, A4, printable at full size on letter paper too.
pub fn make(of: &ContactSheet<'_>) -> Result<Vec<u8>, DocumentError> {
    let block = TitleBlock {
        owner: "the shop".to_owned(),
        number: "contact sheet".to_owned(),
        date: of.day.to_string(),
        looked_over_by: "not yet".to_owned(),
        made_by: of.made_by.to_owned(),
        kind: "Contact sheet".to_owned(),
        build: of.build.to_owned(),
        book: if of.book.is_empty() { "none".to_owned() } else { of.book.to_owned() },
        revision: "as kept".to_owned(),
        hold: of.hold.to_owned(),
        ..TitleBlock::default()
    };
    let room = room(&block);
    let cell = dvec2((room.x - GAP * count(ACROSS - 1)) / count(ACROSS), 0.0);
    let cell = dvec2(cell.x, cell.x * 0.75 + LINES);
    let down = rows(room.y - TOP, cell.y);
    let pages = of.photos.chunks(ACROSS * down).enumerate().map(|(number, photos)| {
        let mut page = Page::begun("Photographs", (number == 0).then_some("photographs"));
        for (place, photo) in photos.iter().enumerate() {
            let at = dvec2(count(place % ACROSS) * (cell.x + GAP), TOP + count(place / ACROSS) * cell.y);
            page.marks.extend(framed(of, photo, at, cell.x));
        }
        page
    });
    let about = About {
        title: format!("{}, contact sheet", of.build),
        author: of.made_by.to_owned(),
        id: format!("contact sheet {}", of.build),
        date: of.day,
    };
    let picture = |name: &str| of.pictures.get(&name.parse().ok()?).cloned();
    write(&finished(pages.collect(), &block, Paper::A4), &picture, &about)
}

#[expect(clippy::cast_precision_loss, reason = "a few pictures across and down")]
fn count(of: usize) -> f64 {
    of as f64
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few rows, held above zero")]
fn rows(room: f64, high: f64) -> usize {
    (room / high).floor().max(1.0) as usize
}

/// One picture in its frame, 4 to 3, with its three lines under it.
fn framed(of: &ContactSheet<'_>, photo: &Small, at: DVec2, width: f64) -> Vec<Mark> {
    let size = dvec2(width, width * 0.75);
    let mut marks = vec![Mark::rectangle(at, size, Some(Pen::Narrow), None)];
    if let Some(jpeg) = of.pictures.get(&photo.sha256) {
        let dots = dvec2(f64::from(jpeg.width.max(1)), f64::from(jpeg.height.max(1)));
        let shown = dots * (size / dots).min_element();
        let corner = at + (size - shown) / 2.0;
        let (name, caption) = (photo.sha256.text().to_owned(), photo.name.clone());
        marks.push(Mark::Picture { at: corner, size: shown, name, caption });
        marks.extend(mark_up::marks(&photo.drawn, corner, shown));
    } else {
        marks.push(Mark::words(at + dvec2(2.0, 6.0), SMALL, Weight::Bold, "cannot be shown"));
    }
    let line = |down: f64, words: &str, weight: Weight, ink: Ink| {
        let words = shortened(words, SMALL, weight, Length::from_mm(width));
        match Mark::words(at + dvec2(0.0, size.y + down), SMALL, weight, words) {
            Mark::Text { at, size, words, weight, anchor, .. } => Mark::Text { at, size, words, weight, anchor, ink },
            other => other,
        }
    };
    marks.push(line(3.3, &format!("{} {}", photo.number, photo.name), Weight::Bold, Ink::Black));
    let description = [&photo.stage, &photo.description];
    for (down, words) in [6.6, 9.9].into_iter().zip(description.into_iter().filter(|words| !words.is_empty())) {
        marks.push(line(down, words, Weight::Regular, Ink::Grey));
    }
    marks
}
