//! A cut plan cuts each piece once, overfills no stick, and is never worse than first-fit decreasing.

use proptest::prelude::*;
use tackbook::domain::cut_plan::{CutPlan, CutStick, Free, Piece, SizePlan};
use tackbook::domain::saw::Saw;
use tackbook::domain::tube::TubeSize;
use tackbook::quantity::{Length, Typed};

const TUBE: TubeSize = TubeSize::metric(45.0, 2.5);
const BUY: u32 = 6_000;

fn mm(value: u32) -> Typed<Length> {
    Typed { value: Length::from_mm(f64::from(value)), text: format!("{value} mm") }
}

fn plan(pieces: &[u32], sticks: &[u32], (kerf, trim): (u32, u32)) -> SizePlan {
    let saw = Saw { kerf: mm(kerf), trim: mm(trim), cope: mm(0), grip: mm(0), buy: mm(BUY), keep: mm(300) };
    let piece = |(number, length): (usize, &u32)| Piece {
        name: format!("M{number}"),
        tube: TUBE,
        length: mm(*length).value,
        more: Default::default(),
        loose: false,
    };
    let free = |(number, length): (usize, &u32)| Free {
        name: format!("S{number}"),
        grade: String::new(),
        heat: String::new(),
        tube: TUBE,
        length: mm(*length).value,
    };
    let pieces: Vec<Piece> = (1..).zip(pieces).map(piece).collect();
    let sticks: Vec<Free> = (1..).zip(sticks).map(free).collect();
    CutPlan::of(&pieces, &sticks, &saw).sizes.remove(0)
}

/// Sticks to buy and length cut into, by first-fit decreasing into the shortest sticks first.
fn first_fit(pieces: &[u32], sticks: &[u32], (kerf, trim): (u32, u32)) -> (usize, u32) {
    let (mut pieces, mut sticks) = (pieces.to_vec(), sticks.to_vec());
    pieces.sort_by_key(|piece| std::cmp::Reverse(*piece));
    sticks.sort_unstable();
    // Length, what is left with a kerf for the last piece, whether it is bought, whether it is cut.
    let open = |length: u32, bought: bool| (length, (length + kerf).saturating_sub(2 * trim), bought, false);
    let mut open_ones: Vec<(u32, u32, bool, bool)> = sticks.iter().map(|length| open(*length, false)).collect();
    for piece in pieces {
        let takes = piece + kerf;
        if !open_ones.iter().any(|one| one.1 >= takes) {
            open_ones.push(open(BUY, true));
        }
        let one = open_ones.iter_mut().find(|one| one.1 >= takes).unwrap();
        one.1 -= takes;
        one.3 = true;
    }
    let cut = || open_ones.iter().filter(|one| one.3);
    (cut().filter(|one| one.2).count(), cut().map(|one| one.0).sum())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn every_piece_once_no_stick_overfull_and_none_worse_than_first_fit(
        pieces in prop::collection::vec(150_u32..3_500, 1..18),
        sticks in prop::collection::vec(400_u32..6_100, 0..5),
        kerf in 0_u32..5,
        trim in 0_u32..30,
    ) {
        let size = plan(&pieces, &sticks, (kerf, trim));
        let mut cut: Vec<String> =
            size.sticks.iter().flat_map(|stick| &stick.pieces).map(|piece| piece.name.clone()).collect();
        cut.sort();
        let mut wanted: Vec<String> = (1..=pieces.len()).map(|number| format!("M{number}")).collect();
        wanted.sort();
        prop_assert_eq!(cut, wanted);
        prop_assert!(size.no_stick.is_empty());
        let mut all: Vec<&str> = size.sticks.iter().filter(|stick| stick.stick.is_some()).map(|stick| stick.name.as_str()).collect();
        all.extend(size.whole.iter().map(|free| free.name.as_str()));
        all.sort_unstable();
        let mut there: Vec<String> = (1..=sticks.len()).map(|number| format!("S{number}")).collect();
        there.sort();
        prop_assert_eq!(all, there);
        for CutStick { length, pieces, kerf: sawn, offcut, .. } in &size.sticks {
            let sum: Length = pieces.iter().map(|piece| piece.length).sum();
            let count = u32::try_from(pieces.len()).unwrap();
            let sum_of_all = sum.mm() + sawn.mm() + offcut.mm() + f64::from(2 * trim);
            prop_assert!((sum_of_all - length.mm()).abs() < 1e-6);
            prop_assert!(offcut.mm() >= 0.0 && sawn.mm() <= f64::from(kerf * count));
            prop_assert!(sawn.mm() >= f64::from(kerf * (count - 1)));
        }
        let whole: u32 = pieces.iter().sum();
        let (bought, used) = first_fit(&pieces, &sticks, (kerf, trim));
        let ours = (size.to_buy(), size.used().mm());
        prop_assert!(ours.0 < bought || (ours.0 == bought && ours.1 <= f64::from(used) + 1e-6), "{ours:?} {bought} {used}");
        // No plan cuts into less than the pieces are long, and the bound is none that a plan undercuts.
        prop_assert!(size.used().mm() >= f64::from(whole) && size.bound.1.mm() <= size.used().mm() + 1e-6);
        if sticks.is_empty() {
            // The pieces over the stick: so many must be bought at least.
            prop_assert!(size.to_buy() >= usize::try_from(whole.div_ceil(BUY)).unwrap());
        }
    }
}
