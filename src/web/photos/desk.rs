//! Photographs at the desk: the list by part, one at full size, placing and withdrawing.

use std::collections::HashMap;

use axum::extract::{Form as Typed, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::view::{Beside, Desk, One, next_to_look_at};
use crate::actions::{self, ActionError};
use crate::domain::shop::people::Deed;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::CaptureId;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::show;
use crate::web::problem::Problem;

type Names = Path<(String, String)>;

/// All photographs of a build: `?state=` for the shots of a state, `?unasked=2`, `?phones=2`, `?withdrawn=2` for a page of the lists outside the shots.
pub(super) async fn sheet(seen: Seen, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let looked = seen.who.ctx.store.photos_looked(seen.build()).await?;
    show(StatusCode::OK, &Desk::of(&seen, &found, &looked, &asked).ok_or(Problem::NotFound)?)
}

/// One photograph, large.
pub(super) async fn one(seen: Seen, Path((_, sha256)): Names) -> Result<Response, Problem> {
    let form = Form::empty(seen.who.units);
    shown(&seen, &sha256, StatusCode::OK, &form).await
}

async fn shown(seen: &Seen, sha256: &str, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let sha256: Fingerprint = sha256.parse().map_err(|_| Problem::NotFound)?;
    let found = seen.found().await?;
    let look = seen.who.ctx.store.look(seen.build(), &sha256).await?;
    let looked = seen.who.ctx.store.photos_looked(seen.build()).await?;
    let beside = Beside { found: &found, look: look.as_ref(), looked: &looked };
    let one = One::of(seen, &sha256, &beside, form).ok_or(Problem::NotFound)?;
    show(status, &one)
}

/// Says that a photograph was looked at, and goes on to the next that was not; to the list when all were.
pub(super) async fn looked(
    seen: Seen,
    Path((_, sha256)): Names,
    Typed(typed): Typed<Pairs>,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::LookOver)?;
    let form = Form::of(seen.who.units, typed);
    let capture = capture(&seen, &sha256, &form)?;
    actions::recorded::photos_looked::look_at(&seen.who.ctx, seen.build(), capture).await?;
    let looked = seen.who.ctx.store.photos_looked(seen.build()).await?;
    let next = next_to_look_at(&seen, &looked, &sha256);
    let to = next.map_or_else(|| "/photos?state=unlooked".to_owned(), |photo| format!("/photos/{}", photo.sha256));
    Ok(Redirect::to(&seen.address(&to)).into_response())
}

/// Places a photograph at a shot.
pub(super) async fn place(
    seen: Seen,
    Path((_, sha256)): Names,
    Typed(typed): Typed<Pairs>,
) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    let (capture, shot) = (capture(&seen, &sha256, &form)?, form.text("shot").to_owned());
    if !shot.is_empty() && !seen.found().await?.worked.every_shot().any(|known| known.name() == shot) {
        form.fault("shot", "Choose a shot of the list.");
    } else {
        match actions::recorded::photos::place(&seen.who.ctx, seen.build(), capture, &shot).await {
            Ok(()) => {
                let to = match form.text("back") {
                    "unplaced" => "/photos/unplaced".to_owned(),
                    "photos" => "/photos".to_owned(),
                    _ => format!("/photos/{sha256}"),
                };
                return Ok(Redirect::to(&seen.address(&to)).into_response());
            }
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(ActionError::Held(why)) => form.fault("shot", why),
            Err(other) => return Err(other.into()),
        }
    }
    shown(&seen, &sha256, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

/// Withdraws a photograph.
pub(super) async fn withdraw(
    seen: Seen,
    Path((_, sha256)): Names,
    Typed(typed): Typed<Pairs>,
) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    let capture = capture(&seen, &sha256, &form)?;
    match actions::recorded::photos::withdraw(&seen.who.ctx, seen.build(), capture, form.text("why")).await {
        Ok(()) => return Ok(Redirect::to(&seen.address(&format!("/photos/{sha256}"))).into_response()),
        Err(ActionError::Refused(faults)) => form.refuse(faults),
        Err(ActionError::Held(why)) => form.fault("why", why),
        Err(other) => return Err(other.into()),
    }
    shown(&seen, &sha256, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

/// The capture that a form is about: one of this content in this build.
fn capture(seen: &Seen, sha256: &str, form: &Form) -> Result<CaptureId, Problem> {
    let capture: CaptureId = form.text("capture").parse().map_err(|_| Problem::NotFound)?;
    let here = seen.facts.photos.iter().any(|photo| photo.capture == capture && photo.sha256.text() == sha256);
    if here { Ok(capture) } else { Err(Problem::NotFound) }
}
