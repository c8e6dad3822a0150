//! The cut plan against cases worked by hand.

use super::*;
use crate::quantity::Typed;

const TUBE: TubeSize = TubeSize::metric(45.0, 2.5);

fn mm(value: f64) -> Typed<Length> {
    Typed::of(Length::from_mm(value), format!("{value} mm"))
}

fn saw(kerf: f64, trim: f64, buy: f64) -> Saw {
    Saw { kerf: mm(kerf), trim: mm(trim), cope: mm(0.0), grip: mm(0.0), buy: mm(buy), keep: mm(300.0) }
}

fn piece_of(length: f64) -> Piece {
    Piece { name: "M".to_owned(), tube: TUBE, length: Length::from_mm(length), more: Default::default(), loose: false }
}

fn free_of(length: f64) -> Free {
    let (grade, heat) = (String::new(), String::new());
    Free { name: "S".to_owned(), grade, heat, tube: TUBE, length: Length::from_mm(length), begun: false }
}

fn plan(pieces: &[f64], sticks: &[f64], saw: &Saw) -> SizePlan {
    let piece = |(number, length): (usize, &f64)| Piece { name: format!("M{number}"), ..piece_of(*length) };
    let free = |(number, length): (usize, &f64)| Free { name: format!("S{number}"), ..free_of(*length) };
    let pieces: Vec<Piece> = (1..).zip(pieces).map(piece).collect();
    let sticks: Vec<Free> = (1..).zip(sticks).map(free).collect();
    CutPlan::of(&pieces, &sticks, saw, &mut Effort::steps(Effort::USUAL)).sizes.remove(0)
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
    assert_eq!((size.to_buy(), size.waste().mm(), size.standing.is_proven()), (2, 0.0, true));
    assert_eq!((size.standing.least_to_buy().mm(), size.standing.least_cut_into().mm()), (16_000.0, 16_000.0));
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
    let none: Vec<f64> = size.too_long.iter().map(|piece| piece.length.mm()).collect();
    assert_eq!((none, size.to_buy(), size.whole.len()), (vec![5981.0], 1, 1));
    let stick = &size.sticks[0];
    assert_eq!((stick.kerf.mm(), stick.offcut.mm()), (0.0, 0.0));
}

/// The plan of first-fit decreasing, 3 sticks; 2 would do, which nobody looked for: nothing is proven of it anywhere.
#[test]
fn what_was_not_searched_for_is_not_proven() {
    let lengths = [4000.0, 3000.0, 3000.0, 2000.0, 2000.0, 2000.0];
    let pieces: Vec<Piece> =
        plan(&lengths, &[], &saw(0.0, 0.0, 8000.0)).sticks.into_iter().flat_map(|stick| stick.pieces).collect();
    let describe = |steps: usize| {
        let plan = CutPlan::of(&pieces, &[], &saw(0.0, 0.0, 8000.0), &mut Effort::steps(steps));
        let [size] = plan.sizes.as_slice() else { panic!("{plan:?}") };
        (
            size.to_buy(),
            plan.is_proven(),
            as_json(&plan)["proven"].clone(),
            size.describe_proven(crate::quantity::Units::Metric),
        )
    };
    let (to_buy, proven, json, words) = describe(0);
    assert_eq!((to_buy, proven, json), (3, false, serde_json::Value::Bool(false)));
    assert!(words.starts_with("Not proven") && words.contains("16000 mm must be bought"), "{words}");
    let (to_buy, proven, json, words) = describe(Effort::USUAL);
    assert_eq!((to_buy, proven, json), (2, true, serde_json::Value::Bool(true)));
    assert!(words.starts_with("Proven"), "{words}");
}

/// Ended by whoever watches, at the first look: what was found until then, and not proven.
#[test]
fn a_search_that_is_ended_says_so() {
    let lengths: Vec<f64> = (0..60).map(|at: u32| 300.0 + f64::from(at * at * 7 % 2203)).collect();
    let of = |length: &f64| Piece { length: Length::from_mm(*length), ..piece_of(1.0) };
    let pieces: Vec<Piece> = lengths.iter().map(of).collect();
    let sticks: Vec<Free> =
        [5900.0, 5300.0, 4700.0, 4100.0, 3700.0, 3100.0, 2900.0].iter().map(|length| free_of(*length)).collect();
    let mut looks = 0;
    let plan = CutPlan::of(
        &pieces,
        &sticks,
        &saw(3.0, 0.0, 6096.0),
        &mut Effort::watched(usize::MAX, |_| {
            looks += 1;
            false
        }),
    );
    assert!(looks <= 1 && plan.sizes[0].sticks.iter().map(|stick| stick.pieces.len()).sum::<usize>() == 60);
}

/// By hand: 10 mm at each end; of 3000 whole 2980 fit, of 3000 that are begun 2990.
#[test]
fn a_sawn_end_is_not_trimmed_again() {
    let of = |length: f64, begun: bool| {
        let free = Free { begun, ..free_of(3000.0) };
        let plan =
            CutPlan::of(&[piece_of(length)], &[free], &saw(3.0, 10.0, 6000.0), &mut Effort::steps(Effort::USUAL));
        let stick = plan.sizes[0].sticks[0].clone();
        (stick.name, stick.trim.mm(), stick.trims.mm(), stick.offcut.mm())
    };
    assert_eq!(of(2980.0, false), ("S".to_owned(), 10.0, 20.0, 0.0));
    assert_eq!(of(2980.001, false).0, "new 1");
    assert_eq!(of(2980.0, true), ("S".to_owned(), 0.0, 10.0, 7.0));
    assert_eq!(of(2990.0, true), ("S".to_owned(), 0.0, 10.0, 0.0));
    assert_eq!(of(2990.001, true).0, "new 1");
}
