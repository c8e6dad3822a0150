//! The fabrication sheets: what to cut, where to bend, how to cope; templates at full size.

mod bends;
mod blanks;
mod cut_list;
mod cut_plan;
mod lowering;
mod seams;
mod full_size;
mod templates;

use glam::{DVec2, dvec2};
use jiff::civil::Date;

use super::error::DocumentError;
use super::paper::{self, Page, SMALL, TYPE, finished};
use super::pdf::{About, write};
use crate::domain::cage::{Cage, Member};
use crate::domain::steel::dies::Die;
use crate::domain::words::ids::Balloon;
use crate::domain::work::cut_plan::CutPlan;
use crate::domain::work::fabrication::{BarSheet, Bench, Blank};
use crate::domain::work::seams::Rates;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::title_block::TitleBlock;
use crate::drawing::wrap::Wall;
use crate::drawing::{Ink, Mark, Paper, Sheet, Weight};
use crate::quantity::{Length, Units};

pub use lowering::{Lowered, lowering_sheets};

/// What the sheets are made of.
#[derive(Debug, Clone, Copy)]
pub struct Fabrication<'a> {
    /// The cage.
    pub cage: &'a Cage,
    /// The shop's dies.
    pub dies: &'a [Die],
    /// How the shop welds.
    pub rates: &'a Rates,
    /// Which bar is cut from which stick.
    pub cuts: &'a CutPlan,
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
    /// The edge of the wall that cope templates are for.
    pub wall: Wall,
    /// The paper they are printed on.
    pub paper: Paper,
}

impl Fabrication<'_> {
    /// What the bars are bent with: the hold is the one that the cut plan counts with.
    fn bench(&self) -> Bench<'_> {
        Bench { dies: self.dies, grip: self.cuts.saw.grip.value }
    }
}

/// Said on every sheet.
const CAUTION: &str = "Worked out from the measurements, approved by nobody: the governing body's current rules and its scrutineer \
decide. Structural questions go to a licensed engineer, welds to a qualified welder; local codes come first. Measure on the car, then cut.";
/// What the caution takes at the foot of a page, mm.
const CAUTION_ROOM: f64 = 9.0;

/// All sheets: the cut list, the cut plan, the seams and masses, a bend sheet for each bent bar, the templates of every end, the blanks
/// of plates and gussets.
pub fn sheets(of: &Fabrication<'_>) -> Vec<Sheet> {
    let bars: Vec<BarSheet<'_>> =
        of.cage.members.iter().map(|member| BarSheet::of(of.cage, member, &of.bench())).collect();
    let mut pages = cut_list::pages(of, &bars);
    pages.extend(cut_plan::pages(of));
    pages.extend(seams::pages(of));
    pages.extend(bars.iter().filter(|bar| !bar.bends.is_empty()).flat_map(|bar| bends::pages(of, bar)));
    pages.extend(bars.iter().flat_map(|bar| templates::pages(of, bar)));
    let blanks = Blank::all(of.cage);
    pages.extend(blanks::list(of, &blanks));
    pages.extend(blanks.iter().flat_map(|blank| blanks::pages(of, blank)));
    cautioned(of, pages)
}

/// The sheets of one plate or gusset; none where there is no such part.
pub fn sheets_of_blank(of: &Fabrication<'_>, balloon: Balloon) -> Vec<Sheet> {
    let blank = Blank::of(of.cage, balloon);
    cautioned(of, blank.iter().flat_map(|blank| blanks::pages(of, blank)).collect())
}

/// The pages as sheets, each with the caution over its title block.
fn cautioned(of: &Fabrication<'_>, mut pages: Vec<Page>) -> Vec<Sheet> {
    let room = room(of);
    for page in &mut pages {
        page.marks.extend(paragraph(CAUTION, dvec2(0.0, room.y + 1.0), Style::SMALL, room.x).0);
    }
    finished(pages, &title_block(of), of.paper)
}

/// The sheets of the cut plan alone.
pub fn cut_sheets(of: &Fabrication<'_>) -> Vec<Sheet> {
    cautioned(of, cut_plan::pages(of))
}

/// The sheets of one bar.
pub fn sheets_of(of: &Fabrication<'_>, member: &Member) -> Vec<Sheet> {
    let bar = BarSheet::of(of.cage, member, &of.bench());
    let bent = (!bar.bends.is_empty()).then(|| bends::pages(of, &bar));
    cautioned(of, bent.into_iter().flatten().chain(templates::pages(of, &bar)).collect())
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

/// Width and height of a page's body over its caution, mm.
fn room(of: &Fabrication<'_>) -> DVec2 {
    paper::room(&title_block(of)) - dvec2(0.0, CAUTION_ROOM)
}

fn title_block(of: &Fabrication<'_>) -> TitleBlock {
    TitleBlock {
        owner: "the shop".to_owned(),
        number: "fabrication".to_owned(),
        date: of.day.to_string(),
        looked_over_by: "not yet".to_owned(),
        made_by: of.made_by.to_owned(),
        kind: "Fabrication sheet".to_owned(),
        build: of.name.to_owned(),
        book: if of.book.is_empty() { "none".to_owned() } else { of.book.to_owned() },
        revision: "as measured".to_owned(),
        hold: of.hold.to_owned(),
        ..TitleBlock::default()
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
fn paragraph(words: &str, at: DVec2, style: Style, width: f64) -> (Vec<Mark>, f64) {
    let (marks, height) = paper::paragraph(words, style.size, style.weight, style.ink, width);
    (moved(marks, at), at.y + height)
}
