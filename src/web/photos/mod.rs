//! Photographs: sent by phones in parts, shown by their hash, listed for the desk, taken one shot at a time.

mod headers;
mod pictures;
mod receiving;
mod refusal;
mod sending;
mod turns;

use axum::Router;
use axum::routing::{get, patch, put};

pub use turns::Uploads;

use super::app::App;

/// The room's addresses.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/builds/{build}/captures/{capture}", put(sending::declare))
        .route("/builds/{build}/photos/{sha256}/{view}", get(pictures::picture))
}

/// The addresses that photographs are sent to, which take their own time and bound their own bodies.
pub(crate) fn sending() -> Router<App> {
    let upload = patch(sending::append).head(sending::standing).delete(sending::give_up);
    Router::new().route("/builds/{build}/uploads/{sha256}", upload)
}
