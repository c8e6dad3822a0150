//! Calls that only read work beside a shop that is served, and touch nothing of it.

use std::collections::BTreeMap;
use std::io::{BufRead as _, BufReader, Read as _};
use std::path::Path;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::time::SystemTime;

use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::{Store, StoreError};

use crate::folder::Folder;
use crate::house::House;
use crate::reviews::issued;

/// A program that serves a folder, and what it says: it would end where nobody could hear it. It ends with its owner.
struct Serving {
    child: Child,
    _said: BufReader<ChildStdout>,
}

impl Serving {
    fn of(folder: &Path) -> Self {
        let mut program = Command::new(env!("CARGO_BIN_EXE_tackbook"));
        program.args(["serve", "--listen", "127.0.0.1:0", "--folder"]).arg(folder);
        let mut child = program.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
        let mut said = BufReader::new(child.stdout.take().unwrap());
        let open = said.by_ref().lines().any(|line| line.unwrap().starts_with("The shop is open at"));
        assert!(open);
        Self { child, _said: said }
    }

    /// Whether it still serves.
    fn on(&mut self) -> bool {
        self.child.try_wait().unwrap().is_none()
    }
}

impl Drop for Serving {
    fn drop(&mut self) {
        // one that ended by itself needs no ending
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Every file with its bytes and when it was written. What the engine shares in memory between programs is left aside, and
/// of the write-ahead log the time: the served shop cuts it to nothing when it likes.
fn as_it_lies(folder: &Path) -> BTreeMap<String, (String, SystemTime)> {
    let (mut found, mut folders) = (BTreeMap::new(), vec![folder.to_owned()]);
    while let Some(open) = folders.pop() {
        for entry in std::fs::read_dir(open).unwrap().map(|entry| entry.unwrap().path()) {
            if entry.is_dir() {
                folders.push(entry);
            } else if entry.extension().is_none_or(|ending| ending != "db-shm") {
                let bytes = Fingerprint::of(&std::fs::read(&entry).unwrap()).text().to_owned();
                let written = std::fs::metadata(&entry).unwrap().modified().unwrap();
                let log = entry.extension().is_some_and(|ending| ending == "db-wal");
                let written = if log { SystemTime::UNIX_EPOCH } else { written };
                found.insert(entry.display().to_string(), (bytes, written));
            }
        }
    }
    found
}

#[tokio::test]
async fn verify_builds_and_packet_work_beside_a_served_shop_and_write_nothing_there() {
    let house = House::new().await;
    issued(&house).await;
    house.store.close().await;
    let (shop, out) = (&house.folder.0, Folder::new());
    let mut serving = Serving::of(shop);
    let before = as_it_lies(shop);
    let pdf = out.0.join("round.pdf");
    let draft = out.0.join("draft.pdf");
    let (round_to, draft_to) = (pdf.to_str().unwrap(), draft.to_str().unwrap());
    for (call, told) in [
        (vec!["builds"], "pine-coupe"),
        (vec!["verify"], "All are as they were kept."),
        (vec!["packet", "pine-coupe", "--round", "1", "--out", round_to], "its signature, by the key SHA256:"),
        (vec!["packet", "pine-coupe", "--out", draft_to], "draft.pdf"),
    ] {
        let (call, more) = call.split_first().unwrap();
        let mut program = Command::new(env!("CARGO_BIN_EXE_tackbook"));
        let done = program.arg(call).args(more).arg("--folder").arg(shop).output().unwrap();
        let said = format!("{}{}", String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
        assert!(done.status.success() && said.contains(told), "{call}: {said}");
        assert_eq!(as_it_lies(shop), before, "{call}");
        assert!(serving.on(), "{call}");
    }
    crate::paper::check(&std::fs::read(draft).unwrap());
    let check = Command::new(env!("CARGO_BIN_EXE_tackbook")).arg("verify").arg(&pdf).output().unwrap();
    assert!(check.status.success(), "{}", String::from_utf8_lossy(&check.stdout));
    // a call that would write still waits its turn
    let mut program = Command::new(env!("CARGO_BIN_EXE_tackbook"));
    let refused = program.args(["person", "--folder"]).arg(shop).arg("list").output().unwrap();
    assert!(String::from_utf8_lossy(&refused.stderr).contains("already works in"));
    assert!(serving.on());
}

#[tokio::test]
async fn a_shop_opened_to_read_refuses_every_change() {
    let house = House::new().await;
    issued(&house).await;
    let beside = Store::open_beside(&house.folder.0).await.unwrap();
    assert_eq!(beside.builds().await.unwrap().len(), house.store.builds().await.unwrap().len());
    let said = beside.healthy().await;
    assert!(matches!(&said, Err(StoreError::NotKept(why)) if why.contains("another program works")), "{said:?}");
    // what the other one writes is seen
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Elm Saloon")]).await;
    assert!(beside.build_by_slug("elm-saloon").await.unwrap().is_some());
    beside.close().await;
    house.store.healthy().await.unwrap();
}
