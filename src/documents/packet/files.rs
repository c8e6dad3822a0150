//! The files inside the packet: what the round froze, and the cage for other programs.

use super::Packet;
use crate::documents::pdf::Attached;
use crate::domain::cage::files::written;
use crate::domain::recorded::facts::CageText;
use crate::domain::work::fabrication::{Bench, numbers::numbers};
use crate::domain::work::seams::Rates;

/// What the file of the frozen contents is called.
pub const CONTENTS: &str = "contents.json";

/// All of them; none in a draft, which would read as the round it is not. The numbers go by no die of the shop: the packet freezes none.
pub(super) fn all(packet: &Packet<'_>) -> Vec<Attached> {
    if packet.draft {
        return Vec::new();
    }
    let mut files = vec![Attached {
        name: CONTENTS,
        describes: "The contents list: everything this round froze. Its SHA-256 stands on every sheet.",
        json: packet.contents.canonical(),
    }];
    let worked = &packet.found.worked;
    if let Some(Ok(record)) = packet.facts.cage.as_ref().map(CageText::record) {
        let describes = "The cage as it was measured, as a cage file.";
        files.push(Attached { name: "cage.json", describes, json: written(&record, &worked.tubes) });
    }
    if !worked.cage.members.is_empty() {
        let describes = "The cage's numbers, worked out without the shop's dies: millimetres, degrees, kilograms.";
        let json = format!("{:#}\n", numbers(&worked.cage, &Bench::default(), &Rates::usual()));
        files.push(Attached { name: "numbers.json", describes, json });
    }
    files
}
