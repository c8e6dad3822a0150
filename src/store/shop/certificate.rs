//! The shop's authority and certificate, in one file that only its owner reads. It lies beside the records, not among
//! them: the call that makes it does so while the shop is open.

use std::fmt;
use std::fs::{self, File, OpenOptions};
use std::io::Write as _;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::store::engine::{keep_private, sync_folder};
use crate::store::error::StoreError;

/// The version of the file.
const VERSION: u32 = 1;

/// What is kept. Certificates and keys are PEM (RFC 7468).
#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Keys {
    tackbook_certificate: u32,
    /// What the authority is called.
    pub authority: String,
    /// The host names and addresses that it may name.
    pub permits: Vec<String>,
    /// Its certificate.
    pub authority_certificate: String,
    /// Its key.
    pub authority_key: String,
    /// The names of the server's certificate.
    pub names: Vec<String>,
    /// The server's certificate.
    pub certificate: String,
    /// The server's key.
    pub key: String,
}

impl fmt::Debug for Keys {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Keys").field("authority", &self.authority).field("names", &self.names).finish_non_exhaustive()
    }
}

/// An authority and the key it signs with.
#[derive(Clone)]
pub struct Authority {
    /// What it is called.
    pub called: String,
    /// The host names and addresses that it may name.
    pub permits: Vec<String>,
    /// Its certificate.
    pub certificate: String,
    /// Its key.
    pub key: String,
}

impl fmt::Debug for Authority {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Authority").field("called", &self.called).finish_non_exhaustive()
    }
}

impl Keys {
    /// An authority, and the server's certificate and key with their names.
    pub fn new(authority: Authority, names: Vec<String>, certificate: String, key: String) -> Self {
        Self {
            tackbook_certificate: VERSION,
            authority: authority.called,
            permits: authority.permits,
            authority_certificate: authority.certificate,
            authority_key: authority.key,
            names,
            certificate,
            key,
        }
    }

    /// The authority of them.
    pub fn signed_by(&self) -> Authority {
        Authority {
            called: self.authority.clone(),
            permits: self.permits.clone(),
            certificate: self.authority_certificate.clone(),
            key: self.authority_key.clone(),
        }
    }
}

/// Where the keys lie in a shop's folder.
pub fn place(folder: &Path) -> PathBuf {
    folder.join("keys").join("certificate.json")
}

/// What is kept in a shop's folder; none when nothing was made yet.
pub fn read(folder: &Path) -> Result<Option<Keys>, StoreError> {
    let place = place(folder);
    let text = match fs::read_to_string(&place) {
        Ok(text) => text,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(error.into()),
    };
    of_text(&text).map(Some).map_err(|why| {
        StoreError::Folder(format!(
            "{} does not read: {why}. Put it aside and make a new certificate.",
            place.display()
        ))
    })
}

/// The keys in the text of their file.
///
/// # Errors
/// Why they do not read, in words.
pub fn of_text(text: &str) -> Result<Keys, String> {
    let keys: Keys = serde_json::from_str(text).map_err(|error| error.to_string())?;
    if keys.tackbook_certificate != VERSION {
        return Err("another version made it".to_owned());
    }
    Ok(keys)
}

/// Keeps them: written beside the old ones, synced, and put in their place at once.
pub fn keep(folder: &Path, keys: &Keys) -> Result<(), StoreError> {
    let text = serde_json::to_string_pretty(keys).map_err(|error| StoreError::NotKept(error.to_string()))?;
    put_private(folder, &place(folder), &text)
}

/// Puts a text into the keys of a shop's folder, whole or not at all, so that its owner alone reads it.
#[expect(clippy::disallowed_methods, reason = "keys are no evidence, and are renamed into place whole")]
pub(super) fn put_private(folder: &Path, place: &Path, text: &str) -> Result<(), StoreError> {
    let shelf = folder.join("keys");
    fs::create_dir_all(&shelf)?;
    keep_private(&shelf)?;
    let made = place.with_extension("new");
    let mut file = for_its_owner(&made)?;
    file.write_all(text.as_bytes())?;
    file.sync_all()?;
    fs::rename(&made, place)?;
    sync_folder(&shelf)?;
    sync_folder(folder)
}

/// A file that nobody else can open, from its first byte on.
#[expect(clippy::disallowed_methods, reason = "what an earlier call left half written is nobody's")]
pub(super) fn for_its_owner(file: &Path) -> Result<File, StoreError> {
    match fs::remove_file(file) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => return Err(error.into()),
        _ => {}
    }
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        options.mode(0o600);
    }
    Ok(options.open(file)?)
}
