//! The bender a die is on: which way it swings the tube, and which way its dial counts turns.

use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::quantity::Angle;

/// Which way the die swings the tube's front end, seen by somebody who stands at the straight rest and looks at the die.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Swing {
    /// To the left.
    #[default]
    Left,
    /// To the right.
    Right,
}

/// Which way round the tube is turned when its turn is plus, seen from end A along the tube.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Plus {
    /// As a clock's hands go.
    #[default]
    Clockwise,
    /// The other way.
    Anticlockwise,
}

/// What a shop says of the bender that a die is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Bender {
    /// Which way it swings the tube. Every bend is made the same way, so that this is for the picture alone: the tube's
    /// turns are the same on both.
    pub swing: Swing,
    /// Which way its dial counts.
    pub plus: Plus,
}

impl Swing {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Left, Self::Right];

    /// As it is said and stored.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

impl Plus {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Clockwise, Self::Anticlockwise];

    /// As it is said and stored.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Clockwise => "clockwise",
            Self::Anticlockwise => "anticlockwise",
        }
    }
}

impl FromStr for Swing {
    type Err = ();

    fn from_str(text: &str) -> Result<Self, ()> {
        Self::ALL.into_iter().find(|swing| swing.word() == text).ok_or(())
    }
}

impl FromStr for Plus {
    type Err = ();

    fn from_str(text: &str) -> Result<Self, ()> {
        Self::ALL.into_iter().find(|plus| plus.word() == text).ok_or(())
    }
}

impl Bender {
    /// How far the whole tube is turned about its own axis for a bend whose plane is turned by `rotation` in the part,
    /// right-handed about the way from end A to end B; as this bender's dial counts it, over -180 up to and with +180
    /// degrees. The bender's own plane stays where it is: to bring the next bend's plane into it, the tube turns the
    /// other way.
    pub fn turn(self, rotation: Angle) -> Angle {
        let clockwise = Angle::from_degrees(-rotation.degrees());
        let counted = match self.plus {
            Plus::Clockwise => clockwise,
            Plus::Anticlockwise => rotation,
        };
        within_half_a_round(counted)
    }

    /// Whether the upper side of the tube, seen from above, goes to the side that the tube is swung to when it is turned by
    /// plus.
    pub const fn plus_goes_with_the_swing(self) -> bool {
        matches!((self.swing, self.plus), (Swing::Left, Plus::Clockwise) | (Swing::Right, Plus::Anticlockwise))
    }
}

/// The same turn over -180 up to and with +180 degrees.
pub fn within_half_a_round(angle: Angle) -> Angle {
    let rest = angle.degrees().rem_euclid(360.0);
    Angle::from_degrees(if rest > 180.0 { rest - 360.0 } else { rest })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_a_round_is_plus_either_way() {
        for (from, to) in [(0.0, 0.0), (-180.0, 180.0), (180.0, 180.0), (190.0, -170.0), (-350.0, 10.0), (-0.0, 0.0)] {
            let got = within_half_a_round(Angle::from_degrees(from)).degrees();
            assert!((got - to).abs() < 1e-12, "{from}: {got}");
        }
    }

    #[test]
    fn a_dial_that_counts_the_other_way_turns_the_same_tube_the_same_way() {
        let rotation = Angle::from_degrees(30.0);
        let turn = |plus| Bender { swing: Swing::Right, plus }.turn(rotation).degrees();
        assert!((turn(Plus::Clockwise) + 30.0).abs() < 1e-12 && (turn(Plus::Anticlockwise) - 30.0).abs() < 1e-12);
    }
}
