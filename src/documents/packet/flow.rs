//! Laying blocks out down the sheets: headings, breaks, page numbers and the title block at each foot.

use glam::{DVec2, dvec2};

use super::Packet;
use crate::domain::hold::Hold;
use crate::drawing::sheet::moved;
use crate::drawing::table::Table;
use crate::drawing::text::{LEADING, shortened, wrap};
use crate::drawing::title_block::TitleBlock;
use crate::drawing::{Anchor, Ink, LinkTo, Mark, Pen, Sheet, Weight};
use crate::quantity::Length;

/// The size of running type, 9 pt.
pub(super) const TYPE: Length = Length::from_mm(3.18);
/// The size of small type, 7.5 pt: captions, clauses.
pub(super) const SMALL: Length = Length::from_mm(2.65);
/// The size of a heading on a sheet, 14 pt.
const HEADING: Length = Length::from_mm(4.9);
/// What a sheet's heading takes, mm.
const HEADED: f64 = 11.0;
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

struct Page {
    title: String,
    marks: Vec<Mark>,
    places: Vec<(String, String)>,
}

impl Flow {
    pub(super) fn new(packet: &Packet<'_>) -> Self {
        let (_, size) = Sheet::a4().frame();
        let foot = title_block(packet, "", "").height(Length::from_mm(size.x)).mm();
        Self { pages: Vec::new(), down: 0.0, room: dvec2(size.x, size.y - foot - 3.0) }
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
        let places = |(number, page): (usize, &Page)| {
            page.places.iter().map(move |(name, title)| (name.clone(), title.clone(), number)).collect::<Vec<_>>()
        };
        (1..).zip(&self.pages).flat_map(places).collect()
    }

    /// Begins a page with a heading; `place` is the name that links and the outline lead to.
    pub(super) fn begin(&mut self, title: &str, place: Option<&str>) {
        let mut marks = Vec::new();
        let mut places = Vec::new();
        if let Some(name) = place {
            marks.push(Mark::Place { name: name.to_owned(), title: title.to_owned(), level: 0 });
            places.push((name.to_owned(), title.to_owned()));
        }
        marks.push(Mark::words(dvec2(0.0, 5.5), HEADING, Weight::Bold, title));
        self.pages.push(Page { title: title.to_owned(), marks, places });
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

    /// A heading inside a page.
    pub(super) fn subheading(&mut self, words: &str) {
        // A heading never stands alone at a page's foot.
        if self.left() < 24.0 {
            self.go_on();
        }
        let rule = Mark::Line { from: dvec2(0.0, 6.4), to: dvec2(self.width(), 6.4), pen: Pen::Narrow };
        let heading = Mark::words(dvec2(0.0, 4.8), Length::from_mm(3.9), Weight::Bold, words);
        self.put(vec![heading, rule], 8.0);
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
    pub(super) fn finish(self, packet: &Packet<'_>) -> Vec<Sheet> {
        let all = self.pages.len();
        let sheet = |(number, page): (usize, Page)| {
            let mut sheet = Sheet::a4();
            let (at, size) = sheet.frame();
            sheet.marks.extend(moved(page.marks, at));
            if packet.draft {
                let words = "DRAFT: not issued";
                let at = at + dvec2(size.x, 5.5);
                let (size, weight) = (HEADING, Weight::Bold);
                sheet.marks.push(Mark::Text {
                    at,
                    size,
                    words: words.into(),
                    weight,
                    anchor: Anchor::End,
                    ink: Ink::Accent,
                });
            }
            let title = title_block(packet, &page.title, &format!("{number} of {all}"));
            let width = Length::from_mm(size.x);
            sheet.marks.extend(title.marks(at + dvec2(0.0, size.y - title.height(width).mm()), width));
            sheet
        };
        (1..).zip(self.pages).map(sheet).collect()
    }
}

/// Wrapped words and the height they take, mm.
pub(super) fn paragraph(words: &str, size: Length, weight: Weight, ink: Ink, width: f64) -> (Vec<Mark>, f64) {
    let step = size.mm() * LEADING;
    let mut marks = Vec::new();
    let mut down = 0.0;
    for line in words.lines() {
        for words in wrap(line, size, weight, Length::from_mm(width)) {
            let at = dvec2(0.0, down + size.mm());
            marks.push(Mark::Text { at, size, words, weight, anchor: Anchor::Start, ink });
            down += step;
        }
    }
    (marks, down)
}

/// One line of words, cut where it would run out of its room.
pub(super) fn line(at: DVec2, size: Length, weight: Weight, words: &str, room: f64) -> Mark {
    Mark::words(at, size, weight, shortened(words, size, weight, Length::from_mm(room)))
}

/// Words that lead to a place of the document.
pub(super) fn link(at: DVec2, size: DVec2, place: &str) -> Mark {
    Mark::Link { at, size, to: LinkTo::Place(place.to_owned()) }
}

fn title_block(packet: &Packet<'_>, title: &str, sheet: &str) -> TitleBlock {
    let facts = packet.facts;
    let held = "HELD: tacks only. Nothing is fully welded before the scrutineer releases it.";
    let hold = match &packet.found.hold {
        Hold::Released { round, given_by, .. } if packet.draft => {
            format!("Round {round} was approved by {given_by}. A change to what was approved needs a new round.")
        }
        _ => held.to_owned(),
    };
    let book = facts.book.as_ref().map_or_else(|| "none".to_owned(), |book| format!("{}, {}", book.name, book.edition));
    TitleBlock {
        owner: "the shop".to_owned(),
        number: format!("{}-{}", facts.build.slug, packet.contents.round),
        date: packet.day.to_string(),
        sheet: sheet.to_owned(),
        title: title.to_owned(),
        looked_over_by: "not yet".to_owned(),
        made_by: packet.made_by.to_owned(),
        kind: "Packet for the scrutineer".to_owned(),
        build: facts.build.name.clone(),
        book,
        revision: packet.round(),
        hold,
    }
}
