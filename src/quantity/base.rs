//! The quantities themselves: one newtype each, held in one base unit, compared to the last digit a person can type.

use std::cmp::Ordering;
use std::ops::{Add, Div, Mul, Neg, Sub};

use serde::{Deserialize, Serialize};

/// Millimetres in an inch, exact (international inch, 1959).
pub const MM_PER_INCH: f64 = 25.4;
/// Kilograms in a pound, exact (international avoirdupois pound, 1959).
pub const KG_PER_LB: f64 = 0.453_592_37;

/// Newtons per square millimetre in a thousand pounds-force per square inch: 4.4482216152605 kN over 645.16 mm².
pub const MPA_PER_KSI: f64 = 4_448.221_615_260_5 / 645.16;

/// Which units the reader wants to see.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Inches with fractions, pounds, square inches.
    Inch,
    /// Millimetres, kilograms, square centimetres.
    Metric,
}

/// Quantities are compared after rounding to this many steps of the base unit, so that `5.25 in` *is* three times
/// `1.75 in` although their quotient in binary falls short of three (1e-6 mm, 1e-9 kg, 1e-6 mm², 1e-9 rad).
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $base:ident, $from:ident, $unit:literal, $steps:expr) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, Default, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("From a number of ", $unit, ".")]
            pub const fn $from(value: f64) -> Self {
                Self(value)
            }
            #[doc = concat!("As a number of ", $unit, ".")]
            pub const fn $base(self) -> f64 {
                self.0
            }
            /// Without its sign.
            pub fn abs(self) -> Self {
                Self(self.0.abs())
            }
            /// True when it is a number at all.
            pub fn is_finite(self) -> bool {
                self.0.is_finite()
            }
            fn steps(self) -> f64 {
                (self.0 * $steps).round()
            }
        }
        impl PartialEq for $name {
            fn eq(&self, other: &Self) -> bool {
                self.steps() == other.steps()
            }
        }
        impl PartialOrd for $name {
            fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
                self.steps().partial_cmp(&other.steps())
            }
        }
        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
                Self(parts.map(|part| part.0).sum())
            }
        }
    };
}

quantity!(
    /// A length. Base unit: millimetre.
    Length, mm, from_mm, "millimetres", 1e6
);
quantity!(
    /// A mass. Base unit: kilogram.
    Mass, kg, from_kg, "kilograms", 1e9
);
quantity!(
    /// A plane angle. Base unit: radian.
    Angle, radians, from_radians, "radians", 1e9
);
quantity!(
    /// An area. Base unit: square millimetre.
    Area, mm2, from_mm2, "square millimetres", 1e6
);
quantity!(
    /// A stress, as a steel's strength is given. Base unit: newton per square millimetre, which is a megapascal.
    Stress, mpa, from_mpa, "newtons per square millimetre", 1e6
);
quantity!(
    /// Working time. Base unit: hour.
    Hours, hours, from_hours, "hours", 1e6
);

quantity!(
    /// An arc's voltage. Base unit: volt.
    Voltage, volts, from_volts, "volts", 1e6
);
quantity!(
    /// An arc's current. Base unit: ampere.
    Current, amperes, from_amperes, "amperes", 1e6
);
quantity!(
    /// How fast a torch or a wire moves. Base unit: millimetre in a second.
    Speed, mm_per_second, from_mm_per_second, "millimetres in a second", 1e6
);
quantity!(
    /// A temperature. Base unit: degree Celsius.
    Temperature, celsius, from_celsius, "degrees Celsius", 1e6
);

quantity!(
    /// A part of a whole, 0 to 1.
    Share, ratio, from_ratio, "parts of the whole", 1e9
);

impl Length {
    /// From a number of inches.
    pub const fn from_inches(value: f64) -> Self {
        Self(value * MM_PER_INCH)
    }
    /// As a number of inches.
    pub const fn inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }
    /// The rectangle of two lengths.
    pub fn times(self, other: Self) -> Area {
        Area(self.0 * other.0)
    }
}

impl Stress {
    /// From a number of thousands of pounds-force per square inch (the pound-force with standard gravity, 9.80665 m/s²,
    /// exact).
    pub const fn from_ksi(value: f64) -> Self {
        Self(value * MPA_PER_KSI)
    }
    /// As a number of thousands of pounds-force per square inch.
    pub const fn ksi(self) -> f64 {
        self.0 / MPA_PER_KSI
    }
}

impl Mass {
    /// From a number of pounds.
    pub const fn from_lb(value: f64) -> Self {
        Self(value * KG_PER_LB)
    }
    /// As a number of pounds.
    pub const fn lb(self) -> f64 {
        self.0 / KG_PER_LB
    }
}

impl Angle {
    /// From a number of degrees.
    pub const fn from_degrees(value: f64) -> Self {
        Self(value.to_radians())
    }
    /// As a number of degrees.
    pub const fn degrees(self) -> f64 {
        self.0.to_degrees()
    }
}

impl Area {
    /// From a number of square inches.
    pub const fn from_square_inches(value: f64) -> Self {
        Self(value * MM_PER_INCH * MM_PER_INCH)
    }
    /// As a number of square inches.
    pub const fn square_inches(self) -> f64 {
        self.0 / (MM_PER_INCH * MM_PER_INCH)
    }
    /// From a number of square centimetres.
    pub const fn from_cm2(value: f64) -> Self {
        Self(value * 100.0)
    }
    /// As a number of square centimetres.
    pub const fn cm2(self) -> f64 {
        self.0 / 100.0
    }
}

/// An amount of the shop's own currency, in its smallest coin.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Money(i64);

impl Money {
    /// From a number of the smallest coin (cents, pence).
    pub const fn from_minor(value: i64) -> Self {
        Self(value)
    }
    /// As a number of the smallest coin.
    pub const fn minor(self) -> i64 {
        self.0
    }
}

impl std::iter::Sum for Money {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        Self(parts.fold(0_i64, |sum, part| sum.saturating_add(part.0)))
    }
}
