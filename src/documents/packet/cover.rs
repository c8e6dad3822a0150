//! The cover: what the scrutineer is asked to decide, how the verdicts stand, the cautions, what is where.

use glam::dvec2;

use super::Packet;
use super::flow::{Flow, SMALL, TYPE, link, paragraph};
use crate::domain::book::Force;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::words::cautions;
use crate::domain::words::fingerprint::{Fingerprint, short};
use crate::domain::words::ids::Kind;
use crate::drawing::car::beside::beside;
use crate::drawing::car::cage::{Numbers, Shown, draw_cage};
use crate::drawing::car::view::View;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::signs::sign;
use crate::drawing::{Anchor, Ink, Mark, Pen, Tag, Weight};
use crate::quantity::{Length, Show as _};

const CAUTION: &str = "This packet reports and works out; it approves nothing. The governing body's current rule book and its \
scrutineer decide. Structural questions go to a licensed engineer, welds to a qualified welder; local codes and the makers' \
instructions first.";

/// The cover, and how many pages come before the ones it lists.
pub(super) fn pages(packet: &Packet<'_>, body: &Flow, own: usize) -> Flow {
    let mut flow = Flow::new(packet);
    let facts = packet.facts;
    flow.begin(&format!("{}: {}", facts.build.name, packet.round()), Some("cover"));
    if !facts.build.about.is_empty() {
        flow.words(&facts.build.about, TYPE, Weight::Regular, Ink::Black);
    }
    flow.words(&asked(packet), Length::from_mm(3.7), Weight::Bold, Ink::Black);
    if let Some(out) = &packet.found.worked.out_of_force {
        flow.words(&out.describe(), Length::from_mm(3.7), Weight::Bold, Ink::Black);
    }
    flow.space();
    picture(&mut flow, packet);
    summary(&mut flow, packet);
    flow.space();
    let caution = format!("{CAUTION}\n{}", cautions::COVER);
    let (marks, height) = paragraph(&caution, TYPE, Weight::Regular, Ink::Black, flow.width() - 4.0);
    let frame = Mark::rectangle(dvec2(0.0, 0.0), dvec2(flow.width(), height + 3.6), Some(Pen::Wide), None);
    let mut boxed = vec![frame];
    boxed.extend(moved(marks, dvec2(2.0, 1.4)));
    flow.put(boxed, height + 3.6);
    flow.space();
    listed(&mut flow, body, own);
    flow.space();
    let contents = Fingerprint::of(packet.contents.canonical().as_bytes());
    let description = format!(
        "Contents list {} · log head {} (SHA-256, first 16 digits; in full on the last sheet). Keep this packet: it bears witness to everything logged before it.",
        short(contents.text()),
        short(&packet.contents.log_head)
    );
    flow.words(&description, SMALL, Weight::Regular, Ink::Grey);
    flow
}

/// What the packet asks of its reader.
fn asked(packet: &Packet<'_>) -> String {
    if !packet.contents.early.is_empty() {
        let joints: Vec<String> = packet.contents.early.keys().map(ToString::to_string).collect();
        return format!(
            "ReleaseRequest, and nothing else: may {}, tacked as shown, be welded while the cage is lowered through the floor? \
             Everything else stays tacked and held until a later round.",
            joints.join(", ")
        );
    }
    let clause = packet.found.worked.rules.as_ref().and_then(|rules| rules.hold.as_ref());
    let stops = clause.map(|hold| format!(" {} (clause {}).", hold.rule.words.trim_end_matches('.'), hold.rule.clause));
    let stops = stops.unwrap_or_default();
    match packet.changes.len() {
        0 => format!("ReleaseRequest: may this cage, tacked as shown, be fully welded?{stops}"),
        1 => format!(
            "ReleaseRequest: may this cage, tacked as shown, be fully welded?{stops} 1 thing changed since the round before."
        ),
        many => format!(
            "ReleaseRequest: may this cage, tacked as shown, be fully welded?{stops} {many} things changed since the round before."
        ),
    }
}

