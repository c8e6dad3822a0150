//! Tables: cells that wrap, a heading that comes again on every sheet.

use glam::{DVec2, dvec2};

use super::text::{LEADING, wrap};
use crate::drawing::{Anchor, Ink, Mark, Pen, Tag, Weight};
use crate::quantity::Length;

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// The words above it.
    pub heading: String,
    /// Its width.
    pub width: Length,
    /// Where in it the words stand: figures at its end.
    pub anchor: Anchor,
}

impl Column {
    /// A column of words.
    pub fn of(heading: &str, width: Length) -> Self {
        Self { heading: heading.to_owned(), width, anchor: Anchor::Start }
    }

    /// A column of figures.
    pub fn of_figures(heading: &str, width: Length) -> Self {
        Self { heading: heading.to_owned(), width, anchor: Anchor::End }
    }
}

/// A table: its columns, and each row's cells in their order.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows.
    pub rows: Vec<Vec<String>>,
    /// The size of the type.
    pub size: Length,
}

/// A piece of a table that stands on one sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its marks, from its own top left corner, as one table.
    pub marks: Vec<Mark>,
    /// Its height.
    pub height: Length,
    /// How many rows it holds.
    pub rows: usize,
}

const PADDING: f64 = 1.2;

impl Table {
    /// Cuts the table into pieces: the first no higher than `first`, the others no higher than `later`, each under its own
    /// heading. A row is never cut; one row higher than a whole sheet stands alone and runs over.
    pub fn pieces(&self, first: Length, later: Length) -> Vec<Piece> {
        let mut pieces = Vec::new();
        let mut piece = self.headed();
        for row in &self.rows {
            let (marks, height) = self.row(row, &Tag::Cell, Ink::Black);
            let room = if pieces.is_empty() { first } else { later };
            if piece.height + height > room && (piece.rows > 0 || (pieces.is_empty() && later > first)) {
                pieces.push(std::mem::replace(&mut piece, self.headed()));
            }
            piece.marks.extend(super::sheet::moved(marks, dvec2(0.0, piece.height.mm())));
            piece.height = piece.height + height;
            piece.rows += 1;
            piece.marks.push(self.rule(piece.height, Pen::Faint));
        }
        pieces.push(piece);
        pieces.retain(|piece| piece.rows > 0 || self.rows.is_empty());
        let table = |piece: Piece| Piece { marks: vec![Mark::Tagged { tag: Tag::Table, marks: piece.marks }], ..piece };
        pieces.into_iter().map(table).collect()
    }

    fn headed(&self) -> Piece {
        let headings: Vec<String> = self.columns.iter().map(|column| column.heading.clone()).collect();
        let (mut marks, height) = self.row(&headings, &Tag::ColumnHead, Ink::Grey);
        marks.push(self.rule(height, Pen::Narrow));
        Piece { marks, height, rows: 0 }
    }

    fn rule(&self, down: Length, pen: Pen) -> Mark {
        let across: Length = self.columns.iter().map(|column| column.width).sum();
        Mark::Line { from: dvec2(0.0, down.mm()), to: dvec2(across.mm(), down.mm()), pen }
    }

    fn row(&self, texts: &[String], tag: &Tag, ink: Ink) -> (Vec<Mark>, Length) {
        let weight = Weight::Regular;
        let mut cells = Vec::new();
        let mut left = 0.0;
        let mut lines_most = 1;
        let step = self.size.mm() * LEADING;
        for (column, cell) in self.columns.iter().zip(texts) {
            let mut marks = Vec::new();
            let lines = wrap(cell, self.size, weight, column.width - Length::from_mm(2.0 * PADDING));
            lines_most = lines_most.max(lines.len());
            let x = match column.anchor {
                Anchor::Start => left + PADDING,
                Anchor::Middle => left + column.width.mm() / 2.0,
                Anchor::End => left + column.width.mm() - PADDING,
            };
            let mut at = DVec2::new(x, PADDING + self.size.mm() * 0.85);
            for words in lines {
                marks.push(Mark::Text { at, size: self.size, words, weight, anchor: column.anchor, ink });
                at.y += step;
            }
            cells.push(Mark::Tagged { tag: tag.clone(), marks });
            left += column.width.mm();
        }
        let lines = u32::try_from(lines_most).unwrap_or(u32::MAX);
        let row = vec![Mark::Tagged { tag: Tag::Row, marks: cells }];
        (row, Length::from_mm(2.0 * PADDING + f64::from(lines) * step - self.size.mm() * (LEADING - 1.1)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::paper::sheet::each;

    fn table(rows: usize) -> Table {
        let columns =
            vec![Column::of("No.", Length::from_mm(20.0)), Column::of_figures("Length", Length::from_mm(40.0))];
        let rows = (1..=rows).map(|row| vec![format!("M{row}"), format!("{row} mm and some more words that wrap")]);
        Table { columns, rows: rows.collect(), size: Length::from_mm(3.5) }
    }

    #[test]
    fn every_row_stands_on_one_sheet_under_the_heading() {
        let (first, later) = (Length::from_mm(50.0), Length::from_mm(120.0));
        let pieces = table(40).pieces(first, later);
        assert_eq!(pieces.iter().map(|piece| piece.rows).sum::<usize>(), 40);
        assert!(pieces.len() > 2);
        for (index, piece) in pieces.iter().enumerate() {
            assert!(piece.height <= if index == 0 { first } else { later });
            let heads = each(&piece.marks)
                .into_iter()
                .filter(|mark| matches!(mark, Mark::Text { words, .. } if words == "No."));
            assert_eq!(heads.count(), 1);
        }
    }

    #[test]
    fn a_first_sheet_without_room_is_passed_over() {
        let pieces = table(3).pieces(Length::from_mm(8.0), Length::from_mm(120.0));
        assert_eq!(pieces.iter().map(|piece| piece.rows).collect::<Vec<_>>(), [3]);
    }
}
