//! Fabrication sheets: what to cut, bend and cope, on screen and as PDF at full size.

mod view;

use std::sync::Arc;

use axum::Router;
use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;

use super::app::App;
use super::gate::Seen;
use super::page::{hold_words, show};
use super::problem::Problem;
use crate::documents::fabrication::{Fabrication, make, sheets, sheets_of};
use crate::domain::dies::Die;
use crate::domain::fabrication::numbers::numbers;
use crate::domain::findings::Findings;
use crate::domain::ids::Balloon;
use crate::domain::seams::Rates;

/// The room's addresses.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/builds/{build}/sheets", get(listed))
        .route("/builds/{build}/sheets.pdf", get(all))
        .route("/builds/{build}/numbers.json", get(as_json))
        .route("/builds/{build}/members/{member}/sheets.pdf", get(of_one))
}

async fn listed(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let dies = seen.who.ctx.store.dies().await?;
    show(StatusCode::OK, &view::Sheets::of(&seen, &found, &dies))
}

async fn as_json(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let (dies, rates) = (seen.who.ctx.store.dies().await?, rates(&seen).await?);
    Ok(([(header::CONTENT_TYPE, "application/json")], numbers(&found.cage, &dies, &rates).to_string()).into_response())
}

async fn all(seen: Seen) -> Result<Response, Problem> {
    printed(seen, None).await
}

async fn of_one(seen: Seen, Path((_, member)): Path<(String, String)>) -> Result<Response, Problem> {
    let member: Balloon = member.parse().map_err(|_| Problem::NotFound)?;
    printed(seen, Some(member)).await
}

async fn printed(seen: Seen, only: Option<Balloon>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    if found.cage.members.is_empty() || only.is_some_and(|only| found.cage.member(only).is_none()) {
        return Err(Problem::NotFound);
    }
    let name = only.map_or_else(|| "sheets".to_owned(), |only| only.to_string());
    let name = format!("{}-{name}.pdf", seen.facts.build.slug);
    let (dies, rates) = (seen.who.ctx.store.dies().await?, rates(&seen).await?);
    let work = move || pdf(&seen, &found, (&dies, &rates), only);
    let made = tokio::task::spawn_blocking(work).await.map_err(|error| Problem::NotMade(error.to_string()))?;
    let headers = [
        (header::CONTENT_TYPE, "application/pdf".to_owned()),
        (header::CONTENT_DISPOSITION, format!("inline; filename=\"{name}\"")),
        (header::CACHE_CONTROL, "private, no-store".to_owned()),
    ];
    Ok((headers, made?).into_response())
}

/// How the shop welds.
async fn rates(seen: &Seen) -> Result<Rates, Problem> {
    Ok(seen.who.ctx.store.weld_rates().await?.unwrap_or_else(Rates::usual))
}

fn pdf(
    seen: &Seen,
    found: &Arc<Findings>,
    (dies, rates): (&[Die], &Rates),
    only: Option<Balloon>,
) -> Result<Vec<u8>, Problem> {
    let facts = &seen.facts;
    let book = facts.book.as_ref().map(|book| format!("{}, {}", book.name, book.edition)).unwrap_or_default();
    let (hold, _) = hold_words(&found.hold);
    let of = Fabrication {
        cage: &found.cage,
        dies,
        rates,
        name: &facts.build.name,
        book: &book,
        hold: &hold,
        made_by: &seen.who.ctx.by.name,
        day: seen.who.ctx.clock.today(),
        units: seen.who.units,
    };
    let sheets = match only.and_then(|only| found.cage.member(only)) {
        Some(member) => sheets_of(&of, member),
        None => sheets(&of),
    };
    make(&of, &sheets).map_err(|error| Problem::NotMade(error.to_string()))
}
