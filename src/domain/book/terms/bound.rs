//! Edges of a rule: an amount in a book's own unit or a multiple of the tube's diameter, and whether the edge itself is inside.

use std::cmp::Ordering;

use crate::domain::measure::amounts::{Amount, Dimension};
use crate::domain::measure::figures::Figure;
use crate::domain::measure::measures::Measure;
use crate::quantity::{Angle, Area, Length, Mass, Stress};

use super::words::words;

words!(
    /// A unit that a book may print.
    Unit {
        /// Millimetre.
        Millimetre = "mm",
        /// Centimetre.
        Centimetre = "cm",
        /// Metre.
        Metre = "m",
        /// Inch.
        Inch = "in",
        /// Foot.
        Foot = "ft",
        /// Kilogram.
        Kilogram = "kg",
        /// Pound.
        Pound = "lb",
        /// Degree.
        Degree = "degrees",
        /// Square millimetre.
        SquareMillimetre = "mm²",
        /// Square centimetre.
        SquareCentimetre = "cm²",
        /// Square inch.
        SquareInch = "in²",
        /// Newton per square millimetre.
        NewtonPerSquareMillimetre = "N/mm²",
        /// Megapascal, which is the same.
        Megapascal = "MPa",
        /// Thousand pounds per square inch.
        KilopoundPerSquareInch = "ksi",
    }
);

impl Unit {
    /// What kind of quantity it measures.
    pub const fn dimension(self) -> Dimension {
        match self {
            Self::Millimetre | Self::Centimetre | Self::Metre | Self::Inch | Self::Foot => Dimension::Length,
            Self::Kilogram | Self::Pound => Dimension::Mass,
            Self::Degree => Dimension::Angle,
            Self::SquareMillimetre | Self::SquareCentimetre | Self::SquareInch => Dimension::Area,
            Self::NewtonPerSquareMillimetre | Self::Megapascal | Self::KilopoundPerSquareInch => Dimension::Stress,
        }
    }

    /// So many of it.
    pub fn amount(self, number: f64) -> Amount {
        match self {
            Self::Millimetre => Amount::Length(Length::from_mm(number)),
            Self::Centimetre => Amount::Length(Length::from_mm(number * 10.0)),
            Self::Metre => Amount::Length(Length::from_mm(number * 1000.0)),
            Self::Inch => Amount::Length(Length::from_inches(number)),
            Self::Foot => Amount::Length(Length::from_inches(number * 12.0)),
            Self::Kilogram => Amount::Mass(Mass::from_kg(number)),
            Self::Pound => Amount::Mass(Mass::from_lb(number)),
            Self::Degree => Amount::Angle(Angle::from_degrees(number)),
            Self::SquareMillimetre => Amount::Area(Area::from_mm2(number)),
            Self::SquareCentimetre => Amount::Area(Area::from_cm2(number)),
            Self::SquareInch => Amount::Area(Area::from_square_inches(number)),
            Self::NewtonPerSquareMillimetre | Self::Megapascal => Amount::Stress(Stress::from_mpa(number)),
            Self::KilopoundPerSquareInch => Amount::Stress(Stress::from_ksi(number)),
        }
    }

    /// The units of a kind of quantity, with their words.
    pub fn of(dimension: Dimension) -> Vec<(&'static str, Self)> {
        Self::WORDS.iter().copied().filter(|entry| entry.1.dimension() == dimension).collect()
    }
}

/// What an edge stands at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value {
    /// An amount.
    Amount(Amount),
    /// So many diameters of the tube.
    Diameters(f64),
    /// An area that grows with the tube: this length times its diameter.
    PerDiameter(Length),
    /// So much of another figure of the same part.
    Share(f64, Measure),
}

impl Value {
    /// The amount it is for a tube of this outside diameter; none of a share of another figure.
    pub fn at(self, diameter: Length) -> Option<Amount> {
        match self {
            Self::Amount(amount) => Some(amount),
            Self::Diameters(times) => Some(Amount::Length(diameter * times)),
            Self::PerDiameter(length) => Some(Amount::Area(length.times(diameter))),
            Self::Share(..) => None,
        }
    }

    /// The amount it is beside a figure, given the other figures; none while the figure it is a share of is not known.
    pub fn beside(self, figure: &Figure, others: &[Figure]) -> Option<Amount> {
        let Self::Share(share, measure) = self else { return self.at(figure.diameter.length()) };
        match others.iter().rfind(|other| other.measure == measure && other.of == figure.of)?.amount {
            Amount::Length(length) => Some(Amount::Length(length * share)),
            Amount::Area(area) => Some(Amount::Area(area * share)),
            Amount::Angle(angle) => Some(Amount::Angle(angle * share)),
            _ => None,
        }
    }

    /// The other figure that it is a share of.
    pub const fn share_of(self) -> Option<Measure> {
        if let Self::Share(_, measure) = self { Some(measure) } else { None }
    }
}

/// One asked figure with the least and the most allowed.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// Which figure.
    pub measure: Measure,
    /// At least this.
    pub least: Option<Bound>,
    /// At most this.
    pub most: Option<Bound>,
}

impl Check {
    /// In words: "carbon at most 0.3 %".
    pub fn text(&self) -> String {
        format!("{} {}", self.measure.word(), edges_text(self.least.as_ref(), self.most.as_ref()))
    }
}

/// Both edges in words: "at least 60 mm, at most 120 mm".
pub fn edges_text(least: Option<&Bound>, most: Option<&Bound>) -> String {
    let edges = least.map(Bound::least_text).into_iter().chain(most.map(Bound::most_text));
    edges.collect::<Vec<_>>().join(", ")
}

/// One edge of what a rule allows.
#[derive(Debug, Clone, PartialEq)]
pub struct Bound {
    /// Where it stands.
    pub value: Value,
    /// Whether the edge itself is allowed.
    pub included: bool,
    /// As the book prints it: `12 in²`, `3 diameters`.
    pub printed: String,
}

impl Bound {
    /// Whether an amount keeps to this edge, standing at `edge`, as the least allowed; none when the two are not of a kind.
    pub fn reached_by(&self, amount: Amount, edge: Amount) -> Option<bool> {
        let order = amount.compare(edge)?;
        Some(order == Ordering::Greater || (self.included && order == Ordering::Equal))
    }

    /// Whether an amount keeps to this edge, standing at `edge`, as the most allowed; none when the two are not of a kind.
    pub fn kept_by(&self, amount: Amount, edge: Amount) -> Option<bool> {
        let order = amount.compare(edge)?;
        Some(order == Ordering::Less || (self.included && order == Ordering::Equal))
    }

    /// In words, as the least allowed: "at least 12 in²", "more than 100 mm".
    pub fn least_text(&self) -> String {
        format!("{} {}", if self.included { "at least" } else { "more than" }, self.printed)
    }

    /// In words, as the most allowed: "at most 4 in", "less than 100 mm".
    pub fn most_text(&self) -> String {
        format!("{} {}", if self.included { "at most" } else { "less than" }, self.printed)
    }
}
