//! How far a joint has come, by what is recorded of it and by nothing else.

use jiff::civil::Date;

use super::process::Outcome;
use super::{Did, Weld};
use crate::domain::words::ids::Balloon;

/// How far a joint has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// No weld is logged.
    NotWelded,
    /// Welded, and not looked at since.
    Welded,
    /// Looked at, and a repair is wanted.
    RepairWanted,
    /// Repaired, and not looked at since.
    Repaired,
    /// Looked at after the last weld, and accepted.
    Accepted,
}

impl Stage {
    /// The words for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::NotWelded => "no weld logged",
            Self::Welded => "welded, not inspected",
            Self::RepairWanted => "repair wanted",
            Self::Repaired => "repaired, not inspected",
            Self::Accepted => "inspected and accepted",
        }
    }

    /// By the lines that stand, in the order they were written.
    pub fn of(welds: &[Weld], joint: Balloon) -> Self {
        let standing = welds.iter().filter(|weld| weld.stands() && weld.joint == joint);
        standing.fold(Self::NotWelded, |stage, weld| match (&weld.did, stage) {
            (Did::Coupon(_), stage) => stage,
            (Did::Welded(_), _) => Self::Welded,
            // What repaired or inspected a weld that is struck through by now says nothing of a weld.
            (Did::Repaired(_) | Did::Inspected(_), Self::NotWelded) => Self::NotWelded,
            (Did::Repaired(_), _) => Self::Repaired,
            (Did::Inspected(inspection), _) => match inspection.outcome {
                Outcome::Accepted => Self::Accepted,
                Outcome::Repair => Self::RepairWanted,
            },
        })
    }

    /// Whether it still has to be welded.
    pub const fn to_weld(self) -> bool {
        matches!(self, Self::NotWelded | Self::RepairWanted)
    }

    /// Whether it waits to be looked at.
    pub const fn to_inspect(self) -> bool {
        matches!(self, Self::Welded | Self::Repaired)
    }
}

/// Whether this welder has a practice coupon with an overhead position, welded on or before a day.
pub fn practised(welds: &[Weld], welder: &str, day: Date) -> bool {
    let same = |name: &str| name.trim().eq_ignore_ascii_case(welder.trim());
    welds
        .iter()
        .filter(|weld| weld.stands() && weld.day <= day)
        .any(|weld| matches!(&weld.did, Did::Coupon(run) if run.overhead() && same(&run.welder.name)))
}
