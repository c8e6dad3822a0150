//! Whether pieces fit into sticks, and how: a search that settles cut after cut and takes each back where it must.
//!
//! Branching on single fillings, as Degraeve and Schrage, "Optimal Integer Solutions to Industrial Cutting Stock
//! Problems", INFORMS Journal on Computing 11 (1999): a cut is made once more, or never again. Each state in which
//! what is left does not fit even in parts (`relaxed`) is left. States with the fewest refusals come first: limited
//! discrepancy search, Harvey and Ginsberg, IJCAI 1995.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::effort::Effort;
use super::greedy;
use super::relaxed::{Cut, Known, Left, NOTHING, Needs, Relaxed, relaxed};
use super::whole;

/// That pieces do not fit into so many sticks of each kind, nor into fewer. Made here alone, where every way was ruled out.
#[derive(Debug, Clone)]
pub(super) struct Ruled(Vec<u32>);

impl Ruled {
    /// The sticks.
    pub(super) fn sticks(&self) -> &[u32] {
        &self.0
    }
}

/// What came of it.
pub(super) enum Fits {
    /// They fit, so.
    Into(Vec<Cut>),
    /// They do not, whatever way they are cut; where there are such, by needs that hold for other sticks too.
    Not(Ruled, Option<Needs>),
    /// It was not settled within what could be spent.
    Open,
}

/// A state of the search.
struct State {
    left: Left,
    /// What is cut so far.
    made: Vec<Cut>,
    /// How often a cut was refused on the way here.
    refused: usize,
    /// In the order in which they came up.
    number: usize,
}

impl State {
    fn rank(&self) -> (std::cmp::Reverse<usize>, usize, std::cmp::Reverse<usize>) {
        (std::cmp::Reverse(self.refused), self.made.len(), std::cmp::Reverse(self.number))
    }
}

impl PartialEq for State {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for State {}

impl PartialOrd for State {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for State {
    fn cmp(&self, other: &Self) -> Ordering {
        self.rank().cmp(&other.rank())
    }
}

/// Whether all pieces fit into these sticks, as many of each kind as are said.
pub(super) fn fits(known: &mut Known<'_>, sticks: &[u32], effort: &mut Effort<'_>, more: usize) -> Fits {
    let until = effort.until(more);
    let pieces = known.pieces.iter().map(|alike| alike.count).collect();
    let left = Left { pieces, sticks: sticks.to_vec(), without: Vec::new() };
    let mut open = BinaryHeap::from([State { left, made: Vec::new(), refused: 0, number: 0 }]);
    let (mut number, mut all_settled) = (0, true);
    while let Some(state) = open.pop() {
        if effort.is_past(until) {
            return Fits::Open;
        }
        let at_first = number == 0 && state.made.is_empty();
        match relaxed(known, &state.left, effort, until) {
            Relaxed::Not(needs) if at_first => return Fits::Not(Ruled(sticks.to_vec()), needs),
            Relaxed::Not(_) => {}
            Relaxed::Open => all_settled = false,
            Relaxed::Parts(parts) => match go_on(known, state, parts, (&mut open, &mut number)) {
                Went::There(made) => return Fits::Into(made),
                Went::On => {}
                Went::Nowhere => all_settled = false,
            },
        }
    }
    if all_settled { Fits::Not(Ruled(sticks.to_vec()), None) } else { Fits::Open }
}

/// How far a state came.
enum Went {
    /// All is cut, so.
    There(Vec<Cut>),
    /// It is to be looked at again, with less left.
    On,
    /// No further, for reasons of rounding alone.
    Nowhere,
}

/// Makes the cuts that stand whole in the parts, then the one that is most nearly whole; what refuses each is put by.
fn go_on(
    known: &Known<'_>,
    mut state: State,
    mut parts: Vec<(f64, Cut)>,
    (open, number): (&mut BinaryHeap<State>, &mut usize),
) -> Went {
    let before = state.made.len();
    let fullness = |cut: &Cut| {
        let size = |(place, count): &(usize, u32)| {
            known.pieces.get(*place).map_or(0.0, |alike| alike.size * f64::from(*count))
        };
        cut.filling.iter().map(size).sum::<f64>()
    };
    let part = |value: f64| value - (value + NOTHING).floor();
    parts.sort_by(|one, two| {
        let by_value = part(two.0).total_cmp(&part(one.0));
        by_value
            .then_with(|| fullness(&two.1).total_cmp(&fullness(&one.1)))
            .then_with(|| one.1.filling.cmp(&two.1.filling))
    });
    let mut make: Vec<Cut> = Vec::new();
    for (value, cut) in &parts {
        make.extend((0..whole(value + NOTHING)).map(|_| cut.clone()));
    }
    let most = parts.first().filter(|one| part(one.0) > NOTHING).map(|one| one.1.clone());
    for cut in make {
        step(&mut state, &cut, (open, number));
    }
    if let Some(rest) = greedy::complete(known, &state.left) {
        state.made.extend(rest);
        return Went::There(state.made);
    }
    if let Some(cut) = most {
        step(&mut state, &cut, (open, number));
    }
    if state.made.len() == before {
        return Went::Nowhere;
    }
    *number += 1;
    state.number = *number;
    open.push(state);
    Went::On
}

/// Makes a cut once more; the state in which it is never made again is put by.
fn step(state: &mut State, cut: &Cut, (open, number): (&mut BinaryHeap<State>, &mut usize)) {
    let left = |place: usize| state.left.pieces.get(place).copied().unwrap_or_default();
    let filling = cut.filling.iter().map(|(place, count)| (*place, (*count).min(left(*place))));
    let cut = Cut { of: cut.of, filling: filling.filter(|one| one.1 > 0).collect() };
    let Some(rest) = without(&state.left, &cut).filter(|_| !cut.filling.is_empty()) else { return };
    let mut other = state.left.clone();
    other.without.push(cut.clone());
    *number += 1;
    open.push(State { left: other, made: state.made.clone(), refused: state.refused + 1, number: *number });
    state.left = rest;
    state.made.push(cut);
}

/// What is left after a cut; none where it cannot be made.
fn without(left: &Left, cut: &Cut) -> Option<Left> {
    let mut rest = left.clone();
    let sticks = rest.sticks.get_mut(cut.of)?;
    *sticks = sticks.checked_sub(1)?;
    for (place, count) in &cut.filling {
        let there = rest.pieces.get_mut(*place)?;
        *there = there.checked_sub(*count)?;
    }
    Some(rest)
}
