//! What people write in a build's log.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::ids::{BuildId, NoteId};
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
    /// What is waited for; empty when nothing is.
    pub waiting_on: String,
    /// When it was written.
    pub written: Timestamp,
    /// Who wrote it.
    pub by: String,
}
