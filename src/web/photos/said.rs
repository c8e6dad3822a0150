//! What a person says of a photograph on the walk: by the plain form, and by a phone that was without a network then.

use axum::body::Bytes;
use axum::extract::Form as Typed;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;

use crate::actions;
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::photos::{Photo, Statement};
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::CaptureId;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::walk_address;
use crate::web::problem::Problem;
use crate::web::shown::picture::Picture;

/// Keeps a photograph so, and what is ticked as seen in it; then back to its shot, or to the one the form names.
pub(super) async fn say(seen: Seen, Typed(typed): Typed<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let form = Form::of(seen.who.units, typed);
    let capture: CaptureId = form.text("capture").parse().map_err(|_| Problem::NotFound)?;
    let told = Told { capture, keep: form.text("keep") == "yes", seen: form.chosen("seen") };
    keep(&seen, &told).await?;
    Ok(Redirect::to(&seen.address(&walk_address(form.text("shot")))).into_response())
}

/// What a phone tells, maybe long after it was said.
#[derive(Debug, Deserialize)]
struct Told {
    capture: CaptureId,
    #[serde(default)]
    keep: bool,
    #[serde(default)]
    seen: Vec<String>,
}

/// The same told by a phone's queue: nothing is answered but that it is kept.
pub(super) async fn told(seen: Result<Seen, Problem>, body: Bytes) -> Result<Response, Problem> {
    let seen = match seen {
        Err(Problem::SignInFirst(_)) => return Ok(StatusCode::UNAUTHORIZED.into_response()),
        other => other?.who_may(Deed::RecordWork)?,
    };
    let Ok(told) = serde_json::from_slice(&body) else { return Ok(StatusCode::UNPROCESSABLE_ENTITY.into_response()) };
    keep(&seen, &told).await?;
    Ok(StatusCode::NO_CONTENT.into_response())
}

async fn keep(seen: &Seen, told: &Told) -> Result<(), Problem> {
    let photo = seen.facts.photos.iter().find(|photo| photo.capture == told.capture).ok_or(Problem::NotFound)?;
    let found = seen.found().await?;
    let mut said = ticked(&found, photo, &told.seen);
    if told.keep {
        // the shop's own words: what was shown is what is disagreed with
        said.extend(Picture::of(seen, photo).remarks.into_iter().map(Statement::KeptSo));
    }
    Ok(actions::recorded::photos_said::say(&seen.who.ctx, seen.build(), told.capture, said).await?)
}

/// Of what is ticked, that which must be seen at the photograph's shot.
pub(super) fn ticked(found: &Findings, photo: &Photo, ticks: &[String]) -> Vec<Statement> {
    let shot = found.worked.every_shot().find(|shot| shot.name() == photo.shot);
    let must = shot.map(|shot| shot.must_show.as_slice()).unwrap_or_default();
    must.iter().filter(|one| ticks.contains(one)).cloned().map(Statement::Seen).collect()
}
