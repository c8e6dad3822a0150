//! Pictures answer cheaply: what the browser has is not read again, a part of one can be asked for, none is packed once more,
//! and a large one is read while it is sent.

use axum::body::{Body, to_bytes};
use axum::http::StatusCode;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::vault::Item;
use tower::ServiceExt as _;

use crate::camera::{Phone, asked_for, jpeg};
use crate::house::{Answer, House};

/// Where a photograph is shown, below its build.
fn place(bytes: &[u8], view: &str) -> String {
    format!("/photos/{}/{view}", Fingerprint::of(bytes))
}

async fn get(phone: &Phone<'_>, last: &str, headers: &[(&str, &str)]) -> Answer {
    phone.ask("GET", last, headers, Vec::new()).await
}

#[tokio::test]
#[expect(clippy::disallowed_methods, reason = "the file is taken away behind the vault's back")]
async fn what_the_browser_has_is_said_before_anything_is_read() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    phone.keep(&bytes, "").await;
    for view in ["original", "screen", "thumbnail", "print"] {
        let there = get(&phone, &place(&bytes, view), &[]).await;
        assert_eq!(there.header("content-length"), there.bytes.len().to_string());
        let tag = there.header("etag");
        for known in [tag.clone(), format!("W/{tag}"), format!("\"another\", W/{tag}"), "*".to_owned()] {
            let answer = get(&phone, &place(&bytes, view), &[("if-none-match", &known)]).await;
            assert_eq!((answer.status, answer.bytes.len()), (StatusCode::NOT_MODIFIED, 0), "{view}: {known}");
            assert_eq!(answer.header("etag"), tag, "{view}: {known}");
        }
        let another = get(&phone, &place(&bytes, view), &[("if-none-match", "\"another\"")]).await;
        assert_eq!(another.bytes, there.bytes, "{view}");
    }
    // with the files gone the condition is answered all the same, and only then: so nothing was read for it
    let tag = get(&phone, &place(&bytes, "original"), &[]).await.header("etag");
    std::fs::remove_file(house.folder.0.join(Item::Photo(Fingerprint::of(&bytes)).path())).unwrap();
    let known = get(&phone, &place(&bytes, "original"), &[("if-none-match", &tag)]).await;
    assert_eq!(known.status, StatusCode::NOT_MODIFIED);
    assert_eq!(get(&phone, &place(&bytes, "original"), &[]).await.status, StatusCode::NOT_FOUND);
    // who may not see it learns nothing by a tag
    let stranger = house.browser("scrutineer").await;
    let asked = stranger.request("GET", &format!("/builds/pine-coupe{}", place(&bytes, "original")));
    let answer = house.ask(asked.header("if-none-match", "*").body(Body::empty()).unwrap()).await;
    assert_eq!(answer.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_part_of_a_picture_can_be_asked_for() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    phone.keep(&bytes, "").await;
    for view in ["original", "screen"] {
        let whole = get(&phone, &place(&bytes, view), &[]).await;
        let (all, tag) = (whole.bytes.len(), whole.header("etag"));
        assert_eq!(whole.header("accept-ranges"), "bytes");
        for (range, from, to) in [
            ("bytes=0-99", 0, 100),
            ("bytes=100-100", 100, 101),
            ("bytes=500-", 500, all),
            ("bytes=-7", all - 7, all),
            ("bytes=600-99999999", 600, all),
        ] {
            let part = get(&phone, &place(&bytes, view), &[("range", range)]).await;
            assert_eq!(part.status, StatusCode::PARTIAL_CONTENT, "{view} {range}");
            assert_eq!(part.bytes, whole.bytes[from..to], "{view} {range}");
            assert_eq!(part.header("content-range"), format!("bytes {from}-{}/{all}", to - 1));
            assert_eq!(part.header("content-length"), (to - from).to_string());
            assert_eq!((part.header("etag"), part.header("content-type")), (tag.clone(), whole.header("content-type")));
        }
        let behind = get(&phone, &place(&bytes, view), &[("range", &format!("bytes={all}-"))]).await;
        assert_eq!(behind.status, StatusCode::RANGE_NOT_SATISFIABLE, "{view}");
        assert_eq!((behind.header("content-range"), behind.bytes.len()), (format!("bytes */{all}"), 0));
        for headers in [
            [("range", "bytes=0-1"), ("if-range", "\"of another\"")],
            [("range", "bytes=0-1,5-6"), ("if-range", &tag)],
            [("range", "rows=0-1"), ("if-range", &tag)],
        ] {
            let answer = get(&phone, &place(&bytes, view), &headers).await;
            assert_eq!((answer.status, answer.bytes.len()), (StatusCode::OK, all), "{view} {headers:?}");
        }
        let same = get(&phone, &place(&bytes, view), &[("range", "bytes=0-1"), ("if-range", &tag)]).await;
        assert_eq!((same.status, same.bytes.len()), (StatusCode::PARTIAL_CONTENT, 2), "{view}");
    }
}

#[tokio::test]
async fn a_picture_is_read_while_it_is_sent() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = [jpeg(1), vec![7; 3 << 20]].concat();
    phone.keep(&bytes, "").await;
    let file = house.folder.0.join(Item::Photo(Fingerprint::of(&bytes)).path());
    let asked = phone.browser.request("GET", &format!("/builds/pine-coupe{}", place(&bytes, "original")));
    let response = house.router.clone().oneshot(asked.body(Body::empty()).unwrap()).await.unwrap();
    assert_eq!(response.headers()["content-length"], bytes.len().to_string());
    // what is taken away after the head was answered cannot be sent any more
    std::fs::set_permissions(&file, std::os::unix::fs::PermissionsExt::from_mode(0o644)).unwrap();
    std::fs::File::options().write(true).open(&file).unwrap().set_len(1_000).unwrap();
    let sent = to_bytes(response.into_body(), 65 << 20).await.unwrap();
    assert!(sent.len() <= 1_000, "{} bytes had been read already", sent.len());
}

#[tokio::test]
async fn only_what_gets_smaller_is_packed() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let bytes = jpeg(1);
    phone.keep(&bytes, "").await;
    for (last, packed) in [
        ("/photos".to_owned(), "gzip"),
        ("/walk.json".to_owned(), "gzip"),
        ("/packet.pdf".to_owned(), ""),
        ("/photos/contact.pdf".to_owned(), ""),
        (place(&bytes, "original"), ""),
        (place(&bytes, "screen"), ""),
    ] {
        let answer = get(&phone, &last, &[("accept-encoding", "gzip")]).await;
        assert_eq!(answer.status, StatusCode::OK, "{last}");
        assert_eq!(answer.header("content-encoding"), packed, "{last}");
    }
    let style = "/static/tackbook.css";
    let ask = |headers: &[(&'static str, String)]| {
        let mut request = phone.browser.request("GET", style).header("accept-encoding", "gzip");
        for (name, value) in headers {
            request = request.header(*name, value);
        }
        house.ask(request.body(Body::empty()).unwrap())
    };
    let answer = ask(&[]).await;
    assert_eq!(answer.header("content-encoding"), "gzip");
    let tag = answer.header("etag");
    assert!(tag.starts_with("W/\""), "{tag}: packed and unpacked are not the same bytes");
    let strong = tag.trim_start_matches("W/").to_owned();
    for known in [tag.clone(), strong, format!("\"another\", {tag}")] {
        assert_eq!(ask(&[("if-none-match", known)]).await.status, StatusCode::NOT_MODIFIED);
    }
}
