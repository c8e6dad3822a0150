//! The walk with a phone: one shot at a time, kept by a plain form when there is no script.

use std::collections::HashMap;

use axum::extract::{Form as Typed, Multipart, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::said::ticked;
use super::view::{self, Walk, WalkQuery};
use crate::actions::{self, ActionError};
use crate::domain::judge::shots;
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::CaptureId;
use crate::domain::work::walk::cannot_be_taken;
use crate::web::app::App;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{as_data, in_address, show};
use crate::web::problem::Problem;
use crate::web::shown::posted::keep_posted;

/// The walk at a shot, or at the one after another, or at the first that is left.
pub(super) async fn walk(seen: Seen, Query(query): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let text = |name: &str| query.get(name).cloned().unwrap_or_default();
    let asked = WalkQuery {
        shot: text("shot"),
        after: text("after"),
        last: text("last").parse().ok(),
        faults: Vec::new(),
        form: Form::empty(seen.who.units),
    };
    let found = seen.found().await?;
    show(StatusCode::OK, &Walk::of(&seen, &found, asked))
}

/// The whole walk as data: for a phone that walks on without a network.
pub(super) async fn list(seen: Seen) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let found = seen.found().await?;
    Ok(as_data(&view::walk_list(&seen, &found)))
}

/// Where its parts are, drawn: for the same phone.
pub(super) async fn drawings(seen: Seen) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let found = seen.found().await?;
    // a drawing for each part takes a while: not on the threads that answer others
    let drawn = tokio::task::spawn_blocking(move || view::walk_drawings(&seen, &found)).await;
    Ok(as_data(&drawn.map_err(|error| Problem::NotMade(error.to_string()))?))
}

/// Keeps the photographs of a plain form, and goes on to the next shot.
pub(super) async fn keep(State(app): State<App>, seen: Seen, form: Multipart) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let Some(_places) = app.uploads.places_for_a_form().await else {
        return Err(Problem::NotMade("too many photos come in at once".to_owned()));
    };
    let (ctx, build) = (seen.who.ctx.clone(), seen.build());
    let ctx_again = ctx.clone();
    let (look, patience) = (app.look.clone(), app.uploads.patience());
    // in a task of its own: a browser that goes away cannot stop the work between the vault and the log
    let keeping = tokio::spawn(async move { keep_posted(&ctx, build, &look, patience, form).await });
    let posted = keeping.await.map_err(|error| Problem::NotMade(error.to_string()))??;
    if !posted.seen.is_empty() && !posted.kept.is_empty() {
        let facts = ctx_again.store.facts(build).await?;
        let found = seen.found().await?;
        for photo in facts.photos.iter().filter(|photo| posted.kept.iter().any(|(kept, _)| *kept == photo.capture)) {
            let said = ticked(&found, photo, &posted.seen);
            actions::recorded::photos_said::say(&ctx_again, build, photo.capture, said).await?;
        }
    }
    let last: Option<CaptureId> = posted.kept.last().map(|(capture, _)| *capture);
    if posted.faults.is_empty() {
        let to = match (posted.shot.is_empty(), last) {
            (false, Some(last)) => {
                let readable = posted.kept.iter().any(|(_, receipt)| receipt.dots.is_some());
                let which = if readable { "after" } else { "shot" };
                format!("/walk?{which}={}&last={last}", in_address(&posted.shot))
            }
            _ => "/photos".to_owned(),
        };
        return Ok(Redirect::to(&seen.address(&to)).into_response());
    }
    let seen = Seen::now(seen.who, build).await?;
    let found = seen.found().await?;
    let form = Form::of(seen.who.units, vec![("note".to_owned(), posted.note)]);
    let asked = WalkQuery { shot: posted.shot, after: String::new(), last, faults: posted.faults, form };
    show(StatusCode::UNPROCESSABLE_ENTITY, &Walk::of(&seen, &found, asked))
}

/// Asks, in the build's questions, about a shot that cannot be taken, and goes on to the next one.
pub(super) async fn cannot(seen: Seen, Typed(typed): Typed<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let found = seen.found().await?;
    let mut form = Form::of(seen.who.units, typed);
    let shot = form.text("shot").to_owned();
    let Some((of, _)) = shots::of_name(&shot).filter(|_| found.worked.every_shot().any(|known| known.name() == shot))
    else {
        return Err(Problem::NotFound);
    };
    if form.text("why").is_empty() {
        form.fault("why", "Say why, so that the office can ask the scrutineer.");
    } else {
        let words = cannot_be_taken(&shot, form.text("why"));
        match actions::recorded::questions::ask(&seen.who.ctx, seen.build(), Some(of), &words).await {
            Ok(_) => {
                let to = format!("/walk?after={}", in_address(&shot));
                return Ok(Redirect::to(&seen.address(&to)).into_response());
            }
            Err(ActionError::Refused(faults)) => {
                let beside = faults.into_iter().map(|fault| crate::domain::words::faults::Fault::new("why", fault.why));
                form.refuse(beside.collect());
            }
            Err(other) => return Err(other.into()),
        }
    }
    let asked = WalkQuery { shot, after: String::new(), last: None, faults: Vec::new(), form };
    show(StatusCode::UNPROCESSABLE_ENTITY, &Walk::of(&seen, &found, asked))
}
