//! Files that are no car's file, not whole, or made to do harm: each is told of in a sentence, and changes nothing.
#![expect(clippy::indexing_slicing, reason = "a test may stop")]

use std::io::Cursor;

use axum::http::StatusCode;
use serde_json::{Value, json};
use ssh_key::private::{Ed25519Keypair, KeypairData};
use ssh_key::{HashAlg, LineEnding, PrivateKey};
use tackbook::actions::ActionError;
use tackbook::actions::shop::car_file::{PacketSeen, RoundSeen, look_through};
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::car_file::{Ready, Writing};

use crate::car_file::{ZIP, all_of, load, saved, thing, things, two_shops};
use crate::house::House;

/// Makes a file of things, listed and signed by a key of anybody's.
pub(crate) async fn forged(house: &House, things: Vec<(String, Vec<u8>)>, change: impl FnOnce(&mut Value)) -> Vec<u8> {
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
pub(crate) async fn with_json(house: &House, bytes: &[u8], name: &str, change: impl FnOnce(&mut Value)) -> Vec<u8> {
    let mut things = things(bytes);
    let text = things.iter_mut().find(|(one, _)| one == name).unwrap();
    let mut value: Value = serde_json::from_slice(&text.1).unwrap();
    change(&mut value);
    text.1 = format!("{}\n", serde_json::to_string_pretty(&value).unwrap()).into_bytes();
    forged(house, things, |_| ()).await
}

pub(crate) fn rows<'v>(records: &'v mut Value, table: &str) -> &'v mut Vec<Value> {
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
    let mut all = archives(good);
    all.extend(names(house, good).await);
    all.extend(lists(house, good).await);
    all.extend(records(house, good).await);
    all.extend(rounds(house, good).await);
    all
}

/// Rounds that are not those that were issued, each part of them named by its own SHA-256.
async fn rounds(house: &House, good: &[u8]) -> Vec<(&'static str, Vec<u8>)> {
    let with = |name: &str, content: Vec<u8>, column: &str| {
        let mut things = things(good);
        let mut records: Value = serde_json::from_slice(thing(&things, "records.json")).unwrap();
        rows(&mut records, "rounds")[0][column] = json!(Fingerprint::of(&content).text());
        let records = format!("{}\n", serde_json::to_string_pretty(&records).unwrap());
        for (of, bytes) in &mut things {
            if of == name {
                bytes.clone_from(&content);
            } else if of == "records.json" {
                *bytes = records.clone().into_bytes();
            }
        }
        things
    };
    let things = things(good);
    let mut packet = thing(&things, "rounds/1/packet.pdf").to_vec();
    packet.extend(b"\n");
    let contents = String::from_utf8(thing(&things, "rounds/1/contents.json").to_vec()).unwrap();
    let contents = contents.replacen("C1", "C2", 1);
    vec![
        (
            "a packet that its round's signature is not of",
            forged(house, with("rounds/1/packet.pdf", packet, "packet_sha256"), |_| ()).await,
        ),
        (
            "contents that the packet does not show",
            forged(house, with("rounds/1/contents.json", contents.into_bytes(), "contents_sha256"), |_| ()).await,
        ),
    ]
}

/// Archives that this program did not write.
fn archives(good: &[u8]) -> Vec<(&'static str, Vec<u8>)> {
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
    all
}

/// Names that lead elsewhere, and things that are twice, missing or too many.
async fn names(house: &House, good: &[u8]) -> Vec<(&'static str, Vec<u8>)> {
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
    let mut all = Vec::new();
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
    let order = ["index.html", "build.json", "book.toml", "records.json", "log.json"];
    more[2..].sort_by_key(|(name, _)| order.iter().position(|one| one == name).unwrap_or(order.len()));
    all.push(("a photograph nobody took", forged(house, more, |_| ()).await));
    all
}

