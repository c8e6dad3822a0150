//! Figures of a build, worked out or measured, each named as a rule names it.

use std::cmp::Ordering;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::basis::{Basis, Diameter};
use super::bolts::BoltGrade;
use super::ids::Balloon;
use super::roles::MemberRole;
use super::tools::Tool;
use crate::quantity::{Angle, Area, Length, Mass, Show, Stress, Units};

/// A quantity of some kind.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    /// A length.
    Length(Length),
    /// A mass.
    Mass(Mass),
    /// An angle.
    Angle(Angle),
    /// An area.
    Area(Area),
    /// A share or a ratio, without a unit.
    Ratio(f64),
    /// How many.
    Count(u32),
    /// A share of the mass, in hundredths, as certificates print it.
    Percent(f64),
    /// A strength.
    Stress(Stress),
    /// A bolt's grade.
    Grade(BoltGrade),
}

/// Ratios are compared after rounding to this many steps, as the quantities are.
const RATIO_STEPS: f64 = 1e9;

impl Amount {
    /// What kind of quantity it is.
    pub const fn dimension(self) -> Dimension {
        match self {
            Self::Length(_) => Dimension::Length,
            Self::Mass(_) => Dimension::Mass,
            Self::Angle(_) => Dimension::Angle,
            Self::Area(_) => Dimension::Area,
            Self::Ratio(_) => Dimension::Ratio,
            Self::Count(_) => Dimension::Count,
            Self::Percent(_) => Dimension::Percent,
            Self::Stress(_) => Dimension::Stress,
            Self::Grade(_) => Dimension::Grade,
        }
    }

    /// The number of base units (mm, kg, radian, mm², N/mm², hundredths, or none).
    pub fn in_base_unit(self) -> f64 {
        match self {
            Self::Length(length) => length.mm(),
            Self::Mass(mass) => mass.kg(),
            Self::Angle(angle) => angle.radians(),
            Self::Area(area) => area.mm2(),
            Self::Ratio(ratio) => ratio,
            Self::Count(count) => f64::from(count),
            Self::Percent(share) => share,
            Self::Stress(stress) => stress.mpa(),
            Self::Grade(grade) => grade.number(),
        }
    }

    /// Which of two amounts is more; none when they are not of a kind, or no numbers.
    pub fn compare(self, other: Self) -> Option<Ordering> {
        match (self, other) {
            (Self::Length(one), Self::Length(two)) => one.partial_cmp(&two),
            (Self::Mass(one), Self::Mass(two)) => one.partial_cmp(&two),
            (Self::Angle(one), Self::Angle(two)) => one.partial_cmp(&two),
            (Self::Area(one), Self::Area(two)) => one.partial_cmp(&two),
            (Self::Ratio(one), Self::Ratio(two)) | (Self::Percent(one), Self::Percent(two)) => {
                (one * RATIO_STEPS).round().partial_cmp(&(two * RATIO_STEPS).round())
            }
            (Self::Count(one), Self::Count(two)) => Some(one.cmp(&two)),
            (Self::Stress(one), Self::Stress(two)) => one.partial_cmp(&two),
            (Self::Grade(one), Self::Grade(two)) => one.compare(two),
            _ => None,
        }
    }

    /// How far one amount is from another, without a sign; none when they are not of a kind.
    pub fn apart(self, other: Self) -> Option<Self> {
        match (self, other) {
            (Self::Length(one), Self::Length(two)) => Some(Self::Length((one - two).abs())),
            (Self::Mass(one), Self::Mass(two)) => Some(Self::Mass((one - two).abs())),
            (Self::Angle(one), Self::Angle(two)) => Some(Self::Angle((one - two).abs())),
            (Self::Area(one), Self::Area(two)) => Some(Self::Area((one - two).abs())),
            (Self::Ratio(one), Self::Ratio(two)) => Some(Self::Ratio((one - two).abs())),
            (Self::Count(one), Self::Count(two)) => Some(Self::Count(one.abs_diff(two))),
            (Self::Percent(one), Self::Percent(two)) => Some(Self::Percent((one - two).abs())),
            (Self::Stress(one), Self::Stress(two)) => Some(Self::Stress((one - two).abs())),
            _ => None,
        }
    }

