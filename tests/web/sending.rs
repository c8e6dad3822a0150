//! How phones send photographs: each rule of the protocol on the real router and a real shop.

use std::sync::Arc;
use std::time::Duration;

use axum::body::Body;
use axum::http::StatusCode;
use tackbook::store::vault::Item;
use tackbook::web::{App, Uploads, router};
use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};
use tokio::net::{TcpListener, TcpStream};

use crate::camera::{Phone, jpeg, new_capture, part_headers, upload};
use crate::house::House;
use crate::kept::kept;

const HALF: usize = 50_000;

#[tokio::test]
async fn a_photo_told_of_and_sent_in_parts_ends_with_a_receipt() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let (bytes, capture) = (jpeg(1), new_capture());
    let told = phone.tell(&capture, &bytes, "J7 joint-tacked/wide").await;
    assert_eq!(told.status, StatusCode::CREATED, "{}", told.text);
    assert_eq!(told.to, format!("/builds/pine-coupe{}", upload(&bytes)));
    assert_eq!(told.header("upload-offset"), "0");
    assert_eq!(told.header("upload-limit"), "max-size=67108864, max-append-size=4194304, max-age=1209600");
    assert_eq!(phone.tell(&capture, &bytes, "J7 joint-tacked/wide").await.status, StatusCode::OK, "told twice");

    let part = phone.send(&bytes, 0, HALF, false).await;
    assert_eq!((part.status, part.header("upload-offset")), (StatusCode::NO_CONTENT, HALF.to_string()));
    let head = phone.ask("HEAD", &upload(&bytes), &[], Vec::new()).await;
    assert_eq!((head.status, head.header("upload-offset")), (StatusCode::NO_CONTENT, HALF.to_string()));
    assert_eq!(head.header("upload-complete"), "?0");
    assert_eq!(
        (head.header("upload-length"), head.header("cache-control")),
        (bytes.len().to_string(), "no-store".into())
    );

    let last = phone.send(&bytes, HALF, bytes.len(), true).await;
    assert_eq!((last.status, last.header("upload-complete")), (StatusCode::OK, "?1".to_owned()), "{}", last.text);
    assert!(last.header("repr-digest").starts_with("sha-256=:"));
    let receipt: serde_json::Value = serde_json::from_str(&last.text).unwrap();
    assert_eq!(receipt["dots"], serde_json::json!([1200, 900]), "looked at in a process of its own");
    assert_eq!(receipt["remarks"], serde_json::json!([]));
    let again = phone.send(&bytes, HALF, bytes.len(), true).await;
    assert_eq!((again.status, &again.text), (StatusCode::OK, &last.text), "finishing twice gives the same receipt");
    let head = phone.ask("HEAD", &upload(&bytes), &[], Vec::new()).await;
    assert_eq!(head.header("upload-complete"), "?1");
    assert_eq!(head.header("repr-digest"), last.header("repr-digest"), "this counts as the receipt");
    let build = house.store.builds().await.unwrap().remove(0).id;
    let photo = house.store.photos(build).await.unwrap().remove(0);
    assert_eq!((photo.shot.as_str(), photo.capture.to_string()), ("J7 joint-tacked/wide", capture));
    assert_eq!(kept(&house.store, Item::Photo(photo.sha256)).await, Some(bytes));
}

#[tokio::test]
async fn a_part_that_begins_elsewhere_is_told_where_to_go_on() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    phone.tell(&new_capture(), &bytes, "").await;
    phone.send(&bytes, 0, HALF, false).await;
    for (from, to) in [(0, HALF), (HALF + 1, HALF + 2)] {
        let answer = phone.send(&bytes, from, to, false).await;
        assert_eq!((answer.status, answer.header("upload-offset")), (StatusCode::CONFLICT, HALF.to_string()));
        assert_eq!(answer.header("content-type"), "application/problem+json");
        let problem: serde_json::Value = serde_json::from_str(&answer.text).unwrap();
        assert!(problem["type"].as_str().unwrap().ends_with("#mismatching-upload-offset"), "{problem}");
        assert_eq!(problem["expected-offset"], HALF);
    }
    let early = phone.send(&bytes, HALF, HALF + 10, true).await;
    assert_eq!((early.status, early.header("upload-offset")), (StatusCode::BAD_REQUEST, (HALF + 10).to_string()));
}

