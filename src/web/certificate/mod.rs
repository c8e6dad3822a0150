//! Trusting the shop's own certificate: what a phone is given, and how it is done, for somebody not signed in yet.

mod view;

use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

use super::app::App;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get};

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new().route("/trust", get(trust)).route("/trust/authority.crt", get(authority))
}

async fn trust(State(app): State<App>) -> Result<Response, Problem> {
    show(StatusCode::OK, &view::Trust::of(&app.reached))
}

/// The authority's certificate, in the type by which phones know one.
async fn authority(State(app): State<App>) -> Result<Response, Problem> {
    let der = app.reached.authority.clone().ok_or(Problem::NotFound)?;
    let kind = [(header::CONTENT_TYPE, "application/x-x509-ca-cert"), (header::CACHE_CONTROL, "no-store")];
    Ok((kind, der).into_response())
}
