//! The shop's keys saved on purpose, under a passphrase, and restored: an age file (age-encryption.org/v1) with one
//! passphrase recipient, which the age tools open too.

use std::path::Path;

use age::DecryptError;
use age::scrypt::{Identity, Recipient};
use serde::{Deserialize, Serialize};

use super::signing::fingerprint_of_private;
use crate::actions::error::ActionError;
use crate::domain::words::fingerprint::{Fingerprint, short};
use crate::domain::words::limits::PASSPHRASE;
use crate::store::shop::keys::{Texts, put, put_out, read, read_in};
use crate::store::shop::{certificate, signing_key};

/// The version of what is in the file.
const VERSION: u32 = 1;
/// The work of trying a passphrase, as a power of two: 256 MiB and about a second (the age tool's own).
const WORK: u8 = 18;
/// The most that is done for a file from elsewhere: 1 GiB.
const MOST_WORK: u8 = 20;

/// What is in the file.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Saved {
    tackbook_keys: u32,
    /// The keys by the names of their files.
    keys: Texts,
}

/// A key that was saved or restored: the name of its file, and what it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Key {
    /// The name of its file among the keys.
    pub name: String,
    /// What it is, with its fingerprint.
    pub what: String,
}

/// A key that was in a file, and what became of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Put {
    /// There was none; it is there now.
    Put(Key),
    /// It was there already.
    There(Key),
    /// It is in the place of another, which lies beside it under this name.
    Replaced(Key, String),
}

fn held(why: impl Into<String>) -> ActionError {
    ActionError::Held(why.into())
}

/// What is wrong with a passphrase to save keys under, if anything.
pub fn passphrase_fault(passphrase: &str) -> Option<String> {
    let (least, most) = PASSPHRASE;
    match passphrase.chars().count() {
        long if long < least => Some(format!(
            "A passphrase for keys has at least {least} characters: five words are easier to keep than as many signs."
        )),
        long if long > most => Some(format!("A passphrase for keys has at most {most} characters.")),
        _ => None,
    }
}

/// The keys that a shop's folder has to be saved.
///
/// # Errors
/// `Held` where there are none; the store's where there is no shop.
pub fn there(folder: &Path) -> Result<Texts, ActionError> {
    let keys = read(folder)?;
    if keys.is_empty() {
        return Err(held(format!(
            "There is no key in {} yet: the one that packets are signed by is made with the first round. Nothing was written.",
            folder.display()
        )));
    }
    Ok(keys)
}

/// Saves the keys of a shop's folder into a new file under a passphrase; the file is opened again before this is done. The
/// shop may be open meanwhile.
///
/// # Errors
/// `Held` with a sentence: no keys there, a passphrase that will not do, a file that does not open again.
pub fn save(folder: &Path, out: &Path, passphrase: &str) -> Result<Vec<Key>, ActionError> {
    if let Some(fault) = passphrase_fault(passphrase) {
        return Err(held(fault));
    }
    let keys = there(folder)?;
    let told = described(&keys)?;
    let text = serde_json::to_string_pretty(&Saved { tackbook_keys: VERSION, keys: keys.clone() });
    let text = text.map_err(|error| ActionError::NotWorked(error.to_string()))?;
    let mut recipient = Recipient::new(passphrase.into());
    recipient.set_work_factor(WORK);
    let closed =
        age::encrypt(&recipient, text.as_bytes()).map_err(|error| ActionError::NotWorked(error.to_string()))?;
    put_out(out, &closed)?;
    if opened(out, passphrase)? == keys { Ok(told) } else { Err(held("What was written does not open as it was.")) }
}

/// Restores the keys of a file into a shop's folder. Another key of the same kind is refused, all of them with it, unless it
/// is to be replaced; then it is kept beside. What is done shows in the log when the server starts next.
///
/// # Errors
/// `Held` with a sentence: a passphrase that does not open it, a file of another kind, another key in its place.
pub fn restore(folder: &Path, file: &Path, passphrase: &str, replace: bool) -> Result<Vec<Put>, ActionError> {
    let here = read(folder)?;
    let keys = opened(file, passphrase)?;
    let told = described(&keys)?;
    let is_other = |key: &&Key| here.get(&key.name).is_some_and(|there| keys.get(&key.name) != Some(there));
    if let Some(other) = told.iter().find(is_other).filter(|_| !replace) {
        return Err(held(format!(
            "{} has another key already in keys/{}; nothing was restored. In the file is {}. With --replace it is put in \
             place of the one that is there, which is kept beside it.",
            folder.display(),
            other.name,
            other.what
        )));
    }
    let mut done = Vec::new();
    for key in told {
        let Some(text) = keys.get(&key.name) else { continue };
        done.push(match here.get(&key.name) {
            Some(there) if there == text => Put::There(key),
            Some(there) => {
                let aside = format!("{}.before", short(Fingerprint::of(there.as_bytes()).text()).replace(' ', ""));
                put(folder, &key.name, text, &aside)?;
                let beside = format!("keys/{}.{aside}", key.name);
                Put::Replaced(key, beside)
            }
            None => {
                put(folder, &key.name, text, "before")?;
                Put::Put(key)
            }
        });
    }
    Ok(done)
}

/// The keys in a file, opened by a passphrase.
fn opened(file: &Path, passphrase: &str) -> Result<Texts, ActionError> {
    let (bytes, named) = (read_in(file)?, file.display());
    let mut identity = Identity::new(passphrase.into());
    identity.set_max_work_factor(MOST_WORK);
    let text = age::decrypt(&identity, &bytes).map_err(|why| match why {
        DecryptError::DecryptionFailed | DecryptError::KeyDecryptionFailed => {
            held(format!("This passphrase does not open {named}. Nothing was changed."))
        }
        DecryptError::ExcessiveWork { .. } => {
            held(format!("{named} asks for more work than this program does for a passphrase; it was not opened."))
        }
        DecryptError::NoMatchingKeys => {
            held(format!("{named} was not closed with a passphrase; it is no file of saved keys."))
        }
        _ => held(format!("{named} is no age file, or it is damaged. Nothing was changed.")),
    })?;
    let saved: Saved = serde_json::from_slice(&text)
        .map_err(|_| held(format!("{named} opens, but what is in it are no keys of a shop. Nothing was changed.")))?;
    if saved.tackbook_keys != VERSION {
        return Err(held(format!("A newer Tackbook saved {named}. Start that one. Nothing was changed.")));
    }
    Ok(saved.keys)
}

/// What each of these keys is; all of them must read.
fn described(keys: &Texts) -> Result<Vec<Key>, ActionError> {
    let name_of = |place: std::path::PathBuf| place.file_name().map(|name| name.to_string_lossy().into_owned());
    let (packets, https) = (name_of(signing_key::place(Path::new(""))), name_of(certificate::place(Path::new(""))));
    let mut told = Vec::new();
    for (name, text) in keys {
        let what = if Some(name) == packets.as_ref() {
            format!("the key that packets are signed by, {}", fingerprint_of_private(text)?)
        } else if Some(name) == https.as_ref() {
            let read = certificate::of_text(text)
                .map_err(|why| held(format!("The certificate's keys do not read: {why}.")))?;
            format!("the shop's authority “{}” and its certificate", read.authority)
        } else {
            return Err(held(format!("“{name}” is no key that a shop has. Nothing was changed.")));
        };
        told.push(Key { name: name.clone(), what });
    }
    Ok(told)
}
