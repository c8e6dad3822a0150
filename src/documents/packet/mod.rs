//! The packet: everything the scrutineer needs to decide, in reading order, on paper.

mod asked;
mod cover;
mod decisions;
mod files;
pub(super) mod flow;
pub(super) mod kit;
mod lowering;
mod parts;
mod joints;
pub(super) mod pictures;
pub(super) mod questions;
mod reply;
pub(super) mod rules;
pub(super) mod rulings;
pub(super) mod tube;
mod views;
mod weighed_after;
pub(super) mod weighing;
pub(super) mod welds;

use std::collections::BTreeMap;

pub use files::{CONTENTS, contents_in};
use flow::Flow;
use jiff::Timestamp;
use jiff::civil::Date;

use super::error::DocumentError;
use super::pdf::{About, Jpeg, write_with};
use crate::domain::derived::contents::{Change, Contents, Earlier};
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
    /// What was answered of the rounds before.
    pub earlier: &'a Earlier<'a>,
    /// The photographs' copies for print, by the original's SHA-256.
    pub pictures: &'a BTreeMap<Fingerprint, Jpeg>,
    /// What was done to these copies so that the packet can be sent; none where they are as they are kept.
    pub reduced: Option<Reduced>,
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
        if self.draft { "DRAFT".to_owned() } else { format!("Round {}", self.contents.round) }
    }

    /// The build's name with the round.
    fn title(&self) -> String {
        format!("{}, {}", self.facts.build.name, self.round())
    }

    /// The SHA-256 of everything it froze, which stands on each sheet.
    fn frozen(&self) -> Fingerprint {
        Fingerprint::of(self.contents.canonical().as_bytes())
    }

    fn picture(&self, photo: &Fingerprint) -> Option<&Jpeg> {
        self.pictures.get(photo)
    }
}

/// How the photographs of a packet were made smaller.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reduced {
    /// What the packet was to stay under, in MB of a million bytes.
    pub megabytes: u32,
    /// The long side they have now, in dots.
    pub long_side: u32,
    /// Whether the packet is larger all the same.
    pub still_over: bool,
}

impl Reduced {
    /// What was done, in a sentence or two.
    pub fn describe(&self) -> String {
        let over = if self.still_over { " It is larger all the same." } else { "" };
        format!(
            "To keep this packet under {} MB its photographs are printed smaller: at most {} dots along the long side.{over} \
             The originals are kept untouched; ask for them.",
            self.megabytes, self.long_side
        )
    }
}

/// On which sheet each named place stands, and the chapters in their order.
#[derive(Debug, Clone, Default)]
struct Sheets {
    of: BTreeMap<String, usize>,
    chapters: Vec<(String, String, usize)>,
}

impl Sheets {
    /// Behind a cover, these pages and then those.
    fn of(asked: &Flow, body: &Flow) -> Self {
        let mut sheets = Self::default();
        for (flow, before) in [(asked, 1), (body, 1 + asked.count())] {
            sheets.of.extend(flow.places().map(|(_, name, _, page)| (name, page + before)));
            sheets.chapters.extend(flow.chapters().into_iter().map(|(name, title, page)| (name, title, page + before)));
        }
        sheets
    }

    fn get(&self, place: &str) -> Option<usize> {
        self.of.get(place).copied()
    }
}

/// The packet's sheets, A4, printable at full size on letter paper too.
pub fn sheets(packet: &Packet<'_>) -> Vec<Sheet> {
    let mut body = Flow::new(packet);
    lowering::add(&mut body, packet);
    joints::add(&mut body, packet);
    parts::add(&mut body, packet);
    weighing::add(&mut body, packet);
    rules::add(&mut body, packet);
    rulings::add(&mut body, packet);
    views::add(&mut body, packet);
    tube::add(&mut body, packet);
    kit::add(&mut body, packet);
    welds::add(&mut body, packet);
    reply::add(&mut body, packet);
    let decisions = decisions::all(packet);
    // Which sheet a thing stands on is known once all is laid out, and how long that is does not hang on the numbers.
    let mut sheets = Sheets::default();
    loop {
        let (front, left_over) = cover::page(packet, &decisions, &sheets);
        let asked = asked::pages(packet, &decisions, left_over, &sheets);
        let now = Sheets::of(&asked, &body);
        if sheets.of == now.of {
            return front.then(asked).then(body).finish(packet);
        }
        sheets = now;
    }
}

/// The packet as a PDF.
pub fn make(packet: &Packet<'_>) -> Result<Vec<u8>, DocumentError> {
    let picture = |name: &str| {
        let photo: Fingerprint = name.parse().ok()?;
        packet.picture(&photo).cloned()
    };
    let about = About {
        title: packet.title(),
        author: packet.made_by.to_owned(),
        id: format!("{} {} {}", packet.facts.build.slug, packet.contents.round, packet.contents.log_head),
        date: packet.day,
    };
    write_with(&sheets(packet), &picture, &about, &files::all(packet))
}
