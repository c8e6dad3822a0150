//! The bend sheet of one bar: the blank with its marks, the bends in order, the finished part's check dimensions.

use glam::{DVec2, dvec2};

use super::{Fabrication, Page, SMALL, Style, TYPE, paragraph, room};
use crate::domain::words::cautions;
use crate::domain::work::fabrication::BarSheet;
use crate::drawing::bender;
use crate::drawing::car::cage::locate;
use crate::drawing::car::part::alone;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::table::{Column, Table};
use crate::drawing::{Anchor, Ink, Mark, Pen, Weight};
use crate::quantity::{Length, Show as _};

const SAID: &str = "End A goes through the die first and is swung round it; the rest toward B stays straight. Mark all bends from the \
cut end A: the long point of its cope. Scribe a line along the top of the tube before bend 1. Angle: the deflection of the finished \
part; 0 is straight on.";

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
    let description = format!(
        "Tube {}. Blank {}. {} bends.",
        member.describe_tube(),
        member.cut_length.by_saw(of.units),
        bar.bends.len()
    );
    let (marks, down) = paragraph(&description, dvec2(0.0, 9.0), Style::BOLD, room.x);
    page.marks.extend(marks);
    let (marks, mut down) =
        paragraph(&format!("{SAID}{}", begins(of, bar)), dvec2(0.0, down + 1.0), Style::SMALL, room.x);
    page.marks.extend(marks);
    let looks = bar.near.iter().map(|near| format!("LOOK: {}", near.describe(of.units)));
    let description = bar.describe_making(of.units).into_iter().map(|words| (words, Style::SMALL));
    for (words, style) in description.chain(looks.map(|words| (words, Style::BOLD))) {
        let (marks, reached) = paragraph(&words, dvec2(0.0, down + 0.6), style, room.x);
        page.marks.extend(marks);
        down = reached;
    }
    let (marks, mut down) = paragraph(cautions::BENDER, dvec2(0.0, down + 0.6), Style::SMALL, room.x);
    page.marks.extend(marks);
    page.marks.extend(blank(of, bar, dvec2(0.0, down + 6.0), room.x));
    down += 22.0;
    let table = Table { columns: columns(room.x), rows: rows(of, bar), size: TYPE };
    for piece in table.pieces(Length::from_mm(90.0), Length::from_mm(90.0)).into_iter().take(1) {
        page.marks.extend(moved(piece.marks, dvec2(0.0, down)));
        down += piece.height.mm() + 3.0;
    }
    let (width, height) = (bender::SIZE.0.mm(), bender::SIZE.1.mm());
    page.marks.extend(moved(bender::drawn(bar.bender), dvec2(0.0, down)));
    let at = dvec2(width + 4.0, down);
    let (marks, reached) = paragraph(&turning(bar), at, Style::SMALL, room.x - at.x);
    page.marks.extend(marks);
    let (marks, reached) = checks(of, bar, dvec2(at.x, reached), room.x - at.x);
    page.marks.extend(marks);
    down = (down + height).max(reached);
    let left = room.y - down - 4.0;
    if left > 40.0 {
        let frame = (Length::from_mm(room.x.min(left * 1.5)), Length::from_mm(left));
        page.marks.extend(moved(locate(of.cage, member.balloon, frame), dvec2(0.0, down + 3.0)));
    }
    page
}

/// How the tube is turned before a bend, as its bender counts.
fn turning(bar: &BarSheet<'_>) -> String {
    let side = if bar.bender.plus_goes_with_the_swing() { "to" } else { "away from" };
    format!(
        "Turn: the whole tube about its own axis, from where it lay for the bend before; plus is {}, seen from end A along the tube: \
its upper side goes {side} the side it is swung to. Line: where the scribed line then stands, counted from the top the same way.",
        bar.bender.plus.word()
    )
}

/// Where the marks begin on a piece that is cut longer for the bender's hold.
fn begins(of: &Fabrication<'_>, bar: &BarSheet<'_>) -> String {
    let [before, _] = of.cuts.saw.more(bar.member);
    if before <= Length::default() {
        return String::new();
    }
    format!(
        " The piece is cut {} longer at end A (cut plan): measure the marks from so far inside its end.",
        before.by_tape_exactly(of.units)
    )
}

/// What the finished part is checked by, and how far down it reaches, mm.
fn checks(of: &Fabrication<'_>, bar: &BarSheet<'_>, at: DVec2, width: f64) -> (Vec<Mark>, f64) {
    let mut marks = vec![Mark::words(at + dvec2(0.0, 4.0), TYPE, Weight::Bold, "Check the finished part")];
    let mut down = at.y + 6.5;
    for check in &bar.checks {
        let words = format!("{}: {}", check.what, check.length.by_tape_exactly(of.units));
        let (lines, reached) =
            paragraph(&words, dvec2(at.x, down), Style { weight: Weight::Regular, ..Style::BOLD }, width);
        marks.extend(lines);
        down = reached + 1.2;
    }
    (marks, down)
}

fn columns(width: f64) -> Vec<Column> {
    let widths = [42.0, 17.0, 17.0, 16.0, 20.0, 20.0];
    let heads = ["Mark from A", "Turn", "Line", "Angle", "Set", "Radius"];
    let number = 11.0;
    let rest = width - number - widths.iter().sum::<f64>();
    let mut columns = vec![Column::of("Bend", Length::from_mm(number))];
    columns.extend(heads.iter().zip(widths).map(|(head, width)| Column::of_figures(head, Length::from_mm(width))));
    columns.push(Column::of_figures("Arc", Length::from_mm(rest)));
    columns
}

fn rows(of: &Fabrication<'_>, bar: &BarSheet<'_>) -> Vec<Vec<String>> {
    let row = |(number, bend): (usize, &crate::domain::work::fabrication::BendStep)| {
        vec![
            number.to_string(),
            bend.mark.by_tape_exactly(of.units),
            if number == 1 { "–".to_owned() } else { bend.turn.to_the_tenth_signed() },
            if number == 1 { "0.0°".to_owned() } else { bend.scribed.to_the_tenth_signed() },
            bend.angle.to_the_tenth(),
            bend.made.setting().map_or_else(|| "not known".to_owned(), |set| set.angle.to_the_tenth()),
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
