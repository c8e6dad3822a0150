//! Photographs on screen: views by hash, the desk's sheet, the walk with a phone.

use axum::http::StatusCode;
use tackbook::domain::fingerprint::Fingerprint;

use crate::camera::{Phone, jpeg, new_capture, picture, upload};
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
