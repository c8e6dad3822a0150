//! Laying blocks out down the sheets: headings, breaks, page numbers and the title block at each foot.

use glam::{DVec2, dvec2};

use super::Packet;
use crate::documents::paper::{HEADING, HEADING_LINE, Page, finished, room};
pub(super) use crate::documents::paper::{SMALL, TYPE, paragraph};
use crate::domain::derived::hold::HELD_UNTIL;
use crate::domain::recorded::facts::BookText;
use crate::drawing::paper::sheet::{each, moved};
use crate::drawing::paper::table::Table;
use crate::drawing::paper::text::shortened;
use crate::drawing::paper::title_block::TitleBlock;
use crate::drawing::{Anchor, Ink, LinkTo, Mark, Paper, Pen, Sheet, Tag, Weight};
use crate::quantity::Length;

/// What a sheet's heading takes, mm.
const HEADED: f64 = 11.0;
/// The size of a heading inside a page.
const SUBHEADING: Length = Length::from_mm(3.9);
/// Room between two blocks, mm.
const BETWEEN: f64 = 2.5;

/// Blocks laid out down as many sheets as they need.
pub(super) struct Flow {
    pages: Vec<Page>,
    /// How far down the newest page is filled, mm.
    down: f64,
    /// Width and height of a page's body, mm.
    room: DVec2,
}

impl Flow {
    pub(super) fn new(packet: &Packet<'_>) -> Self {
        Self { pages: Vec::new(), down: 0.0, room: room(&title_block(packet)) }
    }

    /// The width of a page's body, mm.
    pub(super) fn width(&self) -> f64 {
        self.room.x
    }

    /// The room left on the page, mm.
    pub(super) fn left(&self) -> f64 {
        self.room.y - self.down
    }

    /// How many pages there are.
    pub(super) fn count(&self) -> usize {
        self.pages.len()
    }

    /// Every named chapter with its page, from 1.
    pub(super) fn chapters(&self) -> Vec<(String, String, usize)> {
        let chapter = |(number, page): (usize, &Page)| Some((page.place.clone()?, page.title.clone(), number));
        (1..).zip(&self.pages).filter_map(chapter).collect()
    }

    /// Begins a page with a heading; `place` is the name that links and the outline lead to.
    pub(super) fn begin(&mut self, title: &str, place: Option<&str>) {
        self.pages.push(Page::begun(title, place));
        self.down = HEADED;
    }

    /// Puts a block under what is there, on a new page of the same title where it does not fit.
    pub(super) fn put(&mut self, marks: Vec<Mark>, height: f64) {
        if height > self.left() && self.down > HEADED {
            self.go_on();
        }
        let by = dvec2(0.0, self.down);
        if let Some(page) = self.pages.last_mut() {
            page.marks.extend(moved(marks, by));
        }
        self.down += height;
    }

    fn go_on(&mut self) {
        let title = self.pages.last().map(|page| page.title.clone()).unwrap_or_default();
        let title = if title.ends_with(", continued") { title } else { format!("{title}, continued") };
        self.begin(&title, None);
    }

    /// Leaves some room, mm.
    pub(super) fn skip(&mut self, height: f64) {
        self.down += height;
    }

    /// Leaves the room that stands between two blocks.
    pub(super) fn space(&mut self) {
        self.skip(BETWEEN);
    }

    /// A paragraph.
    pub(super) fn words(&mut self, words: &str, size: Length, weight: Weight, ink: Ink) {
        let (marks, height) = paragraph(words, size, weight, ink, self.width());
        self.put(marks, height + 1.0);
    }

    /// A heading inside a page, on as many lines as it needs.
    pub(super) fn subheading(&mut self, words: &str) {
        // A heading never stands alone at a page's foot.
        if self.left() < 24.0 {
            self.go_on();
        }
        let (heading, down) = paragraph(words, SUBHEADING, Weight::Bold, Ink::Black, self.width());
        let line = down + 1.3;
        let lines = each(&moved(heading, dvec2(0.0, 0.9))).into_iter().cloned().collect();
        let mut marks = vec![Mark::Tagged { tag: Tag::Heading(2), marks: lines }];
        marks.push(Mark::Line { from: dvec2(0.0, line), to: dvec2(self.width(), line), pen: Pen::Narrow });
        self.put(marks, line + 1.6);
    }

    /// A table, cut between rows where it must be.
    pub(super) fn table(&mut self, table: &Table) {
        let whole = Length::from_mm(self.room.y - HEADED);
        for (index, piece) in table.pieces(Length::from_mm(self.left()), whole).into_iter().enumerate() {
            if index > 0 {
                self.go_on();
            }
            self.put(piece.marks, piece.height.mm());
        }
    }

    /// These pages, and then those.
    pub(super) fn then(mut self, after: Self) -> Self {
        self.pages.extend(after.pages);
        self
    }

    /// The sheets, each in its frame with its title block.
    pub(super) fn finish(mut self, packet: &Packet<'_>) -> Vec<Sheet> {
        if packet.draft {
            let draft = Mark::Text {
                at: dvec2(self.width(), HEADING_LINE),
                size: HEADING,
                words: "DRAFT: not issued".to_owned(),
                weight: Weight::Bold,
                anchor: Anchor::End,
                ink: Ink::Accent,
            };
            for page in &mut self.pages {
                page.marks.push(draft.clone());
            }
        }
        finished(self.pages, &title_block(packet), Paper::A4)
    }
}

/// One line of words, cut where it would run out of its room.
pub(super) fn line(at: DVec2, size: Length, weight: Weight, words: &str, room: f64) -> Mark {
    Mark::words(at, size, weight, shortened(words, size, weight, Length::from_mm(room)))
}

/// Words that lead to a place of the document.
pub(super) fn link(at: DVec2, size: DVec2, place: &str) -> Mark {
    Mark::Link { at, size, to: LinkTo::Place(place.to_owned()) }
}

fn held_while_asking(packet: &Packet<'_>) -> String {
    let joints = packet.found.release.describe_joints();
    joints.map_or_else(|| HELD_UNTIL.to_owned(), |joints| format!("{HELD_UNTIL} But {joints}"))
}

fn title_block(packet: &Packet<'_>) -> TitleBlock {
    let facts = packet.facts;
    // A round that goes out asks, so that everything is held until its answer but joints that were released before.
    let hold = if packet.draft { packet.found.describe_hold() } else { held_while_asking(packet) };
    let book = facts.book.as_ref().map_or_else(|| "none".to_owned(), BookText::describe);
    TitleBlock {
        owner: "the shop".to_owned(),
        number: format!("{}-{}", facts.build.slug, packet.contents.round),
        date: packet.day.to_string(),
        looked_over_by: "not yet".to_owned(),
        made_by: packet.made_by.to_owned(),
        kind: "Packet for the scrutineer".to_owned(),
        build: facts.build.name.clone(),
        book,
        revision: packet.round(),
        hold,
        ..TitleBlock::default()
    }
}
