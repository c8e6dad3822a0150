//! The title block at a sheet's foot (ISO 7200) and the hold line under it.

use glam::{DVec2, dvec2};

use super::text::{shortened, wrap};
use super::{Anchor, Ink, Mark, Pen, Weight};
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
}

const LABEL: Length = Length::from_mm(2.5);
const FIELD: Length = Length::from_mm(3.53);
const HOLD: Length = Length::from_mm(4.0);
const ROW: f64 = 9.6;
const INSET: f64 = 1.8;
/// Shares of the width that the four columns take.
const COLUMNS: [f64; 4] = [0.25, 0.29, 0.29, 0.17];

impl TitleBlock {
    /// How high the block is at this width.
    pub fn height(&self, width: Length) -> Length {
        Length::from_mm(3.0 * ROW + self.hold_height(width.mm()))
    }

    fn hold_lines(&self, width: f64) -> Vec<String> {
        wrap(&self.hold, HOLD, Weight::Bold, Length::from_mm(width - 2.0 * INSET))
    }

    fn hold_height(&self, width: f64) -> f64 {
        let lines = u32::try_from(self.hold_lines(width).len().max(1)).unwrap_or(1);
        6.2 + 5.2 * f64::from(lines)
    }

    fn rows(&self) -> [[(&'static str, &str); 4]; 3] {
        [
            [("Build", &self.build), ("Title", &self.title), ("Kind", &self.kind), ("Sheet", &self.sheet)],
            [("Book", &self.book), ("Number", &self.number), ("Revision", &self.revision), ("Date", &self.date)],
            [
                ("Owner", &self.owner),
                ("Made by", &self.made_by),
                ("Looked over by", &self.looked_over_by),
                ("Language", "en"),
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
            for ((label, field), share) in row.into_iter().zip(COLUMNS) {
                let size = dvec2(width * share, ROW);
                marks.push(Mark::rectangle(corner, size, Some(Pen::Wide), None));
                marks.extend(cell(corner, size.x, label, field));
                corner.x += size.x;
            }
            corner.y += ROW;
        }
        corner.x = at.x;
        let bar = dvec2(width, self.hold_height(width));
        marks.push(Mark::rectangle(corner, bar, Some(Pen::Wide), Some(Ink::Black)));
        let mut line = corner + dvec2(INSET, 3.8);
        marks.push(words(line, LABEL, Weight::Regular, "Hold point", Ink::White));
        for text in self.hold_lines(width) {
            line.y += 5.2;
            marks.push(words(line, HOLD, Weight::Bold, &text, Ink::White));
        }
        marks
    }
}

fn cell(corner: DVec2, width: f64, label: &str, field: &str) -> [Mark; 2] {
    let field = shortened(field, FIELD, Weight::Regular, Length::from_mm(width - 2.0 * INSET));
    [
        words(corner + dvec2(INSET, 3.4), LABEL, Weight::Regular, label, Ink::Grey),
        words(corner + dvec2(INSET, 7.8), FIELD, Weight::Regular, &field, Ink::Black),
    ]
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
            book: field("book 10"),
            revision: field("revision 11"),
            hold: field("HELD: tacks only. Nothing is fully welded before the scrutineer releases it. ").repeat(2),
        }
    }

    #[test]
    fn every_field_of_the_standard_is_printed_inside_the_block() {
        let block = block();
        for width in [180.0, 187.6] {
            let height = block.height(Length::from_mm(width)).mm();
            let marks = block.marks(dvec2(5.0, 7.0), Length::from_mm(width));
            let mut all = String::new();
            for mark in &marks {
                if let Mark::Text { at, size, words, weight, .. } = mark {
                    all.push_str(words);
                    assert!(at.x + crate::drawing::text::width(words, *size, *weight).mm() <= 5.0 + width, "{words}");
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
