//! What was typed, given back to somebody who is not signed in any more.

use askama::Template;

use crate::web::form::Pairs;
use crate::web::page::in_address;

/// Fields that are never given back, by the end of their names.
const SECRET: [&str; 2] = ["password", "passphrase"];

/// Longest text that is shown; all of it goes along, and is sent again.
const SHOWN: usize = 4_000;

/// The sheet.
#[derive(Template)]
#[template(path = "posted/given_back.html")]
pub(super) struct GivenBack {
    /// Where the form was sent to.
    to: String,
    /// Where to sign in, and go on from there.
    sign_in: String,
    fields: Vec<Typed>,
}

/// A field as it was typed.
struct Typed {
    name: String,
    text: String,
    /// Whether somebody typed it, or a form carries it along.
    shown: Option<String>,
}

impl GivenBack {
    /// Of a form that was sent to a path of ours from a page.
    pub(super) fn of(to: &str, from: &str, typed: Pairs) -> Self {
        let typed = typed.into_iter().filter(|(name, _)| !SECRET.iter().any(|secret| name.ends_with(secret)));
        let fields = typed.map(|(name, text)| Typed { shown: shown(&name, &text), name, text }).collect();
        let from: Option<axum::http::Uri> = from.parse().ok();
        let then = from.as_ref().and_then(axum::http::Uri::path_and_query).map_or("/", |from| from.as_str());
        Self { to: to.to_owned(), sign_in: format!("/sign-in?then={}", in_address(then)), fields }
    }
}

/// What is worth reading again: not what a form carries along for the program.
fn shown(name: &str, text: &str) -> Option<String> {
    let carried = ["before", "version", "key", "shown_in"].contains(&name) || name.ends_with("sha256");
    (!carried && !text.trim().is_empty()).then(|| text.chars().take(SHOWN).collect())
}
