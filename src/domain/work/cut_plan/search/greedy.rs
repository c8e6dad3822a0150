//! Quick ways to cut pieces from sticks: the largest piece first, into the first stick with room, or the fullest.
//!
//! Johnson, Demers, Ullman, Garey, Graham, "Worst-Case Performance Bounds for Simple One-Dimensional Packing Algorithms",
//! SIAM Journal on Computing 3 (1974).

use super::relaxed::{Cut, Known, Left};
use super::{Alike, Source, Sticks, room_bought};

struct Open {
    of: usize,
    room: f64,
    alone: bool,
    pieces: Vec<usize>,
}

/// Into which stick with room a piece goes.
#[derive(Clone, Copy)]
enum Rule {
    First,
    Fullest,
}

/// Everything that is left, cut in one of the quick ways that gets it all in; none where none does.
pub(super) fn complete(known: &Known<'_>, left: &Left) -> Option<Vec<Cut>> {
    ways(known.pieces, known.sticks, left).next()
}

/// Every quick way that gets all in.
pub(super) fn ways<'a>(
    pieces: &'a [Alike],
    sticks: &'a [Sticks],
    left: &'a Left,
) -> impl Iterator<Item = Vec<Cut>> + 'a {
    let rules = [(Rule::First, false), (Rule::Fullest, false), (Rule::First, true)];
    rules.into_iter().filter_map(move |(rule, long_first)| cut(pieces, sticks, left, (rule, long_first)))
}

fn cut(pieces: &[Alike], sticks: &[Sticks], left: &Left, (rule, long_first): (Rule, bool)) -> Option<Vec<Cut>> {
    let bought = room_bought(sticks);
    let total: u32 = left.pieces.iter().sum();
    let some = |(of, (one, count)): (usize, (&Sticks, &u32))| {
        let (room, alone) = (one.room, one.source == Source::Nowhere);
        (0..(*count).min(total)).map(move |_| Open { of, room, alone, pieces: Vec::new() })
    };
    let mut open: Vec<Open> = sticks.iter().zip(&left.sticks).enumerate().flat_map(some).collect();
    if long_first {
        let own = |one: &Open| sticks.get(one.of).is_some_and(|stick| stick.source == Source::Own);
        open.sort_by(|one, two| own(two).cmp(&own(one)).then(two.room.total_cmp(&one.room).then(one.of.cmp(&two.of))));
        open.sort_by_key(|one| one.alone);
    }
    for (at, (alike, count)) in pieces.iter().zip(&left.pieces).enumerate() {
        for _ in 0..*count {
            let takes = |one: &&mut Open| {
                if one.alone { one.pieces.is_empty() && alike.size > bought } else { one.room >= alike.size }
            };
            let mut with_room = open.iter_mut().filter(takes);
            let one = match rule {
                Rule::First => with_room.next(),
                Rule::Fullest => with_room.min_by(|one, two| {
                    let unused = |one: &Open| (one.alone, one.pieces.is_empty());
                    unused(one).cmp(&unused(two)).then(one.room.total_cmp(&two.room))
                }),
            }?;
            one.room -= alike.size;
            one.pieces.push(at);
        }
    }
    Some(
        open.into_iter()
            .filter(|one| !one.pieces.is_empty())
            .map(|one| Cut { of: one.of, filling: counted(&one.pieces) })
            .collect(),
    )
}

fn counted(pieces: &[usize]) -> Vec<(usize, u32)> {
    let mut filling: Vec<(usize, u32)> = Vec::new();
    for place in pieces {
        match filling.last_mut() {
            Some((last, count)) if last == place => *count += 1,
            _ => filling.push((*place, 1)),
        }
    }
    filling
}
