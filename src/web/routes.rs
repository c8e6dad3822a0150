//! All addresses, and what stands around every one of them.

use std::time::Duration;

use axum::Router;
use axum::extract::{DefaultBodyLimit, MatchedPath, Request};
use axum::http::{Method, StatusCode};
use axum::middleware;
use axum::response::{IntoResponse, Response};
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{DefaultPredicate, NotForContentType, Predicate};
use tower_http::timeout::TimeoutLayer;
use tower_http::trace::TraceLayer;
use tracing::Span;

use super::app::App;
use super::problem::Problem;
use super::routing::{Routes, get};
use super::{
    assets, build_log, builds, cage, car_dates, car_file, certificate, cut_plan, dies, fabrication, hand_over, headers,
    kit, lowering, measures, parts, people, photos, posted, questions, rounds, rule_books, rulings, seams, shop,
    stickers, stock, two_tubes, verdicts, weigh_in, welds,
};
use crate::domain::words::limits;

/// Every address with a method that it answers to; what answers to GET answers to HEAD, too.
pub fn addresses() -> Vec<(Method, &'static str)> {
    pages().merge(sending()).listed()
}

fn pages() -> Routes {
    Routes::new()
        .merge(people::routes())
        .merge(builds::routes())
        .merge(shop::routes())
        .merge(certificate::routes())
        .merge(rule_books::routes())
        .merge(weigh_in::routes())
        .merge(cage::routes())
        .merge(verdicts::routes())
        .merge(car_dates::routes())
        .merge(car_file::routes())
        .merge(dies::routes())
        .merge(two_tubes::routes())
        .merge(fabrication::routes())
        .merge(cut_plan::routes())
        .merge(seams::routes())
        .merge(hand_over::routes())
        .merge(lowering::routes())
        .merge(welds::routes())
        .merge(stock::routes())
        .merge(rounds::routes())
        .merge(rulings::routes())
        .merge(photos::routes())
        .merge(parts::routes())
        .merge(stickers::routes())
        .merge(kit::routes())
        .merge(questions::routes())
        .merge(measures::routes())
        .merge(build_log::routes())
        .route("/static/{*path}", get(assets::file))
        .route("/favicon.ico", get(assets::icon))
        .route("/sw.js", get(assets::worker))
}

/// What takes as long as what is sent is large.
fn sending() -> Routes {
    photos::sending().merge(car_file::sending()).merge(welds::sending())
}

/// The whole server as one service.
pub fn router(app: App) -> Router {
    let pages = pages()
        .router()
        .layer(TimeoutLayer::with_status_code(StatusCode::SERVICE_UNAVAILABLE, Duration::from_mins(1)))
        .layer(DefaultBodyLimit::max(limits::FORM_BYTES))
        .layer(middleware::from_fn(posted::pass));
    // a photo may take minutes over a weak network, and is larger than any form
    let sending = sending().router().layer(DefaultBodyLimit::disable());
    pages
        .merge(sending)
        .fallback(nothing)
        .method_not_allowed_fallback(no_such_method)
        .layer(CompressionLayer::new().compress_when(worth_packing()))
        .layer(middleware::from_fn_with_state(app.clone(), headers::ask))
        .layer(middleware::from_fn_with_state(app.clone(), headers::say))
        .layer(CatchPanicLayer::custom(|_: Box<dyn std::any::Any + Send>| {
            Problem::NotMade("a handler panicked".to_owned()).into_response()
        }))
        .layer(TraceLayer::new_for_http().make_span_with(span))
        .with_state(app)
}

/// What gets smaller by being packed on its way: not what is packed in itself, pictures and PDFs, nor fonts, archives and
/// what nobody knows.
fn worth_packing() -> impl Predicate {
    DefaultPredicate::new()
        .and(NotForContentType::new("application/pdf"))
        .and(NotForContentType::new("application/zip"))
        .and(NotForContentType::new("application/octet-stream"))
        .and(NotForContentType::new("font/"))
}

/// A request as the program's own lines name it: by its route, for an address may carry a code that lets somebody in.
fn span(request: &Request) -> Span {
    let route = request.extensions().get::<MatchedPath>().map_or("", MatchedPath::as_str);
    tracing::debug_span!("request", method = %request.method(), route)
}

async fn nothing() -> Response {
    Problem::NotFound.into_response()
}

async fn no_such_method() -> Response {
    Problem::NoSuchMethod.into_response()
}