#[tokio::test]
async fn a_length_told_twice_must_match_and_more_voids_the_part() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    let capture = new_capture();
    phone.tell(&capture, &bytes, "").await;
    let mut headers = part_headers("0", "?0").to_vec();
    headers.push(("upload-length", "7"));
    let other = phone.ask("PATCH", &upload(&bytes), &headers, bytes[..9].to_vec()).await;
    assert_eq!(other.status, StatusCode::BAD_REQUEST);
    assert!(other.text.contains("#inconsistent-upload-length"), "{}", other.text);
    phone.send(&bytes, 0, HALF, false).await;
    let longer = [&bytes[HALF..], b"more"].concat();
    let answer = phone.ask("PATCH", &upload(&bytes), &part_headers(&HALF.to_string(), "?1"), longer).await;
    assert_eq!((answer.status, answer.header("upload-offset")), (StatusCode::BAD_REQUEST, "0".to_owned()));
    assert!(answer.text.contains("#inconsistent-upload-length"), "{}", answer.text);
    assert_eq!(phone.standing(&bytes).await.1, "0");
    let told = serde_json::json!({ "sha256": tackbook::domain::words::fingerprint::Fingerprint::of(&bytes), "size": 7, "type": "image/jpeg" });
    let answer = phone.ask("PUT", &format!("/captures/{}", new_capture()), &[], told.to_string().into_bytes()).await;
    assert_eq!(answer.status, StatusCode::BAD_REQUEST);
    assert!(answer.text.contains("#inconsistent-upload-length"), "{}", answer.text);
    assert_eq!(phone.tell(&capture, &jpeg(2), "").await.status, StatusCode::CONFLICT, "one name, another content");
}

#[tokio::test]
async fn bytes_that_are_not_the_told_ones_are_thrown_away_and_it_begins_again() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    phone.tell(&new_capture(), &bytes, "").await;
    let mut altered = bytes.clone();
    altered[HALF] ^= 1;
    let answer = phone.ask("PATCH", &upload(&bytes), &part_headers("0", "?1"), altered).await;
    assert_eq!((answer.status, answer.header("upload-offset")), (StatusCode::UNPROCESSABLE_ENTITY, "0".to_owned()));
    assert_eq!(phone.send(&bytes, 0, bytes.len(), true).await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_part_with_a_digest_is_looked_at_before_it_is_kept() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    phone.tell(&new_capture(), &bytes, "").await;
    // RFC 9530, appendix B.1: the digest of another content
    let wrong = ("content-digest", "sha-256=:RK/0qy18MlBSVnWgjwz6lZEWjP/lF5HF9bvEF8FabDg=:");
    let headers = [&part_headers("0", "?0")[..], &[wrong]].concat();
    let answer = phone.ask("PATCH", &upload(&bytes), &headers, bytes[..HALF].to_vec()).await;
    assert_eq!((answer.status, answer.header("upload-offset")), (StatusCode::BAD_REQUEST, "0".to_owned()));
    assert_eq!(phone.standing(&bytes).await.1, "0");
}

#[tokio::test]
async fn what_is_given_up_stays_as_a_photo_on_a_phone() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    phone.tell(&new_capture(), &bytes, "").await;
    phone.send(&bytes, 0, HALF, false).await;
    assert_eq!(phone.ask("DELETE", &upload(&bytes), &[], Vec::new()).await.status, StatusCode::NO_CONTENT);
    assert_eq!(phone.standing(&bytes).await.1, "0");
    let build = house.store.builds().await.unwrap().remove(0).id;
    let photos = house.store.photos(build).await.unwrap();
    assert!(photos.len() == 1 && photos[0].received.is_none() && photos[0].withdrawn.is_none());
}

