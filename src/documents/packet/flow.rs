//! Laying blocks out down the sheets: headings, breaks, page numbers and the title block at each foot.

use glam::{DVec2, dvec2};

use super::Packet;
use super::pictures::{self, Pictured};
pub(super) use crate::documents::paper::{HEADING, SMALL, TYPE, paragraph};
use crate::documents::paper::{HEADING_LINE, Page, finished, room};
use crate::documents::teller::Teller;
use crate::domain::derived::hold::HELD_UNTIL;
use crate::domain::recorded::facts::BookText;
use crate::domain::words::fingerprint::short;
use crate::drawing::paper::sheet::{each, moved};
use crate::drawing::paper::table::Table;
use crate::drawing::paper::text::shortened;
pub(super) use crate::drawing::paper::text::{LABEL, SUBHEADING};
use crate::drawing::paper::title_block::TitleBlock;
use crate::drawing::{Anchor, Ink, LinkTo, Mark, Paper, Pen, Sheet, Tag, Weight};
use crate::quantity::Length;

/// What a sheet's heading takes, mm.
const HEADED: f64 = 11.0;
/// Room between two blocks, mm.
const BETWEEN: f64 = 2.5;
/// What sums of heights may be off by, mm.
const ROUNDING: f64 = 1e-6;
/// A chapter begins on the sheet before it where so much is left, mm: no sheet is left with one line of it.
const SHARED: f64 = 66.0;

/// Blocks laid out down as many sheets as they need.
pub(super) struct Flow {
    pages: Vec<Page>,
    /// How far down the newest page is filled, mm.
    down: f64,
    /// Where the newest page's blocks begin, mm.
    top: f64,
    /// Width and height of a page's body, mm.
    room: DVec2,
    /// Whether the block at each foot is the short one.
    short: bool,
}

impl Flow {
    /// Pages with the short block: the cover has the whole one.
    pub(super) fn new(packet: &Packet<'_>) -> Self {
        Self::with(packet, true)
    }

    /// One page with the whole block.
    pub(super) fn cover(packet: &Packet<'_>) -> Self {
        let mut flow = Self::with(packet, false);
        flow.push(Page::bare(packet.title(), Some("cover")), 0.0);
        flow
    }

    fn with(packet: &Packet<'_>, short: bool) -> Self {
        let block = TitleBlock { short, ..title_block(packet) };
        Self { pages: Vec::new(), down: 0.0, top: 0.0, room: room(&block), short }
    }

    /// The width of a page's body, mm.
    pub(super) fn width(&self) -> f64 {
        self.room.x
    }

    /// The room left on the page, mm.
    pub(super) fn left(&self) -> f64 {
        if self.pages.is_empty() { 0.0 } else { self.room.y - self.down }
    }

    /// The room of a whole page without a heading, mm.
    pub(super) fn whole(&self) -> f64 {
        self.room.y
    }

    /// How many pages there are.
    pub(super) fn count(&self) -> usize {
        self.pages.len()
    }

    /// Every chapter with its page, from 1.
    pub(super) fn chapters(&self) -> Vec<(String, String, usize)> {
        self.places().filter(|(level, ..)| *level == 0).map(|(_, name, title, page)| (name, title, page)).collect()
    }

    /// The page of a named place, from 1.
    pub(super) fn page_of(&self, place: &str) -> Option<usize> {
        self.places().find(|(_, name, ..)| name == place).map(|(.., page)| page)
    }

    /// Every named place: how deep in the outline, its name, its title, its page from 1.
    pub(super) fn places(&self) -> impl Iterator<Item = (usize, String, String, usize)> {
        let of_page = |(number, page): (usize, &Page)| {
            let named = each(&page.marks).into_iter().filter_map(move |mark| match mark {
                Mark::Place { name, title, level } => Some((*level, name.clone(), title.clone(), number)),
                _ => None,
            });
            named.collect::<Vec<_>>()
        };
        (1..).zip(&self.pages).flat_map(of_page)
    }

    /// Begins a page with a heading; `place` is the name that links and the outline lead to.
    pub(super) fn begin(&mut self, title: &str, place: Option<&str>) {
        self.push(Page::begun(title, place), HEADED);
    }

    /// Begins a page whose blocks have headings of their own.
    pub(super) fn begin_bare(&mut self, title: &str, place: Option<&str>) {
        self.push(Page::bare(title, place), 0.0);
    }

    fn push(&mut self, page: Page, top: f64) {
        self.pages.push(Page { short: self.short, ..page });
        (self.down, self.top) = (top, top);
    }

    /// Begins a chapter: under the one before where there is room for a good part of it, else on a page of its own.
    pub(super) fn chapter(&mut self, title: &str, place: &str) {
        self.chapter_of(title, place, SHARED);
    }

    /// The same where its first block is this high, mm.
    pub(super) fn chapter_of(&mut self, title: &str, place: &str, first: f64) {
        if self.left() < first.max(SHARED) + HEADED + BETWEEN {
            return self.begin(title, Some(place));
        }
        self.skip(2.0 * BETWEEN);
        let heading = Mark::words(dvec2(0.0, HEADING_LINE), HEADING, Weight::Bold, title);
        let named = Mark::Place { name: place.to_owned(), title: title.to_owned(), level: 0 };
        let marks = vec![named, Mark::Tagged { tag: Tag::Heading(1), marks: vec![heading] }];
        self.put(marks, HEADED - 2.0);
    }

