//! The verdict table: every rule by its clause, with figure, limit, word and what it rests on.

use glam::dvec2;

use super::Packet;
use super::flow::{Flow, SMALL, TYPE, line, link, paragraph};
use crate::documents::teller::Teller;
use crate::domain::book::Force;
use crate::domain::book::in_force;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::measure::amounts::Amount;
use crate::domain::words::wording::capital;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::signs::sign;
use crate::drawing::paper::text;
use crate::drawing::{Ink, Mark, Pen, Weight};

/// Where the columns begin, mm: clause, word, part, figure and limit.
const COLUMNS: [f64; 4] = [0.0, 16.0, 58.0, 74.0];
/// More verdicts of one rule and one word than this share a line: their parts are named in it.
const ALIKE: usize = 3;

/// The place of a rule in the table.
pub(super) fn place(rule: &str) -> String {
    format!("rule-{rule}")
}

/// The verdict table's pages.
pub(super) fn add(flow: &mut Flow, packet: &Packet<'_>) {
    begin(flow, packet);
    for verdicts in packet.found.worked.by_rule() {
        of_one(flow, packet, verdicts);
    }
}

/// The heading, why nothing is judged where nothing is, and by which edition.
pub(in crate::documents) fn begin(flow: &mut impl Teller, packet: &Packet<'_>) {
    flow.chapter("What every rule says", "verdicts");
    if packet.found.worked.verdicts.is_empty() {
        let why = if packet.found.worked.rules.is_some() {
            "The book has no rule to judge."
        } else {
            "There is no rule book to judge by."
        };
        return flow.words(why, TYPE, Weight::Bold, Ink::Black);
    }
    if let Some(book) = packet.found.worked.rules.as_ref().map(|rules| &rules.book) {
        let description = format!("By {}: {}.", book.describe(), in_force::describe(book));
        flow.words(&description, TYPE, Weight::Regular, Ink::Black);
    }
    if let Some(out) = &packet.found.worked.out_of_force {
        flow.words(&out.describe(), TYPE, Weight::Bold, Ink::Black);
    }
}

/// A rule's words with how hard it binds.
pub(in crate::documents) fn words_of(rule: &Verdict) -> String {
    let force = match rule.force {
        Force::Must => "",
        Force::Should => " Recommended.",
        Force::May => " Allowed.",
        Force::Scrutineer => " The scrutineer decides.",
    };
    format!("{}{force}", rule.words)
}

fn of_one(flow: &mut Flow, packet: &Packet<'_>, verdicts: &[Verdict]) {
    let Some(first) = verdicts.first() else { return };
    let room = flow.width() - COLUMNS[1];
    let words = paragraph(&words_of(first), TYPE, Weight::Regular, Ink::Black, room);
    let name = place(&first.rule_id);
    let known = flow.page_of(&name).is_some();
    let title = format!("{} {}", first.clause, first.words);
    let mut head: Vec<Mark> = (!known).then_some(Mark::Place { name, title, level: 1 }).into_iter().collect();
    head.push(Mark::Line { from: dvec2(0.0, 0.0), to: dvec2(flow.width(), 0.0), pen: Pen::Narrow });
    let (named, height) = under_its_clause(&first.clause, words, flow.width());
    head.extend(named);
    // The rule stays together with its first verdict.
    let lines: Vec<(Vec<Mark>, f64)> =
        gathered(verdicts).iter().map(|alike| one_line(packet, alike, flow.width())).collect();
    let mut lines = lines.into_iter();
    let mut height = height + 2.4;
    if let Some((marks, more)) = lines.next() {
        head.extend(moved(marks, dvec2(0.0, height)));
        height += more;
    }
    flow.put(head, height);
    for (marks, height) in lines {
        flow.put(marks, height);
    }
    flow.skip(1.6);
}

/// A rule's words beside its clause where the clause is short, as a number is; else under it: neither is printed over the
/// other, nor cut.
fn under_its_clause(clause: &str, (words, high): (Vec<Mark>, f64), width: f64) -> (Vec<Mark>, f64) {
    if text::width(clause, TYPE, Weight::Bold).mm() <= COLUMNS[1] - COLUMNS[0] - 1.0 {
        let mut marks = vec![Mark::words(dvec2(COLUMNS[0], 4.4), TYPE, Weight::Bold, clause)];
        marks.extend(moved(words, dvec2(COLUMNS[1], 1.2)));
        return (marks, high);
    }
    let (above, down) = paragraph(clause, TYPE, Weight::Bold, Ink::Black, width - COLUMNS[0]);
    let mut marks = moved(above, dvec2(COLUMNS[0], 1.2));
    marks.extend(moved(words, dvec2(COLUMNS[1], 1.2 + down)));
    (marks, high + down)
}

/// Verdicts of one rule, those alike together: what differs is never hidden among what does not.
fn gathered(verdicts: &[Verdict]) -> Vec<Vec<&Verdict>> {
    let mut groups: Vec<Vec<&Verdict>> = Vec::new();
    for word in Word::ALL {
        let alike: Vec<&Verdict> = verdicts.iter().filter(|verdict| verdict.word == word).collect();
        if alike.len() > ALIKE && matches!(word, Word::Meets | Word::NotAsked | Word::NoPhoto | Word::NotMeasured) {
            groups.push(alike);
        } else {
            groups.extend(alike.into_iter().map(|verdict| vec![verdict]));
        }
    }
    groups
}

