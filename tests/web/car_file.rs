//! Cars' files: a build saved by one shop, loaded by another, saved again to the same bytes; and every kind of file that is
//! none, or not whole, which changes nothing.
#![expect(clippy::indexing_slicing, clippy::panic, reason = "a test may stop")]

use std::io::{Cursor, Read as _};
use std::path::Path;
use std::process::Command;

use axum::body::Body;
use axum::http::{StatusCode, header};
use jiff::Timestamp;
use serde_json::{Value, json};
use ssh_key::private::{Ed25519Keypair, KeypairData};
use ssh_key::{HashAlg, LineEnding, PrivateKey};
use tackbook::actions::shop::car_file::look_through;
use tackbook::actions::shop::signing::fingerprint;
use tackbook::actions::{self, ActionError};
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::recorded::notes::NewNote;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;
use tackbook::store::car_file::{Ready, Writing};

use crate::house::{Answer, House};
use crate::reviews::issued;

const ZIP: &str = "/builds/pine-coupe/car.zip";

/// The file of the build at an address, as the office saves it.
async fn saved(house: &House, address: &str) -> Vec<u8> {
    let got = house.browser("office").await.get(address).await;
    assert_eq!(got.status, StatusCode::OK, "{}", got.text);
    assert_eq!(got.header("content-length"), got.bytes.len().to_string());
    got.bytes
}

/// Puts a file into the form of a shop.
async fn load(house: &House, bytes: &[u8]) -> Answer {
    let office = house.browser("office").await;
    let mut body = b"--part\r\nContent-Disposition: form-data; name=\"file\"; filename=\"car.zip\"\r\n\r\n".to_vec();
    body.extend_from_slice(bytes);
    body.extend_from_slice(b"\r\n--part--\r\n");
    let request = office.request("POST", "/cars/load").header("sec-fetch-site", "same-origin");
    let request = request.header(header::CONTENT_TYPE, "multipart/form-data; boundary=part");
    house.ask(request.body(Body::from(body)).unwrap()).await
}

/// The things in a file, in their order, as a library of others reads them.
fn things(bytes: &[u8]) -> Vec<(String, Vec<u8>)> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut things = Vec::new();
    for at in 0..archive.len() {
        let mut thing = archive.by_index(at).unwrap();
        let mut content = Vec::new();
        thing.read_to_end(&mut content).unwrap();
        things.push((thing.name().unwrap().into_owned(), content));
    }
    things
}

fn thing<'t>(things: &'t [(String, Vec<u8>)], name: &str) -> &'t [u8] {
    &things.iter().find(|(one, _)| one == name).unwrap_or_else(|| panic!("no {name}")).1
}

/// Two shops, the first with a build of which a round is out.
async fn two_shops() -> (House, House, BuildId) {
    let (from, to) = (House::new().await, House::new().await);
    let build = issued(&from).await;
    (from, to, build)
}

/// What a shop has: its log but for who signed in, its files, its builds.
async fn all_of(house: &House) -> (usize, Vec<String>, usize) {
    let mut files = Vec::new();
    let mut folders = vec![house.folder.0.clone()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
            if entry.is_dir() {
                folders.push(entry);
            } else if !entry.to_string_lossy().contains("tackbook.db") {
                files.push(entry.display().to_string());
            }
        }
    }
    files.sort();
    let log = house.store.log(10_000).await.unwrap();
    let entries = log.iter().filter(|entry| entry.room != "people").count();
    (entries, files, house.store.builds().await.unwrap().len())
}

