//! The keys of a shop's folder taken together: read for whoever saves them elsewhere, and put back.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{Read as _, Write as _};
use std::path::{Path, PathBuf};

use super::certificate::{for_its_owner, put_private};
use super::{certificate, signing_key};
use crate::store::engine::sync_folder;
use crate::store::error::StoreError;
use crate::store::found;

/// Most bytes of a file of saved keys; what is longer was not made here.
const MOST_BYTES: u64 = 1 << 20;

/// The keys of a folder by the names of their files: texts that whoever reads them can pass for the shop with.
pub type Texts = BTreeMap<String, String>;

/// Which keys there are: those that packets are signed by, and those of the certificate.
fn places(folder: &Path) -> Vec<(String, PathBuf)> {
    let named = |place: PathBuf| Some((place.file_name()?.to_string_lossy().into_owned(), place));
    [signing_key::place(folder), certificate::place(folder)].into_iter().filter_map(named).collect()
}

/// The keys in a shop's folder.
///
/// # Errors
/// `Folder` where there is no shop; the disk's trouble.
pub fn read(folder: &Path) -> Result<Texts, StoreError> {
    found::is_there(folder)?;
    let mut texts = Texts::new();
    for (name, place) in places(folder) {
        match fs::read_to_string(place) {
            Ok(text) => drop(texts.insert(name, text)),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
            Err(error) => return Err(error.into()),
        }
    }
    Ok(texts)
}

/// Puts a key of this name into a shop's folder. One that was there is kept beside it, under a name that ends in `aside`.
///
/// # Errors
/// `NotFound` where keys have no such name; the disk's trouble.
pub fn put(folder: &Path, name: &str, text: &str, aside: &str) -> Result<(), StoreError> {
    let all = places(folder);
    let (_, place) = all.iter().find(|(known, _)| known == name).ok_or(StoreError::NotFound("key"))?;
    if let Some(before) = read(folder)?.get(name) {
        put_private(folder, &place.with_file_name(format!("{name}.{aside}")), before)?;
    }
    put_private(folder, place, text)
}

/// Writes what is saved of the keys into a file of its own that is not there yet, readable by its owner alone.
///
/// # Errors
/// `Folder` where the file is there already; the disk's trouble.
#[expect(clippy::disallowed_methods, reason = "a whole file is renamed into its place, where nothing was")]
pub fn put_out(out: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    if out.exists() {
        return Err(StoreError::Folder(format!("{} is there already; nothing was written over it", out.display())));
    }
    let mut part = out.as_os_str().to_owned();
    part.push(".part");
    let part = PathBuf::from(part);
    let mut file = for_its_owner(&part)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    fs::rename(&part, out)?;
    let folder = out.parent().filter(|folder| !folder.as_os_str().is_empty());
    sync_folder(folder.unwrap_or(Path::new(".")))
}

/// Reads what was saved of keys.
pub fn read_in(file: &Path) -> Result<Vec<u8>, StoreError> {
    let mut bytes = Vec::new();
    File::open(file)?.take(MOST_BYTES).read_to_end(&mut bytes)?;
    Ok(bytes)
}
