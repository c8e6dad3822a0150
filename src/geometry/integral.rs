//! Integrals, least values and changes of a function of one number.

/// Places and weights of the fifteen-point Gauss-Kronrod rule on -1..1, the places over zero, and the weights of the
/// seven-point Gauss rule at every other of them (Piessens and others, QUADPACK, 1983, routine QK15).
const KRONROD: [(f64, f64, f64); 7] = [
    (0.991_455_371_120_812_6, 0.022_935_322_010_529_22, 0.0),
    (0.949_107_912_342_758_5, 0.063_092_092_629_978_56, 0.129_484_966_168_869_7),
    (0.864_864_423_359_769_1, 0.104_790_010_322_250_18, 0.0),
    (0.741_531_185_599_394_4, 0.140_653_259_715_525_92, 0.279_705_391_489_276_64),
    (0.586_087_235_467_691_1, 0.169_004_726_639_267_9, 0.0),
    (0.405_845_151_377_397_2, 0.190_350_578_064_785_4, 0.381_830_050_505_118_9),
    (0.207_784_955_007_898_47, 0.204_432_940_075_298_9, 0.0),
];
/// The weights of both rules at zero.
const AT_ZERO: (f64, f64) = (0.209_482_141_084_727_82, 0.417_959_183_673_469_4);
/// A panel is halved no oftener than this: by then it adds nothing that can be told.
const PANEL_HALVINGS: u32 = 40;
/// And no more panels than this are halved in one integral (own choice; some fifty kinks closed in on to the last): what is
/// nowhere smooth would be halved for ever.
const MOST_HALVED: u32 = 2_000;

/// The integral of `of` over panels between neighbouring breaks. A panel in which both rules differ by more than `within`
/// is halved: where it is smooth that is seldom, toward a kink as often as needed. What is smooth comes out far nearer than
/// `within`, for the better rule is taken.
pub(crate) fn over_panels(breaks: &[f64], within: f64, of: impl Fn(f64) -> f64) -> f64 {
    let panels = breaks.iter().zip(breaks.iter().skip(1));
    panels.map(|(from, to)| over(*from, *to, within, &of)).sum()
}

/// The integral of `of` from one place to another, the same way.
pub(crate) fn over(from: f64, to: f64, within: f64, of: &impl Fn(f64) -> f64) -> f64 {
    // Level by level, so that where not all can be halved that should be, the widest were.
    let (mut sum, mut left) = (0.0, MOST_HALVED);
    let mut panels = vec![(from, to)];
    for halving in 0..=PANEL_HALVINGS {
        let mut next = Vec::new();
        for (from, to) in panels {
            let (better, worse) = by_both_rules(from, to, of);
            // No number is never near enough to itself and stays what it is.
            let apart = (better - worse).abs() > within;
            if apart && halving < PANEL_HALVINGS && left > 0 {
                left -= 1;
                let middle = f64::midpoint(from, to);
                next.extend([(from, middle), (middle, to)]);
            } else {
                sum += better;
            }
        }
        panels = next;
    }
    sum
}

fn by_both_rules(from: f64, to: f64, of: &impl Fn(f64) -> f64) -> (f64, f64) {
    let (middle, half) = (f64::midpoint(from, to), (to - from) / 2.0);
    let at_middle = of(middle);
    let (mut better, mut worse) = (at_middle * AT_ZERO.0, at_middle * AT_ZERO.1);
    for (place, of_fifteen, of_seven) in KRONROD {
        let both = of(middle - half * place) + of(middle + half * place);
        better += of_fifteen * both;
        worse += of_seven * both;
    }
    (better * half, worse * half)
}

/// How near a change is closed in on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Near {
    /// To a few parts in 10¹¹ of a round.
    Exact,
    /// To a millionth of the step that it is looked for in: where each value costs much.
    Step,
}

impl Near {
    /// Halvings after which a change is known.
    const fn halvings(self) -> u32 {
        match self {
            Self::Exact => 32,
            Self::Step => 20,
        }
    }
}

/// After so many golden sections a least place is known as well as its value can tell.
const GOLDEN_SECTIONS: u32 = 44;