#[tokio::test]
async fn a_car_saved_loaded_elsewhere_and_saved_again_is_the_same_file_and_stands_as_it_did() {
    let (from, to, build) = two_shops().await;
    let first = saved(&from, ZIP).await;
    assert_eq!(first, saved(&from, ZIP).await, "saving twice");
    let loaded = load(&to, &first).await;
    assert_eq!(
        (loaded.status, loaded.to.as_str()),
        (StatusCode::SEE_OTHER, "/builds/pine-coupe/car-file"),
        "{}",
        loaded.text
    );
    assert_eq!(saved(&to, ZIP).await, first);
    let third = House::new().await;
    assert_eq!(load(&third, &saved(&to, ZIP).await).await.status, StatusCode::SEE_OTHER);
    assert_eq!(saved(&third, ZIP).await, first, "from hand to hand");
    // the hold, the verdicts and what changed since the round are what they were
    let found = |facts: &_| Findings::of(facts, from.clock.today());
    let (here, there) = (from.store.facts(build).await.unwrap(), to.store.facts(build).await.unwrap());
    let (was, is) = (found(&here), found(&there));
    assert_eq!(is.describe_hold(), was.describe_hold());
    assert_eq!(is.worked.verdicts, was.worked.verdicts);
    assert_eq!(is.changes, was.changes);
    // everything kept is as it was kept
    let report = actions::shop::health::verify(&to.store).await.unwrap();
    assert!(report.good() && report.photos == 1 && report.packets == 1, "{:?}", report.bad);
    let sheets = ["", "/photos", "/rounds", "/verdicts", "/log", "/cage", "/welds", "/kit", "/tube"];
    let office = to.browser("office").await;
    for sheet in sheets {
        let got = office.get(&format!("/builds/pine-coupe{sheet}")).await;
        assert_eq!(got.status, StatusCode::OK, "{sheet}: {}", got.text);
    }
    // who signed it is said, and that nothing in it was seen here
    let key = fingerprint(&from.store.signing_keys().await.unwrap()[0].public);
    let sheet = office.get("/builds/pine-coupe/car-file").await.text;
    assert!(sheet.contains(&key) && sheet.contains("Nothing in it was seen here"), "{sheet}");
    assert!(!from.browser("office").await.get("/builds/pine-coupe/car-file").await.text.contains("came with its file"));
    let logged = to.store.log(10_000).await.unwrap();
    let told = |entry: &tackbook::store::recorded::build_log::LogEntry| {
        entry.build.is_none() && entry.what.contains("came with a car's file") && entry.what.contains(&key)
    };
    assert_eq!(logged.iter().filter(|entry| told(entry)).count(), 1);
    // its packet is signed by the shop that issued it
    let signature = office.get("/builds/pine-coupe/rounds/1/packet.pdf.sig").await;
    assert_eq!(signature.bytes, thing(&things(&first), "rounds/1/packet.pdf.sig"));
}

#[tokio::test]
async fn what_is_in_a_cars_file_is_what_it_says_and_others_read_it() {
    let (from, _, _) = two_shops().await;
    let bytes = saved(&from, ZIP).await;
    let things = things(&bytes);
    let names: Vec<&str> = things.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names[..2], ["manifest.json", "manifest.json.sig"]);
    for name in ["build.json", "book.toml", "records.json", "log.json", "rounds/1/contents.json", "rounds/1/packet.pdf"]
    {
        assert!(names.contains(&name), "{names:?}");
    }
    let list: Value = serde_json::from_slice(thing(&things, "manifest.json")).unwrap();
    let listed = list["files"].as_array().unwrap();
    assert_eq!(listed.len(), things.len() - 2);
    for (file, (name, content)) in listed.iter().zip(&things[2..]) {
        assert_eq!(file["path"], name.as_str());
        assert_eq!(file["size"], content.len());
        assert_eq!(file["sha256"], Fingerprint::of(content).text());
    }
    assert!(names.iter().any(|name| name.starts_with("photos/") && name.ends_with(".jpg")));
    // the build file in it is judged without a shop
    let folder = crate::folder::Folder::new();
    put(&folder.0.join("build.json"), thing(&things, "build.json"));
    put(&folder.0.join("book.toml"), thing(&things, "book.toml"));
    let judged = program(&folder.0, &["judge", "--book", "book.toml", "--build", "build.json", "--day", "2026-05-04"]);
    assert!(judged.1.contains("approves nothing"), "{}", judged.1);
    // no secret of the shop is in it
    let private = std::fs::read(from.folder.0.join("keys/packets_ed25519")).unwrap();
    let secret = private.split(|byte| *byte == b'\n').nth(2).unwrap();
    assert!(!bytes.windows(secret.len()).any(|part| part == secret));
    assert!(!String::from_utf8_lossy(&bytes).contains("argon2"));
}

