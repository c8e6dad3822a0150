//! The shop as a whole: whether it works, and the words it uses.

mod looking;
mod metrics;
mod running;
mod view;

pub use metrics::Metrics;

use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};

use super::app::App;
use super::gate::SignedIn;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::shop::running::running;
use crate::actions::shop::{checks, signing};
use crate::domain::shop::people::Deed;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/health", get(healthy))
        .route("/metrics", get(metrics::figures))
        .route("/shop/health", get(health))
        .route("/shop/health/check", post(check))
        .route("/words", get(words))
        .route("/shop/looking", get(looking::sheet).post(looking::set))
}

/// For machines: 200 when the database writes, nothing else said.
async fn healthy(State(app): State<App>) -> Response {
    let well = app.store.healthy().await.is_ok();
    let status = if well { StatusCode::OK } else { StatusCode::SERVICE_UNAVAILABLE };
    (status, [(header::CACHE_CONTROL, "no-store")], if well { "ok\n" } else { "not ok\n" }).into_response()
}

async fn health(State(app): State<App>, who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let log = who.ctx.store.verify_log().await?;
    let settings = who.ctx.store.settings().await?;
    let key = signing::standing(&who.ctx).await?;
    let runs = running(&who.ctx.store).await?;
    let all = who.ctx.looked_at_all().await?;
    let parts = running::parts(&runs, &all, app.checks.under_way(), &who.ctx.clock);
    show(StatusCode::OK, &view::Health::of(&who, &log, settings, (&app.reached, runs.backup.as_ref(), &key), parts))
}

/// Begins a check of the whole shop; the sheet says what it found when it is opened again.
async fn check(State(app): State<App>, who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    checks::begin(&who.ctx, &app.checks)?;
    Ok(Redirect::to("/shop/health").into_response())
}

async fn words(who: SignedIn) -> Result<Response, Problem> {
    show(StatusCode::OK, &view::Words::of(&who))
}
