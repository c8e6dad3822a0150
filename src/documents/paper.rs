//! What all papers share: sizes of type, a page under its heading, wrapped words, the frame with the title block.

use glam::{DVec2, dvec2};

use crate::drawing::paper::sheet::moved;
pub(super) use crate::drawing::paper::text::{HEADING, SMALL, TYPE};
use crate::drawing::paper::text::{LEADING, wrap};
use crate::drawing::paper::title_block::TitleBlock;
use crate::drawing::{Anchor, Ink, Mark, Paper, Pen, Sheet, Tag, Weight};
use crate::quantity::Length;

/// The line that a sheet's heading stands on, mm down.
pub(super) const HEADING_LINE: f64 = 5.5;

/// A page's body before it gets its frame and title block.
pub(super) struct Page {
    /// Its heading, and its title in the block.
    pub(super) title: String,
    /// Its marks, from the body's top left corner.
    pub(super) marks: Vec<Mark>,
    /// Whether the block at its foot is the short one.
    pub(super) short: bool,
}

impl Page {
    /// A page with nothing but its heading.
    pub(super) fn begun(title: impl Into<String>, place: Option<&str>) -> Self {
        let title = title.into();
        let named = named(&title, place);
        let heading = Mark::words(dvec2(0.0, HEADING_LINE), HEADING, Weight::Bold, &title);
        let heading = Mark::Tagged { tag: Tag::Heading(1), marks: vec![heading] };
        Self { marks: named.into_iter().chain([heading]).collect(), title, short: false }
    }

    /// A page without a heading: what stands on it has its own.
    pub(super) fn bare(title: impl Into<String>, place: Option<&str>) -> Self {
        let title = title.into();
        Self { marks: named(&title, place).into_iter().collect(), title, short: false }
    }
}

fn named(title: &str, place: Option<&str>) -> Option<Mark> {
    place.map(|name| Mark::Place { name: name.to_owned(), title: title.to_owned(), level: 0 })
}

/// Width and height of a page's body over this title block, mm; on every paper alike.
pub(super) fn room(block: &TitleBlock) -> DVec2 {
    let (_, size) = Sheet::a4().frame();
    dvec2(size.x, size.y - block.height(Length::from_mm(size.x)).mm() - 3.0)
}

/// The pages as sheets, each in its frame with the block at its foot; title and number are the page's own.
pub(super) fn finished(pages: Vec<Page>, block: &TitleBlock, paper: Paper) -> Vec<Sheet> {
    let all = pages.len();
    let sheet = |(number, page): (usize, Page)| {
        let mut sheet = paper.sheet();
        let (at, size) = sheet.frame();
        sheet.marks.extend(moved(page.marks, at));
        let sheet_of = format!("{number} of {all}");
        let block = TitleBlock { title: page.title, sheet: sheet_of, short: page.short, ..block.clone() };
        let width = Length::from_mm(size.x);
        sheet.marks.extend(block.marks(at + dvec2(0.0, size.y - block.height(width).mm()), width));
        sheet
    };
    (1..).zip(pages).map(sheet).collect()
}

/// Wrapped words and the height they take, mm; each line that ends by itself is a paragraph.
pub(super) fn paragraph(words: &str, size: Length, weight: Weight, ink: Ink, width: f64) -> (Vec<Mark>, f64) {
    let step = size.mm() * LEADING;
    let mut all = Vec::new();
    let mut down = 0.0;
    for line in words.lines() {
        let mut marks = Vec::new();
        for words in wrap(line, size, weight, Length::from_mm(width)) {
            let at = dvec2(0.0, down + size.mm());
            marks.push(Mark::Text { at, size, words, weight, anchor: Anchor::Start, ink });
            down += step;
        }
        if !marks.is_empty() {
            all.push(Mark::Tagged { tag: Tag::Paragraph, marks });
        }
    }
    (all, down)
}

/// Two lines, one under the other so many millimetres apart, that a sheet is measured by once it is printed.
pub(super) fn check_lines(at: DVec2, apart: f64) -> Vec<Mark> {
    let mut marks = ruler(at, Length::from_mm(100.0), "100 mm");
    marks.extend(ruler(at + dvec2(0.0, apart), Length::from_inches(4.0), "4 in"));
    marks
}

/// A line of a known length with ticks at its ends.
fn ruler(at: DVec2, length: Length, words: &str) -> Vec<Mark> {
    let end = at + dvec2(length.mm(), 0.0);
    let tick = |at: DVec2| Mark::Line { from: at - dvec2(0.0, 1.6), to: at + dvec2(0.0, 1.6), pen: Pen::Narrow };
    vec![
        Mark::Line { from: at, to: end, pen: Pen::Narrow },
        tick(at),
        tick(end),
        Mark::words(end + dvec2(3.0, 1.0), SMALL, Weight::Regular, words),
    ]
}
