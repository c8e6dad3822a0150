//! Backups: the records as they were at one moment, and every file that they name, in a folder of their own.
//!
//! In it lie `photos/` and `packets/` as in the shop's folder, each file once however many backups name it, and for each
//! backup a `records-….db` and a `backup-….json` that lists everything with its SHA-256. The list is written last: a backup
//! without one was not made to its end. Keys are not among it.

mod restore;
mod take;

use std::fs;
use std::path::{Component, Path};

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::error::StoreError;
use super::found::LAST_BACKUP;
use super::handle::Store;
use super::vault::{blocking, disk};
use crate::domain::words::fingerprint::Fingerprint;

pub use restore::{Restored, restore};
pub use take::{Fewer, Taken, take};

/// The version of the lists; those of the first do not say where the log ended, nor count up.
const VERSION: u32 = 2;
/// How many backups are kept (own choice: two weeks of nights); the oldest goes when there is one more, unless it
/// has files that the next one has not. Files stay: newer ones name them too.
pub const KEPT: usize = 14;

/// Told of each file done: how many are, of how many.
pub type Tell<'a> = &'a (dyn Fn(usize, usize) + Send + Sync);

/// A file of a backup.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Listed {
    /// Its path in the backup's folder, with `/` between.
    pub path: String,
    /// Its length in bytes.
    pub size: u64,
    /// Its SHA-256.
    pub sha256: Fingerprint,
}

/// Where a log ends.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LogEnd {
    /// How many entries it has.
    pub entries: i64,
    /// The hash of the last.
    pub head: String,
}

/// What a backup consists of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct List {
    tackbook_backup: u32,
    /// When it was begun, by the machine's clock: the records are those of this moment.
    pub made: Timestamp,
    /// Counts up in the folder it lies in: a clock may be set back, this is not.
    #[serde(default)]
    pub number: u64,
    /// Where the log of its records ends; not said by an earlier program.
    #[serde(default)]
    pub log: Option<LogEnd>,
    /// The backups in its folder, by the names of their lists, whose logs this one's does not go on from.
    #[serde(default)]
    pub parted_from: Vec<String>,
    /// The records.
    pub records: Listed,
    /// The photographs and packets that they name.
    pub files: Vec<Listed>,
    /// What they name and the shop did not have whole any more, in a sentence each.
    pub lost: Vec<String>,
}

/// What is remembered in a shop's folder of its last backup.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Last {
    tackbook_last_backup: u32,
    /// When it was made.
    pub made: Timestamp,
    /// Where the log of its records ends; not said by an earlier program.
    #[serde(default)]
    pub log: Option<LogEnd>,
    /// The folder it lies in.
    pub to: String,
    /// How many photographs and packets it has.
    pub files: usize,
    /// How many that the records name were not whole any more.
    pub lost: usize,
}

/// The names of the lists in a backup's folder, oldest first: by their count, and those that have none before them, by the
/// moments that they are named for. One that does not read comes first: it is never the newest.
fn lists(folder: &Path) -> Result<Vec<String>, StoreError> {
    let mut names = Vec::new();
    for entry in fs::read_dir(folder)? {
        let name = entry?.file_name().to_string_lossy().into_owned();
        if name.starts_with("backup-") && Path::new(&name).extension().is_some_and(|ending| ending == "json") {
            names.push(name);
        }
    }
    names.sort_by_cached_key(|name| {
        let number = list_of(folder, name).ok().map(|list| list.number);
        (number, name.clone())
    });
    Ok(names)
}

/// A list, read like anything from outside: no path in it leads out of the folder it stands for.
fn list_of(folder: &Path, name: &str) -> Result<List, StoreError> {
    let place = folder.join(name);
    let wrong = |why: String| StoreError::Folder(format!("{} does not read: {why}", place.display()));
    let list: List = serde_json::from_slice(&fs::read(&place)?).map_err(|error| wrong(error.to_string()))?;
    if !(1..=VERSION).contains(&list.tackbook_backup) {
        return Err(wrong("another version of the program made it".to_owned()));
    }
    let plain = |path: &str| Path::new(path).components().all(|part| matches!(part, Component::Normal(_)));
    if let Some(other) = list.files.iter().chain([&list.records]).find(|file| !plain(&file.path)) {
        return Err(StoreError::Folder(format!("The backup names {}, which is no file of a shop", other.path)));
    }
    Ok(list)
}

/// Writes a text into a file that is either the old one or the new one, whatever happens.
pub(super) fn put_text(folder: &Path, name: &str, text: &str) -> Result<(), StoreError> {
    let part = folder.join(format!("{name}.part"));
    disk::discard(&part)?;
    disk::add(&part, 0, text.as_bytes()).map_err(|why| match why {
        disk::NotAdded::Refused(error) | disk::NotAdded::SyncFailed(error) => error,
    })?;
    disk::put(&part, &folder.join(name))
}

/// A note or a list as it is written.
pub(super) fn as_text(what: &impl Serialize) -> Result<String, StoreError> {
    serde_json::to_string_pretty(what).map_err(|error| StoreError::NotKept(error.to_string()))
}

/// What a shop's folder remembers of its last backup; none before the first.
pub fn last(folder: &Path) -> Result<Option<Last>, StoreError> {
    match fs::read(folder.join(LAST_BACKUP)) {
        // a note that does not read is as good as none: the next backup writes it anew
        Ok(text) => Ok(serde_json::from_slice(&text)
            .ok()
            .filter(|last: &Last| (1..=VERSION).contains(&last.tackbook_last_backup))),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error.into()),
    }
}

fn remember(folder: &Path, to: &Path, list: &List) -> Result<(), StoreError> {
    let last = Last {
        tackbook_last_backup: VERSION,
        made: list.made,
        log: list.log.clone(),
        to: to.display().to_string(),
        files: list.files.len(),
        lost: list.lost.len(),
    };
    put_text(folder, LAST_BACKUP, &as_text(&last)?)
}

impl Store {
    /// What the shop's folder remembers of its last backup; none before the first.
    pub async fn last_backup(&self) -> Result<Option<Last>, StoreError> {
        let folder = self.folder().to_owned();
        blocking(move || last(&folder)).await
    }
}
