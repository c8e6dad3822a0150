//! The note of the last check in a shop's folder: a file of its own, so that it is written where the records cannot be.

use std::fs;
use std::path::Path;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::backup::{as_text, put_text};
use super::error::StoreError;
use super::found::LAST_CHECK;
use super::handle::Store;
use super::vault::blocking;

/// The version of the note.
const VERSION: u32 = 1;
/// So many bad states are noted one by one (own choice: a note that a person reads); beyond them their number alone.
const MOST: usize = 50;

/// How many of each were read.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Read {
    /// Entries of the log.
    pub entries: i64,
    /// Records that were compared with the log.
    pub rows: usize,
    /// Photographs.
    pub photos: usize,
    /// Packets.
    pub packets: usize,
    /// Mails that replies were typed from.
    pub mails: usize,
    /// Smaller copies of photographs.
    pub views: usize,
}

/// What a shop's folder remembers of its last check.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LastCheck {
    tackbook_last_check: u32,
    /// When it was done, by the machine's clock.
    pub made: Timestamp,
    /// What was read; none where it could not be made to its end.
    pub read: Option<Read>,
    /// The first bad states, each in a sentence; empty where everything was as it was kept.
    pub bad: Vec<String>,
    /// How many there are beyond those.
    pub more: usize,
}

impl LastCheck {
    /// What is to be remembered of a check.
    pub fn of(made: Timestamp, read: Option<Read>, mut bad: Vec<String>) -> Self {
        let more = bad.len().saturating_sub(MOST);
        bad.truncate(MOST);
        Self { tackbook_last_check: VERSION, made, read, bad, more }
    }

    /// Whether it was made to its end, and everything was as it was kept.
    pub fn good(&self) -> bool {
        self.read.is_some() && self.bad.is_empty()
    }
}

fn last(folder: &Path) -> Result<Option<LastCheck>, StoreError> {
    match fs::read(folder.join(LAST_CHECK)) {
        // a note that does not read says nothing: the next check writes it anew
        Ok(text) => {
            Ok(serde_json::from_slice(&text).ok().filter(|last: &LastCheck| last.tackbook_last_check == VERSION))
        }
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error.into()),
    }
}

impl Store {
    /// What the shop's folder remembers of its last check; none before the first.
    pub async fn last_check(&self) -> Result<Option<LastCheck>, StoreError> {
        let folder = self.folder().to_owned();
        blocking(move || last(&folder)).await
    }

    /// Remembers a check in the shop's folder, in place of the one before.
    pub async fn remember_check(&self, check: &LastCheck) -> Result<(), StoreError> {
        let (folder, text) = (self.folder().to_owned(), as_text(check)?);
        blocking(move || put_text(&folder, LAST_CHECK, &text)).await
    }
}
