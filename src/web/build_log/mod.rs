//! The log of a vehicle: what people wrote, and what the program noted of every change.

mod view;

use axum::extract::{Form as Posted, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::notes::NewNote;
use crate::actions::{self, ActionError};
use crate::domain::ids::NoteId;

/// Most entries shown on one sheet.
const MOST: u32 = 200;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/log", get(log).post(write))
        .route("/builds/{build}/log/{line}/over", post(over))
}

async fn log(seen: Seen) -> Result<Response, Problem> {
    let today = seen.who.ctx.clock.today().to_string();
    let form = Form::filled(seen.who.units, vec![("day".to_owned(), today)]);
    sheet(&seen, StatusCode::OK, &form, None).await
}

/// The sheet: what was typed of a new line, and of the end of a wait where that was refused.
async fn sheet(
    seen: &Seen,
    status: StatusCode,
    form: &Form,
    over: Option<(NoteId, &Form)>,
) -> Result<Response, Problem> {
    let entries = seen.who.ctx.store.log_of_build(seen.build(), MOST).await?;
    show(status, &view::Log::of(seen, &entries, form, over))
}

/// Says that what a line waits for is over.
async fn over(
    seen: Seen,
    Path((_, line)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let line: NoteId = line.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(seen.who.units, typed);
    match actions::notes::end_wait(&seen.who.ctx, seen.build(), line, form.text("how")).await {
        Ok(_) => Ok(Redirect::to(&seen.address("/log")).into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            let today = seen.who.ctx.clock.today().to_string();
            let new = Form::filled(seen.who.units, vec![("day".to_owned(), today)]);
            sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &new, Some((line, &form))).await
        }
        Err(other) => Err(other.into()),
    }
}

async fn write(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    if let Some(note) = read(&mut form) {
        match actions::notes::add(&seen.who.ctx, seen.build(), note).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/log")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form, None).await
}

fn read(form: &mut Form) -> Option<NewNote> {
    let day = form.parse("day", "This does not read as a day. Try 2026-05-16.");
    if day.is_none() && !form.is_faulty() {
        form.fault("day", "Which day is this about?");
    }
    let hours = form.read_if_typed("hours").map(|hours| hours.value);
    let cost = form.read_if_typed("cost").map(|cost| cost.value);
    if form.is_faulty() {
        return None;
    }
    let (text, waiting_on) = (form.text("text").to_owned(), form.text("waiting_on").to_owned());
    Some(NewNote { day: day?, text, hours, cost, waiting_on })
}
