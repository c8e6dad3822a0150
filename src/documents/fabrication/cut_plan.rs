//! The cut plan on paper: each stick with its pieces, drawn and in figures.

use glam::dvec2;

use super::{Fabrication, Page, SMALL, Style, TYPE, paragraph, room};
use crate::domain::words::cautions;
use crate::domain::work::cut_plan::{CutPlan, CutStick, SizePlan};
use crate::drawing::Mark;
use crate::drawing::cut_plan::{drawn, height};
use crate::drawing::paper::sheet::moved;
use crate::quantity::Length;

/// Marks that stand together, and their height, mm.
type Block = (Vec<Mark>, f64);

/// The plan's pages; none where nothing is to cut.
pub(super) fn pages(of: &Fabrication<'_>) -> Vec<Page> {
    if of.cuts.sizes.is_empty() {
        return Vec::new();
    }
    let room = room(of);
    let words = |words: &str, style: Style| paragraph(words, dvec2(0.0, 0.0), style, room.x);
    let mut blocks: Vec<Block> =
        vec![words(&format!("{} {} {}", of.cuts.saw.describe(), CutPlan::SAID, cautions::SAW), Style::SMALL)];
    let unsure = of.cuts.describe_unsure();
    blocks.extend((!unsure.is_empty()).then(|| words(&unsure, Style::BOLD)));
    for size in &of.cuts.sizes {
        blocks.extend(of_size(of, size));
    }
    let mut pages = Vec::new();
    let mut page = Page::begun("Cut plan", Some("cut-plan"));
    let mut down = 9.5;
    for (marks, height) in blocks {
        if down + height > room.y && down > 10.0 {
            pages.push(std::mem::replace(&mut page, Page::begun("Cut plan, continued", None)));
            down = 9.5;
        }
        page.marks.extend(moved(marks, dvec2(0.0, down)));
        down += height + 2.0;
    }
    pages.push(page);
    pages
}

fn of_size(of: &Fabrication<'_>, size: &SizePlan) -> Vec<Block> {
    let (units, wide) = (of.units, room(of).x);
    let words = |words: &str, style: Style| paragraph(words, dvec2(0.0, 0.0), style, wide);
    let mut blocks = vec![words(&format!("{}: {}", size.tube, size.describe(units)), Style::BOLD)];
    let grades = size.describe_grades();
    blocks.extend((!grades.is_empty()).then(|| words(&grades, Style::BOLD)));
    for (name, why) in size.describe_without(units) {
        blocks.push(words(&format!("{name} {why}"), Style::BOLD));
    }
    let stick = |stick: &CutStick| {
        let mut marks = drawn(of.cuts, stick, (Length::from_mm(wide), SMALL), units);
        let at = dvec2(0.0, height(SMALL).mm());
        let (description, reached) = paragraph(
            &format!("{}. {}.", stick.describe_pieces(units).join("; "), stick.left(units)),
            at,
            Style { size: TYPE, ..Style::SMALL },
            wide,
        );
        marks.extend(description);
        (marks, reached)
    };
    blocks.extend(size.sticks.iter().map(stick));
    if !size.whole.is_empty() {
        let whole = size.whole.iter().map(|free| format!("{}, {}", free.name, free.length.by_tape_at_most(units)));
        blocks.push(words(&format!("Not cut into: {}.", whole.collect::<Vec<_>>().join("; ")), Style::SMALL));
    }
    blocks.push(words(&size.describe_proven(units), Style::SMALL));
    blocks
}
