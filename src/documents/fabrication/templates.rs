//! Cope templates at full size: printed, cut out, wrapped round the tube.

use glam::{DVec2, dvec2};

use super::{Fabrication, Page, SMALL, Style, TYPE, paragraph, room};
use crate::domain::cage::End;
use crate::domain::fabrication::{BarSheet, EndCut};
use crate::drawing::{Anchor, Ink, Mark, Pen, Weight};
use crate::quantity::{Angle, Length, Show as _, Units};

const SAID: &str = "Print at full size: the lines below must measure what they say, else print again without any scaling. Wrap round the \
outside of the tube, straight edge square across it, the point LONG on the mark of the blank's end; cut along the curve. Wear gloves: \
coped edges are razors.";
/// Even steps round the tube: every two degrees.
const STEPS: usize = 180;
/// The straight edge stands this far behind the deepest cut, mm.
const BEHIND: f64 = 14.0;
/// What the words of one template take, mm.
const WORDS: f64 = 21.0;

/// The template pages of one bar: both ends on one sheet where they fit.
pub(super) fn pages(of: &Fabrication<'_>, bar: &BarSheet<'_>) -> Vec<Page> {
    let mut pages = Vec::new();
    let mut open: Option<(Page, f64)> = None;
    let room = room(of);
    for (letter, end) in ["A", "B"].into_iter().zip(&bar.ends) {
        let Some(end) = end else { continue };
        let height = WORDS + deep(end).mm() + BEHIND + 6.0;
        let (mut page, mut down) = match open.take() {
            Some((page, down)) if down + height <= room.y => (page, down),
            Some((page, _)) => {
                pages.push(page);
                begun(of, bar, None)
            }
            None => begun(of, bar, Some(&format!("copes-{}", bar.member.balloon))),
        };
        page.marks.extend(template(of, bar, end, letter, dvec2(0.0, down)));
        down += height;
        open = Some((page, down));
    }
    pages.extend(open.map(|open| open.0));
    pages
}

/// How far the cut reaches along the tube.
fn deep(end: &EndCut) -> Length {
    end.cope.short_point() - end.cope.long_point()
}

fn begun(of: &Fabrication<'_>, bar: &BarSheet<'_>, place: Option<&str>) -> (Page, f64) {
    let member = bar.member;
    let title = format!("{} {}: copes at full size", member.balloon, member.role.word());
    let mut page = Page::begun(title, place);
    let width = room(of).x;
    let (marks, down) = paragraph(SAID, dvec2(0.0, 8.0), Style::SMALL, width);
    page.marks.extend(marks);
    page.marks.extend(ruler(dvec2(0.0, down + 5.0), Length::from_mm(100.0), "100 mm"));
    page.marks.extend(ruler(dvec2(0.0, down + 11.0), Length::from_inches(4.0), "4 in"));
    (page, down + 15.0)
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

fn template(of: &Fabrication<'_>, bar: &BarSheet<'_>, end: &EndCut, letter: &str, at: DVec2) -> Vec<Mark> {
    let width = room(of).x;
    let mut marks = Vec::new();
    for (line, words) in (0..).zip(figures(of, bar, end, letter)) {
        let weight = if line == 0 { Weight::Bold } else { Weight::Regular };
        marks.push(Mark::words(at + dvec2(0.0, 4.0 + f64::from(line) * 4.4), TYPE, weight, words));
    }
    let around = bar.member.tube.outside.mm() * std::f64::consts::PI;
    let top = at.y + WORDS;
    let bottom = top + deep(end).mm() + BEHIND;
    if around > width || bottom > room(of).y {
        let words =
            "This template is larger than the sheet. Cut it by saw angle and offset, or print it on larger paper.";
        marks.extend(paragraph(words, dvec2(0.0, top), Style::BOLD, width).0);
        return marks;
    }
    let outline = end.cope.outline(STEPS);
    let mut points: Vec<DVec2> = outline.iter().map(|(x, y)| dvec2(at.x + x.mm(), top + y.mm())).collect();
    points.extend([dvec2(at.x + around, bottom), dvec2(at.x, bottom)]);
    marks.push(Mark::Path { points, closed: true, pen: Some(Pen::Wide), fill: None });
    // Lines round the tube to align by: the four quarters from line 0, and the long point.
    for quarter in 0..4_u32 {
        let x = at.x + around * f64::from(quarter) / 4.0;
        let phi = Angle::from_degrees(f64::from(quarter) * 90.0);
        let y = top + (end.cope.cut_at(phi) - end.cope.long_point()).mm();
        marks.push(Mark::Line { from: dvec2(x, y), to: dvec2(x, bottom), pen: Pen::CentreChain });
        let words = format!("{}°", quarter * 90);
        marks.push(Mark::words(dvec2(x + 1.2, bottom - 1.4), SMALL, Weight::Regular, words));
    }
    let long = at.x + around * end.cope.long_point_at().degrees() / 360.0;
    marks.push(Mark::Line { from: dvec2(long, top - 3.0), to: dvec2(long, top), pen: Pen::Wide });
    let (size, anchor) = (SMALL, Anchor::Middle);
    marks.push(Mark::Text {
        at: dvec2(long.clamp(at.x + 6.0, at.x + around - 6.0), top - 3.8),
        size,
        words: "LONG".to_owned(),
        weight: Weight::Bold,
        anchor,
        ink: Ink::Black,
    });
    marks
}

/// What end, cut to what, at which angle, and how line 0 is turned.
fn figures(of: &Fabrication<'_>, bar: &BarSheet<'_>, end: &EndCut, letter: &str) -> Vec<String> {
    let units = of.units;
    let angle = end.cope.angle();
    let tilt = 90.0 - angle.degrees();
    let offset = match end.end {
        End::Onto { offset, .. } if offset.abs() > Length::from_mm(0.05) => {
            format!(", offset {}", offset.by_tape_exactly(units))
        }
        _ => String::new(),
    };
    let saw = end.hole_saw.map_or_else(
        || format!("flat cut, tilted {tilt:.1}° from square"),
        |saw| format!("hole saw {}, tilted {tilt:.1}° from square{offset}", saw.show(units)),
    );
    let depth = deep(end).by_tape_exactly(units);
    let reach = end.cope.long_point().by_tape_exactly(units);
    let clock = match (end.clocking, bar.bends.is_empty()) {
        (None, _) => "Line 0° is where you scribe it: carry it along the tube to the other end.".to_owned(),
        (Some(turned), true) => format!("Line 0° is turned {} from line 0° of end A.", turn(turned)),
        (Some(turned), false) => format!("Line 0° is turned {} from the inside of the bend next to it.", turn(turned)),
    };
    let wrap = match units {
        Units::Inch => format!("{:.3} in round the tube", bar.member.tube.outside.inches() * std::f64::consts::PI),
        Units::Metric => format!("{:.1} mm round the tube", bar.member.tube.outside.mm() * std::f64::consts::PI),
    };
    vec![
        format!("End {letter} to {}: {:.1}° between the tubes; {saw}", end.onto, angle.degrees()),
        format!("The cut is {depth} deep; its long point is {reach} from the node. {wrap}."),
        clock,
    ]
}

/// A turn seen from end A looking along the tube.
fn turn(angle: Angle) -> String {
    let degrees = angle.degrees();
    let way = if degrees < 0.0 { "anticlockwise" } else { "clockwise" };
    format!("{:.1}° {way}, seen from end A along the tube,", degrees.abs())
}
