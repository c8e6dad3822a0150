//! The vehicles in the shop: the list, beginning one, changing what it is.

mod about;
mod view;

use axum::extract::Form as Posted;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Form, Pairs};
use super::gate::{Seen, SignedIn};
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get};
use crate::actions::{self, ActionError};
use crate::domain::derived::build_file::BuildFile;
use crate::domain::shop::builds::NewBuild;
use crate::domain::shop::people::Deed;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/", get(front))
        .route("/builds/new", get(asked_to_begin).post(begin))
        .route("/builds/{build}", get(open_items))
        .route("/builds/{build}/about", get(about::about).post(about::change))
        .route("/builds/{build}/build.json", get(as_file))
        .route("/open", get(open_everywhere))
}

async fn front(who: SignedIn) -> Result<Response, Problem> {
    let all = who.ctx.looked_at_all().await?;
    show(StatusCode::OK, &view::Front::of(&who, &all))
}

async fn asked_to_begin(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SetUpBuilds)?;
    let books = who.ctx.store.books().await?;
    show(StatusCode::OK, &view::Begin::of(&who, &books, &Form::empty(who.units)))
}

async fn begin(who: SignedIn, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(who.units, typed);
    let event_day = form.parse("event_day", "This does not read as a day. Try 2026-05-16.");
    let book = form.parse("book", "Choose a book of the list, or none.");
    if !form.is_faulty() {
        let new =
            NewBuild { name: form.text("name").to_owned(), about: form.text("about").to_owned(), book, event_day };
        match actions::shop::builds::begin(&who.ctx, new).await {
            Ok(build) => return Ok(Redirect::to(&format!("/builds/{}", build.slug)).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    let books = who.ctx.store.books().await?;
    show(StatusCode::UNPROCESSABLE_ENTITY, &view::Begin::of(&who, &books, &form))
}

async fn open_items(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    show(StatusCode::OK, &view::OpenSheet::of(&seen, &found))
}

/// The build's own facts as a file that `judge` reads.
async fn as_file(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let name = format!("attachment; filename=\"{}-build.json\"", seen.facts.build.slug);
    let headers = [(header::CONTENT_TYPE, "application/json".to_owned()), (header::CONTENT_DISPOSITION, name)];
    Ok((headers, BuildFile::of(&seen.facts, found.worked.standing(&seen.facts)).text()).into_response())
}

async fn open_everywhere(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    let all = who.ctx.looked_at_all().await?;
    let backup = who.ctx.store.last_backup().await?;
    show(StatusCode::OK, &view::OpenEverywhere::of(&who, &all, backup.map(|last| last.made)))
}
