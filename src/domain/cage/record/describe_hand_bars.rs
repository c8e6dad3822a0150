//! A bar added by hand in words: from where to where.

use super::by_hand::{At, Axis, HandBar, Stand};
use super::fittings::Toward;
use super::key_words::words;

impl HandBar {
    /// What it is and where its ends stand, every length as typed.
    pub fn describe(&self) -> String {
        let [first, last] = self.ends.each_ref().map(Stand::describe);
        let cut = if self.cut_at_crossings { ", cut where straight bars stand in its way" } else { "" };
        format!("{}, from {first} to {last}{cut}", self.role.word())
    }
}

impl Stand {
    fn describe(&self) -> String {
        let corner = self.corner_with.as_deref().map(|other| format!(", into the corner with the {}", words(other)));
        let offset = self.offset.as_ref().map(|offset| format!(", {} beside its centre line", offset.text));
        let (corner, offset) = (corner.unwrap_or_default(), offset.unwrap_or_default());
        format!("the {}, {}{corner}{offset}", words(&self.on), self.at.describe())
    }
}

impl At {
    /// Where on a bar, the length as typed.
    pub(in crate::domain::cage) fn describe(&self) -> String {
        match self {
            Self::Middle => "its middle".to_owned(),
            Self::FromEnd { end, by } => format!("{} along it from its {} end", by.text, which(*end)),
            Self::OverPlate { end, by } => format!("{} over the plate at its {} end", by.text, which(*end)),
            Self::Bend { bend, past: None } => format!("its bend {bend}"),
            Self::Bend { bend, past: Some(past) } => format!("{} past its bend {bend}", past.text),
            Self::Passing { axis, at, from } => {
                let way = match axis {
                    Axis::Forward => "forward",
                    Axis::Left => "left of the centre",
                    Axis::Up => "over the floor",
                };
                format!("where it is {} {way}, seen from its {} end", at.text, which(*from))
            }
            Self::Meets { bar, from: None } => format!("where it meets the {}", words(bar)),
            Self::Meets { bar, from: Some(from) } => {
                format!("where it first meets the {}, seen from its {} end", words(bar), which(*from))
            }
        }
    }
}

const fn which(end: Toward) -> &'static str {
    match end {
        Toward::Start => "first",
        Toward::End => "last",
    }
}
