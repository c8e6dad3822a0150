//! One block for each joint, gusset and plate: where it is, its photographs, its figures, what changed, what was asked,
//! and a line to answer on.

use glam::dvec2;

use super::Packet;
use super::flow::{Flow, SMALL, TYPE, line, paragraph};
use super::pictures::{Pictured, framed, height, of_part};
use crate::domain::judge::shots;
use crate::domain::judge::verdicts::Verdict;
use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::car::cage::locate;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::signs::sign;
use crate::drawing::{Ink, Mark, Pen, Tag, Weight};
use crate::quantity::{Length, Show as _};

/// The width of the drawing that says where a part is, mm.
const LOCATOR: f64 = 52.0;
/// The width of a photograph beside it, mm.
const PICTURE: f64 = 59.0;

/// Whether a part has a block of its own, which links can lead to.
pub(super) fn has_block(packet: &Packet<'_>, part: Balloon) -> bool {
    let cage = &packet.found.worked.cage;
    match part.kind {
        Kind::Joint => cage.joint(part).is_some(),
        Kind::Gusset => cage.gussets.iter().any(|gusset| gusset.balloon == part),
        Kind::Plate => cage.plates.iter().any(|plate| plate.balloon == part),
        _ => false,
    }
}

/// The pages of joints, gussets, plates, bends and the whole car.
pub(super) fn add(flow: &mut Flow, packet: &Packet<'_>) {
    let cage = &packet.found.worked.cage;
    let joints: Vec<Balloon> = cage.joints.iter().map(|joint| joint.balloon).collect();
    let gussets: Vec<Balloon> = cage.gussets.iter().map(|gusset| gusset.balloon).collect();
    let plates: Vec<Balloon> = cage.plates.iter().map(|plate| plate.balloon).collect();
    for (title, name, parts) in
        [("Joints", "joints", joints), ("Gussets", "gussets", gussets), ("Foot plates", "plates", plates)]
    {
        if parts.is_empty() {
            continue;
        }
        flow.begin(title, Some(name));
        for part in parts {
            block(flow, packet, part);
            flow.space();
        }
    }
    car(flow, packet);
}

/// The photographs of the car as a whole, and of bars.
fn car(flow: &mut Flow, packet: &Packet<'_>) {
    let mut parts: Vec<Balloon> = packet.found.worked.every_shot().map(|shot| shot.of).collect();
    parts.retain(|part| matches!(part.kind, Kind::Car | Kind::Member));
    parts.sort();
    parts.dedup();
    let mut pictured: Vec<Pictured<'_>> = parts.iter().flat_map(|part| of_part(packet, *part)).collect();
    pictured.extend(super::pictures::unasked(packet));
    if pictured.is_empty() {
        return;
    }
    flow.begin("The car and its bends", Some("car"));
    super::pictures::rows(flow, packet, &pictured, 2);
}

fn block(flow: &mut Flow, packet: &Packet<'_>, part: Balloon) {
    let width = flow.width();
    let words = shots::part(&packet.found.worked.cage, packet.facts, part);
    let mut marks = vec![
        Mark::Place { name: part.to_string(), title: format!("{part} {words}"), level: 1 },
        Mark::Tagged {
            tag: Tag::Heading(2),
            marks: vec![
                Mark::words(dvec2(2.0, 6.4), Length::from_mm(5.0), Weight::Bold, part.to_string()),
                line(dvec2(17.0, 6.2), Length::from_mm(3.7), Weight::Bold, &words, width - 19.0),
            ],
        },
    ];
    let facts = figures(packet, part);
    marks.push(line(dvec2(17.0, 10.4), SMALL, Weight::Regular, &facts, width - 19.0));
    marks.push(Mark::Line { from: dvec2(0.0, 12.4), to: dvec2(width, 12.4), pen: Pen::Narrow });
    let mut down = 13.4;
    let frame = (Length::from_mm(LOCATOR), Length::from_mm(height(PICTURE) - 8.0));
    let located = Mark::figure(format!("Where {part} is on the cage."), locate(&packet.found.worked.cage, part, frame));
    marks.push(located.moved(dvec2(1.0, down)));
    let pictured = of_part(packet, part);
    for (index, row) in pictured.chunks(2).enumerate() {
        for (column, pictured) in (0..).zip(row) {
            let at = dvec2(LOCATOR + 3.0 + f64::from(column) * (PICTURE + 2.5), down);
            marks.extend(framed(packet, pictured, at, PICTURE));
        }
        if index + 1 < pictured.len().div_ceil(2) {
            down += height(PICTURE) + 1.0;
        }
    }
    down += height(PICTURE) + 1.0;
    for (more, height) in describe(packet, part, width - 4.0) {
        marks.extend(moved(more, dvec2(2.0, down)));
        down += height;
        marks.push(Mark::Line { from: dvec2(2.0, down), to: dvec2(width - 2.0, down), pen: Pen::Faint });
    }
    marks.extend(moved(reply_line(&part.to_string(), width - 4.0), dvec2(2.0, down)));
    down += 6.4;
    marks.push(Mark::rectangle(dvec2(0.0, 0.0), dvec2(width, down), Some(Pen::Wide), None));
    flow.put(marks, down);
}