/// Where `of` is least between two places, by golden sections; it falls and then rises there.
pub(crate) fn least_between(mut from: f64, mut to: f64, of: &impl Fn(f64) -> f64) -> f64 {
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    let (mut left, mut right) = (to - golden * (to - from), from + golden * (to - from));
    let (mut at_left, mut at_right) = (of(left), of(right));
    for _ in 0..GOLDEN_SECTIONS {
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

/// Places that are looked at in each closing in, and how often it is closed in on.
const PLACES: u32 = 8;
const CLOSINGS: u32 = 16;

/// Where `of` is least between two places, of which it need be smooth in neither: it may fall and then leap up.
pub(crate) fn least_with_leaps(mut from: f64, mut to: f64, of: &impl Fn(f64) -> f64) -> f64 {
    let mut best = (f64::midpoint(from, to), f64::INFINITY);
    for _ in 0..CLOSINGS {
        let step = (to - from) / f64::from(PLACES);
        let places = (0..=PLACES).map(|place| from + step * f64::from(place)).map(|place| (place, of(place)));
        best = places.chain([best]).min_by(|one, other| one.1.total_cmp(&other.1)).unwrap_or(best);
        (from, to) = (best.0 - step, best.0 + step);
    }
    best.0
}

/// Where `which` changes between neighbouring places, by halving; one change at most is found in each step. What it is at
/// each place is known already.
pub(crate) fn changes(known: &[(f64, usize)], near: Near, which: impl Fn(f64) -> usize) -> Vec<f64> {
    let mut found = Vec::new();
    for ((from, before), (to, after)) in known.iter().zip(known.iter().skip(1)) {
        if before == after {
            continue;
        }
        let (mut from, mut to) = (*from, *to);
        for _ in 0..near.halvings() {
            let middle = f64::midpoint(from, to);
            if which(middle) == *before {
                from = middle;
            } else {
                to = middle;
            }
        }
        found.push(f64::midpoint(from, to));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A rule of fifteen points of this kind is exact for powers up to 22, that of seven up to 13; of -1..1 the integral of
    /// an even power is 2 / (power + 1).
    #[test]
    fn both_rules_are_exact_for_the_powers_they_are_made_for() {
        for power in 0..=22 {
            let wanted = if power % 2 == 0 { 2.0 / f64::from(power + 1) } else { 0.0 };
            let (better, worse) = by_both_rules(-1.0, 1.0, &|x: f64| x.powi(power));
            assert!((better - wanted).abs() < 1e-14, "{power}: {better}");
            assert!(power > 13 || (worse - wanted).abs() < 1e-14, "{power}: {worse}");
        }
    }

    /// Of |x| from -1 to 2 the integral is 5/2, though a kink lies within; of 1/(2√x) from 0 to 1 it is 1.
    #[test]
    fn a_kink_within_a_panel_is_closed_in_on() {
        assert!((over_panels(&[-1.0, 2.0], 1e-12, f64::abs) - 2.5).abs() < 1e-11);
        let steep = over(0.0, 1.0, 1e-9, &|x: f64| 0.5 / x.sqrt());
        assert!((steep - 1.0).abs() < 1e-5, "{steep}");
        assert!(over(0.0, 1.0, 1e-9, &|_| f64::NAN).is_nan());
    }

    /// A ramp that leaps up at its end: the least is the last place before the leap.
    #[test]
    fn the_least_before_a_leap_is_found() {
        for end in [0.1, 0.500_1, 0.73, 0.99] {
            let ramp = |x: f64| if x <= end { 1.0 - x } else { 9.0 - 2.0 * x };
            let least = least_with_leaps(0.0, 1.0, &ramp);
            assert!(least <= end && end - least < 1e-9, "{least} {end}");
        }
        assert!((least_with_leaps(0.0, 1.0, &|x: f64| (x - 0.3).powi(2)) - 0.3).abs() < 1e-6);
    }

    /// What is another at every place is left when it was looked at often enough: each panel that is halved, and the two that
    /// come of it, are looked at fifteen times.
    #[test]
    fn what_is_nowhere_smooth_comes_to_an_end() {
        let looks = std::cell::Cell::new(0_u32);
        let noise = |x: f64| {
            looks.set(looks.get() + 1);
            (x * 1e9).sin()
        };
        assert!(over(0.0, 1.0, 1e-15, &noise).abs() < 1.0);
        assert!(looks.get() <= 15 * (2 * MOST_HALVED + 1), "{}", looks.get());
    }
}
