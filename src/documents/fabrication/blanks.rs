//! Plates and gussets: their list, and the blank of each at full size.

use glam::dvec2;

use super::full_size::{FullSize, bold, pages as full_size, plain};
use super::{Fabrication, Page, Style, TYPE, paragraph, room, templates};
use crate::domain::cage::GussetCut;
use crate::domain::work::fabrication::Blank;
use crate::drawing::blank::at_full_size;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::table::{Column, Table};
use crate::geometry::SheetBlank;
use crate::quantity::{Length, Mass, Show as _, Units};

const SAID: &str = "Cut out the wide line, stick it on the sheet, centre-punch the crosses through the paper. Deburr and round every edge.";
const LISTED: &str = "Area and mass are of the metal as cut, holes taken out. Steel of 7850 kg/m³ (EN 10219-2).";

/// The list of all plates and gussets; no page where there are none.
pub(super) fn list(of: &Fabrication<'_>, blanks: &[Blank]) -> Vec<Page> {
    if blanks.is_empty() {
        return Vec::new();
    }
    let room = room(of);
    let table = Table {
        columns: vec![
            Column::of("No.", Length::from_mm(11.0)),
            Column::of("What", Length::from_mm(room.x - 134.0)),
            Column::of_figures("Thickness", Length::from_mm(20.0)),
            Column::of_figures("Legs", Length::from_mm(20.0)),
            Column::of_figures("Blank", Length::from_mm(40.0)),
            Column::of_figures("Area", Length::from_mm(23.0)),
            Column::of_figures("Mass", Length::from_mm(20.0)),
        ],
        rows: blanks.iter().map(|blank| row(of, blank)).collect(),
        size: TYPE,
    };
    let together: Mass = blanks.iter().map(|blank| blank.mass).sum();
    let high = room.y - 24.0;
    let mut pages = Vec::new();
    for (index, piece) in table.pieces(Length::from_mm(high), Length::from_mm(high)).into_iter().enumerate() {
        let title = if index == 0 { "Plates and gussets" } else { "Plates and gussets, continued" };
        let mut page = Page::begun(title, (index == 0).then_some("blanks"));
        let (marks, down) = paragraph(LISTED, dvec2(0.0, 9.0), Style::SMALL, room.x);
        page.marks.extend(marks);
        let height = piece.height.mm();
        page.marks.extend(moved(piece.marks, dvec2(0.0, down + 2.0)));
        pages.push((page, down + height + 4.0));
    }
    if let Some((page, down)) = pages.last_mut() {
        let total = format!("{} pieces, {}.", blanks.len(), weight(of, together));
        page.marks.extend(paragraph(&total, dvec2(0.0, *down), Style::BOLD, room.x).0);
    }
    pages.into_iter().map(|page| page.0).collect()
}

fn row(of: &Fabrication<'_>, blank: &Blank) -> Vec<String> {
    let thickness = blank.thickness.show(of.units);
    vec![
        blank.balloon.to_string(),
        blank.words.clone(),
        if matches!(blank.cut, GussetCut::Tube(..)) { format!("wall {thickness}") } else { thickness },
        blank.leg.map_or_else(|| "–".to_owned(), |leg| leg.show(of.units)),
        extent(of, blank),
        blank.area().map_or_else(|| "–".to_owned(), |area| area.show(of.units)),
        weight(of, blank.mass),
    ]
}

/// A small mass to two places.
fn weight(of: &Fabrication<'_>, mass: Mass) -> String {
    match of.units {
        Units::Inch => format!("{:.2} lb", mass.lb()),
        Units::Metric => format!("{:.2} kg", mass.kg()),
    }
}

/// How large a piece of sheet it takes, or how long a tube.
fn extent(of: &Fabrication<'_>, blank: &Blank) -> String {
    match &blank.cut {
        GussetCut::Sheet(sheet) => {
            let (width, height) = size(sheet);
            format!("{} × {}", width.show(of.units), height.show(of.units))
        }
        GussetCut::Tube(piece, _) => piece.cut_length().by_saw(of.units),
    }
}

fn size(sheet: &SheetBlank) -> (Length, Length) {
    let corners = sheet.outline.corners();
    let low = corners.iter().copied().reduce(glam::DVec2::min).unwrap_or_default();
    let size = corners.iter().copied().reduce(glam::DVec2::max).unwrap_or_default() - low;
    (Length::from_mm(size.x), Length::from_mm(size.y))
}

/// The pages of one blank.
pub(super) fn pages(of: &Fabrication<'_>, blank: &Blank) -> Vec<Page> {
    let title = format!("{}: blank at full size", blank.balloon);
    let place = format!("blank-{}", blank.balloon);
    let words = describe(of, blank);
    match &blank.cut {
        GussetCut::Sheet(_) => {
            let (marks, size) = at_full_size(blank, of.wall);
            full_size(of, &title, &place, SAID, vec![FullSize { words, marks, size }])
        }
        GussetCut::Tube(piece, tube) => {
            let ends = piece.copes.iter().zip(["A", "B"]).zip(&blank.edges);
            let mut over = Some(words);
            let drawings = ends.map(|((cope, letter), onto)| {
                let mut words = over.take().unwrap_or_default();
                words.push(bold(format!("End {letter} {onto}: {:.1}° between the tubes", cope.angle().degrees())));
                words.push(plain(templates::cut(of, cope, tube)));
                templates::drawn(of, cope, tube, words)
            });
            full_size(of, &title, &place, &templates::said(), drawings.collect())
        }
    }
}

fn describe(of: &Fabrication<'_>, blank: &Blank) -> Vec<(Style, String)> {
    let units = of.units;
    let legs = blank.leg.map(|leg| format!("Legs {}. ", leg.show(units))).unwrap_or_default();
    let figures = match &blank.cut {
        GussetCut::Sheet(sheet) => {
            let each: Vec<String> = sheet.holes.iter().map(|hole| hole.diameter.show(units)).collect();
            let holes = match each.split_first() {
                None => String::new(),
                Some((first, others)) if others.iter().all(|other| other == first) => {
                    format!(" Holes: {} of {first}.", each.len())
                }
                Some(_) => format!(" Holes: {}.", each.join(", ")),
            };
            let area = sheet.net().show(units);
            let (thickness, extent) = (blank.thickness.show(units), extent(of, blank));
            format!("Sheet {thickness}. {legs}Blank {extent}, {area} of metal, {}.{holes}", weight(of, blank.mass))
        }
        GussetCut::Tube(piece, tube) => format!(
            "Tube {tube}. {legs}Blank {} from long point to long point; {} from axis to axis; {}.",
            piece.cut_length().by_saw(units),
            piece.between_axes.by_tape_exactly(units),
            weight(of, blank.mass)
        ),
    };
    let mut words = vec![bold(format!("{} {}", blank.balloon, blank.words)), plain(figures)];
    for note in blank.notes(units) {
        words.push(if note.starts_with("LOOK") { bold(note) } else { (Style::SMALL, note) });
    }
    words
}
