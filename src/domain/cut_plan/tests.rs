//! The cut plan against cases worked by hand.

use super::*;
use crate::quantity::Typed;

const TUBE: TubeSize = TubeSize::metric(45.0, 2.5);

fn mm(value: f64) -> Typed<Length> {
    Typed { value: Length::from_mm(value), text: format!("{value} mm") }
}

fn saw(kerf: f64, trim: f64, buy: f64) -> Saw {
    Saw { kerf: mm(kerf), trim: mm(trim), cope: mm(0.0), grip: mm(0.0), buy: mm(buy), keep: mm(300.0) }
}

fn plan(pieces: &[f64], sticks: &[f64], saw: &Saw) -> SizePlan {
    let piece = |(number, length): (usize, &f64)| Piece {
        name: format!("M{number}"),
        tube: TUBE,
        length: Length::from_mm(*length),
        more: Default::default(),
        loose: false,
    };
    let free = |(number, length): (usize, &f64)| Free {
        name: format!("S{number}"),
        grade: String::new(),
        heat: String::new(),
        tube: TUBE,
        length: Length::from_mm(*length),
    };
    let pieces: Vec<Piece> = (1..).zip(pieces).map(piece).collect();
    let sticks: Vec<Free> = (1..).zip(sticks).map(free).collect();
    CutPlan::of(&pieces, &sticks, saw).sizes.remove(0)
}

/// By hand: 3 x 1998 and the two cuts between them are 6000 exactly; a micrometre more and the third goes elsewhere.
#[test]
fn the_last_piece_needs_no_cut_of_its_own() {
    let exact = plan(&[1998.0; 3], &[], &saw(3.0, 0.0, 6000.0));
    let [stick] = exact.sticks.as_slice() else { panic!("{exact:?}") };
    assert_eq!((stick.name.as_str(), stick.kerf.mm(), stick.offcut.mm()), ("new 1", 6.0, 0.0));
    assert_eq!(plan(&[1998.0, 1998.0, 1998.001], &[], &saw(3.0, 0.0, 6000.0)).to_buy(), 2);
    // 1 mm is left and the last cut takes it; 4 mm are left, it takes 3 and 1 mm falls off.
    let rest = |piece: f64| {
        let size = plan(&[piece], &[], &saw(3.0, 0.0, 6000.0));
        (size.sticks[0].kerf.mm(), size.sticks[0].offcut.mm())
    };
    assert_eq!((rest(5999.0), rest(5996.0)), ((1.0, 0.0), (3.0, 1.0)));
}

/// By hand, no kerf, sticks of 8: first-fit decreasing gives 4 + 3, 3 + 2 + 2, 2; but 4 + 2 + 2 and 3 + 3 + 2 need two.
#[test]
fn first_fit_decreasing_is_bettered_and_the_best_is_proven() {
    let size = plan(&[4000.0, 3000.0, 3000.0, 2000.0, 2000.0, 2000.0], &[], &saw(0.0, 0.0, 8000.0));
    assert_eq!((size.to_buy(), size.waste().mm(), size.proven), (2, 0.0, true));
    assert_eq!((size.bound.0.mm(), size.bound.1.mm()), (16_000.0, 16_000.0));
}

/// By hand: 900 goes into the stick of 1000 and 500 into that of 1450; but both go into the second, and the first stays.
#[test]
fn the_shops_sticks_come_first_and_as_few_of_them_as_can_be() {
    let size = plan(&[900.0, 500.0], &[1000.0, 1450.0], &saw(0.0, 0.0, 6000.0));
    let used: Vec<&str> = size.sticks.iter().map(|stick| stick.name.as_str()).collect();
    let whole: Vec<&str> = size.whole.iter().map(|free| free.name.as_str()).collect();
    assert_eq!((used, whole, size.to_buy()), (vec!["S2"], vec!["S1"], 0));
    assert_eq!((size.used().mm(), size.waste().mm()), (1450.0, 50.0));
    // An offcut is taken before a whole stick.
    let size = plan(&[1000.0], &[6000.0, 1200.0], &saw(3.0, 0.0, 6000.0));
    assert_eq!((size.sticks[0].name.as_str(), size.sticks[0].offcut.mm()), ("S2", 197.0));
    // 197 is under the 300 that is worth keeping; of 1300 there are 3 of kerf and 300 exactly.
    let kept = |stick: f64| plan(&[997.0], &[stick], &saw(3.0, 0.0, 6000.0));
    assert_eq!((size.sticks[0].keep, size.kept().mm()), (false, 0.0));
    assert_eq!((kept(1300.0).sticks[0].keep, kept(1300.0).kept().mm(), kept(1299.0).kept().mm()), (true, 300.0, 0.0));
}

/// 10 mm at each end: 5980 are left of 6000; a piece of 5981 finds no stick.
#[test]
fn both_ends_are_trimmed_and_what_fits_nowhere_is_named() {
    let size = plan(&[5981.0, 5980.0], &[10.0], &saw(3.0, 10.0, 6000.0));
    let none: Vec<f64> = size.no_stick.iter().map(|piece| piece.length.mm()).collect();
    assert_eq!((none, size.to_buy(), size.whole.len()), (vec![5981.0], 1, 1));
    let stick = &size.sticks[0];
    assert_eq!((stick.kerf.mm(), stick.offcut.mm()), (0.0, 0.0));
}
