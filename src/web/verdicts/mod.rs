//! What every rule says of the build, with figure, limit, margin and evidence.

pub(crate) mod view;

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get};

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new().route("/builds/{build}/verdicts", get(verdicts)).route("/builds/{build}/verdicts.json", get(as_json))
}

async fn verdicts(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    show(StatusCode::OK, &view::Verdicts::of(&seen, &found))
}

/// The same as data: lengths in mm, masses in kg, angles in radians, areas in mm².
async fn as_json(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let text = serde_json::to_string(&found.worked.verdicts).map_err(|error| Problem::NotMade(error.to_string()))?;
    Ok(([(header::CONTENT_TYPE, "application/json")], text).into_response())
}
