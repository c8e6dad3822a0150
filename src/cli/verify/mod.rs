//! `verify`: nothing kept was altered, or what was; and what a packet or a car's file says by itself, without a shop.

mod car_file;
mod packet;
mod shop;

use std::fs::File;
use std::io::Read as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use super::exits::SAYS_NO;
use super::reading;
use crate::actions::shop::signing::{keys_in, same_key};
use crate::startup::StartError;

pub(super) use shop::verify as shop;

/// A signature or a list of keys of more bytes is not read.
const TEXT: u64 = 100_000;

/// Says of each file what is known of it; success only where each is unaltered and, where keys are named, by one of them.
pub(super) fn files(files: &[PathBuf], key: Option<&Path>) -> Result<ExitCode, StartError> {
    let allowed = match key {
        Some(file) => match reading::text(file, TEXT)?.map(|text| keys_in(&text)) {
            Some(keys) if !keys.is_empty() => Some(keys),
            _ => {
                eprintln!("{} names no key that can be read.", file.display());
                return Ok(ExitCode::from(SAYS_NO));
            }
        },
        None => None,
    };
    let mut all_good = true;
    for file in files {
        let archive = first(file)? == *b"PK";
        let one = if archive { car_file::one } else { packet::one };
        all_good &= one(file, allowed.as_deref())?;
    }
    Ok(if all_good { ExitCode::SUCCESS } else { ExitCode::from(SAYS_NO) })
}

/// The first two bytes of a file, or fewer.
fn first(file: &Path) -> Result<Vec<u8>, StartError> {
    let unread = |why| StartError::File { file: file.display().to_string(), why };
    let mut first = Vec::new();
    File::open(file).and_then(|file| file.take(2).read_to_end(&mut first)).map_err(unread)?;
    Ok(first)
}

/// Says whose key it is that signed; whether that is enough.
fn whose(public: &str, allowed: Option<&[String]>) -> bool {
    match allowed {
        Some(allowed) if allowed.iter().any(|one| same_key(one, public)) => {
            println!("  The key is one of those that you named.");
            true
        }
        Some(_) => {
            println!("  The key is NONE of those that you named: it was not issued by them.");
            false
        }
        None => {
            println!(
                "  Whose key that is, these files cannot tell: compare it with what the shop told you, or name it by --key."
            );
            true
        }
    }
}