#[expect(clippy::disallowed_methods, reason = "a test writes only to its own folder")]
fn put(file: &Path, bytes: &[u8]) {
    std::fs::write(file, bytes).unwrap();
}

fn program(folder: &Path, words: &[&str]) -> (Option<i32>, String) {
    let done = Command::new(env!("CARGO_BIN_EXE_tackbook")).args(words).current_dir(folder).output().unwrap();
    let said = format!("{}{}", String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
    (done.status.code(), said)
}

#[tokio::test]
async fn the_calls_save_beside_a_served_shop_load_and_verify() {
    let (from, to, _) = two_shops().await;
    let folder = crate::folder::Folder::new();
    let (here, there) = (from.folder.0.to_str().unwrap().to_owned(), to.folder.0.to_str().unwrap().to_owned());
    let save = ["save", "--folder", &here, "pine-coupe", "--out", "car.zip"];
    let (code, said) = program(&folder.0, &save);
    assert!(code == Some(0) && said.contains("1 photographs, 1 rounds"), "{said}");
    assert_eq!(std::fs::read(folder.0.join("car.zip")).unwrap(), saved(&from, ZIP).await);
    assert!(!folder.0.join("car.zip.part").exists());
    let public = from.store.signing_keys().await.unwrap()[0].public.clone();
    put(&folder.0.join("key"), public.as_bytes());
    let (code, said) = program(&folder.0, &["verify", "car.zip", "--key", "key"]);
    assert!(
        code == Some(0) && said.contains("unaltered since it was signed") && said.contains("one of those"),
        "{said}"
    );
    let other = PrivateKey::from(Ed25519Keypair::from_seed(&[9; 32])).public_key().to_openssh().unwrap();
    put(&folder.0.join("other"), other.as_bytes());
    let (code, said) = program(&folder.0, &["verify", "car.zip", "--key", "other"]);
    assert!(code == Some(1) && said.contains("NONE of those"), "{said}");
    // while the other shop is open, loading says so; afterwards it is done
    let (code, said) = program(&folder.0, &["load", "--folder", &there, "car.zip"]);
    assert!(code != Some(0) && said.contains("Another Tackbook already works"), "{said}");
    to.store.close().await;
    let (code, said) = program(&folder.0, &["load", "--folder", &there, "car.zip"]);
    assert!(code == Some(0) && said.contains("/builds/pine-coupe"), "{said}");
    let (code, said) = program(&folder.0, &["load", "--folder", &there, "car.zip"]);
    assert!(code == Some(1) && said.contains("in the shop already"), "{said}");
    let (code, said) = program(&folder.0, &["save", "--folder", &there, "pine-coupe", "--out", "again.zip"]);
    assert_eq!(code, Some(0), "{said}");
    assert_eq!(std::fs::read(folder.0.join("again.zip")).unwrap(), std::fs::read(folder.0.join("car.zip")).unwrap());
    let (code, said) = program(&folder.0, &["verify", "--folder", &there]);
    assert!(code == Some(0) && said.contains("All are as they were kept"), "{said}");
}

#[tokio::test]
async fn a_car_goes_on_being_recorded_where_it_was_loaded_and_what_is_like_its_own_there_stays_apart() {
    let (from, to, build) = two_shops().await;
    let first = saved(&from, ZIP).await;
    // another car of the same address, and a book of the same name with another text
    crate::main_job::begun(&to).await;
    let loaded = load(&to, &first).await;
    assert_eq!(loaded.to, "/builds/pine-coupe-2/car-file", "{}", loaded.text);
    assert_eq!(saved(&to, "/builds/pine-coupe-2/car.zip").await, first);
    let (was, is) = (from.store.facts(build).await.unwrap(), to.store.facts(build).await.unwrap());
    let today = from.clock.today();
    assert_eq!(Findings::of(&is, today).changes, Findings::of(&was, today).changes);
    assert_eq!(to.store.books().await.unwrap().len(), 1, "the book that came is the car's");
    // work goes on
    let note = NewNote { text: "The door bar was straightened.".to_owned(), ..new_note() };
    actions::recorded::notes::add(&to.office, build, note).await.unwrap();
    let second = saved(&to, "/builds/pine-coupe-2/car.zip").await;
    assert_ne!(second, first);
    let third = House::new().await;
    assert_eq!(load(&third, &second).await.status, StatusCode::SEE_OTHER);
    assert_eq!(saved(&third, ZIP).await, second);
    assert_eq!(third.store.facts(build).await.unwrap().notes.len(), 1);
    let key = fingerprint(&to.store.signing_keys().await.unwrap()[0].public);
    assert!(third.browser("office").await.get("/builds/pine-coupe/car-file").await.text.contains(&key));
    // the shop that has the car does not take an older file of it
    let again = load(&to, &first).await;
    assert!(
        again.status == StatusCode::UNPROCESSABLE_ENTITY && again.text.contains("in the shop already"),
        "{}",
        again.text
    );
}

fn new_note() -> NewNote {
    NewNote {
        day: "2026-05-04".parse().unwrap(),
        text: String::new(),
        hours: None,
        cost: None,
        waiting_on: String::new(),
    }
}

#[tokio::test]
async fn a_photograph_that_was_lost_is_told_of_and_the_rest_goes_with_the_car() {
    let (from, to, _) = two_shops().await;
    let photos = from.folder.0.join("photos");
    let lost = std::fs::read_dir(&photos).unwrap().next().unwrap().unwrap().path();
    let lost = std::fs::read_dir(lost).unwrap().next().unwrap().unwrap().path();
    take_away(&lost);
    let bytes = saved(&from, ZIP).await;
    let list: Value = serde_json::from_slice(thing(&things(&bytes), "manifest.json")).unwrap();
    assert_eq!(list["lost"], json!([lost.file_name().unwrap().to_str().unwrap()]));
    assert_eq!(load(&to, &bytes).await.status, StatusCode::SEE_OTHER);
    assert_eq!(saved(&to, ZIP).await, bytes);
    assert!(!actions::shop::health::verify(&to.store).await.unwrap().good(), "it is not said to be there");
}

#[expect(clippy::disallowed_methods, reason = "a test takes away only from its own folder")]
fn take_away(file: &Path) {
    std::fs::remove_file(file).unwrap();
}

#[tokio::test]
async fn each_of_500_altered_bytes_is_found_and_each_cut() {
    let (from, _, _) = two_shops().await;
    let bytes = saved(&from, ZIP).await;
    assert!(look_through(&mut Cursor::new(&bytes), &|_| ()).is_ok());
    let mut place = 17_usize;
    for turn in 0..500_u32 {
        // places as if at random, the headers at both ends among them
        place = if turn < 60 {
            turn as usize
        } else {
            place.wrapping_mul(1_103_515_245).wrapping_add(12_345) % bytes.len()
        };
        let at = if turn >= 440 { bytes.len() - 1 - (turn as usize - 440) } else { place };
        let mut altered = bytes.clone();
        altered[at] ^= 1 << (turn % 8);
        let found = look_through(&mut Cursor::new(&altered), &|_| ());
        assert!(matches!(found, Err(ActionError::Refused(_))), "byte {at} of {}: {found:?}", bytes.len());
        let cut = look_through(&mut Cursor::new(&bytes[..at]), &|_| ());
        assert!(matches!(cut, Err(ActionError::Refused(_))), "cut at {at}");
    }
}

/// Makes a file of things, listed and signed by a key of anybody's.
async fn forged(house: &House, things: Vec<(String, Vec<u8>)>, change: impl FnOnce(&mut Value)) -> Vec<u8> {
    let mut list: Value = serde_json::from_slice(thing(&things, "manifest.json")).unwrap();
    let things: Vec<_> = things.into_iter().filter(|(name, _)| !name.starts_with("manifest.json")).collect();
    let files = things.iter().map(
        |(name, content)| json!({ "path": name, "size": content.len(), "sha256": Fingerprint::of(content).text() }),
    );
    list["files"] = files.collect();
    change(&mut list);
    // in the order of the fields, as the program writes it
    let order = ["tackbook_car", "form", "build", "name", "log_entries", "log_head", "files", "lost"];
    let known = serde_json::from_value::<tackbook::domain::recorded::car_file::Manifest>(list.clone());
    let text = known.map_or_else(|_| format!("{list} {order:?}"), |known| known.text());
    let key = PrivateKey::new(KeypairData::Ed25519(Ed25519Keypair::from_seed(&[7; 32])), "anybody").unwrap();
    let signature = key.sign("file", HashAlg::Sha512, text.as_bytes()).unwrap().to_pem(LineEnding::LF).unwrap();
    let head =
        [("manifest.json".to_owned(), text.into_bytes()), ("manifest.json.sig".to_owned(), signature.into_bytes())];
    let ready =
        head.into_iter().chain(things).map(|(name, content)| Ready::of_bytes(&name, content).unwrap()).collect();
    let mut bytes = Cursor::new(Vec::new());
    Writing::of(house.store.vault(), ready).write_to(&mut bytes, &|_| ()).await.unwrap();
    bytes.into_inner()
}

/// The same file with one of its JSON texts changed.
async fn with_json(house: &House, bytes: &[u8], name: &str, change: impl FnOnce(&mut Value)) -> Vec<u8> {
    let mut things = things(bytes);
    let text = things.iter_mut().find(|(one, _)| one == name).unwrap();
    let mut value: Value = serde_json::from_slice(&text.1).unwrap();
    change(&mut value);
    text.1 = format!("{}\n", serde_json::to_string_pretty(&value).unwrap()).into_bytes();
    forged(house, things, |_| ()).await
}

fn rows<'v>(records: &'v mut Value, table: &str) -> &'v mut Vec<Value> {
    let tables = records["tables"].as_array_mut().unwrap();
    tables.iter_mut().find(|one| one["table"] == table).unwrap()["rows"].as_array_mut().unwrap()
}

