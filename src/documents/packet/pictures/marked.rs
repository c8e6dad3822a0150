//! The photographs on which whoever answered the round before marked what they mean, beside what they asked.

use glam::dvec2;

use super::{LARGE, Pictured, framed, seen_at};
use crate::documents::packet::Packet;
use crate::documents::packet::flow::{Flow, TYPE};
use crate::domain::recorded::mark_ups::Drawn;
use crate::domain::recorded::questions::Question;
use crate::domain::recorded::reviews::PhotoMark;
use crate::domain::recorded::rounds::marked::marks_of;
use crate::drawing::{Ink, Mark, Weight, mark_up};

/// Of everything that was asked with the replies and is not settled, what it points at; nothing where nothing was marked.
pub(in crate::documents::packet) fn add(flow: &mut Flow, packet: &Packet<'_>) {
    let facts = packet.facts;
    let open = facts.questions.iter().filter(|question| question.settled.is_none());
    let marked: Vec<(&Question, &[PhotoMark])> =
        open.map(|one| (one, marks_of(one, &facts.replies))).filter(|(_, marks)| !marks.is_empty()).collect();
    if marked.is_empty() {
        return;
    }
    flow.subheading(&format!("What you marked on photographs: {}", marked.len()));
    for (question, marks) in marked {
        let about = question.about.map(|about| format!(", {about}")).unwrap_or_default();
        let asked = format!("Q{}{about}: {}", question.number, question.text);
        flow.words(&asked, TYPE, Weight::Bold, Ink::Black);
        let mut of: Vec<_> = marks.iter().map(|mark| &mark.sha256).collect();
        of.sort();
        of.dedup();
        for sha256 in of {
            let on: Vec<&PhotoMark> = marks.iter().filter(|mark| mark.sha256 == *sha256).collect();
            let places: Vec<String> = on.iter().map(|mark| mark.place()).collect();
            let photo = facts.photos.iter().rev().find(|photo| photo.sha256 == *sha256);
            let shot = photo.map_or("a photograph", |photo| photo.shot.as_str());
            let pictured = Pictured { view: format!("{shot}; marked {}", places.join("; ")), photo };
            let (mut drawing, high) = framed(packet, &pictured, dvec2(0.0, 0.0), LARGE);
            if let Some((corner, size)) = seen_at(packet, &pictured, dvec2(0.0, 0.0), LARGE) {
                let drawn: Vec<Drawn> = on.iter().map(|mark| mark.drawn()).collect();
                drawing.push(Mark::figure(format!("Marks of {}", question.by), mark_up::marks(&drawn, corner, size)));
            }
            flow.put(drawing, high + 2.0);
        }
    }
    flow.space();
}
