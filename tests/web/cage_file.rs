//! A build's cage as a file, out and in, and the last change taken back: shown first, nothing lost, nothing overwritten.

use axum::body::Body;
use axum::http::{StatusCode, header};
use serde_json::{Value, json};

use crate::cage::{save, typed};
use crate::house::{Answer, Browser, House};
use crate::kit::hidden;

const BOUNDARY: &str = "a-line-between";

/// Sends a cage file by the plain form of the cage's sheet.
async fn send(house: &House, browser: &Browser<'_>, build: &str, file: &str) -> Answer {
    let head =
        "content-disposition: form-data; name=\"file\"; filename=\"cage.json\"\r\ncontent-type: application/json";
    let body = format!("--{BOUNDARY}\r\n{head}\r\n\r\n{file}\r\n--{BOUNDARY}--\r\n");
    let request = browser
        .request("POST", &format!("/builds/{build}/cage/file"))
        .header("sec-fetch-site", "same-origin")
        .header(header::CONTENT_TYPE, format!("multipart/form-data; boundary={BOUNDARY}"));
    house.ask(request.body(Body::from(body)).unwrap()).await
}

#[tokio::test]
async fn a_cage_goes_out_and_into_another_build_and_out_again_byte_for_byte() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    for name in ["Pine Coupe", "Oak Coupe"] {
        browser.post("/builds/new", &[("name", name)]).await;
    }
    assert_eq!(browser.get("/builds/pine-coupe/cage.json").await.status, StatusCode::NOT_FOUND);
    save(&browser, &typed("0")).await;
    let out = browser.get("/builds/pine-coupe/cage.json").await;
    assert_eq!(out.header("content-disposition"), "attachment; filename=\"pine-coupe-cage.json\"");
    let shown = send(&house, &browser, "oak-coupe", &out.text).await;
    assert_eq!(shown.status, StatusCode::OK, "{}", shown.text);
    for words in ["the file&#39;s would be the first", "Main hoop: height at the roof", "<b>43 5/8 in</b>"] {
        assert!(shown.text.contains(words), "{words}: {}", shown.text);
    }
    // Nothing was done yet.
    assert_eq!(browser.get("/builds/oak-coupe/cage.json").await.status, StatusCode::NOT_FOUND);
    // A browser sends the lines of a hidden text with carriage returns.
    let file = out.text.replace('\n', "\r\n");
    let pairs = [("version", "0"), ("file", file.as_str())];
    let taken = browser.post("/builds/oak-coupe/cage/file/take", &pairs).await;
    assert_eq!(
        (taken.status, taken.to.as_str()),
        (StatusCode::SEE_OTHER, "/builds/oak-coupe/cage?saved=1"),
        "{}",
        taken.text
    );
    assert_eq!(browser.get("/builds/oak-coupe/cage.json").await.text, out.text);
    let sheet = browser.get("/builds/oak-coupe/cage?numbers=joints").await.text;
    assert!(sheet.contains(">J1<") && sheet.contains("value=\"43 5/8 in\""));
}

