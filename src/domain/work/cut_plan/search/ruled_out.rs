//! Which choices of sticks are ruled out, by what, and which were looked at and are not settled.

use super::fitting::Ruled;
use super::relaxed::Needs;
use super::{Alike, Sticks};

/// Between so many and so many of each kind.
pub(super) type Ranges = Vec<(u32, u32)>;

/// What is known of choices of sticks: so many of each kind.
pub(super) struct RuledOut<'a> {
    pub(super) sticks: &'a [Sticks],
    pub(super) needs: Vec<Needs>,
    ruled: Vec<Ruled>,
    /// Looked at, and not settled.
    open: Vec<Vec<u32>>,
}

impl<'a> RuledOut<'a> {
    /// Nothing is known but that pieces have lengths.
    pub(super) fn new(pieces: &[Alike], sticks: &'a [Sticks]) -> Self {
        Self { sticks, needs: vec![Needs::of_length(pieces, sticks)], ruled: Vec::new(), open: Vec::new() }
    }

    pub(super) fn rule_out(&mut self, ruled: Ruled, needs: Option<Needs>) {
        self.needs.extend(needs);
        self.ruled.push(ruled);
    }

    pub(super) fn leave_open(&mut self, choice: Vec<u32>) {
        if !self.is_open(&choice) {
            self.open.push(choice);
        }
    }

    /// One that was ruled out, or found to do, is open no more.
    pub(super) fn close(&mut self, choice: &[u32]) {
        self.open.retain(|open| open != choice);
    }

    /// Those that were looked at and not settled.
    pub(super) fn open(&self) -> impl Iterator<Item = &Vec<u32>> {
        self.open.iter()
    }

    /// Whether a choice was looked at and not settled.
    pub(super) fn is_open(&self, choice: &[u32]) -> bool {
        self.open.iter().any(|open| open == choice)
    }

    /// Whether this choice is ruled out.
    pub(super) fn is_ruled_out(&self, choice: &[u32]) -> bool {
        let within = |ruled: &Ruled| choice.iter().zip(ruled.sticks()).all(|(one, most)| one <= most);
        self.needs.iter().any(|needs| needs.are_more_than(choice)) || self.ruled.iter().any(within)
    }

    /// The length of a choice.
    pub(super) fn length(&self, choice: &[u32]) -> f64 {
        choice.iter().zip(self.sticks).map(|(count, one)| f64::from(*count) * one.length).sum()
    }
}
