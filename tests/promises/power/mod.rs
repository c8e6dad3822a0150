//! The power cut after any single thing the program does to its disk: whatever it promised before is there after it.
//!
//! The process runs once under a recorder; the disk is then replayed up to a cut, in three models of what a disk loses
//! (the idea of SQLite's own crash tests, sqlite.org/testing.html), and the shop is opened on what is left.

mod disk;
mod notes;

use std::process::{Command, Stdio};

use disk::{Disk, Leaves};
use notes::Note;

use crate::folder::Folder;
use crate::promised::{Promised, broken};

/// A disk after each of these cuts, with what was promised until then: every broken promise.
async fn broken_after(notes: &[Note], cuts: &[(usize, Leaves)]) -> Vec<String> {
    broken_of(notes, cuts, Promised::default()).await
}

/// The same where something is known beside what the process says.
async fn broken_of(notes: &[Note], cuts: &[(usize, Leaves)], mut promised: Promised) -> Vec<String> {
    let mut all = Vec::new();
    let (mut disk, mut done) = (Disk::default(), 0);
    for (cut, leaves) in cuts {
        for note in &notes[done..*cut] {
            disk.take(note);
            if let Note::Said { words } = note {
                words.lines().for_each(|line| promised.hear(line));
            }
        }
        done = *cut;
        let folder = Folder::new();
        disk.found_in(&folder.0, *leaves);
        let (_, found) = broken(&folder.0, &promised).await;
        all.extend(found.into_iter().map(|said| format!("cut after {cut}, {leaves:?}: {said}")));
    }
    all
}

/// Cuts in order: right after each receipt, and so many at any place, each in the three models.
fn cuts(notes: &[Note], many: usize) -> Vec<(usize, Leaves)> {
    let receipts = notes.iter().enumerate().filter_map(|(at, note)| match note {
        Note::Said { words } if words.contains("KEPT ") => Some(at + 1),
        _ => None,
    });
    // the golden section spreads any number of places evenly, and never twice over the same
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "a place")]
    let anywhere = (1..=many).map(|at| ((at as f64 * 0.618_033_988_75).fract() * notes.len() as f64) as usize);
    let mut places: Vec<usize> = receipts.chain(anywhere).collect();
    places.sort_unstable();
    places.dedup();
    let models = |at: usize| [Leaves::Nothing, Leaves::Some(at as u64), Leaves::All].map(|leaves| (at, leaves));
    places.into_iter().flat_map(models).collect()
}

#[tokio::test]
async fn promise_1_whatever_was_acknowledged_before_a_power_cut_is_there_after_it() {
    let notes = notes::of_keeping(20);
    let cuts = cuts(&notes, 30);
    let found = broken_after(&notes, &cuts).await;
    assert!(found.is_empty(), "{} notes, {} cuts: {found:#?}", notes.len(), cuts.len());

    // and the program itself, as somebody calls it in the morning
    for at in [notes.len() / 3, notes.len()] {
        let (mut disk, folder) = (Disk::default(), Folder::new());
        notes[..at].iter().for_each(|note| disk.take(note));
        disk.found_in(&folder.0, Leaves::Nothing);
        let mut call = Command::new(env!("CARGO_BIN_EXE_tackbook"));
        let said = call.args(["verify", "--folder"]).arg(&folder.0).stderr(Stdio::piped()).output().unwrap();
        assert!(
            said.status.success(),
            "{}{}",
            String::from_utf8_lossy(&said.stdout),
            String::from_utf8_lossy(&said.stderr)
        );
    }
}

/// Each place between two words that the process said: whatever is written there is cut after.
fn between(notes: &[Note], from: &str, to: &str) -> Vec<(usize, Leaves)> {
    let said =
        |of: &str| notes.iter().position(|note| matches!(note, Note::Said { words } if words.contains(of))).unwrap();
    let models = |at: usize| [Leaves::Nothing, Leaves::Some(at as u64), Leaves::All].map(|leaves| (at, leaves));
    (said(from)..=said(to) + 1).flat_map(models).collect()
}

#[tokio::test]
async fn never_half_a_round_is_found_after_a_power_cut_at_any_write_of_issuing_it() {
    let notes = notes::of_issuing(2);
    // the first makes the key, too; of the second everything is there already
    for (from, to) in [("OPEN", "ISSUED 1 "), ("REPLIED 1", "ISSUED 2 ")] {
        let cuts = between(&notes, from, to);
        assert!(cuts.len() > 30, "{}", cuts.len());
        let found = broken_after(&notes, &cuts).await;
        assert!(found.is_empty(), "{} cuts: {found:#?}", cuts.len());
    }
}

