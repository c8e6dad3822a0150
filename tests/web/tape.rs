//! The tape walk at the shop's door: one figure at a time, set once, never over another's unseen.
#![expect(clippy::indexing_slicing, reason = "a test may stop")]

use axum::http::StatusCode;
use serde_json::{Value, json};
use tackbook::domain::cage::ORDER_OF_MEASURING;
use tackbook::domain::cage::record::example::example_record;

use crate::cage::{save, typed};
use crate::house::{Browser, House};

const WALK: &str = "/builds/pine-coupe/cage/tape";

async fn saves(house: &House) -> usize {
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap();
    house.store.cage_saves(build.id, 100).await.unwrap().len()
}

async fn begun(browser: &Browser<'_>) {
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
}

fn figure(text: &str, sixteenths: Option<u8>, was: &str) -> Value {
    json!({ "text": text, "sixteenths": sixteenths, "units": "inch", "was": was, "same": true })
}

async fn tell(browser: &Browser<'_>, key: &str, figure: &Value) -> (StatusCode, Value) {
    let address = format!("{WALK}/{key}");
    let answer = browser.put(&address, figure.to_string()).await;
    (answer.status, serde_json::from_str(&answer.text).unwrap_or_default())
}

async fn at_the_shop(browser: &Browser<'_>, key: &str) -> Value {
    let walk: Value = serde_json::from_str(&browser.get("/builds/pine-coupe/cage/tape.json").await.text).unwrap();
    let steps = walk["steps"].as_array().unwrap();
    steps.iter().find(|step| step["key"] == key).unwrap()["was"].clone()
}

#[tokio::test]
async fn a_figure_told_twice_is_set_once_and_anothers_is_never_overwritten_unseen() {
    let house = House::new().await;
    let (one, other) = (house.browser("fabricator").await, house.browser("office").await);
    begun(&one).await;
    let first = figure("26", Some(2), "");
    assert_eq!(tell(&one, "knee_up_left", &first).await, (StatusCode::OK, json!({ "set": "26 1/8 in" })));
    let before = saves(&house).await;
    assert_eq!(tell(&one, "knee_up_left", &first).await.0, StatusCode::OK);
    assert_eq!(saves(&house).await, before, "told again, nothing is saved again");
    let over = tell(&other, "knee_up_left", &figure("27", Some(0), "")).await;
    assert_eq!(over, (StatusCode::CONFLICT, json!({ "theirs": "26 1/8 in" })));
    assert_eq!(at_the_shop(&one, "knee_up_left").await, "26 1/8 in");
    let seen = tell(&other, "knee_up_left", &figure("27", Some(0), "26 1/8 in")).await;
    assert_eq!(seen, (StatusCode::OK, json!({ "set": "27 in" })));
    // Two who measure different things at once are both heard.
    let (left, right) = (figure("13", Some(3), ""), figure("40", None, ""));
    let (there, here) = tokio::join!(tell(&one, "knee_out_left", &left), tell(&other, "hoop_roof_height", &right));
    assert_eq!((there.0, here.0), (StatusCode::OK, StatusCode::OK));
    assert_eq!(at_the_shop(&one, "knee_out_left").await, "13 3/16 in");
    assert_eq!(at_the_shop(&one, "hoop_roof_height").await, "40 in");
    let log = one.get("/builds/pine-coupe/log").await.text;
    assert!(log.contains("Pillar knee: height, left was measured: 26 1/8 in."), "{log}");
}

#[tokio::test]
async fn what_cannot_be_is_refused_in_words_and_sets_nothing() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    begun(&browser).await;
    for (said, why) in [
        (figure("about so", None, ""), "does not read as a length"),
        (figure("26 1/8", Some(4), ""), "typed and chosen"),
        (figure("900", Some(0), ""), "out of bounds"),
        (figure("", None, ""), "no figure in it"),
        (json!({ "text": "26" }), "no figure of a measurement"),
        (
            json!({ "text": "2".repeat(9_000), "units": "inch", "was": "", "same": true, "sixteenths": null }),
            "no figure",
        ),
    ] {
        let (status, answer) = tell(&browser, "knee_up_left", &said).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{said}");
        assert!(answer["why"].as_str().unwrap().contains(why), "{answer}");
    }
    assert_eq!(tell(&browser, "elbow", &figure("26", None, "")).await.0, StatusCode::NOT_FOUND);
    assert_eq!(at_the_shop(&browser, "knee_up_left").await, "");
    // By the plain form as well, where it was typed.
    let form = [("at", "knee_up_left"), ("was", ""), ("shown_in", "inch"), ("value", "9 feet or so"), ("go", "next")];
    let answer = browser.post(WALK, &form).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text.contains("value=\"9 feet or so\"") && answer.text.contains("does not read"), "{}", answer.text);
}

