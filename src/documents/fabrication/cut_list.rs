//! The cut list: every bar's blank, size and mass.

use glam::dvec2;

use super::{Fabrication, Page, Style, TYPE, paragraph, room};
use crate::domain::cage::solve::fitting::ORDER_OF_FITTING;
use crate::domain::work::fabrication::BarSheet;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::table::{Column, Table};
use crate::quantity::{Length, Show as _};

const SAID: &str = "The blank reaches from the long point of one cope to the long point of the other, round the bends; no \
allowance is added. The saw's kerf comes on top. Centre line is from node to node.";

/// The cut list's pages.
pub(super) fn pages(of: &Fabrication<'_>, bars: &[BarSheet<'_>]) -> Vec<Page> {
    let room = room(of);
    let rest = room.x - 132.0;
    let table = Table {
        columns: vec![
            Column::of("No.", Length::from_mm(12.0)),
            Column::of("Bar", Length::from_mm(rest)),
            Column::of("Tube", Length::from_mm(25.0)),
            Column::of_figures("Blank", Length::from_mm(38.0)),
            Column::of_figures("Centre line", Length::from_mm(28.0)),
            Column::of_figures("Bends", Length::from_mm(12.0)),
            Column::of_figures("Mass", Length::from_mm(17.0)),
        ],
        rows: bars.iter().map(|bar| row(of, bar)).collect(),
        size: TYPE,
    };
    let pieces = table.pieces(Length::from_mm(room.y - 30.0), Length::from_mm(room.y - 14.0));
    let mut pages = Vec::new();
    for (index, piece) in pieces.into_iter().enumerate() {
        let title = if index == 0 { "Cut list" } else { "Cut list, continued" };
        let mut page = Page::begun(title, (index == 0).then_some("cut-list"));
        let mut down = 11.0;
        if index == 0 {
            let (marks, reached) = paragraph(SAID, dvec2(0.0, 9.0), Style::SMALL, room.x);
            page.marks.extend(marks);
            down = reached + 2.0;
        }
        let height = piece.height.mm();
        page.marks.extend(moved(piece.marks, dvec2(0.0, down)));
        pages.push((page, down + height));
    }
    if let Some((page, down)) = pages.last_mut() {
        let total = format!(
            "{} bars, {} of tube along the centre lines, {}.",
            bars.len(),
            of.cage.tube_length().by_tape(of.units),
            of.cage.tube_mass().show(of.units)
        );
        let (marks, reached) = paragraph(&total, dvec2(0.0, *down + 2.0), Style::BOLD, room.x);
        page.marks.extend(marks);
        *down = reached;
    }
    let order: Vec<String> = of.cage.order.iter().map(ToString::to_string).collect();
    let description = format!("{ORDER_OF_FITTING} The order of this cage: {}.", order.join(", "));
    let under = |down: f64| paragraph(&description, dvec2(0.0, down), Style::SMALL, room.x);
    match pages.last_mut() {
        Some((page, down)) if under(*down + 1.0).1 <= room.y => page.marks.extend(under(*down + 1.0).0),
        _ if order.is_empty() => {}
        _ => {
            let mut page = Page::begun("Order of fitting", None);
            page.marks.extend(under(9.0).0);
            pages.push((page, 0.0));
        }
    }
    pages.into_iter().map(|page| page.0).collect()
}

fn row(of: &Fabrication<'_>, bar: &BarSheet<'_>) -> Vec<String> {
    let member = bar.member;
    vec![
        member.balloon.to_string(),
        member.role.word().to_owned(),
        member.describe_tube(),
        member.cut_length.by_saw(of.units),
        member.developed.show(of.units),
        if bar.bends.is_empty() { "–".to_owned() } else { bar.bends.len().to_string() },
        member.mass.show(of.units),
    ]
}
