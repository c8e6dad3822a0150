//! How long the cut plan takes for sets made by published rules, and whether it is proven: each set says so once.
//!
//! Triplets and uniform sets after Falkenauer, Journal of Heuristics 2 (1996); the others are of our own making.

use std::collections::HashSet;
use std::sync::Mutex;

use divan::Bencher;
use tackbook::domain::shop::saw::Saw;
use tackbook::domain::steel::tube::TubeSize;
use tackbook::domain::work::cut_plan::{CutPlan, Effort, Free, Piece};
use tackbook::quantity::{Length, Typed};

const TUBE: TubeSize = TubeSize::metric(45.0, 2.5);

/// The generator of Steele, Lea and Flood, OOPSLA 2014.
struct Numbers(u64);

impl Numbers {
    fn between(&mut self, least: u32, most: u32) -> u32 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        least + u32::try_from((mixed ^ (mixed >> 31)) % u64::from(most - least + 1)).unwrap()
    }
}

fn mm(value: u32) -> Length {
    Length::from_mm(f64::from(value))
}

fn search(bencher: Bencher<'_, '_>, of: &str, (pieces, sticks): (&[u32], &[u32]), (kerf, buy): (u32, u32)) {
    static SAID: Mutex<Option<HashSet<String>>> = Mutex::new(None);
    let typed = |value: u32| Typed::of(mm(value), format!("{value} mm"));
    let saw = Saw { kerf: typed(kerf), buy: typed(buy), ..Saw::default() };
    let piece = |(at, length): (usize, &u32)| Piece {
        name: format!("M{at}"),
        tube: TUBE,
        length: mm(*length),
        more: Default::default(),
        loose: false,
    };
    let pieces: Vec<Piece> = pieces.iter().enumerate().map(piece).collect();
    let free = |(at, length): (usize, &u32)| {
        let (grade, heat) = (String::new(), String::new());
        Free { name: format!("S{at}"), grade, heat, tube: TUBE, length: mm(*length), begun: false }
    };
    let sticks: Vec<Free> = sticks.iter().enumerate().map(free).collect();
    bencher.bench_local(|| {
        let plan = CutPlan::of(&pieces, &sticks, &saw, &mut Effort::steps(Effort::USUAL));
        let size = plan.sizes.first().unwrap();
        let (least, used) = (size.standing.least_cut_into().mm(), size.used().mm());
        if SAID.lock().unwrap().get_or_insert_default().insert(of.to_owned()) {
            let known = if plan.is_proven() { "proven" } else { "not proven" };
            eprintln!("{of}: {} to buy, {used} mm cut into, at least {least} mm, {known}", size.to_buy());
        }
        plan
    });
}

/// 120 pieces, each three of which fill a stick of 1000.
#[divan::bench(args = 1..=10, sample_count = 3, sample_size = 1)]
fn triplets_of_120(bencher: Bencher<'_, '_>, seed: u64) {
    let mut numbers = Numbers(seed);
    let mut triple = || {
        let first = numbers.between(380, 490);
        let second = numbers.between(250, (1_000 - first) / 2);
        [first, second, 1_000 - first - second]
    };
    let pieces: Vec<u32> = (0..40).flat_map(|_| triple()).collect();
    search(bencher, &format!("triplets {seed}"), (&pieces, &[]), (0, 1_000));
}

/// 120 pieces of 20 to 100 in sticks of 150.
#[divan::bench(args = 1..=10, sample_count = 3, sample_size = 1)]
fn uniform_of_120(bencher: Bencher<'_, '_>, seed: u64) {
    let mut numbers = Numbers(seed);
    let pieces: Vec<u32> = (0..120).map(|_| numbers.between(20, 100)).collect();
    search(bencher, &format!("uniform {seed}"), (&pieces, &[]), (0, 150));
}

/// 30 to 60 pieces of 300 to 2500 mm, kerf 3 mm: from sticks of four lengths (odd sets), or from offcuts of any (even).
#[divan::bench(args = 1..=20, sample_count = 3, sample_size = 1)]
fn like_a_cage(bencher: Bencher<'_, '_>, seed: u64) {
    let mut numbers = Numbers(seed);
    let count = numbers.between(30, 60);
    let pieces: Vec<u32> = (0..count).map(|_| numbers.between(300, 2_500)).collect();
    let mut sticks = Vec::new();
    if seed % 2 == 1 {
        for length in [6_096, 4_000, 3_050, 2_440] {
            sticks.extend((0..numbers.between(1, 6)).map(|_| length));
        }
    } else {
        let count = numbers.between(6, 14);
        sticks.extend((0..count).map(|_| numbers.between(700, 6_100)));
    }
    search(bencher, &format!("like a cage {seed}"), (&pieces, &sticks), (3, 6_096));
}
