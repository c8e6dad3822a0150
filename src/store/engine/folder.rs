//! The shop's folder: its layout, and the lock that gives it to one program at a time.

use std::fs::{self, File, TryLockError};
use std::path::Path;

use crate::store::error::StoreError;

/// The folders under a shop's folder.
pub(in crate::store) const FOLDERS: [&str; 7] = ["photos", "views", "packets", "mails", "arriving", "aside", "keys"];
/// File systems of other machines: NFS, SMB in three forms, FUSE (Linux `statfs` magic numbers, man 2 statfs).
const ELSEWHERE: [u64; 5] = [0x6969, 0x517b, 0xfe53_4d42, 0xff53_4d42, 0x6573_5546];

/// Makes the layout where it is missing and locks the folder for this program alone.
pub(in crate::store) fn take_folder(folder: &Path) -> Result<File, StoreError> {
    fs::create_dir_all(folder)?;
    refuse_elsewhere(folder)?;
    for name in FOLDERS {
        fs::create_dir_all(folder.join(name))?;
    }
    keep_private(&folder.join("keys"))?;
    sync_folder(folder)?;
    if let Some(above) = folder.parent().filter(|above| !above.as_os_str().is_empty()) {
        sync_folder(above)?;
    }
    let lock = File::options().create(true).truncate(false).write(true).open(folder.join("lock"))?;
    match lock.try_lock() {
        Ok(()) => Ok(lock),
        Err(TryLockError::WouldBlock) => Err(StoreError::InUse(format!(
            "Another Tackbook already works in {}. Stop it first, or choose another folder.",
            folder.display()
        ))),
        Err(TryLockError::Error(error)) => Err(error.into()),
    }
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
