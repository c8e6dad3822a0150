//! A shop to test in: its router, its people, and a browser that keeps cookies.

use std::path::PathBuf;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Request, StatusCode, header};
use tackbook::actions::{self, Context, Memory};
use tackbook::clock::Clock;
use tackbook::domain::shop::people::Role;
use tackbook::store::Store;
use tackbook::web::{App, router};
use tower::ServiceExt as _;

use crate::folder::Folder;

pub(crate) const PASSWORD: &str = "four walls and a floor";

/// A shop with an office, a fabricator and a scrutineer.
pub(crate) struct House {
    pub(crate) store: Store,
    pub(crate) clock: Clock,
    pub(crate) router: Router,
    pub(crate) app: App,
    pub(crate) office: Context,
    pub(crate) folder: Folder,
}

/// What came back.
pub(crate) struct Answer {
    pub(crate) status: StatusCode,
    pub(crate) to: String,
    pub(crate) cookie: String,
    pub(crate) policy: String,
    pub(crate) text: String,
    pub(crate) headers: HeaderMap,
    pub(crate) bytes: Vec<u8>,
}

/// A person's browser.
pub(crate) struct Browser<'h> {
    house: &'h House,
    pub(crate) cookie: String,
}

impl House {
    pub(crate) async fn new() -> Self {
        let folder = Folder::new();
        let store = Store::open(&folder.0).await.unwrap();
        let clock = Clock::held_at("2026-05-04T09:30:00Z".parse().unwrap());
        let program = PathBuf::from(env!("CARGO_BIN_EXE_tackbook"));
        let app = App::new(store.clone(), clock.clone(), Vec::new(), program);
        let link = actions::shop::people::make_setup_link(&store, &clock).await.unwrap().unwrap();
        let office = actions::shop::people::begin_shop(&store, &clock, &link, "office", PASSWORD).await.unwrap();
        let office =
            Context { store: store.clone(), clock: clock.clone(), by: office.person, memory: Memory::default() };
        for role in [Role::Fabricator, Role::Scrutineer] {
            actions::shop::people::add(&office, role.word(), role, PASSWORD).await.unwrap();
        }
        Self { store, clock, office, router: router(app.clone()), app, folder }
    }

    /// The same shop at another moment; who is signed in stays so.
    pub(crate) fn set_clock(&mut self, moment: &str) {
        let clock = Clock::held_at(moment.parse().unwrap());
        let program = PathBuf::from(env!("CARGO_BIN_EXE_tackbook"));
        self.app = App::new(self.store.clone(), clock.clone(), Vec::new(), program);
        self.router = router(self.app.clone());
        self.office.clock = clock.clone();
        self.clock = clock;
    }

    /// A browser with nobody signed in.
    pub(crate) fn stranger(&self) -> Browser<'_> {
        Browser { house: self, cookie: String::new() }
    }

    /// A browser in which this role is signed in, through the sign-in sheet; who looks has chosen inches.
    pub(crate) async fn browser(&self, role: &str) -> Browser<'_> {
        self.browser_reading(role, Some("inch")).await
    }

    /// The same for somebody who has chosen these units, or none.
    pub(crate) async fn browser_reading(&self, role: &str, units: Option<&str>) -> Browser<'_> {
        let answer = self.stranger().post("/sign-in", &[("name", role), ("password", PASSWORD)]).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
        let mut browser = Browser { house: self, cookie: answer.cookie };
        if let Some(units) = units {
            let chosen = browser.post("/units", &[("units", units)]).await;
            browser.cookie = format!("{}; {}", browser.cookie, chosen.cookie);
        }
        browser
    }

    /// A browser that carries this cookie.
    pub(crate) fn with_cookie(&self, cookie: String) -> Browser<'_> {
        Browser { house: self, cookie }
    }

    /// Asks the router itself, headers as given.
    pub(crate) async fn ask(&self, request: Request<Body>) -> Answer {
        let response = self.router.clone().oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        let headers = parts.headers;
        let word = |name| headers.get(name).map(|value| value.to_str().unwrap().to_owned()).unwrap_or_default();
        let (to, cookie) = (word(header::LOCATION), word(header::SET_COOKIE));
        let policy = word(header::CONTENT_SECURITY_POLICY);
        let cookie = cookie.split(';').next().unwrap_or_default().to_owned();
        let status = parts.status;
        let bytes = to_bytes(body, 65 << 20).await.unwrap().to_vec();
        Answer { status, to, cookie, policy, text: String::from_utf8_lossy(&bytes).into_owned(), headers, bytes }
    }
}

impl Answer {
    /// A header; empty when it is not there.
    pub(crate) fn header(&self, name: &str) -> String {
        self.headers.get(name).map(|value| value.to_str().unwrap().to_owned()).unwrap_or_default()
    }
}

impl Browser<'_> {
    pub(crate) async fn get(&self, path: &str) -> Answer {
        self.house.ask(self.request("GET", path).body(Body::empty()).unwrap()).await
    }

    pub(crate) async fn post(&self, path: &str, pairs: &[(&str, &str)]) -> Answer {
        let request = self
            .request("POST", path)
            .header("sec-fetch-site", "same-origin")
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        self.house.ask(request.body(Body::from(encoded(pairs))).unwrap()).await
    }

    pub(crate) async fn put(&self, path: &str, body: String) -> Answer {
        let request = self.request("PUT", path).header("sec-fetch-site", "same-origin");
        self.house.ask(request.body(Body::from(body)).unwrap()).await
    }

    pub(crate) fn request(&self, method: &str, path: &str) -> axum::http::request::Builder {
        let request = Request::builder().method(method).uri(path).header(header::HOST, "127.0.0.1:7350");
        if self.cookie.is_empty() { request } else { request.header(header::COOKIE, &self.cookie) }
    }
}

/// Pairs as a form sends them (WHATWG URL, application/x-www-form-urlencoded serializing).
pub(crate) fn encoded(pairs: &[(&str, &str)]) -> String {
    let letters = |text: &str| -> String {
        let letter = |byte: u8| match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'*' => char::from(byte).to_string(),
            b' ' => "+".to_owned(),
            other => format!("%{other:02X}"),
        };
        text.bytes().map(letter).collect()
    };
    pairs.iter().map(|(name, value)| format!("{}={}", letters(name), letters(value))).collect::<Vec<_>>().join("&")
}
