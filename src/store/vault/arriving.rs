//! Photographs on their way in, in parts: the offset told is a promise, and finishing twice is finishing once.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::SystemTime;

use super::disk;
use super::kept::{Inner, Item, Vault, blocking};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::store::error::StoreError;

/// One content on its way into one build. The same content for another build travels by itself: knowing a fingerprint
/// must not give a file.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Upload {
    /// The build it is for.
    pub build: BuildId,
    /// What the phone says its SHA-256 is.
    pub sha256: Fingerprint,
    /// How many bytes it has.
    pub size: u64,
}

/// What became of some bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Appended {
    /// They are on the disk; so many are there now.
    Now(u64),
    /// They did not begin where the last ones ended; go on from here.
    GoOnFrom(u64),
    /// They are more than was declared; all of it was thrown away.
    TooLong,
}

/// What became of a finished upload.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Arrived {
    /// It is kept for good.
    Kept,
    /// Bytes are missing; go on from here.
    GoOnFrom(u64),
    /// The bytes are not the ones that were declared; they were thrown away, begin again.
    Altered,
}

/// How many first bytes tell the kind of a file.
const FIRST_BYTES: u64 = 512;

/// What is remembered of an upload between its requests.
#[derive(Debug, Default)]
pub(super) struct Desk {
    kept: bool,
}

impl Inner {
    fn part(&self, upload: &Upload) -> PathBuf {
        self.arriving().join(format!("{}-{}.part", upload.build, upload.sha256))
    }
}

/// The photographs that are on their way in.
#[derive(Debug, Clone, Copy)]
pub struct Parts<'v> {
    pub(super) vault: &'v Vault,
}

impl Parts<'_> {
    /// How many bytes of an upload are on the disk.
    pub async fn offset(&self, upload: &Upload) -> Result<u64, StoreError> {
        let desk = self.vault.desk(upload).lock_owned().await;
        if desk.kept {
            return Ok(upload.size);
        }
        let part = self.vault.inner.part(upload);
        blocking(move || {
            let _desk = desk;
            disk::length(&part)
        })
        .await
    }

    /// Adds bytes at an offset and syncs them.
    pub async fn append(&self, upload: &Upload, offset: u64, bytes: Vec<u8>) -> Result<Appended, StoreError> {
        self.vault.inner.refuse_after_failed_sync()?;
        // The desk goes with the file work: a caller that is cut off cannot let a second writer in too early.
        let desk = self.vault.desk(upload).lock_owned().await;
        if desk.kept {
            return Ok(Appended::GoOnFrom(upload.size));
        }
        let (inner, part, size) = (Arc::clone(&self.vault.inner), self.vault.inner.part(upload), upload.size);
        blocking(move || {
            let _desk = desk;
            let there = disk::length(&part)?;
            if there != offset {
                return Ok(Appended::GoOnFrom(there));
            }
            let added = bytes.len() as u64;
            if there.saturating_add(added) > size {
                disk::discard(&part)?;
                return Ok(Appended::TooLong);
            }
            if !bytes.is_empty() {
                disk::room_for(&inner.arriving(), added)?;
                inner.noting(disk::add(&part, there, &bytes))?;
            }
            Ok(Appended::Now(there + added))
        })
        .await
    }

    /// The first bytes of what has arrived, to see what kind of file it is.
    pub async fn first_bytes(&self, upload: &Upload) -> Result<Vec<u8>, StoreError> {
        let desk = self.vault.desk(upload).lock_owned().await;
        let file = if desk.kept {
            self.vault.inner.place(&Item::Photo(upload.sha256.clone()))
        } else {
            self.vault.inner.part(upload)
        };
        blocking(move || {
            let _desk = desk;
            if file.exists() { disk::first_bytes(file, FIRST_BYTES) } else { Ok(Vec::new()) }
        })
        .await
    }

    /// Checks the whole of an upload and keeps it for good; only after this may a row name it.
    pub async fn keep(&self, upload: &Upload) -> Result<Arrived, StoreError> {
        self.vault.inner.refuse_after_failed_sync()?;
        let mut desk = self.vault.desk(upload).lock_owned().await;
        if desk.kept {
            return Ok(Arrived::Kept);
        }
        let (inner, part) = (Arc::clone(&self.vault.inner), self.vault.inner.part(upload));
        let upload = upload.clone();
        blocking(move || {
            let there = disk::length(&part)?;
            if there != upload.size {
                return Ok(Arrived::GoOnFrom(there));
            }
            if disk::fingerprint(&part)? != upload.sha256 {
                disk::discard(&part)?;
                return Ok(Arrived::Altered);
            }
            let place = inner.place(&Item::Photo(upload.sha256.clone()));
            disk::place(&part, &place).inspect_err(|_| inner.note_failed_sync())?;
            desk.kept = true;
            Ok(Arrived::Kept)
        })
        .await
    }

    /// Gives a transfer up: what has arrived of it is thrown away.
    pub async fn give_up(&self, upload: &Upload) -> Result<(), StoreError> {
        let desk = self.vault.desk(upload).lock_owned().await;
        let part = self.vault.inner.part(upload);
        blocking(move || {
            let _desk = desk;
            disk::discard(&part)
        })
        .await?;
        self.vault.clear_desk(upload);
        Ok(())
    }

    /// The parts to which nothing was added since a moment: build and fingerprint.
    pub async fn older_than(&self, moment: SystemTime) -> Result<Vec<(BuildId, Fingerprint)>, StoreError> {
        let arriving = self.vault.inner.arriving();
        let names = blocking(move || disk::names_older_than(&arriving, moment)).await?;
        // a build's name has 36 letters, a fingerprint 64; what is called otherwise is no part of a photograph
        let read = |name: &String| {
            let name = name.strip_suffix(".part")?;
            let (build, sha256) = (name.get(..36)?, name.get(37..)?);
            Some((build.parse().ok()?, sha256.parse().ok()?))
        };
        Ok(names.iter().filter_map(read).collect())
    }

    /// Forgets an upload whose row stands: from now on the row answers for it.
    pub fn forget(&self, upload: &Upload) {
        self.vault.clear_desk(upload);
    }
}
