//! How one bend is made: over which die, what of that die is in the mark, and what to set. Sheets, screens and numbers take
//! all three from here, so that none says what another does not do.

use super::bender::Bender;
use super::springback::Setting;
use super::{Die, NoSetting};
use crate::domain::steel::tube::TubeSize;
use crate::quantity::{Angle, Length, Show as _, Units};

/// How a bend is made.
#[derive(Debug, Clone, PartialEq)]
pub enum Made {
    /// No die of the shop is for this tube and radius.
    NoDie,
    /// Several are, by their names, and nobody said which is taken.
    Several(Vec<String>),
    /// Over one die.
    Over(OverDie),
}

/// A bend over one die.
#[derive(Debug, Clone, PartialEq)]
pub struct OverDie {
    /// Its name in the shop.
    pub name: String,
    /// From its mark to where the bend begins.
    pub offset: Length,
    /// The bender it is on.
    pub bender: Bender,
    /// What to set, or why that is not known.
    pub set: Result<Setting, NoSetting>,
}

impl Made {
    /// Of a bend of this tube, by the shop's dies.
    pub fn of(dies: &[Die], tube: &TubeSize, radius: Length, angle: Angle) -> Self {
        let fitting: Vec<&Die> = dies.iter().filter(|die| die.in_use && die.fits(tube.outside, radius)).collect();
        match fitting.as_slice() {
            [] => Self::NoDie,
            [die] => Self::Over(OverDie {
                name: die.name.clone(),
                offset: die.offset.value,
                bender: die.bender,
                set: die.springback(tube.wall).map(|springback| springback.set_for(angle)),
            }),
            several => Self::Several(several.iter().map(|die| die.name.clone()).collect()),
        }
    }

    /// What the mark stands before the bend.
    pub fn offset(&self) -> Length {
        if let Self::Over(die) = self { die.offset } else { Length::default() }
    }

    /// The bender; until a die says otherwise, one that swings to the left and counts clockwise.
    pub fn bender(&self) -> Bender {
        if let Self::Over(die) = self { die.bender } else { Bender::default() }
    }

    /// What to set, where that is known.
    pub fn setting(&self) -> Option<&Setting> {
        if let Self::Over(OverDie { set: Ok(set), .. }) = self { Some(set) } else { None }
    }

    /// What is in the marks, in a sentence.
    pub fn describe_marks(&self, units: Units) -> String {
        const BARE: &str = "the marks are where the bends begin";
        match self {
            Self::NoDie => format!("no die of the shop is for this tube and radius: {BARE}."),
            Self::Several(names) => {
                let names = names.iter().map(|name| format!("“{name}”")).collect::<Vec<_>>().join(", ");
                format!(
                    "several dies of the shop are for this tube and radius ({names}), put away all but one: {BARE}."
                )
            }
            Self::Over(die) if die.offset == Length::default() => {
                format!("over the die “{}”, whose mark is where the bend begins: so are the marks.", die.name)
            }
            Self::Over(die) => {
                let offset = die.offset.by_tape_exactly(units);
                format!("over the die “{}”: the marks stand {offset} before the bends, as its own mark does.", die.name)
            }
        }
    }

    /// What the set angle rests on or lacks, in a sentence.
    pub fn describe_set(&self, units: Units) -> String {
        match self {
            Self::NoDie | Self::Several(_) => "not known.".to_owned(),
            Self::Over(OverDie { set: Ok(set), .. }) => format!("{}.", set.describe()),
            Self::Over(OverDie { set: Err(why), .. }) => format!("not known: {}", why.describe(units)),
        }
    }
}

impl NoSetting {
    /// Why, and what to do, in a sentence.
    pub fn describe(&self, units: Units) -> String {
        match self {
            Self::NotTested => "no test bend of this die is recorded.".to_owned(),
            Self::OtherWall { tested, asked } => {
                let walls = tested.iter().map(|wall| wall.show(units)).collect::<Vec<_>>().join(", ");
                format!("it was tested with a wall of {walls}, and this tube's is {}.", asked.show(units))
            }
            Self::WallNotSaid => {
                "nobody wrote which wall its test bends had: take them back and record them with it.".to_owned()
            }
            Self::Contradictory => "its test bends contradict each other: look at them again.".to_owned(),
        }
    }
}
