//! Stickers for parts: number, words, build and a code that leads a phone to the part; one alone or a sheet to cut.

use glam::{DVec2, dvec2};
use jiff::civil::Date;

use super::error::DocumentError;
use super::paper::{SMALL, TYPE, check_lines};
use super::pdf::{About, write};
use crate::drawing::paper::qr::Qr;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::text::{CAPITAL, shortened, width, wrap};
use crate::drawing::{Anchor, Ink, Mark, Pen, Sheet, Weight};
use crate::quantity::Length;

/// What one sticker says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sticker {
    /// The part's number, as on every sheet.
    pub balloon: String,
    /// The part in words.
    pub words: String,
    /// The build's name.
    pub build: String,
    /// The short code, to type when the square cannot be read.
    pub tag: String,
    /// The address that the square holds.
    pub address: String,
}

/// The paper of a sheet of stickers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// ISO 216 A4; stickers in whole millimetres.
    A4,
    /// US letter; stickers in eighths of an inch.
    Letter,
}

/// Stickers across a sheet.
const ACROSS: usize = 3;
/// Stickers down a sheet.
const DOWN: usize = 7;
/// Side of the square with its quiet edge, mm.
const SQUARE: f64 = 29.0;
/// From the sticker's edge to what is printed, mm.
const EDGE: f64 = 1.5;

impl Paper {
    /// Stickers on one sheet.
    pub const fn on_a_sheet(self) -> usize {
        ACROSS * DOWN
    }

    /// One sticker's width and height.
    pub const fn sticker(self) -> (Length, Length) {
        match self {
            Self::A4 => (Length::from_mm(60.0), Length::from_mm(36.0)),
            Self::Letter => (Length::from_inches(2.375), Length::from_inches(1.375)),
        }
    }

    /// The paper, the stickers' size and how they lie, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::A4 => "A4: stickers of 60 × 36 mm, 3 across and 7 down",
            Self::Letter => "US letter: stickers of 2 3/8 × 1 3/8 in, 3 across and 7 down",
        }
    }

    const fn sheet(self) -> Sheet {
        match self {
            Self::A4 => Sheet::a4(),
            Self::Letter => Sheet::letter(),
        }
    }

    fn size(self) -> DVec2 {
        let (wide, high) = self.sticker();
        dvec2(wide.mm(), high.mm())
    }
}

/// One sticker on a page of its own size, for a printer of labels.
pub fn alone(sticker: &Sticker, paper: Paper) -> Result<Vec<Sheet>, DocumentError> {
    let (wide, high) = paper.sticker();
    let marks = drawn(sticker, paper.size())?;
    Ok(vec![Sheet { marks, ..Sheet::blank(wide, high) }])
}

/// Sheets of stickers, with the lines to cut along.
pub fn sheets(stickers: &[Sticker], paper: Paper) -> Result<Vec<Sheet>, DocumentError> {
    let size = paper.size();
    let all = stickers.len().div_ceil(paper.on_a_sheet());
    let build = stickers.first().map_or("", |sticker| sticker.build.as_str());
    let mut sheets = Vec::new();
    for (number, page) in (1..).zip(stickers.chunks(paper.on_a_sheet())) {
        let mut sheet = paper.sheet();
        let grid = size * count(ACROSS, DOWN);
        let corner = dvec2((sheet.width.mm() - grid.x) / 2.0, (sheet.height.mm() - grid.y) / 2.0 + 2.0);
        let head = format!("{build}: stickers, sheet {number} of {all}");
        let head = shortened(&head, TYPE, Weight::Bold, Length::from_mm(grid.x));
        let place = Mark::Place { name: format!("stickers-{number}"), title: head.clone(), level: 0 };
        let said = format!(
            "{}. Print at full size: the two lines below must measure what they say. Cut along the thin lines.",
            paper.words()
        );
        sheet.marks.extend([
            place,
            Mark::words(corner + dvec2(1.5, -6.0), TYPE, Weight::Bold, head),
            Mark::words(corner + dvec2(1.5, -2.0), SMALL, Weight::Regular, said),
        ]);
        for (place, sticker) in page.iter().enumerate() {
            let at = corner + size * count(place % ACROSS, place / ACROSS);
            sheet.marks.extend(moved(drawn(sticker, size)?, at));
        }
        sheet.marks.extend(check_lines(corner + dvec2(0.0, grid.y + 6.0), 3.5));
        sheet.marks.extend(cuts(corner, size, page.len().div_ceil(ACROSS)));
        sheets.push(sheet);
    }
    Ok(sheets)
}

