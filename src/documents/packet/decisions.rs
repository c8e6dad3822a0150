//! What needs the scrutineer's decision, each thing with the sheet it stands on.

use glam::dvec2;

use super::flow::{SMALL, TYPE, ends_at, link, paragraph};
use super::{Packet, Sheets};
use crate::domain::book::Force;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::recorded::questions::Question;
use crate::domain::recorded::reviews::CHANGE_ASKED;
use crate::domain::words::ids::Balloon;
use crate::domain::words::wording::capital;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::signs::{sign, speech};
use crate::drawing::{Ink, Mark, Pen, Tag, Weight};

/// Where a row's columns begin, mm: parts, sign and word, words.
const COLUMNS: [f64; 3] = [0.0, 23.0, 60.0];
/// The room that a row's sheet number takes at its end, mm.
const SHEET: f64 = 15.0;

/// The shape that stands before its word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shape {
    Of(Word),
    Speech,
}

/// One thing to decide.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Decision {
    /// The parts it is of, in their order; none where it is of the car.
    pub(super) parts: Vec<Balloon>,
    shape: Shape,
    label: String,
    words: String,
    /// The place in the packet where it stands.
    place: String,
}

/// Everything that waits for the scrutineer: what was welded while held, what does not meet its rule, what is too close to call, what the book leaves to
/// him, what he asked and has not settled.
pub(super) fn all(packet: &Packet<'_>) -> Vec<Decision> {
    let mut all = Vec::new();
    for verdicts in packet.found.worked.by_rule() {
        for word in [Word::OverBy, Word::ShortBy, Word::TooClose, Word::ScrutineerDecides] {
            let waits: Vec<&Verdict> =
                verdicts.iter().filter(|verdict| verdict.word == word && waits(packet, verdict)).collect();
            all.extend(of_verdicts(packet, &waits));
        }
    }
    all.sort_by_key(|decision| decision.shape == Shape::Of(Word::ScrutineerDecides));
    // What was done against the hold stands before everything else.
    all.splice(0..0, welded_held(packet));
    let open = packet.facts.questions.iter().filter(|question| question.settled.is_none());
    all.extend(open.map(of_question));
    all
}

/// Whether a verdict waits for the scrutineer: a recommendation does not, nor what he ruled already.
fn waits(packet: &Packet<'_>, verdict: &Verdict) -> bool {
    let early = &packet.contents.early;
    let asked = early.is_empty() || verdict.of.is_some_and(|of| early.contains_key(&of));
    asked && verdict.ruling.is_none() && matches!(verdict.force, Force::Must | Force::Scrutineer)
}

/// How many verdicts on what is asked are not measured, and how many lack a photograph.
pub(super) fn unknown(packet: &Packet<'_>) -> [usize; 2] {
    let all = &packet.found.worked.verdicts;
    [Word::NotMeasured, Word::NoPhoto]
        .map(|word| all.iter().filter(|verdict| verdict.word == word && waits(packet, verdict)).count())
}

fn of_verdicts(packet: &Packet<'_>, alike: &[&Verdict]) -> Option<Decision> {
    let first = alike.first()?;
    let worst = super::rules::nearest(alike).unwrap_or(first);
    let units = packet.units;
    let label = match first.word {
        Word::ScrutineerDecides => "you decide".to_owned(),
        Word::TooClose => "too close to call".to_owned(),
        _ => worst.describe(units),
    };
    let what = worst.measure.map_or_else(|| worst.words.trim_end_matches('.').to_owned(), |one| capital(one.word()));
    let figure = worst.describe_figure(units);
    let limit = worst.limit.as_ref().map(|limit| limit.text.clone()).unwrap_or_default();
    let of = worst.of.filter(|_| alike.len() > 1).map(|of| format!(" of {of}")).unwrap_or_default();
    let facts: Vec<String> = [figure, limit].into_iter().filter(|words| !words.is_empty()).collect();
    let facts = if facts.is_empty() { String::new() } else { format!(": {}", facts.join(", ")) };
    let mut parts: Vec<Balloon> = alike.iter().filter_map(|verdict| verdict.of).collect();
    parts.sort();
    parts.dedup();
    let place = match parts.as_slice() {
        [one] if super::parts::has_block(packet, *one) => one.to_string(),
        _ => super::rules::place(&first.rule_id),
    };
    let words = format!("{what}{of}{facts} ({})", first.clause);
    Some(Decision { parts, shape: Shape::Of(first.word), label, words, place })
}

/// What was welded while it was held, joint by joint.
fn welded_held(packet: &Packet<'_>) -> Vec<Decision> {
    let held = packet.contents.welded_held.iter();
    held.filter_map(|(joint, lines)| {
        Some(Decision {
            parts: vec![joint.parse().ok()?],
            shape: Shape::Of(Word::ShortBy),
            label: "welded while held".to_owned(),
            words: format!("{}.", capital(&lines.join("; "))),
            place: super::welds::PLACE.to_owned(),
        })
    })
    .collect()
}

fn of_question(question: &Question) -> Decision {
    let (label, shape, asked) = match question.text.strip_prefix(CHANGE_ASKED) {
        Some(change) => ("you wanted a change", Shape::Of(Word::ShortBy), change),
        None => ("you asked", Shape::Speech, question.text.as_str()),
    };
    let answer = question.answers.last().map_or("Not answered yet.", |answer| answer.text.as_str());
    Decision {
        parts: question.about.into_iter().collect(),
        shape,
        label: label.to_owned(),
        words: format!("Q{} “{asked}” {answer}", question.number),
        place: super::questions::PLACE.to_owned(),
    }
}

/// "6 things", as they are counted everywhere on the packet.
pub(super) fn count(many: usize) -> String {
    if many == 1 { "1 thing".to_owned() } else { format!("{many} things") }
}

impl Decision {
    /// Its parts in few letters: all of up to three, else the first and how many more.
    fn pill(&self) -> String {
        match self.parts.as_slice() {
            [] => "car".to_owned(),
            parts @ ([_] | [_, _] | [_, _, _]) => parts.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "),
            [first, rest @ ..] => format!("{first} and {}", rest.len()),
        }
    }

    /// Its row in a list, and how high it is, mm.
    pub(super) fn row(&self, sheets: &Sheets, width: f64) -> (Vec<Mark>, f64) {
        let mut read = vec![Mark::words(dvec2(COLUMNS[0], 4.3), TYPE, Weight::Bold, self.pill())];
        let at = dvec2(COLUMNS[1], 1.5);
        let mut marks = match self.shape {
            Shape::Of(word) => sign(word, at, 3.0),
            Shape::Speech => speech(at, 3.0),
        };
        let (label, tall) = paragraph(&self.label, SMALL, Weight::Bold, Ink::Black, COLUMNS[2] - COLUMNS[1] - 6.0);
        read.extend(moved(label, dvec2(COLUMNS[1] + 4.6, 1.2)));
        let room = width - COLUMNS[2] - SHEET;
        let (words, high) = paragraph(&self.words, SMALL, Weight::Regular, Ink::Black, room);
        read.extend(moved(words, dvec2(COLUMNS[2], 1.2)));
        let height = high.max(tall) + 2.0;
        if let Some(sheet) = sheets.get(&self.place) {
            let at = dvec2(width, 4.3);
            read.push(ends_at(at, TYPE, Weight::Bold, &format!("sheet {sheet}"), Ink::Black));
            marks.push(link(dvec2(0.0, 0.0), dvec2(width, height), &self.place));
        }
        marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: read });
        marks.push(Mark::Line { from: dvec2(0.0, height), to: dvec2(width, height), pen: Pen::Faint });
        (marks, height)
    }
}