#[tokio::test]
async fn a_file_that_replaces_a_cage_is_shown_first_told_in_the_log_and_taken_back() {
    let house = House::new().await;
    let (office, floor) = (house.browser("office").await, house.browser("fabricator").await);
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    save(&office, &typed("0")).await;
    let before = office.get("/builds/pine-coupe/cage.json").await.text;
    let mut file: Value = serde_json::from_str(&before).unwrap();
    file["measurements"]["hoop_roof_height"] = json!(43.5);
    file["options"]["sill_bars"] = json!(false);
    let kept = file["numbers"]["dash-bar"].as_str().unwrap().to_owned();
    file["numbers"]["dash-bar"] = json!("M90");
    file["tubes"]["hoop"]["wall"] = json!(0.083);
    let file = file.to_string();
    let shown = send(&house, &office, "pine-coupe", &file).await.text;
    for words in [
        "What would change: 2",
        "<td data-of=\"Stands now\">43 5/8 in</td><td data-of=\"Would be\"><b>43.5 in</b></td>",
        "<th scope=\"row\">Sill bars</th><td data-of=\"Stands now\">yes</td><td data-of=\"Would be\"><b>no</b></td>",
        &format!("dash bar M90, here {kept}"),
        "The file was made for 1.5 × .083 in",
    ] {
        assert!(shown.contains(words), "{words}: {shown}");
    }
    // Somebody else saves first: nothing is done, and what it would change now is shown.
    let mut theirs = typed("1");
    theirs.iter_mut().find(|pair| pair.0 == "sill_bars").unwrap().1 = "no".to_owned();
    assert_eq!(save(&floor, &theirs).await.status, StatusCode::SEE_OTHER);
    let pairs = [("version", "1"), ("file", file.as_str())];
    let stale = office.post("/builds/pine-coupe/cage/file/take", &pairs).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
    assert!(stale.text.contains("Somebody else saved the cage") && stale.text.contains("What would change: 1"));
    assert_eq!(hidden(&stale.text, "version"), "2");
    let pairs = [("version", "2"), ("file", file.as_str())];
    assert_eq!(office.post("/builds/pine-coupe/cage/file/take", &pairs).await.status, StatusCode::SEE_OTHER);
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let entry = house.store.log_of_build(build, 1).await.unwrap().remove(0);
    assert_eq!(entry.what, "A cage file was taken in: one thing is another.");
    assert_eq!(
        entry.detail["changed"],
        json!([{ "what": "Main hoop: height at the roof", "was": "43 5/8 in", "is": "43.5 in" }])
    );
    let out: Value = serde_json::from_str(&office.get("/builds/pine-coupe/cage.json").await.text).unwrap();
    assert_eq!(out["numbers"]["dash-bar"], json!(kept));
    // The fabricator takes it back; the office, whose sheet is older, takes nothing back unseen.
    let last = floor.get("/builds/pine-coupe/cage/last").await.text;
    for words in ["office, 2026-05-04", "A cage file was taken in", "What would change: 1", "<b>43 5/8 in</b>"] {
        assert!(last.contains(words), "{words}: {last}");
    }
    let back = "/builds/pine-coupe/cage/take-back";
    assert_eq!(floor.post(back, &[("version", "3")]).await.status, StatusCode::SEE_OTHER);
    let again = office.post(back, &[("version", "3")]).await;
    assert_eq!(again.status, StatusCode::CONFLICT);
    assert!(again.text.contains("was taken back: one thing is another") && hidden(&again.text, "version") == "4");
    let stands: Value = serde_json::from_str(&office.get("/builds/pine-coupe/cage.json").await.text).unwrap();
    assert_eq!(stands["measurements"]["hoop_roof_height"], json!("43 5/8 in"));
    assert_eq!(stands["options"]["sill_bars"], json!(false));
    let saves = house.store.cage_saves(build, 9).await.unwrap();
    let versions: Vec<i64> = saves.iter().map(|save| save.cage.version).collect();
    assert_eq!(versions, [4, 3, 2, 1]);
    assert!(saves.iter().skip(1).any(|save| save.cage.json.contains("43.5 in")));
}

#[tokio::test]
async fn a_file_that_will_not_do_changes_nothing_and_says_where() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    save(&browser, &typed("0")).await;
    let good = browser.get("/builds/pine-coupe/cage.json").await.text;
    let drawn = include_str!("../../static/cage-file-drawn.json");
    for (file, words) in [
        (good.replacen("\"plates\"", "\"plaits\"", 1), "“plaits” is no field here. Did you mean “plates”?"),
        (good.replacen("\"19 1/2 in\"", "\"950\"", 1), "hoop_shoulder_height: “950 in” is out of bounds"),
        (drawn.to_owned(), "gives its bars by points"),
        (String::new(), "No file was chosen."),
        (format!("{good}{}", " ".repeat(128 << 10)), "at most 128 KiB"),
    ] {
        let told = send(&house, &browser, "pine-coupe", &file).await;
        assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY, "{words}");
        assert!(told.text.contains(words) && told.text.contains("Nothing was changed"), "{words}: {}", told.text);
        assert!(!told.text.contains("<button class=\"main\">"));
    }
    assert_eq!(browser.get("/builds/pine-coupe/cage.json").await.text, good);
    let scrutineer = house.browser("scrutineer").await;
    assert_eq!(send(&house, &scrutineer, "pine-coupe", &good).await.status, StatusCode::NOT_FOUND);
}
