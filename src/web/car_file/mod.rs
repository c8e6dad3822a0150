//! A car's file: saved from its sheet, and loaded from the shop's.

mod arriving;
mod loading;
mod view;

use std::sync::Arc;

use axum::body::Body;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use tokio::io::{AsyncWriteExt as _, duplex};
use tokio::sync::Semaphore;
use tokio_util::io::ReaderStream;

use super::app::App;
use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::shop::car_file::prepare;
use crate::store::car_file::Writing;

/// How many bytes wait for a slow reader.
const WAITING: usize = 1 << 20;
/// How many files are made or taken at once: each reads every photograph of a car.
const AT_ONCE: usize = 1;

/// Who may work at a car's file now.
#[derive(Debug, Clone)]
pub struct CarTurns(Arc<Semaphore>);

impl Default for CarTurns {
    fn default() -> Self {
        Self(Arc::new(Semaphore::new(AT_ONCE)))
    }
}

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new().route("/builds/{build}/car-file", get(sheet)).route("/cars", get(loading::asked))
}

/// Those that take as long as the file is large.
pub(crate) fn sending() -> Routes {
    Routes::new()
        .route("/builds/{build}/car.zip", get(file))
        .route("/cars/load", post(loading::load))
        .route("/cars/begin", post(loading::begin))
}

async fn sheet(seen: Seen) -> Result<Response, Problem> {
    let came = seen.who.ctx.store.came_with(seen.build()).await?;
    show(StatusCode::OK, &view::CarFile::of(&seen, came.as_ref()))
}

/// The file itself. All of it was looked at before its first byte goes out, so that its length is known.
async fn file(State(app): State<App>, seen: Seen) -> Result<Response, Problem> {
    let turn = app.cars.0.clone().acquire_owned().await.map_err(|error| Problem::NotMade(error.to_string()))?;
    let saving = prepare(&seen.who.ctx, seen.build(), &|_| ()).await?;
    // whoever reads slowly holds nobody up
    drop(turn);
    let length = saving.writing.length();
    let name = format!("attachment; filename=\"{}-car.zip\"", seen.facts.build.slug);
    let (mut to, from) = duplex(WAITING);
    tokio::spawn(async move {
        if let Err(error) = write(saving.writing, &mut to).await {
            // whoever loads it finds that it ends too early
            tracing::warn!(%error, "a car's file was not written to its end");
        }
    });
    let headers = [
        (header::CONTENT_TYPE, "application/zip".to_owned()),
        (header::CONTENT_DISPOSITION, name),
        (header::CONTENT_LENGTH, length.to_string()),
        (header::CACHE_CONTROL, "no-store".to_owned()),
    ];
    Ok((headers, Body::from_stream(ReaderStream::new(from))).into_response())
}

async fn write(writing: Writing, to: &mut tokio::io::DuplexStream) -> Result<(), crate::store::StoreError> {
    writing.write_to(to, &|_| ()).await?;
    Ok(to.shutdown().await?)
}