fn one_line(packet: &Packet<'_>, alike: &[&Verdict], width: f64) -> (Vec<Mark>, f64) {
    let Some(first) = alike.first() else { return (Vec::new(), 0.0) };
    let mut marks = sign(first.word, dvec2(COLUMNS[1], 0.9), 2.8);
    let description = first.describe(packet.units);
    marks.push(line(dvec2(COLUMNS[1] + 4.2, 3.4), TYPE, Weight::Bold, &description, COLUMNS[2] - COLUMNS[1] - 5.0));
    let room = width - COLUMNS[3];
    let (words, height) = match alike {
        [one] => {
            if let Some(part) = one.of {
                marks.push(Mark::words(dvec2(COLUMNS[2], 3.4), TYPE, Weight::Bold, part.to_string()));
                if super::parts::has_block(packet, part) {
                    marks.push(link(dvec2(COLUMNS[2], 0.4), dvec2(12.0, 4.2), &part.to_string()));
                }
            }
            paragraph(&facts(packet, one), SMALL, Weight::Regular, Ink::Black, room)
        }
        many => {
            let mut parts: Vec<String> =
                many.iter().filter_map(|verdict| verdict.of).map(|of| of.to_string()).collect();
            parts.dedup();
            marks.push(Mark::words(dvec2(COLUMNS[2], 3.4), TYPE, Weight::Bold, format!("{} parts", parts.len())));
            let worst = nearest(many).map(|nearest| {
                let of = nearest.of.map(|of| format!("{of}, ")).unwrap_or_default();
                format!("\nNearest to the limit: {of}{}", facts(packet, nearest))
            });
            let listed = format!("{}{}", parts.join(", "), worst.unwrap_or_default());
            paragraph(&listed, SMALL, Weight::Regular, Ink::Black, room)
        }
    };
    marks.extend(moved(words, dvec2(COLUMNS[3], 0.8)));
    (marks, height.max(4.0) + 1.6)
}

/// The verdict with the least margin among those that have one.
pub(super) fn nearest<'a>(verdicts: &[&'a Verdict]) -> Option<&'a Verdict> {
    let with = verdicts.iter().copied().filter(|verdict| verdict.margin.is_some());
    with.min_by(|one, other| {
        let margin = |verdict: &Verdict| verdict.margin.map_or(f64::MAX, Amount::in_base_unit);
        margin(one).total_cmp(&margin(other))
    })
}

/// Figure against limit, then what the word rests on.
pub(in crate::documents) fn facts(packet: &Packet<'_>, verdict: &Verdict) -> String {
    let figure = verdict.describe_figure(packet.units);
    let limit = verdict.limit.as_ref().map(|limit| limit.text.as_str()).unwrap_or_default();
    let figure = match (figure.is_empty(), limit.is_empty()) {
        (true, true) => String::new(),
        (true, false) => format!("{limit}. "),
        (false, true) => format!("{figure}. "),
        (false, false) => format!("{figure} against {limit}. "),
    };
    let measure = verdict.measure.map(|measure| format!("{} ", measure.word())).unwrap_or_default();
    let margin = match verdict.describe_margin(packet.units) {
        description if description.is_empty() || verdict.word.fails() => String::new(),
        description => format!("{}. ", capital(&description)),
    };
    format!("{measure}{figure}{margin}{}", verdict.basis())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::paper::sheet::each;

    /// Every line of text: where it stands, how wide it is, its words.
    fn lines(marks: &[Mark]) -> Vec<(f64, f64, f64, String)> {
        let line = |mark: &Mark| match mark {
            Mark::Text { at, size, words, weight, .. } => {
                Some((at.x, at.y, text::width(words, *size, *weight).mm(), words.clone()))
            }
            _ => None,
        };
        each(marks).into_iter().filter_map(line).collect()
    }

    #[test]
    fn no_clause_is_printed_over_the_rules_words_or_past_the_edge() {
        let words = "The plate under each lateral half hoop foot has at least 120 square centimetres. ".repeat(3);
        let long = "Art. 253, ch. 8, mountings; MSUK App. 3, 8.2, and a good deal more. ".repeat(4);
        for clause in ["4.10", "3.11.2 b", "Art. 253, ch. 8, pillar (drawing 253-15)", long.as_str()] {
            let width = 187.6;
            let room = width - COLUMNS[1];
            let body = paragraph(&words, TYPE, Weight::Regular, Ink::Black, room);
            let (marks, height) = under_its_clause(clause, body, width);
            let lines = lines(&marks);
            let clause_is = |line: &&(f64, f64, f64, String)| line.0 < COLUMNS[1];
            assert!(
                lines.iter().filter(clause_is).map(|line| line.3.as_str()).collect::<Vec<_>>().join(" ")
                    == clause.trim()
            );
            for one in &lines {
                assert!(one.0 + one.2 <= width && one.1 <= height + 4.4, "{one:?}");
                let beside = lines.iter().filter(|other| *other != one && (other.1 - one.1).abs() < TYPE.mm());
                for other in beside {
                    assert!(other.0 >= one.0 + one.2 || one.0 >= other.0 + other.2, "{one:?} {other:?}");
                }
            }
        }
    }
}
