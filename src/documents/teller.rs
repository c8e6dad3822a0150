//! Who lays out what the papers tell: the packet on sheets of paper, a car's page as one long page. The words are the same.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::civil::Date;

use super::packet::Packet;
use super::packet::pictures::Pictured;
use super::pdf::Jpeg;
use crate::domain::derived::contents::{Contents, Earlier};
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::fingerprint::Fingerprint;
use crate::drawing::paper::table::Table;
use crate::drawing::{Ink, Mark, Weight};
use crate::quantity::{Length, Units};

/// What a chapter is told to.
pub(super) trait Teller {
    /// Begins a chapter; `place` is the name that links lead to.
    fn chapter(&mut self, title: &str, place: &str);

    /// A heading inside a chapter.
    fn subheading(&mut self, words: &str);

    /// A place inside a chapter that links lead to.
    fn place(&mut self, title: &str, place: &str);

    /// A paragraph.
    fn words(&mut self, words: &str, size: Length, weight: Weight, ink: Ink);

    /// A table.
    fn table(&mut self, table: &Table);

    /// A drawing with what it shows, so high.
    fn drawing(&mut self, shows: &str, marks: Vec<Mark>, height: Length);

    /// What the pads of a scale showed, each with its label and as it was typed, and what follows from them.
    fn pads(&mut self, pads: &[(&str, String, String)], lines: &[(&str, String)]);

    /// Photographs, each so wide on paper, mm.
    fn pictures(&mut self, packet: &Packet<'_>, pictured: &[Pictured<'_>], width: f64);

    /// The width there is, mm.
    fn width(&self) -> f64;

    /// Leaves the room that stands between two blocks.
    fn space(&mut self);
}

/// What is told, in which units, of which day, and which day a moment was.
pub(super) struct Told<'a> {
    pub(super) facts: &'a BuildFacts,
    pub(super) found: &'a Findings,
    pub(super) day: Date,
    pub(super) units: Units,
    pub(super) day_of: &'a dyn Fn(Timestamp) -> Date,
}

/// What a packet is made of beside the facts, where its chapters are told on a page and none is issued.
pub(super) struct Beside<'a> {
    contents: Contents,
    earlier: Earlier<'a>,
    pictures: BTreeMap<Fingerprint, Jpeg>,
}

impl<'a> Beside<'a> {
    pub(super) fn of(facts: &'a BuildFacts, found: &Findings) -> Self {
        let newest = facts.rounds.last().map_or(0, |round| round.number);
        let earlier = Earlier::of(&facts.rounds, &facts.replies, newest + 1);
        Self { contents: Contents::of(facts, &found.worked, newest), earlier, pictures: BTreeMap::new() }
    }

    /// The packet of these facts, for its chapters.
    pub(super) fn packet(&'a self, of: &Told<'a>) -> Packet<'a> {
        Packet {
            facts: of.facts,
            found: of.found,
            contents: &self.contents,
            changes: &of.found.changes,
            earlier: &self.earlier,
            pictures: &self.pictures,
            reduced: None,
            draft: false,
            made_by: "",
            day: of.day,
            units: of.units,
            day_of: of.day_of,
        }
    }
}
