//! The fabrication sheets: what to cut, where to bend, how to cope; templates at full size.

mod bends;
mod cut_list;
mod templates;

use glam::dvec2;
use jiff::civil::Date;

use super::error::DocumentError;
use super::pdf::{About, write};
use crate::domain::cage::{Cage, Member};
use crate::domain::dies::Die;
use crate::domain::fabrication::BarSheet;
use crate::drawing::sheet::moved;
use crate::drawing::text::{LEADING, wrap};
use crate::drawing::title_block::TitleBlock;
use crate::drawing::{Anchor, Ink, Mark, Sheet, Weight};
use crate::quantity::{Length, Units};

/// The size of running type, 9 pt.
const TYPE: Length = Length::from_mm(3.18);
/// The size of small type, 7.5 pt.
const SMALL: Length = Length::from_mm(2.65);
/// The size of a sheet's heading, 14 pt.
const HEADING: Length = Length::from_mm(4.9);

/// What the sheets are made of.
#[derive(Debug, Clone, Copy)]
pub struct Fabrication<'a> {
    /// The cage.
    pub cage: &'a Cage,
    /// The shop's dies.
    pub dies: &'a [Die],
    /// What it is for: the build's name, or the cage file's.
    pub name: &'a str,
    /// The rule book and edition; empty for a cage file.
    pub book: &'a str,
    /// How the weld hold stands, in a sentence.
    pub hold: &'a str,
    /// Who makes them.
    pub made_by: &'a str,
    /// The day they are made.
    pub day: Date,
    /// The units they are printed in.
    pub units: Units,
}

/// A page's body before its title block is drawn.
struct Page {
    title: String,
    marks: Vec<Mark>,
}

impl Page {
    fn new(title: impl Into<String>, place: Option<&str>) -> Self {
        let title = title.into();
        let mut marks = Vec::new();
        if let Some(name) = place {
            marks.push(Mark::Place { name: name.to_owned(), title: title.clone(), level: 0 });
        }
        marks.push(Mark::words(dvec2(0.0, 5.5), HEADING, Weight::Bold, &title));
        Self { title, marks }
    }
}

/// All sheets: the cut list, a bend sheet for each bent bar, the templates of every end.
pub fn sheets(of: &Fabrication<'_>) -> Vec<Sheet> {
    let bars: Vec<BarSheet<'_>> = of.cage.members.iter().map(|member| BarSheet::of(of.cage, member, of.dies)).collect();
    let mut pages = cut_list::pages(of, &bars);
    pages.extend(bars.iter().filter(|bar| !bar.bends.is_empty()).map(|bar| bends::page(of, bar)));
    pages.extend(bars.iter().flat_map(|bar| templates::pages(of, bar)));
    finished(of, pages)
}

/// The sheets of one bar.
pub fn sheets_of(of: &Fabrication<'_>, member: &Member) -> Vec<Sheet> {
    let bar = BarSheet::of(of.cage, member, of.dies);
    let bent = (!bar.bends.is_empty()).then(|| bends::page(of, &bar));
    finished(of, bent.into_iter().chain(templates::pages(of, &bar)).collect())
}

/// Sheets as a PDF that says it must not be scaled when printed.
pub fn make(of: &Fabrication<'_>, sheets: &[Sheet]) -> Result<Vec<u8>, DocumentError> {
    let about = About {
        title: format!("{}, fabrication sheets", of.name),
        author: of.made_by.to_owned(),
        id: format!("fabrication {}", of.name),
        date: of.day,
    };
    write(sheets, &|_| None, &about)
}

/// Width and height of a page's body, mm.
fn room(of: &Fabrication<'_>) -> glam::DVec2 {
    let (_, size) = Sheet::a4().frame();
    let foot = title_block(of, "", "").height(Length::from_mm(size.x)).mm();
    dvec2(size.x, size.y - foot - 3.0)
}

fn finished(of: &Fabrication<'_>, pages: Vec<Page>) -> Vec<Sheet> {
    let all = pages.len();
    let sheet = |(number, page): (usize, Page)| {
        let mut sheet = Sheet::a4();
        let (at, size) = sheet.frame();
        sheet.marks.extend(moved(page.marks, at));
        let title = title_block(of, &page.title, &format!("{number} of {all}"));
        let width = Length::from_mm(size.x);
        sheet.marks.extend(title.marks(at + dvec2(0.0, size.y - title.height(width).mm()), width));
        sheet
    };
    (1..).zip(pages).map(sheet).collect()
}

fn title_block(of: &Fabrication<'_>, title: &str, sheet: &str) -> TitleBlock {
    TitleBlock {
        owner: "the shop".to_owned(),
        number: "fabrication".to_owned(),
        date: of.day.to_string(),
        sheet: sheet.to_owned(),
        title: title.to_owned(),
        looked_over_by: "not yet".to_owned(),
        made_by: of.made_by.to_owned(),
        kind: "Fabrication sheet".to_owned(),
        build: of.name.to_owned(),
        book: if of.book.is_empty() { "none".to_owned() } else { of.book.to_owned() },
        revision: "as measured".to_owned(),
        hold: of.hold.to_owned(),
    }
}

/// How words are written.
#[derive(Debug, Clone, Copy)]
struct Style {
    size: Length,
    weight: Weight,
    ink: Ink,
}

impl Style {
    const BOLD: Self = Self { size: TYPE, weight: Weight::Bold, ink: Ink::Black };
    const SMALL: Self = Self { size: SMALL, weight: Weight::Regular, ink: Ink::Black };
}

/// Wrapped words from a point, and how far down they reach, mm.
fn paragraph(words: &str, at: glam::DVec2, style: Style, width: f64) -> (Vec<Mark>, f64) {
    let Style { size, weight, ink } = style;
    let step = size.mm() * LEADING;
    let lines = wrap(words, size, weight, Length::from_mm(width));
    let mut down = at.y;
    let mut marks = Vec::new();
    for words in lines {
        let at = dvec2(at.x, down + size.mm());
        marks.push(Mark::Text { at, size, words, weight, anchor: Anchor::Start, ink });
        down += step;
    }
    (marks, down)
}

/// A length on a tape in inches, to a sixteenth with what is left, or in millimetres to a tenth.
fn tape(length: Length, units: Units) -> String {
    match units {
        Units::Inch => length.show_fraction_and_leftover(16),
        Units::Metric => format!("{:.1} mm", length.mm()),
    }
}
