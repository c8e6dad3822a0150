//! Whether the rounds in a car's file are those that were issued: the file's list is signed by whoever saved the car, a round's
//! packet by the shop that issued it.

use crate::actions::shop::signing::{Checked, check, same_key};
use crate::documents::packet::contents_in;
use crate::domain::recorded::car_file::CarFault;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::fingerprint::Fingerprint;
use crate::store::car_file::{BuildRecords, WholeFile, text_of};

/// Each packet in the file is the one that its recorded signature is of, by the key that is recorded with it, and shows the
/// contents that are recorded. Nothing is said of a packet that is not in the file. Packets are read one after the other.
pub(super) fn rounds_fit(whole: &WholeFile, facts: &BuildFacts, records: &BuildRecords) -> Result<(), CarFault> {
    for round in &facts.rounds {
        let unread = |error: crate::store::StoreError| CarFault::Records(error.to_string());
        if let Some(packet) = whole.spool.bytes(&round.packet_sha256).map_err(unread)? {
            let id = round.id.to_string();
            let row = records.rows("round_signatures").iter().find(|row| text_of(row, "round") == id);
            let signature = row.map(|row| (text_of(row, "signature"), text_of(row, "public")));
            fits(&packet, round.number, &round.contents_sha256, signature)?;
        }
    }
    Ok(())
}

/// Whether a packet is the one that this signature, by this public key, is of, and shows these contents; and whether it has its
/// contents list inside, which one from before packets were signed has not.
pub(super) fn fits(
    packet: &[u8],
    round: u32,
    contents: &Fingerprint,
    signature: Option<(&str, &str)>,
) -> Result<bool, CarFault> {
    let wrong = |what: &str| Err(CarFault::Records(format!("{what} of round {round} is not one of its packet")));
    // a round from before packets were signed has none
    if let Some((signature, public)) = signature {
        let said = check(packet, signature);
        if !matches!(said, Checked::Unaltered { public: by } if same_key(&by, public)) {
            return wrong("the signature");
        }
    }
    match contents_in(packet) {
        Some((_, sha256)) if sha256 != *contents => wrong("the contents list"),
        inside => Ok(inside.is_some()),
    }
}
