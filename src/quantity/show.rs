//! Printing quantities in the reader's units.

use super::Units;

/// Something printed with its unit for a reader.
pub trait Show {
    /// The text in these units: `43 5/8 in`, `1108 mm`.
    fn show(&self, units: Units) -> String;
}
