//! What is said of a photograph on the walk, kept so or seen: kept with it, by whom, and shown wherever it is remarked on.

use axum::body::Body;
use axum::http::StatusCode;
use serde_json::json;
use tackbook::domain::recorded::photos::{Photo, Statement};
use tackbook::domain::words::fingerprint::Fingerprint;

use crate::camera::{Phone, asked_for, new_capture};
use crate::house::{Answer, Browser, House};
use crate::paper;
use crate::walk::send_form;

const SAID: &str = "/builds/elm-saloon/walk/said";
const WIDE: &str = "J7 joint-tacked/wide";
const DARK: &str = "Very dark in the middle.";

/// A photograph of which there is something to say.
fn dark() -> Vec<u8> {
    let picture =
        image::GrayImage::from_fn(1280, 960, |x, y| image::Luma([u8::try_from((x / 40 + y / 40) % 3).unwrap()]));
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Jpeg).unwrap();
    bytes.into_inner()
}

async fn tell(house: &House, browser: &Browser<'_>, told: serde_json::Value) -> Answer {
    let request = browser.request("PUT", SAID).header("sec-fetch-site", "same-origin");
    house.ask(request.body(Body::from(told.to_string())).unwrap()).await
}

async fn photo(house: &House) -> Photo {
    let build = house.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id;
    house.store.photos(build).await.unwrap().remove(0)
}

async fn said(house: &House) -> Vec<(String, Statement)> {
    let build = house.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id;
    let facts = house.store.facts(build).await.unwrap();
    facts.photos_said.into_iter().map(|one| (one.by, one.said)).collect()
}

#[tokio::test]
async fn keep_it_so_is_kept_with_the_photograph_and_shown_where_it_is_remarked_on() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let bytes = dark();
    phone.keep(&bytes, WIDE).await;
    let capture = photo(&house).await.capture.to_string();
    let remark = photo(&house).await.received.unwrap().remarks.into_iter().find(|one| one.starts_with(DARK)).unwrap();
    let office = house.browser("office").await;
    let own = format!("/builds/elm-saloon/photos/{}", Fingerprint::of(&bytes));
    assert!(!office.get(&own).await.text.contains("Kept so"));
    // The walk asks, by a form that needs no script.
    let walk =
        phone.browser.get(&format!("/builds/elm-saloon/walk?after=J7%20joint-tacked%2Fwide&last={capture}")).await.text;
    assert!(walk.contains("action=\"/builds/elm-saloon/walk/said\"") && walk.contains("Keep it so"), "{walk}");
    let pairs = [("capture", capture.as_str()), ("shot", "J7 joint-tacked/close"), ("keep", "yes")];
    let answer = phone.browser.post(SAID, &pairs).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    assert!(answer.to.contains("walk?shot=J7"), "{}", answer.to);
    // Twice is once; whoever said it first stands.
    assert_eq!(tell(&house, &office, json!({ "capture": capture, "keep": true })).await.status, StatusCode::NO_CONTENT);
    let kept = said(&house).await;
    assert!(kept.contains(&("fabricator".to_owned(), Statement::KeptSo(remark))), "{kept:?}");
    assert!(kept.iter().all(|(by, _)| by == "fabricator"));
    let words = "Kept so, says fabricator, 2026-05-04";
    for sheet in [own.as_str(), "/builds/elm-saloon/photos", "/builds/elm-saloon/joints/J7"] {
        assert!(office.get(sheet).await.text.contains(words), "{sheet}");
    }
    let log = office.get("/builds/elm-saloon/log").await.text;
    assert!(log.contains("Of the photo at J7 joint-tacked/wide: kept so, “Very dark"), "{log}");
    let packet = paper::words(&office.get("/builds/elm-saloon/packet.pdf").await.bytes);
    let packet = packet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(packet.contains("Kept so, says fabricator"), "{packet}");
    // At another shot it shows something else: it is said anew.
    let place = [("capture", capture.as_str()), ("shot", "J7 joint-tacked/close")];
    assert_eq!(office.post(&format!("{own}/place"), &place).await.status, StatusCode::SEE_OTHER);
    assert!(!office.get(&own).await.text.contains("Kept so"));
}

#[tokio::test]
async fn what_is_ticked_as_seen_is_a_persons_word_kept_with_the_photograph() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let sheet = phone.browser.get("/builds/elm-saloon/walk?shot=J7%20joint-tacked%2Fwide").await.text;
    let must = sheet.split("name=\"seen\" value=\"").nth(1).unwrap().split('"').next().unwrap().to_owned();
    // With the plain form, in one go; what is none of the shot's is no tick.
    let capture = new_capture();
    let bytes = crate::camera::jpeg(3);
    let texts = [("capture", capture.as_str()), ("shot", WIDE), ("seen", must.as_str()), ("seen", "the moon")];
    let answer = send_form(&phone, &texts, &[("a.jpg", &bytes)]).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    assert_eq!(said(&house).await, [("fabricator".to_owned(), Statement::Seen(must.clone()))]);
    let own = format!("/builds/elm-saloon/photos/{}", Fingerprint::of(&bytes));
    let shown = house.browser("office").await.get(&own).await.text;
    assert!(shown.contains("Seen, says fabricator, 2026-05-04 ") && shown.contains(&must), "{shown}");
    // A phone tells it later, in its own time; of what is not there nothing is kept, and nobody else may.
    let told = tell(&house, &phone.browser, json!({ "capture": capture, "seen": [must] })).await;
    assert_eq!((told.status, said(&house).await.len()), (StatusCode::NO_CONTENT, 1));
    let other = json!({ "capture": new_capture(), "seen": [] });
    assert_eq!(tell(&house, &phone.browser, other.clone()).await.status, StatusCode::NOT_FOUND);
    assert_eq!(tell(&house, &house.browser("scrutineer").await, other).await.status, StatusCode::NOT_FOUND);
    assert_eq!(tell(&house, &phone.browser, json!("x")).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(tell(&house, &house.stranger(), json!({})).await.status, StatusCode::UNAUTHORIZED);
}
