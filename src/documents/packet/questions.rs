//! What was asked and answered in all rounds.

use super::Packet;
use super::flow::{SMALL, TYPE};
use crate::documents::teller::Teller;
use crate::drawing::{Ink, Weight};

/// The place where they stand.
pub(in crate::documents) const PLACE: &str = "questions";

/// The questions with their answers.
pub(in crate::documents) fn add(flow: &mut impl Teller, packet: &Packet<'_>) {
    let questions = &packet.facts.questions;
    flow.subheading(&format!("What was asked and answered: {}", questions.len()));
    flow.place("What was asked and answered", PLACE);
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
