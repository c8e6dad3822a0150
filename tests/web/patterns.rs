//! Builds begun by another car's file: what was decided is taken over, no figure of that car is this one's before somebody states
//! it, and a file that is not taken changes nothing.

use std::collections::BTreeSet;
use std::process::Command;

use axum::body::Body;
use axum::http::{StatusCode, header};
use serde_json::json;
use tackbook::actions::shop::signing::fingerprint;
use tackbook::domain::cage::CageRecord;
use tackbook::domain::cage::record::example::example_record;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::judge::verdicts::Word;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;

use crate::car_file::{ZIP, all_of, saved, thing, things, two_shops};
use crate::car_file_refused::{rows, with_json};
use crate::damage::put;
use crate::house::{Answer, House};
use crate::main_job::weigh;

const PATTERN: &str = "/builds/pine-coupe/cage/pattern";

/// Sends the form that begins a build by a file.
async fn begin(house: &House, fields: &[(&str, &str)], file: &[u8]) -> Answer {
    let office = house.browser("office").await;
    let mut body = Vec::new();
    for (name, text) in fields {
        body.extend(format!("--part\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{text}\r\n").bytes());
    }
    let name = if file.is_empty() { "" } else { "car.zip" };
    body.extend(
        format!("--part\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\n\r\n").bytes(),
    );
    body.extend_from_slice(file);
    body.extend_from_slice(b"\r\n--part--\r\n");
    let request = office.request("POST", "/cars/begin").header("sec-fetch-site", "same-origin");
    let request = request.header(header::CONTENT_TYPE, "multipart/form-data; boundary=part");
    house.ask(request.body(Body::from(body)).unwrap()).await
}

const SAME: (&str, &str) = ("book", "as the pattern");

async fn book_of_demo(house: &House) {
    house.browser("office").await.post("/books", &[("toml", include_str!("../../src/demo/book.toml"))]).await;
}

async fn found(house: &House, build: BuildId) -> Findings {
    Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today())
}

/// The rules that say "meets", each with what it is asked of.
async fn met(house: &House, build: BuildId) -> BTreeSet<String> {
    let found = found(house, build).await;
    let met = found.worked.verdicts.iter().filter(|verdict| verdict.state() == Word::Meets);
    met.map(|verdict| format!("{} {:?} {:?}", verdict.rule_id, verdict.of, verdict.measure)).collect()
}

async fn id_of(house: &House, slug: &str) -> BuildId {
    house.store.build_by_slug(slug).await.unwrap().unwrap().id
}

/// The ticks that the sheet offers.
async fn ticks(house: &House) -> Vec<String> {
    let sheet = house.browser("office").await.get(PATTERN).await.text;
    let ticks = sheet.split("name=\"stated\" value=\"").skip(1);
    let key = |after: &str| after.split('"').next().unwrap().replace("&#60;", "<").replace("&#62;", ">");
    ticks.map(key).collect()
}

async fn state(house: &House, keys: &[String]) -> Answer {
    let version = house.store.cage(id_of(house, "pine-coupe").await).await.unwrap().unwrap().version.to_string();
    let mut pairs = vec![("version", version.as_str())];
    pairs.extend(keys.iter().map(|key| ("stated", key.as_str())));
    house.browser("office").await.post(PATTERN, &pairs).await
}

#[tokio::test]
async fn what_was_decided_is_taken_over_and_nothing_else_of_that_car() {
    let (from, to, _) = two_shops().await;
    let bytes = saved(&from, ZIP).await;
    book_of_demo(&to).await;
    let sheet = to.browser("office").await.get("/cars").await.text;
    assert!(sheet.contains("action=\"/cars/begin\"") && sheet.contains("The same shell, a new car"));
    assert!(sheet.contains("value=\"as the pattern\" selected"), "its own book is proposed: {sheet}");
    let files = all_of(&to).await.1;
    let begun = begin(&to, &[("name", "Pine Coupe"), SAME], &bytes).await;
    assert_eq!((begun.status, begun.to.as_str()), (StatusCode::SEE_OTHER, PATTERN), "{}", begun.text);
    assert_eq!(all_of(&to).await.1, files, "no photograph and no packet of that car came");
    let build = id_of(&to, "pine-coupe").await;
    let facts = to.store.facts(build).await.unwrap();
    let pattern = example_record();
    let decided = CageRecord { structure: pattern.structure, options: pattern.options, ..CageRecord::default() };
    assert_eq!(facts.cage.as_ref().unwrap().record().unwrap(), decided);
    assert!(facts.book.is_some(), "this shop has that edition");
    // of all that is recorded of a build there is nothing but the book, the cage and what the build is called
    let office = to.browser("office").await;
    office
        .post("/builds/new", &[("name", "Elm Saloon"), ("book", &to.store.books().await.unwrap()[0].id.to_string())])
        .await;
    let mut plain = to.store.facts(id_of(&to, "elm-saloon").await).await.unwrap();
    (plain.build, plain.cage) = (facts.build.clone(), facts.cage.clone());
    (plain.as_of, plain.log_head) = (facts.as_of, facts.log_head.clone());
    assert_eq!(plain, facts);
    // the log says by which file
    let list = Fingerprint::of(thing(&things(&bytes), "manifest.json"));
    let key = fingerprint(&from.store.signing_keys().await.unwrap()[0].public);
    let log = to.store.log_of_build(build, 10).await.unwrap();
    assert_eq!(log.len(), 1);
    for word in ["Pine Coupe", list.text(), key.as_str(), "no figure of that car was measured on this one"] {
        assert!(log[0].what.contains(word), "{word}: {}", log[0].what);
    }
    // and the pattern goes with this car into its own file
    let third = House::new().await;
    assert_eq!(crate::car_file::load(&third, &saved(&to, ZIP).await).await.status, StatusCode::SEE_OTHER);
    assert_eq!(third.store.pattern(build).await.unwrap(), to.store.pattern(build).await.unwrap());
    assert_eq!(saved(&third, ZIP).await, saved(&to, ZIP).await);
}

