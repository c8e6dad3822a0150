//! What was accepted of a part in an earlier round, and whether what is shown of it is the same as then: told by what both
//! rounds froze, and by nothing else.

use std::collections::BTreeMap;

use jiff::Timestamp;

use super::frozen::Thing;
use super::issued::of_rest;
use super::{Contents, FORMAT};
use crate::domain::recorded::reviews::PartAnswer;
use crate::domain::recorded::rounds::{Reply, Round};
use crate::domain::words::ids::{Balloon, Kind};

/// That a part was accepted in an earlier round, by an answer that was signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Accepted {
    /// The round.
    pub round: u32,
    /// By whom.
    pub by: String,
    /// When.
    pub at: Timestamp,
    /// What is not as that round showed it; empty where everything frozen of the part is the same.
    pub differs: Vec<String>,
}

impl Accepted {
    /// Whether what is shown of the part is the same as when it was accepted.
    pub const fn same(&self) -> bool {
        self.differs.is_empty()
    }

    /// In a sentence, with the day.
    pub fn describe(&self, day: &str) -> String {
        let Self { round, by, differs, .. } = self;
        if self.same() {
            return format!("Accepted in round {round} by {by} on {day}; what is shown of it is the same as then.");
        }
        let differs = differs.join(", ");
        format!(
            "Accepted in round {round} by {by} on {day}. Not the same as then: {differs}. It is to be answered anew."
        )
    }
}

/// The rounds before one that were answered part by part and signed, the newest first.
#[derive(Debug, Default)]
pub struct Earlier<'f> {
    rounds: Vec<(u32, Option<Contents>, &'f Reply)>,
}

impl<'f> Earlier<'f> {
    /// Those before the round of this number.
    pub fn of(rounds: &[Round], replies: &'f [Reply], before: u32) -> Self {
        let answered = rounds.iter().rev().filter(|round| round.number < before).filter_map(|round| {
            let signed = replies.iter().rfind(|reply| reply.round == round.id && reply.answers.is_some())?;
            Some((round.number, Contents::read(&round.contents), signed))
        });
        Self { rounds: answered.collect() }
    }

    /// What was accepted of a part, where the newest signed answer to it is that it is accepted; none where it is another,
    /// or there is none.
    pub fn accepted(&self, now: &Contents, part: Balloon) -> Option<Accepted> {
        let answered = self.rounds.iter().find_map(|(round, contents, reply)| {
            let answer = reply.answers.iter().flatten().find(|one| one.part == part && one.answer.is_some())?;
            Some((*round, contents, answer))
        });
        let (round, contents, answer) = answered.filter(|one| one.2.answer == Some(PartAnswer::Accepted))?;
        let differs = match contents {
            Some(then) => now.differs_of(then, part),
            None => vec!["what that round showed cannot be read by this program".to_owned()],
        };
        Some(Accepted { round, by: answer.by.clone(), at: answer.at, differs })
    }
}

impl Contents {
    /// What is not as another list froze it of a part and of the bars that it names, in words; empty where nothing differs.
    fn differs_of(&self, then: &Self, part: Balloon) -> Vec<String> {
        if self.tackbook_round < FORMAT || then.tackbook_round < FORMAT {
            return vec!["not all that was shown then was kept".to_owned()];
        }
        let own = |name: &str| name.parse() == Ok(part);
        let ruled = |key: &str| key.split_once(' ').is_some_and(|(_, rest)| own(of_rest(rest)));
        let recorded = |key: &str| Thing::of(key).is_some_and(|thing| thing.at == part);
        let each = [
            ("the rule book", self.book != then.book),
            ("what is said of it", differ(&self.parts, &then.parts, &own)),
            ("its photographs", differ(&self.photos, &then.photos, &own)),
            ("what is drawn over them", differ(&self.drawn, &then.drawn, &own)),
            ("the photographs that are missing", differ(&self.missing, &then.missing, &own)),
            (
                "what the rules say of it",
                differ(&self.verdicts, &then.verdicts, &ruled) || differ(&self.judged, &then.judged, &ruled),
            ),
            ("what is recorded of it", differ(&self.record, &then.record, &recorded)),
            ("what was asked of it", self.questions_of(part) != then.questions_of(part)),
            ("what is asked to be released", self.early != then.early),
        ];
        let mut words: Vec<String> = each.iter().filter(|one| one.1).map(|one| one.0.to_owned()).collect();
        for bar in self.bars_named(part) {
            let own = |name: &str| name.parse() == Ok(bar);
            let recorded = |key: &str| Thing::of(key).is_some_and(|thing| thing.at == bar);
            if differ(&self.parts, &then.parts, &own) || differ(&self.record, &then.record, &recorded) {
                words.push(format!("its bar {bar}"));
            }
        }
        words
    }

    /// The bars that stand in what is said of a part: "M2 onto M1".
    fn bars_named(&self, part: Balloon) -> Vec<Balloon> {
        let words = self.lines_of(part).iter().flat_map(|line| line.split(|c: char| !c.is_ascii_alphanumeric()));
        let mut bars: Vec<Balloon> = words.filter_map(|word| word.parse().ok()).collect();
        bars.retain(|bar| bar.kind == Kind::Member && *bar != part);
        bars.sort();
        bars.dedup();
        bars
    }
}

/// Whether two lists hold something else under the keys that are meant.
fn differ<T: PartialEq>(one: &BTreeMap<String, T>, other: &BTreeMap<String, T>, meant: &dyn Fn(&str) -> bool) -> bool {
    let of = |map: &'_ BTreeMap<String, T>| map.keys().filter(|key| meant(key)).cloned().collect::<Vec<_>>();
    let keys = of(one);
    keys != of(other) || keys.iter().any(|key| one.get(key) != other.get(key))
}
