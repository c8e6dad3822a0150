//! The only file operations that evidence passes through, in the order that survives a power cut.

use std::fs::{self, File, OpenOptions, Permissions};
use std::io::{Read as _, Write as _};
use std::path::{Path, PathBuf};

use sha2::{Digest as _, Sha256};

use crate::domain::words::fingerprint::Fingerprint;
use crate::store::engine::sync_folder;
use crate::store::error::StoreError;

/// Most bytes kept back, so that a full disk never stops the records themselves.
const RESERVE: u64 = 1 << 30;

/// How much room a disk has, in bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Room {
    /// What may still be written.
    pub free: u64,
    /// Free and taken together.
    pub whole: u64,
    /// What is kept back: 1 GiB or 2 % of the disk, whichever is less.
    pub reserve: u64,
}

/// How much room there is on a folder's disk; none where the system does not say.
pub(in crate::store) fn room(folder: &Path) -> Result<Option<Room>, StoreError> {
    #[cfg(unix)]
    {
        let disk = rustix::fs::statvfs(folder).map_err(std::io::Error::from)?;
        let free = disk.f_bavail.saturating_mul(disk.f_frsize);
        let whole = disk.f_blocks.saturating_mul(disk.f_frsize);
        Ok(Some(Room { free, whole, reserve: RESERVE.min(whole / 50) }))
    }
    #[cfg(not(unix))]
    {
        let _ = (folder, RESERVE);
        Ok(None)
    }
}

/// Refuses when less than the reserve would be left.
pub(in crate::store) fn room_for(folder: &Path, bytes: u64) -> Result<(), StoreError> {
    match room(folder)? {
        Some(Room { free, reserve, .. }) if free < reserve.saturating_add(bytes) => {
            Err(StoreError::Full { free, reserve })
        }
        _ => Ok(()),
    }
}

/// The length of a file; 0 when there is none.
pub(in crate::store) fn length(file: &Path) -> Result<u64, StoreError> {
    match fs::metadata(file) {
        Ok(found) => Ok(found.len()),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(0),
        Err(error) => Err(error.into()),
    }
}

/// Why bytes were not added.
#[derive(Debug)]
pub(in crate::store) enum NotAdded {
    /// They did not get in; what was there before is untouched.
    Refused(StoreError),
    /// The disk would not say they are safe: final, until a restart.
    SyncFailed(StoreError),
}

/// Adds bytes at the end of a part file and syncs them: afterwards the file's length is a promise.
pub(in crate::store) fn add(part: &Path, before: u64, bytes: &[u8]) -> Result<(), NotAdded> {
    let refused = |error: std::io::Error| NotAdded::Refused(error.into());
    let new = !part.exists();
    let mut file = OpenOptions::new().append(true).create(true).open(part).map_err(refused)?;
    if let Err(error) = file.write_all(bytes) {
        file.set_len(before).map_err(refused)?;
        return Err(refused(error));
    }
    file.sync_data().map_err(|error| NotAdded::SyncFailed(error.into()))?;
    if new && let Some(folder) = part.parent() {
        sync_folder(folder).map_err(NotAdded::SyncFailed)?;
    }
    Ok(())
}

/// The fingerprint of a whole file.
pub(in crate::store) fn fingerprint(file: &Path) -> Result<Fingerprint, StoreError> {
    let mut file = File::open(file)?;
    let mut hasher = Sha256::new();
    let mut buffer = vec![0_u8; 128 << 10];
    loop {
        let read = file.read(&mut buffer)?;
        if read == 0 {
            return Ok(Fingerprint::of_hasher(hasher));
        }
        hasher.update(buffer.get(..read).unwrap_or_default());
    }
}

/// Moves a checked part file to its place for good: write-protect, sync, rename, sync both folders (and the one above a
/// new one). Only after this may a row name it.
pub(in crate::store) fn place(part: &Path, place: &Path) -> Result<(), StoreError> {
    let file = File::open(part)?;
    file.set_permissions(read_only(&file)?)?;
    put(part, place)
}

