//! Dies: added, tested, taken back; what they show stands on the bend sheets.

use axum::http::StatusCode;

use crate::cage::{save, typed};
use crate::house::House;
use crate::paper;

/// The wall of the cage's bars before the car has a class.
const WALL: &str = ".095";
pub(crate) const DIE: [(&str, &str); 4] =
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
        let answer = browser.post(&tests, &[("die", &id), ("set", set), ("got", got), ("wall", WALL)]).await;
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
    assert!(words.contains("Marks: over the die “1 1/2 x 4 1/2”") && !words.contains("not known"), "{words}");
    browser.post(&format!("{tests}/3/back"), &[]).await;
    assert_eq!(house.store.dies().await.unwrap()[0].tests.len(), 3);
}

/// Without a test bend the die's offset is in the marks all the same, and the sheet says so; with another wall's too.
#[tokio::test]
async fn the_sheet_says_what_is_in_its_marks() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    save(&browser, &typed("0")).await;
    let sheet = async || {
        let pdf = browser.get("/builds/pine-coupe/members/M1/sheets.pdf").await.bytes;
        paper::words(&pdf).split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(
        sheet().await.contains("no die of the shop is for this tube and radius: the marks are where the bends begin")
    );
    browser.post("/dies", &DIE).await;
    let words = sheet().await;
    assert!(words.contains("the marks stand 1/2 in before the bends") && words.contains("no test bend"), "{words}");
    let id = house.store.dies().await.unwrap()[0].id.to_string();
    let thick = [("die", &*id), ("set", "90"), ("got", "87"), ("wall", "4 mm")];
    assert_eq!(browser.post(&format!("/dies/{id}/tests"), &thick).await.to, "/dies");
    let words = sheet().await;
    assert!(words.contains("the marks stand 1/2 in before the bends"), "{words}");
    assert!(words.contains("tested with a wall of 0.157 in") && words.contains("not known"), "{words}");
    // Which way the bender swings and counts is on the sheet, in words and in the picture.
    assert!(words.contains("plus is clockwise") && words.contains("swung to the left"), "{words}");
    let other = [("swing", "right"), ("plus", "anticlockwise")];
    assert_eq!(browser.post(&format!("/dies/{id}/bender"), &other).await.to, "/dies");
    let words = sheet().await;
    assert!(words.contains("plus is anticlockwise") && words.contains("swung to the right"), "{words}");
    assert_eq!(browser.post(&format!("/dies/{id}/away"), &[]).await.to, "/dies");
    assert!(sheet().await.contains("no die of the shop"));
}

#[tokio::test]
async fn a_second_die_for_a_tube_and_radius_waits_until_the_first_is_put_away() {
    let house = House::new().await;
    let browser = house.browser("office").await;
    browser.post("/dies", &DIE).await;
    let mut second = DIE;
    second[0].1 = "the new one";
    second[1].1 = "38.1 mm";
    let answer = browser.post("/dies", &second).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text.contains("is for this tube and radius already") && answer.text.contains("the new one"));
    let first = house.store.dies().await.unwrap()[0].id.to_string();
    browser.post(&format!("/dies/{first}/away"), &[]).await;
    assert_eq!(browser.post("/dies", &second).await.to, "/dies");
    let sheet = browser.get("/dies").await.text;
    assert!(sheet.contains("Put away: 1") && sheet.contains("Dies: 1"), "{sheet}");
    let answer = browser.post(&format!("/dies/{first}/in-use"), &[]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text.contains("“the new one” is for this tube"), "{}", answer.text);
}

/// The bender holds more than the straight between two bends: said on the screen and on the sheet, with what is lacking.
#[tokio::test]
async fn bends_nearer_than_the_bender_holds_are_told() {
    let house = House::new().await;
    let browser = house.browser("office").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    save(&browser, &typed("0")).await;
    assert!(!browser.get("/builds/pine-coupe/sheets").await.text.contains("the bender holds"));
    let saw =
        [("kerf", "3 mm"), ("trim", "0 mm"), ("cope", "0 mm"), ("grip", "1.2 m"), ("buy", "6 m"), ("keep", "300 mm")];
    let answer = browser.post("/builds/pine-coupe/cuts", &saw).await;
    assert!(answer.status.is_redirection(), "{}", answer.text);
    let screen = browser.get("/builds/pine-coupe/sheets").await.text;
    assert!(screen.contains("Between bends 1 and 2 the tube is straight for"), "{screen}");
    let pdf = browser.get("/builds/pine-coupe/members/M1/sheets.pdf").await.bytes;
    let words = paper::words(&pdf).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("LOOK: Between bends 1 and 2") && words.contains("the bender holds 47 1/4 in"), "{words}");
    assert!(words.contains("longer at end A"), "the piece is cut longer for the hold: {words}");
}

#[tokio::test]
async fn a_test_bend_that_cannot_be_is_refused_at_its_die_and_kept_as_typed() {
    let house = House::new().await;
    let browser = house.browser("office").await;
    for (name, radius) in [("one", "4 1/2 in"), ("two", "6 in")] {
        let mut die = DIE;
        (die[0].1, die[2].1) = (name, radius);
        browser.post("/dies", &die).await;
    }
    let id = house.store.dies().await.unwrap()[1].id.to_string();
    let answer = browser
        .post(&format!("/dies/{id}/tests"), &[("die", &id), ("set", "90"), ("got", "95"), ("wall", ".095")])
        .await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(answer.text.matches("A tube springs back").count(), 1, "{}", answer.text);
    assert_eq!(answer.text.matches(r#"value="95°""#).count(), 1);
    let wide = [("name", ""), ("outside", "9 in"), ("radius", "x"), ("offset", "0")];
    let answer = browser.post("/dies", &wide).await;
    assert!(answer.text.contains(r#"value="9 in""#) && answer.status == StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(house.browser("scrutineer").await.post("/dies", &DIE).await.status, StatusCode::NOT_FOUND);
}