/// A part's own figures in a line.
fn figures(packet: &Packet<'_>, part: Balloon) -> String {
    let (cage, units) = (&packet.found.worked.cage, packet.units);
    match part.kind {
        Kind::Joint => cage.joint(part).map(|joint| {
            let bars: Vec<String> = joint.incoming.iter().map(|end| end.0.to_string()).collect();
            let overhead = (joint.overhead * 100.0).round();
            let seam = joint.seam.show(units);
            format!("{} carries {}; seam {seam}, {overhead} % of it looks down", joint.carrier, bars.join(", "))
        }),
        Kind::Gusset => cage.gusset(part).map(|gusset| {
            let hole = gusset.hole.map(|hole| format!(", hole {}", hole.show(units))).unwrap_or_default();
            let (leg, sheet) = (gusset.leg.show(units), gusset.thickness.show(units));
            format!("between {} and {}; leg {leg}, sheet {sheet}{hole}", gusset.between.0, gusset.between.1)
        }),
        Kind::Plate => cage.plate(part).map(|plate| {
            let (one, other) = (plate.sides.0.value.show(units), plate.sides.1.value.show(units));
            let (area, thick) = (plate.area.show(units), plate.thickness.value.show(units));
            format!("{one} by {other}, {area}, {thick} thick, under {}", plate.under)
        }),
        _ => None,
    }
    .unwrap_or_default()
}

/// The verdicts of a part, what changed of it, what was asked about it: each a line with its height.
fn describe(packet: &Packet<'_>, part: Balloon, width: f64) -> Vec<(Vec<Mark>, f64)> {
    let mut lines: Vec<(Vec<Mark>, f64)> =
        packet.found.worked.verdicts_of(part).map(|verdict| judged(packet, verdict, width)).collect();
    for change in packet.changes.iter().filter(|change| change.at == part) {
        lines.push(labelled("changed", &format!("since the round before: {}", change.what), width));
    }
    for question in packet.facts.questions.iter().filter(|question| question.about == Some(part)) {
        let answers: Vec<String> = question.answers.iter().map(|answer| format!("Answer: {}", answer.text)).collect();
        let state = if question.settled.is_some() { "settled" } else { "open" };
        let words = format!("Q{}, {state}: “{}” {}", question.number, question.text, answers.join(" "));
        lines.push(labelled("asked", &words, width));
    }
    lines
}

fn judged(packet: &Packet<'_>, verdict: &Verdict, width: f64) -> (Vec<Mark>, f64) {
    let mut marks = sign(verdict.word, dvec2(0.0, 1.0), 2.8);
    marks.push(line(dvec2(4.4, 3.6), TYPE, Weight::Regular, &verdict.describe(packet.units), 40.0));
    let figure = verdict.describe_figure(packet.units);
    let limit = verdict.limit.as_ref().map(|limit| limit.text.as_str()).unwrap_or_default();
    let what = verdict.measure.map_or(verdict.words.as_str(), |measure| measure.word());
    let words = format!("{} ({}) {figure} {limit}", what.trim_end_matches('.'), verdict.clause);
    let (words, height) = paragraph(words.trim(), SMALL, Weight::Regular, Ink::Black, width - 46.0);
    marks.extend(moved(words, dvec2(46.0, 0.9)));
    (marks, height.max(3.6) + 1.8)
}

fn labelled(label: &str, words: &str, width: f64) -> (Vec<Mark>, f64) {
    let (words, height) = paragraph(words, SMALL, Weight::Regular, Ink::Black, width - 46.0);
    let mut marks = vec![Mark::words(dvec2(0.0, 3.6), TYPE, Weight::Bold, label)];
    marks.extend(moved(words, dvec2(46.0, 0.9)));
    (marks, height.max(3.6) + 1.8)
}

/// Boxes to tick and a line to write on.
pub(super) fn reply_line(label: &str, width: f64) -> Vec<Mark> {
    let mut marks = vec![Mark::words(dvec2(0.0, 4.4), SMALL, Weight::Bold, format!("Reply to {label}"))];
    let mut x = 30.0;
    for word in ["accepted", "change asked", "question"] {
        marks.push(Mark::rectangle(dvec2(x, 1.8), dvec2(2.8, 2.8), Some(Pen::Narrow), None));
        marks.push(Mark::words(dvec2(x + 4.0, 4.3), SMALL, Weight::Regular, word));
        x += 24.0;
    }
    marks.push(Mark::Line { from: dvec2(x, 4.8), to: dvec2(width, 4.8), pen: Pen::Faint });
    marks
}
