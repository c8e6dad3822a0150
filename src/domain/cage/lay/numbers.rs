//! Numbers of bars, joints, gussets and plates: given out once, kept by key, never changed.

use std::collections::BTreeMap;

use super::draft::Draft;
use super::joints::Meeting;
use super::laid_out::lay_out;
use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::fittings::{Foot, Tubes};
use crate::domain::cage::record::measures::Hand;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::ids::{Balloon, Kind};

/// The numbers of all parts, by key.
pub(in crate::domain::cage) struct Numbers(pub(in crate::domain::cage) BTreeMap<String, Balloon>);

impl Numbers {
    pub(in crate::domain::cage) fn of(&self, key: &str) -> Option<Balloon> {
        self.0.get(key).copied()
    }
}

/// The key of the plate under a foot.
pub(in crate::domain::cage) fn plate_key(foot: Foot, hand: Hand) -> String {
    format!("plate/{}/{}", foot.key(), hand.word())
}

/// The key of the same part on the other side of the car; of one that is on neither side, its own.
pub fn other_side(key: &str) -> String {
    match (key.contains("/left"), key.contains("/right")) {
        (true, false) => key.replace("/left", "/right"),
        (false, true) => key.replace("/right", "/left"),
        _ => key.to_owned(),
    }
}

/// The number of a key: the one it has, or the next of its kind.
fn number(numbers: &mut BTreeMap<String, Balloon>, kind: Kind, key: &str) -> Balloon {
    if let Some(given) = numbers.get(key).filter(|given| given.kind == kind) {
        return *given;
    }
    let last = numbers.values().filter(|given| given.kind == kind).map(|given| given.number).max();
    let next = Balloon::new(kind, last.unwrap_or(0).saturating_add(1));
    numbers.insert(key.to_owned(), next);
    next
}

/// Gives numbers to all that has none yet: bars in structural order, then joints, gussets, plates.
pub(in crate::domain::cage) fn give_out(
    numbers: &mut BTreeMap<String, Balloon>,
    draft: &Draft<'_>,
    meetings: &[Meeting],
) {
    for key in &draft.wanted {
        number(numbers, Kind::Member, key);
    }
    for meeting in meetings {
        if !meeting.keys().any(|key| numbers.contains_key(&key))
            && let Some(first) = meeting.keys().next()
        {
            number(numbers, Kind::Joint, &first);
        }
    }
    for gusset in &draft.record.gussets {
        number(numbers, Kind::Gusset, &gusset.key());
    }
    for foot in Foot::ALL {
        for hand in Hand::BOTH {
            number(numbers, Kind::Plate, &plate_key(foot, hand));
        }
    }
}

impl CageRecord {
    /// The record with the numbers that a build gave out already; of its own those whose part has none there yet, and which
    /// stand for nothing else there. A number on a sticker or a photograph never comes to mean another part.
    #[must_use]
    pub fn with_numbers_of(&self, build: &Self) -> Self {
        let mut numbers = build.numbers.clone();
        for (key, balloon) in &self.numbers {
            if !numbers.contains_key(key) && !numbers.values().any(|given| given == balloon) {
                numbers.insert(key.clone(), *balloon);
            }
        }
        Self { numbers, ..self.clone() }
    }

    /// The record with its joints numbered anew, as if it had been measured in one go. Only while nothing names a joint and
    /// measurements are still missing: joints that come as one measures would be numbered in the order of the tape.
    #[must_use]
    pub fn numbered_anew(&self) -> Self {
        let numbers = self.numbers.iter().filter(|(_, given)| given.kind != Kind::Joint);
        let numbers = numbers.map(|(key, given)| (key.clone(), *given)).collect();
        Self { numbers, ..self.clone() }.numbered()
    }

    /// The record with numbers for all that has none yet; those given out stay. The sizes matter only where ends lie so
    /// near each other that a wider carrier makes one joint of them: 1.5 in is taken.
    #[must_use]
    pub fn numbered(&self) -> Self {
        let tube = TubeSize::inch(1.5, 0.120);
        self.numbered_for(&Tubes::new(tube, tube))
    }

    /// The same for the tubes that will be used.
    #[must_use]
    pub fn numbered_for(&self, tubes: &Tubes) -> Self {
        let draft = lay_out(self, tubes);
        let meetings = super::joints::meetings(&draft);
        let mut numbers = self.numbers.clone();
        give_out(&mut numbers, &draft, &meetings);
        Self { numbers, ..self.clone() }
    }
}
