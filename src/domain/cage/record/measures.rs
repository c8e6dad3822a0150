//! What the tape measures in a car to lay out its cage: the word, the form's name, where to hold the tape, the bound.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::basic_structure::BasicStructure;
use crate::quantity::Length;

/// A side of the car, as the driver sees it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Hand {
    /// Left of the centre plane.
    Left,
    /// Right of the centre plane.
    Right,
}

impl Hand {
    /// Both of them, left first.
    pub const BOTH: [Self; 2] = [Self::Left, Self::Right];

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The other one.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// Plus one on the left, where y is positive, minus one on the right.
    pub(crate) const fn sign(self) -> f64 {
        match self {
            Self::Left => 1.0,
            Self::Right => -1.0,
        }
    }
}

macro_rules! tape_measures {
    (
        across { $($(#[$adoc:meta])* $across:ident = $akey:literal, $aword:literal, $ahold:literal, $aleast:literal..$amost:literal;)+ }
        sided { $($(#[$sdoc:meta])* $sided:ident = $skey:literal, $sword:literal, $shold:literal, $sleast:literal..$smost:literal;)+ }
    ) => {
        /// One measurement of a car. All are taken to where the tube's centre line will be; those of a side exist twice,
        /// and the right one follows the left until it is typed.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub enum TapeMeasure {
            $($(#[$adoc])* $across,)+
            $($(#[$sdoc])* $sided(Hand),)+
        }

        /// All measurements in the order a person walks round the car: the hoop, the left side from the hoop to the
        /// nose, the door, the rear, then the right side.
        pub const ORDER_OF_MEASURING: &[TapeMeasure] = &[
            $(TapeMeasure::$across,)+
            $(TapeMeasure::$sided(Hand::Left),)+
            $(TapeMeasure::$sided(Hand::Right),)+
        ];

        impl TapeMeasure {
            const fn stem(self) -> &'static str {
                match self { $(Self::$across => $akey,)+ $(Self::$sided(_) => $skey,)+ }
            }

            const fn plain_word(self) -> &'static str {
                match self { $(Self::$across => $aword,)+ $(Self::$sided(_) => $sword,)+ }
            }

            /// Where to hold the tape, in one sentence.
            pub const fn where_to_hold(self) -> &'static str {
                match self { $(Self::$across => $ahold,)+ $(Self::$sided(_) => $shold,)+ }
            }

            /// The least and the most that is taken (*common practice*: what a car has room for).
            pub const fn bounds(self) -> (Length, Length) {
                match self {
                    $(Self::$across => (Length::from_mm($aleast), Length::from_mm($amost)),)+
                    $(Self::$sided(_) => (Length::from_mm($sleast), Length::from_mm($smost)),)+
                }
            }

            /// The side it is taken on, if it is taken on a side.
            pub const fn hand(self) -> Option<Hand> {
                match self { $(Self::$across => None,)+ $(Self::$sided(hand) => Some(hand),)+ }
            }

            /// The same measurement on the other side, if it is taken on a side.
            #[must_use]
            pub const fn mirrored(self) -> Self {
                match self { $(Self::$across => Self::$across,)+ $(Self::$sided(hand) => Self::$sided(hand.other()),)+ }
            }
        }
    };
}

tape_measures! {
    across {
    /// Between the main hoop's feet.
    HoopFeetWidth = "hoop_feet_width", "main hoop: width between the feet",
        "Across the floor, from the middle of the left foot's place to the middle of the right.", 500.0..2000.0;
    /// The main hoop's width where its sides begin to lean inward.
    HoopShoulderWidth = "hoop_shoulder_width", "main hoop: width at the shoulder",
        "Across the car at the waist, between the pillars, half a tube and a little room less at each side.", 500.0..2000.0;
    /// How high the shoulder is.
    HoopShoulderHeight = "hoop_shoulder_height", "main hoop: height of the shoulder",
        "From the floor up the pillar to where its inside begins to lean inward.", 200.0..1200.0;
    /// The main hoop's width at the roof.
    HoopRoofWidth = "hoop_roof_width", "main hoop: width at the roof",
        "Across the car under the roof, to where the hoop's sides would meet the top.", 400.0..1800.0;
    /// How high the main hoop's top is.
    HoopRoofHeight = "hoop_roof_height", "main hoop: height at the roof",
        "From the floor to half a tube and a little room under the roof.", 600.0..1600.0;
    /// How far the top is behind the feet.
    HoopLean = "hoop_lean", "main hoop: lean of the top rearward",
        "Hang a plumb line from the hoop's top; from the line to the feet, minus when the top is in front.", -400.0..400.0;
    /// The roof's lowest point over the main hoop, inside.
    RoofInside = "roof_inside", "roof: height inside, at the hoop",
        "From the floor to the lowest point of the roof over the hoop, with the lining out.", 600.0..1800.0;
    /// How high the harness bar is.
    HarnessBarHeight = "harness_bar_height", "harness bar: height",
        "From the floor to the shoulders of the driver in the seat, or as the harness's sheet says.", 200.0..1400.0;
    /// How high the dash bar is.
    DashBarHeight = "dash_bar_height", "dash bar: height",
        "From the floor to where a bar fits behind the dash, clear of the column and the wiper.", 200.0..1200.0;
    }
    sided {
    /// The top of the plate under the main hoop's foot.
    HoopPlateHeight = "hoop_plate_height", "main hoop: height of the plate",
        "From the level of the floor up to the top of the plate under the foot; minus when it is lower.", -200.0..400.0;
    /// The front foot, forward of the main hoop's foot.
    FrontFootForward = "front_foot_forward", "front foot: forward of the hoop",
        "Along the floor, from the hoop's foot forward to the middle of the front foot's place.", 400.0..2500.0;
    /// The front foot, out from the centre plane.
    FrontFootOut = "front_foot_out", "front foot: out from the centre",
        "From the centre line on the floor out to the middle of the front foot's place.", 150.0..1000.0;
    /// The top of the plate under the front foot.
    FrontPlateHeight = "front_plate_height", "front foot: height of the plate",
        "From the level of the floor up to the top of the plate under the front foot; minus when it is lower.",
        -200.0..400.0;
    /// The pillar's knee at the dash, forward of the hoop.
    KneeForward = "knee_forward", "pillar knee: forward of the hoop",
        "From the plumb over the hoop's foot forward to where the pillar bar bends at the dash.", 400.0..2500.0;
    /// The knee, out from the centre plane.
    KneeOut = "knee_out", "pillar knee: out from the centre",
        "From the centre line out to where the pillar bar bends at the dash.", 150.0..1000.0;
    /// The knee's height.
    KneeUp = "knee_up", "pillar knee: height",
        "From the floor up to where the pillar bar bends at the dash.", 150.0..1200.0;
    /// The screen's upper corner, forward of the hoop.
    ScreenCornerForward = "screen_corner_forward", "upper screen corner: forward of the hoop",
        "From the plumb over the hoop's foot forward to where the tube along the roof would meet the one down the pillar.", 200.0..2200.0;
    /// The screen's upper corner, out from the centre plane.
    ScreenCornerOut = "screen_corner_out", "upper screen corner: out from the centre",
        "From the centre line out to where the tube along the roof would meet the one down the pillar.", 150.0..900.0;
    /// The screen's upper corner, its height.
    ScreenCornerUp = "screen_corner_up", "upper screen corner: height",
        "From the floor up to where the tube along the roof would meet the one down the pillar.", 500.0..1600.0;
    /// The door sill's top.
    SillHeight = "sill_height", "door: height of the sill",
        "From the level of the floor up to the top of the door sill.", -100.0..600.0;
    /// The sill bar's top, over the door sill.
    SillBarTop = "sill_bar_top", "door: top of the sill bar over the sill",
        "From the top of the door sill up to the top of the bar that is wanted.", -100.0..300.0;
    /// The door opening, along the car.
    DoorOpeningLength = "door_opening_length", "door: length of the opening",
        "Along the sill, from the front edge of the door opening to its rear edge.", 300.0..1800.0;
    /// The door opening, upright.
    DoorOpeningHeight = "door_opening_height", "door: height of the opening",
        "From the top of the sill straight up to the upper edge of the opening.", 200.0..1400.0;
    /// The backstay's foot, behind the main hoop's feet.
    BackstayFootBack = "backstay_foot_back", "backstay foot: behind the hoop",
        "From the plumb over the hoop's foot back to the middle of the backstay foot's place.", 100.0..2200.0;
    /// The backstay's foot, out from the centre plane.
    BackstayFootOut = "backstay_foot_out", "backstay foot: out from the centre",
        "From the centre line out to the middle of the backstay foot's place.", 50.0..1000.0;
    /// The top of the plate under the backstay's foot.
    BackstayFootUp = "backstay_foot_up", "backstay foot: height of the plate",
        "From the level of the floor up to the top of the plate under the backstay's foot.", -200.0..900.0;
    }
}

impl TapeMeasure {
    /// Its name in forms and files, in snake case: `hoop_roof_width`, `knee_up_left`.
    pub fn key(self) -> String {
        match self.hand() {
            Some(hand) => format!("{}_{}", self.stem(), hand.word()),
            None => self.stem().to_owned(),
        }
    }

    /// The words for it on screen and on paper.
    pub fn word(self) -> String {
        match self.hand() {
            Some(hand) => format!("{}, {}", self.plain_word(), hand.word()),
            None => self.plain_word().to_owned(),
        }
    }

    /// The words for it where a basic structure has no main hoop: the same places are those of the hoops' rear legs.
    pub fn word_in(self, structure: BasicStructure) -> String {
        let word = self.word();
        if structure.has_main_hoop() { word } else { word.replacen("main hoop", "rear legs", 1) }
    }
}

impl fmt::Display for TapeMeasure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.word())
    }
}

impl FromStr for TapeMeasure {
    type Err = String;
    fn from_str(key: &str) -> Result<Self, String> {
        let found = ORDER_OF_MEASURING.iter().find(|measure| measure.key() == key);
        found.copied().ok_or_else(|| format!("no measurement of a car is called “{key}”"))
    }
}

impl TryFrom<String> for TapeMeasure {
    type Error = String;
    fn try_from(key: String) -> Result<Self, String> {
        key.parse()
    }
}

impl From<TapeMeasure> for String {
    fn from(measure: TapeMeasure) -> Self {
        measure.key()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_key_names_one_measurement() {
        for measure in ORDER_OF_MEASURING {
            assert_eq!(measure.key().parse(), Ok(*measure));
            assert!(measure.bounds().0 < measure.bounds().1, "{measure}");
            assert!(measure.where_to_hold().ends_with('.'), "{measure}");
            assert_eq!(measure.mirrored().mirrored(), *measure);
        }
        assert_eq!("knee_up_left".parse(), Ok(TapeMeasure::KneeUp(Hand::Left)));
        assert!("knee_up".parse::<TapeMeasure>().is_err());
    }
}
