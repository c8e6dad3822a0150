//! What a person chooses for the parts of a cage: tube sizes, plates under the feet, gussets in the angles.

use serde::{Deserialize, Serialize};

use super::basic_structure::BasicStructure;
use crate::domain::cage::hole::GussetHole;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::roles::MemberRole;
use crate::quantity::{Length, Typed};

/// Which of a book's two sizes a bar takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TubeRole {
    /// The main bars: those that the book counts with the hoops; the basic structure, where no book says which.
    Hoop,
    /// Every other bar.
    Other,
}

impl TubeRole {
    /// Both of them.
    pub const BOTH: [Self; 2] = [Self::Hoop, Self::Other];

    /// The size a bar of this role takes where no book says otherwise: the larger one for the basic structure (hoops, half
    /// hoops, roof bars, transverse bars, backstays), the other for the bars that brace it.
    pub const fn of(role: MemberRole) -> Self {
        match role {
            MemberRole::MainHoop
            | MemberRole::FrontHoop
            | MemberRole::LateralHoop
            | MemberRole::LateralHalfHoop
            | MemberRole::RoofBar
            | MemberRole::WindscreenHeader
            | MemberRole::RearTransverseBar
            | MemberRole::Backstay => Self::Hoop,
            _ => Self::Other,
        }
    }

    /// The words for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Hoop => "main bars",
            Self::Other => "other bars",
        }
    }

    /// Its name in forms and files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Hoop => "hoop",
            Self::Other => "other",
        }
    }
}

/// The roles of the bars that take the larger of a book's two sizes, a bit for each; which they are differs from book to
/// book.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MainBars(u32);

impl MainBars {
    /// The basic structure, by [`TubeRole::of`]: what counts where no book says which.
    pub const BASIC_STRUCTURE: Self = Self(
        Self::bit(MemberRole::MainHoop)
            | Self::bit(MemberRole::FrontHoop)
            | Self::bit(MemberRole::LateralHoop)
            | Self::bit(MemberRole::LateralHalfHoop)
            | Self::bit(MemberRole::RoofBar)
            | Self::bit(MemberRole::WindscreenHeader)
            | Self::bit(MemberRole::RearTransverseBar)
            | Self::bit(MemberRole::Backstay),
    );

    const fn bit(role: MemberRole) -> u32 {
        1 << role as u32
    }

    /// These roles and no other.
    pub fn these(roles: &[MemberRole]) -> Self {
        Self(roles.iter().fold(0, |bits, role| bits | Self::bit(*role)))
    }

    /// Which of the two sizes a bar of this role takes.
    pub const fn size_of(self, role: MemberRole) -> TubeRole {
        if self.0 & Self::bit(role) == 0 { TubeRole::Other } else { TubeRole::Hoop }
    }

    /// The roles, in the order of all of them.
    pub fn roles(self) -> Vec<MemberRole> {
        MemberRole::ALL.into_iter().filter(|role| self.size_of(*role) == TubeRole::Hoop).collect()
    }
}

/// The tube asked for, by the book's class or as chosen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tubes {
    /// For the main bars.
    pub hoop: TubeSize,
    /// For every other bar.
    pub other: TubeSize,
    /// Which bars are the main bars.
    pub main: MainBars,
}

impl Tubes {
    /// These sizes, the larger for the basic structure.
    pub const fn new(hoop: TubeSize, other: TubeSize) -> Self {
        Self { hoop, other, main: MainBars::BASIC_STRUCTURE }
    }

    /// The size for a bar of this role.
    pub fn of(&self, role: MemberRole) -> TubeSize {
        self.size(self.main.size_of(role))
    }

    /// One of the two sizes.
    pub const fn size(&self, of: TubeRole) -> TubeSize {
        match of {
            TubeRole::Hoop => self.hoop,
            TubeRole::Other => self.other,
        }
    }
}

/// A kind of foot; each exists on both sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Foot {
    /// The main hoop's, or that of a lateral hoop's rear leg.
    MainHoop,
    /// At the screen pillar: the half hoop's, the front hoop's or that of a lateral hoop's front leg.
    Front,
    /// The backstay's.
    Backstay,
}

