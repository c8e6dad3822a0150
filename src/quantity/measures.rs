//! Which units each quantity may be typed in, and what a bare number of it means.

use super::fraction::Fraction;
use super::kinds::{Kind, System, Unit, behind, short};
use super::reading::{COLON_HOURS, COLON_MINUTES, Part};
use super::{Angle, Area, FromTyped, Hours, Length, Mass, Money, Show as _, Typed, Units, Unreadable};

// The inch, foot and pound are exact by the international yard and pound agreement of 1959; the ounce is 1/16 lb.
const LENGTH: Kind = Kind {
    wanted: "a length",
    example: "43 5/8 in or 1108 mm",
    units: &[
        Unit(&["mm", "millimetre", "millimetres", "millimeter", "millimeters"], (1, 1), None),
        Unit(&["cm", "centimetre", "centimetres", "centimeter", "centimeters"], (10, 1), None),
        Unit(&["m", "metre", "metres", "meter", "meters"], (1000, 1), None),
        Unit(&["in", "inch", "inches", "\""], (127, 5), Some(System::Tape)),
        Unit(&["ft", "foot", "feet", "'"], (1524, 5), Some(System::Tape)),
    ],
    may_be_below_zero: true,
};

const MASS: Kind = Kind {
    wanted: "a mass",
    example: "2600 lb or 1179.3 kg",
    units: &[
        Unit(&["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"], (1, 1), None),
        Unit(&["g", "gram", "grams", "gramme", "grammes"], (1, 1000), None),
        Unit(&["lb", "lbs", "pound", "pounds"], (45_359_237, 100_000_000), Some(System::Pounds)),
        Unit(&["oz", "ounce", "ounces"], (45_359_237, 1_600_000_000), Some(System::Pounds)),
    ],
    may_be_below_zero: false,
};

const DEGREES: &[&str] = &["°", "deg", "degs", "degree", "degrees"];
const RADIANS: &[&str] = &["rad", "rads", "radian", "radians"];

/// Either unit counts for itself: a radian is no exact number of degrees and is turned in binary.
const ANGLE: Kind = Kind {
    wanted: "an angle",
    example: "30.5°",
    units: &[Unit(DEGREES, (1, 1), None), Unit(RADIANS, (1, 1), None)],
    may_be_below_zero: true,
};

const AREA: Kind = Kind {
    wanted: "an area",
    example: "12.25 in² or 79 cm²",
    units: &[
        Unit(&["mm2", "sq mm", "square millimetre", "square millimetres"], (1, 1), None),
        Unit(&["cm2", "sq cm", "square centimetre", "square centimetres"], (100, 1), None),
        Unit(&["m2", "sq m", "square metre", "square metres"], (1_000_000, 1), None),
        Unit(&["in2", "sq in", "square in", "square inch", "square inches"], (16_129, 25), None),
        Unit(&["ft2", "sq ft", "square ft", "square foot", "square feet"], (2_322_576, 25), None),
    ],
    may_be_below_zero: false,
};

const HOURS: Kind = Kind {
    wanted: "a time worked",
    example: "1:30 or 1.5 h",
    units: &[
        Unit(&["h", "hr", "hrs", "hour", "hours", COLON_HOURS], (1, 1), Some(System::Clock)),
        Unit(&["min", "mins", "m", "minute", "minutes", COLON_MINUTES], (1, 60), Some(System::Clock)),
    ],
    may_be_below_zero: false,
};

/// A name no word can have: money is typed without a unit.
const COIN: &str = "(coin)";
const MONEY: Kind = Kind {
    wanted: "an amount of money",
    example: "12.50",
    units: &[Unit(&[COIN], (100, 1), None)],
    may_be_below_zero: true,
};

/// A bare length: inches for who works in inches and wherever a fraction is written, else millimetres.
fn bare_length(units: Units) -> impl Fn(&Part) -> &'static str {
    move |part| if units == Units::Inch || part.fraction { "in" } else { "mm" }
}

impl Length {
    /// The very millimetres that were typed, before any binary rounding.
    pub fn exact_mm_from_typed(text: &str, units: Units) -> Result<Fraction, Unreadable> {
        Ok(LENGTH.exact(text, bare_length(units))?.0)
    }
}

fn bare_mass(units: Units) -> impl Fn(&Part) -> &'static str {
    move |_| if units == Units::Inch { "lb" } else { "kg" }
}

fn bare_area(units: Units) -> impl Fn(&Part) -> &'static str {
    move |part| if units == Units::Inch || part.fraction { "in2" } else { "cm2" }
}

