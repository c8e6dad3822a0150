//! The title block at a sheet's foot (ISO 7200) and the hold line under it.

use glam::{DVec2, dvec2};

use super::text::{LABEL, LEADING, TYPE as FIELD, shortened, width as wide, wrap};
use crate::drawing::{Anchor, Ink, Mark, Pen, Tag, Weight};
use crate::quantity::Length;

/// What a sheet says about itself. The first eight are the fields ISO 7200 makes mandatory.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TitleBlock {
    /// Whose document it is: the shop.
    pub owner: String,
    /// The document's number.
    pub number: String,
    /// The date it was issued.
    pub date: String,
    /// Which sheet of how many: `9 of 24`.
    pub sheet: String,
    /// What the document shows.
    pub title: String,
    /// Who looks it over; "not yet" where nobody has.
    pub looked_over_by: String,
    /// Who made it.
    pub made_by: String,
    /// What kind of document it is.
    pub kind: String,
    /// The vehicle.
    pub build: String,
    /// The rule book and its edition.
    pub book: String,
    /// The revision, and the round it belongs to.
    pub revision: String,
    /// Whether the weld hold stands, as one sentence.
    pub hold: String,
    /// Whether it is the short block of a sheet whose cover carries the whole one.
    pub short: bool,
}

const ROW: f64 = 9.0;
const INSET: f64 = 1.8;
/// The label before the hold's sentence.
const HOLD: &str = "Hold point";
/// From one line of it to the next, mm.
const HOLD_STEP: f64 = 4.9;
/// The share of the width that the book's cell takes: its words wrap and are never cut, for a book is told by its edition,
/// which stands last.
const BOOK: f64 = 0.54;
/// The same in the short block.
const SHORT_BOOK: f64 = 0.22;

/// A cell: its share of the width, its label, its words.
type Cell<'b> = (f64, &'static str, &'b str);

impl TitleBlock {
    /// How high the block is at this width.
    pub fn height(&self, width: Length) -> Length {
        let more = if self.short { 0.0 } else { 2.0 * ROW };
        Length::from_mm(more + self.book_height(width.mm()) + self.hold_height(width.mm()))
    }

    /// The share of the width that the book's cell takes.
    const fn book_share(&self) -> f64 {
        if self.short { SHORT_BOOK } else { BOOK }
    }

    fn book_lines(&self, width: f64) -> Vec<String> {
        wrap(&self.book, FIELD, Weight::Regular, Length::from_mm(width * self.book_share() - 2.0 * INSET))
    }

    fn book_height(&self, width: f64) -> f64 {
        let more = u32::try_from(self.book_lines(width).len().saturating_sub(1)).unwrap_or(0);
        ROW + f64::from(more) * FIELD.mm() * LEADING
    }

    fn hold_lines(&self, width: f64) -> Vec<String> {
        let room = width - 2.0 * INSET - hold_begins();
        wrap(&self.hold, FIELD, Weight::Bold, Length::from_mm(room))
    }

    fn hold_height(&self, width: f64) -> f64 {
        let lines = u32::try_from(self.hold_lines(width).len().max(1)).unwrap_or(1);
        1.9 + HOLD_STEP * f64::from(lines)
    }

