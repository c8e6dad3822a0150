//! What every rule says of the build, with figure, limit, margin and evidence.

mod chosen;
pub(crate) mod view;

use axum::extract::Query;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get};

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new().route("/builds/{build}/verdicts", get(verdicts)).route("/builds/{build}/verdicts.json", get(as_json))
}

/// What an address of the sheet asks for: the verdicts of a state, and the rule beside them.
#[derive(Debug, Deserialize)]
pub(crate) struct Wanted {
    state: Option<String>,
    rule: Option<String>,
}

async fn verdicts(seen: Seen, Query(wanted): Query<Wanted>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    show(StatusCode::OK, &view::Verdicts::of(&seen, &found, &wanted))
}

/// The same as data: lengths in mm, masses in kg, angles in radians, areas in mm².
async fn as_json(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let text = serde_json::to_string(&found.worked.verdicts).map_err(|error| Problem::NotMade(error.to_string()))?;
    Ok(([(header::CONTENT_TYPE, "application/json")], text).into_response())
}