/// Lists that say what is not so, or what nobody knows.
async fn lists(house: &House, good: &[u8]) -> Vec<(&'static str, Vec<u8>)> {
    let mut all = Vec::new();
    for (what, change) in [
        ("a newer form", (|list| list["form"] = json!(9_999)) as fn(&mut Value)),
        ("a newer format", |list| list["tackbook_car"] = json!(2)),
        ("a form that never was", |list| list["form"] = json!(100)),
        ("a field nobody knows", |list| list["harmless"] = json!(true)),
        ("a name without end", |list| list["name"] = json!("x".repeat(100_000))),
        ("another build's list", |list| list["build"] = json!("0190a000-0000-7000-8000-000000000099")),
        ("a photograph called lost that is there", |list| list["lost"] = json!([list["files"][8]["sha256"]])),
        ("a length that is not so", |list| list["files"][0]["size"] = json!(3)),
        ("another head of the log", |list| list["log_head"] = json!("0".repeat(64))),
    ] {
        all.push((what, forged(house, things(good), change).await));
    }
    all
}

/// Records that do not read, or do not fit together.
async fn records(house: &House, good: &[u8]) -> Vec<(&'static str, Vec<u8>)> {
    let mut all = Vec::new();
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

/// Without a shop the rounds are compared too: the list is signed by whoever saved the car, a packet by whoever issued it.
#[tokio::test]
async fn a_file_looked_through_by_itself_says_of_each_round_whether_its_packet_is_the_one_that_was_issued() {
    let (from, _, _) = two_shops().await;
    let good = saved(&from, ZIP).await;
    let looked = |bytes: &[u8]| look_through(&mut Cursor::new(bytes), &|_| ());
    let seen = looked(&good).unwrap().rounds;
    let public = from.store.signing_keys().await.unwrap()[0].public.clone();
    let packet = PacketSeen { public: Some(public), contents_inside: true };
    assert_eq!(seen, [RoundSeen { number: 1, packet: Some(packet) }]);
    let mut wrong = rounds(&from, &good).await;
    let mut signature = things(&good);
    signature.iter_mut().find(|(name, _)| name == "rounds/1/packet.pdf.sig").unwrap().1.push(b'\n');
    wrong.push(("a signature beside it that is another", forged(&from, signature, |_| ()).await));
    let mut without = things(&good);
    without.retain(|(name, _)| name != "rounds/1/packet.pdf.sig");
    wrong.push(("no signature beside it", forged(&from, without, |_| ()).await));
    let unsigned = with_json(&from, &good, "records.json", |all| rows(all, "round_signatures").clear()).await;
    wrong.push(("a signature that nothing recorded names", unsigned));
    for (what, bytes) in wrong {
        let Err(ActionError::Refused(faults)) = looked(&bytes) else { panic!("{what}") };
        assert!(faults[0].why.contains("round"), "{what}: {}", faults[0].why);
    }
    // a packet that is not in the file has nothing said of it
    let mut lost = things(&good);
    let (_, packet) = lost.remove(lost.iter().position(|(name, _)| name == "rounds/1/packet.pdf").unwrap());
    let lost = forged(&from, lost, |list| list["lost"] = json!([Fingerprint::of(&packet).text()])).await;
    assert_eq!(looked(&lost).unwrap().rounds, [RoundSeen { number: 1, packet: None }]);
    // one that nobody signed is not called unaltered
    let mut unsigned =
        things(&with_json(&from, &good, "records.json", |all| rows(all, "round_signatures").clear()).await);
    unsigned.retain(|(name, _)| name != "rounds/1/packet.pdf.sig");
    let unsigned = forged(&from, unsigned, |_| ()).await;
    let seen = looked(&unsigned).unwrap().rounds;
    assert_eq!(seen[0].packet.as_ref().map(|packet| packet.public.clone()), Some(None));
    let folder = crate::folder::Folder::new();
    for (name, bytes, says, not) in [
        ("good.zip", &good, "Round 1: its packet is unaltered", "never signed"),
        ("lost.zip", &lost, "nothing is known of it", "its packet is unaltered"),
        ("unsigned.zip", &unsigned, "never signed", "its packet is unaltered"),
    ] {
        crate::damage::put(&folder.0.join(name), bytes);
        let call = std::process::Command::new(env!("CARGO_BIN_EXE_tackbook"))
            .args(["verify", name])
            .current_dir(&folder.0)
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&call.stdout);
        assert!(call.status.success() && said.contains(says) && !said.contains(not), "{name}: {said}");
    }
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
