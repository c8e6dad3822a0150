//! What an early round asks: the joints welded while the cage is lowered, why, and how the cage hangs then.

use super::Packet;
use super::flow::{Flow, SMALL, TYPE};
use crate::drawing::lowering::{Drawing, side};
use crate::drawing::{Ink, Mark, Weight};
use crate::quantity::Length;

/// The pages of an early round; none in one that asks about the whole cage.
pub(super) fn add(flow: &mut Flow, packet: &Packet<'_>) {
    let early = &packet.contents.early;
    let Some(plan) = packet.found.worked.lowering.as_ref().filter(|_| !early.is_empty()) else { return };
    flow.begin("What is asked: welding while lowered", Some("lowering"));
    let description = format!(
        "The cage is to be let down by {} through {} holes in the floor, so that the torch has {} over the joints of the roof. \
         These joints would be welded there, before the cage as a whole is approved; all else stays tacked. Then the cage \
         comes up onto its plates, the other bars are fitted, and a later round asks about the whole.",
        plan.drop.by_tape_at_least(packet.units),
        plan.holes.len(),
        plan.settings.room.text
    );
    flow.words(&description, TYPE, Weight::Regular, Ink::Black);
    for (joint, welds) in early {
        let over = plan.joints.iter().find(|one| one.joint == *joint);
        let why = over.map(|over| match over.roof {
            Some(_) => {
                format!(
                    ": {} free over it, {} short",
                    over.gap.by_tape_at_most(packet.units),
                    over.short.by_tape_at_least(packet.units)
                )
            }
            None => ": the roof over it is not measured".to_owned(),
        });
        flow.words(&format!("{joint}, {welds}{}.", why.unwrap_or_default()), TYPE, Weight::Bold, Ink::Black);
    }
    let height = 110.0;
    let drawing =
        Drawing { frame: (Length::from_mm(flow.width()), Length::from_mm(height)), size: SMALL, units: packet.units };
    let shows = "The cage let down through the floor, from the left side, with the heights that the words above name.";
    flow.put(vec![Mark::figure(shows, side(&packet.found.worked.cage, plan, drawing))], height + 2.0);
    let description = "Each joint has its photographs on its own sheet. The tool works the plan out from the model; it approves nothing.";
    flow.words(description, SMALL, Weight::Regular, Ink::Grey);
}
