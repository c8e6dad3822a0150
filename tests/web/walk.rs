//! The walk with a phone: one shot at a time, by a plain form when there is no script.

use axum::body::Body;
use axum::http::{StatusCode, header};
use tackbook::domain::words::fingerprint::Fingerprint;

use crate::camera::{Phone, asked_for, jpeg, new_capture};
use crate::house::{Answer, House};

const BOUNDARY: &str = "----a-boundary";

/// Sends the walk's form (RFC 7578) with these files.
pub(crate) async fn send(phone: &Phone<'_>, capture: &str, shot: &str, files: &[(&str, &[u8])]) -> Answer {
    send_form(phone, &[("capture", capture), ("shot", shot), ("note", "by the form")], files).await
}

/// The same with every field said.
pub(crate) async fn send_form(phone: &Phone<'_>, fields: &[(&str, &str)], files: &[(&str, &[u8])]) -> Answer {
    let mut body = Vec::new();
    for (name, value) in fields {
        let part = format!("--{BOUNDARY}\r\ncontent-disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n");
        body.extend(part.into_bytes());
    }
    for (name, bytes) in files {
        let disposition = format!("form-data; name=\"photo\"; filename=\"{name}\"");
        let part = format!("--{BOUNDARY}\r\ncontent-disposition: {disposition}\r\ncontent-type: image/jpeg\r\n\r\n");
        body.extend(part.into_bytes());
        body.extend_from_slice(bytes);
        body.extend_from_slice(b"\r\n");
    }
    body.extend(format!("--{BOUNDARY}--\r\n").into_bytes());
    let path = format!("/builds/{}/walk/photos", phone.build);
    let request = phone
        .browser
        .request("POST", &path)
        .header("sec-fetch-site", "same-origin")
        .header(header::CONTENT_TYPE, format!("multipart/form-data; boundary={BOUNDARY}"));
    phone.house.ask(request.body(Body::from(body)).unwrap()).await
}

/// The number of the shot that a page shows, and of how many.
fn number(page: &str) -> (usize, usize) {
    let told = page.split("<small>shot</small>").nth(1).unwrap().split('<').next().unwrap();
    let (number, total) = told.split_once(" of ").unwrap();
    (number.parse().unwrap(), total.parse().unwrap())
}

/// The shot that a page's form sends.
fn shot(page: &str) -> String {
    page.split("name=\"shot\" value=\"").nth(1).unwrap().split('"').next().unwrap().to_owned()
}

#[tokio::test]
async fn the_walk_shows_one_shot_and_goes_on_when_it_is_kept() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let first = phone.browser.get("/builds/elm-saloon/walk").await.text;
    let (_, total) = number(&first);
    assert!(total > 50 && number(&first).0 == 1, "{total}");
    for words in ["<svg class=\"drawing\"", "capture=\"environment\"", " multiple", "HELD: tacks only", ">Skip<"] {
        assert!(first.contains(words), "{words}");
    }
    let (name, bytes) = (shot(&first), jpeg(1));
    let sent = send(&phone, &new_capture(), &name, &[("", b""), ("photo.jpg", &bytes)]).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let second = phone.browser.get(&sent.to).await.text;
    assert_eq!(number(&second), (2, total));
    assert!(second.contains(&format!("1 of {total} kept")) && second.contains("kept by the shop, 2026-05-04 09:30"));
    assert!(second.contains(&format!("/photos/{}/thumbnail", Fingerprint::of(&bytes))));
    let last = format!("/builds/elm-saloon/walk?shot={}", name.replace(' ', "%20").replace('/', "%2F"));
    let again = phone.browser.get(&last).await.text;
    assert!(number(&again).0 == 1 && again.contains("Already here") && again.contains("by the form"));
}

#[tokio::test]
async fn the_same_form_sent_twice_keeps_each_of_its_photos_once() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let (capture, one, two) = (new_capture(), jpeg(1), jpeg(2));
    for _ in 0..2 {
        let sent = send(&phone, &capture, "", &[("1.jpg", &one), ("2.jpg", &two)]).await;
        assert_eq!((sent.status, sent.to.as_str()), (StatusCode::SEE_OTHER, "/builds/pine-coupe/photos"));
    }
    let build = house.store.builds().await.unwrap().remove(0).id;
    let photos = house.store.photos(build).await.unwrap();
    assert_eq!(photos.len(), 2);
    assert!(photos.iter().all(|photo| photo.received.is_some() && photo.note == "by the form"));
}

#[tokio::test]
async fn what_is_no_photo_is_told_beside_the_buttons_and_leaves_nothing_waiting() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let name = shot(&phone.browser.get("/builds/elm-saloon/walk").await.text);
    let large = [&jpeg(1)[..], &vec![0; 64 << 20]].concat();
    let heif = b"\0\0\0\x18ftypheic\0\0\0\0".to_vec();
    let cases: [(&[u8], &str); 4] = [
        (b"remember the gusset\n", "looks like a text file"),
        (&heif, "HEIF"),
        (&large, "more than 64 MiB"),
        (b"", "No photo was chosen"),
    ];
    for (bytes, words) in cases {
        let sent = send(&phone, &new_capture(), &name, &[("photo.jpg", bytes)]).await;
        assert_eq!(sent.status, StatusCode::UNPROCESSABLE_ENTITY, "{words}");
        assert!(sent.text.contains(words), "{words}");
        assert_eq!((shot(&sent.text), number(&sent.text).0), (name.clone(), 1), "{words}");
    }
    let build = house.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id;
    assert!(house.store.photos(build).await.unwrap().is_empty());
}

#[tokio::test]
async fn a_photo_that_cannot_be_shown_leads_back_to_its_shot() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let name = shot(&phone.browser.get("/builds/elm-saloon/walk").await.text);
    let sent = send(&phone, &new_capture(), &name, &[("photo.jpg", &jpeg(1)[..4000])]).await;
    let page = phone.browser.get(&sent.to).await.text;
    assert_eq!((shot(&page), number(&page).0), (name, 1));
    assert!(page.contains("The end of this picture is missing"), "{page}");
}

#[tokio::test]
async fn a_shot_that_cannot_be_taken_becomes_a_question_and_is_passed_over() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let name = shot(&phone.browser.get("/builds/elm-saloon/walk").await.text);
    let cannot = "/builds/elm-saloon/walk/cannot";
    let empty = phone.browser.post(cannot, &[("shot", &name), ("why", "")]).await;
    assert_eq!(empty.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(empty.text.contains("Say why"));
    let done = phone.browser.post(cannot, &[("shot", &name), ("why", "The tank is in the way.")]).await;
    assert_eq!(done.status, StatusCode::SEE_OTHER, "{}", done.text);
    let next = phone.browser.get(&done.to).await.text;
    assert!(number(&next).0 == 2 && next.contains("1 reported impossible"));
    assert_eq!(number(&phone.browser.get("/builds/elm-saloon/walk").await.text).0, 2);
    let open = phone.browser.get("/builds/elm-saloon?see=all").await.text;
    assert!(open.contains("The tank is in the way."), "{open}");
    let unknown = phone.browser.post(cannot, &[("shot", "J7 nothing"), ("why", "x")]).await;
    assert_eq!(unknown.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn nobody_else_sends_by_the_form() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    phone.browser = house.browser("scrutineer").await;
    let sent = send(&phone, &new_capture(), "", &[("1.jpg", &jpeg(1))]).await;
    assert_eq!(sent.status, StatusCode::NOT_FOUND);
    let build = house.store.builds().await.unwrap().remove(0).id;
    assert!(house.store.photos(build).await.unwrap().is_empty());
}
