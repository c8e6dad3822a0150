//! Photographs at the desk: the list by part, one at full size, placing and withdrawing.

use std::collections::HashMap;

use axum::extract::{Form as Typed, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::view::{Desk, One};
use crate::actions::{self, ActionError};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::CaptureId;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::show;
use crate::web::problem::Problem;

type Names = Path<(String, String)>;

/// All photographs of a build: `?unasked=2`, `?phones=2`, `?withdrawn=2` for a page of the lists outside the shots.
pub(super) async fn sheet(seen: Seen, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    show(StatusCode::OK, &Desk::of(&seen, &found, &asked).ok_or(Problem::NotFound)?)
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
    let one = One::of((seen, &found), &sha256, look.as_ref(), form).ok_or(Problem::NotFound)?;
    show(status, &one)
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
