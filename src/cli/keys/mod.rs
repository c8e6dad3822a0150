//! `keys`: the shop's keys into a file under a passphrase, and back.

mod passphrase;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Subcommand;

use super::exits::SAYS_NO;
use crate::actions::ActionError;
use crate::actions::shop::keys::{Put, passphrase_fault, restore, save, there};
use crate::startup::StartError;

/// What is done with the keys.
#[derive(Debug, Subcommand)]
pub(super) enum Deed {
    /// Save the keys into a new file under a passphrase. The passphrase is asked for, or read from the first line of the
    /// standard input; it is never an argument.
    Save {
        /// The shop's folder.
        #[arg(long)]
        folder: PathBuf,
        /// The file to make, in age's format.
        #[arg(long)]
        out: PathBuf,
    },
    /// Restore saved keys into a shop's folder.
    Restore {
        /// The shop's folder.
        #[arg(long)]
        folder: PathBuf,
        /// Put them in place of other keys; those are kept beside.
        #[arg(long)]
        replace: bool,
        /// The file.
        file: PathBuf,
    },
}

/// Does it and prints what came of it.
pub(super) fn act(deed: &Deed) -> Result<ExitCode, StartError> {
    let done = match deed {
        Deed::Save { folder, out } => saved(folder, out),
        Deed::Restore { folder, replace, file } => restored(folder, file, *replace),
    };
    match done {
        Ok(said) => {
            println!("{said}");
            Ok(ExitCode::SUCCESS)
        }
        Err(ActionError::Held(why)) => {
            eprintln!("{why}");
            Ok(ExitCode::from(SAYS_NO))
        }
        Err(ActionError::Store(error)) => Err(StartError::Store(error)),
        Err(other) => Err(StartError::Action(other)),
    }
}

fn unread(why: &std::io::Error) -> ActionError {
    ActionError::Held(format!("The passphrase could not be read: {why}. Nothing was done."))
}

fn saved(folder: &Path, out: &Path) -> Result<String, ActionError> {
    // whether there is anything to save is said before anybody thinks up a passphrase
    there(folder)?;
    let passphrase = passphrase::new(passphrase_fault).map_err(|why| unread(&why))?.map_err(ActionError::Held)?;
    let keys = save(folder, out, &passphrase)?;
    let mut lines: Vec<String> = keys.into_iter().map(|key| format!("Saved: {}.", key.what)).collect();
    lines.push(format!(
        "{} was opened again with this passphrase. Without it nobody opens it, you neither.",
        out.display()
    ));
    Ok(lines.join("\n"))
}

fn restored(folder: &Path, file: &Path, replace: bool) -> Result<String, ActionError> {
    let passphrase = passphrase::known().map_err(|why| unread(&why))?;
    let done = restore(folder, file, &passphrase, replace)?;
    let said = |put: Put| match put {
        Put::Put(key) => format!("Restored: {}.", key.what),
        Put::There(key) => format!("It was there already: {}.", key.what),
        Put::Replaced(key, beside) => {
            format!("Restored: {}. The one before lies in {beside}. The log tells of it at the next start.", key.what)
        }
    };
    Ok(done.into_iter().map(said).collect::<Vec<_>>().join("\n"))
}
