//! Tube: the sticks on the shop's rack, which build they are given to, and the bars that are cut from them.

mod cuts;
mod rack;
mod tube;
mod twin;

use super::routing::{Routes, get, post};

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/stock", get(rack::stock).post(rack::add))
        .route("/stock.csv", get(twin::table))
        .route("/stock.json", get(twin::data))
        .route("/builds/{build}/tube", get(tube::tube).post(tube::save))
        .route("/builds/{build}/tube.csv", get(tube::csv))
        .route("/builds/{build}/tube/give", post(tube::give))
        .route("/builds/{build}/tube/return", post(tube::put_back))
}
