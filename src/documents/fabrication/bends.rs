//! The bend sheet of one bar: the blank with its marks, the bends in order, the finished part's check dimensions.

use glam::{DVec2, dvec2};

use super::{Fabrication, Page, SMALL, Style, TYPE, paragraph, room};
use crate::domain::cautions;
use crate::domain::fabrication::BarSheet;
use crate::drawing::cage::locate;
use crate::drawing::part::alone;
use crate::drawing::sheet::moved;
use crate::drawing::table::{Column, Table};
use crate::drawing::{Anchor, Ink, Mark, Pen, Weight};
use crate::quantity::{Length, Show as _};

const SAID: &str = "Mark all bends from the same cut end, the one marked A: the long point of the cope. Turn: the tube about its own \
axis before this bend, plus is clockwise seen from end A looking along the tube. Angle: the deflection of the finished part; 0 is \
straight on.";
const NO_TEST: &str =
    "No die with a test bend fits this tube and radius: springback and the die's mark offset are not in these figures.";

const SHAPE: &str = "Straights run from bend to bend, the first and last from the node; figures at bends are the number, the \
deflection and the centre-line radius. Thin lines are the checks: node to node, and from each node to the far bend's corner. Take no \
length off the drawing.";

/// The pages of one bent bar: its bends, and the part they make.
pub(super) fn pages(of: &Fabrication<'_>, bar: &BarSheet<'_>) -> [Page; 2] {
    [marked(of, bar), finished(of, bar)]
}

/// The bar alone with its dimensions.
fn finished(of: &Fabrication<'_>, bar: &BarSheet<'_>) -> Page {
    let room = room(of);
    let title = format!("{} {}: the bent part", bar.member.balloon, bar.member.role.word());
    let mut page = Page::begun(title, None);
    let (marks, down) = paragraph(SHAPE, dvec2(0.0, 9.0), Style::SMALL, room.x);
    page.marks.extend(marks);
    let frame = (Length::from_mm(room.x), Length::from_mm(room.y - down - 2.0));
    page.marks.extend(moved(alone(bar, frame, of.units), dvec2(0.0, down + 2.0)));
    page
}

/// The blank with its marks and the bends in order.
fn marked(of: &Fabrication<'_>, bar: &BarSheet<'_>) -> Page {
    let member = bar.member;
    let room = room(of);
    let title = format!("{} {}: bends", member.balloon, member.role.word());
    let mut page = Page::begun(title, Some(&format!("bends-{}", member.balloon)));
    let told = format!(
        "Tube {}. Blank {}. {} bends.",
        member.tube_told(),
        member.cut_length.by_tape_exactly(of.units),
        bar.bends.len()
    );
    let (marks, down) = paragraph(&told, dvec2(0.0, 9.0), Style::BOLD, room.x);
    page.marks.extend(marks);
    let by = match bar.bends.first().and_then(|bend| bend.set) {
        Some((_, springback)) => {
            let die = bar.die.as_deref().unwrap_or_default();
            format!("Set: over the die “{die}”, {}; its mark's offset is in the marks.", springback.word())
        }
        None => NO_TEST.to_owned(),
    };
    let said = format!("{SAID} {by} {}", cautions::BENDER);
    let (marks, down) = paragraph(&said, dvec2(0.0, down + 1.0), Style::SMALL, room.x);
    page.marks.extend(marks);
    page.marks.extend(blank(of, bar, dvec2(0.0, down + 6.0), room.x));
    let down = down + 34.0;
    let table = Table {
        columns: vec![
            Column::of("Bend", Length::from_mm(14.0)),
            Column::of_figures("Mark from A", Length::from_mm(44.0)),
            Column::of_figures("Turn", Length::from_mm(24.0)),
            Column::of_figures("Angle", Length::from_mm(22.0)),
            Column::of_figures("Set", Length::from_mm(22.0)),
            Column::of_figures("Radius", Length::from_mm(24.0)),
            Column::of_figures("Arc", Length::from_mm(room.x - 150.0)),
        ],
        rows: rows(of, bar),
        size: TYPE,
    };
    let mut down = down;
    for piece in table.pieces(Length::from_mm(90.0), Length::from_mm(90.0)).into_iter().take(1) {
        page.marks.extend(moved(piece.marks, dvec2(0.0, down)));
        down += piece.height.mm() + 5.0;
    }
    page.marks.push(Mark::words(dvec2(0.0, down + 3.0), TYPE, Weight::Bold, "Check the finished part"));
    down += 6.0;
    for check in &bar.checks {
        let words = format!("{}: {}", check.what, check.length.by_tape_exactly(of.units));
        page.marks.push(Mark::words(dvec2(0.0, down + 3.4), TYPE, Weight::Regular, words));
        down += 5.0;
    }
    let left = room.y - down - 4.0;
    if left > 40.0 {
        let frame = (Length::from_mm(room.x.min(left * 1.5)), Length::from_mm(left));
        page.marks.extend(moved(locate(of.cage, member.balloon, frame), dvec2(0.0, down + 3.0)));
    }
    page
}

fn rows(of: &Fabrication<'_>, bar: &BarSheet<'_>) -> Vec<Vec<String>> {
    let row = |(number, bend): (usize, &crate::domain::fabrication::BendStep)| {
        vec![
            number.to_string(),
            bend.mark.by_tape_exactly(of.units),
            if number == 1 { "–".to_owned() } else { bend.rotation.to_the_tenth() },
            bend.angle.to_the_tenth(),
            bend.set.map_or_else(|| "not known".to_owned(), |set| set.0.to_the_tenth()),
            bend.radius.show(of.units),
            bend.arc.by_tape_exactly(of.units),
        ]
    };
    (1..).zip(&bar.bends).map(row).collect()
}

/// The blank as a straight tube, not to scale across, its bends as areas with their marks.
fn blank(of: &Fabrication<'_>, bar: &BarSheet<'_>, at: DVec2, width: f64) -> Vec<Mark> {
    let length = bar.member.cut_length.mm().max(1.0);
    let scale = (width - 12.0) / length;
    let (left, high) = (at.x + 6.0, 6.0);
    let x = |along: Length| left + along.mm() * scale;
    let mut marks = vec![Mark::rectangle(dvec2(left, at.y), dvec2(length * scale, high), Some(Pen::Wide), None)];
    marks.push(Mark::words(dvec2(at.x, at.y + 4.4), TYPE, Weight::Bold, "A"));
    for (number, bend) in (1..).zip(&bar.bends) {
        let (from, to) = (x(bend.mark), x(bend.mark + bend.arc));
        marks.push(Mark::rectangle(dvec2(from, at.y), dvec2(to - from, high), Some(Pen::Narrow), Some(Ink::Grey)));
        marks.push(Mark::Line { from: dvec2(from, at.y - 2.0), to: dvec2(from, at.y + high + 3.0), pen: Pen::Narrow });
        let above = dvec2(f64::midpoint(from, to), at.y - 3.0);
        marks.push(middle(above, TYPE, &number.to_string()));
        // Figures of near bends stand on two lines, so that they do not run into each other.
        let line = if number % 2 == 0 { 9.6 } else { 5.6 };
        marks.push(middle(dvec2(from, at.y + high + line), SMALL, &bend.mark.by_tape_exactly(of.units)));
    }
    marks
}

fn middle(at: DVec2, size: Length, words: &str) -> Mark {
    Mark::Text { at, size, words: words.to_owned(), weight: Weight::Regular, anchor: Anchor::Middle, ink: Ink::Black }
}