#[tokio::test]
async fn no_verdict_meets_by_a_figure_of_the_pattern_and_stating_it_brings_the_word() {
    let (from, to, was) = two_shops().await;
    let bytes = saved(&from, ZIP).await;
    book_of_demo(&to).await;
    begin(&to, &[("name", "Pine Coupe"), SAME], &bytes).await;
    weigh(&to.browser("fabricator").await, "661", "").await;
    let build = id_of(&to, "pine-coupe").await;
    // a car that was weighed the same, of which no cage was ever laid out
    let third = House::new().await;
    crate::main_job::begun(&third).await;
    weigh(&third.browser("fabricator").await, "661", "").await;
    let bare = met(&third, id_of(&third, "pine-coupe").await).await;
    assert_eq!(met(&to, build).await, bare);
    let whole = met(&from, was).await;
    assert!(whole.len() > bare.len(), "the pattern's own car meets more: {whole:?}");
    // the figures are drawn and shown, and said to be the pattern's
    let cage = to.browser("office").await.get("/builds/pine-coupe/cage").await.text;
    assert!(cage.contains("The pattern: ") && cage.contains("Pale: drawn by the pattern"), "{cage}");
    assert!(cage.contains("not stated of this car: nothing is judged by them"));
    // nothing ticked is nothing stated
    let said = state(&to, &[]).await;
    assert!(said.status == StatusCode::UNPROCESSABLE_ENTITY && said.text.contains("Tick what you measured"));
    // all but one of the figures leave the cage open
    let all = ticks(&to).await;
    let (last, rest): (Vec<_>, Vec<_>) = all.into_iter().partition(|key| key == "hoop_roof_height");
    assert_eq!(last.len(), 1);
    assert_eq!(state(&to, &rest).await.status, StatusCode::SEE_OTHER);
    let open = met(&to, build).await;
    assert!(!found(&to, build).await.worked.cage.whole);
    assert_eq!(ticks(&to).await, last);
    // the last one brings what hangs on it
    assert_eq!(state(&to, &last).await.status, StatusCode::SEE_OTHER);
    let stated = met(&to, build).await;
    assert!(found(&to, build).await.worked.cage.whole);
    assert!(open.is_subset(&stated) && stated.len() > open.len(), "{open:?} {stated:?}");
    assert!(ticks(&to).await.is_empty());
    let log = to.store.log_of_build(build, 1).await.unwrap().remove(0);
    assert!(log.what.contains("One thing was stated of this car"), "{}", log.what);
    assert_eq!(log.detail["changed"].as_array().unwrap().len(), 1, "{}", log.detail);
}

#[tokio::test]
async fn ticks_are_kept_where_somebody_else_saved_or_a_figure_cannot_stand() {
    let (from, to, _) = two_shops().await;
    book_of_demo(&to).await;
    begin(&to, &[("name", "Pine Coupe"), SAME], &saved(&from, ZIP).await).await;
    let office = to.browser("office").await;
    let one = [("version", "0"), ("stated", "hoop_roof_height")];
    let said = office.post(PATTERN, &one).await;
    assert_eq!(said.status, StatusCode::CONFLICT);
    assert!(said.text.contains("Somebody else saved") && said.text.contains("value=\"hoop_roof_height\" checked"));
    // a roof that this car does not have room for
    let put = json!({ "text": "900 mm", "sixteenths": null, "units": "metric", "was": "", "same": true });
    let told = office.put("/builds/pine-coupe/cage/tape/roof_inside", put.to_string()).await;
    assert!(told.status.is_success(), "{}", told.text);
    let said = state(&to, &["hoop_roof_height".to_owned()]).await;
    assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", said.text);
    assert!(
        said.text.contains("higher than the roof inside") && said.text.contains("value=\"hoop_roof_height\" checked")
    );
}

