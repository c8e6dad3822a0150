//! What a figure is of, and from which side it bounds.

use crate::domain::measure::amounts::Dimension;

/// What kind of quantity a figure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// One that has a unit.
    Of(Dimension),
    /// So many of the tube's diameters.
    Diameters,
    /// Years.
    Years,
}

/// From which side a figure bounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    /// The figure itself is inside.
    AtLeast,
    /// The figure itself is outside.
    MoreThan,
    /// The figure itself is inside.
    AtMost,
    /// The figure itself is outside.
    LessThan,
    /// Nothing says from which.
    Unsaid,
}
