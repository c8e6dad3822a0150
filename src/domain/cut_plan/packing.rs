//! Cutting pieces from sticks: first-fit decreasing, then bin completion until nothing cheaper is left to try.
//!
//! First-fit decreasing: Johnson, Demers, Ullman, Garey, Graham, "Worst-Case Performance Bounds for Simple
//! One-Dimensional Packing Algorithms", SIAM Journal on Computing 3 (1974). Bin completion: Korf, "A New Algorithm for
//! Optimal Bin Packing", AAAI 2002; here for sticks of several lengths. All sizes are whole micrometres in floating
//! point, so that their sums are exact.

use std::cmp::Ordering;
use std::collections::HashMap;

use super::bound::bound;

/// So many looks are taken at most before the best plan found so far is given as not proven (own choice: well under a
/// second).
const LOOKS: u32 = 60_000;

/// Pieces of one size, a saw cut added to each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Alike {
    /// Piece and saw cut.
    pub(super) size: f64,
    /// How many.
    pub(super) count: u32,
}

/// Sticks of one length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Sticks {
    /// What fits into one: its length less its trims, and a saw cut, for the last piece needs none.
    pub(super) room: f64,
    /// Its length.
    pub(super) length: f64,
    /// How many there are; of those to buy as many as are wanted.
    pub(super) count: u32,
    /// Whether they are to buy.
    pub(super) bought: bool,
}

/// What a plan costs: the length bought, and among plans that buy as little the length of all sticks cut into.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Cost {
    /// To buy.
    pub(super) bought: f64,
    /// Cut into, what is bought included.
    pub(super) used: f64,
}

impl Cost {
    pub(super) fn under(self, other: Self) -> bool {
        self.bought.total_cmp(&other.bought).then(self.used.total_cmp(&other.used)) == Ordering::Less
    }

    pub(super) fn and(self, more: Self) -> Self {
        Self { bought: self.bought + more.bought, used: self.used + more.used }
    }

    fn of(sticks: &Sticks) -> Self {
        Self { bought: if sticks.bought { sticks.length } else { 0.0 }, used: sticks.length }
    }
}

/// A stick that is cut into: which sticks it is one of, and the sizes of its pieces, by their place in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Filled {
    /// One of these sticks.
    pub(super) of: usize,
    /// Its pieces, the largest first.
    pub(super) pieces: Vec<usize>,
}

/// How the pieces are cut.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Packed {
    /// The sticks that are cut into.
    pub(super) filled: Vec<Filled>,
    /// Pieces that no stick takes.
    pub(super) no_room: Vec<usize>,
    /// What it costs.
    pub(super) cost: Cost,
    /// No plan costs less than this.
    pub(super) bound: Cost,
}

/// Packs pieces, the largest first in the list, into sticks, the shortest first and those to buy last.
pub(super) fn pack(pieces: &[Alike], sticks: &[Sticks]) -> Packed {
    let (filled, no_room) = first_fit(pieces, sticks);
    let cost = cost_of(&filled, sticks);
    let count = |at: usize| u32::try_from(no_room.iter().filter(|one| **one == at).count()).unwrap_or(u32::MAX);
    let left: Vec<u32> = pieces.iter().enumerate().map(|(at, alike)| alike.count.saturating_sub(count(at))).collect();
    let there: Vec<u32> = sticks.iter().map(|one| one.count).collect();
    let least = bound(pieces, sticks, &left, &there);
    let mut search = Search { pieces, sticks, best: (filled, cost), path: Vec::new(), seen: HashMap::new(), looks: 0 };
    if least.under(cost) {
        search.complete(left, there, Cost::default());
    }
    let proven = search.looks < LOOKS;
    let (filled, cost) = search.best;
    Packed { filled, no_room, cost, bound: if proven { cost } else { least } }
}

/// Each piece, the largest first, into the first stick that has room for it.
fn first_fit(pieces: &[Alike], sticks: &[Sticks]) -> (Vec<Filled>, Vec<usize>) {
    let own = sticks.iter().enumerate().filter(|(_, one)| !one.bought);
    let mut open: Vec<(Filled, f64)> =
        own.flat_map(|(of, one)| (0..one.count).map(move |_| (Filled { of, pieces: Vec::new() }, one.room))).collect();
    let mut no_room = Vec::new();
    for (at, alike) in pieces.iter().enumerate() {
        for _ in 0..alike.count {
            if let Some((stick, room)) = open.iter_mut().find(|(_, room)| *room >= alike.size) {
                stick.pieces.push(at);
                *room -= alike.size;
                continue;
            }
            match sticks.iter().enumerate().find(|(_, one)| one.bought && one.room >= alike.size) {
                Some((of, one)) => open.push((Filled { of, pieces: vec![at] }, one.room - alike.size)),
                None => no_room.push(at),
            }
        }
    }
    (open.into_iter().map(|one| one.0).filter(|stick| !stick.pieces.is_empty()).collect(), no_room)
}

