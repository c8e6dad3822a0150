//! A car's file: all that is recorded of one build in one archive, for whoever has the car for the rest of its life.
//!
//! It is a ZIP archive (PKWARE APPNOTE 6.3.10) whose every byte follows from what is in it: contents stored as they are, in
//! one order, under one date. So the same records give the same file, and nothing can be hidden beside them.

mod manifest;
mod part;
pub mod pattern;

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

pub use manifest::{Listed, Manifest};
pub use part::{Part, PhotoKind};

use crate::domain::words::fingerprint::Fingerprint;

/// The format's version: the first field of its list and of its records.
pub const VERSION: u32 = 1;

/// Why a file is no car's file, or is not taken: a sentence that says what is wrong and what to do.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CarFault {
    /// It does not begin as one.
    #[error("This is no car's file: it does not begin as one.")]
    NotOne,
    /// It ends before its end.
    #[error("The file ends too early: a part of it is missing. Get it again from whoever sent it.")]
    Cut,
    /// There is more of it than its list says, or something lies between.
    #[error("The file holds something that its list does not name, {0}. Nothing of it is taken.")]
    Unlisted(String),
    /// Something in it is not what its list says.
    #[error("{0} in the file is not what the file's list says: it was altered or damaged. Nothing of it is taken.")]
    Altered(String),
    /// Its list does not say what a car's file has.
    #[error("The list in the file does not read: {0}. Nothing of it is taken.")]
    List(String),
    /// The list's signature does not read, or is not that of the list.
    #[error("The signature in the file is not that of its list: one of the two was altered. Nothing of it is taken.")]
    Signature,
    /// A newer program made it.
    #[error(
        "A newer Tackbook made this file: its form is number {theirs}, this program knows up to number {ours}. Nothing of it \
         is taken. Load it with the newer program."
    )]
    Newer {
        /// The form of its records.
        theirs: i64,
        /// The newest that this program knows.
        ours: i64,
    },
    /// What it records does not read, or does not fit together.
    #[error("What the file records does not read: {0}. Nothing of it is taken.")]
    Records(String),
    /// The car, or something of it, is in the shop already.
    #[error("{0} Nothing of the file was taken.")]
    HereAlready(String),
}

/// A row of some table: its columns' names and values.
pub type Row = Map<String, Value>;

/// The rows of one table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Table {
    /// The table.
    pub table: String,
    /// Its rows, in the order they were written.
    pub rows: Vec<Row>,
}

/// The records of a build, table by table, each after those it refers to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Records {
    /// Counts up when the format changes.
    pub tackbook_records: u32,
    /// The form of the tables: the number of the step that made it.
    pub form: i64,
    /// The tables.
    pub tables: Vec<Table>,
}

/// An entry of the log as it was written, wherever that was.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LogLine {
    /// Its number in the log that it was written in.
    pub number: i64,
    /// When, as it stands in the log: RFC 3339 in UTC, six decimals.
    pub at: String,
    /// Who, by name.
    pub by: String,
    /// The room it belongs to.
    pub room: String,
    /// What happened.
    pub what: String,
    /// The figures, for programs.
    pub detail: Value,
    /// SHA-256 of what it says of the rows that it put in, changed and took away there; none of an entry from before the log
    /// covered rows, or of one that touched none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rows: Option<String>,
    /// The hash of the entry before it in that log, whatever that was about.
    pub before: String,
    /// Its own: SHA-256 of the hash before, a line's end, and the entry as JSON with its names in alphabetical order.
    pub hash: String,
}

/// The log of a build.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Log {
    /// Counts up when the format changes.
    pub tackbook_log: u32,
    /// Its entries, oldest first.
    pub entries: Vec<LogLine>,
}

impl Log {
    /// The hash of the last entry; empty where there is none.
    pub fn head(&self) -> &str {
        self.entries.last().map_or("", |entry| &entry.hash)
    }
}

/// A photograph or a packet that the records name.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Kept {
    /// Its place in the file.
    pub part: Part,
    /// Its SHA-256.
    pub sha256: Fingerprint,
}
