//! The seams' sheet: what each joint's weld takes of wire and time, and what the cage weighs.

use glam::dvec2;

use super::{Fabrication, Page, SMALL, Style, TYPE, paragraph, room};
use crate::domain::cage::Masses;
use crate::domain::words::cautions;
use crate::domain::work::seams::{Estimate, SeamsAt, seams};
use crate::drawing::balance::balance;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::table::{Column, Table};
use crate::quantity::{Length, Show as _};

const CAUTION: &str = "An estimate to plan by, not a weld procedure: a qualified welder decides how each seam is laid. Gussets, and \
what holds a plate to the body, are not counted. Bars of a joint stand in the order of fitting; “M5 round M2” is coped round M2. Overhead is the share of the seam whose face looks down, the car level.";

/// The pages: every seam, then the masses.
pub(super) fn pages(of: &Fabrication<'_>) -> Vec<Page> {
    let mut pages = seam_pages(of);
    pages.push(masses(of));
    pages
}

fn seam_pages(of: &Fabrication<'_>) -> Vec<Page> {
    let room = room(of);
    let all = seams(of.cage, of.rates);
    let mut rows: Vec<Vec<String>> = all.iter().map(|at| row(of, at)).collect();
    let whole: Estimate = all.iter().map(|at| at.estimate).sum();
    rows.push(figures(of, "all", "", &whole));
    let columns = [("Seam", 25.0), ("Overhead", 19.0), ("Wire", 22.0), ("Arc", 21.0), ("Time", 25.0)];
    let rest = room.x - 14.0 - columns.iter().map(|column| column.1).sum::<f64>();
    let words = [Column::of("At", Length::from_mm(14.0)), Column::of("Bars", Length::from_mm(rest))];
    let figures = columns.map(|(heading, width)| Column::of_figures(heading, Length::from_mm(width)));
    let table = Table { columns: words.into_iter().chain(figures).collect(), rows, size: TYPE };
    let description = format!("{CAUTION} {}\n{}\n{}", describe(of), cautions::WELDING, cautions::CHROME_MOLY);
    let (head, down) = paragraph(&description, dvec2(0.0, 9.0), Style::SMALL, room.x);
    let pieces = table.pieces(Length::from_mm(room.y - down - 2.0), Length::from_mm(room.y - 14.0));
    let mut pages = Vec::new();
    for (index, piece) in pieces.into_iter().enumerate() {
        let title = if index == 0 { "Seams, wire and time" } else { "Seams, wire and time, continued" };
        let mut page = Page::begun(title, (index == 0).then_some("seams"));
        if index == 0 {
            page.marks.extend(head.clone());
        }
        let at = if index == 0 { down + 2.0 } else { 11.0 };
        page.marks.extend(moved(piece.marks, dvec2(0.0, at)));
        pages.push(page);
    }
    pages
}

/// What the estimate is made with, in a sentence.
fn describe(of: &Fabrication<'_>) -> String {
    let rates = of.rates;
    format!(
        "Reckoned with a leg of {}, wire of {}, {} of it deposited, {} of seam in a minute of arc, the arc burning {} of \
         the time.",
        rates.leg.text, rates.wire.text, rates.efficiency.text, rates.laid.text, rates.arc.text
    )
}

fn row(of: &Fabrication<'_>, at: &SeamsAt) -> Vec<String> {
    let bars = || at.bars.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    let bars = of.cage.joint(at.at).map_or_else(bars, |joint| of.cage.describe_fitted_at(joint));
    let onto = if at.onto == at.at { "its plate".to_owned() } else { at.onto.to_string() };
    figures(of, &at.at.to_string(), &format!("{bars} onto {onto}"), &at.estimate)
}

fn figures(of: &Fabrication<'_>, at: &str, bars: &str, estimate: &Estimate) -> Vec<String> {
    [at.to_owned(), bars.to_owned()].into_iter().chain(estimate.describe(of.units)).collect()
}

/// By tube size, plates and gussets; and the side view with the middle of all.
fn masses(of: &Fabrication<'_>) -> Page {
    let room = room(of);
    let masses = Masses::of(of.cage);
    let mut page = Page::begun("What the cage weighs", Some("masses"));
    let row = |what: String, count: usize, length: String, mass: String| vec![what, count.to_string(), length, mass];
    let mut rows: Vec<Vec<String>> = masses
        .tubes
        .iter()
        .map(|size| row(size.tube.to_string(), size.bars, size.length.show(of.units), size.mass.show(of.units)))
        .collect();
    rows.push(row("plates".to_owned(), masses.plates.0, String::new(), masses.plates.1.show(of.units)));
    rows.push(row("gussets".to_owned(), masses.gussets.0, String::new(), masses.gussets.1.show(of.units)));
    rows.push(vec!["all".to_owned(), String::new(), String::new(), masses.whole.show(of.units)]);
    let table = Table {
        columns: vec![
            Column::of("What", Length::from_mm(room.x - 95.0)),
            Column::of_figures("How many", Length::from_mm(25.0)),
            Column::of_figures("Centre lines", Length::from_mm(40.0)),
            Column::of_figures("Mass", Length::from_mm(30.0)),
        ],
        rows,
        size: TYPE,
    };
    let mut down = 11.0;
    for piece in table.pieces(Length::from_mm(room.y - 20.0), Length::from_mm(room.y - 20.0)) {
        page.marks.extend(moved(piece.marks, dvec2(0.0, down)));
        down += piece.height.mm() + 2.0;
    }
    if let Some(centre) = masses.centre {
        let [forward, left, up] = centre.to_array().map(|mm| Length::from_mm(mm).by_tape(of.units));
        let description = format!(
            "Its centre of mass is {forward} forward of the main hoop's feet, {left} left of the centre plane and {up} over \
             the floor, by the model; weld metal and paint not counted."
        );
        let (marks, reached) = paragraph(&description, dvec2(0.0, down + 1.0), Style::SMALL, room.x);
        page.marks.extend(marks);
        let frame = (Length::from_mm(room.x), Length::from_mm((room.y - reached - 4.0).min(120.0)));
        page.marks.extend(moved(balance(of.cage, centre, None, (frame, SMALL)), dvec2(0.0, reached + 3.0)));
    }
    page
}
