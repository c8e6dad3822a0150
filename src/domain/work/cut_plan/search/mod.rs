//! The search for the plan that leaves fewest pieces without a stick, of those that buys least, of those that cuts into
//! least: sticks are chosen (`choosing`), and whether the pieces fit into them is settled (`fitting`).

mod choices;
mod choosing;
mod effort;
mod filling;
mod fitting;
mod greedy;
mod packing;
mod relaxed;
mod ruled_out;
mod simplex;

use std::cmp::Ordering;

use crate::quantity::Length;

pub use effort::{Effort, Progress};
pub(super) use packing::pack;

/// Pieces of one size, a saw cut added to each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Alike {
    /// Piece and saw cut, whole micrometres.
    pub(super) size: f64,
    /// How many.
    pub(super) count: u32,
}

/// Where a stick comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Source {
    /// The shop has it.
    Own,
    /// It is to buy, as many as are wanted.
    Bought,
    /// There is none: so stands a piece too long for what is bought that is left without a stick.
    Nowhere,
}

/// Sticks of one length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Sticks {
    /// What fits into one: its length less its trims, and a saw cut, for the last piece needs none.
    pub(super) room: f64,
    /// Its length, whole micrometres.
    pub(super) length: f64,
    /// How many there are.
    pub(super) count: u32,
    /// Where they come from.
    pub(super) source: Source,
}

/// What fits into a stick that is bought.
fn room_bought(sticks: &[Sticks]) -> f64 {
    sticks.iter().find(|one| one.source == Source::Bought).map_or(0.0, |one| one.room)
}

/// What a plan costs, in the order of what counts.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Cost {
    /// Pieces without a stick.
    pub(super) without: f64,
    /// Length to buy.
    pub(super) bought: f64,
    /// Length of all sticks cut into, what is bought included.
    pub(super) used: f64,
}

impl Cost {
    fn cmp(&self, other: &Self) -> Ordering {
        let first = self.without.total_cmp(&other.without).then(self.bought.total_cmp(&other.bought));
        first.then(self.used.total_cmp(&other.used))
    }
}

/// How good a plan is known to be. Only the search makes one, of what it ruled out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    cost: Cost,
    least: choices::Bound,
}

impl Standing {
    /// Whether no plan is better: the cost of this one is what none undercuts.
    pub fn is_proven(&self) -> bool {
        self.cost.cmp(&self.least.cost()).is_le()
    }

    /// No plan leaves fewer pieces without a stick than this; those longer than every stick apart.
    pub fn least_without(&self) -> f64 {
        self.least.cost().without
    }

    /// No plan that leaves as few without a stick buys less than this.
    pub fn least_to_buy(&self) -> Length {
        length(self.least.cost().bought)
    }

    /// No plan that leaves and buys as little cuts into less than this.
    pub fn least_cut_into(&self) -> Length {
        length(self.least.cost().used)
    }
}

/// A length in whole micrometres.
fn length(micrometres: f64) -> Length {
    Length::from_mm(micrometres / 1000.0)
}

/// A number that is not negative as a count: what is over its whole part is left off.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded below and above")]
fn whole(value: f64) -> u32 {
    value.clamp(0.0, f64::from(u32::MAX)) as u32
}