#[tokio::test]
async fn a_file_or_a_name_that_is_not_taken_begins_nothing() {
    let (from, to, _) = two_shops().await;
    let good = saved(&from, ZIP).await;
    let name = [("name", "Oak Coupe"), SAME];
    let mut wrong = vec![
        ("none", Vec::new(), "Choose the car"),
        ("a letter", b"This is a letter, and not the file of a car that anybody saved.".to_vec(), "no car&#39;s file"),
        ("its first half", good[..good.len() / 2].to_vec(), "ends too early"),
        (
            "a byte of it",
            [&good[..good.len() - 900], &[good[good.len() - 900] ^ 1], &good[good.len() - 899..]].concat(),
            "Nothing",
        ),
    ];
    let newer = with_json(&from, &good, "log.json", |log| log["entries"][0]["what"] = json!("Nothing.")).await;
    wrong.push(("another log", newer, "is not what its hash says"));
    let without = with_json(&from, &good, "records.json", |all| {
        rows(all, "cages").clear();
    });
    wrong.push(("no cage", without.await, "no cage is recorded in it"));
    let before = all_of(&to).await;
    for (what, bytes, why) in wrong {
        let said = begin(&to, &name, &bytes).await;
        assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY, "{what}: {}", said.text);
        assert!(said.text.contains(why) && said.text.contains("value=\"Oak Coupe\""), "{what}: {}", said.text);
        assert_eq!(all_of(&to).await, before, "{what}");
    }
    for (fields, why) in [
        (vec![("name", " "), SAME], "id=\"w-name\""),
        (vec![("name", "Oak Coupe"), ("book", "no such")], "Choose a book of the list"),
    ] {
        let said = begin(&to, &fields, &good).await;
        assert!(said.status == StatusCode::UNPROCESSABLE_ENTITY && said.text.contains(why), "{}", said.text);
    }
    assert_eq!(all_of(&to).await, before);
    // a name that another car has is asked about, and answered
    assert_eq!(begin(&to, &name, &good).await.status, StatusCode::SEE_OTHER);
    let asked = begin(&to, &name, &good).await;
    assert!(
        asked.status == StatusCode::UNPROCESSABLE_ENTITY && asked.text.contains("It is another car"),
        "{}",
        asked.text
    );
    let other = begin(&to, &[name[0], SAME, ("another", "yes")], &good).await;
    assert_eq!(other.to, "/builds/oak-coupe-2/cage/pattern", "{}", other.text);
    assert!(
        to.store.facts(id_of(&to, "oak-coupe").await).await.unwrap().book.is_none(),
        "this shop has no such edition"
    );
}

#[tokio::test]
async fn the_call_begins_a_build_by_a_file() {
    let (from, to, _) = two_shops().await;
    let folder = crate::folder::Folder::new();
    put(&folder.0.join("car.zip"), &saved(&from, ZIP).await);
    put(&folder.0.join("half.zip"), b"PK, and no more of a car than a letter of one that was begun.");
    let shop = to.folder.0.to_str().unwrap().to_owned();
    to.store.close().await;
    let call = |words: &[&str]| {
        let done = Command::new(env!("CARGO_BIN_EXE_tackbook"))
            .args(["load", "--folder", &shop])
            .args(words)
            .current_dir(&folder.0)
            .output()
            .unwrap();
        let said = format!("{}{}", String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
        (done.status.code(), said)
    };
    let (code, said) = call(&["half.zip", "--as-pattern-for", "Oak Coupe"]);
    assert!(code == Some(1) && said.contains("no car's file"), "{said}");
    let (code, said) = call(&["car.zip", "--as-pattern-for", "Oak Coupe"]);
    assert!(code == Some(0) && said.contains("/builds/oak-coupe/cage/pattern"), "{said}");
    assert!(said.contains("No figure of it is this car's") && said.contains("no rule book yet"), "{said}");
    let (code, said) = call(&["car.zip", "--as-pattern-for", "Oak Coupe"]);
    assert!(code == Some(1) && said.contains("called Oak Coupe already"), "{said}");
    let (code, said) = call(&["car.zip", "--as-pattern-for", "Oak Coupe", "--another-car"]);
    assert!(code == Some(0) && said.contains("oak-coupe-2"), "{said}");
}
