//! How much work the search may do, and who is told how it stands.

use super::Cost;
use crate::quantity::Length;

/// How a search stands.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Progress {
    /// Which of the sizes of tube is searched, from 0.
    pub size: usize,
    best: Cost,
}

impl Progress {
    /// What the best plan so far buys, and what it cuts into in all.
    pub fn best(&self) -> (Length, Length) {
        (super::length(self.best.bought), super::length(self.best.used))
    }
}

/// What a search may spend. Work is counted in steps, not in seconds: the same input with the same steps gives the same
/// plan on every machine. Whoever watches may end it earlier, by a clock; then the plan is the best that was found until
/// then, and what is known of it is what was shown until then.
pub struct Effort<'w> {
    total: usize,
    limit: usize,
    done: usize,
    ended: bool,
    next_look: usize,
    watch: Box<dyn FnMut(&Progress) -> bool + 'w>,
    progress: Progress,
}

/// Whoever watches is asked after so many steps: some hundredths of a second.
const LOOK_EVERY: usize = 10_000_000;

impl std::fmt::Debug for Effort<'_> {
    fn fmt(&self, to: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        to.debug_struct("Effort").field("total", &self.total).field("done", &self.done).finish_non_exhaustive()
    }
}

impl<'w> Effort<'w> {
    /// So many steps where nothing else is said (own choice): some seconds of a small computer. One step is about one
    /// multiplication.
    pub const USUAL: usize = 2_000_000_000;

    /// So many steps at most.
    pub fn steps(steps: usize) -> Self {
        Self::watched(steps, |_| true)
    }

    /// So many steps at most, and who watches: it says whether to go on.
    pub fn watched(steps: usize, watch: impl FnMut(&Progress) -> bool + 'w) -> Self {
        Self {
            total: steps,
            limit: steps,
            done: 0,
            ended: false,
            next_look: LOOK_EVERY,
            watch: Box::new(watch),
            progress: Progress::default(),
        }
    }

    /// What may be spent from here on the next of so many sizes that are left.
    pub(in crate::domain::work::cut_plan) fn share(&mut self, size: usize, left: usize) {
        self.progress = Progress { size, ..Progress::default() };
        self.limit = self.done + self.total.saturating_sub(self.done) / left.max(1);
    }

    /// The best plan so far costs this.
    pub(super) fn tell(&mut self, best: Cost) {
        self.progress.best = best;
    }

    /// Counts work that was done.
    pub(super) fn spend(&mut self, steps: usize) {
        self.done = self.done.saturating_add(steps);
        if self.done >= self.next_look && !self.ended {
            self.next_look = self.done.saturating_add(LOOK_EVERY);
            self.ended = !(self.watch)(&self.progress);
        }
    }

    /// The steps after which a part of the search that may spend so many has spent them.
    pub(super) fn until(&self, more: usize) -> usize {
        self.done.saturating_add(more).min(self.limit)
    }

    /// Whether those are spent, or the search was ended.
    pub(super) fn is_past(&self, until: usize) -> bool {
        self.ended || self.done >= until
    }

    /// Whether nothing is left to spend.
    pub(super) fn is_over(&self) -> bool {
        self.is_past(self.limit)
    }
}
