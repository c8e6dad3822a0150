//! What turns between two judgings of a build: the verdicts whose word is another, the parts that came, went or have
//! another number.

use std::collections::{BTreeMap, HashMap};

use super::Worked;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::measure::measures::Measure;
use crate::domain::words::ids::Balloon;

/// A verdict's place: its rule, its part by a name that is the same in both judgings, its measure.
type Key = (String, Option<String>, Option<Measure>);
/// What a verdict was and is; none where the one judging does not ask it.
pub type Pair<'v> = (Option<&'v Verdict>, Option<&'v Verdict>);

/// The verdicts whose word is another, in the later judging's order, then those that are gone; and how many keep their word
/// by another limit. `names` says what a part is called in the earlier and in the later judging.
pub fn paired<'v>(
    before: &'v [Verdict],
    after: &'v [Verdict],
    names: [&dyn Fn(Balloon) -> String; 2],
) -> (Vec<Pair<'v>>, usize) {
    let [earlier, later] = names;
    let key = |verdict: &Verdict, name: &dyn Fn(Balloon) -> String| -> Key {
        (verdict.rule_id.clone(), verdict.of.map(name), verdict.measure)
    };
    // A rule may ask the same figure of a part twice, with another limit: such verdicts are paired in their order.
    let mut left: HashMap<Key, Vec<(usize, &Verdict)>> = HashMap::new();
    for (place, verdict) in before.iter().enumerate().rev() {
        left.entry(key(verdict, earlier)).or_default().push((place, verdict));
    }
    let mut changes = Vec::new();
    let mut other_limits = 0;
    for is in after {
        let was = left.get_mut(&key(is, later)).and_then(Vec::pop).map(|was| was.1);
        let word = |verdict: &Verdict| (verdict.word, verdict.state());
        match was {
            Some(was) if word(was) == word(is) => {
                other_limits += usize::from(was.limit != is.limit);
            }
            // What is not asked of this car in either is no change.
            None if is.state() == Word::NotAsked => {}
            _ => changes.push((was, Some(is))),
        }
    }
    let gone = left.into_values().flatten().filter(|(_, was)| was.state() != Word::NotAsked);
    let gone: BTreeMap<usize, &Verdict> = gone.collect();
    changes.extend(gone.into_values().map(|was| (Some(was), None)));
    (changes, other_limits)
}

/// A rule whose word turned, for all the parts of which it turned alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Turn {
    /// What it said of the first of them; none where it did not ask it.
    pub was: Option<Verdict>,
    /// What it says of the first of them; none where it does not ask it any more.
    pub is: Option<Verdict>,
    /// The parts, none for a rule of the whole car.
    pub of: Vec<Balloon>,
    /// For how many parts, the whole car counted as one.
    pub alike: usize,
}

impl Turn {
    /// What it says now, or said where it says nothing more.
    pub fn either(&self) -> Option<&Verdict> {
        self.is.as_ref().or(self.was.as_ref())
    }

    /// How soon it wants to be read: what breaks a rule first, then what meets one, then what is only missing, then what is
    /// no longer asked.
    fn rank(&self) -> u8 {
        match self.is.as_ref().map(Verdict::state) {
            Some(state) if state.fails() => 0,
            Some(Word::TooClose) => 1,
            Some(Word::Meets | Word::ScrutineerDecides) => 2,
            Some(Word::NotMeasured) => 3,
            Some(Word::NoPhoto) => 4,
            _ => 5,
        }
    }

    fn is_like(&self, (was, is): &Pair<'_>) -> bool {
        let words = |verdict: Option<&Verdict>| verdict.map(|verdict| (verdict.word, verdict.state()));
        let rule = |verdict: Option<&Verdict>| verdict.map(|verdict| verdict.rule_id.clone());
        words(self.was.as_ref()) == words(*was)
            && words(self.is.as_ref()) == words(*is)
            && rule(self.either()) == rule(is.or(*was))
    }
}

/// What of a build is another with another cage.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Turned {
    /// The rules whose word turned, what breaks one first.
    pub verdicts: Vec<Turn>,
    /// The parts that are laid out now and were not.
    pub came: Vec<Balloon>,
    /// The parts that were laid out and are not.
    pub went: Vec<Balloon>,
    /// The parts with another number: the one they had and the one they have.
    pub renumbered: Vec<(Balloon, Balloon)>,
    /// Whether both cages are wholly laid out: only then is a part that comes known to be new, and one that goes to be gone.
    pub whole: bool,
}

impl Turned {
    /// From what followed and what follows.
    pub fn of(before: &Worked, after: &Worked) -> Self {
        let (earlier, later) = (|of| before.key_of(of), |of| after.key_of(of));
        let (pairs, _) = paired(&before.verdicts, &after.verdicts, [&earlier, &later]);
        let mut verdicts: Vec<Turn> = Vec::new();
        for pair in pairs {
            let of = pair.1.or(pair.0).and_then(|verdict| verdict.of);
            match verdicts.iter_mut().find(|turn| turn.is_like(&pair)) {
                Some(turn) => {
                    turn.alike += 1;
                    turn.of.extend(of);
                }
                None => verdicts.push(Turn {
                    was: pair.0.cloned(),
                    is: pair.1.cloned(),
                    of: of.into_iter().collect(),
                    alike: 1,
                }),
            }
        }
        verdicts.sort_by_key(Turn::rank);
        let (was, is) = (before.parts_by_key(), after.parts_by_key());
        let only = |these: &BTreeMap<String, Balloon>, others: &BTreeMap<String, Balloon>| {
            let mut only: Vec<Balloon> =
                these.iter().filter(|(key, _)| !others.contains_key(*key)).map(|one| *one.1).collect();
            only.sort_unstable();
            only
        };
        let renumbered = is.iter().filter_map(|(key, now)| Some((*was.get(key)?, *now)));
        Self {
            verdicts,
            came: only(&is, &was),
            went: only(&was, &is),
            renumbered: renumbered.filter(|(then, now)| then != now).collect(),
            whole: before.cage.whole && after.cage.whole,
        }
    }
}

impl Worked {
    /// What a part is known by whatever its number: its key in the cage's record; of what is in no cage, its number.
    fn key_of(&self, of: Balloon) -> String {
        self.record.key_of(of).map_or_else(|| of.to_string(), str::to_owned)
    }

    /// The parts that are laid out, by their keys.
    fn parts_by_key(&self) -> BTreeMap<String, Balloon> {
        let cage = &self.cage;
        let bars = cage.members.iter().map(|bar| bar.balloon).chain(cage.joints.iter().map(|joint| joint.balloon));
        let others = cage.gussets.iter().map(|gusset| gusset.balloon);
        let others = others.chain(cage.plates.iter().map(|plate| plate.balloon));
        bars.chain(others).map(|of| (self.key_of(of), of)).collect()
    }
}
