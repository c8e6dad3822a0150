//! Tube stock: sticks, their marks, and the bars that are cut from them.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::saw::Saw;
use crate::domain::cage::Member;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{Balloon, BuildId, CaptureId, StickId};
use crate::domain::words::limits;
use crate::quantity::{Length, Typed};

/// A stick of tube.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stick {
    /// The store's name for it.
    pub id: StickId,
    /// S1, S2 … in the shop.
    pub number: u32,
    /// Its size, as typed and as meant.
    pub size: Typed<TubeSize>,
    /// The steel's grade, as printed on it.
    pub grade: String,
    /// The heat number, as printed on it; empty when there is none.
    pub heat: String,
    /// How long it is.
    pub length: Typed<Length>,
    /// The photograph of its certificate.
    pub certificate: Option<CaptureId>,
    /// The build it was given to.
    pub given_to: Option<BuildId>,
    /// When it was added.
    pub added: Timestamp,
    /// Who added it.
    pub by: String,
}

impl Stick {
    /// Its number with its letter: "S3".
    pub fn describe_number(&self) -> String {
        format!("S{}", self.number)
    }

    /// Its heat in words: "heat 48211", or that it has none.
    pub fn describe_heat(&self) -> String {
        if self.heat.is_empty() { "no heat number".to_owned() } else { format!("heat {}", self.heat) }
    }
}

/// A bar cut from a stick, which gives it its heat. Every cut stays; a bar's newest one counts for the bar, all of a stick's
/// count for the stick.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Cut {
    /// The bar.
    pub member: Balloon,
    /// The stick it came from.
    pub stick: StickId,
    /// When it was recorded.
    pub at: Timestamp,
    /// Who recorded it.
    pub by: String,
    /// What it took of the stick; none where that was not recorded, and is not known any more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub taken: Option<Taken>,
}

/// What a cut took of its stick, by the model and the shop's saw as they were when it was recorded. Neither changes it
/// later.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Taken {
    /// The blank, from long point to long point round the bends.
    pub blank: Length,
    /// What was added before it.
    pub before: Length,
    /// What was added after it.
    pub after: Length,
    /// The saw's kerf.
    pub kerf: Length,
    /// What is trimmed of a stick's end before its first cut.
    pub trim: Length,
}

impl Taken {
    /// What cutting this bar takes now, in whole micrometres: such figures come back the same from every file.
    pub fn of(bar: &Member, saw: &Saw) -> Self {
        let whole = |length: Length| Length::from_mm((length.mm() * 1000.0).round() / 1000.0);
        let [before, after] = saw.more(bar).map(whole);
        let (kerf, trim) = (whole(saw.kerf.value), whole(saw.trim.value));
        Self { blank: whole(bar.cut_length), before, after, kerf, trim }
    }

    /// The piece: the blank with what was added.
    pub fn piece(&self) -> Length {
        self.blank + self.before + self.after
    }

    /// Its lengths, by name.
    pub(in crate::domain) fn lengths(&self) -> [(&'static str, Length); 5] {
        [
            ("blank", self.blank),
            ("before", self.before),
            ("after", self.after),
            ("kerf", self.kerf),
            ("trim", self.trim),
        ]
    }

    /// By how much a bar's blank is longer than this one was cut; less than nothing where it is shorter, none where the
    /// two are alike.
    pub fn longer_now(&self, bar: &Member) -> Option<Length> {
        let longer = bar.cut_length - self.blank;
        (longer.abs() > ALIKE).then_some(longer)
    }
}

/// Blanks that differ by no more than this are alike (own choice: half of what a tape tells).
const ALIKE: Length = Length::from_mm(0.5);

/// A stick as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct NewStick {
    /// Its size.
    pub size: Typed<TubeSize>,
    /// The steel's grade.
    pub grade: String,
    /// The heat number; empty when there is none.
    pub heat: String,
    /// How long it is.
    pub length: Typed<Length>,
    /// The photograph of its certificate.
    pub certificate: Option<CaptureId>,
}

impl NewStick {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let in_size = |fault: Fault| Fault::new("size", fault.why);
        let mut faults: Vec<Fault> = self.size.value.faults().into_iter().map(in_size).collect();
        faults.extend(limits::title_faults("grade", &self.grade));
        if !self.heat.trim().is_empty() {
            faults.extend(limits::title_faults("heat", &self.heat));
        }
        if self.length.value <= Length::from_mm(0.0) || self.length.value > limits::STICK {
            faults.push(Fault::new("length", "A stick is longer than nothing and at most 15 m (49 ft)."));
        }
        faults
    }
}

/// Sticks that came together: alike in all that is printed on them, each one by itself from then on.
#[derive(Debug, Clone, PartialEq)]
pub struct Delivered {
    /// What each of them is.
    pub stick: NewStick,
    /// How many.
    pub count: u32,
}

impl Delivered {
    /// What is wrong with them, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = self.stick.faults();
        if !(1..=limits::STICKS_AT_ONCE).contains(&self.count) {
            let why = format!("Sticks are put on the rack 1 to {} at once.", limits::STICKS_AT_ONCE);
            faults.push(Fault::new("count", why));
        }
        faults
    }
}

/// A bar that is cut from a stick.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BarCut {
    /// The bar.
    pub member: Balloon,
    /// The stick.
    pub stick: StickId,
    /// Whether this is another piece, though the bar's newest one came from the same stick.
    pub again: bool,
}
