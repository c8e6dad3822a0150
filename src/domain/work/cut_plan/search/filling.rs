//! The pieces worth most that fit into one stick: a bounded knapsack by depth-first branch and bound.
//!
//! Horowitz and Sahni, "Computing Partitions with Applications to the Knapsack Problem", Journal of the ACM 21 (1974),
//! with the bound of Dantzig, "Discrete-Variable Extremum Problems", Operations Research 5 (1957). Rooms, sizes and worths
//! are whole numbers in floating point, so that their sums are exact and a bound is a bound.

use super::{Alike, whole};

/// How many pieces of which size: places in the list of pieces, in rising order, none with a count of zero.
pub(super) type Filling = Vec<(usize, u32)>;

/// What is asked for one stick.
#[derive(Clone, Copy)]
pub(super) struct Knapsack<'a> {
    /// The pieces.
    pub(super) pieces: &'a [Alike],
    /// How many of each are left.
    pub(super) left: &'a [u32],
    /// What one of each is worth, whole numbers.
    pub(super) worth: &'a [f64],
    /// What fits into the stick.
    pub(super) room: f64,
    /// Only what is worth more than this is looked for.
    pub(super) over: f64,
    /// Fillings that do not count.
    pub(super) without: &'a [Filling],
}

/// What was found.
pub(super) struct Best {
    /// The filling worth most, where one is worth more than was asked.
    pub(super) filling: Option<Filling>,
    /// No filling that counts is worth more than this.
    pub(super) at_most: f64,
    /// How many looks it took.
    pub(super) looks: usize,
}

/// A search in which more looks than this would be needed is given up; its bound still holds.
const LOOKS: usize = 200_000;

struct Item {
    place: usize,
    size: f64,
    worth: f64,
    most: u32,
    /// The smallest size from here on.
    least: f64,
}

struct Search<'a> {
    without: &'a [Filling],
    chosen: Vec<(usize, u32)>,
    best: f64,
    found: Option<Filling>,
    looks: usize,
    limit: usize,
}

/// The filling worth most.
pub(super) fn best(asked: Knapsack<'_>) -> Best {
    best_within(asked, LOOKS)
}

/// The same with a limit of its own on the looks.
pub(super) fn best_within(asked: Knapsack<'_>, limit: usize) -> Best {
    let room = asked.room;
    let all = asked.pieces.iter().zip(asked.left).zip(asked.worth).enumerate();
    let fits = all.filter(|(_, ((alike, left), worth))| **left > 0 && **worth > 0.0 && alike.size <= room);
    let item = |(place, ((alike, left), worth)): (usize, ((&Alike, &u32), &f64))| {
        let most = whole(room / alike.size).min(*left);
        Item { place, size: alike.size, worth: *worth, most, least: 0.0 }
    };
    let mut items: Vec<Item> = fits.map(item).collect();
    // The dearest for its size first; of two alike the larger.
    items.sort_by(|one, two| {
        (two.worth * one.size).total_cmp(&(one.worth * two.size)).then(two.size.total_cmp(&one.size))
    });
    let mut least = f64::INFINITY;
    for item in items.iter_mut().rev() {
        least = least.min(item.size);
        item.least = least;
    }
    let (without, over) = (asked.without, asked.over);
    let mut search = Search { without, chosen: Vec::new(), best: over, found: None, looks: 0, limit };
    let bound = at_most(&items, room);
    search.explore(&items, room, 0.0);
    let short = search.looks >= search.limit;
    let at_most = if short { bound.max(search.best) } else { search.best };
    Best { filling: search.found, at_most, looks: search.looks }
}

/// What these items are worth at most in this room: the dearest for their size, the last of them in part.
fn at_most(items: &[Item], room: f64) -> f64 {
    let (mut left, mut worth) = (room, 0.0);
    for item in items.iter().filter(|item| item.size <= room) {
        let all = f64::from(item.most) * item.size;
        if all > left {
            worth += item.worth * left / item.size;
            break;
        }
        worth += f64::from(item.most) * item.worth;
        left -= all;
    }
    (worth * (1.0 + 1e-12)).floor()
}

impl Search<'_> {
    fn explore(&mut self, items: &[Item], room: f64, value: f64) {
        self.looks += 1;
        let fitting = items.iter().position(|item| item.size <= room).and_then(|next| items.get(next..));
        let Some((fitting, (one, rest))) = fitting.and_then(|fitting| Some((fitting, fitting.split_first()?))) else {
            return self.judge(value);
        };
        if one.least > room {
            return self.judge(value);
        }
        if self.looks >= self.limit || value + at_most(fitting, room) <= self.best {
            return;
        }
        let most = whole(room / one.size).min(one.most);
        for count in (0..=most).rev() {
            let taken = f64::from(count);
            if count > 0 {
                self.chosen.push((one.place, count));
            }
            self.explore(rest, room - taken * one.size, value + taken * one.worth);
            if count > 0 {
                self.chosen.pop();
            }
        }
    }

    fn judge(&mut self, value: f64) {
        if value > self.best && !self.chosen.is_empty() {
            let mut filling = self.chosen.clone();
            filling.sort_unstable();
            if !self.without.contains(&filling) {
                self.best = value;
                self.found = Some(filling);
            }
        }
    }
}
