//! Photographs sorted at the desk: by day, those at no shot with guesses where they belong, a shot's history.

use std::collections::HashMap;

use axum::extract::Query;
use axum::http::StatusCode;
use axum::response::Response;

use super::view::{Days, History, Unplaced};
use crate::web::gate::Seen;
use crate::web::page::show;
use crate::web::problem::Problem;

/// Most log entries of a shot's history, the newest first.
const MOST_ENTRIES: u32 = 20_000;

fn page(asked: &HashMap<String, String>) -> Option<&str> {
    asked.get("page").map(String::as_str)
}

/// All photographs by the camera's day: `?beside=…` to choose the one to hold beside this.
pub(super) async fn days(seen: Seen, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let beside = asked.get("beside").map(|name| name.parse()).transpose().map_err(|_| Problem::NotFound)?;
    let looks = seen.who.ctx.store.looks(seen.build()).await?;
    show(StatusCode::OK, &Days::of(&seen, &looks, beside.as_ref(), page(&asked)).ok_or(Problem::NotFound)?)
}

/// Those that answer no shot, each with guesses where it may belong.
pub(super) async fn unplaced(seen: Seen, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let (found, looks) = (seen.found().await?, seen.who.ctx.store.looks(seen.build()).await?);
    // hundreds of pictures are compared with hundreds: not on the threads that serve pages
    let sheet = tokio::task::spawn_blocking(move || Unplaced::of(&seen, &found, &looks, page(&asked))).await;
    show(StatusCode::OK, &sheet.map_err(|error| Problem::NotMade(error.to_string()))?.ok_or(Problem::NotFound)?)
}

/// What became of a shot: `?name=J7 joint-tacked/wide`.
pub(super) async fn history(seen: Seen, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let name = asked.get("name").cloned().unwrap_or_default();
    let entries = seen.who.ctx.store.log_of_shot(seen.build(), &name, MOST_ENTRIES).await?;
    let found = seen.found().await?;
    show(StatusCode::OK, &History::of(&seen, &found, (&name, page(&asked)), &entries).ok_or(Problem::NotFound)?)
}
