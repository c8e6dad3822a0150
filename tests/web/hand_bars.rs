//! Bars by hand: hung where they are measured, on both sides, refused in words, taken out with their number kept.

use axum::http::StatusCode;

use crate::cage::{save, typed};
use crate::house::{House, encoded};

const BARS: &str = "/builds/pine-coupe/bars";

/// What the form sends for a long stay, so high over the plate of its last bar.
fn whole(by: &str) -> [(String, String); 12] {
    let pairs = [
        ("first", "M5"),
        ("first_place", "middle"),
        ("first_by", ""),
        ("first_corner", "no"),
        ("last", "M2"),
        ("last_place", "plate end"),
        ("last_by", by),
        ("last_corner", "no"),
        ("last_offset", "1/8"),
        ("name", "long stay"),
        ("role", "other bar"),
        ("mirror", "yes"),
    ];
    pairs.map(|(name, text)| (name.to_owned(), text.to_owned()))
}

#[tokio::test]
async fn a_bar_is_hung_between_two_bars_on_both_sides_and_taken_out() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert!(browser.get(BARS).await.text.contains("Measure the cage first"));
    save(&browser, &typed("0")).await;
    // The left backstay to the left half hoop.
    let sheet = browser.get(&format!("{BARS}?first=M5&last=M2")).await.text;
    for words in
        ["First end: on M5 backstay", "Last end: on M2 lateral half hoop", "so high over its plate", "meets it"]
    {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let post = async |pairs: &[(String, String)]| {
        let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        browser.post(BARS, &pairs).await
    };
    let wrong = post(&whole("a hand")).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in
        ["value=\"a hand\"", "does not read as a length", "value=\"long stay\"", "value=\"plate end\" selected"]
    {
        assert!(wrong.text.contains(words), "{words}: {}", wrong.text);
    }
    // Drawn first, it is not added, and what was typed stays.
    let look = async |by: &str| {
        let typed = whole(by);
        let typed = typed.iter().map(|(name, text)| (name.as_str(), text.as_str()));
        let asked: Vec<(&str, &str)> = typed.chain([("drawn", "yes")]).collect();
        browser.get(&format!("{BARS}?{}", encoded(&asked))).await
    };
    let drawn = look("9 in").await;
    assert_eq!(drawn.status, StatusCode::OK);
    for words in ["As typed it would lie so; it is not added yet", "left, ", "right, ", "value=\"9 in\""] {
        assert!(drawn.text.contains(words), "{words}: {}", drawn.text);
    }
    assert!(look("80 in").await.text.contains("does not reach"));
    assert!(browser.get(BARS).await.text.contains("Added by hand: 0"));
    let added = post(&whole("9 in")).await;
    assert_eq!((added.status, added.to.as_str()), (StatusCode::SEE_OTHER, BARS), "{}", added.text);
    let sheet = browser.get(BARS).await.text;
    assert!(sheet.contains("Added by hand: 2"), "{sheet}");
    assert!(sheet.contains("from M5 to M2") && sheet.contains("from M6 to M3"), "{sheet}");
    let at = sheet.find("/members/M").unwrap();
    let bar = sheet[at..].split('"').next().unwrap();
    let page = browser.get(&format!("/builds/pine-coupe{bar}")).await.text;
    assert!(page.contains("other bar"), "{page}");
    // Too high for the bar it lands on: kept, and told why it is not laid out.
    post(&whole("80 in")).await;
    assert!(browser.get(BARS).await.text.contains("does not reach"));
    assert_eq!(browser.post(&format!("{BARS}/1/remove"), &[]).await.status, StatusCode::SEE_OTHER);
    assert!(browser.get(BARS).await.text.contains("Added by hand: 3"));
    assert_eq!(browser.post(&format!("{BARS}/1/remove"), &[]).await.status, StatusCode::NOT_FOUND);
    let scrutineer = house.browser("scrutineer").await;
    assert_eq!(scrutineer.post(&format!("{BARS}/2/remove"), &[]).await.status, StatusCode::NOT_FOUND);
}
