//! What every answer says to the browser, and what every request must show first.

use axum::extract::{Request, State};
use axum::http::header::{self, HeaderName, HeaderValue};
use axum::http::uri::Authority;
use axum::http::{HeaderMap, Method};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use headers::{HeaderMapExt as _, Host, Origin};

use super::app::App;
use super::carried::Carried;
use super::problem::Problem;
use crate::store::StoreError;

const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' blob:; \
    connect-src 'self'; worker-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; \
    require-trusted-types-for 'script'";

/// From a name of ours on https: come by https alone from now on (RFC 6797, 6.1). Both are served at one port, so nobody
/// is shut out; of addresses in figures browsers do not take it (RFC 6797, 8.1.1).
const FOR_A_YEAR: &str = "max-age=31536000";

const ALWAYS: [(HeaderName, &str); 6] = [
    (header::CONTENT_SECURITY_POLICY, POLICY),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::REFERRER_POLICY, "same-origin"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    (
        HeaderName::from_static("permissions-policy"),
        "camera=(), microphone=(), geolocation=(), payment=(), usb=(), screen-wake-lock=(self)",
    ),
];

/// Where every address begins that lets somebody in by itself; its secret follows.
pub(crate) const READ: &str = "/read";

/// Of an address that lets somebody in by itself: it goes along to nobody, is kept nowhere, and is found by no search.
const OF_A_LINK: [(HeaderName, &str); 3] = [
    (header::REFERRER_POLICY, "strict-origin"),
    (header::CACHE_CONTROL, "no-store"),
    (HeaderName::from_static("x-robots-tag"), "noindex, nofollow"),
];

/// Adds what is always said; signed-in pages are kept by nobody but the reader's own browser.
pub(crate) async fn say(State(app): State<App>, request: Request, next: Next) -> Response {
    let sealed = Carried::of(request.extensions()) == Carried::Https;
    let stays_sealed = sealed && host(&request).is_some_and(|host| app.names.iter().any(|name| name == bare(&host)));
    let by_link = request.uri().path().strip_prefix(READ).is_some_and(|rest| rest.starts_with('/'));
    let mut response = next.run(request).await;
    app.metrics.count(response.status());
    let headers = response.headers_mut();
    if by_link {
        for (name, value) in OF_A_LINK {
            headers.insert(name, HeaderValue::from_static(value));
        }
    }
    for (name, value) in ALWAYS {
        if !headers.contains_key(&name) {
            headers.insert(name, HeaderValue::from_static(value));
        }
    }
    if stays_sealed {
        headers.insert(header::STRICT_TRANSPORT_SECURITY, HeaderValue::from_static(FOR_A_YEAR));
    }
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("private, no-cache"));
    response
}

/// Lets a change through only from our own pages, and anything at all only under a name of ours: a page elsewhere can
/// neither post here nor make a browser believe that its name is this machine.
pub(crate) async fn ask(State(app): State<App>, request: Request, next: Next) -> Response {
    let safe = matches!(*request.method(), Method::GET | Method::HEAD | Method::OPTIONS);
    let may =
        host(&request).is_some_and(|host| is_ours(&host, &app.names) && (safe || from_here(request.headers(), &host)));
    if !may {
        return Problem::Foreign.into_response();
    }
    // before anything is read of it: what cannot be kept is not taken
    if !safe && app.store.ended() {
        return Problem::from(StoreError::Ended).into_response();
    }
    next.run(request).await
}

fn host(request: &Request) -> Option<Host> {
    request.headers().typed_get().or_else(|| request.uri().authority().cloned().map(Host::from))
}

/// A host without its port and brackets.
fn bare(host: &Host) -> &str {
    host.hostname().trim_start_matches('[').trim_end_matches(']')
}

/// Whether this server answers to a host that somebody typed, its port aside.
pub(crate) fn ours(typed: &str, names: &[String]) -> bool {
    let host = typed.parse::<Authority>().ok().filter(|host| !host.as_str().contains('@'));
    host.is_some_and(|host| is_ours(&host.into(), names))
}

fn is_ours(host: &Host, names: &[String]) -> bool {
    let name = bare(host);
    name.parse::<std::net::IpAddr>().is_ok() || name == "localhost" || names.iter().any(|known| known == name)
}

/// `Sec-Fetch-Site` where the browser sends it, `Origin` where it does not; without either, only what carries no cookie.
fn from_here(headers: &HeaderMap, host: &Host) -> bool {
    if let Some(site) = headers.get("sec-fetch-site") {
        return site == "same-origin" || site == "none";
    }
    match headers.typed_try_get::<Origin>() {
        Ok(Some(origin)) => (origin.hostname(), origin.port()) == (host.hostname(), host.port()),
        Ok(None) => !headers.contains_key(header::COOKIE),
        Err(_) => false,
    }
}

#[cfg(test)]
mod tests {
    use super::{Authority, HeaderMap, HeaderValue, from_here, ours};

    #[test]
    fn only_names_of_ours_are_answered() {
        let names = ["bench.local".to_owned()];
        for (host, expected) in [
            ("127.0.0.1:8080", true),
            ("[::1]:8080", true),
            ("localhost", true),
            ("bench.local:8080", true),
            ("elsewhere.example", false),
            ("127.0.0.1.elsewhere.example", false),
            ("bench.local@elsewhere.example", false),
            ("elsewhere.example@bench.local", false),
            ("bench.local/path", false),
            ("", false),
        ] {
            assert_eq!(ours(host, &names), expected, "{host}");
        }
    }

    #[test]
    fn a_change_comes_from_one_of_our_pages() {
        let check = |pairs: &[(&'static str, &'static str)], expected: bool| {
            let mut headers = HeaderMap::new();
            for (name, value) in pairs {
                headers.insert(*name, HeaderValue::from_static(value));
            }
            let host = Authority::from_static("10.0.0.5:8080").into();
            assert_eq!(from_here(&headers, &host), expected, "{pairs:?}");
        };
        check(&[("sec-fetch-site", "same-origin")], true);
        check(&[("sec-fetch-site", "cross-site"), ("origin", "http://10.0.0.5:8080")], false);
        check(&[("origin", "http://10.0.0.5:8080")], true);
        check(&[("origin", "http://10.0.0.5:8081")], false);
        check(&[("origin", "http://10.0.0.5")], false);
        check(&[("origin", "null"), ("cookie", "a=b")], false);
        check(&[("origin", "null")], false);
        check(&[("origin", "what is no origin")], false);
        check(&[("origin", "http://elsewhere.example")], false);
        check(&[("cookie", "a=b")], false);
        check(&[], true);
    }
}
