//! A folder whose records are gone is no new shop: every call says what it found and what to do, and changes nothing.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Output};

use sqlx::Connection as _;
use tackbook::store::Store;

use crate::camera::{Phone, jpeg};
use crate::damage::{gone, put};
use crate::folder::Folder;
use crate::house::House;

fn call(arguments: &[&str]) -> (Option<i32>, String) {
    let done = Command::new("timeout").arg("60").arg(env!("CARGO_BIN_EXE_tackbook")).args(arguments).output();
    let Output { status, stdout, stderr } = done.unwrap();
    (status.code(), format!("{}{}", String::from_utf8_lossy(&stdout), String::from_utf8_lossy(&stderr)))
}

/// Every call that is told a shop's folder, but for the two that make one.
fn calls<'a>(folder: &'a str, other: &'a str) -> Vec<Vec<&'a str>> {
    vec![
        vec!["backup", "--folder", folder, "--to", other],
        vec!["verify", "--folder", folder],
        vec!["builds", "--folder", folder],
        vec!["packet", "--folder", folder, "pine-coupe", "--out", other],
        vec!["person", "--folder", folder, "list"],
        vec!["keys", "save", "--folder", folder, "--out", other],
    ]
}

/// The two that make a shop where there is none.
fn making(folder: &str) -> [Vec<&str>; 2] {
    [["serve", "--listen", "127.0.0.1:0", "--folder", folder], ["demo", "--listen", "127.0.0.1:0", "--folder", folder]]
        .map(Vec::from)
}

/// The bytes of every file under a folder, and the folders themselves.
fn as_it_lies(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let (mut found, mut folders) = (BTreeMap::new(), vec![folder.to_owned()]);
    while let Some(open) = folders.pop() {
        for entry in std::fs::read_dir(&open).unwrap().map(|entry| entry.unwrap().path()) {
            let bytes = if entry.is_dir() { Vec::new() } else { std::fs::read(&entry).unwrap() };
            if entry.is_dir() {
                folders.push(entry.clone());
            }
            found.insert(entry.display().to_string(), bytes);
        }
    }
    found
}

/// A shop with a photograph that was closed.
async fn shop() -> House {
    let house = House::new().await;
    Phone::new(&house).await.keep(&jpeg(1), "").await;
    house.store.close().await;
    house
}

/// Every call refuses a folder with these words, and leaves it as it lies.
fn refused(folder: &Path, words: &[&str]) {
    let other = Folder::new();
    let out = other.0.join("out");
    let (named, before) = (folder.to_str().unwrap(), as_it_lies(folder));
    for call_of in calls(named, out.to_str().unwrap()).into_iter().chain(making(named)) {
        let (code, said) = call(&call_of);
        assert_eq!(code, Some(2), "{call_of:?}: {said}");
        for words in words {
            assert!(said.contains(words), "{call_of:?}: {words}: {said}");
        }
        assert!(as_it_lies(folder) == before, "{call_of:?} changed something");
        assert!(!out.exists(), "{call_of:?} wrote something");
    }
}

#[tokio::test]
async fn a_folder_whose_records_are_gone_is_never_taken_for_a_new_shop() {
    let house = shop().await;
    let records = house.folder.0.join("tackbook.db");
    let bytes = std::fs::read(&records).unwrap();
    gone(&records);
    let words = ["has no records", "1 photograph", "tackbook restore --from BACKUPS"];
    refused(&house.folder.0, &words);
    // nor one whose records are empty
    put(&records, b"");
    refused(&house.folder.0, &words);
    put(&records, &bytes);
    let (code, said) = call(&["verify", "--folder", house.folder.0.to_str().unwrap()]);
    assert_eq!(code, Some(0), "{said}");
}

#[tokio::test]
async fn records_that_were_never_written_to_beside_photographs_are_not_opened_as_a_new_shop() {
    let house = shop().await;
    let records = house.folder.0.join("tackbook.db");
    gone(&records);
    // a database without a table, as SQLite makes it: one page of 4,096 bytes
    let address = format!("sqlite://{}?mode=rwc", records.display());
    let mut empty = sqlx::SqliteConnection::connect(&address).await.unwrap();
    sqlx::query("PRAGMA user_version = 1").execute(&mut empty).await.unwrap();
    empty.close().await.unwrap();
    assert!(std::fs::metadata(&records).unwrap().len() > 0);
    for call_of in making(house.folder.0.to_str().unwrap()) {
        let (code, said) = call(&call_of);
        assert_eq!(code, Some(2), "{said}");
        assert!(said.contains("1 photograph"), "{said}");
    }
}

