//! Chapters as a page shows them: paragraphs, tables, drawings, photographs. What was typed stands in them as text alone.

mod cells;
mod pictures;

use askama::filters::HtmlSafe;

use super::packet::Packet;
use super::packet::pictures::Pictured;
use super::paper::TYPE;
use super::teller::Teller;
use crate::domain::words::ids::Balloon;
use crate::drawing::paper::svg::Svg;
use crate::drawing::paper::table::Table;
use crate::drawing::{Anchor, Ink, Mark, Weight};
use crate::quantity::Length;

pub use cells::{Cell, Grid, Heading, Row, Run, plain};
pub(super) use pictures::picture;
pub use pictures::{Kept, Picture, Place};

// Every word, name and address in it is escaped where it is written.
impl HtmlSafe for Svg {}

/// A chapter of a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Chapter {
    /// Its heading.
    pub title: String,
    /// The name that links lead to.
    pub place: String,
    /// What stands in it, in reading order.
    pub blocks: Vec<Block>,
}

/// A piece of a chapter.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading inside it, with the place that links lead to; empty where none does.
    Heading(String, String),
    /// A paragraph.
    Words(String),
    /// A paragraph that has to be seen.
    Strong(String),
    /// A paragraph beside the matter: where figures come from, what is not there.
    Soft(String),
    /// A text kept as it was written, line by line.
    Letter(String),
    /// A paragraph with ways on in it.
    Runs(Cell),
    /// A table.
    Table(Grid),
    /// A drawing with what it shows.
    Drawing(String, Svg),
    /// A small drawing beside what follows.
    Locator(String, Svg),
    /// Photographs.
    Pictures(Vec<Picture>),
}

/// Where a part of the car has its place, if it has one.
pub type Leads<'a> = &'a dyn Fn(Balloon) -> Option<String>;

/// Chapters while they are written.
pub(super) struct Chapters<'a> {
    all: Vec<Chapter>,
    /// Where a part has its place.
    leads: Leads<'a>,
    /// What the photographs are, and where; none where no photograph is shown.
    kept: Option<Kept<'a>>,
}

impl<'a> Chapters<'a> {
    pub(super) fn new(leads: Leads<'a>, kept: Option<Kept<'a>>) -> Self {
        Self { all: Vec::new(), leads, kept }
    }

    /// The chapters.
    pub(super) fn done(self) -> Vec<Chapter> {
        self.all
    }

    /// Puts a block at the end; none before the first chapter.
    pub(super) fn put(&mut self, block: Block) {
        if let Some(chapter) = self.all.last_mut() {
            chapter.blocks.push(block);
        }
    }

    /// A paragraph.
    pub(super) fn said(&mut self, words: &str) {
        self.put(Block::Words(plain(words)));
    }

    /// A paragraph that has to be seen.
    pub(super) fn strong(&mut self, words: &str) {
        self.put(Block::Strong(plain(words)));
    }

    /// A paragraph beside the matter.
    pub(super) fn soft(&mut self, words: &str) {
        self.put(Block::Soft(plain(words)));
    }

    /// A heading that links lead to.
    pub(super) fn heading(&mut self, words: &str, place: &str) {
        self.put(Block::Heading(plain(words), place.to_owned()));
    }

    /// Words of which those that are parts' numbers lead to the parts.
    pub(super) fn cell(&self, words: &str) -> Cell {
        Cell::of(words, self.leads)
    }

    /// A table of plain cells under these headings.
    pub(super) fn grid(&mut self, headings: &[&str], rows: Vec<Vec<String>>) {
        let of = |cells: Vec<String>| Row::of(cells.iter().map(|words| self.cell(words)).collect());
        let rows = rows.into_iter().map(of).collect();
        self.put(Block::Table(Grid { headings: headings.iter().map(|words| Heading::of(words)).collect(), rows }));
    }

    /// The photographs that are shown; it says each one's place.
    pub(super) fn show(&mut self, pictures: Vec<Picture>) {
        if !pictures.is_empty() {
            self.put(Block::Pictures(pictures));
        }
    }

    /// Which photographs stand in a chapter already.
    pub(super) fn shown(&self) -> impl Iterator<Item = &Picture> {
        self.all.iter().flat_map(|chapter| &chapter.blocks).flat_map(|block| match block {
            Block::Pictures(pictures) => pictures.as_slice(),
            _ => &[],
        })
    }

    /// A drawing of these marks.
    pub(super) fn svg(&self, marks: &[Mark], size: (Length, Length)) -> Svg {
        Svg::of(marks, size, |part| (self.leads)(*part))
    }
}

/// The width of a page, mm: that of the body of a sheet of A4, so that drawings come out alike.
const WIDTH: f64 = 187.6;

impl Teller for Chapters<'_> {
    fn chapter(&mut self, title: &str, place: &str) {
        self.all.push(Chapter { title: plain(title), place: place.to_owned(), blocks: Vec::new() });
    }

    fn subheading(&mut self, words: &str) {
        self.heading(words, "");
    }

    // the chapter's own place leads to it
    fn place(&mut self, _title: &str, _place: &str) {}

    fn words(&mut self, words: &str, size: Length, weight: Weight, ink: Ink) {
        match (weight, ink) {
            (Weight::Bold, _) => self.strong(words),
            (_, Ink::Grey) => self.soft(words),
            _ if size < TYPE => self.soft(words),
            _ => self.said(words),
        }
    }

    fn table(&mut self, table: &Table) {
        let headings = table
            .columns
            .iter()
            .map(|column| Heading { words: plain(&column.heading), figures: column.anchor == Anchor::End });
        let rows = table.rows.iter().map(|cells| {
            let place = cells.first().and_then(|first| cells::row_place(first)).unwrap_or_default();
            Row { place, cells: cells.iter().map(|words| self.cell(words)).collect() }
        });
        let grid = Grid { headings: headings.collect(), rows: rows.collect() };
        self.put(Block::Table(grid));
    }

    fn drawing(&mut self, shows: &str, marks: Vec<Mark>, height: Length) {
        let svg = self.svg(&marks, (Length::from_mm(WIDTH.min(150.0)), height));
        self.put(Block::Drawing(plain(shows), svg));
    }

    fn pads(&mut self, pads: &[(&str, String, String)], lines: &[(&str, String)]) {
        let pads = pads.iter().map(|(label, figure, typed)| vec![(*label).to_owned(), figure.clone(), typed.clone()]);
        let lines = lines.iter().map(|(label, figure)| vec![(*label).to_owned(), figure.clone(), String::new()]);
        self.grid(&["What", "How much", "Beside it"], pads.chain(lines).collect());
    }

    fn pictures(&mut self, packet: &Packet<'_>, pictured: &[Pictured<'_>], _width: f64) {
        let Some(kept) = self.kept else { return };
        let shown = pictured.iter().map(|one| picture(packet, one, kept, self.leads)).collect();
        self.show(shown);
    }

    fn width(&self) -> f64 {
        WIDTH
    }

    fn space(&mut self) {}
}
