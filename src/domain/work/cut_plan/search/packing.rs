//! From quick plans to the best: sticks are chosen, asked about, and ruled out, until none is left to ask about.

use super::choices::{Choices, Level};
use super::choosing::Next;
use super::effort::Effort;
use super::fitting::{Fits, fits};
use super::relaxed::{Cut, Known, Left};
use super::{Alike, Cost, Source, Standing, Sticks, greedy};

/// How the pieces are cut.
#[derive(Debug, Clone)]
pub(in crate::domain::work::cut_plan) struct Packed {
    /// The sticks that are cut into, and the pieces without one, by their places in the lists.
    pub(in crate::domain::work::cut_plan) cuts: Vec<Cut>,
    /// How good that is.
    pub(in crate::domain::work::cut_plan) standing: Standing,
}

/// So much is spent on one choice of sticks at first, and so many times more each time it comes up again.
const FIRST: usize = 30_000_000;
const MORE: usize = 6;
/// What a look for a choice of sticks costs.
const LOOK: usize = 100;
/// So many choices are left open before those are looked at again.
const OPEN: usize = 40;

/// Cuts pieces, the largest first in the list, from sticks: the shop's, the shortest first, those to buy, and nowhere.
/// Every piece fits into a stick to buy, or may go without.
pub(in crate::domain::work::cut_plan) fn pack(pieces: &[Alike], sticks: &[Sticks], effort: &mut Effort<'_>) -> Packed {
    let mut search = Search::begun(pieces, sticks);
    let mut allowed = FIRST;
    loop {
        effort.tell(search.cost);
        search.levels(effort, allowed);
        search.lengths(effort, allowed);
        let standing = search.standing();
        if standing.is_proven() || effort.is_over() || !search.has_open() {
            return Packed { standing, cuts: search.best };
        }
        allowed = allowed.saturating_mul(MORE);
    }
}

struct Search<'a> {
    known: Known<'a>,
    choices: Choices<'a>,
    best: Vec<Cut>,
    cost: Cost,
}

impl<'a> Search<'a> {
    fn begun(pieces: &'a [Alike], sticks: &'a [Sticks]) -> Self {
        let left = Left {
            pieces: pieces.iter().map(|alike| alike.count).collect(),
            sticks: sticks.iter().map(|one| one.count).collect(),
            without: Vec::new(),
        };
        let costed = greedy::ways(pieces, sticks, &left).map(|cuts| (cost_of(&cuts, sticks), cuts));
        let best = costed.min_by(|one, two| one.0.cmp(&two.0));
        // Nothing that is known reaches this cost: were there no plan, nothing would be proven of it.
        let (cost, best) = best.unwrap_or((Cost { without: f64::INFINITY, ..Cost::default() }, Vec::new()));
        let mut known = Known::new(pieces, sticks);
        for cut in &best {
            known.keep(cut.clone());
        }
        Self { known, choices: Choices::new(pieces, sticks), best, cost }
    }

    /// How many pieces are without a stick in the best plan, and how many sticks are to buy.
    fn reached(&self) -> Level {
        let of = |source: Source| {
            let has = |cut: &&Cut| self.known.sticks.get(cut.of).is_some_and(|one| one.source == source);
            u32::try_from(self.best.iter().filter(has).count()).unwrap_or(u32::MAX)
        };
        Level { without: of(Source::Nowhere), bought: of(Source::Bought) }
    }

    /// Whether the pieces fit into these sticks; what comes of it is kept.
    fn ask(&mut self, choice: &[u32], effort: &mut Effort<'_>, allowed: usize) -> bool {
        match fits(&mut self.known, choice, effort, allowed) {
            Fits::Into(cuts) => {
                let cost = cost_of(&cuts, self.known.sticks);
                if cost.cmp(&self.cost).is_lt() {
                    (self.best, self.cost) = (cuts, cost);
                    effort.tell(cost);
                }
                true
            }
            Fits::Not(ruled, needs) => {
                self.choices.known.rule_out(ruled, needs);
                false
            }
            Fits::Open => false,
        }
    }

    /// Asks, from what is ruled out upwards, for fewer pieces without a stick and then for fewer sticks to buy.
    fn levels(&mut self, effort: &mut Effort<'_>, allowed: usize) {
        let mut now = self.choices.level(self.reached());
        while !effort.is_over() {
            let reached = self.reached();
            let asks_without = now.without < reached.without;
            if !asks_without && now.bought >= reached.bought {
                return;
            }
            let all = self.choices.all(now.without, (!asks_without).then_some(now.bought));
            if !self.choices.known.is_ruled_out(&all) && self.ask(&all, effort, allowed) {
                continue;
            }
            if asks_without {
                now.without += 1;
            } else {
                now.bought += 1;
            }
        }
    }

    /// With as few without a stick and to buy as are reached, asks for choices that cut into less, the shortest first.
    fn lengths(&mut self, effort: &mut Effort<'_>, allowed: usize) {
        let open: Vec<Vec<u32>> = self.choices.open(self.reached()).cloned().collect();
        for choice in open {
            self.settle(choice, effort, allowed);
        }
        while !effort.is_over() && self.choices.open(self.reached()).count() < OPEN {
            let (next, looks) = self.choices.next(self.reached(), self.cost.used);
            effort.spend(looks.saturating_mul(LOOK));
            let (Next::Choice(choice) | Next::GivenUp(Some(choice))) = next else { return };
            self.settle(choice, effort, allowed);
        }
    }

    /// Whether something was looked at and not settled, for which more effort may do.
    fn has_open(&mut self) -> bool {
        let reached = self.reached();
        self.choices.level(reached) != reached || self.choices.open(reached).next().is_some()
    }

    fn settle(&mut self, choice: Vec<u32>, effort: &mut Effort<'_>, allowed: usize) {
        let better = self.choices.known.length(&choice) < self.cost.used;
        let does = better && !self.choices.known.is_ruled_out(&choice) && self.ask(&choice, effort, allowed);
        if !better || does || self.choices.known.is_ruled_out(&choice) {
            self.choices.known.close(&choice);
        } else {
            self.choices.known.leave_open(choice);
        }
    }

    fn standing(&mut self) -> Standing {
        Standing { cost: self.cost, least: self.choices.bound(self.reached(), self.cost) }
    }
}

fn cost_of(cuts: &[Cut], sticks: &[Sticks]) -> Cost {
    let mut cost = Cost::default();
    for one in cuts.iter().filter_map(|cut| sticks.get(cut.of)) {
        match one.source {
            Source::Nowhere => cost.without += 1.0,
            Source::Bought => cost.bought += one.length,
            Source::Own => {}
        }
        cost.used += one.length;
    }
    cost
}
