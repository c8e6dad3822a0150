//! What was promised to somebody, and whether a shop that was opened again keeps it.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use tackbook::actions;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::Store;
use tackbook::store::vault::Item;

use crate::child::{open, photo};
use crate::kept::kept;
use crate::{cars, rounds};

/// What a child said it was promised, by the photograph's number.
#[derive(Debug, Default)]
pub(crate) struct Promised {
    /// Told of: its length.
    pub(crate) declared: BTreeMap<u64, usize>,
    /// Its length and the last offset.
    pub(crate) offsets: BTreeMap<u64, (usize, u64)>,
    /// Its length and the receipt's log entry.
    pub(crate) kept: BTreeMap<u64, (usize, i64)>,
    /// Rounds that were issued: the packet's SHA-256.
    pub(crate) issued: BTreeMap<u32, String>,
    /// Rounds whose reply was recorded.
    pub(crate) replied: BTreeSet<u32>,
    /// Cars that were loaded: their addresses.
    pub(crate) loaded: BTreeSet<String>,
    /// The files of cars that may have been.
    pub(crate) cars: Vec<Vec<u8>>,
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
            ["ISSUED", number, packet] => {
                self.issued.insert(number.parse().unwrap(), (*packet).to_owned());
            }
            ["REPLIED", number] => {
                self.replied.insert(number.parse().unwrap());
            }
            ["LOADED", slug] => {
                self.loaded.insert((*slug).to_owned());
            }
            ["REFUSED", ..] => self.refused.push(line.to_owned()),
            _ => {}
        }
    }
}

/// Opens the shop again; gives back how many photographs it has, and every promise that was broken.
pub(crate) async fn broken(folder: &Path, promised: &Promised) -> (usize, Vec<String>) {
    match Store::open(folder).await {
        Ok(store) => store.close().await,
        Err(refused) => return (0, vec![format!("the shop does not open: {refused}")]),
    }
    let (ctx, build) = open(folder).await;
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
        if kept(&ctx.store, Item::Photo(sha256.clone())).await.as_ref() != Some(&bytes) {
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
        let standing = actions::recorded::photos::standing(&ctx, build, &sha256).await.unwrap();
        // killed between the rename and the row, the whole file lies in its place already and is sent once more
        let placed = *offset == *length as u64 && kept(&ctx.store, Item::Photo(sha256)).await == Some(bytes);
        if standing.offset < *offset && !placed {
            broken.push(format!("{offset} bytes of photo {number} were promised, {} are there", standing.offset));
        }
    }
    broken.extend(rounds::broken(&ctx, build, promised).await);
    broken.extend(cars::broken(&ctx, promised).await);
    broken.extend(actions::shop::health::verify(&ctx.store).await.unwrap().bad);
    ctx.store.close().await;
    (photos.len(), broken)
}

/// Opens the shop again and holds it to every promise; gives back how many photographs it has.
pub(crate) async fn hold_to(folder: &Path, promised: &Promised) -> usize {
    let (photos, broken) = broken(folder, promised).await;
    assert!(broken.is_empty(), "{broken:#?}");
    photos
}
