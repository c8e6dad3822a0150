//! Integrals, least values and changes of a function of one number.

/// Places and weights of the eight-point Gauss-Legendre rule on -1..1 (Abramowitz and Stegun, table 25.4).
const GAUSS: [(f64, f64); 8] = [
    (-0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
    (-0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (-0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (-0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
];

/// The integral of `of` over panels between neighbouring breaks; it is smooth within each.
pub(crate) fn over_panels(breaks: &[f64], of: impl Fn(f64) -> f64) -> f64 {
    let panels = breaks.iter().zip(breaks.iter().skip(1));
    panels
        .map(|(from, to)| {
            let (middle, half) = (f64::midpoint(*from, *to), (to - from) / 2.0);
            half * GAUSS.iter().map(|(place, weight)| weight * of(middle + half * place)).sum::<f64>()
        })
        .sum()
}

/// Golden sections after which a least place is known as well as its value can tell.
const SECTIONS: u32 = 44;
/// Halvings after which a change is known to a few parts in 10¹¹ of a round.
const HALVINGS: u32 = 32;

/// Where `of` is least between two places, by golden sections; it falls and then rises there.
pub(crate) fn least_between(mut from: f64, mut to: f64, of: &impl Fn(f64) -> f64) -> f64 {
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    let (mut left, mut right) = (to - golden * (to - from), from + golden * (to - from));
    let (mut at_left, mut at_right) = (of(left), of(right));
    for _ in 0..SECTIONS {
        if at_left < at_right {
            (to, right, at_right) = (right, left, at_left);
            left = to - golden * (to - from);
            at_left = of(left);
        } else {
            (from, left, at_left) = (left, right, at_right);
            right = from + golden * (to - from);
            at_right = of(right);
        }
    }
    f64::midpoint(from, to)
}

/// Where `which` changes between neighbouring breaks, by halving; one change at most is found in each.
pub(crate) fn changes(breaks: &[f64], which: impl Fn(f64) -> usize) -> Vec<f64> {
    let mut found = Vec::new();
    for (from, to) in breaks.iter().zip(breaks.iter().skip(1)) {
        let (mut from, mut to) = (*from, *to);
        let before = which(from);
        if before == which(to) {
            continue;
        }
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(from, to);
            if which(middle) == before {
                from = middle;
            } else {
                to = middle;
            }
        }
        found.push(f64::midpoint(from, to));
    }
    found
}
