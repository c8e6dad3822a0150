//! The least that any plan for these pieces can cost: by length, and by how many pieces fit beside each other.
//!
//! The second is the bound L2 of Martello and Toth, "Lower bounds and reduction procedures for the bin packing problem",
//! Discrete Applied Mathematics 28 (1990), with all sticks as long as the longest.

use super::packing::{Alike, Cost, Sticks};

/// No more than what the pieces and sticks that are left cost in any plan.
pub(super) fn bound(pieces: &[Alike], sticks: &[Sticks], left: &[u32], there: &[u32]) -> Cost {
    let pieces: Vec<Alike> = pieces.iter().zip(left).map(|(alike, count)| Alike { count: *count, ..*alike }).collect();
    let sticks: Vec<Sticks> = sticks.iter().zip(there).map(|(one, count)| Sticks { count: *count, ..*one }).collect();
    let own = || sticks.iter().filter(|one| !one.bought && one.count > 0);
    let bought = sticks.iter().find(|one| one.bought);
    let whole: f64 = pieces.iter().map(|alike| alike.size * f64::from(alike.count)).sum();
    let room: f64 = own().map(|one| one.room * f64::from(one.count)).sum();
    let count: f64 = own().map(|one| f64::from(one.count)).sum();
    let widest = own().chain(bought).map(|one| one.room).fold(0.0, f64::max);
    let at_least = sticks_at_least(&pieces, widest);
    let to_buy = bought.map_or(0.0, |one| ((whole - room) / one.room).ceil().max(at_least - count).max(0.0));
    let (bought, rest) = bought.map_or((0.0, whole), |one| (to_buy * one.length, whole - to_buy * one.room));
    // What is not cut from bought sticks is cut from the shop's own, each of which is cut into as a whole.
    let mut own: Vec<Sticks> = own().copied().collect();
    own.sort_by(|one, two| two.room.total_cmp(&one.room));
    Cost { bought, used: bought + cover(&own, Needed { room: rest, count: at_least - to_buy }) }
}

/// What the shop's own sticks have to give.
#[derive(Clone, Copy)]
struct Needed {
    room: f64,
    count: f64,
}

/// So many choices of sticks are tried at most before the bound by length alone is taken.
const CHOICES: u32 = 400;

/// The least length of sticks, the longest first in the list, that has the room needed and the count.
fn cover(own: &[Sticks], needed: Needed) -> f64 {
    let ratio = own.iter().map(|one| one.length / one.room).fold(f64::INFINITY, f64::min);
    let by_length = |room: f64| if room > 0.0 && ratio.is_finite() { room * ratio * (1.0 - 1e-12) } else { 0.0 };
    let mut cover = Cover { by_length: &by_length, best: f64::INFINITY, tries: 0 };
    cover.choose(own, needed, 0.0);
    if cover.tries >= CHOICES || cover.best.is_infinite() { by_length(needed.room).floor() } else { cover.best }
}

/// The search for the shortest choice of sticks.
struct Cover<'f> {
    by_length: &'f dyn Fn(f64) -> f64,
    best: f64,
    tries: u32,
}

impl Cover<'_> {
    fn choose(&mut self, own: &[Sticks], needed: Needed, length: f64) {
        self.tries += 1;
        if needed.room <= 0.0 && needed.count <= 0.0 {
            self.best = self.best.min(length);
            return;
        }
        let Some((one, rest)) = own.split_first() else { return };
        let most = (needed.room / one.room).ceil().max(needed.count).clamp(0.0, f64::from(one.count));
        let mut taken = most;
        while taken >= 0.0 && self.tries < CHOICES {
            let left = Needed { room: needed.room - taken * one.room, count: needed.count - taken };
            let length = length + taken * one.length;
            if length + (self.by_length)(left.room) < self.best {
                self.choose(rest, left, length);
            }
            taken -= 1.0;
        }
    }
}

/// How many sticks with so much room the pieces need at least.
fn sticks_at_least(pieces: &[Alike], room: f64) -> f64 {
    if room <= 0.0 {
        return 0.0;
    }
    let half = room / 2.0;
    let smallest = pieces.iter().filter(|alike| alike.count > 0 && alike.size <= half).map(|alike| alike.size);
    let over = |least: f64| {
        let (mut alone, mut large, mut small) = (0.0, (0.0, 0.0), 0.0);
        for alike in pieces {
            let count = f64::from(alike.count);
            if alike.size > room - least {
                alone += count;
            } else if alike.size > half {
                large = (large.0 + count, large.1 + count * alike.size);
            } else if alike.size >= least {
                small += count * alike.size;
            }
        }
        let beside = large.0 * room - large.1;
        alone + large.0 + ((small - beside) / room).ceil().max(0.0)
    };
    smallest.chain([0.0]).map(over).fold(0.0, f64::max)
}
