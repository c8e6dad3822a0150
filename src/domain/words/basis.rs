//! What a figure or a word rests on: a drawing, a record, a measurement, a photograph.

use serde::{Deserialize, Serialize};

use crate::quantity::Length;

/// What a word rests on. A drawing alone shows nothing of metal that exists or is still to be bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// The model alone.
    Drawn,
    /// A paper, a stick, a label, a part's own figures as somebody entered them.
    Recorded,
    /// Read off the car, or off a scale.
    Measured,
    /// A photograph.
    Seen,
}

impl Basis {
    /// As it is printed.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Drawn => "drawn",
            Self::Recorded => "recorded",
            Self::Measured => "measured",
            Self::Seen => "seen",
        }
    }
}

/// The outside diameter that a limit in diameters goes by: a bar's own, or the larger of those joined.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Diameter {
    /// No tube belongs to it.
    #[default]
    None,
    /// That of the tube it is drawn in, which nobody is known to have cut: no limit is met by it.
    Planned(Length),
    /// That of the stick it is cut from, or of the larger of such sticks.
    OfStick(Length),
}

impl Diameter {
    /// The diameter, planned or not; nothing without a tube.
    pub fn length(self) -> Length {
        match self {
            Self::None => Length::default(),
            Self::Planned(length) | Self::OfStick(length) => length,
        }
    }

    /// The larger of two; planned while either is.
    #[must_use]
    pub fn larger(self, other: Self) -> Self {
        let (one, two) = (self.length(), other.length());
        let length = if two > one { two } else { one };
        match (self, other) {
            (Self::None, only) | (only, Self::None) => only,
            (Self::OfStick(_), Self::OfStick(_)) => Self::OfStick(length),
            _ => Self::Planned(length),
        }
    }
}
