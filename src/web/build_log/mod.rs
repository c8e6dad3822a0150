//! The log of a vehicle: what people wrote, and what the program noted of every change.

mod view;

use std::collections::HashMap;

use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::show;
use super::paging::{ON_A_PAGE, Page};
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::{self, ActionError};
use crate::domain::recorded::notes::NewNote;
use crate::domain::words::ids::NoteId;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/log", get(log).post(write))
        .route("/builds/{build}/log/{line}/over", post(over))
}

/// The log: `?lines=2` for an earlier page of what people wrote, `?entries=2` of what the program noted.
async fn log(seen: Seen, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let today = seen.who.ctx.clock.today().to_string();
    let form = Form::filled(seen.who.units, vec![("day".to_owned(), today)]);
    sheet(&seen, StatusCode::OK, (&form, None), &asked).await
}

/// The first pages of the sheet, where something typed was refused.
async fn refused(seen: &Seen, form: &Form, over: Option<(NoteId, &Form)>) -> Result<Response, Problem> {
    sheet(seen, StatusCode::UNPROCESSABLE_ENTITY, (form, over), &HashMap::new()).await
}

/// The sheet: what was typed of a new line, and of the end of a wait where that was refused.
async fn sheet(
    seen: &Seen,
    status: StatusCode,
    typed: (&Form, Option<(NoteId, &Form)>),
    asked: &HashMap<String, String>,
) -> Result<Response, Problem> {
    let (store, build) = (&seen.who.ctx.store, seen.build());
    let page = |name: &str, all| Page::of(asked.get(name).map(String::as_str), all).ok_or(Problem::NotFound);
    let lines = page("lines", seen.facts.notes.len())?;
    let noted = page("entries", store.log_length_of_build(build).await?)?;
    let [skip, most] = [noted.range().start, ON_A_PAGE].map(|count| u32::try_from(count).unwrap_or(u32::MAX));
    let entries = store.log_of_build_after(build, skip, most).await?;
    show(status, &view::Log::of(seen, &entries, (&lines, &noted), typed))
}

/// Says that what a line waits for is over.
async fn over(
    seen: Seen,
    Path((_, line)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let line: NoteId = line.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(seen.who.units, typed);
    match actions::recorded::notes::end_wait(&seen.who.ctx, seen.build(), line, form.text("how")).await {
        Ok(_) => Ok(Redirect::to(&seen.address("/log")).into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            let today = seen.who.ctx.clock.today().to_string();
            let new = Form::filled(seen.who.units, vec![("day".to_owned(), today)]);
            refused(&seen, &new, Some((line, &form))).await
        }
        Err(other) => Err(other.into()),
    }
}

async fn write(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    if let Some(note) = read(&mut form) {
        match actions::recorded::notes::add(&seen.who.ctx, seen.build(), note).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/log")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    refused(&seen, &form, None).await
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
