//! The vehicles in the shop: the list, beginning one, changing what it is.

mod about;
mod begin;
mod everywhere_view;
mod figures;
mod front_view;
mod grouped;
mod lines;
mod next_view;
mod picture;
mod steps;
mod twins;

use std::collections::HashMap;

use axum::extract::Query;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

use super::gate::{Seen, SignedIn};
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get};
use crate::domain::derived::build_file::BuildFile;
use crate::domain::shop::people::Deed;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/", get(front))
        .route("/builds/new", get(begin::asked).post(begin::begin))
        .route("/builds/{build}", get(next))
        .route("/builds/{build}/about", get(about::about).post(about::change))
        .route("/builds/{build}/build.json", get(as_file))
        .route("/builds.csv", get(twins::builds_table))
        .route("/builds.json", get(twins::builds_data))
        .route("/open", get(open_everywhere))
        .route("/open.csv", get(twins::open_table))
        .route("/open.json", get(twins::open_data))
}

async fn front(who: SignedIn) -> Result<Response, Problem> {
    let all = who.ctx.looked_at_all().await?;
    let first = if all.is_empty() {
        let (books, drafts) = (who.ctx.store.books().await?, who.ctx.store.open_drafts().await?);
        Some(front_view::FirstSteps::of(&who, &books, &drafts))
    } else {
        None
    };
    show(StatusCode::OK, &front_view::Front::of(&who, &all, first))
}

/// What to do next, or the list that is asked for.
async fn next(seen: Seen, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    match next_view::OpenSheet::of(&seen, &found, &asked) {
        Some(whole) => show(StatusCode::OK, &whole),
        None if asked.contains_key("see") => Err(Problem::NotFound),
        None => show(StatusCode::OK, &next_view::NextSheet::of(&seen, &found, &asked)),
    }
}

/// The build's own facts as a file that `judge` reads.
async fn as_file(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let name = format!("attachment; filename=\"{}-build.json\"", seen.facts.build.slug);
    let headers = [(header::CONTENT_TYPE, "application/json".to_owned()), (header::CONTENT_DISPOSITION, name)];
    Ok((headers, BuildFile::of(&seen.facts, found.worked.standing(&seen.facts)).text()).into_response())
}

async fn open_everywhere(who: SignedIn, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::SeeBuilds)?;
    let all = who.ctx.looked_at_all().await?;
    let backup = who.ctx.store.last_backup().await?;
    let page = asked.get("page").map(String::as_str);
    let backup = backup.map(|last| last.made);
    let kept = everywhere_view::Kept { backup, check: who.ctx.store.last_check().await? };
    let sheet = everywhere_view::OpenEverywhere::of(&who, &all, &kept, page);
    show(StatusCode::OK, &sheet.ok_or(Problem::NotFound)?)
}
