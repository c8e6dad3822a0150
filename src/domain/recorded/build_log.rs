//! What people write in a build's log.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::domain::words::ids::{BuildId, NoteId};
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
    /// What it still waits for.
    pub fn waits_on(&self) -> Option<&str> {
        self.waits.as_ref().filter(|wait| wait.ended.is_none()).map(|wait| wait.on.as_str())
    }
}