#[tokio::test]
async fn never_half_a_reply_is_found_after_a_power_cut_at_any_write_of_recording_it() {
    let notes = notes::of_issuing(1);
    let cuts = between(&notes, "ISSUED 1 ", "REPLIED 1");
    assert!(cuts.len() > 6, "{}", cuts.len());
    let found = broken_after(&notes, &cuts).await;
    assert!(found.is_empty(), "{} cuts: {found:#?}", cuts.len());
}

/// A car that was loaded is there as a whole, and one that was not, not at all; a whole one saved again is its file.
#[tokio::test]
async fn never_half_a_car_is_found_after_a_power_cut_at_any_write_of_loading_it() {
    let elsewhere = Folder::new();
    let car = elsewhere.0.join("car.zip");
    crate::cars::car(&car).await;
    let notes = notes::of_loading(&car);
    let cars = || vec![std::fs::read(&car).unwrap()];
    // at each write one of the three models, by turns: a car is many writes
    let by_turns = |(at, (cut, leaves)): (usize, (usize, Leaves))| (at % 3 == cut % 3).then_some((cut, leaves));
    let cuts: Vec<_> = between(&notes, "OPEN", "LOADED ").into_iter().enumerate().filter_map(by_turns).collect();
    assert!(cuts.len() > 30, "{}", cuts.len());
    let found = broken_of(&notes, &cuts, Promised { cars: cars(), ..Promised::default() }).await;
    assert!(found.is_empty(), "{} cuts: {found:#?}", cuts.len());
    println!("{} cuts while a car was loaded", cuts.len());
    // the test of the test: what was placed and not synced is found missing
    let in_photos = |name: &std::path::Path| name.starts_with("photos") || name.starts_with("arriving");
    let kept: Vec<Note> =
        notes.iter().filter(|note| !matches!(note, Note::Synced { name, .. } if in_photos(name))).cloned().collect();
    assert!(kept.len() < notes.len());
    let promised = Promised { cars: cars(), ..Promised::default() };
    assert!(!broken_of(&kept, &[(kept.len(), Leaves::Nothing)], promised).await.is_empty());
}

/// The test of these tests: a packet that was not synced, or whose name was not, is found to be half a round.
#[tokio::test]
async fn a_packet_that_is_not_synced_would_be_noticed() {
    let notes = notes::of_issuing(1);
    let of_packet = |name: &std::path::Path| name.starts_with("packets") || name.starts_with("arriving");
    let left_out: [(&str, LeftOut<'_>); 2] = [
        ("its bytes", &|note| matches!(note, Note::Synced { name, .. } if of_packet(name))),
        ("its name", &|note| matches!(note, Note::FolderSynced { name } if of_packet(name))),
    ];
    for (what, left_out) in left_out {
        let kept: Vec<Note> = notes.iter().filter(|note| !left_out(note)).cloned().collect();
        assert!(kept.len() < notes.len(), "{what}: there is no such sync");
        let found = broken_after(&kept, &[(kept.len(), Leaves::Nothing)]).await;
        assert!(!found.is_empty(), "{what} was not synced, and nothing was found");
    }
}

/// Whether a note is one of those left out.
type LeftOut<'a> = &'a dyn Fn(&Note) -> bool;

/// The test of the test: where a sync is left out, a promise is found broken.
#[tokio::test]
async fn a_sync_that_is_left_out_would_be_noticed() {
    let notes = notes::of_keeping(4);
    let in_photos = |name: &std::path::Path| name.starts_with("photos") || name.starts_with("arriving");
    let wal = |name: &std::path::Path| name.as_os_str() == "tackbook.db-wal";
    let left_out: [(&str, LeftOut<'_>); 3] = [
        ("a photograph's bytes", &|note| matches!(note, Note::Synced { name, .. } if in_photos(name))),
        ("a photograph's name", &|note| matches!(note, Note::FolderSynced { name } if in_photos(name))),
        ("the log of the database", &|note| matches!(note, Note::Synced { name, .. } if wal(name))),
    ];
    for (what, left_out) in left_out {
        let kept: Vec<Note> = notes.iter().filter(|note| !left_out(note)).cloned().collect();
        assert!(kept.len() < notes.len(), "{what}: there is no such sync");
        let found = broken_after(&kept, &[(kept.len(), Leaves::Nothing)]).await;
        assert!(!found.is_empty(), "{what} was not synced, and nothing was found");
    }
}