/// An archive of others' making.
fn by_others(things: &[(String, Vec<u8>)], deflated: bool) -> Vec<u8> {
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let method = if deflated { zip::CompressionMethod::Deflated } else { zip::CompressionMethod::Stored };
    for (name, content) in things {
        writer.start_file(name.as_str(), zip::write::SimpleFileOptions::default().compression_method(method)).unwrap();
        std::io::Write::write_all(&mut writer, content).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

/// Files that are none, not whole, or made to do harm; each with a word of the sentence that says so.
async fn hostile(house: &House, good: &[u8]) -> Vec<(&'static str, Vec<u8>)> {
    let named = |from: &str, to: &str| {
        let mut things = things(good);
        for thing in &mut things {
            if thing.0 == from {
                to.clone_into(&mut thing.0);
            }
        }
        things
    };
    let photo = things(good).into_iter().map(|(name, _)| name).find(|name| name.starts_with("photos/")).unwrap();
    let mut all: Vec<(&'static str, Vec<u8>)> = vec![
        ("empty", Vec::new()),
        ("a text", b"This is a letter, not a car.".to_vec()),
        ("a picture", crate::camera::jpeg(3)),
        ("an empty archive", by_others(&[], false)),
        ("its first half", good[..good.len() / 2].to_vec()),
        ("without its last byte", good[..good.len() - 1].to_vec()),
        ("something appended", [good, b"more"].concat()),
        ("an archive behind it", [good, &by_others(&[("a".to_owned(), vec![1])], false)].concat()),
        ("something before it", [b"#!/bin/sh\n", good].concat()),
        ("twice itself", [good, good].concat()),
        ("packed by others", by_others(&things(good), false)),
        ("packed small", by_others(&things(good), true)),
        ("a bomb", by_others(&[("manifest.json".to_owned(), vec![b' '; 40 << 20])], true)),
    ];
    let mut long = good.to_vec();
    long[22..26].copy_from_slice(&u32::MAX.to_le_bytes());
    all.push(("a list that says to be 4 GB", long));
    for (what, from, to) in [
        ("a path that leads out", photo.as_str(), "../../outside.jpg"),
        ("a path from the root", photo.as_str(), "/etc/outside.jpg"),
        ("a path of another system", photo.as_str(), "photos\\..\\outside.jpg"),
        ("a name in other letters", "log.json", "LOG.JSON"),
        ("a folder of other letters", "rounds/1/packet.pdf", "Rounds/1/packet.pdf"),
        ("a round called 01", "rounds/1/packet.pdf", "rounds/01/packet.pdf"),
        ("a name with a line's end", "log.json", "log.json\n"),
        ("a name with a zero byte", "log.json", "log.json\0"),
        ("a file of the shop's", "book.toml", "tackbook.db"),
        ("a photograph that runs", photo.as_str(), "photos/run.exe"),
    ] {
        all.push((what, forged(house, named(from, to), |_| ()).await));
    }
    let mut doubled = things(good);
    let again = doubled.last().unwrap().clone();
    doubled.push(again);
    all.push(("a thing twice", forged(house, doubled, |_| ()).await));
    let mut other_order = things(good);
    other_order.reverse();
    all.push(("another order", forged(house, other_order, |_| ()).await));
    let mut without = things(good);
    without.retain(|(name, _)| *name != photo);
    all.push(("a photograph left out", forged(house, without, |_| ()).await));
    let mut more = things(good);
    let other = crate::camera::jpeg(9);
    let place = more.len();
    more.insert(place, (format!("photos/{}.jpg", Fingerprint::of(&other)), other));
    more[2..]
        .sort_by(|one, two| one.0.starts_with("photos/").cmp(&two.0.starts_with("photos/")).then(one.0.cmp(&two.0)));
    let order = ["build.json", "book.toml", "records.json", "log.json"];
    more[2..].sort_by_key(|(name, _)| order.iter().position(|one| one == name).unwrap_or(order.len()));
    all.push(("a photograph nobody took", forged(house, more, |_| ()).await));
    for (what, change) in [
        ("a newer form", (|list| list["form"] = json!(9_999)) as fn(&mut Value)),
        ("a newer format", |list| list["tackbook_car"] = json!(2)),
        ("a form that never was", |list| list["form"] = json!(100)),
        ("a field nobody knows", |list| list["harmless"] = json!(true)),
        ("a name without end", |list| list["name"] = json!("x".repeat(100_000))),
        ("another build's list", |list| list["build"] = json!("0190a000-0000-7000-8000-000000000099")),
        ("a photograph called lost that is there", |list| list["lost"] = json!([list["files"][6]["sha256"]])),
        ("a length that is not so", |list| list["files"][0]["size"] = json!(3)),
        ("another head of the log", |list| list["log_head"] = json!("0".repeat(64))),
    ] {
        all.push((what, forged(house, things(good), change).await));
    }
    for (what, name, change) in [
        ("no records", "records.json", (|all| *all = json!([])) as fn(&mut Value)),
        ("a table of the shop's people", "records.json", |all| {
            all["tables"].as_array_mut().unwrap().push(json!({"table": "people", "rows": [{"id": "x"}]}));
        }),
        ("a column that is none", "records.json", |all| rows(all, "photos")[0]["x\") VALUES (1); --"] = json!(1)),
        ("a row of another build", "records.json", |all| rows(all, "photos")[0]["build"] = json!("x")),
        ("a figure that is a text", "records.json", |all| rows(all, "photos")[0]["size"] = json!("much")),
        ("a photograph of another length", "records.json", |all| rows(all, "photos")[0]["size"] = json!(1)),
        ("a receipt without its entry", "records.json", |all| rows(all, "photos")[0]["entry"] = json!("0".repeat(64))),
        ("a reply to no round", "records.json", |all| {
            rows(all, "replies").push(json!({"id": "0190a000-0000-7000-8000-000000000001",
                "round": "0190a000-0000-7000-8000-000000000002", "decision": "approved", "words": "", "given_by": "x",
                "received": "2026-05-04T09:30:00.000000Z", "by": "x"}));
        }),
        ("a packet of another round", "records.json", |all| {
            rows(all, "rounds")[0]["packet_sha256"] = json!("0".repeat(64));
        }),
        ("a cage that does not read", "records.json", |all| rows(all, "cages")[0]["json"] = json!("{")),
        ("a build without its row", "records.json", |all| rows(all, "builds").clear()),
        ("an entry of the log altered", "log.json", |all| all["entries"][0]["what"] = json!("Nothing was done.")),
        ("an entry of the log left out", "log.json", |all| drop(all["entries"].as_array_mut().unwrap().remove(1))),
        ("other contents of a round", "rounds/1/contents.json", |all| all["round"] = json!(2)),
    ] {
        all.push((what, with_json(house, good, name, change).await));
    }
    all
}

#[tokio::test]
async fn a_file_that_is_none_or_not_whole_or_made_to_harm_is_told_of_and_changes_nothing() {
    let (from, to, _) = two_shops().await;
    let good = saved(&from, ZIP).await;
    // the forger's tools make a file that is taken, where nothing is altered
    let third = House::new().await;
    let same = forged(&from, things(&good), |_| ()).await;
    assert_eq!(load(&third, &same).await.status, StatusCode::SEE_OTHER);
    let kinds = hostile(&from, &good).await;
    assert!(kinds.len() >= 40, "{}", kinds.len());
    let before = all_of(&to).await;
    for (what, bytes) in kinds {
        let said = load(&to, &bytes).await;
        assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY, "{what}: {}", said.text);
        let why = said.text.split("class=\"why\">").nth(1).unwrap_or_else(|| panic!("{what}: {}", said.text));
        let why = why.split('<').next().unwrap();
        println!("{what}: {why}");
        assert!(why.len() > 30 && why.ends_with('.'), "{what}: {why}");
        assert_eq!(all_of(&to).await, before, "{what}");
    }
    assert_eq!(load(&to, &good).await.status, StatusCode::SEE_OTHER, "and the good one is taken after all of them");
}

#[tokio::test]
async fn a_log_that_was_altered_vouches_for_nothing() {
    let (from, _, build) = two_shops().await;
    let mut records = behind(&from).await;
    sqlx::query("DROP TRIGGER log_keeps").execute(&mut records).await.unwrap();
    sqlx::query("UPDATE log SET what = 'Nothing was done.' WHERE build = $1 AND room = 'weigh_in'")
        .bind(build.to_string())
        .execute(&mut records)
        .await
        .unwrap();
    let said = from.browser("office").await.get(ZIP).await;
    assert!(
        said.status == StatusCode::CONFLICT && said.text.contains("of the log is not what was written"),
        "{}",
        said.text
    );
}

async fn behind(house: &House) -> sqlx::SqliteConnection {
    use sqlx::ConnectOptions as _;
    let options = sqlx::sqlite::SqliteConnectOptions::new().filename(house.folder.0.join("tackbook.db"));
    options.connect().await.unwrap()
}

#[tokio::test]
async fn a_shop_whose_clock_is_behind_the_one_the_car_came_from_goes_on_by_its_own() {
    let (from, mut to, build) = two_shops().await;
    let bytes = saved(&from, ZIP).await;
    to.set_clock("2026-01-02T08:00:00Z");
    assert_eq!(load(&to, &bytes).await.status, StatusCode::SEE_OTHER);
    let newest = to.store.log(1).await.unwrap().remove(0);
    // the house was opened in May by its own clock; the car's entries do not move it further
    assert_eq!(newest.at, "2026-05-04T09:30:00Z".parse::<Timestamp>().unwrap());
    assert!(to.store.verify_log().await.unwrap().broken_at.is_none());
    assert!(!to.store.log_of_build(build, 10).await.unwrap().is_empty());
}
