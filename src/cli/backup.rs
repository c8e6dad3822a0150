//! `backup` and `restore`: the shop's records and files in another folder, and back.

use std::io::{IsTerminal as _, Write as _};
use std::path::Path;
use std::process::ExitCode;

use super::exits::SAYS_NO;
use super::opened;
use crate::actions::{self, ActionError};
use crate::clock::Clock;
use crate::startup::StartError;

/// Says how far it is, where somebody is looking.
fn tell(done: usize, all: usize) {
    let mut out = std::io::stderr();
    if out.is_terminal() && (done.is_multiple_of(20) || done == all) {
        // a terminal that is gone needs no progress
        let _ = write!(out, "\r{done} of {all}{}", if done == all { "\n" } else { "" });
    }
}

/// What was wrong with a folder is said in full.
fn said(error: ActionError) -> StartError {
    match error {
        ActionError::Store(error) => StartError::Store(error),
        other => StartError::Action(other),
    }
}

/// Makes a backup and prints what it has.
pub(super) async fn take(folder: &Path, to: &Path) -> Result<ExitCode, StartError> {
    let taken = actions::shop::backup::take(folder, to, &Clock::of_machine(), &tell).await.map_err(said)?;
    let list = &taken.list;
    let files = list.files.len();
    println!("{files} photographs and packets, and the records, lie in {}; {} were new.", to.display(), taken.copied);
    println!("Each was read again and is the one that was kept. Keys are not among them.");
    for lost in &list.lost {
        println!("{lost}");
    }
    if let Some(fewer) = &taken.fewer {
        println!(
            "{} photographs or packets of the backup before are not in this one: the shop lost them, or is another shop. That \
             backup is kept; `tackbook restore --from {} --of {} --folder NEW` brings it back.",
            fewer.files,
            to.display(),
            fewer.before
        );
    }
    if let Some(before) = &taken.parted {
        println!(
            "The log of the backup before does not go on in this one: entries were taken away or replaced, or it is another \
             shop. That backup is kept; `tackbook restore --from {} --of {before} --folder NEW` brings it back.",
            to.display(),
        );
    }
    Ok(if list.lost.is_empty() && taken.fewer.is_none() && taken.parted.is_none() {
        ExitCode::SUCCESS
    } else {
        ExitCode::from(SAYS_NO)
    })
}

/// Restores a backup and prints what checking it found.
pub(super) async fn restore(from: &Path, name: Option<&str>, folder: &Path) -> Result<ExitCode, StartError> {
    let restored = actions::shop::backup::restore(from, name, folder, &tell).await.map_err(said)?;
    let (list, report) = (&restored.list, &restored.report);
    opened::tell(restored.brought_up.as_ref());
    println!(
        "The shop as it was at {} is in {}: {} log entries, {} photographs, {} packets.",
        Clock::of_machine().minute_of(list.made),
        folder.display(),
        report.log.entries,
        report.photos,
        report.packets
    );
    for bad in &report.bad {
        println!("{bad}");
    }
    if !report.good() {
        return Ok(ExitCode::from(SAYS_NO));
    }
    println!("Everything was checked and is as it was kept. Start `tackbook serve` on this folder.");
    println!("For https call `tackbook certificate` once: keys are in no backup.");
    Ok(ExitCode::SUCCESS)
}
