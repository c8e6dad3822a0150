//! The rounds of a car's file that is looked through without a shop: each packet compared with the signature and the contents list
//! that stand in the file, as its bytes go by.

use serde_json::Value;

use super::rounds_fit::fits;
use crate::domain::recorded::car_file::{CarFault, Part, Records, Row};
use crate::domain::words::fingerprint::Fingerprint;
use crate::store::car_file::{Texts, WholeFile, text_of};

/// A round of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RoundSeen {
    /// Its number.
    pub number: u32,
    /// What is known of its packet; none where the packet is not in the file.
    pub packet: Option<PacketSeen>,
}

/// What is known of a packet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PacketSeen {
    /// The public key whose signature is of the packet; none of a round from before packets were signed.
    pub public: Option<String>,
    /// Whether the contents list that the file has of the round is the one inside the packet; where it is not, there is none
    /// inside that this program can read.
    pub contents_inside: bool,
}

/// Those that went by so far.
#[derive(Debug, Default)]
pub(super) struct RoundsSeen {
    packets: Vec<(u32, PacketSeen)>,
}

/// The signature of a round and the public key that made it, as the records have them.
struct Rows {
    signed: Vec<(u32, String, String)>,
    rounds: Vec<u32>,
}

fn wrong(why: impl Into<String>) -> CarFault {
    CarFault::Records(why.into())
}

fn text<'t>(texts: &'t Texts, part: &Part) -> Option<&'t [u8]> {
    texts.iter().find(|(one, _)| one == part).map(|(_, bytes)| bytes.as_slice())
}

/// What the records of a file say of its rounds, in whichever form they are.
fn rows(texts: &Texts) -> Result<Rows, CarFault> {
    let records = text(texts, &Part::Records).unwrap_or_default();
    let records: Records =
        serde_json::from_slice(records).map_err(|error| wrong(format!("{}: {error}", Part::Records)))?;
    let of = |table: &str| records.tables.iter().find(|one| one.table == table).map_or(&[][..], |one| &one.rows);
    let number = |row: &Row| {
        let number = row.get("round").and_then(Value::as_u64).and_then(|number| u32::try_from(number).ok());
        number.ok_or_else(|| wrong("a round has no number"))
    };
    let signed = |row: &Row| {
        let round = of("rounds").iter().find(|round| text_of(round, "id") == text_of(row, "round"));
        let round = number(round.ok_or_else(|| wrong("a signature is of no round"))?)?;
        Ok((round, text_of(row, "signature").to_owned(), text_of(row, "public").to_owned()))
    };
    Ok(Rows {
        signed: of("round_signatures").iter().map(signed).collect::<Result<_, CarFault>>()?,
        rounds: of("rounds").iter().map(number).collect::<Result<_, CarFault>>()?,
    })
}

impl RoundsSeen {
    /// Compares a packet with what stands before it in the file.
    pub(super) fn see(&mut self, round: u32, packet: &[u8], texts: &Texts) -> Result<(), CarFault> {
        let contents = text(texts, &Part::Contents(round));
        let contents = contents.ok_or_else(|| wrong(format!("{} is missing", Part::Contents(round))))?;
        let rows = rows(texts)?;
        let signature =
            rows.signed.iter().find(|(of, ..)| *of == round).map(|(_, signature, public)| (signature, public));
        let of = signature.map(|(signature, public)| (signature.as_str(), public.as_str()));
        let contents_inside = fits(packet, round, &Fingerprint::of(contents), of)?;
        let public = signature.map(|(_, public)| public.clone());
        self.packets.push((round, PacketSeen { public, contents_inside }));
        Ok(())
    }

    /// All rounds of a file that was read to its end: its signatures beside the packets are those of the records, and each round
    /// has its contents list.
    pub(super) fn of(mut self, whole: &WholeFile) -> Result<Vec<RoundSeen>, CarFault> {
        let Rows { signed, mut rounds } = rows(&whole.texts)?;
        for (part, bytes) in &whole.texts {
            let of_records = match part {
                Part::Signature(round) => {
                    signed.iter().any(|(of, signature, _)| of == round && signature.as_bytes() == bytes)
                }
                Part::Contents(round) => rounds.contains(round),
                _ => true,
            };
            if !of_records {
                return Err(wrong(format!("{part} is not the one that the records name")));
            }
        }
        let contents = rounds.iter().map(|round| Part::Contents(*round));
        let mut named = contents.chain(signed.iter().map(|(round, ..)| Part::Signature(*round)));
        if let Some(part) = named.find(|part| whole.text(part).is_none()) {
            return Err(wrong(format!("{part} is recorded, and is not in the file")));
        }
        rounds.sort_unstable();
        let mut packet = |number: u32| {
            let at = self.packets.iter().position(|(of, _)| *of == number)?;
            Some(self.packets.swap_remove(at).1)
        };
        Ok(rounds.into_iter().map(|number| RoundSeen { number, packet: packet(number) }).collect())
    }
}
