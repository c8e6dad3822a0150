//! The hand-over: what goes to a car's next owner, on a sheet or two to print.

mod view;

use axum::http::StatusCode;
use axum::response::Response;

use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get};

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new().route("/builds/{build}/hand-over", get(hand_over))
}

async fn hand_over(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let signatures = seen.who.ctx.store.round_signatures(seen.build()).await?;
    show(StatusCode::OK, &view::Sheet::of(&seen, &found, &signatures))
}
