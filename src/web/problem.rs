//! Why a page could not be shown: status, sentence, and what to do next.

use askama::Template;
use axum::Extension;
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use uuid::Uuid;

use super::page::in_address;
use crate::actions::ActionError;
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::store::StoreError;

/// On an answer that asks to sign in first.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Signless;

/// Why a request ended without its page.
#[derive(Debug)]
pub(crate) enum Problem {
    /// Nobody is signed in; after signing in, go on here.
    SignInFirst(String),
    /// There is nothing here, or it is not for this person: both look the same.
    NotFound,
    /// What is there does not answer to this method.
    NoSuchMethod,
    /// It did not come from one of our own pages.
    Foreign,
    /// More was sent than any form has.
    TooLarge,
    /// So many fields were sent; no form has as many.
    TooMuch(usize),
    /// What was sent is not what a form sends.
    NoForm,
    /// The address or the form does not read.
    NotRead,
    /// It took longer than anybody waits for.
    TooSlow,
    /// The action said no.
    Action(ActionError),
    /// A page could not be made.
    NotMade(String),
}

impl From<ActionError> for Problem {
    fn from(error: ActionError) -> Self {
        Self::Action(error)
    }
}

impl From<StoreError> for Problem {
    fn from(error: StoreError) -> Self {
        Self::Action(error.into())
    }
}

impl From<askama::Error> for Problem {
    fn from(error: askama::Error) -> Self {
        Self::NotMade(error.to_string())
    }
}

#[derive(Template)]
#[template(path = "problem.html")]
struct Page {
    title: String,
    sentence: String,
    next: String,
    number: String,
}

struct Words {
    status: StatusCode,
    title: &'static str,
    sentence: String,
    next: &'static str,
    /// Seconds after which it may be tried again; none where that is not known.
    again: Option<i64>,
}

impl Words {
    fn again_after(self, seconds: i64) -> Self {
        Self { again: Some(seconds), ..self }
    }
}

fn words(status: StatusCode, title: &'static str, sentence: impl Into<String>, next: &'static str) -> Words {
    Words { status, title, sentence: sentence.into(), next, again: None }
}

fn of_action(error: ActionError) -> Words {
    match error {
        ActionError::Refused(faults) => of_faults(&faults),
        ActionError::NotAllowed | ActionError::NotFound(_) => nothing_here(),
        ActionError::WrongSignIn => words(
            StatusCode::UNPROCESSABLE_ENTITY,
            "Not signed in",
            "Name and password do not belong together.",
            "Try again, or ask the office for a new password.",
        ),
        ActionError::TooMany(why) => words(
            StatusCode::TOO_MANY_REQUESTS,
            "That is a lot for one day",
            why,
            "What is on the phone stays there. Ask the office if so many photographs are really meant.",
        ),
        ActionError::Wait(left) => later(left.as_secs().max(1)),
        ActionError::Busy => at_the_door(),
        ActionError::LinkSpent => words(
            StatusCode::GONE,
            "This link is used up",
            "The one-time link was used, is older than a day, or never was.",
            "If nobody can sign in yet, stop the program and start it again: it prints a new link.",
        ),
        ActionError::PairingSpent => words(
            StatusCode::GONE,
            "This code is used up",
            "A code to pair a phone is good once, for ten minutes, and this one is not good any more.",
            "Ask the office for a new one; signing in with name and password works as ever.",
        ),
        ActionError::ReadingLinkOver => words(
            StatusCode::GONE,
            "This link leads nowhere any more",
            "It was withdrawn, or its days are over.",
            "Ask the shop that sent it for a new one.",
        ),
        ActionError::Held(why) => words(StatusCode::CONFLICT, "Held", why, "Go back; nothing was changed."),
        ActionError::Stale { .. } => words(
            StatusCode::CONFLICT,
            "Somebody else was faster",
            "Somebody else saved this while you were at it. Nothing of theirs was overwritten.",
            "Go back, look at what stands now, and enter yours again if it is still needed.",
        ),
        ActionError::OtherContent => words(
            StatusCode::CONFLICT,
            "Another photograph has this name",
            "The phone gave this name to another photograph before.",
            "Take or choose the photograph again.",
        ),
        ActionError::NotWorked(why) => trouble(&why),
        ActionError::Store(error) => of_store(&error),
    }
}

fn later(seconds: i64) -> Words {
    words(
        StatusCode::TOO_MANY_REQUESTS,
        "Wait a little",
        format!(
            "Under this name or from this place a sign-in failed several times; the next has to wait {seconds} seconds."
        ),
        "Then try again, or ask the office for a code to pair the phone: that works at once.",
    )
    .again_after(seconds)
}

fn at_the_door() -> Words {
    words(
        StatusCode::SERVICE_UNAVAILABLE,
        "Too many at the door",
        "So many are signing in just now that this one was not looked at. Nobody signed in is kept waiting by it.",
        "Try again in a few seconds.",
    )
    .again_after(5)
}

fn of_store(error: &StoreError) -> Words {
    match error {
        full if full.is_no_room() => no_room(full),
        StoreError::Ended => words(
            StatusCode::SERVICE_UNAVAILABLE,
            "The shop takes no more work",
            "Its records cannot be written any more. What was kept is safe and can be looked at; what is on a phone stays there, \
             and what stands in a form here was not kept.",
            "Stop the program on the shop's computer, look whether its disk is well, and start it again.",
        )
        .again_after(60),
        other => trouble(&format!("{other:?}")),
    }
}

