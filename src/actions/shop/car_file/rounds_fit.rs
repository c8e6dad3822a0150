//! Whether the rounds in a car's file are those that were issued: the file's list is signed by whoever saved the car, a round's
//! packet by the shop that issued it.

use crate::actions::shop::signing::{Checked, check, same_key};
use crate::documents::packet::contents_in;
use crate::domain::recorded::car_file::CarFault;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::rounds::Round;
use crate::store::car_file::{BuildRecords, WholeFile, text_of};

/// Each packet in the file is the one that its recorded signature is of, by the key that is recorded with it, and shows the
/// contents that are recorded. Nothing is said of a packet that is not in the file. Packets are read one after the other.
pub(super) fn rounds_fit(whole: &WholeFile, facts: &BuildFacts, records: &BuildRecords) -> Result<(), CarFault> {
    for round in &facts.rounds {
        let unread = |error: crate::store::StoreError| CarFault::Records(error.to_string());
        if let Some(packet) = whole.spool.bytes(&round.packet_sha256).map_err(unread)? {
            fits(&packet, round, records)?;
        }
    }
    Ok(())
}

fn fits(packet: &[u8], round: &Round, records: &BuildRecords) -> Result<(), CarFault> {
    let wrong =
        |what: &str| Err(CarFault::Records(format!("{what} of round {} is not one of its packet", round.number)));
    let id = round.id.to_string();
    // a round from before packets were signed has none
    if let Some(row) = records.rows("round_signatures").iter().find(|row| text_of(row, "round") == id) {
        let said = check(packet, text_of(row, "signature"));
        if !matches!(said, Checked::Unaltered { public } if same_key(&public, text_of(row, "public"))) {
            return wrong("the signature");
        }
    }
    // nor has a packet from before them its contents inside
    match contents_in(packet) {
        Some((_, sha256)) if sha256 != round.contents_sha256 => wrong("the contents list"),
        _ => Ok(()),
    }
}
