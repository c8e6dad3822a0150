//! Which sticks to ask about next: the shortest choice that nothing rules out.

use super::relaxed::Needs;
use super::ruled_out::{Ranges, RuledOut};
use super::{Sticks, whole};

/// After so many looks the search for a choice is given up.
const LOOKS: usize = 400_000;

/// Less than exact by rounding, never more.
const UNDER: f64 = 1.0 - 1e-12;

/// What the search for a choice came to.
pub(super) enum Next {
    /// This one: all shorter ones are ruled out or open.
    Choice(Vec<u32>),
    /// There is none under what was asked.
    Nothing,
    /// It was given up: shorter ones may be there than the one that was found until then, if any.
    GivenUp(Option<Vec<u32>>),
}

/// The shortest choice within these ranges and under a length that is neither ruled out nor open, and how many looks it
/// took.
pub(super) fn next(of: &RuledOut<'_>, ranges: &Ranges, under: f64) -> (Next, usize) {
    let mut order: Vec<usize> = (0..of.sticks.len()).collect();
    let length = |at: &usize| of.sticks.get(*at).map_or(0.0, |one| one.length);
    order.sort_by(|one, two| length(two).total_cmp(&length(one)));
    let ratios: Vec<Vec<f64>> = of.needs.iter().map(|needs| ratios(needs, of.sticks, &order, ranges)).collect();
    let needed: Vec<f64> = of.needs.iter().map(Needs::needed).collect();
    let choice = ranges.iter().map(|range| range.0).collect();
    let mut search = Search { of, ranges, ratios: &ratios, choice, best: under, found: None, looks: 0 };
    search.go(&order, 0.0, &needed);
    let looks = search.looks;
    let found = match search.found {
        found if looks >= LOOKS => Next::GivenUp(found),
        Some(choice) => Next::Choice(choice),
        None => Next::Nothing,
    };
    (found, looks)
}

/// No choice within these ranges that needs do not rule out is shorter than this.
pub(super) fn least(of: &RuledOut<'_>, ranges: &Ranges) -> f64 {
    let order: Vec<usize> = (0..of.sticks.len()).collect();
    let there: f64 = ranges.iter().zip(of.sticks).map(|(range, one)| f64::from(range.0) * one.length).sum();
    let least = |needs: &Needs| {
        let ratio = ratios(needs, of.sticks, &order, ranges).first().copied().unwrap_or(f64::INFINITY);
        (needs.needed() * ratio * UNDER).ceil()
    };
    of.needs.iter().map(least).filter(|least| least.is_finite()).fold(there, f64::max)
}

/// From each kind on, the least length for what it gives.
fn ratios(needs: &Needs, sticks: &[Sticks], order: &[usize], ranges: &Ranges) -> Vec<f64> {
    let mut ratios = vec![f64::INFINITY];
    for at in order.iter().rev() {
        let may = ranges.get(*at).is_some_and(|range| range.1 > 0);
        let gives = needs.gives(*at);
        let length = sticks.get(*at).map_or(0.0, |one| one.length);
        let ratio = if may && gives > 0.0 { length / gives } else { f64::INFINITY };
        ratios.push(ratios.last().map_or(ratio, |least| least.min(ratio)));
    }
    ratios.reverse();
    ratios
}

struct Search<'a> {
    of: &'a RuledOut<'a>,
    ranges: &'a Ranges,
    ratios: &'a [Vec<f64>],
    choice: Vec<u32>,
    best: f64,
    found: Option<Vec<u32>>,
    looks: usize,
}

impl Search<'_> {
    fn go(&mut self, kinds: &[usize], length: f64, needed: &[f64]) {
        self.looks += 1 + needed.len() / 8;
        let depth = self.of.sticks.len() - kinds.len();
        let least = |(needed, ratios): (&f64, &Vec<f64>)| {
            let ratio = ratios.get(depth).copied().unwrap_or(f64::INFINITY);
            if *needed > 0.0 { needed * ratio * UNDER } else { 0.0 }
        };
        let more = needed.iter().zip(self.ratios).map(least).fold(0.0, f64::max);
        // Lengths are whole: what is not shorter by one is not shorter.
        if self.looks >= LOOKS || (length + more).ceil() >= self.best {
            return;
        }
        let Some((at, rest)) = kinds.split_first() else {
            if !self.of.is_ruled_out(&self.choice) && !self.of.is_open(&self.choice) {
                self.best = length;
                self.found = Some(self.choice.clone());
            }
            return;
        };
        let (Some(one), Some((few, many))) = (self.of.sticks.get(*at), self.ranges.get(*at).copied()) else { return };
        let may = whole(((self.best - length) / one.length.max(1.0)).max(0.0)).saturating_add(1);
        for count in (few..=many.min(may.max(few))).rev() {
            let taken = f64::from(count);
            let left = needed.iter().zip(&self.of.needs).map(|(needed, needs)| needed - taken * needs.gives(*at));
            let left: Vec<f64> = left.collect();
            if let Some(place) = self.choice.get_mut(*at) {
                *place = count;
            }
            self.go(rest, length + taken * one.length, &left);
        }
        if let Some(place) = self.choice.get_mut(*at) {
            *place = few;
        }
    }
}
