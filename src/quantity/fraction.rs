//! Exact fractions: what a tape shows and what people type, with no binary rounding in between.

/// The upper figure stays within this, the lower within [`FINEST`], so that rounding to parts cannot overflow.
const LARGEST: i128 = 10_i128.pow(27);
/// The greatest lower figure: room for nine decimals of an ounce.
const FINEST: i128 = 10_i128.pow(20);
/// Steps of one unit to which a binary figure is taken to be meant (a billionth of a millimetre is nothing in steel).
const STEPS: f64 = 1e9;

/// An exact fraction in lowest terms; the lower figure is above zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fraction {
    above: i128,
    below: i128,
}

impl Fraction {
    /// `above` over `below` in lowest terms; nothing for a lower figure of 0 or for figures past all use.
    pub fn new(above: i128, below: i128) -> Option<Self> {
        let common = common_divisor(above.checked_abs()?, below.checked_abs()?);
        if below == 0 {
            return None;
        }
        let (above, below) = (above / common * below.signum(), (below / common).abs());
        (above.abs() <= LARGEST && below <= FINEST).then_some(Self { above, below })
    }

    /// A whole number; nothing when it is past all use.
    pub fn whole(number: i128) -> Option<Self> {
        Self::new(number, 1)
    }

    /// The decimal figure a binary one stands for, to a billionth; nothing for what is no number or past all use.
    pub fn nearest(value: f64) -> Option<Self> {
        let steps = (value * STEPS).round();
        if !steps.is_finite() || steps.abs() > 1e18 {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, reason = "whole and within a quintillion, as just checked")]
        Self::new(steps as i128, 1_000_000_000)
    }

    /// The upper figure, with the sign.
    pub fn above(self) -> i128 {
        self.above
    }

    /// The lower figure, always above zero.
    pub fn below(self) -> i128 {
        self.below
    }

    /// The sum; nothing when it is past all use.
    pub fn plus(self, other: Self) -> Option<Self> {
        let (left, right) = (self.above.checked_mul(other.below)?, other.above.checked_mul(self.below)?);
        Self::new(left.checked_add(right)?, self.below.checked_mul(other.below)?)
    }

    /// The product; nothing when it is past all use.
    pub fn times(self, other: Self) -> Option<Self> {
        Self::new(self.above.checked_mul(other.above)?, self.below.checked_mul(other.below)?)
    }

    /// With the other sign.
    pub fn negative(self) -> Self {
        Self { above: -self.above, below: self.below }
    }

    /// True when it is smaller than the other.
    pub fn is_less_than(self, other: Self) -> bool {
        match (self.above.checked_mul(other.below), other.above.checked_mul(self.below)) {
            (Some(left), Some(right)) => left < right,
            _ => self.to_f64() < other.to_f64(),
        }
    }

    /// The binary figure next to it.
    #[expect(clippy::cast_precision_loss, reason = "the binary figure next to it is what is asked for")]
    pub fn to_f64(self) -> f64 {
        self.above as f64 / self.below as f64
    }

    /// How many `1/parts` it is, to the nearest; a tie goes away from zero.
    pub fn in_parts(self, parts: u32) -> i128 {
        let parts = i128::from(parts);
        let (whole, rest) = (self.above.abs() / self.below, self.above.abs() % self.below);
        (whole * parts + (2 * rest * parts + self.below) / (2 * self.below)) * self.above.signum()
    }

    /// As a tape shows it, to the nearest `1/parts`: `1 13/16`, `-1/16`, `0`.
    pub fn mixed(self, parts: u32) -> String {
        let count = self.in_parts(parts);
        let parts = i128::from(parts.max(1));
        let sign = if count < 0 { "-" } else { "" };
        let (whole, rest) = (count.abs() / parts, count.abs() % parts);
        let common = common_divisor(rest, parts);
        match (whole, rest) {
            (_, 0) => format!("{sign}{whole}"),
            (0, _) => format!("{sign}{}/{}", rest / common, parts / common),
            _ => format!("{sign}{whole} {}/{}", rest / common, parts / common),
        }
    }

    /// As a decimal with this many places (nine at most), a tie away from zero; nothing is ever `-0`.
    pub fn decimal(self, places: u32) -> String {
        let places = places.min(9);
        let ten = 10_u32.pow(places);
        let count = self.in_parts(ten);
        let sign = if count < 0 { "-" } else { "" };
        let (whole, rest) = (count.abs() / i128::from(ten), count.abs() % i128::from(ten));
        if places == 0 {
            return format!("{sign}{whole}");
        }
        format!("{sign}{whole}.{rest:0width$}", width = places as usize)
    }
}

/// The greatest number that divides both, by Euclid's way; 1 where both are 0.
fn common_divisor(first: i128, second: i128) -> i128 {
    let (mut first, mut second) = (first, second);
    while second != 0 {
        (first, second) = (second, first % second);
    }
    first.max(1)
}
