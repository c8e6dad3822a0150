//! The shop's folder: its layout, and the lock that gives it to one program at a time.

use std::fs::{self, File, TryLockError};
use std::path::Path;

use crate::store::error::StoreError;

/// The folders under a shop's folder.
pub(in crate::store) const FOLDERS: [&str; 7] = ["photos", "views", "packets", "mails", "arriving", "aside", "keys"];
/// File systems of other machines: NFS, SMB in three forms, FUSE (Linux `statfs` magic numbers, man 2 statfs).
const ELSEWHERE: [u64; 5] = [0x6969, 0x517b, 0xfe53_4d42, 0xff53_4d42, 0x6573_5546];

/// The locks by which one program holds a folder: on the file that is there for it, and on the folder itself, from which
/// nobody can take the lock by deleting a file.
#[derive(Debug)]
pub(in crate::store) struct Held(Vec<File>);

impl Held {
    /// Gives the folder free.
    pub(in crate::store) fn unlock(&self) -> std::io::Result<()> {
        self.0.iter().try_for_each(File::unlock)
    }
}

/// Makes the layout where it is missing and locks the folder for this program alone.
pub(in crate::store) fn take_folder(folder: &Path) -> Result<Held, StoreError> {
    make_private(folder)?;
    refuse_elsewhere(folder)?;
    for name in FOLDERS {
        fs::create_dir_all(folder.join(name))?;
    }
    keep_private(&folder.join("keys"))?;
    sync_folder(folder)?;
    if let Some(above) = folder.parent().filter(|above| !above.as_os_str().is_empty()) {
        sync_folder(above)?;
    }
    let mut held = vec![File::options().create(true).truncate(false).write(true).open(folder.join("lock"))?];
    // elsewhere a folder cannot be opened as a file
    if cfg!(unix) {
        held.push(File::open(folder)?);
    }
    for lock in &held {
        match lock.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                return Err(StoreError::InUse(format!(
                    "Another Tackbook already works in {}. Stop it first, or choose another folder.",
                    folder.display()
                )));
            }
            Err(TryLockError::Error(error)) => return Err(error.into()),
        }
    }
    Ok(Held(held))
}

/// Makes a folder that nobody else on the machine looks into; one that is there stays as its owner made it.
fn make_private(folder: &Path) -> Result<(), StoreError> {
    if folder.is_dir() {
        return Ok(());
    }
    fs::create_dir_all(folder)?;
    keep_private(folder)
}

/// Syncs a folder, so that the names in it survive a power cut.
pub(in crate::store) fn sync_folder(folder: &Path) -> Result<(), StoreError> {
    Ok(File::open(folder)?.sync_all()?)
}

#[cfg(unix)]
pub(in crate::store) fn keep_private(folder: &Path) -> Result<(), StoreError> {
    use std::os::unix::fs::PermissionsExt as _;
    Ok(fs::set_permissions(folder, fs::Permissions::from_mode(0o700))?)
}

#[cfg(not(unix))]
pub(in crate::store) fn keep_private(_folder: &Path) -> Result<(), StoreError> {
    Ok(())
}

#[cfg(target_os = "linux")]
fn refuse_elsewhere(folder: &Path) -> Result<(), StoreError> {
    let kind = rustix::fs::statfs(folder).map_err(std::io::Error::from)?.f_type;
    if u64::try_from(kind).is_ok_and(|kind| ELSEWHERE.contains(&kind)) {
        return Err(StoreError::Folder(format!(
            "{} lies on another machine's disk. The records need a disk of this machine; choose a folder there.",
            folder.display()
        )));
    }
    Ok(())
}

#[cfg(not(target_os = "linux"))]
fn refuse_elsewhere(_folder: &Path) -> Result<(), StoreError> {
    let _ = ELSEWHERE;
    Ok(())
}
