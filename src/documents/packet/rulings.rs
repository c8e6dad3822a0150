//! The scrutineer's rulings, each with its trace, those taken back among them.

use super::Packet;
use super::flow::{SMALL, TYPE};
use crate::documents::teller::Teller;
use crate::domain::recorded::rulings::{NO_MORE, Ruling};
use crate::drawing::{Ink, Weight};

/// The rulings' pages; none when nothing was ruled.
pub(in crate::documents) fn add(flow: &mut impl Teller, packet: &Packet<'_>) {
    if packet.facts.rulings.is_empty() {
        return;
    }
    flow.chapter("What the scrutineer ruled", "rulings");
    for ruling in &packet.facts.rulings {
        one(flow, packet, ruling);
    }
}

fn one(flow: &mut impl Teller, packet: &Packet<'_>, ruling: &Ruling) {
    let ruled = &ruling.ruled;
    let rule = packet.found.worked.verdicts.iter().find(|verdict| verdict.rule_id == ruled.rule);
    let clause = rule.map_or_else(|| ruled.rule.clone(), |rule| format!("{} {}", rule.clause, rule.rule_id));
    let of = ruled.of.map(|of| format!(", {of}")).unwrap_or_default();
    let measure = ruled.measure.map(|measure| format!(", {}", measure.word())).unwrap_or_default();
    flow.subheading(&format!("Ruling {}: {clause}{of}{measure}", ruling.place));
    flow.words(&ruling.describe(), TYPE, Weight::Bold, Ink::Black);
    if let Some((at, by, why)) = &ruling.taken_back {
        let description = format!("Taken back by {by}, {}: {why}", (packet.day_of)(*at));
        flow.words(&description, TYPE, Weight::Bold, Ink::Black);
    }
    if ruling.taken_back.is_none() && !ruling.stands_in(&packet.found.worked.verdicts) {
        flow.words(NO_MORE, TYPE, Weight::Regular, Ink::Black);
    }
    let recorded = format!("Recorded by {}, {}.", ruling.by, (packet.day_of)(ruling.recorded));
    flow.words(&format!("Found then: {}. {recorded}", ruling.found), SMALL, Weight::Regular, Ink::Grey);
}
