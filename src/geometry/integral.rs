//! Integrals, least values and changes of a function of one number.

/// Places and weights of the five-point Gauss-Legendre rule on -1..1 (Abramowitz and Stegun, table 25.4).
const GAUSS: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
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

/// Where `of` is least between two places, by golden sections; it falls and then rises there.
pub(crate) fn least_between(mut from: f64, mut to: f64, of: &impl Fn(f64) -> f64) -> f64 {
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    for _ in 0..60 {
        let (left, right) = (to - golden * (to - from), from + golden * (to - from));
        if of(left) < of(right) {
            to = right;
        } else {
            from = left;
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
        for _ in 0..50 {
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
