//! One part of the cage: where it is, what it is made of, its photographs, verdicts and questions.

mod view;

use axum::extract::Path;
use axum::http::StatusCode;
use axum::response::Response;

use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get};
use crate::domain::words::ids::{Balloon, Kind};

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/joints/{part}", get(async |seen, part| of_kind(seen, part, Kind::Joint).await))
        .route("/builds/{build}/members/{part}", get(async |seen, part| of_kind(seen, part, Kind::Member).await))
        .route("/builds/{build}/gussets/{part}", get(async |seen, part| of_kind(seen, part, Kind::Gusset).await))
        .route("/builds/{build}/plates/{part}", get(async |seen, part| of_kind(seen, part, Kind::Plate).await))
}

async fn of_kind(seen: Seen, Path((_, part)): Path<(String, String)>, kind: Kind) -> Result<Response, Problem> {
    let part: Balloon = part.parse().ok().filter(|part: &Balloon| part.kind == kind).ok_or(Problem::NotFound)?;
    let found = seen.found().await?;
    let dies = seen.who.ctx.store.dies().await?;
    let sheet = view::PartSheet::of(&seen, &found, &dies, part).ok_or(Problem::NotFound)?;
    show(StatusCode::OK, &sheet)
}