#[tokio::test]
async fn the_same_content_is_sent_once_and_another_build_knows_nothing_of_it() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    phone.keep(&bytes, "").await;
    let again = phone.tell(&new_capture(), &bytes, "").await;
    assert_eq!((again.status, again.header("upload-offset")), (StatusCode::CREATED, bytes.len().to_string()));
    assert_eq!(again.header("upload-complete"), "?1");
    phone.browser.post("/builds/new", &[("name", "Elm Saloon")]).await;
    phone.build = "elm-saloon";
    assert_eq!(phone.standing(&bytes).await.0, StatusCode::NOT_FOUND);
    assert_eq!(phone.tell(&new_capture(), &bytes, "").await.header("upload-offset"), "0");
}

#[tokio::test]
async fn bounds_are_held() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    let told = |size: u64, kind: &str| {
        let sha256 = "0".repeat(64);
        serde_json::json!({ "sha256": sha256, "size": size, "type": kind }).to_string().into_bytes()
    };
    let capture = format!("/captures/{}", new_capture());
    for (size, kind, status) in [
        ((64 << 20) + 1, "image/jpeg", StatusCode::PAYLOAD_TOO_LARGE),
        (0, "image/jpeg", StatusCode::UNPROCESSABLE_ENTITY),
        (9, "image/svg+xml", StatusCode::UNSUPPORTED_MEDIA_TYPE),
        (9, "image/heic", StatusCode::UNSUPPORTED_MEDIA_TYPE),
    ] {
        assert_eq!(phone.ask("PUT", &capture, &[], told(size, kind)).await.status, status, "{size} {kind}");
    }
    assert_eq!(phone.ask("PUT", &capture, &[], b"{".to_vec()).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(phone.ask("PUT", "/captures/7", &[], told(9, "image/jpeg")).await.status, StatusCode::NOT_FOUND);
    phone.tell(&new_capture(), &bytes, "").await;
    let much = phone.ask("PATCH", &upload(&bytes), &part_headers("0", "?0"), vec![0; (4 << 20) + 1]).await;
    assert_eq!(much.status, StatusCode::PAYLOAD_TOO_LARGE);
    let bare = phone.ask("PATCH", &upload(&bytes), &[("upload-offset", "0")], vec![0]).await;
    assert_eq!(bare.status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    assert_eq!(phone.ask("HEAD", "/uploads/7", &[], Vec::new()).await.status, StatusCode::NOT_FOUND);
    let build = house.store.builds().await.unwrap().remove(0).id;
    assert_eq!(house.store.photos(build).await.unwrap().len(), 1);
}

#[tokio::test]
async fn what_is_no_photo_is_refused_in_words_at_its_end() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let text = b"remember the gusset\n".to_vec();
    phone.tell(&new_capture(), &text, "").await;
    let answer = phone.send(&text, 0, text.len(), true).await;
    assert_eq!(answer.status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    assert!(answer.text.contains("text file"), "{}", answer.text);
}

#[tokio::test]
async fn only_our_own_pages_and_who_may_see_the_build_can_send() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    phone.tell(&new_capture(), &bytes, "").await;
    let addresses =
        [("PUT", format!("/captures/{}", new_capture())), ("PATCH", upload(&bytes)), ("DELETE", upload(&bytes))];
    for (method, last) in &addresses {
        let path = format!("/builds/pine-coupe{last}");
        for (name, value, allowed) in [
            ("sec-fetch-site", "cross-site", false),
            ("sec-fetch-site", "same-site", false),
            ("origin", "http://elsewhere.example", false),
            ("origin", "null", false),
            ("x-nothing", "", false),
            ("sec-fetch-site", "same-origin", true),
            ("origin", "http://127.0.0.1:7350", true),
        ] {
            let request = phone.browser.request(method, &path).header(name, value);
            let status = house.ask(request.body(Body::empty()).unwrap()).await.status;
            assert_eq!(status != StatusCode::FORBIDDEN, allowed, "{method} {name}: {value}");
        }
    }
    let addresses = addresses.into_iter().chain([("HEAD", upload(&bytes))]);
    for (method, last) in addresses {
        for (who, browser, status) in [
            ("stranger", house.stranger(), StatusCode::UNAUTHORIZED),
            ("scrutineer", house.browser("scrutineer").await, StatusCode::NOT_FOUND),
        ] {
            let request =
                browser.request(method, &format!("/builds/pine-coupe{last}")).header("sec-fetch-site", "same-origin");
            assert_eq!(house.ask(request.body(Body::empty()).unwrap()).await.status, status, "{who} {method}");
        }
    }
}

