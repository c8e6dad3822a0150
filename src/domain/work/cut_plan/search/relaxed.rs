//! Whether pieces fit into sticks when a filling may be cut in part: the first and strongest thing to ask.
//!
//! Column generation after Gilmore and Gomory, "A Linear Programming Approach to the Cutting-Stock Problem", Operations
//! Research 9 (1961): a column is a filling of one stick; new ones come from the prices of the pieces (`filling`). That
//! pieces do not fit is never taken from rounded figures: the prices are rounded down to whole numbers, the dearest
//! filling of every stick is searched for at these, and what all sticks together can be worth is less than what the
//! pieces are worth. That holds for any prices.

use std::collections::HashSet;

use super::effort::Effort;
use super::filling::{Filling, Knapsack, best};
use super::simplex::{Column, Simplex};
use super::{Alike, Source, Sticks, room_bought};

/// Prices are whole multiples of one to so many.
const SCALE: f64 = 1_073_741_824.0;

/// Columns are brought in so many at once before it is asked whether to go on, and so many times at most: a programme
/// that goes round in circles is left, which proves nothing.
const AT_ONCE: usize = 20;
const PIVOTS: usize = 400;

/// Less than this of a piece is none.
pub(super) const NOTHING: f64 = 1e-6;

/// A stick of one kind with its filling.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(in crate::domain::work::cut_plan) struct Cut {
    /// One of these sticks.
    pub(in crate::domain::work::cut_plan) of: usize,
    /// Its pieces.
    pub(in crate::domain::work::cut_plan) filling: Filling,
}

/// The pieces and the sticks, and all fillings that were of use so far.
pub(super) struct Known<'a> {
    pub(super) pieces: &'a [Alike],
    pub(super) sticks: &'a [Sticks],
    pub(super) cuts: Vec<Cut>,
    there: HashSet<Cut>,
}

impl<'a> Known<'a> {
    pub(super) fn new(pieces: &'a [Alike], sticks: &'a [Sticks]) -> Self {
        Self { pieces, sticks, cuts: Vec::new(), there: HashSet::new() }
    }

    pub(super) fn keep(&mut self, cut: Cut) {
        if self.there.insert(cut.clone()) {
            self.cuts.push(cut);
        }
    }
}

/// What is left to fit: pieces, sticks, and cuts that are ruled out.
#[derive(Clone, Default)]
pub(super) struct Left {
    /// Pieces of each size.
    pub(super) pieces: Vec<u32>,
    /// Sticks of each kind.
    pub(super) sticks: Vec<u32>,
    /// None of these is made.
    pub(super) without: Vec<Cut>,
}

/// Whole prices at which the pieces are worth more than what the sticks can hold: they do not fit.
///
/// For every choice of sticks: where the pieces fit, the sum of what its sticks can be worth is at least what the pieces
/// are worth. Made in this file alone, for all pieces, with no cut ruled out.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Needs {
    needed: f64,
    gives: Vec<f64>,
}

impl Needs {
    /// Pieces are worth their sizes, and a stick holds no more than its room.
    pub(super) fn of_length(pieces: &[Alike], sticks: &[Sticks]) -> Self {
        let longest = longest_without(pieces, sticks);
        let gives = |one: &Sticks| if one.source == Source::Nowhere { longest } else { one.room };
        Self {
            needed: pieces.iter().map(|alike| alike.size * f64::from(alike.count)).sum(),
            gives: sticks.iter().map(gives).collect(),
        }
    }

    /// What the pieces are worth.
    pub(super) fn needed(&self) -> f64 {
        self.needed
    }

    /// What a stick of a kind can be worth at most.
    pub(super) fn gives(&self, kind: usize) -> f64 {
        self.gives.get(kind).copied().unwrap_or(f64::INFINITY)
    }

    /// Whether so many sticks of each kind cannot be worth as much as the pieces.
    pub(super) fn are_more_than(&self, choice: &[u32]) -> bool {
        worth_of(choice, &self.gives) < self.needed
    }
}

/// The size of the longest piece, where one may go without a stick.
fn longest_without(pieces: &[Alike], sticks: &[Sticks]) -> f64 {
    let bought = room_bought(sticks);
    pieces.iter().map(|alike| alike.size).filter(|size| *size > bought).fold(0.0, f64::max)
}

/// What came of it.
pub(super) enum Relaxed {
    /// They do not fit, not even in parts; with needs that hold for all sticks where nothing was cut or ruled out before.
    Not(Option<Needs>),
    /// They fit in parts: how often each cut.
    Parts(Vec<(f64, Cut)>),
    /// It was not settled.
    Open,
}