    /// True when it is a number at all.
    pub fn is_finite(self) -> bool {
        match self {
            Self::Length(length) => length.is_finite(),
            Self::Mass(mass) => mass.is_finite(),
            Self::Angle(angle) => angle.is_finite(),
            Self::Area(area) => area.is_finite(),
            Self::Ratio(ratio) | Self::Percent(ratio) => ratio.is_finite(),
            Self::Stress(stress) => stress.is_finite(),
            Self::Count(_) | Self::Grade(_) => true,
        }
    }
}

impl Show for Amount {
    /// A length as a tape shows it, where it does: `3/16 in`.
    fn show(&self, units: Units) -> String {
        match self {
            Self::Length(length) => length.show(units),
            other => other.show_finer(units, 0),
        }
    }

    fn show_finer(&self, units: Units, more: u32) -> String {
        match self {
            Self::Length(length) => length.show_finer(units, more),
            Self::Mass(mass) => mass.show_finer(units, more),
            Self::Angle(angle) => angle.show_finer(units, more),
            Self::Area(area) => area.show_finer(units, more),
            Self::Ratio(ratio) => format!("{ratio:.*}", 3 + more as usize),
            Self::Count(count) => count.to_string(),
            Self::Percent(share) => format!("{share:.*} %", 2 + more as usize),
            Self::Stress(stress) => stress.show_finer(units, more),
            Self::Grade(grade) => grade.to_string(),
        }
    }
}

/// What kind of quantity a measure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// A length.
    Length,
    /// A mass.
    Mass,
    /// An angle.
    Angle,
    /// An area.
    Area,
    /// No unit.
    Ratio,
    /// How many.
    Count,
    /// A share of the mass, in hundredths.
    Percent,
    /// A strength.
    Stress,
    /// A bolt's grade.
    Grade,
}

impl Dimension {
    /// The unit of a figure in base units; empty for what is counted, a quotient or a grade.
    pub const fn base_unit(self) -> &'static str {
        match self {
            Self::Length => "mm",
            Self::Mass => "kg",
            Self::Angle => "rad",
            Self::Area => "mm²",
            Self::Stress => "N/mm²",
            Self::Percent => "%",
            Self::Ratio | Self::Count | Self::Grade => "",
        }
    }

    /// So many base units of it (mm, kg, radian, mm², N/mm², hundredths, or none).
    pub fn of_base_unit(self, value: f64) -> Amount {
        match self {
            Self::Length => Amount::Length(Length::from_mm(value)),
            Self::Mass => Amount::Mass(Mass::from_kg(value)),
            Self::Angle => Amount::Angle(Angle::from_radians(value)),
            Self::Area => Amount::Area(Area::from_mm2(value)),
            Self::Ratio => Amount::Ratio(value),
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to what fits")]
            Self::Count => Amount::Count(value.clamp(0.0, f64::from(u32::MAX)) as u32),
            Self::Percent => Amount::Percent(value),
            Self::Stress => Amount::Stress(Stress::from_mpa(value)),
            Self::Grade => Amount::Grade(BoltGrade::of_number(value)),
        }
    }
}

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

/// One figure of one part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Figure {
    /// What was measured.
    pub measure: Measure,
    /// Of which part: a bar, a joint, a gusset, a plate.
    pub of: Balloon,
    /// The role of the bar it is of, or that the plate or gusset belongs to.
    pub role: Option<MemberRole>,
    /// The outside diameter that a limit in diameters refers to: the bar's own, or the larger one joined.
    pub diameter: Diameter,
    /// The figure.
    pub amount: Amount,
    /// Where it comes from: "the model", "measured by the fabricator".
    pub from: String,
    /// What it rests on.
    pub basis: Basis,
    /// What it was read with; none of what follows from the model, or when nobody said.
    pub tool: Option<Tool>,
    /// One standard deviation that a worked out figure has from the tape measurements it follows from; none where that is
    /// not worked out, and of what was read.
    pub spread: Option<Amount>,
}

/// A figure that a person read off the car; the newest of a measure and a part counts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// What was measured.
    pub measure: Measure,
    /// Of which part.
    pub of: Balloon,
    /// The figure.
    pub amount: Amount,
    /// As typed.
    pub text: String,
    /// When.
    pub at: jiff::Timestamp,
    /// By whom.
    pub by: String,
    /// What it was read with; figures recorded before there was a choice have none.
    pub tool: Option<Tool>,
}
