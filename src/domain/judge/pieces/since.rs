//! What became of a part since it was seen or measured, in words.

use crate::domain::words::ids::Balloon;
use crate::quantity::{Length, Show as _, Units};

/// Why what was seen or measured is of an earlier piece.
#[derive(Debug, Clone, PartialEq)]
pub enum Since {
    /// The bar was cut again.
    CutAgain,
    /// The bar's first cut was recorded later: whether of the piece that was measured, nobody said.
    CutRecorded,
    /// A bar of the joint or the gusset was cut again.
    BarCutAgain(Balloon),
    /// It moved by so much.
    Moved(Length),
    /// A bar comes in at another angle.
    Turned(Balloon),
    /// Other bars meet there.
    OtherBars,
    /// A bar is bent or laid otherwise.
    OtherShape,
    /// Something of it is another.
    Changed {
        /// What.
        what: &'static str,
        /// As it was.
        was: Said,
        /// As it is.
        is: Said,
    },
    /// Who sits there moved by so much.
    SeatMoved(Length),
    /// It was not recorded yet.
    NotRecorded,
    /// The cage's record of that time cannot be read any more.
    Unreadable,
}

/// A property of a part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Said {
    /// In a word.
    Word(&'static str),
    /// A length.
    Size(Length),
}

impl Since {
    /// What became of it, to be said after “before” or “since then”, in the reader's units: "it moved by 12 mm".
    pub fn describe(&self, units: Units) -> String {
        self.describe_by(&|length| length.show(units))
    }

    /// The same in both units, for a sentence that is kept for all readers.
    pub fn describe_in_both(&self) -> String {
        self.describe_by(&|length| format!("{} ({})", length.show(Units::Metric), length.show(Units::Inch)))
    }

    fn describe_by(&self, show: &dyn Fn(Length) -> String) -> String {
        let said = |said: &Said| match said {
            Said::Word(word) => (*word).to_owned(),
            Said::Size(length) => show(*length),
        };
        match self {
            Self::CutAgain => "it was cut again".to_owned(),
            Self::CutRecorded => "its cut was recorded".to_owned(),
            Self::BarCutAgain(bar) => format!("{bar} was cut again"),
            Self::Moved(by) => format!("it moved by {}", show(*by)),
            Self::Turned(bar) => format!("{bar} was turned to another angle"),
            Self::OtherBars => "other bars came to meet there".to_owned(),
            Self::OtherShape => "it was laid out otherwise".to_owned(),
            Self::Changed { what, was, is } => format!("its {what} was changed from {} to {}", said(was), said(is)),
            Self::SeatMoved(by) => format!("a seat moved by {}", show(*by)),
            Self::NotRecorded => "it stood in the cage's record".to_owned(),
            Self::Unreadable => "the cage was saved so that this program reads it".to_owned(),
        }
    }
}
