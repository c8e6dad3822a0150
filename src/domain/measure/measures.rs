//! What can be measured of a cage, or worked out of its model, each named as a rule names it.

use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::amounts::Dimension;

macro_rules! measures {
    ($($(#[$doc:meta])* $name:ident = $word:literal, $dimension:ident, $measured:literal;)+) => {
        /// What can be measured of a cage, or worked out of its model.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub enum Measure {
            $($(#[$doc])* $name,)+
        }

        impl Measure {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$name,)+];

            /// The words for it, as in books, on screen and on paper.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$name => $word,)+ }
            }

            /// What kind of quantity it is.
            pub const fn dimension(self) -> Dimension {
                match self { $(Self::$name => Dimension::$dimension,)+ }
            }

            /// Whether a person reads it off the car; the others follow from the model.
            pub const fn measured(self) -> bool {
                match self { $(Self::$name => $measured,)+ }
            }
        }
    };
}

measures! {
    /// A bar against the vertical, of a backstay or a hoop.
    AngleToVertical = "angle to vertical", Angle, false;
    /// Smallest centre-line radius among a bar's bends.
    BendRadius = "bend radius", Length, false;
    /// Largest deflection among a bar's bends.
    BendAngle = "bend angle", Angle, false;
    /// Smaller over larger outside diameter at a bend, by caliper.
    Roundness = "roundness at the bend", Ratio, true;
    /// From a diagonal's lower end to the foot, along its carrier.
    EndToFoot = "lower end to foot", Length, false;
    /// From a bar's upper end to the nearest joint on the same carrier.
    EndToJoint = "upper end to joint", Length, false;
    /// Area of a foot plate.
    PlateArea = "plate area", Area, false;
    /// Shorter side of a foot plate.
    PlateShortSide = "plate short side", Length, false;
    /// Longer side of a foot plate.
    PlateLongSide = "plate long side", Length, false;
    /// Thickness of a foot plate.
    PlateThickness = "plate thickness", Length, false;
    /// A gusset's leg along the tube.
    GussetLeg = "gusset leg", Length, false;
    /// A gusset's sheet.
    GussetThickness = "gusset thickness", Length, false;
    /// The hole in a gusset's flat side.
    GussetHole = "gusset hole", Length, false;
    /// Top of a sill bar over the door sill.
    OverSill = "height over the sill", Length, false;
    /// A bar's outside diameter.
    TubeOutside = "tube outside diameter", Length, false;
    /// A bar's nominal wall.
    TubeWall = "tube wall", Length, false;
    /// A bar's wall as gauged.
    WallMeasured = "wall as measured", Length, true;
    /// Between a bar and the body, at its nearest.
    BodyGap = "gap to the body", Length, true;
    /// Between the helmet and the nearest bar.
    HeadGap = "helmet to the nearest bar", Length, true;
    /// Diameter of the hole through which a wall is gauged.
    InspectionHole = "inspection hole", Length, true;
    /// Carbon by a stick's certificate, hundredths of the mass.
    Carbon = "carbon", Percent, true;
    /// Manganese by a stick's certificate, hundredths of the mass.
    Manganese = "manganese", Percent, true;
    /// Of all other elements in a stick's certificate the largest share, hundredths of the mass.
    OtherElement = "largest other element", Percent, true;
    /// Tensile strength by a stick's certificate.
    Tensile = "tensile strength", Stress, true;
    /// Yield strength by a stick's certificate.
    Yield = "yield strength", Stress, true;
    /// How many bolts hold a plate.
    BoltCount = "number of bolts", Count, true;
    /// Nominal diameter of a plate's bolts.
    BoltSize = "bolt size", Length, true;
    /// Grade of a plate's bolts.
    BoltGrade = "bolt grade", Grade, true;
    /// Smallest angle between two bolts, seen from the tube.
    BoltSpread = "angle between bolts", Angle, true;
    /// In how many planes each of a plate's bolts is sheared.
    BoltShear = "shear planes of each bolt", Count, true;
    /// Cross section of a plate's bolts together, by their nominal diameter.
    BoltSection = "bolt section", Area, false;
    /// From the door opening's lower edge to the higher end of a door bar.
    DoorBarHeight = "upper end over the sill", Length, true;
    /// From the door opening's lower edge to its upper.
    OpeningHeight = "door opening height", Length, true;
    /// Dimension A of a screen pillar, as the book's drawing shows it.
    PillarDimension = "pillar dimension A", Length, true;
}

impl Measure {
    /// Whether it is a share of the steel as it was cast: the same in every tube of one heat (*common practice*: a mill
    /// certificate has one analysis for its heat). Strength is tested lot by lot, and is not.
    pub const fn of_cast(self) -> bool {
        matches!(self, Self::Carbon | Self::Manganese | Self::OtherElement)
    }
}

impl FromStr for Measure {
    type Err = String;
    fn from_str(word: &str) -> Result<Self, String> {
        let found = Self::ALL.iter().find(|measure| measure.word() == word);
        found.copied().ok_or_else(|| format!("nothing that is measured is called “{word}”"))
    }
}

impl TryFrom<String> for Measure {
    type Error = String;
    fn try_from(word: String) -> Result<Self, String> {
        word.parse()
    }
}

impl From<Measure> for String {
    fn from(measure: Measure) -> Self {
        measure.word().to_owned()
    }
}
