//! The joints, two a sheet: two photographs of each as large as they fit, where it is, its figures, its verdicts each with a
//! gauge, what changed, what was asked, and a line to answer on.

use std::collections::BTreeSet;

use glam::dvec2;

use super::Packet;
use super::flow::{Flow, HEADING, SMALL, SUBHEADING, TYPE, ends_at, line, soft};
use super::parts::{Judged, describe, reply_line};
use super::pictures::{LARGE, first_of_each, framed, rows};
use crate::domain::cage::Joint;
use crate::domain::judge::shots;
use crate::drawing::car::cage::locate;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::text::width as width_of;
use crate::drawing::{Ink, Mark, Pen, Tag, Weight};
use crate::quantity::{Length, Show as _};

/// Width and height of the drawing that says where a joint is, mm.
const LOCATOR: (f64, f64) = (36.0, 24.0);
/// From one joint to the next, mm.
const GAP: f64 = 1.6;
/// The least width of a joint's photographs, where two joints with more to say share a sheet, mm.
const LEAST: f64 = 85.0;

/// The joints' sheets, and behind them their other photographs.
pub(super) fn add(flow: &mut Flow, packet: &Packet<'_>) {
    let width = flow.width();
    let mut left = packet.found.worked.cage.joints.as_slice();
    let mut place = Some("joints");
    let mut others = Vec::new();
    while let Some((first, rest)) = left.split_first() {
        let alone = block(packet, first, LARGE, width);
        let pair = rest.first().and_then(|second| {
            [LARGE, LEAST].into_iter().find_map(|picture| {
                let pair = [first, second].map(|joint| block(packet, joint, picture, width));
                let height: f64 = pair.iter().map(|block| block.1).sum();
                (height + GAP <= flow.whole()).then_some((second, pair))
            })
        });
        let (blocks, title) = match pair {
            Some((second, pair)) => {
                (pair.into_iter().collect(), format!("Joints {} and {}", first.balloon, second.balloon))
            }
            None => (vec![alone], format!("Joint {}", first.balloon)),
        };
        left = left.get(blocks.len()..).unwrap_or_default();
        flow.begin_bare(&title, place.take());
        for (marks, height) in blocks {
            flow.put(marks, height);
            flow.skip(GAP);
        }
    }
    for joint in &packet.found.worked.cage.joints {
        let (_, rest) = first_of_each(packet, joint.balloon, 2);
        others.extend(rest.into_iter().map(|pictured| pictured.of(joint.balloon)));
    }
    if !others.is_empty() {
        flow.chapter("More photographs of joints", "more-joints");
        rows(flow, packet, &others, LARGE);
    }
}

/// A joint with its pictures this wide, mm.
fn block(packet: &Packet<'_>, joint: &Joint, picture: f64, width: f64) -> (Vec<Mark>, f64) {
    let part = joint.balloon;
    let (pictured, rest) = first_of_each(packet, part, 2);
    let more = rest.len();
    let mut marks = head(packet, joint, width);
    let mut down = 8.6;
    let margin = (width - 2.0 * picture - 1.5) / 2.0;
    let mut tall = 0.0_f64;
    for (column, pictured) in (0..).zip(&pictured) {
        let at = dvec2(margin + f64::from(column) * (picture + 1.5), down);
        let (drawn, high) = framed(packet, pictured, at, picture);
        marks.extend(drawn);
        tall = tall.max(high);
    }
    down += tall + 0.6;
    let frame = (Length::from_mm(LOCATOR.0), Length::from_mm(LOCATOR.1));
    let located = Mark::figure(format!("Where {part} is on the cage."), locate(&packet.found.worked.cage, part, frame));
    marks.push(located.moved(dvec2(2.0, down)));
    let left = LOCATOR.0 + 6.0;
    marks.extend(moved(figures(packet, joint), dvec2(left, down)));
    let mut reached = down + 8.6;
    for (lines, height) in describe(packet, part, width - left - 2.5, Judged::Row) {
        marks.extend(moved(lines, dvec2(left, reached)));
        reached += height;
    }
    if more > 0 {
        let words = format!("{more} more of its photographs: behind the joints");
        marks.push(Mark::words(dvec2(left, reached + 3.4), SMALL, Weight::Regular, words));
        reached += 4.4;
    }
    down = reached.max(down + LOCATOR.1) + 0.4;
    marks.push(Mark::Line { from: dvec2(2.0, down), to: dvec2(width - 2.0, down), pen: Pen::Narrow });
    marks.extend(moved(reply_line("", width - 4.0), dvec2(2.0, down + 0.2)));
    down += 6.6;
    marks.push(Mark::rectangle(dvec2(0.0, 0.0), dvec2(width, down), Some(Pen::Wide), None));
    (marks, down)
}

/// The joint's number, its name, and which bar carries which.
fn head(packet: &Packet<'_>, joint: &Joint, width: f64) -> Vec<Mark> {
    let part = joint.balloon;
    let words = shots::part(&packet.found.worked.cage, packet.facts, part);
    let bars: Vec<String> = joint.incoming.iter().map(|end| end.0.to_string()).collect();
    let carries = format!("{} carries {}", joint.carrier, bars.join(", "));
    let taken = width_of(&carries, TYPE, Weight::Regular).mm() + 8.0;
    let left = width_of(&part.to_string(), HEADING, Weight::Bold).mm() + 6.0;
    vec![
        Mark::Place { name: part.to_string(), title: format!("{part} {words}"), level: 1 },
        Mark::Tagged {
            tag: Tag::Heading(2),
            marks: vec![
                Mark::words(dvec2(2.5, 6.8), HEADING, Weight::Bold, part.to_string()),
                line(dvec2(left, 6.8), SUBHEADING, Weight::Bold, &words, width - left - taken),
            ],
        },
        Mark::Tagged {
            tag: Tag::Paragraph,
            marks: vec![ends_at(dvec2(width - 2.5, 6.8), TYPE, Weight::Regular, &carries, Ink::Grey)],
        },
    ]
}

/// The angle, the seam, how much of it looks down, and the tubes that meet, each under its label.
fn figures(packet: &Packet<'_>, joint: &Joint) -> Vec<Mark> {
    let cage = &packet.found.worked.cage;
    let bars = joint.incoming.iter().map(|end| end.0).chain([joint.carrier]);
    let tubes: BTreeSet<String> =
        bars.filter_map(|bar| cage.member(bar)).map(|member| member.tube.to_string()).collect();
    // of each bar that ends here, to the bar that runs through
    let angles: Vec<String> = joint
        .incoming
        .iter()
        .filter_map(|(bar, end)| {
            let cope = cage.member(*bar)?.copes.get(*end)?.as_ref()?;
            Some(cope.angle().show(packet.units))
        })
        .collect();
    let angles = if angles.len() == joint.incoming.len() { angles.join(" and ") } else { "not known".to_owned() };
    let figures = [
        ("Angle", angles),
        ("Seam", joint.seam.by_tape(packet.units)),
        ("Looks down", format!("{:.0} % of it", joint.overhead * 100.0)),
        ("Tube", tubes.into_iter().collect::<Vec<_>>().join(" and ")),
    ];
    let mut marks = Vec::new();
    let mut x = 0.0;
    for (label, figure) in figures {
        let read = vec![
            soft(dvec2(x, 2.7), SMALL, label),
            Mark::words(dvec2(x, 7.2), SUBHEADING, Weight::Bold, figure.clone()),
        ];
        marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: read });
        x += width_of(&figure, SUBHEADING, Weight::Bold).mm().max(18.0) + 7.0;
    }
    marks
}