/// The same for a file that may be written to again.
#[expect(clippy::disallowed_methods, reason = "the one place that puts what is kept in its place")]
pub(in crate::store) fn put(part: &Path, place: &Path) -> Result<(), StoreError> {
    File::open(part)?.sync_all()?;
    let shelf = place.parent().ok_or(StoreError::NotFound("folder"))?;
    if !shelf.exists() {
        fs::create_dir_all(shelf)?;
        if let Some(above) = shelf.parent() {
            sync_folder(above)?;
        }
    }
    fs::rename(part, place)?;
    sync_folder(shelf)?;
    part.parent().map_or(Ok(()), sync_folder)
}

/// Copies a file into a part file, syncs it, and gives the fingerprint of what was copied.
pub(in crate::store) fn copy(from: &Path, part: &Path) -> Result<Fingerprint, StoreError> {
    let (mut from, mut to) = (File::open(from)?, File::create(part)?);
    let (mut hasher, mut buffer) = (Sha256::new(), vec![0_u8; 1 << 20]);
    loop {
        let read = from.read(&mut buffer)?;
        let bytes = buffer.get(..read).unwrap_or_default();
        if bytes.is_empty() {
            to.sync_all()?;
            return Ok(Fingerprint::of_hasher(hasher));
        }
        hasher.update(bytes);
        to.write_all(bytes)?;
    }
}

fn read_only(file: &File) -> Result<Permissions, StoreError> {
    let mut permissions = file.metadata()?.permissions();
    permissions.set_readonly(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        permissions.set_mode(0o444);
    }
    Ok(permissions)
}

/// Puts a view in its place, whole or not at all: its bytes are safe before its name says so. That the name is kept too is
/// not waited for: a view that is not there is made again.
#[expect(clippy::disallowed_methods, reason = "views are renamed into place whole")]
pub(in crate::store) fn put_view(part: &Path, bytes: &[u8], place: &Path) -> Result<(), NotAdded> {
    discard(part).map_err(NotAdded::Refused)?;
    if let Err(why) = add(part, 0, bytes) {
        // what did not get in is of no use; the reason is told, not that it could not be cleared away
        let _ = discard(part);
        return Err(why);
    }
    fs::rename(part, place).map_err(|error| NotAdded::Refused(error.into()))
}

/// Takes away a part file that was given up or did not match.
#[expect(clippy::disallowed_methods, reason = "only part files, which nobody was promised to keep")]
pub(in crate::store) fn discard(part: &Path) -> Result<(), StoreError> {
    match fs::remove_file(part) {
        Ok(()) => part.parent().map_or(Ok(()), sync_folder),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(()),
        Err(error) => Err(error.into()),
    }
}

/// Up to so many first bytes of a file.
pub(in crate::store) fn first_bytes(file: PathBuf, most: u64) -> Result<Vec<u8>, StoreError> {
    let mut start = Vec::new();
    File::open(file)?.take(most).read_to_end(&mut start)?;
    Ok(start)
}

/// The names of the files in a folder that were last written before a moment, sorted.
pub(in crate::store) fn names_older_than(
    folder: &Path,
    moment: std::time::SystemTime,
) -> Result<Vec<String>, StoreError> {
    let mut names = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        if entry.metadata()?.modified()? < moment {
            names.push(entry.file_name().to_string_lossy().into_owned());
        }
    }
    names.sort();
    Ok(names)
}

/// The paths of all files under some folders of a folder, with `/` between, sorted.
pub(in crate::store) fn names(folder: &Path, under: &[&str]) -> Result<Vec<String>, StoreError> {
    let mut names = Vec::new();
    let mut folders: Vec<PathBuf> = under.iter().map(|name| folder.join(name)).collect();
    while let Some(open) = folders.pop() {
        for entry in fs::read_dir(open)? {
            let entry = entry?;
            if entry.file_type()?.is_dir() {
                folders.push(entry.path());
            } else if let Ok(inside) = entry.path().strip_prefix(folder) {
                let parts: Vec<_> = inside.iter().map(|part| part.to_string_lossy()).collect();
                names.push(parts.join("/"));
            }
        }
    }
    names.sort();
    Ok(names)
}
