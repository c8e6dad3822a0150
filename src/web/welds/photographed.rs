//! Photographs of a line of the weld log: taken in by a plain form, kept as any photograph of the build.

use axum::extract::{Multipart, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::Asked;
use super::view::WeldSheet;
use crate::domain::shop::people::Deed;
use crate::web::app::App;
use crate::web::form::Form;
use crate::web::gate::Seen;
use crate::web::page::show;
use crate::web::problem::Problem;
use crate::web::shown::posted::keep_posted;

/// The field of a line's photographs, at which their faults are told.
pub(super) fn field(line: u32) -> String {
    format!("photo_{line}")
}

/// Keeps the photographs that a form brings of a line.
pub(super) async fn keep(
    State(app): State<App>,
    seen: Seen,
    Path((_, line)): Path<(String, String)>,
    form: Multipart,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let line: u32 = line.parse().map_err(|_| Problem::NotFound)?;
    let weld = seen.facts.welds.iter().find(|weld| weld.line == line).ok_or(Problem::NotFound)?;
    let (joint, shot) = (weld.joint, weld.shot());
    let Some(_places) = app.uploads.places_for_a_form().await else {
        return Err(Problem::NotMade("too many photos come in at once".to_owned()));
    };
    let (ctx, build) = (seen.who.ctx.clone(), seen.build());
    let (look, patience) = (app.look.clone(), app.uploads.patience());
    // in a task of its own: a browser that goes away cannot stop the work between the vault and the log
    let keeping = tokio::spawn(async move { keep_posted(&ctx, build, &look, patience, form).await });
    let mut posted = keeping.await.map_err(|error| Problem::NotMade(error.to_string()))??;
    if posted.shot != shot && !posted.kept.is_empty() {
        posted.faults.push("This form was of another line: look where its photographs went.".to_owned());
    }
    if posted.faults.is_empty() {
        return Ok(Redirect::to(&seen.address(&format!("/welds?joint={joint}#written"))).into_response());
    }
    let seen = Seen::now(seen.who, build).await?;
    let mut form = Form::empty(seen.who.units);
    for why in posted.faults {
        form.fault(&field(line), why);
    }
    let (asked, found) = (Asked { joint: Some(joint), kind: String::new(), like: None }, seen.found().await?);
    show(StatusCode::UNPROCESSABLE_ENTITY, &WeldSheet::struck(&seen, &found, &asked, &form))
}
