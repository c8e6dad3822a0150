//! Lines of the weld log that a phone kept until the shop answered: each is written once however often it is told, and nothing
//! of another's is written over unseen.

use axum::body::Body;
use axum::http::{StatusCode, header};
use serde_json::Value;

use crate::house::{Answer, Browser, House, encoded};
use crate::measures::laid_out;
use crate::welds::weld;

const TOLD: &str = "/builds/pine-coupe/welds/told";
const ONE: &str = "0190a000-0000-4000-8000-000000000001";
const OTHER: &str = "0190a000-0000-4000-8000-000000000002";
const THIRD: &str = "0190a000-0000-4000-8000-000000000003";

fn welded<'a>(joint: &'a str, seen: &'a str) -> Vec<(&'a str, &'a str)> {
    weld(joint, seen, &[("shown_in", "metric")])
}

fn inspected<'a>(joint: &'a str, seen: &'a str) -> Vec<(&'a str, &'a str)> {
    let said = [("did", "inspected"), ("inspector", "office"), ("level", "C"), ("outcome", "accepted")];
    [("joint", joint), ("seen", seen), ("day", "2026-05-04")].into_iter().chain(said).collect()
}

async fn tell(house: &House, browser: &Browser<'_>, name: &str, form: &[(&str, &str)]) -> (Answer, Value) {
    let request = browser.request("PUT", &format!("{TOLD}/{name}")).header("sec-fetch-site", "same-origin");
    let request = request.header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
    let answer = house.ask(request.body(Body::from(encoded(form))).unwrap()).await;
    let said = serde_json::from_str(&answer.text).unwrap_or_default();
    (answer, said)
}

async fn lines(house: &House) -> Vec<(u32, String)> {
    let build = house.store.builds().await.unwrap().remove(0).id;
    let welds = house.store.facts(build).await.unwrap().welds;
    welds.into_iter().map(|weld| (weld.line, format!("{} {}", weld.joint, weld.did.kind()))).collect()
}

#[tokio::test]
async fn a_line_told_ten_times_is_written_once_though_others_were_written_since() {
    let house = House::new().await;
    laid_out(&house).await;
    let fabricator = house.browser("fabricator").await;
    let (answer, said) = tell(&house, &fabricator, ONE, &welded("J7", "0")).await;
    assert_eq!((answer.status, said["line"].as_u64()), (StatusCode::OK, Some(1)), "{}", answer.text);
    // the answer was lost, and somebody wrote of the same joint meanwhile
    let office = house.browser("office").await;
    let (answer, said) = tell(&house, &office, OTHER, &inspected("J7", "1")).await;
    assert_eq!((answer.status, said["line"].as_u64()), (StatusCode::OK, Some(2)), "{}", answer.text);
    for _ in 0..9 {
        let (answer, said) = tell(&house, &fabricator, ONE, &welded("J7", "0")).await;
        assert_eq!((answer.status, said["line"].as_u64()), (StatusCode::OK, Some(1)), "{}", answer.text);
    }
    let there = [(1, "J7 welded".to_owned()), (2, "J7 inspected".to_owned())];
    assert_eq!(lines(&house).await, there);
    let build = house.store.builds().await.unwrap().remove(0).id;
    let log = house.store.log_of_build(build, 100).await.unwrap();
    assert_eq!(log.iter().filter(|entry| entry.room == "welds").count(), 2, "each once in the log");
}

#[tokio::test]
async fn what_another_wrote_meanwhile_and_what_is_wrong_is_told_and_nothing_is_written() {
    let house = House::new().await;
    laid_out(&house).await;
    let (fabricator, office) = (house.browser("fabricator").await, house.browser("office").await);
    tell(&house, &office, ONE, &welded("J7", "0")).await;
    let (answer, said) = tell(&house, &fabricator, OTHER, &inspected("J7", "0")).await;
    assert_eq!((answer.status, said["newest"].as_u64()), (StatusCode::CONFLICT, Some(1)), "{}", answer.text);
    let mut wrong = welded("J8", "0");
    wrong.retain(|pair| pair.0 != "process");
    wrong.push(("volts", "eighteen"));
    let (answer, said) = tell(&house, &fabricator, THIRD, &wrong).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(said["why"].as_str().unwrap().contains("Choose the process."), "{said}");
    let (answer, said) = tell(&house, &fabricator, THIRD, &inspected("J9", "0")).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(said["why"].as_str().unwrap().contains("log the weld first"), "{said}");
    assert_eq!(lines(&house).await, [(1, "J7 welded".to_owned())]);
    // a name that was refused is free for the same line once it is put right
    let (answer, _) = tell(&house, &fabricator, THIRD, &welded("J8", "0")).await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.text);
    assert_eq!(tell(&house, &fabricator, "no-name", &welded("J9", "0")).await.0.status, StatusCode::NOT_FOUND);
    assert_eq!(tell(&house, &house.stranger(), OTHER, &welded("J9", "0")).await.0.status, StatusCode::UNAUTHORIZED);
}

#[tokio::test]
async fn a_phone_keeps_the_order_how_each_joint_stands_and_where_it_is() {
    let house = House::new().await;
    laid_out(&house).await;
    let fabricator = house.browser("fabricator").await;
    tell(&house, &fabricator, ONE, &welded("J7", "0")).await;
    let list: Value = serde_json::from_str(&fabricator.get("/builds/pine-coupe/welds/walk.json").await.text).unwrap();
    let seam = |joint: &str| list["seams"].as_array().unwrap().iter().find(|seam| seam["joint"] == joint).cloned();
    let seam = seam("J7").unwrap();
    assert_eq!((seam["seen"].as_u64(), seam["kind"].as_str()), (Some(1), Some("inspected")), "{seam}");
    assert_eq!(seam["held"], "held, no round yet");
    assert!(list["order"].as_array().unwrap().iter().all(|joint| joint != "J7"), "it is welded: {list}");
    assert!(list["begun"].to_string().contains("A. Welder"), "{list}");
    let drawn = fabricator.get("/builds/pine-coupe/welds/walk-drawings.json").await.text;
    let drawn: Value = serde_json::from_str(&drawn).unwrap();
    assert_eq!(drawn["drawings"], list["drawings"]);
    assert!(drawn["of"]["J7"].as_str().unwrap().starts_with("<svg"));
    // what lies on the phone without the shop has nothing of a build in it
    let alone = house.stranger().get("/offline/welds").await;
    assert_eq!(alone.status, StatusCode::OK);
    assert!(!alone.text.contains("Pine") && !alone.text.contains("A. Welder"), "{}", alone.text);
    for name in ["did", "day", "process", "volts", "level", "outcome", "note", "qualification"] {
        assert_eq!(alone.text.matches(&format!(" name=\"{name}\"")).count(), 1, "{name}: {}", alone.text);
    }
}