fn picture(flow: &mut Flow, packet: &Packet<'_>) {
    if packet.found.worked.cage.members.is_empty() {
        return;
    }
    let frame = (Length::from_mm(88.0), Length::from_mm(66.0));
    let drawn = draw_cage(
        &packet.found.worked.cage,
        &beside(&packet.found.worked.cage, &packet.found.worked.around, false),
        Shown { view: View::Isometric, numbers: Numbers::Without, hidden: false },
        frame,
    );
    let mut marks = vec![Mark::figure("The cage drawn from front left and above, without numbers.", drawn.marks)];
    let found = packet.found;
    let facts = packet.facts;
    let units = packet.units;
    let weighed = facts.weigh_ins.first().map(|weigh_in| weigh_in.reading.total().show(units));
    let class = match (&found.worked.weighed, &found.worked.class) {
        (Some(weighed), _) => weighed.describe(units),
        (None, Some(Err(why))) => why.to_string(),
        (None, _) => "no class".to_owned(),
    };
    let cage = &found.worked.cage;
    let structure = cage.structure().map(|structure| format!("{}; ", structure.word())).unwrap_or_default();
    let figures = [
        ("Weighed", weighed.unwrap_or_else(|| "not yet".to_owned()), class),
        (
            "Cage",
            format!("{} bars, {} joints", cage.members.len(), cage.joints.len()),
            format!(
                "{structure}{} gussets, {} plates; {} of tube, {}",
                cage.gussets.len(),
                cage.plates.len(),
                cage.tube_length().show(units),
                cage.mass().show(units)
            ),
        ),
        (
            "Photographs",
            format!("{} of {} shots taken", found.worked.taken(), found.worked.shots.len()),
            format!(
                "{} of joints asked for",
                found.worked.shots.iter().filter(|shot| shot.of.kind == Kind::Joint).count()
            ),
        ),
    ];
    let left = 96.0;
    for (row, (label, large, small)) in (0_u32..).zip(figures) {
        let top = f64::from(row) * 21.0;
        let room = flow.width() - left;
        marks.push(Mark::words(dvec2(left, top + 4.0), SMALL, Weight::Regular, label));
        marks.push(super::flow::line(dvec2(left, top + 10.0), Length::from_mm(5.3), Weight::Bold, &large, room));
        let (lines, _) = paragraph(&small, SMALL, Weight::Regular, Ink::Grey, room);
        marks.extend(moved(lines, dvec2(left, top + 11.6)));
    }
    flow.put(marks, 68.0);
}

/// How many verdicts of each word, rules that bind and recommendations apart.
fn summary(flow: &mut Flow, packet: &Packet<'_>) {
    flow.subheading("How the rules stand");
    let count = |word: Word, must: bool| {
        let of = |verdict: &&Verdict| {
            let binds = matches!(verdict.force, Force::Must | Force::Scrutineer);
            verdict.word == word && binds == must
        };
        packet.found.worked.verdicts.iter().filter(of).count()
    };
    let mut marks = Vec::new();
    let column = flow.width() / 4.0;
    for (index, word) in (0_u32..).zip(Word::ALL) {
        let at = dvec2(f64::from(index % 4) * column, f64::from(index / 4) * 11.0);
        let name = match word {
            Word::ShortBy => "short",
            Word::OverBy => "over",
            other => other.word(),
        };
        let (binding, advised) = (count(word, true), count(word, false));
        marks.extend(sign(word, at + dvec2(0.0, 0.8), 3.6));
        let more = if advised > 0 { format!("{name} (+ {advised} advised)") } else { name.to_owned() };
        let read = vec![
            Mark::words(at + dvec2(5.6, 4.4), Length::from_mm(4.6), Weight::Bold, binding.to_string()),
            super::flow::line(at + dvec2(5.6, 8.2), SMALL, Weight::Regular, &more, column - 6.0),
        ];
        marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: read });
    }
    flow.put(marks, 22.0);
}

/// What stands on which sheet.
fn listed(flow: &mut Flow, body: &Flow, own: usize) {
    flow.subheading("What is where");
    let width = flow.width() / 2.0 - 4.0;
    for row in body.chapters().chunks(2) {
        let mut marks = Vec::new();
        for (at, (name, title, page)) in [0.0, width + 8.0].into_iter().zip(row) {
            let sheet = Mark::Text {
                at: dvec2(at + width, 3.4),
                size: TYPE,
                words: format!("sheet {}", page + own),
                weight: Weight::Regular,
                anchor: Anchor::End,
                ink: Ink::Black,
            };
            let read = vec![Mark::words(dvec2(at, 3.4), TYPE, Weight::Regular, title), sheet];
            marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: read });
            marks.push(link(dvec2(at, 0.0), dvec2(width, 4.6), name));
        }
        flow.put(marks, 5.2);
    }
}
