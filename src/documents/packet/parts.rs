//! Gussets and foot plates, several a sheet: where each is, its photographs, its figures, its verdicts, what changed, what
//! was asked, and a line to answer on; and the photographs of the car.

use glam::{DVec2, dvec2};

use super::Packet;
use super::flow::{Flow, LABEL, SMALL, TYPE, paragraph};
use super::pictures::{Pictured, SMALL_PICTURE, first_of_each, framed, of_part, rows};
use crate::domain::judge::shots;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::wording::capital;
use crate::drawing::car::cage::locate;
use crate::drawing::gauge::gauge;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::signs::sign;
use crate::drawing::{Anchor, Ink, Mark, Pen, Tag, Weight};
use crate::quantity::{Length, Show as _};

/// Width and height of the drawing that says where a small part is, mm.
const LOCATOR: (f64, f64) = (28.0, 19.0);
/// Where a verdict's columns begin, mm: clause, what is judged, figure's end, gauge, limit.
const COLUMNS: [f64; 5] = [29.0, 40.0, 84.0, 86.0, 109.0];

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

/// The pages of gussets and plates, of what else was photographed of them, and of the whole car.
pub(super) fn add(flow: &mut Flow, packet: &Packet<'_>) {
    let cage = &packet.found.worked.cage;
    let gussets: Vec<Balloon> = cage.gussets.iter().map(|gusset| gusset.balloon).collect();
    let plates: Vec<Balloon> = cage.plates.iter().map(|plate| plate.balloon).collect();
    let mut others = Vec::new();
    for (title, name, parts) in [("Gussets", "gussets", gussets), ("Foot plates", "plates", plates)] {
        let mut begun = false;
        for part in parts {
            let (first, rest) = first_of_each(packet, part, 2);
            let (marks, height) = block(packet, part, &first, flow.width());
            let named = (!std::mem::replace(&mut begun, true)).then_some(name);
            flow.block(title, named, marks, height);
            flow.skip(1.0);
            others.extend(rest.into_iter().map(|pictured| pictured.of(part)));
        }
    }
    car(flow, packet, others);
}

/// The other photographs of small parts, those of the car as a whole and of bars, and those that nobody asked for.
fn car<'a>(flow: &mut Flow, packet: &Packet<'a>, others: Vec<Pictured<'a>>) {
    let mut parts: Vec<Balloon> = packet.found.worked.every_shot().map(|shot| shot.of).collect();
    parts.retain(|part| matches!(part.kind, Kind::Car | Kind::Member));
    parts.sort();
    parts.dedup();
    let mut pictured = others;
    let each = |part: &Balloon| of_part(packet, *part).into_iter().map(|one| one.of(*part)).collect::<Vec<_>>();
    pictured.extend(parts.iter().flat_map(each));
    pictured.extend(super::pictures::unasked(packet));
    if pictured.is_empty() {
        return;
    }
    flow.chapter("The car, its bars and bends", "car");
    rows(flow, packet, &pictured, SMALL_PICTURE);
}

/// A small part: its photographs at the left, all that is said of it beside them.
fn block(packet: &Packet<'_>, part: Balloon, pictured: &[Pictured<'_>], width: f64) -> (Vec<Mark>, f64) {
    let words = shots::part(&packet.found.worked.cage, packet.facts, part);
    let mut marks = vec![Mark::Place { name: part.to_string(), title: format!("{part} {words}"), level: 1 }];
    let (mut left, mut tall) = (1.2, 0.0_f64);
    for pictured in pictured {
        let (drawn, high) = framed(packet, pictured, dvec2(left, 1.0), SMALL_PICTURE);
        marks.extend(drawn);
        tall = tall.max(high + 1.2);
        left += SMALL_PICTURE + 1.2;
    }
    let room = width - left - 1.5;
    left += 0.4;
    let (heading, mut down) = paragraph(&format!("{part}  {words}"), TYPE, Weight::Bold, Ink::Black, room);
    marks.push(Mark::Tagged { tag: Tag::Heading(2), marks: moved(flat(&heading), dvec2(left, 0.8)) });
    down += 1.0;
    let frame = (Length::from_mm(LOCATOR.0), Length::from_mm(LOCATOR.1));
    let located = Mark::figure(format!("Where {part} is on the cage."), locate(&packet.found.worked.cage, part, frame));
    marks.push(located.moved(dvec2(left + room - LOCATOR.0, down)));
    let facts = figures(packet, part);
    let (facts, high) = paragraph(&facts, LABEL, Weight::Regular, Ink::Grey, room - LOCATOR.0 - 1.5);
    marks.extend(moved(facts, dvec2(left, down)));
    down += high.max(LOCATOR.1) + 0.4;
    for (lines, height) in describe(packet, part, room, Judged::Close) {
        marks.extend(moved(lines, dvec2(left, down)));
        down += height;
    }
    let down = tall.max(down + 0.4);
    marks.push(Mark::Line { from: dvec2(1.2, down), to: dvec2(width - 1.2, down), pen: Pen::Faint });
    marks.extend(moved(reply_line("", width - 4.0), dvec2(2.0, down - 0.4)));
    let down = down + 5.7;
    marks.push(Mark::rectangle(DVec2::ZERO, dvec2(width, down), Some(Pen::Wide), None));
    (marks, down)
}