impl Typed<Length> {
    /// The units of the reader who typed it: inches where its text is in inches or feet.
    pub fn units(&self) -> Units {
        match LENGTH.exact(&self.text, bare_length(Units::Metric)) {
            Ok((_, "in" | "ft")) => Units::Inch,
            _ => Units::Metric,
        }
    }
}

impl FromTyped for Length {
    /// A bare number is millimetres; with a fraction, and for a reader in inches, it is inches.
    fn from_typed_as(text: &str, units: Units) -> Result<Self, Unreadable> {
        Ok(Self::from_mm(Self::exact_mm_from_typed(text, units)?.to_f64()))
    }

    fn unit_meant(text: &str, units: Units) -> Result<&'static str, Unreadable> {
        LENGTH.left_out(text, bare_length(units)).map(behind)
    }

    fn written(&self) -> String {
        format!("{} mm", short(self.mm(), 6))
    }
}

impl FromTyped for Mass {
    /// A bare number is kilograms; for a reader in inches it is pounds.
    fn from_typed_as(text: &str, units: Units) -> Result<Self, Unreadable> {
        Ok(Self::from_kg(MASS.exact(text, bare_mass(units))?.0.to_f64()))
    }

    fn unit_meant(text: &str, units: Units) -> Result<&'static str, Unreadable> {
        MASS.left_out(text, bare_mass(units)).map(behind)
    }

    fn written(&self) -> String {
        format!("{} kg", short(self.kg(), 9))
    }
}

impl FromTyped for Angle {
    /// A bare number is degrees.
    fn from_typed_as(text: &str, _: Units) -> Result<Self, Unreadable> {
        let (value, unit) = ANGLE.exact(text, |_| "°")?;
        let value = value.to_f64();
        Ok(if RADIANS.contains(&unit) { Self::from_radians(value) } else { Self::from_degrees(value) })
    }

    fn unit_meant(text: &str, _: Units) -> Result<&'static str, Unreadable> {
        ANGLE.left_out(text, |_| "°")
    }

    fn written(&self) -> String {
        format!("{}°", short(self.degrees(), 9))
    }
}

impl FromTyped for Area {
    /// A bare number is square centimetres; with a fraction, and for a reader in inches, it is square inches.
    fn from_typed_as(text: &str, units: Units) -> Result<Self, Unreadable> {
        Ok(Self::from_mm2(AREA.exact(text, bare_area(units))?.0.to_f64()))
    }

    fn unit_meant(text: &str, units: Units) -> Result<&'static str, Unreadable> {
        AREA.left_out(text, bare_area(units)).map(behind)
    }

    fn written(&self) -> String {
        format!("{} mm²", short(self.mm2(), 6))
    }
}

impl FromTyped for Hours {
    /// A bare number is hours.
    fn from_typed_as(text: &str, _: Units) -> Result<Self, Unreadable> {
        Ok(Self::from_hours(HOURS.exact(text, |_| "h")?.0.to_f64()))
    }

    fn unit_meant(text: &str, _: Units) -> Result<&'static str, Unreadable> {
        HOURS.left_out(text, |_| "h").map(behind)
    }

    fn written(&self) -> String {
        format!("{} h", short(self.hours(), 6))
    }
}

impl FromTyped for Money {
    /// A number of the shop's own currency, no finer than its smallest coin.
    fn from_typed_as(text: &str, _: Units) -> Result<Self, Unreadable> {
        let (coins, _) = MONEY.exact(text, |_| COIN)?;
        match i64::try_from(coins.above()) {
            Ok(minor) if coins.below() == 1 => Ok(Self::from_minor(minor)),
            _ => {
                Err(MONEY
                    .refused(text, "it is finer than the smallest coin; give two digits after the point".to_owned()))
            }
        }
    }

