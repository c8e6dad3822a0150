//! How the hold point stands, and what single joints are released: the word that everything reads.

use super::Findings;
use crate::domain::contents::{self, Contents};
use crate::domain::facts::BuildFacts;
use crate::domain::hold::Hold;
use crate::domain::lowering::{Plan, Release};

impl Findings {
    /// How the hold point stands, from what would be put before the scrutineer now.
    pub(super) fn stand(&mut self, facts: &BuildFacts) {
        let Some(newest) = facts.rounds.last() else {
            self.release = self.released(facts, self.lowering.as_ref());
            return;
        };
        let now = Contents::of(facts, self, newest.number);
        self.changes = contents::changes(&now, newest);
        self.hold = Hold::of(facts, &self.changes);
        self.release = Release::of(facts, &self.hold, &now, self.lowering.as_ref());
    }

    /// How the joints of a lowering plan stand, this build's own or one that is only looked at.
    pub fn released(&self, facts: &BuildFacts, plan: Option<&Plan>) -> Release {
        Release::of(facts, &self.hold, &Contents::of(facts, self, 0), plan)
    }

    /// How the hold point stands, in a sentence: the one that every sheet, paper and list says.
    pub fn hold_told(&self) -> String {
        self.hold.told(&self.release)
    }

    /// The same in few words.
    pub fn hold_short(&self) -> String {
        self.hold.short(&self.release)
    }
}