    /// Puts a block that has a heading of its own where there is room for it, else on a page of its own; where it begins a
    /// chapter, `place` names it.
    pub(super) fn block(&mut self, title: &str, place: Option<&str>, marks: Vec<Mark>, height: f64) {
        if self.left() < height {
            self.begin_bare(title, place);
        } else if let Some(name) = place {
            let named = Mark::Place { name: name.to_owned(), title: title.to_owned(), level: 0 };
            self.put(vec![named], 0.0);
        }
        self.put(marks, height);
    }

    /// Puts a block under what is there, on a new page of the same title where it does not fit.
    pub(super) fn put(&mut self, marks: Vec<Mark>, height: f64) {
        if height > self.left() + ROUNDING && self.down > self.top {
            self.go_on();
        }
        let by = dvec2(0.0, self.down);
        if let Some(page) = self.pages.last_mut() {
            page.marks.extend(moved(marks, by));
        }
        self.down += height;
    }

    fn go_on(&mut self) {
        // a page is continued under the title of what runs over it: the chapter that began last
        let named = self.chapters().pop().map(|(_, title, _)| title);
        let title = named.or_else(|| self.pages.last().map(|page| page.title.clone())).unwrap_or_default();
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
        let (marks, height) = subheading(words, self.width());
        self.put(marks, height);
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
        let frozen = format!("Contents list, SHA-256: {}, in full on the cover", short(packet.frozen().text()));
        for page in &mut self.pages {
            page.marks.push(soft(dvec2(0.0, -0.9), LABEL, &frozen));
        }
        if packet.draft {
            // In the margin over the body: nothing on any page is hidden by it.
            let draft = Mark::Text {
                at: dvec2(self.width(), -0.9),
                size: SMALL,
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

impl Teller for Flow {
    fn chapter(&mut self, title: &str, place: &str) {
        Self::chapter(self, title, place);
    }

    fn subheading(&mut self, words: &str) {
        Self::subheading(self, words);
    }

    fn place(&mut self, title: &str, place: &str) {
        self.put(vec![Mark::Place { name: place.to_owned(), title: title.to_owned(), level: 1 }], 0.0);
    }

    fn words(&mut self, words: &str, size: Length, weight: Weight, ink: Ink) {
        Self::words(self, words, size, weight, ink);
    }

    fn table(&mut self, table: &Table) {
        Self::table(self, table);
    }

    fn drawing(&mut self, shows: &str, marks: Vec<Mark>, height: Length) {
        self.put(vec![Mark::figure(shows, marks)], height.mm() + 2.0);
    }

    fn pads(&mut self, pads: &[(&str, String, String)], lines: &[(&str, String)]) {
        self.put(weighed(pads, lines, self.width()), 40.0);
    }

    fn pictures(&mut self, packet: &Packet<'_>, pictured: &[Pictured<'_>], width: f64) {
        pictures::rows(self, packet, pictured, width);
    }

    fn width(&self) -> f64 {
        Self::width(self)
    }

    fn space(&mut self) {
        Self::space(self);
    }
}

/// What the pads showed as they stand under the car, and beside them what follows.
fn weighed(pads: &[(&str, String, String)], lines: &[(&str, String)], width: f64) -> Vec<Mark> {
    let mut marks = Vec::new();
    for (place, (label, figure, typed)) in (0_u32..).zip(pads) {
        let (x, y) = (f64::from(place % 2) * 44.0, f64::from(place / 2) * 19.0);
        marks.push(Mark::rectangle(dvec2(x, y), dvec2(42.0, 17.0), Some(Pen::Wide), None));
        marks.push(Mark::words(dvec2(x + 2.0, y + 4.6), SMALL, Weight::Regular, *label));
        marks.push(line(dvec2(x + 2.0, y + 11.4), SUBHEADING, Weight::Bold, figure, 38.0));
        marks.push(line(dvec2(x + 2.0, y + 15.4), SMALL, Weight::Regular, typed, 38.0));
    }
    for (row, (label, figure)) in (0_u32..).zip(lines) {
        let y = f64::from(row) * 7.6;
        marks.push(Mark::words(dvec2(92.0, y + 3.0), SMALL, Weight::Regular, *label));
        marks.push(line(dvec2(92.0, y + 7.0), TYPE, Weight::Bold, figure, width - 92.0));
    }
    marks
}

/// A heading inside a page with the line under it, and how high it is, mm.
pub(super) fn subheading(words: &str, width: f64) -> (Vec<Mark>, f64) {
    let (heading, down) = paragraph(words, SUBHEADING, Weight::Bold, Ink::Black, width);
    let line = down + 0.6;
    let lines = each(&heading).into_iter().cloned().collect();
    let marks = vec![
        Mark::Tagged { tag: Tag::Heading(2), marks: lines },
        Mark::Line { from: dvec2(0.0, line), to: dvec2(width, line), pen: Pen::Wide },
    ];
    (marks, line + 1.6)
}

/// One line of words, cut where it would run out of its room.
pub(super) fn line(at: DVec2, size: Length, weight: Weight, words: &str, room: f64) -> Mark {
    Mark::words(at, size, weight, shortened(words, size, weight, Length::from_mm(room)))
}

/// One line of words that ends at a point, in this ink.
pub(super) fn ends_at(at: DVec2, size: Length, weight: Weight, words: &str, ink: Ink) -> Mark {
    Mark::Text { at, size, words: words.to_owned(), weight, anchor: Anchor::End, ink }
}

/// Pale words that begin at a point.
pub(super) fn soft(at: DVec2, size: Length, words: &str) -> Mark {
    Mark::Text { at, size, words: words.to_owned(), weight: Weight::Regular, anchor: Anchor::Start, ink: Ink::Grey }
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
