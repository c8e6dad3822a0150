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
    mails(flow, packet);
}

/// What replies were typed from, where anything is kept of it.
fn mails(flow: &mut impl Teller, packet: &Packet<'_>) {
    let facts = packet.facts;
    let kept = facts.replies.iter().map(|reply| reply.mails.len()).sum::<usize>();
    if kept == 0 {
        return;
    }
    flow.subheading(&format!("What came with the replies: {kept}"));
    for reply in facts.replies.iter().filter(|reply| !reply.mails.is_empty()) {
        let round = facts.rounds.iter().find(|round| round.id == reply.round).map_or(0, |round| round.number);
        let came = reply.came.map(|came| format!(", {}", came.word())).unwrap_or_default();
        let of = format!("With the reply of {} to round {round}{came}, typed in by {}:", reply.given_by, reply.by);
        flow.words(&of, TYPE, Weight::Bold, Ink::Black);
        for mail in &reply.mails {
            let day = (packet.day_of)(mail.attached);
            flow.words(&mail.describe(&day.to_string()), TYPE, Weight::Regular, Ink::Black);
        }
    }
    let why = "The files lie in the shop as they came. It gives them out on request: compare their SHA-256.";
    flow.words(why, SMALL, Weight::Regular, Ink::Grey);
}