/// A server on a port of its own, with the house's shop.
async fn listening(app: App) -> std::net::SocketAddr {
    let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
    let address = listener.local_addr().unwrap();
    tokio::spawn(async move { axum::serve(listener, router(app)).await });
    address
}

/// Waits until this many bytes of the one upload on its way are on the disk.
async fn until_on_disk(house: &House, bytes: usize) {
    until_so_many_on_disk(house, 1, bytes).await;
}

/// Waits until this many uploads on their way have this many bytes on the disk.
async fn until_so_many_on_disk(house: &House, uploads: usize, bytes: usize) {
    let arriving = house.folder.0.join("arriving");
    let there = || {
        let parts = std::fs::read_dir(&arriving).into_iter().flatten();
        parts.filter(|part| part.as_ref().unwrap().metadata().unwrap().len() >= bytes as u64).count()
    };
    let came = tokio::time::timeout(Duration::from_mins(1), async {
        while there() < uploads {
            tokio::time::sleep(Duration::from_millis(10)).await;
        }
    });
    assert!(came.await.is_ok(), "{bytes} bytes of {uploads} uploads never came onto the disk");
}

/// Begins to send the rest of a photograph and stops in the middle, the connection still open.
async fn begin(phone: &Phone<'_>, to: std::net::SocketAddr, bytes: &[u8], from: usize, sent: usize) -> TcpStream {
    let mut connection = TcpStream::connect(to).await.unwrap();
    let head = format!(
        "PATCH /builds/{}{} HTTP/1.1\r\nhost: {to}\r\ncookie: {}\r\norigin: http://{to}\r\n\
         content-type: application/partial-upload\r\nupload-offset: {from}\r\nupload-complete: ?1\r\n\
         content-length: {}\r\n\r\n",
        phone.build,
        upload(bytes),
        phone.browser.cookie,
        bytes.len() - from,
    );
    connection.write_all(head.as_bytes()).await.unwrap();
    connection.write_all(bytes.get(from..from + sent).unwrap()).await.unwrap();
    connection.flush().await.unwrap();
    connection
}

#[tokio::test]
async fn promise_2_an_upload_cut_anywhere_any_number_of_times_ends_as_one_photo() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    let address = listening(house.app.clone()).await;
    phone.tell(&new_capture(), &bytes, "").await;
    let mut there = 0;
    for sent in [1, 4_095, 20_000, 2, 30_000] {
        drop(begin(&phone, address, &bytes, there, sent).await);
        there += sent;
        until_on_disk(&house, there).await;
        let (_, offset, complete) = phone.standing(&bytes).await;
        assert_eq!((offset, complete.as_str()), (there.to_string(), "?0"));
    }
    assert_eq!(phone.send(&bytes, there, bytes.len(), true).await.status, StatusCode::OK);
    let build = house.store.builds().await.unwrap().remove(0).id;
    let photos = house.store.photos(build).await.unwrap();
    assert!(photos.len() == 1 && photos[0].received.is_some(), "{photos:?}");
    assert_eq!(kept(&house.store, Item::Photo(photos[0].sha256.clone())).await.unwrap(), bytes);
}