    fn rows(&self) -> Vec<Vec<Cell<'_>>> {
        if self.short {
            return vec![vec![
                (0.17, "Build", &self.build),
                (0.25, "Title", &self.title),
                (SHORT_BOOK, "Book", &self.book),
                (0.13, "Revision", &self.revision),
                (0.13, "Date", &self.date),
                (0.10, "Sheet", &self.sheet),
            ]];
        }
        vec![
            vec![
                (0.25, "Build", &self.build),
                (0.29, "Title", &self.title),
                (0.29, "Kind", &self.kind),
                (0.17, "Sheet", &self.sheet),
            ],
            vec![(BOOK, "Book", &self.book), (0.29, "Revision", &self.revision), (0.17, "Date", &self.date)],
            vec![
                (0.25, "Owner", &self.owner),
                (0.29, "Number", &self.number),
                (0.16, "Made by", &self.made_by),
                (0.20, "Looked over by", &self.looked_over_by),
                (0.10, "Language", "en"),
            ],
        ]
    }

    /// The block's marks; `at` is its top left corner.
    pub fn marks(&self, at: DVec2, width: Length) -> Vec<Mark> {
        let width = width.mm();
        let mut marks = Vec::new();
        let mut corner = at;
        for row in self.rows() {
            corner.x = at.x;
            let height = if row.iter().any(|cell| cell.1 == "Book") { self.book_height(width) } else { ROW };
            for (share, label, field) in row {
                let size = dvec2(width * share, height);
                marks.push(Mark::rectangle(corner, size, Some(Pen::Wide), None));
                let mut read = vec![words(corner + dvec2(INSET, 3.2), LABEL, Weight::Regular, label, Ink::Grey)];
                let lines = if label == "Book" { self.book_lines(width) } else { vec![in_cell(field, size.x)] };
                let mut line = corner + dvec2(INSET, 7.4);
                for text in lines {
                    read.push(words(line, FIELD, Weight::Regular, &text, Ink::Black));
                    line.y += FIELD.mm() * LEADING;
                }
                marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: read });
                corner.x += size.x;
            }
            corner.y += height;
        }
        corner.x = at.x;
        let bar = dvec2(width, self.hold_height(width));
        marks.push(Mark::rectangle(corner, bar, Some(Pen::Wide), Some(Ink::Black)));
        let mut line = corner + dvec2(INSET, 0.0);
        let mut read = vec![words(line + dvec2(0.0, HOLD_STEP), LABEL, Weight::Regular, HOLD, Ink::White)];
        line.x += hold_begins();
        for text in self.hold_lines(width) {
            line.y += HOLD_STEP;
            read.push(words(line, FIELD, Weight::Bold, &text, Ink::White));
        }
        marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: read });
        marks
    }
}

/// How far in the hold's sentence begins, behind its label, mm.
fn hold_begins() -> f64 {
    wide(HOLD, LABEL, Weight::Regular).mm() + 2.5
}

fn in_cell(field: &str, width: f64) -> String {
    shortened(field, FIELD, Weight::Regular, Length::from_mm(width - 2.0 * INSET))
}

fn words(at: DVec2, size: Length, weight: Weight, words: &str, ink: Ink) -> Mark {
    Mark::Text { at, size, words: words.to_owned(), weight, anchor: Anchor::Start, ink }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block() -> TitleBlock {
        let field = |text: &str| text.to_owned();
        TitleBlock {
            owner: field("owner 1"),
            number: field("number 2"),
            date: field("date 3"),
            sheet: field("sheet 4"),
            title: field("title 5"),
            looked_over_by: field("looked over 6"),
            made_by: field("made by 7"),
            kind: field("kind 8"),
            build: field("build 9"),
            book: field(
                "A body with a long name: a book with a longer one, restated, and nobody has confirmed it; book 10",
            ),
            revision: field("revision 11"),
            hold: field("HELD: tacks only. Nothing is fully welded before the scrutineer releases it. ").repeat(2),
            short: false,
        }
    }

    #[test]
    fn every_field_of_the_standard_is_printed_inside_the_block() {
        let block = block();
        for width in [180.0, 187.6] {
            let height = block.height(Length::from_mm(width)).mm();
            let marks = block.marks(dvec2(5.0, 7.0), Length::from_mm(width));
            let mut all = String::new();
            for mark in crate::drawing::paper::sheet::each(&marks) {
                if let Mark::Text { at, size, words, weight, .. } = mark {
                    all.push_str(words);
                    assert!(
                        at.x + crate::drawing::paper::text::width(words, *size, *weight).mm() <= 5.0 + width,
                        "{words}"
                    );
                    assert!(at.y > 7.0 && at.y < 7.0 + height, "{words}");
                }
            }
            // The eight mandatory fields of ISO 7200:2004, then ours.
            for number in 1..=11 {
                assert!(all.contains(&format!(" {number}")), "field {number}");
            }
            assert!(all.contains("HELD"));
        }
    }
}
