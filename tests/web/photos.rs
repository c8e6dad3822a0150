//! Photographs on screen: views by hash, the desk's sheet, one photograph, placing and withdrawing.

use axum::http::StatusCode;
use tackbook::domain::words::fingerprint::Fingerprint;

use crate::camera::{Phone, asked_for, jpeg, new_capture, picture, upload};
use crate::house::House;

fn address(bytes: &[u8], view: &str) -> String {
    format!("/builds/pine-coupe/photos/{}/{view}", Fingerprint::of(bytes))
}

#[tokio::test]
async fn views_are_our_own_small_pictures_and_are_made_again_when_gone() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = picture(3, image::ImageFormat::Png);
    phone.keep(&bytes, "").await;
    let views = house.folder.0.join("views");
    assert_eq!(std::fs::read_dir(&views).unwrap().count(), 3, "three views, nothing half made");
    for again in [false, true] {
        for (view, side) in [("screen", 1200), ("print", 1200), ("thumbnail", 320)] {
            let answer = phone.browser.get(&address(&bytes, view)).await;
            assert_eq!((answer.status, answer.header("content-type")), (StatusCode::OK, "image/jpeg".to_owned()));
            assert_eq!(answer.header("cache-control"), "private, max-age=86400, immutable");
            let seen = image::load_from_memory(&answer.bytes).unwrap();
            assert_eq!(seen.width(), side, "{view}, made again: {again}");
        }
        std::fs::remove_dir_all(&views).unwrap();
        std::fs::create_dir(&views).unwrap();
    }
    let original = phone.browser.get(&address(&bytes, "original")).await;
    assert_eq!(original.bytes, bytes);
    assert_eq!(original.header("content-type"), "image/png");
    assert!(original.header("content-disposition").starts_with("attachment; filename=\"pine-coupe-"));
    assert!(original.policy.contains("sandbox"), "{}", original.policy);
    let tag = original.header("etag");
    let known = phone.browser.request("GET", &address(&bytes, "original")).header("if-none-match", tag);
    assert_eq!(house.ask(known.body(axum::body::Body::empty()).unwrap()).await.status, StatusCode::NOT_MODIFIED);
}

#[tokio::test]
async fn a_picture_is_seen_within_its_build_by_who_may_see_it() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let (bytes, waiting) = (jpeg(1), jpeg(2));
    phone.keep(&bytes, "").await;
    phone.tell(&new_capture(), &waiting, "").await;
    phone.browser.post("/builds/new", &[("name", "Elm Saloon")]).await;
    let place = address(&bytes, "screen");
    assert_eq!(house.browser("office").await.get(&place).await.status, StatusCode::OK);
    assert_eq!(house.browser("scrutineer").await.get(&place).await.status, StatusCode::NOT_FOUND);
    assert_eq!(house.stranger().get(&place).await.status, StatusCode::SEE_OTHER);
    for nothing in [
        place.replace("pine-coupe", "elm-saloon"),
        place.replace("screen", "huge"),
        address(b"unknown", "screen"),
        address(&waiting, "original"),
        place.replace(Fingerprint::of(&bytes).text(), "..%2f..%2ftackbook.db"),
    ] {
        assert_eq!(phone.browser.get(&nothing).await.status, StatusCode::NOT_FOUND, "{nothing}");
    }
}

#[tokio::test]
async fn a_photo_whose_end_is_missing_is_kept_and_said_to_be() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let whole = jpeg(1);
    let cut = whole[..whole.len() / 2].to_vec();
    let answer = phone.keep(&cut, "").await;
    assert!(answer.text.contains("The end of this picture is missing"), "{}", answer.text);
    assert_eq!(phone.browser.get(&address(&cut, "screen")).await.status, StatusCode::NOT_FOUND);
    assert_eq!(phone.browser.get(&address(&cut, "original")).await.bytes, cut);
    assert_eq!(std::fs::read_dir(house.folder.0.join("views")).unwrap().count(), 0, "nothing half made is left");
    assert_eq!(phone.standing(&cut).await.2, "?1", "{}", upload(&cut));
}

