//! `verify FILE…` of a packet: what it and the signature beside it say by themselves, without a shop.

use std::fs::File;
use std::io::Read as _;
use std::path::{Path, PathBuf};

use super::{TEXT, whose};
use crate::actions::shop::signing::{Checked, check, fingerprint};
use crate::cli::reading;
use crate::documents::packet::contents_in;
use crate::startup::StartError;

/// A packet of more bytes is not read (own choice: ten times the largest that is made).
const PACKET: u64 = 200_000_000;

/// Says what is known of one file; whether that is enough.
pub(super) fn one(file: &Path, allowed: Option<&[String]>) -> Result<bool, StartError> {
    let named = file.display();
    let Some(bytes) = bytes(file)? else { return Ok(false) };
    let beside = PathBuf::from(format!("{named}.sig"));
    if !beside.exists() {
        println!("{named}: no signature beside it: whether it is unaltered is not known.");
        says_of_itself(&bytes);
        return Ok(false);
    }
    let Some(signature) = reading::text(&beside, TEXT)? else {
        println!("{named}: its signature does not read: whether it is unaltered is not known.");
        return Ok(false);
    };
    match check(&bytes, &signature) {
        Checked::NoSignature(why) => {
            println!("{named}: its signature does not read ({why}): whether it is unaltered is not known.");
            says_of_itself(&bytes);
            Ok(false)
        }
        Checked::Altered => {
            println!("{named}: NOT what was signed. It or its signature was altered, or they are not of each other.");
            Ok(false)
        }
        Checked::Unaltered { public } => Ok(unaltered(file, &bytes, &public, allowed)),
    }
}

/// Says by which key, and which round it is.
fn unaltered(file: &Path, bytes: &[u8], public: &str, allowed: Option<&[String]>) -> bool {
    let (named, key) = (file.display(), fingerprint(public));
    println!("{named}: unaltered since it was signed by the key {key}.");
    match contents_in(bytes) {
        Some((contents, sha256)) => {
            println!("  Round {} of {}.", contents.round, contents.build);
            println!("  Contents list, SHA-256: {sha256}");
            println!("  Log head, entry {}: {}", contents.as_of, contents.log_head);
        }
        None => println!("  It names no round that this program can read."),
    }
    whose(public, allowed)
}

/// What a file says that nothing vouches for.
fn says_of_itself(bytes: &[u8]) {
    if let Some((contents, _)) = contents_in(bytes) {
        println!("  It says of itself that it is round {} of {}.", contents.round, contents.build);
    }
}

/// The bytes of a packet; none, and said so, where it is too large to be one.
fn bytes(file: &Path) -> Result<Option<Vec<u8>>, StartError> {
    let unread = |why| StartError::File { file: file.display().to_string(), why };
    let mut bytes = Vec::new();
    let opened = File::open(file).map_err(unread)?;
    let read = opened.take(PACKET.saturating_add(1)).read_to_end(&mut bytes).map_err(unread)?;
    if u64::try_from(read).is_ok_and(|read| read > PACKET) {
        eprintln!("{} has more than {PACKET} bytes; that is no packet.", file.display());
        return Ok(None);
    }
    Ok(Some(bytes))
}
