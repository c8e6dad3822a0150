//! Why a phone's request was not done: status, and a problem in JSON (RFC 9457) with where to go on.

use axum::http::{HeaderName, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde_json::{Value, json};

use crate::actions::ActionError;
use crate::domain::words::faults::Fault;
use crate::store::StoreError;
use crate::web::problem::Problem;

/// The offset header of resumable uploads (IETF draft-ietf-httpbis-resumable-upload).
pub(super) const OFFSET: HeaderName = HeaderName::from_static("upload-offset");

/// Why a phone's request was not done.
#[derive(Debug)]
pub(super) struct Refusal {
    status: StatusCode,
    kind: &'static str,
    why: String,
    /// How many bytes are on the disk, where that helps.
    offset: Option<u64>,
    members: Vec<(&'static str, u64)>,
    again_after: Option<u32>,
}

impl Refusal {
    /// With a status and a sentence.
    pub(super) fn new(status: StatusCode, why: impl Into<String>) -> Self {
        Self { status, kind: "about:blank", why: why.into(), offset: None, members: Vec::new(), again_after: None }
    }

    /// There is nothing here, or it is not for this person.
    pub(super) fn nothing_here() -> Self {
        Self::new(StatusCode::NOT_FOUND, "There is nothing here.")
    }

    /// What was sent does not begin where the last ended; `offset` bytes are there (draft, 4.1.4).
    pub(super) fn go_on_from(offset: u64, sent_at: u64) -> Self {
        Self {
            kind: "https://iana.org/assignments/http-problem-types#mismatching-upload-offset",
            members: vec![("expected-offset", offset), ("provided-offset", sent_at)],
            ..Self::new(StatusCode::CONFLICT, format!("Go on from byte {offset}.")).at(offset)
        }
    }

    /// The length is another than was told before, or more came than was told (draft, 4.1.4).
    pub(super) fn other_length(why: impl Into<String>) -> Self {
        Self {
            kind: "https://iana.org/assignments/http-problem-types#inconsistent-upload-length",
            ..Self::new(StatusCode::BAD_REQUEST, why)
        }
    }

    /// Too much at once; try again in so many seconds.
    pub(super) fn later(why: &str, seconds: u32) -> Self {
        Self { again_after: Some(seconds), ..Self::new(StatusCode::SERVICE_UNAVAILABLE, why) }
    }

    /// With the bytes that are on the disk.
    pub(super) fn at(self, offset: u64) -> Self {
        Self { offset: Some(offset), ..self }
    }

    /// With another status.
    pub(super) fn with_status(self, status: StatusCode) -> Self {
        Self { status, ..self }
    }
}

fn sentences(faults: &[Fault]) -> String {
    faults.iter().map(|fault| fault.why.as_str()).collect::<Vec<_>>().join(" ")
}

impl From<ActionError> for Refusal {
    fn from(error: ActionError) -> Self {
        match error {
            ActionError::Refused(faults) => Self::new(StatusCode::UNPROCESSABLE_ENTITY, sentences(&faults)),
            ActionError::NotFound(_) | ActionError::NotAllowed => Self::nothing_here(),
            ActionError::OtherContent => {
                Self::new(StatusCode::CONFLICT, "This name is another photograph's already. Take the photo again.")
            }
            ActionError::TooMany(why) => {
                Self { again_after: Some(600), ..Self::new(StatusCode::TOO_MANY_REQUESTS, why) }
            }
            ActionError::Store(error) if error.is_no_room() => Self::new(
                StatusCode::INSUFFICIENT_STORAGE,
                "The shop's disk is full. What was kept is safe; this photo stays on the phone.",
            ),
            other => {
                tracing::error!(error = ?other, "a photograph could not be taken in");
                Self::later("The program could not do this just now. The photo stays on the phone.", 5)
            }
        }
    }
}

impl From<StoreError> for Refusal {
    fn from(error: StoreError) -> Self {
        ActionError::from(error).into()
    }
}

impl From<Problem> for Refusal {
    fn from(problem: Problem) -> Self {
        match problem {
            Problem::SignInFirst(_) => Self::new(StatusCode::UNAUTHORIZED, "Sign in again; the photos wait here."),
            Problem::Action(error) => error.into(),
            _ => Self::nothing_here(),
        }
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let mut problem = json!({
            "type": self.kind,
            "title": self.status.canonical_reason().unwrap_or_default(),
            "status": self.status.as_u16(),
            "detail": self.why,
        });
        if let Value::Object(members) = &mut problem {
            members.extend(self.members.into_iter().map(|(name, value)| (name.to_owned(), json!(value))));
        }
        let kind = [(header::CONTENT_TYPE, "application/problem+json"), (header::CACHE_CONTROL, "no-store")];
        let mut response = (self.status, kind, problem.to_string()).into_response();
        if let Some(offset) = self.offset {
            response.headers_mut().insert(OFFSET, HeaderValue::from(offset));
        }
        if let Some(seconds) = self.again_after {
            response.headers_mut().insert(header::RETRY_AFTER, HeaderValue::from(seconds));
        }
        response
    }
}