fn cost_of(filled: &[Filled], sticks: &[Sticks]) -> Cost {
    let costs = filled.iter().filter_map(|stick| sticks.get(stick.of)).map(Cost::of);
    costs.fold(Cost::default(), Cost::and)
}

/// The search: how many pieces of each size and sticks of each length are left is its state.
struct Search<'a> {
    pieces: &'a [Alike],
    sticks: &'a [Sticks],
    best: (Vec<Filled>, Cost),
    path: Vec<Filled>,
    /// The cheapest way in which a state was reached.
    seen: HashMap<(Vec<u32>, Vec<u32>), Cost>,
    looks: u32,
}

impl Search<'_> {
    /// The largest piece left must be cut from some stick: each stick that takes it is filled in each way to which no
    /// piece could be added, the fullest first. Adding a piece to a stick never costs more, so no other ways count.
    fn complete(&mut self, left: Vec<u32>, there: Vec<u32>, cost: Cost) {
        let Some(largest) = left.iter().position(|count| *count > 0) else {
            if cost.under(self.best.1) {
                self.best = (self.path.clone(), cost);
            }
            return;
        };
        self.looks += 1;
        let least = cost.and(bound(self.pieces, self.sticks, &left, &there));
        if !least.under(self.best.1)
            || self.seen.get(&(left.clone(), there.clone())).is_some_and(|old| !cost.under(*old))
        {
            return;
        }
        let sticks = self.sticks;
        for (of, one) in sticks.iter().enumerate() {
            if there.get(of).is_none_or(|count| *count == 0) {
                continue;
            }
            for filling in self.fillings(&left, largest, one.room) {
                if self.looks >= LOOKS {
                    return;
                }
                let rest = left.iter().zip(&filling).map(|(there, taken)| there - taken).collect();
                let fewer = |(at, count): (usize, &u32)| if at == of && !one.bought { count - 1 } else { *count };
                let pieces = filling.iter().enumerate();
                let pieces = pieces.flat_map(|(at, count)| (0..*count).map(move |_| at)).collect();
                self.path.push(Filled { of, pieces });
                self.complete(rest, there.iter().enumerate().map(fewer).collect(), cost.and(Cost::of(one)));
                self.path.pop();
            }
        }
        self.seen.insert((left, there), cost);
    }

    /// Every way to fill a stick with the largest piece and others, to which no piece could be added; the fullest first.
    fn fillings(&mut self, left: &[u32], largest: usize, room: f64) -> Vec<Vec<u32>> {
        let mut found: Vec<(f64, Vec<u32>)> = Vec::new();
        let Some(first) = self.pieces.get(largest).filter(|alike| alike.size <= room) else { return Vec::new() };
        let mut chosen = vec![0; left.len()];
        let mut rest = left.to_vec();
        if let (Some(taken), Some(there)) = (chosen.get_mut(largest), rest.get_mut(largest)) {
            *taken = 1;
            *there -= 1;
        }
        self.fill(largest, room - first.size, &mut (chosen, rest), &mut found);
        found.sort_by(|one, two| one.0.total_cmp(&two.0));
        found.into_iter().map(|one| one.1).collect()
    }

    fn fill(&mut self, at: usize, room: f64, now: &mut (Vec<u32>, Vec<u32>), found: &mut Vec<(f64, Vec<u32>)>) {
        let Some(alike) = self.pieces.get(at) else {
            self.looks += 1;
            let fits = |(alike, count): (&Alike, &u32)| *count > 0 && alike.size <= room;
            if !self.pieces.iter().zip(&now.1).any(fits) {
                found.push((room, now.0.clone()));
            }
            return;
        };
        let most = now.1.get(at).copied().unwrap_or_default();
        let mut taken = 0;
        let mut rooms = vec![room];
        while taken < most && rooms.last().is_some_and(|room| *room >= alike.size) {
            rooms.extend(rooms.last().map(|room| room - alike.size));
            taken += 1;
        }
        while let Some(room) = rooms.pop() {
            if self.looks >= LOOKS {
                return;
            }
            take(now, at, taken);
            self.fill(at + 1, room, now, found);
            put_back(now, at, taken);
            taken = taken.saturating_sub(1);
        }
    }
}

fn take((chosen, rest): &mut (Vec<u32>, Vec<u32>), at: usize, count: u32) {
    if let (Some(chosen), Some(rest)) = (chosen.get_mut(at), rest.get_mut(at)) {
        *chosen += count;
        *rest -= count;
    }
}

fn put_back((chosen, rest): &mut (Vec<u32>, Vec<u32>), at: usize, count: u32) {
    if let (Some(chosen), Some(rest)) = (chosen.get_mut(at), rest.get_mut(at)) {
        *chosen -= count;
        *rest += count;
    }
}
