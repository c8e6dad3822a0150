//! Lists of hundreds come a page at a time, each page said of how many it shows, and nothing is on none of them.

use std::sync::Arc;

use axum::http::StatusCode;
use tackbook::actions::recorded::photos::{Declaration, Look, Looked, Whole};
use tackbook::actions::{self, Context};
use tackbook::domain::recorded::notes::NewNote;
use tackbook::domain::shop::builds::NewBuild;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;

use crate::house::{Browser, House};

/// Bytes that begin as a JPEG does, none like another.
fn bytes(number: u32) -> Vec<u8> {
    [vec![0xff, 0xd8, 0xff, 0xe0], number.to_be_bytes().to_vec()].concat()
}

fn new_capture() -> tackbook::domain::words::ids::CaptureId {
    uuid::Uuid::now_v7().into()
}

/// A vehicle with so many photographs nobody asked for, and so many more that are still on a phone.
async fn photographed(ctx: &Context, kept: u32, on_phones: u32) -> (BuildId, Vec<String>) {
    let new = NewBuild { name: "Pine Coupe".to_owned(), about: String::new(), book: None, event_day: None };
    let build = actions::shop::builds::begin(ctx, new).await.unwrap().id;
    let unseen: Look = Arc::new(|_| Box::pin(async { Looked { seen: None, remarks: Vec::new() } }));
    let mut names = Vec::new();
    for number in 0..kept {
        let whole = Whole { capture: new_capture(), shot: String::new(), note: String::new(), bytes: bytes(number) };
        actions::recorded::photos::keep_whole(ctx, build, whole, &unseen).await.unwrap();
        names.push(Fingerprint::of(&bytes(number)).text().to_owned());
    }
    for number in kept..kept + on_phones {
        let (sha256, size) = (Fingerprint::of(&bytes(number)), 8);
        let (shot, note) = (String::new(), format!("waits {number}"));
        let told =
            Declaration { capture: new_capture(), sha256, size, shot, note, camera_size: None, taken_claim: None };
        actions::recorded::photos::declare(ctx, build, told).await.unwrap();
    }
    (build, names)
}

/// Every page of a list from its first on, by the ways the pages themselves give.
async fn pages(browser: &Browser<'_>, first: &str, what: &str) -> Vec<String> {
    let (mut address, mut found) = (first.to_owned(), Vec::new());
    loop {
        let answer = browser.get(&address).await;
        assert_eq!(answer.status, StatusCode::OK, "{address}");
        let text = answer.text;
        let list = text.split_once(&format!("aria-label=\"{what}, page by page\"")).map_or("", |(_, list)| list);
        let ways = list.split_once("</nav>").map_or("", |(ways, _)| ways).to_owned();
        found.push(text);
        let next = ways.split("<a href=\"").find(|way| way.contains(">Next page<"));
        let Some(next) = next.and_then(|way| way.split_once('"')) else { return found };
        address = next.0.replace("&#38;", "&");
        address.truncate(address.find('#').unwrap_or(address.len()));
        assert!(found.len() < 20, "{address}: the pages have no end");
    }
}

/// Each name stands on just one of the pages.
fn each_on_one(names: &[String], pages: &[String], around: impl Fn(&str) -> String) {
    for name in names {
        let on = pages.iter().filter(|page| page.contains(&around(name))).count();
        assert_eq!(on, 1, "{name}");
    }
}

#[tokio::test]
async fn photographs_by_day_and_at_no_shot_come_a_hundred_at_a_time() {
    let house = House::new().await;
    let (_, names) = photographed(&house.office, 230, 105).await;
    let office = house.browser("office").await;
    for (last, what) in
        [("/photos/days", "Photographs"), ("/photos/unplaced", "Photographs"), ("/photos", "Extra photographs")]
    {
        let pages = pages(&office, &format!("/builds/pine-coupe{last}"), what).await;
        assert_eq!(pages.len(), 3, "{last}");
        for (page, told) in pages.iter().zip(["1 to 100", "101 to 200", "201 to 230"]) {
            assert!(page.contains(&format!("{what} {told} of 230")), "{last}: {told}");
        }
        each_on_one(&names, &pages, |name| format!("/photos/{name}"));
    }
    let days = pages(&office, "/builds/pine-coupe/photos/days", "Photographs").await;
    assert!(days[0].contains("2026-05-04: 100 of 230") && days[2].contains("2026-05-04: 30 of 230"));
    let phones = pages(&office, "/builds/pine-coupe/photos", "Photographs on a phone").await;
    assert_eq!(phones.len(), 2);
    assert!(phones[1].contains("Photographs on a phone 101 to 105 of 105"));
    let waits: Vec<String> = (230..335).map(|number| format!("waits {number}")).collect();
    each_on_one(&waits, &phones, |wait| format!(">{wait}<"));
    for last in ["/photos/days?page=0", "/photos/days?page=x", "/photos/unplaced?page=-1", "/photos?phones=x"] {
        assert_eq!(office.get(&format!("/builds/pine-coupe{last}")).await.status, StatusCode::NOT_FOUND, "{last}");
    }
    let behind = office.get("/builds/pine-coupe/photos/days?page=9").await.text;
    assert!(behind.contains("Photographs 201 to 230 of 230"), "a list that became shorter");
}

#[tokio::test]
async fn the_log_comes_a_hundred_lines_and_entries_at_a_time() {
    let house = House::new().await;
    let (build, _) = photographed(&house.office, 0, 0).await;
    let office = house.browser("office").await;
    let short = office.get("/builds/pine-coupe/log").await.text;
    assert!(!short.contains("page by page"), "one page needs no ways");
    for number in 0..205 {
        let (day, text) = (house.clock.today(), format!("Cut bar {number}."));
        let new = NewNote { day, text, hours: None, cost: None, waiting_on: String::new() };
        actions::recorded::notes::add(&house.office, build, new).await.unwrap();
    }
    let lines = pages(&office, "/builds/pine-coupe/log", "Lines").await;
    assert_eq!(lines.len(), 3);
    assert!(lines[2].contains("Lines 201 to 205 of 205"));
    let written: Vec<String> = (0..205).map(|number| format!("Cut bar {number}.")).collect();
    each_on_one(&written, &lines, |text| format!("<td>{text}</td>"));
    let all = house.store.log_of_build(build, 1_000).await.unwrap();
    let entries = pages(&office, "/builds/pine-coupe/log", "Entries").await;
    assert_eq!(entries.len(), all.len().div_ceil(100));
    assert!(entries[1].contains(&format!("Entries 101 to 200 of {}", all.len())));
    let numbers: Vec<String> = all.iter().map(|entry| entry.number.to_string()).collect();
    each_on_one(&numbers, &entries, |number| format!("<td data-of=\"No.\">{number}</td>"));
    for last in ["/log?entries=0", "/log?lines=x"] {
        assert_eq!(office.get(&format!("/builds/pine-coupe{last}")).await.status, StatusCode::NOT_FOUND, "{last}");
    }
}