/// Sheets of stickers as a PDF that says it must not be scaled when printed.
pub fn make(sheets: &[Sheet], title: &str, made_by: &str, date: Date) -> Result<Vec<u8>, DocumentError> {
    let about = About { title: title.to_owned(), author: made_by.to_owned(), id: title.to_owned(), date };
    write(sheets, &|_| None, &about)
}

#[expect(clippy::cast_precision_loss, reason = "a few stickers across and down")]
fn count(across: usize, down: usize) -> DVec2 {
    dvec2(across as f64, down as f64)
}

/// The lines between the stickers of so many rows, and round them, each a little longer than the grid.
fn cuts(corner: DVec2, size: DVec2, rows: usize) -> Vec<Mark> {
    const OVER: f64 = 3.0;
    let end = size * count(ACROSS, rows);
    let upright = (0..=ACROSS).map(|place| {
        let x = (size * count(place, 0)).x;
        (dvec2(x, if place == 0 || place == ACROSS { -OVER } else { 0.0 }), dvec2(x, end.y + OVER))
    });
    let level = (0..=rows).map(|place| {
        let y = (size * count(0, place)).y;
        (dvec2(-OVER, y), dvec2(end.x + OVER, y))
    });
    let line = |(from, to): (DVec2, DVec2)| Mark::Line { from: corner + from, to: corner + to, pen: Pen::Faint };
    upright.chain(level).map(line).collect()
}

/// A sticker's marks from its top left corner.
fn drawn(sticker: &Sticker, size: DVec2) -> Result<Vec<Mark>, DocumentError> {
    let qr = Qr::of(&sticker.address).ok_or_else(|| DocumentError::TooLongForACode(sticker.address.clone()))?;
    let mut marks = qr.marks(DVec2::splat(EDGE), Length::from_mm(SQUARE));
    let left = EDGE + SQUARE + 1.0;
    let room = size.x - left - EDGE;
    marks.extend(balloon(&sticker.balloon, dvec2(left, EDGE), room));
    let line = |down: f64, words: &str, weight: Weight| {
        let words = shortened(words, SMALL, weight, Length::from_mm(room));
        Mark::words(dvec2(left, down), SMALL, weight, words)
    };
    let words = wrap(&sticker.words, SMALL, Weight::Regular, Length::from_mm(room));
    let mut lines: Vec<String> = words.iter().take(2).cloned().collect();
    if words.len() > 2 {
        lines.push(words.iter().skip(2).cloned().collect::<Vec<_>>().join(" "));
    }
    for (down, words) in [17.0, 20.4, 23.8].into_iter().zip(&lines) {
        marks.push(line(down, words, Weight::Regular));
    }
    marks.push(line(27.0, &sticker.build, Weight::Regular));
    marks.push(line(30.4, &sticker.tag, Weight::Bold));
    let foot = dvec2(EDGE + 1.5, size.y - EDGE - 0.6);
    let address = Length::from_mm(size.x - 2.0 * EDGE - 1.5);
    marks.push(Mark::words(foot, SMALL, Weight::Regular, shortened(&sticker.address, SMALL, Weight::Regular, address)));
    Ok(marks)
}

/// The part's number, large, in its ring.
fn balloon(words: &str, at: DVec2, room: f64) -> Vec<Mark> {
    const HIGH: f64 = 12.5;
    const LETTERS: Length = Length::from_mm(7.5);
    let across = (width(words, LETTERS, Weight::Bold).mm() + 5.0).clamp(HIGH, room);
    let fits = (across - 3.0) / width(words, LETTERS, Weight::Bold).mm();
    let size = LETTERS * fits.min(1.0);
    // a ring as round at its ends as a circle of this height (ISO 6433, 5.3: all of one height)
    let radius = HIGH / 2.0;
    let centre = at + dvec2(across / 2.0, radius);
    let quarter = |turn: f64, side: f64| {
        let angle = turn.to_radians();
        centre + dvec2(side * (across / 2.0 - radius), 0.0) + dvec2(angle.cos(), angle.sin()) * radius
    };
    let right = (0..=12).map(|step| quarter(-90.0 + f64::from(step) * 15.0, 1.0));
    let left = (0..=12).map(|step| quarter(90.0 + f64::from(step) * 15.0, -1.0));
    vec![
        Mark::Path { points: right.chain(left).collect(), closed: true, pen: Some(Pen::Wide), fill: None },
        Mark::Text {
            at: centre + dvec2(0.0, size.mm() * CAPITAL / 2.0),
            size,
            words: words.to_owned(),
            weight: Weight::Bold,
            anchor: Anchor::Middle,
            ink: Ink::Black,
        },
    ]
}
