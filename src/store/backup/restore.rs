//! Making a shop's folder out of a backup.

use std::fs;
use std::path::Path;

use super::{List, Listed, Tell, list_of, lists};
use crate::store::engine::{self, RECORDS, sync_folder};
use crate::store::error::StoreError;
use crate::store::vault::{blocking, disk};

/// What was restored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    /// The backup it came from.
    pub list: List,
    /// Files of the backup that are missing or altered in it, by path.
    pub damaged: Vec<String>,
}

/// Puts the newest backup of a folder, or the one of this name, into an empty folder. The records come last: a folder that
/// was restored in part is no shop.
///
/// # Errors
/// `Folder` where there is no backup, where the folder is not empty, or where the records themselves are damaged.
pub async fn restore(from: &Path, name: Option<&str>, folder: &Path, tell: Tell<'_>) -> Result<Restored, StoreError> {
    let names = if from.is_dir() { lists(from)? } else { Vec::new() };
    let wanted = name.map_or_else(|| names.last(), |name| names.iter().find(|there| *there == name));
    let Some(wanted) = wanted else {
        let what = name.map_or_else(|| "no backup".to_owned(), |name| format!("no backup {name}"));
        return Err(StoreError::Folder(format!("There is {what} in {}", from.display())));
    };
    let list = list_of(from, wanted)?;
    // what this program could not open is refused before anything is copied; damaged records are told of below
    if let Ok(mut records) = engine::backed_up(&from.join(&list.records.path)).await
        && let Err(refused @ (StoreError::Newer { .. } | StoreError::OtherForm { .. })) =
            engine::known_form(&mut records).await
    {
        return Err(refused);
    }
    fs::create_dir_all(folder)?;
    if fs::read_dir(folder)?.next().is_some() {
        return Err(StoreError::Folder(format!(
            "{} is not empty; a shop is restored into an empty folder",
            folder.display()
        )));
    }
    fs::create_dir_all(folder.join("arriving"))?;
    sync_folder(folder)?;
    let (all, mut damaged) = (list.files.len() + 1, Vec::new());
    for (done, file) in list.files.iter().enumerate() {
        tell(done, all);
        if !brought(from, folder, file, (&file.path, false)).await? {
            damaged.push(file.path.clone());
        }
    }
    if !brought(from, folder, &list.records, (RECORDS, true)).await? {
        let why = format!("The records of {wanted} are damaged; take another backup, by its name with --of");
        return Err(StoreError::Folder(why));
    }
    tell(all, all);
    Ok(Restored { list, damaged })
}

/// Whether a file of the backup was there, whole, and is in its place now.
async fn brought(from: &Path, folder: &Path, file: &Listed, (to, written): (&str, bool)) -> Result<bool, StoreError> {
    let (source, part, place) = (from.join(&file.path), folder.join("arriving").join("restored.part"), folder.join(to));
    let sha256 = file.sha256.clone();
    blocking(move || {
        if !source.is_file() {
            return Ok(false);
        }
        if disk::copy(&source, &part)? != sha256 {
            disk::discard(&part)?;
            return Ok(false);
        }
        if written {
            disk::put(&part, &place)?;
        } else {
            disk::place(&part, &place)?;
        }
        Ok(disk::fingerprint(&place)? == sha256)
    })
    .await
}