/// Whether what is left fits when cuts are made in parts; of those ways one that cuts into little.
pub(super) fn relaxed(known: &mut Known<'_>, left: &Left, effort: &mut Effort<'_>, until: usize) -> Relaxed {
    let mut programme = Programme::of(known, left);
    if let Some(settled) = programme.fit(known, effort, until) {
        return settled;
    }
    programme.shorten(known, effort, until);
    Relaxed::Parts(programme.parts())
}

struct Programme<'l> {
    left: &'l Left,
    simplex: Simplex,
    /// The row of each size of piece and of each kind of stick that is left.
    piece_rows: Vec<Option<usize>>,
    stick_rows: Vec<Option<usize>>,
    /// The cut that each column after the first ones stands for.
    made: Vec<Cut>,
    first: usize,
    known: HashSet<Cut>,
    longest: f64,
}

/// What the dearest fillings at some prices came to.
struct Priced {
    worth: Vec<f64>,
    gives: Vec<f64>,
    better: bool,
}

impl<'l> Programme<'l> {
    fn of(known: &Known<'_>, left: &'l Left) -> Self {
        let longest = known.sticks.iter().map(|one| one.length).fold(1.0, f64::max);
        let mut rows = 0;
        let mut row = |count: &u32| {
            (*count > 0).then(|| {
                rows += 1;
                rows - 1
            })
        };
        let piece_rows: Vec<Option<usize>> = left.pieces.iter().map(&mut row).collect();
        let stick_rows: Vec<Option<usize>> = left.sticks.iter().map(&mut row).collect();
        let counts = left.pieces.iter().chain(&left.sticks).filter(|count| **count > 0);
        let wanted: Vec<f64> = counts.map(|count| f64::from(*count)).collect();
        let lack = |(alike, row): (&Alike, &Option<usize>)| {
            row.map(|row| Column { entries: vec![(row, 1.0)], cost: alike.size / longest, lack: true })
        };
        let mut first: Vec<Column> = known.pieces.iter().zip(&piece_rows).filter_map(lack).collect();
        let spare = |row: &Option<usize>| row.map(|row| Column { entries: vec![(row, 1.0)], cost: 0.0, lack: false });
        first.extend(stick_rows.iter().filter_map(spare));
        let mut simplex = Simplex::new(&wanted, first);
        for row in piece_rows.iter().flatten() {
            simplex.add(Column { entries: vec![(*row, -1.0)], cost: 0.0, lack: false });
        }
        let first = wanted.len() + piece_rows.iter().flatten().count();
        let (made, there) = (Vec::new(), HashSet::new());
        let mut programme = Self { left, simplex, piece_rows, stick_rows, made, first, known: there, longest };
        for cut in &known.cuts {
            programme.offer(cut, 0.0);
        }
        programme
    }

    /// Takes up a cut, as far as its pieces are left.
    fn offer(&mut self, cut: &Cut, cost: f64) -> bool {
        let Some(Some(stick)) = self.stick_rows.get(cut.of).copied() else { return false };
        let left = |place: usize| self.left.pieces.get(place).copied().unwrap_or_default();
        let filling = cut.filling.iter().map(|(place, count)| (*place, (*count).min(left(*place))));
        let cut = Cut { of: cut.of, filling: filling.filter(|one| one.1 > 0).collect() };
        if cut.filling.is_empty() || self.left.without.contains(&cut) || self.known.contains(&cut) {
            return false;
        }
        let row = |(place, count): &(usize, u32)| {
            self.piece_rows.get(*place).copied().flatten().map(|row| (row, f64::from(*count)))
        };
        let mut entries: Vec<(usize, f64)> = cut.filling.iter().filter_map(row).collect();
        entries.push((stick, 1.0));
        self.simplex.add(Column { entries, cost, lack: false });
        self.known.insert(cut.clone());
        self.made.push(cut);
        true
    }

    /// Brings in what is known until nothing makes it cheaper, within what may be spent.
    fn settle(&mut self, effort: &mut Effort<'_>, until: usize) {
        for _ in 0..PIVOTS {
            let settled = self.simplex.settle(AT_ONCE);
            effort.spend(self.simplex.steps());
            if settled || effort.is_past(until) {
                return;
            }
        }
    }

    /// Makes what is lacking as little as can be; none where nothing is lacking in the end.
    fn fit(&mut self, known: &mut Known<'_>, effort: &mut Effort<'_>, until: usize) -> Option<Relaxed> {
        loop {
            self.settle(effort, until);
            if self.simplex.lacking() < NOTHING {
                return None;
            }
            if effort.is_past(until) {
                return Some(Relaxed::Open);
            }
            let priced = self.price(known, effort, |_| 0.0);
            if self.is_too_much(&priced) {
                return Some(Relaxed::Not(self.needs(known, priced)));
            }
            if !priced.better {
                return Some(Relaxed::Open);
            }
        }
    }

