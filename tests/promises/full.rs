//! A disk that takes no more: a clear error, nothing kept is lost, and it goes on once there is room.

use std::io::{BufRead as _, BufReader};
use std::process::{Child, Command};

use tackbook::domain::words::fingerprint::Fingerprint;

use crate::child::{command, command_with_small_files, photo};
use crate::folder::Folder;
use crate::promised::{Promised, hold_to};

/// Listens to a child until it ends or `enough` was heard, then ends it.
fn listen(mut command: Command, promised: &mut Promised, enough: impl Fn(&Promised) -> bool) -> Vec<String> {
    let mut child: Child = command.spawn().unwrap();
    let mut heard = Vec::new();
    for line in BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok) {
        promised.hear(&line);
        heard.push(line);
        if enough(promised) {
            break;
        }
    }
    // it may have ended by itself
    let _ = child.kill();
    child.wait().unwrap();
    heard
}

/// A photograph that does not fit is refused; the one before it stays, and smaller ones after it are taken.
#[tokio::test]
async fn promise_7_a_full_disk_refuses_in_words_and_loses_nothing_kept() {
    let folder = Folder::new();
    let mut promised = Promised::default();
    // made without a limit, so that the database has its tables and an empty write-ahead log
    hold_to(&folder.0, &promised).await;
    // 256 KiB a file: photograph 1, of 300,000 bytes, does not fit
    listen(command_with_small_files(&folder.0, 512), &mut promised, |promised| promised.kept.contains_key(&2));
    let refused = promised.refused.join("\n");
    assert!(refused.starts_with("REFUSED 1 300000") && refused.lines().count() == 1, "{refused}");
    assert!(refused.contains("the disk says no") && refused.contains("File too large"), "{refused}");
    assert_eq!(promised.kept.keys().collect::<Vec<_>>(), [&0, &2]);
    // what of it was acknowledged stays a promise, and nothing more: the half-written, unsynced rest was taken back
    let parts: Vec<u64> = std::fs::read_dir(folder.0.join("arriving"))
        .unwrap()
        .map(|entry| entry.unwrap())
        .filter(|entry| entry.file_name().to_string_lossy().contains(Fingerprint::of(&photo(1, 300_000)).text()))
        .map(|entry| entry.metadata().unwrap().len())
        .collect();
    assert_eq!(promised.offsets.get(&1), Some(&(300_000, 260_000)), "65 chunks of 4,000 bytes fit into 256 KiB");
    assert_eq!(parts, [260_000]);
    hold_to(&folder.0, &promised).await;
}

/// When the database itself cannot grow, the program says so, turns unhealthy, takes nothing, and loses nothing.
#[tokio::test]
async fn a_database_that_cannot_grow_says_so_and_loses_nothing() {
    let folder = Folder::new();
    let mut promised = Promised::default();
    // made without a limit: what is measured is the records' room, not that of the empty tables
    hold_to(&folder.0, &promised).await;
    let heard = listen(command_with_small_files(&folder.0, 1_024), &mut promised, |_| false);
    assert!(heard.iter().any(|line| line == "UNHEALTHY"), "{:?}", heard.last());
    assert!(promised.kept.len() > 2, "too little was kept to prove anything");
    let last = promised.refused.last().unwrap();
    assert!(last.contains("nothing is written any more") || last.contains("says no"), "{last}");
    let rows = hold_to(&folder.0, &promised).await;
    // with room again it goes on where it stopped
    let before = promised.kept.len();
    listen(command(&folder.0), &mut promised, |promised| promised.kept.len() > before + 2);
    assert!(hold_to(&folder.0, &promised).await > rows);
}