    /// None: it is of the shop's own currency.
    fn unit_meant(_: &str, _: Units) -> Result<&'static str, Unreadable> {
        Ok("")
    }

    fn written(&self) -> String {
        self.show(Units::Metric)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::reading::LONGEST;

    fn mm(text: &str) -> Option<f64> {
        Length::from_typed(text).ok().map(Length::mm)
    }

    #[test]
    fn a_bare_length_is_millimetres_until_a_fraction_or_a_mark_is_written() {
        assert_eq!(mm("44.45"), Some(44.45));
        assert_eq!(mm("44,45"), Some(44.45));
        assert_eq!(mm("1 3/4"), Some(44.45));
        assert_eq!(mm("1¾"), Some(44.45));
        assert_eq!(mm("1.75\""), Some(44.45));
        assert_eq!(mm("1⅟16"), Some(26.9875));
        assert_eq!(mm("−1⁄2 mm"), Some(-0.5));
        assert_eq!(mm("5'-3 1/2\""), Some(1612.9));
        assert_eq!(mm("5' 3 1/2"), Some(1612.9));
        assert_eq!(mm("5ft2in"), Some(1574.8));
        assert_eq!(mm("0,125 IN."), Some(3.175));
        assert_eq!(Length::from_typed_as("1.75", Units::Inch).map(Length::mm), Ok(44.45));
    }

    #[test]
    fn what_may_be_a_slip_is_refused_with_its_reason() {
        for (text, because) in [
            ("1,234", "the comma may stand for a decimal point or between thousands; write 1.234 or 1234"),
            ("1,234.5", "“1,234.5” has more than one point or comma; leave out marks between thousands"),
            ("1 4/3", "after a whole number the upper figure of the fraction must be less than the lower"),
            ("1 3", "two numbers stand side by side"),
            ("1.5 3/4", "a fraction follows a number that already has a point"),
            ("1/0", "the lower figure of a fraction cannot be 0"),
            (" ", "nothing was typed"),
            ("3 - 4", "a hyphen joins a whole number and its fraction only, as in 1-3/4"),
            ("1 in x 2", "“in x” is no unit of it"),
            ("5 kg", "“kg” is no unit of it"),
            ("5' 14\"", "the second amount is as much as one of the first, or more"),
            ("5.5' 3\"", "only the last number of an amount can have a fraction or a point"),
            ("1 m 3 in", "these units do not follow each other in one amount"),
            ("1:30", "a colon stands between hours and minutes only"),
            ("1234567890", "it has more than 9 digits before or after the point"),
        ] {
            let refused = Length::from_typed(text);
            assert_eq!(refused.err().and_then(|refused| refused.because).as_deref(), Some(because), "{text}");
        }
    }

    #[test]
    fn a_text_past_all_length_is_refused_and_not_repeated_whole() {
        let refused = Mass::from_typed(&"½".repeat(1000)).err();
        assert_eq!(refused.map(|refused| refused.typed.chars().count()), Some(LONGEST + 1));
    }

    #[test]
    fn masses_angles_areas_hours_and_money_read_in_their_units() {
        assert_eq!(Mass::from_typed("661 lb"), Ok(Mass::from_lb(661.0)));
        assert_eq!(Mass::from_typed("661"), Ok(Mass::from_kg(661.0)));
        assert_eq!(Mass::from_typed_as("661", Units::Inch), Ok(Mass::from_lb(661.0)));
        assert_eq!(Mass::from_typed("2 lbs 8 oz"), Ok(Mass::from_lb(2.5)));
        assert_eq!(Mass::from_typed("250 g"), Ok(Mass::from_kg(0.25)));
        assert!(Mass::from_typed("-1 kg").is_err());
        assert_eq!(Angle::from_typed("30.5"), Ok(Angle::from_degrees(30.5)));
        assert_eq!(Angle::from_typed("-30 deg"), Ok(Angle::from_degrees(-30.0)));
        assert_eq!(Angle::from_typed("0.5 rad"), Ok(Angle::from_radians(0.5)));
        for text in ["12.25 in2", "12.25in²", "12 1/4 sq. in.", "12¼", "12.25 in^2", "12,25 Square Inches"] {
            assert_eq!(Area::from_typed(text), Ok(Area::from_square_inches(12.25)), "{text}");
        }
        for text in ["79", "79 cm2", "79 cm²", "7900 mm2"] {
            assert_eq!(Area::from_typed(text), Ok(Area::from_cm2(79.0)), "{text}");
        }
        for text in ["1:30", "1.5", "1½", "1 h 30 min", "90 min", "1,5 hours"] {
            assert_eq!(Hours::from_typed(text), Ok(Hours::from_hours(1.5)), "{text}");
        }
        assert!(Hours::from_typed("1:75").is_err());
        assert!(Hours::from_typed("1:3").is_err());
        assert_eq!(Money::from_typed("12.50"), Ok(Money::from_minor(1250)));
        assert_eq!(Money::from_typed("-12,5"), Ok(Money::from_minor(-1250)));
        assert!(Money::from_typed("12.505").is_err());
        assert!(Money::from_typed("12 coin").is_err());
    }
}