impl Foot {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::MainHoop, Self::Front, Self::Backstay];

    /// Its name in keys, forms and files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::MainHoop => "main_hoop",
            Self::Front => "front",
            Self::Backstay => "backstay",
        }
    }

    /// The words for it in a basic structure.
    pub const fn word(self, structure: BasicStructure) -> &'static str {
        match (self, structure) {
            (Self::MainHoop, BasicStructure::LateralHoops) => "lateral hoop's rear foot",
            (Self::MainHoop, _) => "main hoop foot",
            (Self::Front, _) => "front foot",
            (Self::Backstay, _) => "backstay foot",
        }
    }

    /// The foot of a bar with this role, where a cage file gives only the bar; `behind` when its other end is further
    /// forward.
    pub const fn of(role: MemberRole, behind: bool) -> Self {
        match role {
            MemberRole::MainHoop => Self::MainHoop,
            MemberRole::LateralHoop if behind => Self::MainHoop,
            MemberRole::Backstay | MemberRole::BackstayDiagonal => Self::Backstay,
            _ => Self::Front,
        }
    }
}

/// How a plate is held to the body.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Fixing {
    /// Welded all round.
    #[default]
    Welded,
    /// Bolted through a plate on the other side.
    Bolted,
}

impl Fixing {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Welded => "welded",
            Self::Bolted => "bolted",
        }
    }
}

/// The plate under a kind of foot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlateRecord {
    /// One side.
    pub side_a: Typed<Length>,
    /// The other side.
    pub side_b: Typed<Length>,
    /// Its thickness.
    pub thickness: Typed<Length>,
    /// How it is held.
    #[serde(default)]
    pub fixed: Fixing,
}

/// What a gusset is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum GussetKind {
    /// Bent sheet saddled over both tubes.
    Saddle,
    /// Flat plate between the tubes.
    Flat,
    /// A short tube.
    Tube,
}

impl GussetKind {
    /// The words for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Saddle => "bent-sheet saddle",
            Self::Flat => "flat plate",
            Self::Tube => "tube",
        }
    }
}

/// Which way a bar leaves a joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Toward {
    /// Toward its first point.
    Start,
    /// Toward its last point.
    End,
}

/// A bar as it leaves a joint: one side of the angle a gusset sits in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Arm {
    /// The bar's key.
    pub member: String,
    /// Which way it leaves.
    pub toward: Toward,
}

impl Arm {
    /// The arm of a bar, one way.
    pub fn new(member: impl Into<String>, toward: Toward) -> Self {
        Self { member: member.into(), toward }
    }
}

/// A gusset in the angle between two bars at a joint.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GussetRecord {
    /// The joint's key.
    pub joint: String,
    /// The two sides of the angle.
    pub between: [Arm; 2],
    /// What it is made of.
    pub kind: GussetKind,
    /// From the corner to its end, along each tube.
    pub leg: Typed<Length>,
    /// Of the sheet, or the tube's wall.
    pub thickness: Typed<Length>,
    /// The hole in the flat side.
    #[serde(default)]
    pub hole: GussetHole,
}

impl GussetRecord {
    /// The key its number is kept under: the angle it sits in.
    pub fn key(&self) -> String {
        angle_key(&self.between)
    }
}

/// The key of a gusset between these arms, whichever is named first.
pub fn angle_key(between: &[Arm; 2]) -> String {
    let arm = |arm: &Arm| format!("{}{}", arm.member, if arm.toward == Toward::Start { "<" } else { ">" });
    let mut arms = between.each_ref().map(arm);
    arms.sort();
    format!("gusset/{}", arms.join("+"))
}

/// A tube other than the book's class asks for, and why.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TubeOverride {
    /// The size taken instead.
    pub tube: TubeSize,
    /// The steel's grade, where it has to be a certain one, as printed on the stick.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grade: Option<String>,
    /// Why, in a person's words.
    pub reason: String,
}

impl TubeOverride {
    /// Its size, and its grade where that was said.
    pub fn describe(&self) -> String {
        self.tube.of_grade(self.grade.as_ref())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_main_bars_are_the_basic_structure_until_a_book_names_others() {
        for role in MemberRole::ALL {
            assert_eq!(MainBars::BASIC_STRUCTURE.size_of(role), TubeRole::of(role), "{}", role.word());
        }
        assert_eq!(MainBars::these(&MainBars::BASIC_STRUCTURE.roles()), MainBars::BASIC_STRUCTURE);
        let (thick, thin) = (TubeSize::metric(45.0, 2.5), TubeSize::metric(38.0, 2.5));
        let named = [MemberRole::LateralHoop, MemberRole::RearTransverseBar];
        let tubes = Tubes { main: MainBars::these(&named), ..Tubes::new(thick, thin) };
        assert_eq!(tubes.main.roles(), [MemberRole::LateralHoop, MemberRole::RearTransverseBar]);
        assert_eq!((tubes.of(MemberRole::LateralHoop), tubes.of(MemberRole::Backstay)), (thick, thin));
    }
}
