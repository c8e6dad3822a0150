//! What was asked and answered in all rounds.

use super::Packet;
use super::flow::{Flow, SMALL, TYPE};
use crate::drawing::{Ink, Mark, Weight};

/// The place where they stand.
pub(super) const PLACE: &str = "questions";

/// The questions with their answers.
pub(super) fn add(flow: &mut Flow, packet: &Packet<'_>) {
    let questions = &packet.facts.questions;
    flow.subheading(&format!("What was asked and answered: {}", questions.len()));
    let title = "What was asked and answered".to_owned();
    flow.put(vec![Mark::Place { name: PLACE.to_owned(), title, level: 1 }], 0.0);
    if questions.is_empty() {
        flow.words("Nothing was asked yet.", TYPE, Weight::Regular, Ink::Black);
    }
    for question in questions {
        let about = question.about.map(|about| format!(" about {about}")).unwrap_or_default();
        let state = if question.settled.is_some() { "settled" } else { "open" };
        let day = (packet.day_of)(question.asked);
        let asked = format!("Q{}{about}, {state}: {}", question.number, question.text);
        flow.words(&asked, TYPE, Weight::Bold, Ink::Black);
        flow.words(&format!("asked by {}, {day}", question.by), SMALL, Weight::Regular, Ink::Grey);
        for answer in &question.answers {
            flow.words(&answer.text, TYPE, Weight::Regular, Ink::Black);
            let description = format!("answered by {}, {}", answer.by, (packet.day_of)(answer.given));
            flow.words(&description, SMALL, Weight::Regular, Ink::Grey);
        }
        if question.answers.is_empty() {
            flow.words("Not answered yet.", TYPE, Weight::Regular, Ink::Black);
        }
    }
}
