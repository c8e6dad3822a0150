//! What every form goes through on its way in: counted before it is read; and on its way out: refusals in words on a page of
//! ours, and what was typed given back where nobody is signed in any more.

mod view;

use std::time::Duration;

use axum::body::{Body, Bytes, to_bytes};
use axum::extract::{Form, FromRequest as _, Request};
use axum::http::{HeaderMap, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use tokio::time::timeout;

use super::form::Pairs;
use super::page::show;
use super::problem::{Problem, Signless};
use crate::domain::words::limits;

/// How long a form may be on its way (own choice: half a megabyte over the weakest network that is still one).
const TO_ARRIVE: Duration = Duration::from_mins(1);

/// Takes a form to whoever it is for, and what they answer back.
pub(crate) async fn pass(request: Request, next: Next) -> Response {
    let (method, uri) = (request.method().clone(), request.uri().clone());
    let looked_at = by_a_person(request.headers());
    if method != Method::POST || !is_form(request.headers()) {
        return in_words(next.run(request).await, &method, looked_at);
    }
    let from =
        request.headers().get(header::REFERER).and_then(|from| from.to_str().ok()).unwrap_or_default().to_owned();
    let (parts, body) = request.into_parts();
    let bytes = match timeout(TO_ARRIVE, to_bytes(body, limits::FORM_BYTES)).await {
        Ok(Ok(bytes)) => bytes,
        Ok(Err(_)) => return Problem::TooLarge.into_response(),
        Err(_) => return Problem::TooSlow.into_response(),
    };
    if fields(&bytes) > limits::FORM_FIELDS {
        return Problem::TooMuch(fields(&bytes)).into_response();
    }
    let answer = next.run(Request::from_parts(parts, Body::from(bytes.clone()))).await;
    if looked_at && answer.extensions().get::<Signless>().is_some() {
        let typed = typed(bytes).await;
        if typed.iter().any(|(_, text)| !text.trim().is_empty()) {
            let page = view::GivenBack::of(uri.path(), &from, typed);
            return show(StatusCode::FORBIDDEN, &page).unwrap_or_else(IntoResponse::into_response);
        }
    }
    in_words(answer, &method, looked_at)
}

/// Whether an answer is a page that somebody looks at: scripts read statuses, and go by them.
fn by_a_person(asked: &HeaderMap) -> bool {
    asked.get("sec-fetch-mode").is_none_or(|mode| mode == "navigate")
}

fn is_form(asked: &HeaderMap) -> bool {
    let kind = asked.get(header::CONTENT_TYPE).and_then(|kind| kind.to_str().ok()).unwrap_or_default();
    kind.trim_start().to_ascii_lowercase().starts_with("application/x-www-form-urlencoded")
}

/// How many fields a form has, at least: counted without reading any.
fn fields(form: &[u8]) -> usize {
    form.split(|byte| *byte == b'&').count() - usize::from(form.is_empty())
}

async fn typed(form: Bytes) -> Pairs {
    let kind = (header::CONTENT_TYPE, "application/x-www-form-urlencoded");
    let request = Request::post("/").header(kind.0, kind.1).body(Body::from(form)).unwrap_or_default();
    Form::<Pairs>::from_request(request, &()).await.map(|form| form.0).unwrap_or_default()
}

/// A refusal of the framework, which says a line in its own words, as a page of ours.
fn in_words(answer: Response, method: &Method, looked_at: bool) -> Response {
    let kind = answer.headers().get(header::CONTENT_TYPE);
    let bare = kind.is_none_or(|kind| kind.as_bytes().starts_with(b"text/plain"));
    let asks = *method == Method::POST || *method == Method::GET;
    if !bare || !looked_at || !asks {
        return answer;
    }
    match answer.status() {
        StatusCode::PAYLOAD_TOO_LARGE => Problem::TooLarge.into_response(),
        StatusCode::UNSUPPORTED_MEDIA_TYPE => Problem::NoForm.into_response(),
        StatusCode::BAD_REQUEST | StatusCode::UNPROCESSABLE_ENTITY => Problem::NotRead.into_response(),
        StatusCode::SERVICE_UNAVAILABLE if kind.is_none() => Problem::TooSlow.into_response(),
        _ => answer,
    }
}

#[cfg(test)]
mod tests {
    use super::fields;

    #[test]
    fn fields_are_counted_without_reading_them() {
        for (form, expected) in [("", 0), ("a=1", 1), ("a=1&b=2&&", 4)] {
            assert_eq!(fields(form.as_bytes()), expected);
        }
    }
}