#[tokio::test]
async fn the_right_side_follows_until_it_is_measured_on_its_own() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    begun(&browser).await;
    let sent = |at: &'static str, value: &'static str, same: &'static str| {
        [
            ("at", at),
            ("was", ""),
            ("shown_in", "inch"),
            ("value", value),
            ("sixteenths", "2"),
            ("same", same),
            ("go", "next"),
        ]
    };
    let next = browser.post(WALK, &sent("knee_up_left", "26", "yes")).await;
    assert_eq!(next.to, format!("{WALK}?at=screen_corner_forward_left"));
    let apart = browser.post(WALK, &sent("screen_corner_up_left", "42", "")).await;
    assert_eq!(apart.to, format!("{WALK}?at=screen_corner_up_right"));
    let sheet = browser.get(&apart.to).await.text;
    assert!(sheet.contains("Right upper screen corner, height"), "{sheet}");
    browser.post(WALK, &sent("screen_corner_up_right", "41", "")).await;
    assert_eq!(at_the_shop(&browser, "screen_corner_up_right").await, "41 1/8 in");
    assert_eq!(at_the_shop(&browser, "knee_up_right").await, "");
    // Nothing typed is nothing kept: one goes on, and comes back.
    let on = browser.post(WALK, &[("at", "hoop_lean"), ("was", ""), ("shown_in", "inch"), ("go", "next")]).await;
    assert_eq!(on.status, StatusCode::SEE_OTHER);
    assert_eq!(at_the_shop(&browser, "hoop_lean").await, "");
    // Told to be the same after all, the right one's own figure goes.
    let mut again = figure("42", Some(2), "42 1/8 in");
    assert_eq!(tell(&browser, "screen_corner_up_left", &again).await.0, StatusCode::OK);
    assert_eq!(at_the_shop(&browser, "screen_corner_up_right").await, "");
    again["was"] = json!("nothing of the kind");
    assert_eq!(tell(&browser, "screen_corner_up_left", &again).await.0, StatusCode::OK, "it says so already");
}

/// What the shop's record says of a build's joints.
async fn joints(house: &House) -> Vec<(String, String)> {
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap();
    let record = house.store.cage(build.id).await.unwrap().unwrap().record().unwrap();
    let numbers = record.numbers.iter().map(|(key, given)| (key.clone(), given.to_string()));
    numbers.filter(|(_, number)| number.starts_with('J')).collect()
}

/// The choices of the example with none of its measurements.
fn choices() -> Vec<(String, String)> {
    let measured = |name: &str| ORDER_OF_MEASURING.iter().any(|measure| measure.key() == name);
    typed("0").into_iter().filter(|(name, _)| !measured(name)).collect()
}

/// Measures the example by the tape, the left side at the right as it is, `between` done in the midst.
async fn by_tape(browser: &Browser<'_>, between: impl AsyncFn()) {
    let measures: Vec<_> = example_record().measures.into_iter().collect();
    for (at, (measure, typed)) in measures.iter().enumerate() {
        if at == measures.len() * 4 / 5 {
            between().await;
        }
        let said = json!({ "text": typed.text, "sixteenths": null, "units": "metric", "was": "", "same": false });
        let (status, answer) = tell(browser, &measure.key(), &said).await;
        assert_eq!(status, StatusCode::OK, "{measure}: {answer}");
    }
}

#[tokio::test]
async fn a_cage_measured_in_many_goes_is_numbered_as_in_one_until_something_names_a_part() {
    let at_once = House::new().await;
    let browser = at_once.browser("fabricator").await;
    begun(&browser).await;
    assert_eq!(save(&browser, &typed("0")).await.status, StatusCode::SEE_OTHER);
    let wanted = joints(&at_once).await;
    assert!(wanted.len() > 20);

    let by_goes = House::new().await;
    let browser = by_goes.browser("fabricator").await;
    begun(&browser).await;
    assert_eq!(save(&browser, &choices()).await.status, StatusCode::SEE_OTHER);
    by_tape(&browser, async || {
        let sheet = browser.get("/builds/pine-coupe/stickers.pdf?of=all&paper=a4").await;
        assert_eq!(sheet.status, StatusCode::UNPROCESSABLE_ENTITY, "no number is printed while it may change");
        assert!(sheet.text.contains("may be numbered anew"), "{}", sheet.text);
    })
    .await;
    assert_eq!(joints(&by_goes).await, wanted);
    assert_eq!(browser.get("/builds/pine-coupe/stickers.pdf?of=all&paper=a4").await.status, StatusCode::OK);

    // A note may name one: from then on those given out stay.
    let noted = House::new().await;
    let browser = noted.browser("fabricator").await;
    begun(&browser).await;
    assert_eq!(save(&browser, &choices()).await.status, StatusCode::SEE_OTHER);
    let given = std::cell::RefCell::new(Vec::new());
    by_tape(&browser, async || {
        given.replace(joints(&noted).await);
        let note = browser.post("/builds/pine-coupe/log", &[("day", "2026-05-04"), ("text", "J1 is tacked.")]).await;
        assert_eq!(note.status, StatusCode::SEE_OTHER, "{}", note.text);
    })
    .await;
    let (given, after) = (given.into_inner(), joints(&noted).await);
    assert!(!given.is_empty() && given.iter().all(|one| after.contains(one)), "{given:?} {after:?}");
    assert_ne!(after, wanted, "else this test shows nothing");
}