#[tokio::test]
async fn the_desk_sees_each_shot_by_part_with_its_state_in_words() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let office = house.browser("office").await;
    assert!(office.get("/builds/elm-saloon/photos").await.text.contains("0 of "));
    let (good, cut) = (jpeg(1), jpeg(2)[..4000].to_vec());
    phone.keep(&good, "J7 joint-tacked/wide").await;
    phone.keep(&cut, "J7 joint-tacked/close").await;
    phone.keep(&jpeg(3), "").await;
    phone.tell(&new_capture(), &good, "J9 joint-tacked/wide").await;
    phone.tell(&new_capture(), &jpeg(4), "J8 joint-tacked/wide").await;
    let why = [("shot", "J8 joint-tacked/close"), ("why", "The seat is in the way.")];
    phone.browser.post("/builds/elm-saloon/walk/cannot", &why).await;
    let sheet = office.get("/builds/elm-saloon/photos").await.text;
    for words in [
        ">2 of ",
        "The very same picture is also at J9 joint-tacked/wide.",
        "/joints/J7",
        "photographed",
        "came, but cannot be shown",
        "The end of this picture is missing",
        "on a phone, not sent yet",
        "reported impossible, Q1: The seat is in the way.",
        "Extra photographs",
        "Still on a phone",
    ] {
        assert!(sheet.contains(words), "{words}");
    }
    assert!(sheet.contains(&format!("/photos/{}/thumbnail", Fingerprint::of(&good))));
    assert!(
        !sheet.contains(&format!("/photos/{}/thumbnail", Fingerprint::of(&cut))),
        "what cannot be shown has no picture"
    );
}

#[tokio::test]
async fn one_photo_is_shown_large_with_both_its_times() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    phone.keep(&bytes, "J7 joint-tacked/wide").await;
    let page = format!("/builds/pine-coupe/photos/{}", Fingerprint::of(&bytes));
    let sheet = phone.browser.get(&page).await.text;
    for words in ["2026-05-04 09:30", "The phone says", "2026-05-04 11:29:00", "1200 × 900", "/original"] {
        assert!(sheet.contains(words), "{words}");
    }
    assert!(sheet.contains(&format!("{page}/screen")) && !sheet.contains("Withdraw it"), "only the office withdraws");
    assert_eq!(house.browser("scrutineer").await.get(&page).await.status, StatusCode::NOT_FOUND);
    let other = format!("/builds/pine-coupe/photos/{}", Fingerprint::of(b"other"));
    assert_eq!(phone.browser.get(&other).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn only_the_office_withdraws_with_a_reason_and_the_bytes_stay() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let (bytes, office) = (jpeg(1), house.browser("office").await);
    phone.keep(&bytes, "").await;
    let page = format!("/builds/pine-coupe/photos/{}", Fingerprint::of(&bytes));
    let build = house.store.builds().await.unwrap().remove(0).id;
    let capture = house.store.photos(build).await.unwrap().remove(0).capture.to_string();
    let withdraw = format!("{page}/withdraw");
    let refused = phone.browser.post(&withdraw, &[("capture", &capture), ("why", "blurred")]).await;
    assert_eq!(refused.status, StatusCode::NOT_FOUND);
    let empty = office.post(&withdraw, &[("capture", &capture), ("why", " ")]).await;
    assert_eq!(empty.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(empty.text.contains("This must not be empty"));
    let other = office.post(&withdraw, &[("capture", &new_capture()), ("why", "blurred")]).await;
    assert_eq!(other.status, StatusCode::NOT_FOUND);
    let done = office.post(&withdraw, &[("capture", &capture), ("why", "Shows <b>another</b> car")]).await;
    assert_eq!(done.status, StatusCode::SEE_OTHER, "{}", done.text);
    let sheet = office.get("/builds/pine-coupe/photos").await.text;
    assert!(sheet.contains("Withdrawn") && sheet.contains("Shows &#60;b&#62;another&#60;/b&#62; car"), "{sheet}");
    assert_eq!(office.get(&address(&bytes, "original")).await.bytes, bytes);
}

#[tokio::test]
async fn a_photo_taken_for_nothing_is_placed_at_a_shot_and_the_log_says_so() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let bytes = jpeg(1);
    phone.keep(&bytes, "").await;
    let build = house.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id;
    let capture = house.store.photos(build).await.unwrap().remove(0).capture.to_string();
    let place = format!("/builds/elm-saloon/photos/{}/place", Fingerprint::of(&bytes));
    let unknown = phone.browser.post(&place, &[("capture", &capture), ("shot", "J7 nothing")]).await;
    assert_eq!(unknown.status, StatusCode::UNPROCESSABLE_ENTITY);
    let placed = phone.browser.post(&place, &[("capture", &capture), ("shot", "J7 joint-tacked/wide")]).await;
    assert_eq!(placed.status, StatusCode::SEE_OTHER, "{}", placed.text);
    assert!(phone.browser.get("/builds/elm-saloon/joints/J7").await.text.contains("/screen"));
    let newest = house.store.log(1).await.unwrap().remove(0);
    assert_eq!(newest.what, "A photo was placed at J7 joint-tacked/wide.");
}
