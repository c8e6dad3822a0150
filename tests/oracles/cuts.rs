//! The cut plan against sets whose best plan is known: made by published rules from a seed, or cut out of whole sticks.
//!
//! Triplets and uniform sets: Falkenauer, "A hybrid grouping genetic algorithm for bin packing", Journal of Heuristics 2
//! (1996), sections on the test sets. The classes of Martello and Toth: "Lower bounds and reduction procedures for the
//! bin packing problem", Discrete Applied Mathematics 28 (1990). Scholl, Klein and Juergens, "BISON: A fast hybrid
//! procedure for exactly solving the one-dimensional bin packing problem", Computers and Operations Research 24 (1997),
//! data set 3, in a smaller kind. The rules are restated from memory; that a set is as its rule says is checked here.

use tackbook::domain::work::cut_plan::{Effort, Piece, SizePlan};

use crate::cut_sets::{pieces, within};

/// Numbers from a seed: the generator of Steele, Lea and Flood, "Fast splittable pseudorandom number generators",
/// OOPSLA 2014, with its published constants.
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    fn between(&mut self, least: u32, most: u32) -> u32 {
        least + u32::try_from(self.next() % u64::from(most - least + 1)).unwrap()
    }
}

/// The plan for pieces and the shop's sticks in mm, kerf, and the length of a stick to buy.
fn plan(lengths: &[u32], sticks: &[u32], (kerf, buy): (u32, u32)) -> SizePlan {
    let size = within(Effort::USUAL, lengths, sticks, (kerf, 0, buy));
    is_a_plan(&size, &pieces(lengths), kerf);
    size
}

/// Every piece is there once, no stick is overfull.
fn is_a_plan(size: &SizePlan, pieces: &[Piece], kerf: u32) {
    let cut = size.sticks.iter().flat_map(|stick| &stick.pieces).chain(&size.no_stick).chain(&size.too_long);
    let mut names: Vec<&str> = cut.map(|piece| piece.name.as_str()).collect();
    let mut wanted: Vec<&str> = pieces.iter().map(|piece| piece.name.as_str()).collect();
    names.sort_unstable();
    wanted.sort_unstable();
    assert_eq!(names, wanted);
    for stick in &size.sticks {
        let sum: f64 = stick.pieces.iter().map(|piece| piece.length.mm()).sum();
        let cuts = u32::try_from(stick.pieces.len() - 1).unwrap();
        assert!(sum + f64::from(cuts * kerf) <= stick.length.mm() + 1e-6, "{stick:?}");
    }
}

fn triplets(seed: u64, count: usize) -> Vec<u32> {
    let mut numbers = Numbers(seed);
    let mut triple = || {
        let first = numbers.between(380, 490);
        let second = numbers.between(250, (1_000 - first) / 2);
        [first, second, 1_000 - first - second]
    };
    (0..count / 3).flat_map(|_| triple()).collect()
}

/// Three pieces fill each stick of 1000: a third as many sticks as pieces, nothing left.
#[test]
fn triplets_are_cut_from_a_third_as_many_sticks() {
    for (seed, count) in [(1, 60), (2, 60), (3, 60), (4, 120)] {
        let pieces = triplets(seed, count);
        assert!(pieces.iter().all(|piece| (250..=500).contains(piece)) && pieces.len() == count);
        let size = plan(&pieces, &[], (0, 1_000));
        assert_eq!((size.to_buy(), size.waste().mm(), size.standing.is_proven()), (count / 3, 0.0, true), "{seed}");
    }
}

/// The least is what the pieces add up to, rounded up, in nearly every such set; a plan that reaches it is the best by
/// that alone, without a word of the program.
#[test]
fn uniform_sets_reach_what_their_lengths_ask() {
    for seed in 1..=6 {
        let mut numbers = Numbers(seed);
        let pieces: Vec<u32> = (0..120).map(|_| numbers.between(20, 100)).collect();
        let size = plan(&pieces, &[], (0, 150));
        let least = usize::try_from(pieces.iter().sum::<u32>().div_ceil(150)).unwrap();
        assert_eq!((size.to_buy(), size.standing.is_proven()), (least, true), "{seed}");
    }
}

