//! What lies in a folder that somebody named as a shop's. Where something is left of a shop and its records are not, or
//! where there is something else, no new shop is made: it would look as if everything had been lost for good.

use std::fs;
use std::path::Path;

use super::engine::{FOLDERS, RECORDS};
use super::error::StoreError;

/// What lies there beside a shop's records.
#[derive(Debug, Default)]
struct Lies {
    /// Whether there is a list of a backup, or a backup's records.
    backups: bool,
    /// What is left of a shop, in words: "12 photographs".
    left: Vec<String>,
    /// What is no part of a shop, by name.
    other: Vec<String>,
}

/// Refuses a folder in which no shop may be made, and in which none is.
pub(super) fn may_be_made(folder: &Path) -> Result<(), StoreError> {
    if has_records(folder) || !folder.exists() {
        return Ok(());
    }
    nothing_left(folder)
}

/// Refuses a folder in which there is no shop.
pub(super) fn is_there(folder: &Path) -> Result<(), StoreError> {
    if has_records(folder) {
        return Ok(());
    }
    let named = folder.display();
    if !folder.exists() {
        return Err(StoreError::Folder(format!(
            "There is no folder {named}. Look at the name; `tackbook serve --folder {named}` would make a new shop there"
        )));
    }
    nothing_left(folder)?;
    Err(StoreError::Folder(format!(
        "There is no shop in {named}: nothing lies there. Look at the name; `tackbook serve --folder {named}` would make a \
         new shop there"
    )))
}

/// Refuses a folder for backups that is itself a shop's.
pub(super) fn is_no_shop(shop: &Path, to: &Path) -> Result<(), StoreError> {
    if has_records(to) {
        let (shop, to) = (shop.display(), to.display());
        let why =
            format!("{to} is a shop's folder. A backup of {shop} lies in a folder of its own, best on another disk");
        return Err(StoreError::Folder(why));
    }
    Ok(())
}

/// Whether there are records; an empty file is none.
fn has_records(folder: &Path) -> bool {
    fs::metadata(folder.join(RECORDS)).is_ok_and(|file| file.is_file() && file.len() > 0)
}

/// Refuses a folder in which anything lies beside what a shop that was just begun has.
pub(super) fn nothing_left(folder: &Path) -> Result<(), StoreError> {
    let (lies, named) = (lies(folder)?, folder.display());
    if lies.backups {
        return Err(StoreError::Folder(format!(
            "{named} is a folder of backups and no shop's. Nothing was changed in it. `tackbook restore --from {named} \
             --folder NEW` makes a shop's folder of the newest"
        )));
    }
    if !lies.left.is_empty() {
        let last = last_backup(folder).map(|to| format!("; the last one was made into {to}")).unwrap_or_default();
        return Err(StoreError::Folder(format!(
            "{named} has no records ({RECORDS} is gone or empty), but there is what a shop kept: {}. Nothing was changed. \
             Put {RECORDS} back where it was, or restore a backup into an empty folder: `tackbook restore --from BACKUPS \
             --folder NEW`{last}",
            lies.left.join(", ")
        )));
    }
    if let Some(first) = lies.other.first() {
        return Err(StoreError::Folder(format!(
            "{named} is no shop's folder, and is not empty: there is {first}. Nothing was changed. A new shop is made in an \
             empty folder, or in one that is not there yet"
        )));
    }
    Ok(())
}

fn lies(folder: &Path) -> Result<Lies, StoreError> {
    let mut lies = Lies::default();
    let mut names = Vec::new();
    for entry in fs::read_dir(folder)? {
        names.push(entry?.file_name().to_string_lossy().into_owned());
    }
    names.sort();
    let beside = ["wal", "shm", "journal"].map(|ending| format!("{RECORDS}-{ending}"));
    let records = folder.join(RECORDS).is_file();
    for name in names {
        let ends = |ending: &str| Path::new(&name).extension().is_some_and(|found| found == ending);
        if name == RECORDS || name == "lock" || name == "lost+found" || name.starts_with('.') {
            // they say nothing of what was there
        } else if beside.contains(&name) {
            if !records {
                lies.left.push(format!("the newest entries of its records ({name})"));
            }
        } else if FOLDERS.contains(&name.as_str()) {
            lies.left.extend(kept(&folder.join(&name), &name)?);
        } else if (name.starts_with("backup-") && ends("json")) || (name.starts_with("records-") && ends("db")) {
            lies.backups = true;
        } else if name.starts_with("tackbook-form-") {
            lies.left.push(format!("records as they were before a newer program ({name})"));
        } else if name == LAST_BACKUP {
            lies.left.push("the note of its last backup".to_owned());
        } else if name == LAST_CHECK {
            lies.left.push("the note of its last check".to_owned());
        } else {
            lies.other.push(name);
        }
    }
    Ok(lies)
}

/// What a folder of a shop has kept, in words; none where it is as a new shop's. A certificate may be made before a shop is.
fn kept(folder: &Path, name: &str) -> Result<Option<String>, StoreError> {
    let (mut many, mut folders) = (0_usize, vec![folder.to_owned()]);
    while let Some(open) = folders.pop() {
        for entry in fs::read_dir(open)? {
            let entry = entry?;
            let made_before = name == "keys" && entry.file_name().to_string_lossy().starts_with("certificate.");
            if entry.file_type()?.is_dir() {
                folders.push(entry.path());
            } else if !made_before {
                many += 1;
            }
        }
    }
    let what = match name {
        "photos" => "photographs",
        "packets" => "packets",
        "mails" => "mails that came with replies",
        "views" => "smaller copies of photographs",
        "arriving" => "parts of files on their way",
        "keys" => return Ok((many > 0).then(|| "the key that packets are signed by".to_owned())),
        _ => "files put aside",
    };
    let one = what.strip_suffix('s').filter(|_| many == 1 && matches!(name, "photos" | "packets"));
    Ok((many > 0).then(|| format!("{many} {}", one.unwrap_or(what))))
}

/// The note of the last backup in a shop's folder.
pub(super) const LAST_BACKUP: &str = "last-backup.json";

/// The note of the last check in a shop's folder.
pub(super) const LAST_CHECK: &str = "last-check.json";

/// Where the last backup was made into, by a note that may be damaged.
fn last_backup(folder: &Path) -> Option<String> {
    let note: serde_json::Value = serde_json::from_slice(&fs::read(folder.join(LAST_BACKUP)).ok()?).ok()?;
    Some(note.get("to")?.as_str()?.to_owned())
}
