//! The sheets behind the cover: all that is to be decided, what changed, what was asked and answered, what is where.

use glam::dvec2;

use super::Packet;
use super::decisions::{Decision, count};
use super::flow::{Flow, SMALL, SUBHEADING, TYPE, line, link};
use super::pictures::marked;
use super::{Sheets, questions};
use crate::domain::book::Force;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::drawing::paper::signs::sign;
use crate::drawing::{Anchor, Ink, Mark, Pen, Tag, Weight};

/// The place of the list of everything that is to be decided.
pub(super) const PLACE: &str = "asked";

/// The sheets; `left_over` is how many things to decide the cover had no room for.
pub(super) fn pages(packet: &Packet<'_>, decisions: &[Decision], left_over: usize, sheets: &Sheets) -> Flow {
    let mut flow = Flow::new(packet);
    flow.begin("What is asked", Some(PLACE));
    if !packet.facts.build.about.is_empty() {
        flow.words(&packet.facts.build.about, TYPE, Weight::Regular, Ink::Black);
    }
    if left_over > 0 {
        flow.subheading(&format!("Needs your decision: {}", count(decisions.len())));
        for decision in decisions {
            let (marks, height) = decision.row(sheets, flow.width());
            flow.put(marks, height);
        }
        flow.space();
    }
    changed(&mut flow, packet, sheets);
    marked::add(&mut flow, packet);
    questions::add(&mut flow, packet);
    flow.space();
    summary(&mut flow, packet);
    flow.space();
    listed(&mut flow, sheets);
    flow
}

/// Everything that is not as the round before showed it.
fn changed(flow: &mut Flow, packet: &Packet<'_>, sheets: &Sheets) {
    let Some(before) = packet.facts.rounds.last() else { return };
    flow.subheading(&format!("Changed since round {}: {}", before.number, packet.changes.len()));
    for change in packet.changes {
        let on = sheets.get(&change.at.to_string()).map(|sheet| format!(" (sheet {sheet})")).unwrap_or_default();
        flow.words(&format!("{}{on}: {}", change.at, change.what), TYPE, Weight::Regular, Ink::Black);
    }
    if packet.changes.is_empty() {
        flow.words("Nothing.", TYPE, Weight::Regular, Ink::Black);
    }
    flow.space();
}

/// How many verdicts that bind have this word, and how many that only advise.
pub(super) fn stand(packet: &Packet<'_>, word: Word) -> (usize, usize) {
    let of = |must: bool| {
        let of = |verdict: &&Verdict| {
            verdict.word == word && matches!(verdict.force, Force::Must | Force::Scrutineer) == must
        };
        packet.found.worked.verdicts.iter().filter(of).count()
    };
    (of(true), of(false))
}

/// How many verdicts of each word, rules that bind and recommendations apart.
fn summary(flow: &mut Flow, packet: &Packet<'_>) {
    flow.subheading("How the rules stand");
    let mut marks = Vec::new();
    let column = flow.width() / 4.0;
    for (index, word) in (0_u32..).zip(Word::ALL) {
        let at = dvec2(f64::from(index % 4) * column, f64::from(index / 4) * 11.0);
        let name = match word {
            Word::ShortBy => "short",
            Word::OverBy => "over",
            other => other.word(),
        };
        let (binding, advised) = stand(packet, word);
        marks.extend(sign(word, at + dvec2(0.0, 0.8), 3.6));
        let more = if advised > 0 { format!("{name} (+ {advised} advised)") } else { name.to_owned() };
        let read = vec![
            Mark::words(at + dvec2(5.6, 4.4), SUBHEADING, Weight::Bold, binding.to_string()),
            line(at + dvec2(5.6, 8.2), SMALL, Weight::Regular, &more, column - 6.0),
        ];
        marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: read });
    }
    flow.put(marks, 22.0);
}

/// What stands on which sheet.
fn listed(flow: &mut Flow, sheets: &Sheets) {
    flow.subheading("What is where");
    let width = flow.width() / 2.0 - 4.0;
    for row in sheets.chapters.chunks(2) {
        let mut marks = Vec::new();
        for (at, (name, title, page)) in [0.0, width + 8.0].into_iter().zip(row) {
            let sheet = Mark::Text {
                at: dvec2(at + width, 3.6),
                size: TYPE,
                words: format!("sheet {page}"),
                weight: Weight::Bold,
                anchor: Anchor::End,
                ink: Ink::Black,
            };
            let read = vec![Mark::words(dvec2(at, 3.6), TYPE, Weight::Regular, title), sheet];
            marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: read });
            marks.push(link(dvec2(at, 0.0), dvec2(width, 4.8), name));
            marks.push(Mark::Line { from: dvec2(at, 5.0), to: dvec2(at + width, 5.0), pen: Pen::Faint });
        }
        flow.put(marks, 5.6);
    }
}
