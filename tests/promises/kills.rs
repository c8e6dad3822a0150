//! Killed at any moment, started again: whatever was promised is there, bit for bit.

use std::io::{BufRead as _, BufReader};
use std::time::Duration;

use tackbook::domain::words::fingerprint::Fingerprint;

use crate::child::{command, photo};
use crate::folder::Folder;
use crate::promised::{Promised, broken, hold_to};

#[tokio::test]
async fn whatever_was_acknowledged_before_a_kill_is_there_after_it() {
    let folder = Folder::new();
    let mut promised = Promised::default();
    let mut rows = 0;
    for round in 0_u64..10 {
        let mut child = command(&folder.0).spawn().unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
        assert!(lines.any(|line| line == "OPEN"), "the shop did not open again after {round} kills");
        // Killed after so many acknowledged steps and a moment more, so that a slow machine tries the same as a fast one
        // and no two kills fall into the same place.
        let steps = 14 + usize::try_from(round * 7 % 23).unwrap();
        let mut heard: Vec<String> = lines.by_ref().filter(|line| !line.is_empty()).take(steps).collect();
        std::thread::sleep(Duration::from_micros(round * 700 % 4_000));
        child.kill().unwrap();
        child.wait().unwrap();
        heard.extend(lines);
        for line in heard {
            promised.hear(&line);
        }
        let now = hold_to(&folder.0, &promised).await;
        assert!(now >= rows, "rows went away: {rows}, then {now}");
        rows = now;
    }
    assert!(promised.kept.len() >= 10, "too little was kept to prove anything: {}", promised.kept.len());
    assert!(promised.refused.is_empty(), "{:?}", promised.refused);
}

/// The test of the test: what is lost must be found.
#[tokio::test]
async fn a_lost_photo_and_a_forgotten_one_would_be_noticed() {
    let folder = Folder::new();
    let mut child = command(&folder.0).spawn().unwrap();
    let mut promised = Promised::default();
    for line in BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok) {
        promised.hear(&line);
        if promised.kept.len() == 2 {
            break;
        }
    }
    child.kill().unwrap();
    child.wait().unwrap();
    hold_to(&folder.0, &promised).await;
    let (number, (length, _)) = promised.kept.first_key_value().unwrap();
    let name = Fingerprint::of(&photo(*number, *length)).text().to_owned();
    let file = folder.0.join("photos").join(name.get(..2).unwrap()).join(&name);
    std::fs::remove_file(file).unwrap();
    promised.declared.insert(98, 9_000);
    let (_, found) = broken(&folder.0, &promised).await;
    assert!(found.iter().any(|said| said.contains("photo 98 was told of")), "{found:?}");
    assert!(found.iter().any(|said| said.contains(&name) && said.contains("missing")), "{found:?}");
    assert!(found.iter().any(|said| said.contains("were kept and are not there")), "{found:?}");
}
