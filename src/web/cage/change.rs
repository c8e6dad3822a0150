//! A change of the whole cage before it is done: what was, what would be; and taking the last one back.

use askama::Template;
use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::turned::{Turns, by_last_save};
use crate::actions::{self, ActionError};
use crate::domain::cage::record::changed::{Changed, changed};
use crate::domain::judge::verdicts::Word;
use crate::domain::shop::people::{Deed, may};
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;

/// What would change, and the button that does it.
#[derive(Template)]
#[template(path = "cage/change.html")]
pub(super) struct ChangeSheet {
    /// What every sheet has.
    pub(super) sheet: Sheet,
    /// The build's address.
    pub(super) base: String,
    /// Where the button leads, below the build's address.
    pub(super) post: &'static str,
    /// What is wrong; then nothing can be done.
    pub(super) faults: Vec<String>,
    /// Whether somebody else saved meanwhile.
    pub(super) overtaken: bool,
    /// What there is to know first, in sentences.
    pub(super) lines: Vec<String>,
    /// What would change.
    pub(super) changes: Vec<Changed>,
    /// What of the verdicts and the parts the last save turned.
    pub(super) turns: Option<Turns>,
    /// What the button sends along.
    pub(super) hidden: Vec<(&'static str, String)>,
    /// What the button says; empty where there is nothing to do.
    pub(super) button: &'static str,
}

impl ChangeSheet {
    /// A sheet with nothing to do on it.
    pub(super) fn new(seen: &Seen, title: &'static str, post: &'static str) -> Self {
        Self {
            sheet: seen.sheet(title),
            base: seen.address(""),
            post,
            faults: Vec::new(),
            overtaken: false,
            lines: Vec::new(),
            changes: Vec::new(),
            turns: None,
            hidden: Vec::new(),
            button: "",
        }
    }
}

/// The last change: who made it, when, and what taking it back would change.
pub(super) async fn last(seen: Seen) -> Result<Response, Problem> {
    last_change(&seen, StatusCode::OK).await
}

/// Takes it back.
pub(super) async fn take_back(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let version = Form::of(seen.who.units, typed).version();
    match actions::recorded::cage::take_back(&seen.who.ctx, seen.build(), version).await {
        Ok(version) => Ok(Redirect::to(&seen.address(&format!("/cage?saved={version}"))).into_response()),
        Err(ActionError::Stale { .. }) => last_change(&seen, StatusCode::CONFLICT).await,
        Err(other) => Err(other.into()),
    }
}

async fn last_change(seen: &Seen, status: StatusCode) -> Result<Response, Problem> {
    let saves = seen.who.ctx.store.cage_saves(seen.build(), 2).await?;
    let mut sheet = ChangeSheet::new(seen, "Last change", "/cage/take-back");
    sheet.overtaken = status == StatusCode::CONFLICT;
    match saves.as_slice() {
        [last, before] => {
            let [now, then] = [last, before].map(|save| save.cage.record().map_err(Problem::NotMade));
            let (now, then) = (now?, then?);
            let when = seen.who.ctx.clock.minute_of(last.at);
            sheet.lines.push(format!("{}, {when}: {}", last.by, last.what));
            sheet.changes = changed(&now, &then);
            if sheet.changes.is_empty() {
                sheet.lines.push("Nothing of the cage differs from the save before it.".to_owned());
            } else {
                let when = seen.who.ctx.clock.minute_of(before.at);
                sheet.lines.push(format!(
                    "Taken back, the cage stands as {} saved it, {when}. It is a new save: nothing is deleted, and the numbers given out stay.",
                    before.by
                ));
            }
            if may(seen.who.ctx.by.role, Deed::SetUpBuilds) && !sheet.changes.is_empty() {
                sheet.hidden.push(("version", last.cage.version.to_string()));
                sheet.button = "Take back the last change";
            }
        }
        [_] => sheet.lines.push("The cage was saved once: there is nothing before it.".to_owned()),
        _ => sheet.lines.push("No cage was saved yet.".to_owned()),
    }
    if let [last, _, ..] = saves.as_slice() {
        let found = seen.found().await?;
        sheet.turns = by_last_save(seen, &found.worked, &saves, last.cage.version).await?;
    }
    show(status, &sheet)
}
