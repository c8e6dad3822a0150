//! The questions of all rounds, with their answers, and what changed since the round before.

use super::Packet;
use super::flow::{Flow, SMALL, TYPE};
use crate::drawing::{Ink, Weight};

/// The questions' pages.
pub(super) fn add(flow: &mut Flow, packet: &Packet<'_>) {
    flow.begin("Questions and changes", Some("questions"));
    if packet.facts.questions.is_empty() {
        flow.words("Nothing was asked yet.", TYPE, Weight::Regular, Ink::Black);
    }
    for question in &packet.facts.questions {
        let about = question.about.map(|about| format!(" about {about}")).unwrap_or_default();
        let state = if question.settled.is_some() { "settled" } else { "open" };
        let day = (packet.day_of)(question.asked);
        flow.subheading(&format!("Q{}{about}, {state}", question.number));
        flow.words(&question.text, TYPE, Weight::Bold, Ink::Black);
        flow.words(&format!("asked by {}, {day}", question.by), SMALL, Weight::Regular, Ink::Grey);
        for answer in &question.answers {
            flow.words(&answer.text, TYPE, Weight::Regular, Ink::Black);
            let description = format!("answered by {}, {}", answer.by, (packet.day_of)(answer.given));
            flow.words(&description, SMALL, Weight::Regular, Ink::Grey);
        }
    }
    if !packet.facts.rounds.is_empty() {
        flow.subheading("Changed since the round before");
    }
    for change in packet.changes {
        flow.words(&format!("{}: {}", change.at, change.what), TYPE, Weight::Regular, Ink::Black);
    }
    if packet.changes.is_empty() && !packet.facts.rounds.is_empty() {
        flow.words("Nothing.", TYPE, Weight::Regular, Ink::Black);
    }
}
