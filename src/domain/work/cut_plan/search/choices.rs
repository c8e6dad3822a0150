//! What is known of choices of sticks, and what follows from it: that no plan costs less than so much.
//!
//! As in Hooker and Ottosson, "Logic-based Benders decomposition", Mathematical Programming 96 (2003): a choice that does
//! not do leaves behind needs, which rule out others without a look at their pieces.

use super::choosing;
use super::choosing::Next;
use super::ruled_out::{Ranges, RuledOut};
use super::{Alike, Cost, Source, Sticks};

/// So many pieces without a stick, and so many sticks to buy.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Level {
    pub(super) without: u32,
    pub(super) bought: u32,
}

/// What no plan undercuts. Made in this file alone, of choices that are ruled out; a plan is proven by nothing else.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::domain::work::cut_plan) struct Bound(Cost);

impl Bound {
    /// The cost that none undercuts.
    pub(super) fn cost(self) -> Cost {
        self.0
    }
}

/// What is known of choices of sticks: so many of each kind.
pub(super) struct Choices<'a> {
    /// Which are ruled out, and which are open.
    pub(super) known: RuledOut<'a>,
    /// Fewer pieces without a stick are ruled out, and with as few as that fewer sticks to buy.
    level: Level,
    /// At this level all choices shorter than this are ruled out or open.
    floor: (Level, f64),
    /// More are never bought.
    most: u32,
}

impl<'a> Choices<'a> {
    /// Nothing is known but that pieces have lengths.
    pub(super) fn new(pieces: &[Alike], sticks: &'a [Sticks]) -> Self {
        let level = Level::default();
        let most = pieces.iter().map(|alike| alike.count).sum();
        Self { known: RuledOut::new(pieces, sticks), level, floor: (level, 0.0), most }
    }

    /// Those of a level that were looked at and not settled.
    pub(super) fn open(&self, level: Level) -> impl Iterator<Item = &Vec<u32>> {
        self.known.open().filter(move |choice| self.level_of(choice) == level)
    }

    fn level_of(&self, choice: &[u32]) -> Level {
        let of = |source: Source| {
            choice.iter().zip(self.known.sticks).filter(|(_, one)| one.source == source).map(|(count, _)| *count).sum()
        };
        Level { without: of(Source::Nowhere), bought: of(Source::Bought) }
    }

    /// So many of those to buy and of nowhere, between none and all of the others.
    fn ranges(&self, without: (u32, u32), bought: (u32, u32)) -> Ranges {
        let of = |one: &Sticks| match one.source {
            Source::Own => (0, one.count),
            Source::Bought => bought,
            Source::Nowhere => without,
        };
        self.known.sticks.iter().map(of).collect()
    }

    /// All of the shop's sticks, with as many to buy and pieces without one; to buy as many as may be of use where none
    /// are said.
    pub(super) fn all(&self, without: u32, bought: Option<u32>) -> Vec<u32> {
        let ranges = self.ranges((0, without), (0, bought.unwrap_or(self.most)));
        ranges.into_iter().map(|range| range.1).collect()
    }

    /// The level up to which all is ruled out, the level reached by a plan at most.
    pub(super) fn level(&mut self, reached: Level) -> Level {
        while self.level.without < reached.without && self.known.is_ruled_out(&self.all(self.level.without, None)) {
            self.level.without += 1;
        }
        while self.level.without == reached.without
            && self.level.bought < reached.bought
            && self.known.is_ruled_out(&self.all(self.level.without, Some(self.level.bought)))
        {
            self.level.bought += 1;
        }
        self.level
    }

    /// The shortest choice at a level and under a length that is neither ruled out nor open, and how many looks it took.
    pub(super) fn next(&mut self, level: Level, under: f64) -> (Next, usize) {
        let exactly = |count: u32| (count, count);
        let ranges = self.ranges(exactly(level.without), exactly(level.bought));
        let (next, looks) = choosing::next(&self.known, &ranges, under);
        match &next {
            Next::Choice(choice) => self.floor = (level, self.known.length(choice)),
            Next::Nothing => self.floor = (level, under),
            Next::GivenUp(_) => {}
        }
        (next, looks)
    }

    /// What no plan undercuts, by all that is known; of a plan at a level that cuts into so much.
    pub(super) fn bound(&mut self, reached: Level, cost: Cost) -> Bound {
        let level = self.level(reached);
        let exactly = |count: u32| (count, count);
        let stick = self.known.sticks.iter().find(|one| one.source == Source::Bought).map_or(0.0, |one| one.length);
        let without = f64::from(level.without);
        if level.without < reached.without {
            let ranges = self.ranges((level.without, reached.without), (0, self.most));
            return Bound(Cost { without, bought: 0.0, used: choosing::least(&self.known, &ranges).min(cost.used) });
        }
        let bought = f64::from(level.bought) * stick;
        if level.bought < reached.bought {
            let ranges = self.ranges(exactly(level.without), (level.bought, reached.bought));
            return Bound(Cost { without, bought, used: choosing::least(&self.known, &ranges).min(cost.used) });
        }
        let ranges = self.ranges(exactly(level.without), exactly(level.bought));
        let floor = if self.floor.0 == reached { self.floor.1 } else { 0.0 };
        let used = floor.max(choosing::least(&self.known, &ranges));
        let open = self.open(reached).map(|choice| self.known.length(choice));
        Bound(Cost { without, bought, used: open.fold(used, f64::min).min(cost.used) })
    }
}
