//! The unit of a measure, as a book prints it.

use super::bound::Unit;
use crate::domain::measure::amounts::{Amount, Dimension};

/// The unit of a measure: one that a book prints, none where the figure has none, or missing.
pub(in crate::domain::book) enum UnitOf {
    /// A unit.
    Unit(Unit),
    /// The figure has no unit.
    Bare(Dimension),
    /// It was asked for and is not there, or not known.
    Missing,
}

impl UnitOf {
    /// So many of it.
    pub(in crate::domain::book) fn amount(&self, number: f64) -> Option<Amount> {
        match self {
            Self::Unit(unit) => Some(unit.amount(number)),
            Self::Bare(dimension) => Some(dimension.of_base_unit(number)),
            Self::Missing => None,
        }
    }

    /// As the book prints it.
    pub(in crate::domain::book) fn printed(&self, number: f64) -> String {
        match self {
            Self::Unit(unit) => format!("{number} {}", unit.word()),
            Self::Bare(Dimension::Percent) => format!("{number} %"),
            Self::Bare(_) | Self::Missing => format!("{number}"),
        }
    }
}
