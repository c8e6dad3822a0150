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
    /// From the main hoop along the roof's edge, down the windscreen pillar to the floor.
    LateralHalfHoop,
    /// Across the car along the screen's upper edge.
    WindscreenHeader,
    /// From the main hoop's upper corner rearward and down.
    Backstay,
    /// Across the main hoop's plane, corner to foot.
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
    /// Across the main hoop at the middle of its bend at the shoulder.
    HoopCrossBar,
    /// From the upper screen corner to the foot, along the pillar.
    PillarStrut,
    /// Across the car between the sill bars, under the seats.
    SeatCrossBar,
}

impl MemberRole {
    /// All of them.
    pub const ALL: [Self; 14] = [
        Self::MainHoop,
        Self::LateralHalfHoop,
        Self::WindscreenHeader,
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
    ];

    /// The word for it, as in books, on screen and on paper.
    pub const fn word(self) -> &'static str {
        match self {
            Self::MainHoop => "main hoop",
            Self::LateralHalfHoop => "lateral half hoop",
            Self::WindscreenHeader => "windscreen header",
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
