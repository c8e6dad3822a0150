//! The last sheet: space to reply for the whole cage, and the fingerprints in full.

use glam::dvec2;

use super::Packet;
use super::flow::{Flow, SMALL, TYPE};
use super::parts::reply_line;
use crate::drawing::{Ink, Mark, Pen, Weight};

/// The reply's page.
pub(super) fn add(flow: &mut Flow, packet: &Packet<'_>) {
    flow.chapter_of("Reply", "reply", 118.0);
    let early = &packet.contents.early;
    let description = if early.is_empty() {
        "The cover has the boxes for the cage as a whole; each joint, gusset and plate has its line on its own sheet."
    } else {
        "The joints ticked here, and no others, may be welded while the cage is lowered."
    };
    flow.words(description, TYPE, Weight::Regular, Ink::Black);
    for (joint, welds) in early {
        flow.put(
            box_before(7.0, &joint.to_string(), &format!("{welds}: may be welded while the cage is lowered.")),
            8.0,
        );
    }
    for label in ["kit", "tube", "weigh-in"] {
        let marks = reply_line(label, flow.width());
        flow.put(marks, 7.0);
    }
    for _ in 0..6 {
        let line = Mark::Line { from: dvec2(0.0, 8.0), to: dvec2(flow.width(), 8.0), pen: Pen::Faint };
        flow.put(vec![line], 8.4);
    }
    flow.words("Name and day beside what is written here, too.", SMALL, Weight::Regular, Ink::Grey);
    if let Some(reduced) = &packet.reduced {
        flow.words(&reduced.describe(), TYPE, Weight::Regular, Ink::Black);
    }
    flow.subheading("Fingerprints (SHA-256)");
    flow.words(&format!("Contents list: {}", packet.frozen()), SMALL, Weight::Regular, Ink::Black);
    flow.words(
        &format!("Log head, entry {}: {}", packet.contents.as_of, packet.contents.log_head),
        SMALL,
        Weight::Regular,
        Ink::Black,
    );
    let photos: usize = packet.contents.photos.values().map(Vec::len).sum();
    let inside = if packet.draft { "goes into the issued PDF" } else { "is inside this PDF" };
    let description = format!(
        "Keep this packet: it bears witness to everything logged before it. The contents list names {photos} photographs by the SHA-256 of their original bytes, and {inside} as the file {}. The shop gives out the originals on request.",
        super::CONTENTS
    );
    flow.words(&description, SMALL, Weight::Regular, Ink::Grey);
}

/// A box to tick, so far in, with its label and what ticking it says.
fn box_before(left: f64, label: &str, words: &str) -> Vec<Mark> {
    vec![
        Mark::rectangle(dvec2(left, 2.0), dvec2(4.2, 4.2), Some(Pen::Wide), None),
        Mark::words(dvec2(left + 7.0, 5.8), TYPE, Weight::Bold, label),
        Mark::words(dvec2(left + 30.0, 5.8), TYPE, Weight::Regular, words),
    ]
}
