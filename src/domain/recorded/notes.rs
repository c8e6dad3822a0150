//! What people write in a build's log.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{BuildId, NoteId};
use crate::domain::words::limits;
use crate::quantity::{Hours, Money};

/// A dated entry that a person wrote.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Note {
    /// The store's name for it.
    pub id: NoteId,
    /// The build it is about.
    pub build: BuildId,
    /// The day it is about.
    pub day: Date,
    /// What was done.
    pub text: String,
    /// Working time.
    pub hours: Option<Hours>,
    /// What it cost, in the shop's own currency.
    pub cost: Option<Money>,
    /// What is waited for; none when nothing is.
    pub waits: Option<Wait>,
    /// When it was written.
    pub written: Timestamp,
    /// Who wrote it.
    pub by: String,
    /// That it is wrong and struck through; none while it stands.
    pub struck: Option<Struck>,
}

/// That a line is wrong: it stays readable, and counts for nothing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Struck {
    /// What is wrong with it.
    pub why: String,
    /// When it was struck through.
    pub at: Timestamp,
    /// By whom.
    pub by: String,
}

impl Struck {
    /// By whom, when and why, in words; `when` is the moment as its reader reads it.
    pub fn describe(&self, when: &str) -> String {
        format!("Struck through by {}, {when}: {}", self.by, self.why)
    }

    /// By whom, when and why, as typed.
    ///
    /// # Errors
    /// What is wrong with why.
    pub fn of(why: &str, at: Timestamp, by: &str) -> Result<Self, Vec<Fault>> {
        let why = why.trim().to_owned();
        let faults = if why.is_empty() {
            vec![Fault::new("why", "Say what is wrong with the line.")]
        } else {
            limits::title_faults("why", &why)
        };
        if faults.is_empty() { Ok(Self { why, at, by: by.to_owned() }) } else { Err(faults) }
    }
}

/// Something that is waited for, until somebody says that it is over: no other line of the log ends it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Wait {
    /// Who or what.
    pub on: String,
    /// That it is over; none while it is waited for.
    pub ended: Option<Ended>,
}

/// That a wait is over.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ended {
    /// What became of it; empty where nobody said.
    pub how: String,
    /// When that was said.
    pub at: Timestamp,
    /// By whom.
    pub by: String,
}

impl Note {
    /// What it still waits for; a line that is struck through waits for nothing.
    pub fn waits_on(&self) -> Option<&str> {
        self.waits
            .as_ref()
            .filter(|_| self.struck.is_none())
            .filter(|wait| wait.ended.is_none())
            .map(|wait| wait.on.as_str())
    }
}

/// A note as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct NewNote {
    /// The day it is about.
    pub day: Date,
    /// What was done.
    pub text: String,
    /// Working time.
    pub hours: Option<Hours>,
    /// What it cost.
    pub cost: Option<Money>,
    /// What is waited for; empty when nothing is.
    pub waiting_on: String,
}

/// Most hours of one note.
const HOURS: Hours = Hours::from_hours(1_000.0);

impl NewNote {
    /// What is wrong with it as it is written on a day, if anything.
    pub fn faults(&self, today: Date) -> Vec<Fault> {
        let mut faults = limits::words_faults("text", &self.text);
        if self.day > today {
            faults.push(Fault::new("day", "This day has not come yet."));
        }
        if self.hours.is_some_and(|hours| hours <= Hours::from_hours(0.0) || hours > HOURS || !hours.is_finite()) {
            faults.push(Fault::new("hours", "Working time is more than nothing and at most 1,000 hours."));
        }
        if self.cost.is_some_and(|cost| cost < Money::from_minor(0)) {
            faults.push(Fault::new("cost", "A cost is not less than nothing."));
        }
        if !self.waiting_on.trim().is_empty() {
            faults.extend(limits::title_faults("waiting_on", &self.waiting_on));
        }
        faults
    }
}
