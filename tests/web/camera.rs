//! Photographs for the tests, and a phone that sends them.

use axum::body::Body;
use axum::http::StatusCode;
use tackbook::domain::words::fingerprint::Fingerprint;

use crate::house::{Answer, Browser, House};

/// A JPEG of hard-edged fields, no two seeds alike; large enough to earn no remark.
pub(crate) fn jpeg(seed: u8) -> Vec<u8> {
    picture(seed, image::ImageFormat::Jpeg)
}

/// The same in a format.
pub(crate) fn picture(seed: u8, format: image::ImageFormat) -> Vec<u8> {
    let picture = image::GrayImage::from_fn(1200, 900, |x, y| {
        image::Luma([if (x / 3 + y / 5 + u32::from(seed)) % 2 == 0 { 40 + seed } else { 200 - seed }])
    });
    let mut out = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut out, format).unwrap();
    out.into_inner()
}

/// A name as a phone gives one.
pub(crate) fn new_capture() -> String {
    uuid::Uuid::now_v7().to_string()
}

/// A phone on which somebody is signed in, and the build it photographs.
pub(crate) struct Phone<'h> {
    pub(crate) house: &'h House,
    pub(crate) browser: Browser<'h>,
    pub(crate) build: &'static str,
}

impl<'h> Phone<'h> {
    /// The fabricator's, at a build that is begun with it.
    pub(crate) async fn new(house: &'h House) -> Self {
        let browser = house.browser("fabricator").await;
        browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
        Self { house, browser, build: "pine-coupe" }
    }

    /// Asks with these headers.
    pub(crate) async fn ask(&self, method: &str, last: &str, headers: &[(&str, &str)], body: Vec<u8>) -> Answer {
        let path = format!("/builds/{}{last}", self.build);
        let mut request = self.browser.request(method, &path).header("sec-fetch-site", "same-origin");
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        self.house.ask(request.body(Body::from(body)).unwrap()).await
    }

    /// Tells of a photograph.
    pub(crate) async fn tell(&self, capture: &str, bytes: &[u8], shot: &str) -> Answer {
        let told = serde_json::json!({
            "sha256": Fingerprint::of(bytes), "size": bytes.len(), "type": "image/jpeg", "shot": shot,
            "note": "", "taken": "2026-05-04 11:29:00",
        });
        self.ask("PUT", &format!("/captures/{capture}"), &[], told.to_string().into_bytes()).await
    }

    /// Sends bytes of a photograph.
    pub(crate) async fn send(&self, whole: &[u8], from: usize, to: usize, last: bool) -> Answer {
        let (offset, complete) = (from.to_string(), if last { "?1" } else { "?0" });
        let headers = part_headers(&offset, complete);
        self.ask("PATCH", &upload(whole), &headers, whole.get(from..to).unwrap().to_vec()).await
    }

    /// Where an upload stands: status, offset, complete.
    pub(crate) async fn standing(&self, whole: &[u8]) -> (StatusCode, String, String) {
        let answer = self.ask("HEAD", &upload(whole), &[], Vec::new()).await;
        (answer.status, answer.header("upload-offset"), answer.header("upload-complete"))
    }

    /// Sends a photograph whole.
    pub(crate) async fn keep(&self, bytes: &[u8], shot: &str) -> Answer {
        self.tell(&new_capture(), bytes, shot).await;
        let answer = self.send(bytes, 0, bytes.len(), true).await;
        assert_eq!(answer.status, StatusCode::OK, "{}", answer.text);
        answer
    }
}

/// Gives the phone's build a book, a weigh-in and a cage, so that photographs are asked for.
pub(crate) async fn asked_for(phone: &mut Phone<'_>) {
    let house = phone.house;
    let office = house.browser("office").await;
    let book = include_str!("../../src/demo/book.toml");
    assert_eq!(office.post("/books", &[("toml", book)]).await.status, StatusCode::SEE_OTHER);
    let book = house.store.books().await.unwrap().remove(0).id.to_string();
    let begun = office.post("/builds/new", &[("name", "Elm Saloon"), ("book", &book)]).await;
    assert_eq!(begun.status, StatusCode::SEE_OTHER, "{}", begun.text);
    phone.build = "elm-saloon";
    let build = house.store.build_by_slug(phone.build).await.unwrap().unwrap().id;
    let cage = tackbook::domain::cage::record::example::example_record();
    tackbook::actions::recorded::cage::save(&house.office, build, 0, &cage).await.unwrap();
}

/// The headers of a part.
pub(crate) fn part_headers<'a>(offset: &'a str, complete: &'a str) -> [(&'a str, &'a str); 3] {
    [("content-type", "application/partial-upload"), ("upload-offset", offset), ("upload-complete", complete)]
}

/// The last of an upload's address.
pub(crate) fn upload(whole: &[u8]) -> String {
    format!("/uploads/{}", Fingerprint::of(whole))
}
