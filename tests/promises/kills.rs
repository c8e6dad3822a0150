//! Killed at any moment, started again: whatever was promised is there, bit for bit.

use std::collections::BTreeMap;
use std::io::{BufRead as _, BufReader};
use std::path::Path;
use std::time::Duration;

use tackbook::actions;
use tackbook::domain::fingerprint::Fingerprint;

use crate::child::{command, open, photo};
use crate::folder::Folder;

/// What a child said it was promised, by the photograph's number.
#[derive(Debug, Default)]
pub(crate) struct Promised {
    /// Told of: its length.
    pub(crate) declared: BTreeMap<u64, usize>,
    /// Its length and the last offset.
    pub(crate) offsets: BTreeMap<u64, (usize, u64)>,
    /// Its length and the receipt's log entry.
    pub(crate) kept: BTreeMap<u64, (usize, i64)>,
    /// What was refused, in words.
    pub(crate) refused: Vec<String>,
}

impl Promised {
    /// Takes up a line; half a line was never said.
    pub(crate) fn hear(&mut self, line: &str) {
        let words: Vec<&str> = line.split_whitespace().collect();
        match words.as_slice() {
            ["DECLARED", number, length] => {
                self.declared.insert(number.parse().unwrap(), length.parse().unwrap());
            }
            ["OFFSET", number, length, offset] => {
                self.offsets.insert(number.parse().unwrap(), (length.parse().unwrap(), offset.parse().unwrap()));
            }
            ["KEPT", number, length, entry] => {
                self.kept.insert(number.parse().unwrap(), (length.parse().unwrap(), entry.parse().unwrap()));
            }
            ["REFUSED", ..] => self.refused.push(line.to_owned()),
            _ => {}
        }
    }
}

/// Opens the shop again; gives back how many photographs it has, and every promise that was broken.
pub(crate) async fn broken(folder: &Path, promised: &Promised) -> (usize, Vec<String>) {
    let (ctx, build) = open(folder).await;
    let vault = ctx.store.vault();
    let photos = ctx.store.photos(build).await.unwrap();
    let mut broken = Vec::new();
    for (number, length) in &promised.declared {
        let sha256 = Fingerprint::of(&photo(*number, *length));
        if !photos.iter().any(|photo| photo.sha256 == sha256) {
            broken.push(format!("photo {number} was told of and is forgotten"));
        }
    }
    for (number, (length, entry)) in &promised.kept {
        let bytes = photo(*number, *length);
        let sha256 = Fingerprint::of(&bytes);
        if !vault.read(&sha256).await.is_ok_and(|kept| kept == bytes) {
            broken.push(format!("the bytes of photo {number} were kept and are not there"));
        }
        let received = photos.iter().find(|photo| photo.sha256 == sha256).and_then(|photo| photo.received.as_ref());
        if received.map(|received| received.entry) != Some(*entry) {
            broken.push(format!("the receipt of photo {number} is another: {received:?}"));
        }
    }
    for (number, (length, offset)) in promised.offsets.iter().filter(|(number, _)| !promised.kept.contains_key(number))
    {
        let bytes = photo(*number, *length);
        let sha256 = Fingerprint::of(&bytes);
        let standing = actions::photos::standing(&ctx, build, &sha256).await.unwrap();
        // killed between the rename and the row, the whole file lies in its place already and is sent once more
        let placed = *offset == *length as u64 && vault.read(&sha256).await.is_ok_and(|kept| kept == bytes);
        if standing.offset < *offset && !placed {
            broken.push(format!("{offset} bytes of photo {number} were promised, {} are there", standing.offset));
        }
    }
    broken.extend(actions::health::verify(&ctx.store).await.unwrap().bad);
    ctx.store.close().await;
    (photos.len(), broken)
}

/// Opens the shop again and holds it to every promise; gives back how many photographs it has.
pub(crate) async fn hold_to(folder: &Path, promised: &Promised) -> usize {
    let (photos, broken) = broken(folder, promised).await;
    assert!(broken.is_empty(), "{broken:#?}");
    photos
}

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
