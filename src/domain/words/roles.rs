//! The roles a bar can have in a cage, and the words for them.

use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// What a bar is to the cage. The words are the published international regulation's and the trade's (FIA Appendix J,
/// Article 253, chapter 8, restated; the rest *common practice*).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum MemberRole {
    /// One piece across the car just behind the front seats.
    MainHoop,
    /// One piece up one windscreen pillar, along the screen's upper edge and down the other pillar.
    FrontHoop,
    /// One piece along a side: up behind the front seats, along the roof's edge, down the windscreen pillar.
    LateralHoop,
    /// From the main hoop along the roof's edge, down the windscreen pillar to the floor.
    LateralHalfHoop,
    /// Along the roof's edge from the main hoop to the front hoop: a longitudinal member.
    RoofBar,
    /// Across the car along the screen's upper edge: the front transverse member.
    WindscreenHeader,
    /// Across the car from one lateral hoop's rear upper bend to the other's: the rear transverse member.
    RearTransverseBar,
    /// From the main hoop's upper corner rearward and down.
    Backstay,
    /// Across the plane of the main hoop or of the lateral hoops' rear legs, corner to foot.
    HoopDiagonal,
    /// In the roof.
    RoofDiagonal,
    /// Between the backstays, corner to foot.
    BackstayDiagonal,
    /// Along the car in the door's opening.
    DoorBar,
    /// Along the car beside the sill.
    SillBar,
    /// Across the car behind the seats, for the harness's shoulder straps.
    HarnessBar,
    /// Across the car behind the dash.
    DashBar,
    /// Across the main hoop, or between the lateral hoops' rear legs, at the middle of the bends at the shoulders.
    HoopCrossBar,
    /// From the upper screen corner to the foot, along the pillar.
    PillarStrut,
    /// Across the car between the sill bars, under the seats.
    SeatCrossBar,
    /// A bar that is none of these.
    OtherBar,
}

impl MemberRole {
    /// All of them.
    pub const ALL: [Self; 19] = [
        Self::MainHoop,
        Self::FrontHoop,
        Self::LateralHoop,
        Self::LateralHalfHoop,
        Self::RoofBar,
        Self::WindscreenHeader,
        Self::RearTransverseBar,
        Self::Backstay,
        Self::HoopDiagonal,
        Self::RoofDiagonal,
        Self::BackstayDiagonal,
        Self::DoorBar,
        Self::SillBar,
        Self::HarnessBar,
        Self::DashBar,
        Self::HoopCrossBar,
        Self::PillarStrut,
        Self::SeatCrossBar,
        Self::OtherBar,
    ];

    /// The word for it, as in books, on screen and on paper.
    pub const fn word(self) -> &'static str {
        match self {
            Self::MainHoop => "main hoop",
            Self::FrontHoop => "front hoop",
            Self::LateralHoop => "lateral hoop",
            Self::LateralHalfHoop => "lateral half hoop",
            Self::RoofBar => "roof bar",
            Self::WindscreenHeader => "windscreen header",
            Self::RearTransverseBar => "rear transverse bar",
            Self::Backstay => "backstay",
            Self::HoopDiagonal => "hoop diagonal",
            Self::RoofDiagonal => "roof diagonal",
            Self::BackstayDiagonal => "backstay diagonal",
            Self::DoorBar => "door bar",
            Self::SillBar => "sill bar",
            Self::HarnessBar => "harness bar",
            Self::DashBar => "dash bar",
            Self::HoopCrossBar => "hoop cross bar",
            Self::PillarStrut => "pillar strut",
            Self::SeatCrossBar => "seat cross bar",
            Self::OtherBar => "other bar",
        }
    }
}

impl FromStr for MemberRole {
    type Err = String;
    fn from_str(word: &str) -> Result<Self, String> {
        Self::ALL.into_iter().find(|role| role.word() == word).ok_or_else(|| format!("no bar is called “{word}”"))
    }
}

impl TryFrom<String> for MemberRole {
    type Error = String;
    fn try_from(word: String) -> Result<Self, String> {
        word.parse()
    }
}

impl From<MemberRole> for String {
    fn from(role: MemberRole) -> Self {
        role.word().to_owned()
    }
}