/// A part's own figures in a line.
fn figures(packet: &Packet<'_>, part: Balloon) -> String {
    let (cage, units) = (&packet.found.worked.cage, packet.units);
    match part.kind {
        Kind::Gusset => cage.gusset(part).map(|gusset| {
            let hole = gusset.hole.clause(|hole| hole.show(units));
            let (leg, sheet) = (gusset.leg.show(units), gusset.thickness.show(units));
            format!("between {} and {}; leg {leg}, sheet {sheet}, {hole}", gusset.between.0, gusset.between.1)
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

/// How a verdict is laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Judged {
    /// In a row with its gauge.
    Row,
    /// In few words under each other.
    Close,
}

/// The verdicts of a part, what changed of it, what was asked about it: each a line with its height.
pub(super) fn describe(packet: &Packet<'_>, part: Balloon, width: f64, laid: Judged) -> Vec<(Vec<Mark>, f64)> {
    let verdicts = packet.found.worked.verdicts_of(part).filter(|verdict| verdict.word != Word::NotAsked);
    let mut lines: Vec<(Vec<Mark>, f64)> = verdicts
        .map(|verdict| match laid {
            Judged::Row => judged(packet, verdict, width),
            Judged::Close => judged_close(packet, verdict, width),
        })
        .collect();
    let mut said = Vec::new();
    if let Some(accepted) = packet.earlier.accepted(packet.contents, part) {
        said.push(accepted.describe(&(packet.day_of)(accepted.at).to_string()));
    }
    for change in packet.changes.iter().filter(|change| change.at == part) {
        said.push(format!("Changed: {}.", change.what.trim_end_matches('.')));
    }
    for question in packet.facts.questions.iter().filter(|question| question.about == Some(part)) {
        let answers: Vec<String> = question.answers.iter().map(|answer| format!("Answer: {}", answer.text)).collect();
        let state = if question.settled.is_some() { "settled" } else { "open" };
        said.push(format!("Q{}, {state}: “{}” {}", question.number, question.text, answers.join(" ")));
    }
    for words in said {
        let (words, height) = paragraph(words.trim(), SMALL, Weight::Bold, Ink::Black, width);
        lines.push((moved(words, dvec2(0.0, 0.6)), height + 1.0));
    }
    lines
}

/// The word as it is said to the scrutineer, what is judged, and the limit.
fn words_of<'v>(packet: &Packet<'_>, verdict: &'v Verdict) -> (String, String, &'v str) {
    let word = match verdict.word {
        Word::ScrutineerDecides if verdict.ruling.is_some() => "you ruled".to_owned(),
        Word::ScrutineerDecides => "you decide".to_owned(),
        _ => verdict.describe(packet.units),
    };
    let what =
        verdict.measure.map_or_else(|| verdict.words.trim_end_matches('.').to_owned(), |one| capital(one.word()));
    (word, what, verdict.limit.as_ref().map(|limit| limit.text.as_str()).unwrap_or_default())
}

fn judged(packet: &Packet<'_>, verdict: &Verdict, width: f64) -> (Vec<Mark>, f64) {
    let [clause, what_at, figure_ends, gauge_at, limit_at] = COLUMNS;
    let (word, what, limit) = words_of(packet, verdict);
    let figure = verdict.describe_figure(packet.units);
    let drawn = gauge(verdict, dvec2(limit_at - gauge_at - 2.0, 4.4));
    let small = |words: &str, weight: Weight, ink: Ink, room: f64| paragraph(words, SMALL, weight, ink, room);
    let (mut read, mut high) = small(&word, Weight::Bold, Ink::Black, clause - 5.5);
    read = moved(read, dvec2(4.4, 0.0));
    let (words, tall) = small(&verdict.clause, Weight::Regular, Ink::Grey, what_at - clause - 1.0);
    read.extend(moved(words, dvec2(clause, 0.0)));
    high = high.max(tall);
    if figure.is_empty() {
        // without a figure the rule's words have the row to its end
        let (words, tall) =
            small(if limit.is_empty() { &what } else { limit }, Weight::Regular, Ink::Black, width - what_at);
        read.extend(moved(words, dvec2(what_at, 0.0)));
        high = high.max(tall);
    } else {
        let room = figure_ends - what_at - 1.5 - crate::drawing::paper::text::width(&figure, SMALL, Weight::Bold).mm();
        let (words, tall) = small(&what, Weight::Regular, Ink::Black, room.max(14.0));
        read.extend(moved(words, dvec2(what_at, 0.0)));
        let (anchor, ink) = (Anchor::End, Ink::Black);
        let at = dvec2(figure_ends, SMALL.mm());
        read.push(Mark::Text { at, size: SMALL, words: figure, weight: Weight::Bold, anchor, ink });
        let (from, ink) = if drawn.is_some() { (limit_at, Ink::Grey) } else { (gauge_at, Ink::Grey) };
        let (words, more) = small(limit, Weight::Regular, ink, width - from);
        read.extend(moved(words, dvec2(from, 0.0)));
        high = high.max(tall).max(more);
    }
    let mut marks = sign(verdict.word, dvec2(0.0, 1.0), 2.8);
    marks.extend(moved(drawn.unwrap_or_default(), dvec2(gauge_at, 0.0)));
    marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: moved(flat(&read), dvec2(0.0, 0.7)) });
    let height = high + 1.2;
    marks.push(Mark::Line { from: dvec2(0.0, height), to: dvec2(width, height), pen: Pen::Faint });
    (marks, height)
}

