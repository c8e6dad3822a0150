//! What whoever answered a round can keep: the answer as it was recorded, in plain text.

use std::fmt::Write as _;

use super::{Reply, Round};
use crate::domain::recorded::questions::{Condition, Question};
use crate::domain::words::fingerprint::Fingerprint;

/// The receipt of a reply: every word of it, and the SHA-256 of the lines before the last.
pub fn receipt(build: &str, round: &Round, reply: &Reply, questions: &[Question]) -> String {
    let mut lines = vec![
        format!("Receipt: the answer to round {} of {build}", round.number),
        format!("Packet, SHA-256: {}", round.packet_sha256.text()),
        format!("Answer: {}", reply.decision.word()),
        format!("Given by: {}", reply.given_by),
    ];
    let mut add = |label: &str, text: String| {
        if !text.trim().is_empty() {
            lines.push(format!("{label}: {}", text.trim().replace('\n', "\n    ")));
        }
    };
    add("Licence or role", reply.licence.clone());
    add("Came by", reply.came.map(super::Came::word).unwrap_or_default().to_owned());
    add("Received, UTC", reply.received.to_string());
    add("In words", reply.words.clone());
    let joints: Vec<String> = reply.released.iter().map(ToString::to_string).collect();
    add("Released, these joints alone", joints.join(", "));
    if let Some(despite) = &reply.despite {
        add("Approved with these still open", despite.open.join("; "));
        add("Why all the same", despite.words.clone());
    }
    // what came with a reply was asked at the moment it was received
    for question in questions.iter().filter(|question| question.asked == reply.received) {
        let Some(condition) = question.condition else { continue };
        let about = question.about.map(|about| format!(", {about}")).unwrap_or_default();
        let holds = if condition == Condition::Holds { "holds until met" } else { "does not hold" };
        add(&format!("Condition Q{}{about}, {holds}", question.number), question.text.clone());
    }
    for part in reply.answers.iter().flatten() {
        let remark = if part.remark.is_empty() { String::new() } else { format!(": {}", part.remark) };
        let word = part.answer.map_or("only a remark", crate::domain::recorded::reviews::PartAnswer::word);
        add(&part.part.to_string(), format!("{word}{remark}"));
        for mark in &part.marks {
            add(&format!("{}, marked on its photograph {}", part.part, mark.sha256), mark.place());
        }
    }
    let mut text = lines.join("\n");
    text.push('\n');
    let of = Fingerprint::of(text.as_bytes());
    // writing into a text cannot fail
    let _ = writeln!(text, "SHA-256 of the lines above: {}", of.text());
    text
}
