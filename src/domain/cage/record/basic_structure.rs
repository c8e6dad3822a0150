//! The three basic structures that the published regulation knows, in words.

use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::domain::words::roles::MemberRole;

/// What every other bar braces: one of three alternatives (FIA Appendix J, Article 253, chapter 8, restated). All three
/// are laid out from the same tape measurements, so a car need not be measured again to compare them.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BasicStructure {
    /// A main hoop, a front hoop, two roof bars, two backstays.
    FrontHoop,
    /// A main hoop, two lateral half hoops, a windscreen header, two backstays.
    #[default]
    HalfHoops,
    /// Two lateral hoops, a windscreen header, a rear transverse bar, two backstays.
    LateralHoops,
}

impl BasicStructure {
    /// All of them, in the order they are offered.
    pub const ALL: [Self; 3] = [Self::HalfHoops, Self::FrontHoop, Self::LateralHoops];

    /// Its name in records and forms.
    pub const fn key(self) -> &'static str {
        match self {
            Self::FrontHoop => "front_hoop",
            Self::HalfHoops => "half_hoops",
            Self::LateralHoops => "lateral_hoops",
        }
    }

    /// What it is called.
    pub const fn word(self) -> &'static str {
        match self {
            Self::FrontHoop => "main hoop and front hoop",
            Self::HalfHoops => "main hoop and two lateral half hoops",
            Self::LateralHoops => "two lateral hoops",
        }
    }

    /// What it is made of, in a sentence.
    pub const fn about(self) -> &'static str {
        match self {
            Self::FrontHoop => {
                "A hoop across the car behind the seats, a hoop round the screen, a roof bar on each side between them, \
                 two backstays."
            }
            Self::HalfHoops => {
                "A hoop across the car behind the seats; from it on each side one tube along the roof and down the \
                 pillar; a bar over the screen; two backstays."
            }
            Self::LateralHoops => {
                "On each side one tube up behind the seats, along the roof and down the pillar; a bar across at both \
                 upper bends; two backstays."
            }
        }
    }

    /// The bar by which it is told from the others.
    pub const fn describe_by(self) -> MemberRole {
        match self {
            Self::FrontHoop => MemberRole::FrontHoop,
            Self::HalfHoops => MemberRole::LateralHalfHoop,
            Self::LateralHoops => MemberRole::LateralHoop,
        }
    }

    /// Whether one hoop stands across the car behind the seats.
    pub const fn has_main_hoop(self) -> bool {
        !matches!(self, Self::LateralHoops)
    }
}

impl FromStr for BasicStructure {
    type Err = String;
    fn from_str(key: &str) -> Result<Self, String> {
        let found = Self::ALL.into_iter().find(|structure| structure.key() == key);
        found.ok_or_else(|| format!("no basic structure is called “{key}”"))
    }
}