    /// Among the ways that fit one that cuts into little.
    fn shorten(&mut self, known: &mut Known<'_>, effort: &mut Effort<'_>, until: usize) {
        let lengths: Vec<f64> = known.sticks.iter().map(|one| one.length / self.longest).collect();
        let length = |of: usize| lengths.get(of).copied().unwrap_or_default();
        let (first, costs): (usize, Vec<f64>) = (self.first, self.made.iter().map(|cut| length(cut.of)).collect());
        self.simplex.cost(|at, column| match at.checked_sub(first) {
            Some(at) => costs.get(at).copied().unwrap_or_default(),
            None if column.lack => 1_000.0,
            None => 0.0,
        });
        loop {
            self.settle(effort, until);
            if effort.is_past(until) || !self.price(known, effort, length).better {
                return;
            }
        }
    }

    /// Looks for the dearest filling of every kind of stick, and takes up those that make it cheaper.
    fn price(&mut self, known: &mut Known<'_>, effort: &mut Effort<'_>, cost: impl Fn(usize) -> f64) -> Priced {
        let prices = self.simplex.prices();
        let price = |row: &Option<usize>| row.and_then(|row| prices.get(row)).copied().unwrap_or_default();
        let worth: Vec<f64> = self.piece_rows.iter().map(|row| (price(row).max(0.0) * SCALE).floor()).collect();
        let mut priced = Priced { worth, gives: Vec::new(), better: false };
        for (of, one) in known.sticks.iter().enumerate() {
            let row = self.stick_rows.get(of).copied().flatten();
            // A kind of which none is left is asked only where its worth is wanted for other choices of sticks.
            let over = if row.is_some() { ((cost(of) - price(&row)) * SCALE).ceil().max(0.0) + 2.0 } else { 0.0 };
            let without: Vec<Filling> =
                self.left.without.iter().filter(|cut| cut.of == of).map(|cut| cut.filling.clone()).collect();
            let (filling, gives) = if one.source == Source::Nowhere {
                dearest(known, self.left, &priced.worth, over)
            } else {
                let (pieces, left, worth) = (known.pieces, &self.left.pieces, &priced.worth);
                let found = best(Knapsack { pieces, left, worth, room: one.room, over, without: &without });
                effort.spend(found.looks * 12);
                (found.filling, found.at_most)
            };
            priced.gives.push(gives);
            if let Some(filling) = filling.filter(|_| row.is_some()) {
                let cut = Cut { of, filling };
                if self.offer(&cut, cost(of)) {
                    known.keep(cut);
                    priced.better = true;
                }
            }
        }
        priced
    }

    /// Whether the pieces are worth more than all sticks can be: whole numbers, so that nothing is rounded.
    fn is_too_much(&self, priced: &Priced) -> bool {
        worth_of(&self.left.pieces, &priced.worth) > worth_of(&self.left.sticks, &priced.gives)
    }

    /// What these prices say of all sticks, where all pieces are still to be cut and no cut is ruled out.
    fn needs(&self, known: &Known<'_>, priced: Priced) -> Option<Needs> {
        let all = known.pieces.iter().zip(&self.left.pieces).all(|(alike, left)| alike.count == *left);
        let needed = worth_of(&self.left.pieces, &priced.worth);
        (all && self.left.without.is_empty()).then_some(Needs { needed, gives: priced.gives })
    }

    fn parts(&self) -> Vec<(f64, Cut)> {
        let cut = |(column, value): (usize, f64)| {
            let cut = column.checked_sub(self.first).and_then(|at| self.made.get(at))?;
            (value > NOTHING).then(|| (value, cut.clone()))
        };
        self.simplex.values().filter_map(cut).collect()
    }
}

/// What so many of each are worth together.
fn worth_of(counts: &[u32], worth: &[f64]) -> f64 {
    counts.iter().zip(worth).map(|(count, one)| f64::from(*count) * one).sum()
}

/// The dearest piece that may go without a stick.
fn dearest(known: &Known<'_>, left: &Left, worth: &[f64], over: f64) -> (Option<Filling>, f64) {
    let bought = room_bought(known.sticks);
    let all = known.pieces.iter().zip(&left.pieces).zip(worth).enumerate();
    let may = all.filter(|(_, ((alike, left), _))| **left > 0 && alike.size > bought);
    let best = may.map(|(place, (_, worth))| (place, *worth)).max_by(|one, two| one.1.total_cmp(&two.1));
    match best {
        Some((place, worth)) if worth > over => (Some(vec![(place, 1)]), worth),
        _ => (None, over),
    }
}