fn no_room(full: &StoreError) -> Words {
    let figures = match full {
        StoreError::Full { free, reserve } => format!(
            " {} MB are free; {} MB are kept back, so that what is typed here goes on being kept.",
            free / 1_000_000,
            reserve / 1_000_000
        ),
        _ => String::new(),
    };
    words(
        StatusCode::INSUFFICIENT_STORAGE,
        "The shop's disk is full",
        format!(
            "There was no room for this. What was kept is safe and can be looked at; what is on a phone stays there.{figures}"
        ),
        "Make room on the shop's computer, then do it again: nothing has to be restarted.",
    )
}

fn of_faults(faults: &[Fault]) -> Words {
    let why: Vec<&str> = faults.iter().map(|fault| fault.why.as_str()).collect();
    words(
        StatusCode::UNPROCESSABLE_ENTITY,
        "That will not do yet",
        why.join(" "),
        "Go back; what you typed is still there.",
    )
}

fn nothing_here() -> Words {
    words(
        StatusCode::NOT_FOUND,
        "Nothing here",
        "There is nothing at this address, or it is not for this sign-in.",
        "Go to the front page.",
    )
}

fn trouble(why: &str) -> Words {
    tracing::error!(%why, "a request failed");
    words(
        StatusCode::SERVICE_UNAVAILABLE,
        "That did not work",
        "The program could not do this just now. Nothing that was kept is lost.",
        "Try again. If it goes on, look at the Health page and tell whoever looks after the computer the number below.",
    )
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let words = match self {
            Self::SignInFirst(then) => {
                let to = format!("/sign-in?then={}", in_address(&then).replace("%2F", "/"));
                return (Extension(Signless), Redirect::to(&to)).into_response();
            }
            Self::TooLarge => words(
                StatusCode::PAYLOAD_TOO_LARGE,
                "Too much at once",
                format!("More was sent than a form may hold, which is {} KB.", limits::FORM_BYTES >> 10),
                "Go back and send less at once. A photograph goes through the walk, a car's file through its own sheet.",
            ),
            Self::TooMuch(fields) => words(
                StatusCode::UNPROCESSABLE_ENTITY,
                "Too many fields",
                format!("{fields} fields were sent at once; {} fit. None of them was looked at.", limits::FORM_FIELDS),
                "Go back; what you typed is still there. Send it in parts.",
            ),
            Self::NoForm => words(
                StatusCode::UNSUPPORTED_MEDIA_TYPE,
                "Not a form of ours",
                "What was sent here is not what a form sends, so it was not read.",
                "Open the page here and send it from there.",
            ),
            Self::NotRead => words(
                StatusCode::BAD_REQUEST,
                "That does not read",
                "The address, or what was sent to it, is not written as it must be. Nothing was done.",
                "Go back, or go to the front page and come here again from there.",
            ),
            Self::TooSlow => trouble("a request took longer than a minute"),
            Self::NotFound => nothing_here(),
            Self::NoSuchMethod => words(
                StatusCode::METHOD_NOT_ALLOWED,
                "Not that way",
                "There is something at this address, but it cannot be asked for in this way.",
                "Go to the front page.",
            ),
            Self::Foreign => words(
                StatusCode::FORBIDDEN,
                "Not from one of our pages",
                "This came from outside the shop's own pages, so it was not done.",
                "Open the page here and do it again.",
            ),
            Self::Action(error) => of_action(error),
            Self::NotMade(why) => trouble(&why),
        };
        let number = Uuid::now_v7().simple().to_string();
        let number = number.get(24..).unwrap_or_default().to_uppercase();
        tracing::info!(status = words.status.as_u16(), %number, "a problem was shown");
        let page =
            Page { title: words.title.to_owned(), sentence: words.sentence, next: words.next.to_owned(), number };
        let html = page.render().unwrap_or_else(|_| page.sentence.clone());
        let mut response = (words.status, [(header::CACHE_CONTROL, "no-store")], Html(html)).into_response();
        if let Some(again) = words.again {
            response.headers_mut().insert(header::RETRY_AFTER, again.into());
        }
        response
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_full_disk_is_told_with_its_figures_and_a_failed_one_with_what_to_do() {
        let full = of_store(&StoreError::Full { free: 812_000_000, reserve: 1_073_741_824 });
        assert_eq!(full.status, StatusCode::INSUFFICIENT_STORAGE);
        assert!(full.sentence.contains("812 MB are free; 1073 MB are kept back"), "{}", full.sentence);
        let without = of_store(&StoreError::NoRoom);
        assert_eq!(without.status, StatusCode::INSUFFICIENT_STORAGE);
        assert!(!without.sentence.contains("MB") && without.sentence.contains("What was kept is safe"));
        let failed = of_store(&StoreError::Ended);
        assert_eq!(failed.status, StatusCode::SERVICE_UNAVAILABLE);
        assert!(failed.next.contains("look whether its disk is well, and start it again"), "{}", failed.next);
    }
}