/// The marks in paragraphs as one run: a row is read as one.
fn flat(marks: &[Mark]) -> Vec<Mark> {
    crate::drawing::paper::sheet::each(marks).into_iter().cloned().collect()
}

fn judged_close(packet: &Packet<'_>, verdict: &Verdict, width: f64) -> (Vec<Mark>, f64) {
    let (word, what, limit) = words_of(packet, verdict);
    let figure = verdict.describe_figure(packet.units);
    let facts: Vec<&str> = [figure.as_str(), limit].into_iter().filter(|words| !words.is_empty()).collect();
    let words = match (facts.is_empty(), verdict.measure.is_some() || !figure.is_empty()) {
        (true, _) => what,
        (false, true) => format!("{what}: {}", facts.join(", ")),
        // the rule's own words stand in the table of rules
        (false, false) => facts.join(", "),
    };
    let words = format!("{word} ({}) {words}", verdict.clause);
    let mut marks = sign(verdict.word, dvec2(0.0, 0.8), 2.8);
    let (words, height) = paragraph(&words, LABEL, Weight::Regular, Ink::Black, width - 4.0);
    marks.extend(moved(words, dvec2(4.0, 0.5)));
    (marks, height + 0.6)
}

/// Boxes to tick and a line to write on.
pub(super) fn reply_line(label: &str, width: f64) -> Vec<Mark> {
    let mut marks = Vec::new();
    let mut x = 0.0;
    if !label.is_empty() {
        marks.push(Mark::words(dvec2(0.0, 4.7), TYPE, Weight::Bold, label));
        x = 26.0;
    }
    for (word, step) in [("accepted", 26.0), ("change wanted", 34.0), ("question", 26.0)] {
        marks.push(Mark::rectangle(dvec2(x, 1.2), DVec2::splat(4.2), Some(Pen::Narrow), None));
        marks.push(Mark::words(dvec2(x + 6.0, 4.7), TYPE, Weight::Bold, word));
        x += step;
    }
    marks.push(Mark::Line { from: dvec2(x, 5.4), to: dvec2(width, 5.4), pen: Pen::Narrow });
    marks
}