#[tokio::test]
async fn a_key_packets_and_copies_of_records_alone_are_what_is_left_of_a_shop() {
    for (name, words) in [
        ("keys/packets_ed25519", "the key that packets are signed by"),
        ("packets/one.pdf", "1 packet"),
        ("mails/one", "1 mails that came with replies"),
        ("tackbook-form-0090-abc.db", "records as they were before a newer program"),
        ("tackbook.db-wal", "the newest entries of its records"),
        ("last-backup.json", "the last one was made into /mnt/other"),
        ("arriving/one.part", "1 parts of files on their way"),
    ] {
        let folder = Folder::new();
        let place = folder.0.join(name);
        std::fs::create_dir_all(place.parent().unwrap()).unwrap();
        put(&place, br#"{"to":"/mnt/other"}"#);
        refused(&folder.0, &[words]);
    }
}

#[test]
fn a_folder_of_other_things_or_a_mistyped_one_is_no_shop_and_none_is_made_by_a_call_that_reads() {
    let folder = Folder::new();
    put(&folder.0.join("notes.txt"), b"bread, milk");
    refused(&folder.0, &["is not empty: there is notes.txt"]);
    let (empty, other) = (Folder::new(), Folder::new());
    let absent = empty.0.join("shp");
    let out = other.0.join("out");
    for (named, words) in [(&absent, "There is no folder"), (&empty.0, "nothing lies there")] {
        for call_of in calls(named.to_str().unwrap(), out.to_str().unwrap()) {
            let (code, said) = call(&call_of);
            assert_eq!(code, Some(2), "{call_of:?}: {said}");
            assert!(said.contains(words) && said.contains("Look at the name"), "{said}");
            assert!(
                !absent.exists() && std::fs::read_dir(&empty.0).unwrap().count() == 0,
                "{call_of:?} made something"
            );
        }
    }
}

#[tokio::test]
async fn a_new_shop_is_made_in_an_empty_folder_and_in_one_that_was_left_while_it_was_made() {
    let folder = Folder::new();
    // a power cut between the folders and the records; a certificate that was made before; a disk's own folder
    for name in ["photos", "views", "packets", "arriving", "aside", "keys", "lost+found"] {
        std::fs::create_dir(folder.0.join(name)).unwrap();
    }
    put(&folder.0.join("lock"), b"");
    put(&folder.0.join("tackbook.db"), b"");
    put(&folder.0.join("keys/certificate.json"), b"{}");
    let store = Store::open(&folder.0).await.unwrap();
    store.healthy().await.unwrap();
    store.close().await;
    let absent = folder.0.join("another/shop");
    Store::open(&absent).await.unwrap().close().await;
}

#[tokio::test]
async fn a_folder_of_backups_is_no_shop_and_is_told_as_what_it_is() {
    let (house, to) = (shop().await, Folder::new());
    let (shop, backups) = (house.folder.0.to_str().unwrap(), to.0.to_str().unwrap());
    let (code, said) = call(&["backup", "--folder", shop, "--to", backups]);
    assert_eq!(code, Some(0), "{said}");
    refused(&to.0, &["is a folder of backups and no shop's", "tackbook restore --from"]);
    // and no backup is made into a shop
    let other = self::shop().await;
    let before = as_it_lies(&other.folder.0);
    let (code, said) = call(&["backup", "--folder", shop, "--to", other.folder.0.to_str().unwrap()]);
    assert!(code == Some(2) && said.contains("is a shop's folder"), "{said}");
    assert!(as_it_lies(&other.folder.0) == before);
}

#[tokio::test]
async fn a_backup_of_fewer_photographs_than_the_last_warns_and_the_last_is_kept_for_good() {
    let (house, to) = (shop().await, Folder::new());
    let (shop, backups) = (house.folder.0.to_str().unwrap(), to.0.to_str().unwrap());
    let backup = |shop: &str| call(&["backup", "--folder", shop, "--to", backups]);
    let lists = || -> Vec<String> {
        let names = std::fs::read_dir(&to.0).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
        let mut lists: Vec<String> = names.filter(|name| name.starts_with("backup-")).collect();
        lists.sort();
        lists
    };
    let (code, said) = backup(shop);
    assert!(code == Some(0) && !said.contains("is kept"), "{said}");
    let full = lists().remove(0);
    // a new, empty shop in place of the old one
    let new = House::new().await;
    new.store.close().await;
    std::thread::sleep(std::time::Duration::from_millis(1_100));
    let (code, said) = backup(new.folder.0.to_str().unwrap());
    assert_eq!(code, Some(1), "{said}");
    assert!(said.contains("1 photographs or packets of the backup before are not in this one"), "{said}");
    assert!(said.contains(&format!("--of {full}")), "{said}");
    // however many follow: lists of other nights are put there, as so many calls would have made them
    let last = lists().pop().unwrap();
    let text = std::fs::read_to_string(to.0.join(&last)).unwrap();
    for night in 10..30 {
        let name = format!("backup-2099-01-{night}T020000Z.json");
        put(&to.0.join(name), text.as_bytes());
    }
    let (code, said) = backup(new.folder.0.to_str().unwrap());
    assert_eq!(code, Some(0), "{said}");
    let left = lists();
    assert!(left.contains(&full) && left.len() < 20, "{left:?}");
    let restored = Folder::new();
    let to_folder = restored.0.join("shop");
    let args = ["restore", "--from", backups, "--of", &full, "--folder", to_folder.to_str().unwrap()];
    let (code, said) = call(&args);
    assert!(code == Some(0) && said.contains("1 photographs"), "{said}");
}
