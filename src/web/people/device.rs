//! What a browser says it runs on, in a word: so that one finds the lost phone in a list.

use axum::http::HeaderMap;
use axum::http::header::USER_AGENT;

/// What browsers write into `User-Agent` (RFC 9110, 10.1.5; the words themselves are *common practice*), the surer first.
const SAID: &[(&str, &str)] = &[
    ("iPhone", "iPhone"),
    ("iPad", "iPad"),
    ("Android", "Android device"),
    ("CrOS", "Chromebook"),
    ("Windows", "Windows computer"),
    ("Macintosh", "Mac"),
    ("Linux", "Linux computer"),
];

/// The device of a request; empty where it does not say.
pub(super) fn of(asked: &HeaderMap) -> &'static str {
    let said = asked.get(USER_AGENT).and_then(|said| said.to_str().ok()).unwrap_or_default();
    SAID.iter().find(|(word, _)| said.contains(word)).map_or("", |(_, device)| *device)
}