#[tokio::test]
async fn the_newest_request_goes_on_where_a_dead_connection_stopped() {
    let house = House::new().await;
    // what is read as a photograph may be followed by anything
    let bytes = [jpeg(1), vec![0; 1 << 20]].concat();
    // nobody would be told anything while a connection's silence is waited for
    let patient = App { uploads: Uploads::with_patience(Duration::from_hours(24)), ..house.app.clone() };
    let house = House { router: router(patient.clone()), app: patient.clone(), ..house };
    let phone = Phone::new(&house).await;
    let address = listening(patient).await;
    phone.tell(&new_capture(), &bytes, "").await;
    // the phone lost its network: the connection stays open, nothing comes; so many bytes are put on the disk at once
    let sent = 512 << 10;
    let mut dead = begin(&phone, address, &bytes, 0, sent).await;
    until_on_disk(&house, sent).await;
    assert_eq!(phone.standing(&bytes).await.1, sent.to_string());
    assert_eq!(phone.send(&bytes, sent, bytes.len(), true).await.status, StatusCode::OK);
    let mut answer = vec![0; 12];
    dead.read_exact(&mut answer).await.unwrap();
    assert_eq!(String::from_utf8_lossy(&answer), "HTTP/1.1 409");
}

#[tokio::test]
async fn a_body_that_falls_silent_is_given_up_and_what_came_is_kept() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    let hasty = App { uploads: Uploads::with_patience(Duration::from_millis(300)), ..house.app.clone() };
    let address = listening(hasty).await;
    phone.tell(&new_capture(), &bytes, "").await;
    let mut silent = begin(&phone, address, &bytes, 0, HALF).await;
    let mut answer = vec![0; 12];
    tokio::time::timeout(Duration::from_secs(10), silent.read_exact(&mut answer)).await.unwrap().unwrap();
    assert_eq!(String::from_utf8_lossy(&answer), "HTTP/1.1 408");
    assert_eq!(phone.standing(&bytes).await.1, HALF.to_string());
}

#[tokio::test]
async fn a_seventeenth_photo_at_once_is_asked_to_come_again() {
    let house = House::new().await;
    // none of the sixteen is given up for its silence, however slow the machine
    let patient = App { uploads: Uploads::with_patience(Duration::from_hours(24)), ..house.app.clone() };
    let house = House { router: router(patient.clone()), app: patient.clone(), ..house };
    let phone = Phone::new(&house).await;
    let address = listening(patient).await;
    // so many bytes are put on the disk at once
    let sent = 512 << 10;
    let mut photos: Vec<Vec<u8>> = Vec::new();
    for seed in 0..17 {
        photos.push([&[0xff, 0xd8, 0xff, seed][..], &vec![seed; sent]].concat());
        phone.tell(&new_capture(), &photos[usize::from(seed)], "").await;
    }
    let mut open = Vec::new();
    for bytes in &photos[..16] {
        open.push(begin(&phone, address, bytes, 0, sent).await);
    }
    // all have their places before the seventeenth asks for one: it must not take another's
    until_so_many_on_disk(&house, 16, sent).await;
    let refused = phone.send(&photos[16], 0, 1, false).await;
    assert_eq!((refused.status, refused.header("retry-after")), (StatusCode::SERVICE_UNAVAILABLE, "5".to_owned()));
    drop(open);
    tokio::time::timeout(Duration::from_mins(1), async {
        while phone.send(&photos[16], 0, 1, false).await.status == StatusCode::SERVICE_UNAVAILABLE {}
    })
    .await
    .unwrap();
    assert_eq!(phone.standing(&photos[16]).await.1, "1");
}

#[tokio::test]
async fn racing_ends_give_one_photo_and_one_receipt() {
    let house = Arc::new(House::new().await);
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    phone.tell(&new_capture(), &bytes, "").await;
    phone.send(&bytes, 0, bytes.len(), false).await;
    let end = || phone.send(&bytes, bytes.len(), bytes.len(), true);
    let (one, two, three) = tokio::join!(end(), end(), end());
    let receipts: Vec<_> = [one, two, three].into_iter().filter(|answer| answer.status == StatusCode::OK).collect();
    assert!(!receipts.is_empty() && receipts.iter().all(|answer| answer.text == receipts[0].text));
    assert_eq!(end().await.text, receipts[0].text);
    let entries = house.store.log(50).await.unwrap();
    assert_eq!(entries.iter().filter(|entry| entry.what == "A photo was received.").count(), 1);
}