/// Two thirds of the pieces over a third of the stick: what is over half of it lies alone or beside one smaller, so
/// there are at least as many sticks as such pieces.
#[test]
fn classes_of_large_pieces_are_proven_between_their_bounds() {
    for (seed, (least, most)) in (1..).zip([(1, 100), (20, 100), (50, 100), (35, 100)]) {
        let mut numbers = Numbers(seed);
        let pieces: Vec<u32> = (0..50).map(|_| numbers.between(least, most)).collect();
        let size = plan(&pieces, &[], (0, 100));
        let whole = usize::try_from(pieces.iter().sum::<u32>().div_ceil(100)).unwrap();
        let halves = pieces.iter().filter(|piece| **piece > 50).count();
        assert!(size.standing.is_proven() && size.to_buy() >= whole.max(halves), "{seed}: {size:?}");
    }
}

/// Pieces of a fifth of the stick each, of some hundred thousand lengths, after Scholl's hard sets: at most five lie in
/// a stick, at least three.
#[test]
fn pieces_of_many_lengths_near_a_fifth_are_proven() {
    let mut numbers = Numbers(7);
    let pieces: Vec<u32> = (0..25).map(|_| numbers.between(2_000, 3_500)).collect();
    let size = plan(&pieces, &[], (0, 10_000));
    assert!(size.standing.is_proven() && (5..=9).contains(&size.to_buy()), "{size:?}");
}

/// Sticks of several lengths cut up whole, kerf and all: the pieces go back into just these, and none is to buy. A stick
/// more of each length lies there too.
#[test]
fn sticks_that_were_cut_up_whole_are_found_again() {
    for seed in 1..=4 {
        let mut numbers = Numbers(seed);
        let mut whole = Vec::new();
        let mut pieces = Vec::new();
        for length in [6_096, 6_096, 6_096, 4_000, 4_000, 3_050, 3_050, 2_440] {
            whole.push(length);
            let mut left = length;
            while left > 3_000 {
                let piece = numbers.between(300, 1_800);
                pieces.push(piece);
                left -= piece + 3;
            }
            pieces.push(left);
        }
        let there: Vec<u32> = whole.iter().copied().chain([6_096, 4_000, 3_050, 2_440]).collect();
        let size = plan(&pieces, &there, (3, 6_096));
        let used = f64::from(whole.iter().sum::<u32>());
        // Other sticks may hold them too, in less length; never in less than the pieces and the cuts between them.
        assert!(size.standing.is_proven() && size.to_buy() == 0 && size.used().mm() <= used, "{seed}: {size:?}");
        let least = f64::from(pieces.iter().sum::<u32>());
        assert!(size.used().mm() >= least && size.standing.least_cut_into().mm() >= least);
    }
}

/// By hand: 6.9 + 6.6 = 13.5 and 6.5 + 6.4 = 12.9 of 13. The longest first into the first stick with room leaves the
/// last without one, though two sticks hold all.
#[test]
fn pieces_longer_than_what_is_sold_share_the_shops_longer_sticks() {
    let size = plan(&[6_900, 6_600, 6_500, 6_400], &[13_000, 13_500], (0, 6_000));
    assert_eq!((size.no_stick.len(), size.sticks.len(), size.standing.is_proven()), (0, 2, true), "{size:?}");
    // One more does not go in, whichever it is; what is over 14 m has no stick by its length alone.
    let size = plan(&[6_900, 6_600, 6_500, 6_400, 6_300, 14_000], &[13_000, 13_500], (0, 6_000));
    assert_eq!((size.no_stick.len(), size.too_long.len(), size.standing.is_proven()), (1, 1, true), "{size:?}");
}
