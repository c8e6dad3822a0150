//! Figures that are cut and fitted by, rounded to the side that does no harm: a blank no shorter than it is, room no
//! greater. Where neither side does harm (bend marks, arcs, checks, heights) the nearest is shown, by
//! [`Length::by_tape`] and [`Length::by_tape_exactly`].

use super::show::FINEST_OF_A_BENCH;
use super::{Length, Show as _, Units};

/// A length within this many inches of a sixteenth is that sixteenth (own choice: no tape shows the difference).
const NEAR_A_SIXTEENTH: f64 = 0.002;
/// A length within this many millimetres of a whole one is that (own choice, as above).
const NEAR_A_MILLIMETRE: f64 = 0.05;
/// What is within this of a step is that step: binary figures do not tell it from nothing.
const NOTHING: f64 = 1e-6;

impl Length {
    /// On a tape, never less than it is: up to the next sixteenth, or the next whole millimetre. What no tape shows is no
    /// step. For what must be long or wide enough: a hole, a drop, a move out of the way, tube to buy.
    pub fn by_tape_at_least(self, units: Units) -> String {
        match units {
            Units::Inch => {
                Self::from_inches(((self.inches() - NEAR_A_SIXTEENTH) * 16.0).ceil() / 16.0).show_fraction(16)
            }
            Units::Metric => Self::from_mm((self.mm() - NEAR_A_MILLIMETRE).ceil()).show(units),
        }
    }

    /// The same, never more than it is. For what there is of room or of tube: a gap, what a plate covers, an offcut.
    pub fn by_tape_at_most(self, units: Units) -> String {
        match units {
            Units::Inch => {
                Self::from_inches(((self.inches() + NEAR_A_SIXTEENTH) * 16.0).floor() / 16.0).show_fraction(16)
            }
            Units::Metric => Self::from_mm((self.mm() + NEAR_A_MILLIMETRE).floor()).show(units),
        }
    }

    /// For the saw, never less than it is: inches up to the next sixty-fourth, as a tape of sixteenths shows them, or
    /// millimetres up to the next tenth.
    pub fn by_saw(self, units: Units) -> String {
        match units {
            Units::Metric => format!("{:.1} mm", up(self.mm(), 10.0)),
            Units::Inch => {
                let parts = up(self.inches(), f64::from(FINEST_OF_A_BENCH));
                Self::from_inches(parts).by_tape_exactly(Units::Inch)
            }
        }
    }

    /// The same in a table, in millimetres to a tenth without the unit, which stands over the column.
    pub fn saw_mm(self) -> String {
        format!("{:.1}", up(self.mm(), 10.0))
    }

    /// The same in inches to a thousandth.
    pub fn saw_inches(self) -> String {
        format!("{:.3}", up(self.inches(), 1000.0))
    }
}

/// Up to the next of so many steps of one.
fn up(value: f64, steps: f64) -> f64 {
    (value * steps - NOTHING * steps).ceil() / steps + 0.0
}
