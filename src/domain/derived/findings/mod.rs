//! What a build's people and its scrutineer go by: what the rules say, and beside it how the hold point stands.

use jiff::civil::Date;

use super::contents;
use super::contents::{Change, Contents};
use super::hold::{Hold, answer, released_at};
use super::release::Release;
use super::weighed_after::Compared;
use super::worked::Worked;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::ids::Balloon;
use crate::domain::work::lowering::Plan;

/// What follows from the facts of a build.
#[derive(Debug, Clone, PartialEq)]
pub struct Findings {
    /// What the rules say.
    pub worked: Worked,
    /// The finished car beside its prediction; none before it was weighed with its cage in.
    pub compared: Option<Compared>,
    /// What is not as it was put before the scrutineer in the newest round.
    pub changes: Vec<Change>,
    /// How the hold point stands.
    pub hold: Hold,
    /// Whether the joints that are welded while the cage is lowered are released.
    pub release: Release,
}

impl Findings {
    /// What follows from these facts on this day.
    pub fn of(facts: &BuildFacts, today: Date) -> Self {
        let worked = Worked::of(facts, today);
        let newest = facts.rounds.last();
        let now = Contents::of(facts, &worked, newest.map_or(0, |round| round.number));
        let changes = newest.map(|newest| contents::changes(&now, newest)).unwrap_or_default();
        let hold = Hold::of(facts, &changes);
        let release = Release::of(facts, &hold, &now, worked.lowering.as_ref());
        Self { compared: Compared::of(facts, &worked), worked, changes, hold, release }
    }

    /// How the joints of a lowering plan stand, this build's own or one that is only looked at.
    pub fn released(&self, facts: &BuildFacts, plan: Option<&Plan>) -> Release {
        Release::of(facts, &self.hold, &Contents::of(facts, &self.worked, 0), plan)
    }

    /// How the hold point stands, in a sentence: the one that every sheet, paper and list says.
    pub fn describe_hold(&self) -> String {
        self.hold.describe(self.release.describe_joints().as_deref())
    }

    /// Why a joint that is welded on a day is held then; none where it was released by that day, or no book holds it.
    pub fn why_held(
        &self,
        facts: &BuildFacts,
        joint: Balloon,
        day: Date,
        day_of: &dyn Fn(jiff::Timestamp) -> Date,
    ) -> Option<String> {
        facts.book.as_ref()?;
        let early = self.release.released().filter(|early| early.joints.contains(&joint));
        let released = match (&self.hold, early) {
            (Hold::Released { at, .. }, _) => Some(*at),
            (_, Some(early)) => {
                let round = facts.rounds.iter().find(|round| round.number == early.round);
                round.and_then(|round| answer(facts, round)).map(|reply| released_at(facts, reply))
            }
            _ => None,
        };
        match released.map(day_of) {
            Some(since) if since <= day => None,
            Some(since) => Some(format!("released on {since} only")),
            None => Some(self.hold_short()),
        }
    }

    /// The same in few words.
    pub fn hold_short(&self) -> String {
        self.hold.short(self.release.released().is_some())
    }
}

#[cfg(test)]
mod tests;
