//! Where the evidence of a car's file lies until all of the file was read: part files beside those of photographs on their
//! way in, which are thrown away unless they are put in their places.

use std::fs::{self, File};
use std::path::{Path, PathBuf};

use uuid::Uuid;

use super::reading::Open;
use crate::domain::words::fingerprint::Fingerprint;
use crate::store::error::StoreError;
use crate::store::vault::{Item, disk};

/// How a part file of a car is called: no photograph on its way in is.
const BEGINS: &str = "car-";

/// The part files of one reading.
#[derive(Debug)]
pub struct Spool {
    /// The shop's folder and the reading's own name; none where nothing is kept.
    to: Option<(PathBuf, Uuid)>,
    parts: Vec<(Fingerprint, PathBuf)>,
}

impl Spool {
    /// Keeps nothing: for a file that is only looked through.
    pub fn nothing() -> Self {
        Self { to: None, parts: Vec::new() }
    }

    /// In a shop's folder, under a name that no other reading has.
    pub(in crate::store) fn of(folder: &Path, name: Uuid) -> Self {
        Self { to: Some((folder.to_owned(), name)), parts: Vec::new() }
    }

    /// A part file for a content of so many bytes.
    pub(super) fn begin(&mut self, content: &Fingerprint, size: u64) -> Result<Open, StoreError> {
        let Some((folder, name)) = &self.to else { return Ok(None) };
        disk::room_for(folder, size)?;
        let part = folder.join("arriving").join(format!("{BEGINS}{name}-{}.part", self.parts.len()));
        let file = File::create(&part)?;
        self.parts.push((content.clone(), part));
        Ok(Some(file))
    }

    /// Says that a part file is whole and on the disk.
    pub(super) fn end(file: Open) -> Result<(), StoreError> {
        if let Some(file) = file {
            file.sync_data()?;
        }
        Ok(())
    }

    /// A content that was read; none of one that is not in the file, or where nothing is kept.
    pub fn bytes(&self, content: &Fingerprint) -> Result<Option<Vec<u8>>, StoreError> {
        let part = self.parts.iter().find(|(one, _)| one == content);
        Ok(part.map(|(_, part)| fs::read(part)).transpose()?)
    }

    /// Puts a content in its place in the vault, where it is not there already.
    pub(super) fn place(&mut self, item: &Item) -> Result<(), StoreError> {
        let (Some((folder, _)), Some(content)) = (&self.to, item.sha256()) else { return Ok(()) };
        let Some(at) = self.parts.iter().position(|(one, _)| one == content) else { return Ok(()) };
        let (_, part) = self.parts.swap_remove(at);
        let place = folder.join(item.path());
        if place.is_file() && disk::fingerprint(&place)? == *content {
            return disk::discard(&part);
        }
        disk::place(&part, &place)
    }
}

/// Throws away what a reading left that ended with its program; only whoever holds the folder may.
pub(in crate::store) fn clear(folder: &Path) -> Result<(), StoreError> {
    for entry in fs::read_dir(folder.join("arriving"))? {
        let entry = entry?;
        if entry.file_name().to_string_lossy().starts_with(BEGINS) {
            disk::discard(&entry.path())?;
        }
    }
    Ok(())
}

impl Drop for Spool {
    fn drop(&mut self) {
        for (_, part) in &self.parts {
            if let Err(error) = disk::discard(part) {
                tracing::warn!(%error, part = %part.display(), "a part of a car's file was not thrown away; the next start does it");
            }
        }
    }
}
