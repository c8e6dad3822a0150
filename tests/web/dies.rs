//! Dies: added, tested, taken back; what they show stands on the bend sheets.

use axum::http::StatusCode;

use crate::cage::{save, typed};
use crate::house::House;
use crate::paper;

const DIE: [(&str, &str); 4] =
    [("name", "1 1/2 x 4 1/2"), ("outside", "1 1/2"), ("radius", "4 1/2 in"), ("offset", "1/2")];

#[tokio::test]
async fn what_test_bends_show_stands_on_the_bend_sheet() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    save(&browser, &typed("0")).await;
    let marks = async || {
        let answer = browser.get("/builds/pine-coupe/numbers.json").await.bytes;
        let numbers: serde_json::Value = serde_json::from_slice(&answer).unwrap();
        let bend = &numbers["members"][0]["bends"][1];
        (bend["mark"].as_f64().unwrap(), bend["angle"].as_f64().unwrap(), bend["set_angle"].as_f64())
    };
    let (bare, _, none) = marks().await;
    assert_eq!(none, None);
    assert_eq!(browser.post("/dies", &DIE).await.to, "/dies");
    let id = house.store.dies().await.unwrap()[0].id.to_string();
    let tests = format!("/dies/{id}/tests");
    // The line by numpy polyfit 2.4: got = -1.50654205607 + 0.976822429907 set.
    for (set, got) in [("20", "18.1"), ("45", "42.4"), ("90", "86.3"), ("120", "115.8")] {
        let answer = browser.post(&tests, &[("die", &id), ("set", set), ("got", got)]).await;
        assert_eq!(answer.to, "/dies", "{}", answer.text);
    }
    let sheet = browser.get("/dies").await.text;
    assert!(sheet.contains("93.7°") && sheet.contains("63.0°") && sheet.contains("by a line through"), "{sheet}");
    let (mark, angle, set) = marks().await;
    assert!((set.unwrap() - (angle + 1.506_542_056_07) / 0.976_822_429_907).abs() < 1e-6);
    // Half an inch from the mark to the bend's start: 12.7 mm exactly.
    assert!((bare - mark - 12.7).abs() < 1e-6, "{bare} {mark}");
    let pdf = browser.get("/builds/pine-coupe/members/M1/sheets.pdf").await.bytes;
    let words = paper::words(&pdf);
    assert!(words.contains("over the die “1 1/2 x 4 1/2”") && !words.contains("not known"), "{words}");
    browser.post(&format!("{tests}/3/back"), &[]).await;
    assert_eq!(house.store.dies().await.unwrap()[0].tests.len(), 3);
}

#[tokio::test]
async fn a_test_bend_that_cannot_be_is_refused_at_its_die_and_kept_as_typed() {
    let house = House::new().await;
    let browser = house.browser("office").await;
    for name in ["one", "two"] {
        let mut die = DIE;
        die[0].1 = name;
        browser.post("/dies", &die).await;
    }
    let id = house.store.dies().await.unwrap()[1].id.to_string();
    let answer = browser.post(&format!("/dies/{id}/tests"), &[("die", &id), ("set", "90"), ("got", "95")]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(answer.text.matches("A tube springs back").count(), 1, "{}", answer.text);
    assert_eq!(answer.text.matches(r#"value="95°""#).count(), 1);
    let wide = [("name", ""), ("outside", "9 in"), ("radius", "x"), ("offset", "0")];
    let answer = browser.post("/dies", &wide).await;
    assert!(answer.text.contains(r#"value="9 in""#) && answer.status == StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(house.browser("scrutineer").await.post("/dies", &DIE).await.status, StatusCode::NOT_FOUND);
}
