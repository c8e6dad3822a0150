//! What a person chooses beside the basic structure: which bars are added, and which bar of a cross runs through.

use serde::{Deserialize, Serialize};

use super::measures::{Hand, TapeMeasure};

/// Most seat cross bars of one cage (own choice).
pub const SEAT_CROSS_BARS: u8 = 4;

/// Bracing of a plane from corner to corner.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Diagonal {
    /// No bar.
    #[default]
    None,
    /// One bar.
    One,
    /// Two that cross: one runs through, the other is two pieces.
    Cross,
}

/// Bracing of the roof.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RoofDiagonal {
    /// No bar.
    #[default]
    None,
    /// One bar.
    One,
    /// Two that cross: one runs through, the other is two pieces.
    Cross,
    /// Two that meet at the middle of the windscreen header.
    VForward,
    /// Two that meet at the middle of the main hoop's top.
    VRearward,
}

/// Bars in a door's opening.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DoorBars {
    /// No bar.
    #[default]
    None,
    /// One, falling from the hoop forward.
    One,
    /// Two, one over the other.
    Two,
    /// Two that cross: one runs through, the other is two pieces.
    Cross,
}

/// Which bar of crossed door bars runs through.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DoorThrough {
    /// The one that is high at the main hoop.
    #[default]
    HighAtHoop,
    /// The one that is low at the main hoop.
    LowAtHoop,
}

/// Everything chosen beside the basic structure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
#[expect(clippy::struct_excessive_bools, reason = "each is a bar chosen or not")]
pub struct Options {
    /// In the main hoop's plane.
    pub hoop_diagonal: Diagonal,
    /// In the roof.
    pub roof_diagonal: RoofDiagonal,
    /// Between the backstays.
    pub backstay_diagonal: Diagonal,
    /// The side on which a single diagonal, or the one of a cross that runs through, has its upper or rear end.
    pub through: Hand,
    /// In the left door.
    pub door_left: DoorBars,
    /// In the right door.
    pub door_right: DoorBars,
    /// Which of crossed door bars runs through.
    pub door_through: DoorThrough,
    /// Beside both sills.
    pub sill_bars: bool,
    /// Across the main hoop behind the shoulders.
    pub harness_bar: bool,
    /// Across the car behind the dash.
    pub dash_bar: bool,
    /// Across the main hoop at its shoulders.
    pub hoop_cross_bar: bool,
    /// From the upper screen corners to the front feet.
    pub pillar_struts: bool,
    /// How many run from sill bar to sill bar.
    pub seat_cross_bars: u8,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            hoop_diagonal: Diagonal::None,
            roof_diagonal: RoofDiagonal::None,
            backstay_diagonal: Diagonal::None,
            through: Hand::Left,
            door_left: DoorBars::None,
            door_right: DoorBars::None,
            door_through: DoorThrough::HighAtHoop,
            sill_bars: false,
            harness_bar: false,
            dash_bar: false,
            hoop_cross_bar: false,
            pillar_struts: false,
            seat_cross_bars: 0,
        }
    }
}

impl Options {
    /// The bars in a door.
    pub fn door(&self, hand: Hand) -> DoorBars {
        match hand {
            Hand::Left => self.door_left,
            Hand::Right => self.door_right,
        }
    }

    /// True when a cage with these options cannot be laid out without the measurement. A right one that is not typed
    /// follows the left.
    pub fn needs(&self, measure: TapeMeasure) -> bool {
        match measure {
            TapeMeasure::RoofInside | TapeMeasure::DashBarHeight | TapeMeasure::DoorOpeningLength(_) => false,
            TapeMeasure::HarnessBarHeight => self.harness_bar,
            TapeMeasure::SillHeight(hand) => self.sills() || self.door(hand) != DoorBars::None,
            TapeMeasure::DoorOpeningHeight(hand) => self.door(hand) != DoorBars::None,
            TapeMeasure::SillBarTop(_) => self.sills(),
            _ => true,
        }
    }

    /// True when there are sill bars: asked for, or carrying seat cross bars.
    pub fn sills(&self) -> bool {
        self.sill_bars || self.seat_cross_bars > 0
    }
}
