//! Cars' files: a build saved by one shop, loaded by another, saved again to the same bytes; and every kind of file that is
//! none, or not whole, which changes nothing.
#![expect(clippy::panic, reason = "a test may stop")]

use std::io::{Cursor, Read as _};
use std::path::Path;
use std::process::Command;

use axum::body::Body;
use axum::http::{StatusCode, header};
use jiff::Timestamp;
use serde_json::{Value, json};
use ssh_key::PrivateKey;
use ssh_key::private::Ed25519Keypair;
use tackbook::actions::shop::car_file::look_through;
use tackbook::actions::shop::signing::fingerprint;
use tackbook::actions::{self, ActionError};
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::recorded::notes::NewNote;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;

use crate::damage::{gone, put};
use crate::house::{Answer, House};
use crate::reviews::issued;

pub(crate) const ZIP: &str = "/builds/pine-coupe/car.zip";

/// The file of the build at an address, as the office saves it.
pub(crate) async fn saved(house: &House, address: &str) -> Vec<u8> {
    let got = house.browser("office").await.get(address).await;
    assert_eq!(got.status, StatusCode::OK, "{}", got.text);
    assert_eq!(got.header("content-length"), got.bytes.len().to_string());
    got.bytes
}

/// Puts a file into the form of a shop.
pub(crate) async fn load(house: &House, bytes: &[u8]) -> Answer {
    let office = house.browser("office").await;
    let mut body = b"--part\r\nContent-Disposition: form-data; name=\"file\"; filename=\"car.zip\"\r\n\r\n".to_vec();
    body.extend_from_slice(bytes);
    body.extend_from_slice(b"\r\n--part--\r\n");
    let request = office.request("POST", "/cars/load").header("sec-fetch-site", "same-origin");
    let request = request.header(header::CONTENT_TYPE, "multipart/form-data; boundary=part");
    house.ask(request.body(Body::from(body)).unwrap()).await
}

/// The things in a file, in their order, as a library of others reads them.
pub(crate) fn things(bytes: &[u8]) -> Vec<(String, Vec<u8>)> {
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

pub(crate) fn thing<'t>(things: &'t [(String, Vec<u8>)], name: &str) -> &'t [u8] {
    &things.iter().find(|(one, _)| one == name).unwrap_or_else(|| panic!("no {name}")).1
}

/// Says which things of two files differ, if any do.
fn same(one: &[u8], other: &[u8]) {
    let of = |bytes| things(bytes).into_iter().map(|(name, content)| (name, Fingerprint::of(&content)));
    assert_eq!(of(one).collect::<Vec<_>>(), of(other).collect::<Vec<_>>());
    assert!(one == other, "the same things, and other bytes around them");
}

/// Two shops, the first with a build of which a round is out.
pub(crate) async fn two_shops() -> (House, House, BuildId) {
    let (from, to) = (House::new().await, House::new().await);
    let build = issued(&from).await;
    (from, to, build)
}

/// What a shop has: its log but for who signed in, its files, its builds.
pub(crate) async fn all_of(house: &House) -> (usize, Vec<String>, usize) {
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
    assert!(to.browser("office").await.get("/builds/new").await.text.contains("href=\"/cars\""));
    assert!(!to.browser("fabricator").await.get("/builds/new").await.text.contains("href=\"/cars\""));
    let first = saved(&from, ZIP).await;
    same(&first, &saved(&from, ZIP).await);
    let loaded = load(&to, &first).await;
    assert_eq!(
        (loaded.status, loaded.to.as_str()),
        (StatusCode::SEE_OTHER, "/builds/pine-coupe/car-file"),
        "{}",
        loaded.text
    );
    same(&saved(&to, ZIP).await, &first);
    let third = House::new().await;
    assert_eq!(load(&third, &saved(&to, ZIP).await).await.status, StatusCode::SEE_OTHER);
    same(&saved(&third, ZIP).await, &first);
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
    for name in [
        "index.html",
        "build.json",
        "book.toml",
        "records.json",
        "log.json",
        "rounds/1/contents.json",
        "rounds/1/packet.pdf",
    ] {
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
    assert!(names.iter().any(|name| name.starts_with("photos/") && name.contains(".jpg")));
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
    same(&std::fs::read(folder.0.join("car.zip")).unwrap(), &saved(&from, ZIP).await);
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
    same(&std::fs::read(folder.0.join("again.zip")).unwrap(), &std::fs::read(folder.0.join("car.zip")).unwrap());
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
    same(&saved(&to, "/builds/pine-coupe-2/car.zip").await, &first);
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
    same(&saved(&third, ZIP).await, &second);
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
    gone(&lost);
    let bytes = saved(&from, ZIP).await;
    let list: Value = serde_json::from_slice(thing(&things(&bytes), "manifest.json")).unwrap();
    assert_eq!(list["lost"], json!([lost.file_name().unwrap().to_str().unwrap()]));
    assert_eq!(load(&to, &bytes).await.status, StatusCode::SEE_OTHER);
    same(&saved(&to, ZIP).await, &bytes);
    assert!(!actions::shop::health::verify(&to.store).await.unwrap().good(), "it is not said to be there");
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

#[tokio::test]
async fn a_load_that_was_broken_off_leaves_nothing_once_the_shop_is_opened_again() {
    let (from, to, _) = two_shops().await;
    let bytes = saved(&from, ZIP).await;
    let before = all_of(&to).await;
    let office = to.browser("office").await;
    let mut body = b"--part\r\nContent-Disposition: form-data; name=\"file\"; filename=\"car.zip\"\r\n\r\n".to_vec();
    body.extend_from_slice(&bytes[..bytes.len() - 400]);
    let request = office.request("POST", "/cars/load").header("sec-fetch-site", "same-origin");
    let request = request.header(header::CONTENT_TYPE, "multipart/form-data; boundary=part");
    let said = to.ask(request.body(Body::from(body)).unwrap()).await;
    assert!(!said.status.is_success() && !said.status.is_redirection(), "{}: {}", said.status, said.text);
    assert_eq!(all_of(&to).await, before);
    // a program that ended amid a load could not clear up after itself
    put(&to.folder.0.join("arriving/car-0190a000-0000-7000-8000-000000000001-0.part"), b"half a photograph");
    to.store.close().await;
    let again = tackbook::store::Store::open(&to.folder.0).await.unwrap();
    assert!(std::fs::read_dir(to.folder.0.join("arriving")).unwrap().next().is_none());
    again.close().await;
}
