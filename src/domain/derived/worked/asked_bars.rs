//! Which clauses of the book ask for a kind of bar, by the very verdicts that it is judged by.

use super::Worked;
use crate::domain::book::Force;
use crate::domain::book::kinds::MemberNeeded;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::words::roles::MemberRole;

/// A clause that names a kind of bar, and what it says of this car.
#[derive(Debug, Clone, PartialEq)]
pub struct Asking<'w> {
    /// The rule.
    pub needed: &'w MemberNeeded,
    /// What it says.
    pub verdict: &'w Verdict,
}

impl Asking<'_> {
    /// The clause and what it asks: "3.9 asks for at least one", "3.8 advises at least one on each side".
    pub fn describe(&self) -> String {
        let needed = self.needed;
        let asks = match (self.asked(), needed.rule.force) {
            (Some(false), _) => return format!("{} does not ask it of this car", needed.rule.clause),
            (_, Force::May) => return format!("{} allows it, and does not ask for it", needed.rule.clause),
            (None, _) => "may ask for",
            (_, Force::Must) => "asks for",
            (_, Force::Should) => "advises",
            (_, Force::Scrutineer) => "lets the scrutineer decide on",
        };
        let bars = if needed.either.is_empty() { String::new() } else { format!(" {}", needed.bars()) };
        let sides = if needed.each_side { " on each side" } else { "" };
        let unknown = if self.asked().is_none() { "; what decides it is not known yet" } else { "" };
        format!("{} {asks} at least {}{bars}{sides}{unknown}", needed.rule.clause, in_words(needed.count))
    }

    /// Whether it is asked of this car; none while what decides that is not known.
    pub fn asked(&self) -> Option<bool> {
        match self.verdict.state() {
            Word::NotAsked => Some(false),
            // Judging names what is asked for as soon as it is known to be asked.
            _ => self.verdict.limit.as_ref().map(|_| true),
        }
    }
}

impl Worked {
    /// The clauses that ask for bars of this kind, in the book's order; none without a book that reads.
    pub fn asking_for(&self, role: MemberRole) -> Option<Vec<Asking<'_>>> {
        let rules = self.rules.as_ref()?;
        let asking = rules.members.iter().filter(|needed| needed.takes(role)).filter_map(|needed| {
            let verdict = self.verdicts.iter().find(|verdict| verdict.rule_id == needed.rule.id)?;
            Some(Asking { needed, verdict })
        });
        Some(asking.collect())
    }
}

fn in_words(count: u32) -> String {
    let words = ["one", "two", "three", "four", "five", "six"];
    let place = usize::try_from(count).ok().and_then(|count| count.checked_sub(1));
    place.and_then(|place| words.get(place)).map_or_else(|| count.to_string(), |word| (*word).to_owned())
}
