//! Lengths told in both units: bounds up to which either may be typed, and figures in sentences kept for all readers.

use super::{Fraction, Length, Show as _, Units};

impl Length {
    /// In millimetres, with the inches behind it, for a sentence that is kept for all readers: `12 mm (0.472 in)`.
    pub fn in_both(self) -> String {
        format!("{} ({})", self.show(Units::Metric), self.show(Units::Inch))
    }

    /// Bounds in both units, neither told wider than it is: `25 to 500 mm (0.985 to 19.685 in)`.
    pub fn between(least: Self, most: Self) -> String {
        let [mm, inch] = [Self::mm, Self::inches].map(|of| (of(least), of(most)));
        format!(
            "{} to {} mm ({} to {} in)",
            inward(mm.0, 10, f64::ceil),
            inward(mm.1, 10, f64::floor),
            inward(inch.0, 1000, f64::ceil),
            inward(inch.1, 1000, f64::floor)
        )
    }

    /// The greatest length in both units, told no greater than it is: `300 mm (11.811 in)`.
    pub fn at_most(most: Self) -> String {
        format!("{} mm ({} in)", inward(most.mm(), 10, f64::floor), inward(most.inches(), 1000, f64::floor))
    }
}

/// A bound to so many steps of its unit, turned inward, without idle noughts.
fn inward(value: f64, steps: u32, turned: fn(f64) -> f64) -> String {
    let steps = f64::from(steps);
    // What lies within a millionth of a step is the step: the bounds are round in one of the two units.
    let near = (value * steps).round();
    let whole = if (value * steps - near).abs() < 1e-6 { near } else { turned(value * steps) };
    let text = Fraction::nearest(whole / steps).map(|figure| figure.decimal(3)).unwrap_or_default();
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::FromTyped as _;

    #[test]
    fn a_bound_that_is_told_may_be_typed_in_either_unit() {
        let (least, most) = (Length::from_mm(80.0), Length::from_mm(500.0));
        assert_eq!(Length::between(least, most), "80 to 500 mm (3.15 to 19.685 in)");
        assert_eq!(Length::at_most(Length::from_mm(1000.0)), "1000 mm (39.37 in)");
        assert_eq!(Length::between(Length::default(), Length::from_inches(2.0)), "0 to 50.8 mm (0 to 2 in)");
        for mm in (1_u32..4_000).map(f64::from) {
            let bound = Length::from_mm(mm / 3.0);
            let description = Length::between(bound, bound);
            let figures: Vec<&str> = description.split(|c: char| !(c.is_ascii_digit() || c == '.')).collect();
            let figures: Vec<&str> = figures.into_iter().filter(|figure| !figure.is_empty()).collect();
            for (figure, unit) in figures.iter().zip(["mm", "mm", "in", "in"]) {
                let read = Length::from_typed(&format!("{figure} {unit}")).unwrap_or_default();
                let low = figures.iter().position(|one| std::ptr::eq(one, figure)).is_some_and(|at| at % 2 == 0);
                assert!(if low { read >= bound } else { read <= bound }, "{description}");
            }
        }
    }
}
