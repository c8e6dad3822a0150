//! The packet: everything the scrutineer needs to decide, in reading order, on paper.

mod cover;
mod flow;
mod kit;
mod lowering;
mod parts;
mod pictures;
mod questions;
mod reply;
mod rules;
mod rulings;
mod tube;
mod views;
mod weighed_after;
mod weighing;

use std::collections::BTreeMap;

use flow::Flow;
use jiff::Timestamp;
use jiff::civil::Date;

use super::error::DocumentError;
use super::pdf::{About, Jpeg, write};
use crate::domain::derived::contents::{Change, Contents};
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::fingerprint::Fingerprint;
use crate::drawing::Sheet;
use crate::quantity::Units;

/// What a packet is made of.
pub struct Packet<'a> {
    /// What is recorded.
    pub facts: &'a BuildFacts,
    /// What follows.
    pub found: &'a Findings,
    /// The contents list it is hashed by.
    pub contents: &'a Contents,
    /// What changed since the round before; none in a first round.
    pub changes: &'a [Change],
    /// The photographs' copies for print, by the original's SHA-256.
    pub pictures: &'a BTreeMap<Fingerprint, Jpeg>,
    /// Whether it is only looked at, and no round.
    pub draft: bool,
    /// Who makes it.
    pub made_by: &'a str,
    /// The day it is made.
    pub day: Date,
    /// The units it is printed in.
    pub units: Units,
    /// Which day a moment was in the shop.
    pub day_of: &'a dyn Fn(Timestamp) -> Date,
}

impl Packet<'_> {
    /// "Round 2", or that it is a draft.
    fn round(&self) -> String {
        if self.draft { "DRAFT, no round".to_owned() } else { format!("Round {}", self.contents.round) }
    }

    fn picture(&self, photo: &Fingerprint) -> Option<&Jpeg> {
        self.pictures.get(photo)
    }
}

/// The packet's sheets, A4, printable at full size on letter paper too.
pub fn sheets(packet: &Packet<'_>) -> Vec<Sheet> {
    let mut body = Flow::new(packet);
    lowering::add(&mut body, packet);
    weighing::add(&mut body, packet);
    rules::add(&mut body, packet);
    rulings::add(&mut body, packet);
    views::add(&mut body, packet);
    parts::add(&mut body, packet);
    tube::add(&mut body, packet);
    kit::add(&mut body, packet);
    questions::add(&mut body, packet);
    reply::add(&mut body, packet);
    // The cover lists what comes after it; how long it is itself is known once it is laid out.
    let mut front = cover::pages(packet, &body, 1);
    if front.count() != 1 {
        front = cover::pages(packet, &body, front.count());
    }
    front.then(body).finish(packet)
}

/// The packet as a PDF.
pub fn make(packet: &Packet<'_>) -> Result<Vec<u8>, DocumentError> {
    let picture = |name: &str| {
        let photo: Fingerprint = name.parse().ok()?;
        packet.picture(&photo).cloned()
    };
    let about = About {
        title: format!("{}, {}", packet.facts.build.name, packet.round()),
        author: packet.made_by.to_owned(),
        id: format!("{} {} {}", packet.facts.build.slug, packet.contents.round, packet.contents.log_head),
        date: packet.day,
    };
    write(&sheets(packet), &picture, &about)
}
