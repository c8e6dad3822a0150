//! Photographs: sent by phones in parts, shown by their hash, listed for the desk, taken one shot at a time.

mod desk;
mod headers;
mod large;
mod marking;
mod office;
mod phone;
mod pictures;
mod receiving;
mod refusal;
mod said;
mod sending;
mod turns;
pub(crate) mod view;
mod walking;

pub use turns::Uploads;

use super::routing::{Routes, get, patch, post, put};

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/photos", get(desk::sheet))
        .route("/builds/{build}/photos/days", get(office::days))
        .route("/builds/{build}/photos/unplaced", get(office::unplaced))
        .route("/builds/{build}/photos/shot", get(office::history))
        .route("/builds/{build}/photos/compare", get(large::two))
        .route("/builds/{build}/photos/contact.pdf", get(large::contact_sheet))
        .route("/builds/{build}/photos/{sha256}", get(desk::one))
        .route("/builds/{build}/photos/{sha256}/looked", post(desk::looked))
        .route("/builds/{build}/photos/{sha256}/large", get(large::one))
        .route("/builds/{build}/photos/{sha256}/marks", get(marking::sheet).post(marking::draw))
        .route("/builds/{build}/photos/{sha256}/marks/{mark}/rub-out", post(marking::rub_out))
        .route("/builds/{build}/photos/{sha256}/place", post(desk::place))
        .route("/builds/{build}/photos/{sha256}/withdraw", post(desk::withdraw))
        .route("/builds/{build}/photos/{sha256}/{view}", get(pictures::picture))
        .route("/phone", get(phone::sheet))
        .route("/offline", get(phone::offline))
        .route("/builds/{build}/walk", get(walking::walk))
        .route("/builds/{build}/walk.json", get(walking::list))
        .route("/builds/{build}/walk-drawings.json", get(walking::drawings))
        .route("/builds/{build}/walk/cannot", post(walking::cannot))
        .route("/builds/{build}/walk/said", put(said::told).post(said::say))
        .route("/builds/{build}/captures/{capture}", put(sending::declare))
}

/// The addresses that photographs are sent to, which take their own time and bound their own bodies.
pub(crate) fn sending() -> Routes {
    let upload = patch(sending::append).head(sending::standing).delete(sending::give_up);
    Routes::new()
        .route("/builds/{build}/uploads/{sha256}", upload)
        .route("/builds/{build}/walk/photos", post(walking::keep))
}
