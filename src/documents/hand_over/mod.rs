//! What goes to the next owner of a car: what it is, how its approval stands, what is open, what ends when, how far its welds
//! have come, how its papers are checked. A page of the shop prints it; a car's file begins with it.

mod approval;
mod car;
mod ends;

use std::collections::{BTreeMap, BTreeSet};

use jiff::Timestamp;
use jiff::civil::Date;

use super::chapters::{Block, Chapter, Chapters, Leads, plain};
use super::packet::{Packet, welds};
use super::teller::{Beside, Teller as _, Told};
use crate::domain::derived::findings::Findings;
use crate::domain::derived::hold::named;
use crate::domain::derived::open_items;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::welds::Did;
use crate::domain::recorded::welds::stage::Stage;
use crate::domain::shop::signing::{CHECKS, SIGNERS_FILE, WHOSE_KEY, command_of};
use crate::domain::words::cautions;
use crate::domain::words::ids::Balloon;
use crate::domain::work::weld_order::{self, Seam};
use crate::quantity::{Length, Units};

/// A round's papers: what they are called where they are handed out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RoundFile {
    /// The round.
    pub number: u32,
    /// The packet's name, or its path in a file.
    pub packet: String,
    /// That of the packet's signature; none of a packet that has none.
    pub signature: Option<String>,
}

/// What is handed over.
pub struct HandOver<'a> {
    /// What is recorded.
    pub facts: &'a BuildFacts,
    /// What follows.
    pub found: &'a Findings,
    /// The units it is read in.
    pub units: Units,
    /// The day it is of.
    pub day: Date,
    /// Which day a moment was.
    pub day_of: &'a dyn Fn(Timestamp) -> Date,
    /// Where a part has its place.
    pub leads: Leads<'a>,
    /// The rounds' papers.
    pub rounds: &'a [RoundFile],
    /// Where a round's packet is to be had; none where it is not.
    pub packet_at: &'a dyn Fn(u32) -> Option<String>,
    /// The key by which each round's packet was signed, as OpenSSH prints its SHA-256; none where that is not known here.
    pub keys: Option<&'a BTreeMap<u32, String>>,
}

/// By whom it is said, up to which day, and what it is not.
pub fn said_by(day: Date) -> String {
    format!("As recorded by the shop up to {day}; nothing here approves anything.")
}

/// How the hold point stands, in a sentence; of a vehicle without a rule book that it has none.
pub fn describe_hold(facts: &BuildFacts, found: &Findings) -> String {
    if facts.book.is_none() {
        return "No rule book is given for this vehicle: it is only logged, and nothing of it was put before a scrutineer."
            .to_owned();
    }
    found.describe_hold()
}

/// What the record is and what it is not, and what to mind at the work, each in a paragraph.
pub fn said_once() -> [&'static str; 3] {
    [cautions::APPROVES_NOTHING, cautions::COVER, cautions::WELDING]
}

/// Its chapters, what matters most first.
pub fn chapters(of: &HandOver<'_>) -> Vec<Chapter> {
    let mut chapters = Chapters::new(of.leads, None);
    let beside = Beside::of(of.facts, of.found);
    let HandOver { facts, found, day, units, day_of, .. } = *of;
    let packet = beside.packet(&Told { facts, found, day, units, day_of });
    approval::tell(&mut chapters, of);
    car::tell(&mut chapters, of);
    open(&mut chapters, of);
    ends::tell(&mut chapters, of);
    welded(&mut chapters, of, &packet);
    checked(&mut chapters, of);
    chapters.done()
}

/// What is known to be open: what is said alike of several parts stands in one row.
fn open(chapters: &mut Chapters<'_>, of: &HandOver<'_>) {
    chapters.chapter("What is still open", "open");
    let open = open_items::of(of.facts, of.found, of.units, of.day_of);
    if open.is_empty() {
        return chapters.said("Nothing that is recorded is known to be open.");
    }
    let mut alike: Vec<(Vec<Balloon>, String, &str)> = Vec::new();
    for item in &open {
        let said = alike.iter_mut().find(|(_, what, waits)| *what == item.what && *waits == item.waits_on.word());
        match said {
            Some((parts, ..)) => parts.extend(item.at),
            None => alike.push((item.at.into_iter().collect(), item.what.clone(), item.waits_on.word())),
        }
    }
    let rows = alike.into_iter().map(|(parts, what, waits)| vec![named(&parts), what, waits.to_owned()]).collect();
    chapters.grid(&["At", "What", "Waits on"], rows);
}

/// How far the joints and feet have come, those that have come as far together.
fn welded(chapters: &mut Chapters<'_>, of: &HandOver<'_>, packet: &Packet<'_>) {
    chapters.chapter("Which joints are welded, inspected, repaired", "welded");
    let seams = weld_order::all(&of.found.worked.cage, &of.facts.welds);
    if seams.is_empty() {
        return chapters.said("The cage has no joint and no foot that is laid out.");
    }
    chapters.said(&welds::summed(packet));
    for (joint, held) in of.facts.welds.iter().filter_map(|weld| Some((weld.joint, weld.describe_held()?))) {
        chapters.strong(&format!("{joint}: {held}."));
    }
    let mut rows = Vec::new();
    for stage in [Stage::NotWelded, Stage::Welded, Stage::RepairWanted, Stage::Repaired, Stage::Accepted] {
        let there: Vec<&Seam> = seams.iter().filter(|seam| seam.stage == stage).collect();
        let length: Length = there.iter().map(|seam| seam.length).sum();
        let parts: Vec<Balloon> = there.iter().map(|seam| seam.at).collect();
        if !parts.is_empty() {
            let (many, seam) = (parts.len().to_string(), length.by_tape(of.units));
            rows.push(vec![stage.word().to_owned(), many, seam, named(&parts)]);
        }
    }
    chapters.grid(&["By the weld log", "How many", "Seam to be laid", "At"], rows);
    let repaired = of.facts.welds.iter().filter(|weld| weld.stands() && matches!(weld.did, Did::Repaired(_)));
    let repaired: BTreeSet<Balloon> = repaired.map(|weld| weld.joint).collect();
    if !repaired.is_empty() {
        chapters.said(&format!("Cut out or ground, and welded again: {}.", named(&repaired)));
    }
}

/// How the packets are checked without the shop.
fn checked(chapters: &mut Chapters<'_>, of: &HandOver<'_>) {
    chapters.chapter("How to check these papers", "check");
    let signed: Vec<(&RoundFile, &String)> =
        of.rounds.iter().filter_map(|round| Some((round, round.signature.as_ref()?))).collect();
    if signed.is_empty() {
        return chapters.said("No packet of this car has a signature: nothing here can be checked by the shop's key.");
    }
    chapters.said(&format!(
        "Put the shop's list of allowed signers, {SIGNERS_FILE}, into the folder these names are read from. There, {CHECKS}"
    ));
    for (round, signature) in signed {
        chapters.put(Block::Letter(plain(&command_of(&round.packet, signature))));
    }
    chapters.soft(&format!("The list names the shop's key. {WHOSE_KEY}"));
}
